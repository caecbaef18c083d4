// The Rails: a batch through its steps and its stages, and the gate before each.
#include <algorithm>
#include <array>
#include <cmath>

#include "core/desk/batch_forms.h"

namespace saltrafter::desk {
namespace {

using Say = words::Id;

words::Text moment(const Screen& s, std::int64_t utc_ms) {
  return words::join({day_of(s, utc_ms), words::verbatim(" "), clock_time(s, utc_ms)});
}

// Salt in the water by day, at the slow end and likely at the centre, and the mean.
void draw_salt(Screen& s, const OpenBatch& open) {
  const recipe::Recipe& recipe = open.batch->made_from;
  if (recipe.product_class != recipe::ProductClass::whole_muscle_dry) return;
  const std::vector<safety::SaltTime> times = safety::times_of(recipe);
  if (times.empty()) return;
  const Result<safety::Salting> made = safety::salting(recipe, open.judged->sheet, times);
  if (!made.ok() || made.value().days.empty()) return;
  const safety::Salting& salting = made.value();
  parts::gap(s.page, 36.0);
  parts::second_heading(s.page, s.say(Say::salt_centre_title));
  const safety::SaltProfile& last = salting.days.back();
  parts::paragraph(s.page,
                   s.say(Say::salt_centre_lead, {words::arg("centre", per_cent(s.l, last.centre, 1)),
                                                 words::arg("mean", per_cent(s.l, last.mean, 1)),
                                                 words::arg("day", words::number(s.l, last.at.value, 0))}));
  if (salting.evened_slow && salting.evened_fast && salting.evened_likely) {
    const auto days = [&s](Days d) { return words::number(s.l, d.value, 0); };
    parts::paragraph(s.page, s.say(Say::salt_even, {words::arg("fast", days(*salting.evened_fast)),
                                                    words::arg("slow", days(*salting.evened_slow)),
                                                    words::arg("likely", days(*salting.evened_likely))}));
  }
  if (salting.cold_until) {
    parts::paragraph(s.page, s.say(Say::salt_cold_until,
                                   {words::arg("day", words::number(s.l, salting.cold_until->value, 0))}));
  } else {
    std::vector<words::Text> said = {s.say(Say::salt_cold_never)};
    if (const auto way = safety::cold_way(recipe, open.judged->sheet)) {
      said.push_back(words::verbatim(" "));
      said.push_back(s.say(Say::salt_cold_way, {words::arg("loss", per_cent(s.l, way->loss, 0)),
                                                words::arg("days", words::number(s.l, way->dry.value, 0))}));
    }
    parts::paragraph(s.page, words::join(said));
  }
  parts::ChartView view;
  view.key = key("salt") / open.id;
  view.name = s.say(Say::chart_salt);
  const Date began = open.batch->begun_on;
  figure::Series slow;
  figure::Series likely;
  figure::Series mean;
  for (const safety::SaltProfile& day : salting.days) {
    slow.day.push_back(day.at.value);
    slow.value.push_back(day.centre);
    likely.day.push_back(day.at.value);
    likely.value.push_back(day.centre_likely);
    mean.day.push_back(day.at.value);
    mean.value.push_back(day.mean);
  }
  slow.label = s.say(Say::chart_centre).plain();
  likely.label = s.say(Say::chart_likely).plain();
  mean.label = s.say(Say::chart_mean).plain();
  view.chart.day0 = began;
  view.chart.to_day = std::max(1.0, last.at.value);
  view.chart.from_zero = true;
  view.chart.series = {slow, likely, mean};
  view.chart.today = static_cast<double>(days_between(began, s.session.today()));
  view.chart.today_label = s.say(Say::today).plain();
  const words::Language language = s.l;
  view.chart.value_text = [language](double v) { return per_cent(language, v, 1).plain(); };
  view.chart.day_month = [language](Date day) { return words::day_month(language, day).plain(); };
  const auto at_day = [salting](int day) -> const safety::SaltProfile& {
    const auto most = static_cast<int>(salting.days.size()) - 1;
    return salting.days[static_cast<std::size_t>(std::clamp(day, 0, most))];
  };
  view.reads = [language, at_day](int day) {
    const safety::SaltProfile& p = at_day(day);
    return words::text(language, Say::chart_salt_reads,
                       {words::count("day", day), words::arg("centre", per_cent(language, p.centre, 1)),
                        words::arg("likely", per_cent(language, p.centre_likely, 1)),
                        words::arg("mean", per_cent(language, p.mean, 1))});
  };
  view.columns = {{s.say(Say::salt_chart_day), true},
                  {s.say(Say::chart_centre), true},
                  {s.say(Say::chart_likely), true},
                  {s.say(Say::chart_mean), true}};
  view.rows = [language, salting] {
    std::vector<parts::TableRow> rows;
    for (const safety::SaltProfile& p : salting.days) {
      rows.push_back({std::nullopt, {words::number(language, p.at.value, 0), per_cent(language, p.centre, 1),
                                     per_cent(language, p.centre_likely, 1), per_cent(language, p.mean, 1)}});
    }
    return rows;
  };
  parts::chart(s.page, std::move(view));
}

}  // namespace

void draw_stages(Screen& s) {
  const auto open = open_batch(s, Say::batch_stages_title);
  if (!open) return;
  Session& session = s.session;
  const std::vector<recipe::Stage>& stages = open->batch->made_from.stages;
  if (stages.empty()) {
    parts::lead(s.page, s.say(Say::batch_stages_none));
    draw_salt(s, *open);
    return;
  }
  const plan::StagesNow now = plan::stages_now(*open->batch);
  for (std::size_t i = 0; i < stages.size(); ++i) {
    const recipe::Stage& stage = stages[i];
    const safety::StageDone* done = plan::stage_done(*open->batch, stage.id);
    parts::Row row;
    row.name = stage_name(s, stage);
    const bool passed = done == nullptr && now.on && i < *now.on;
    if (passed) {
      row.fact = s.say(Say::stage_not_recorded, {words::arg("fact", stage_fact(s, stage))});
    } else if (done == nullptr) {
      row.fact = s.say(Say::stage_to_come, {words::arg("fact", stage_fact(s, stage))});
    } else if (done->ended_utc_ms) {
      row.fact = s.say(Say::stage_is_over, {words::arg("from", moment(s, done->began_utc_ms)),
                                            words::arg("to", moment(s, *done->ended_utc_ms))});
    } else {
      row.fact = s.say(Say::stage_is_on, {words::arg("from", moment(s, done->began_utc_ms))});
      row.selected = true;
    }
    parts::row(s.page, row);
    draw_findings_about(s, open->judged->findings, stage.id);
  }
  const parts::Key here = key("stages") / open->id;
  if (now.next) {
    const recipe::Stage& next = stages[*now.next];
    StageDraft& draft = session.drafts.batches[open->id].stages[next.id];
    const auto at_ms =
        moment_entry(s, here / next.id, Say::stage_begin_when, Say::stage_begin_time, draft.day, draft.time);
    const std::vector<safety::Finding> stops = safety::gate(
        subject_of(session.ground(), open->batch->made_from, open->judged->sheet, open->judged->evidence),
        next.id);
    bool begin = draw_stops(s, here / next.id, stops, Say::stage_go_on, draft.reason);
    if (stops.empty()) {
      parts::gap(s.page, 24.0);
      begin = parts::act(s.page, {here / next.id / "begin",
                                  s.say(Say::stage_begin, {words::arg("stage", stage_name(s, next))}),
                                  parts::ActKind::main, at_ms.has_value(), s.say(Say::time_wrong)});
    }
    if (begin && at_ms) {
      plan::Batch after = *open->batch;
      acknowledge(s, after, stops, draft.reason);
      plan::begin_stage(after, next.id, *at_ms);
      if (session.change_batch(open->id, after, "edit_stage")) {
        draft = {};
        session.tell_edit(s.say(Say::stage_begun, {words::arg("stage", stage_name(s, next))}));
      }
    }
  } else if (now.on) {
    parts::gap(s.page, 24.0);
    if (parts::act(s.page, {here / "end", s.say(Say::stage_end), parts::ActKind::other, true, {}})) {
      plan::Batch after = *open->batch;
      for (safety::StageDone& done : after.evidence.stages) {
        if (!done.ended_utc_ms) done.ended_utc_ms = session.book.ports().now_utc_ms();
      }
      session.change_batch(open->id, after, "edit_stage");
    }
  }
  draw_salt(s, *open);
  draw_history(s);
}

namespace {

struct Asks {
  NumberRule rule;
  int decimals = 1;
};

std::optional<Asks> asks_of(const recipe::Step& step) {
  switch (step.asks) {
    case recipe::Asked::temperature:
      return Asks{{"temperature", NumberKind::temperature, "°C", -30.0, 90.0}, 1};
    case recipe::Asked::ph: return Asks{{"ph", NumberKind::plain, "", 3.5, 8.0}, 2};
    case recipe::Asked::mass: return Asks{{"mass", NumberKind::mass, "g", 0.1, 1e6}, 1};
    case recipe::Asked::minutes: return Asks{{"minutes", NumberKind::plain, "", 0.0, 10000.0}, 0};
    case recipe::Asked::nothing:
    case recipe::Asked::words: break;
  }
  return std::nullopt;
}

words::Text value_words(const Screen& s, const recipe::Step& step, const plan::StepDone& done) {
  if (!done.value) return words::verbatim(done.words);
  switch (step.asks) {
    case recipe::Asked::temperature: return celsius(s.l, Celsius(*done.value));
    case recipe::Asked::mass: return grams(s.l, Grams(*done.value));
    case recipe::Asked::ph: return words::join({words::verbatim("pH "), words::number(s.l, *done.value, 2)});
    default: return words::number(s.l, *done.value, 0);
  }
}

// The first step that is not done: what it asks for, and the act.
void draw_step_in_hand(Screen& s, const OpenBatch& open, const recipe::Step& step) {
  StepDraft& draft = s.session.drafts.batches[open.id].steps[step.id];
  const parts::Key here = key("steps") / open.id / step.id;
  plan::StepDone done{step.id, s.session.book.ports().now_utc_ms(), std::nullopt, {}};
  bool ready = true;
  if (const std::optional<Asks> asks = asks_of(step)) {
    std::optional<double> shown;
    const Result<TypedNumber> typed = parse_number(draft.value, asks->rule);
    if (!draft.value.empty() && typed.ok()) shown = typed.value().value;
    if (const auto value =
            number_entry(s, here / "value", Say::step_value, asks->rule, shown, asks->decimals)) {
      draft.value = typed_number({}, *value, asks->decimals);
      shown = value;
    }
    if (const auto why = words_entry(s, here / "why_not", Say::step_not_measured, draft.words))
      draft.words = *why;
    done.value = shown;
    done.words = draft.words;
    ready = shown.has_value() || !draft.words.empty();
  } else if (step.asks == recipe::Asked::words) {
    if (const auto said = words_entry(s, here / "said", Say::step_said, draft.words)) draft.words = *said;
    done.words = draft.words;
    ready = !draft.words.empty();
  }
  parts::gap(s.page, 16.0);
  if (!parts::act(s.page, {here / "done", s.say(Say::step_is_done), parts::ActKind::main, ready,
                           s.say(Say::step_value_first)})) {
    return;
  }
  plan::Batch after = *open.batch;
  after.steps_done.push_back(done);
  if (s.session.change_batch(open.id, after, "edit_step_done")) draft = {};
}

}  // namespace

void draw_steps(Screen& s) {
  const auto open = open_batch(s, Say::steps_title);
  if (!open) return;
  const std::vector<recipe::Step>& steps = open->batch->made_from.steps;
  const auto done_of_step = [&open](const Id& id) -> const plan::StepDone* {
    for (const plan::StepDone& done : open->batch->steps_done) {
      if (done.step == id) return &done;
    }
    return nullptr;
  };
  if (steps.empty()) {
    parts::lead(s.page, s.say(Say::steps_none));
    return;
  }
  const auto count = std::count_if(
      steps.begin(), steps.end(), [&](const recipe::Step& step) { return done_of_step(step.id) != nullptr; });
  parts::lead(s.page,
              s.say(Say::steps_lead, {words::arg("done", words::number(s.l, static_cast<double>(count), 0)),
                                      words::count("n", static_cast<int>(steps.size()))}));
  bool in_hand = false;
  int number = 0;
  for (const recipe::Step& step : steps) {
    const plan::StepDone* done = done_of_step(step.id);
    parts::Row row;
    row.name = words::join({words::verbatim(std::to_string(++number) + ". "), step_name(s, step)});
    if (done != nullptr) {
      const words::Arg time = words::arg("time", moment(s, done->at_utc_ms));
      const words::Text value = value_words(s, step, *done);
      row.fact = value.empty() ? s.say(Say::step_done_at, {time})
                               : s.say(Say::step_done_value, {time, words::arg("value", value)});
    } else {
      row.fact = step_fact(s, open->batch->made_from, step);
      row.selected = !in_hand;
    }
    parts::row(s.page, row);
    if (done == nullptr && !in_hand) {
      in_hand = true;
      draw_step_in_hand(s, *open, step);
    }
  }
  draw_history(s);
}

}  // namespace saltrafter::desk
