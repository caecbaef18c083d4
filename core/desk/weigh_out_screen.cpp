// The Bench: weighing a recipe out, one thing after another, on the weights really put in.
#include <algorithm>
#include <cmath>

#include "core/desk/forms.h"

namespace saltrafter::desk {
namespace {

using Say = words::Id;
using recipe::LineKind;

const recipe::WeighedIn* weighed_in(const plan::Batch& batch, const Id& line) {
  for (const recipe::WeighedIn& in : batch.weighed) {
    if (in.line == line) return &in;
  }
  return nullptr;
}

// The order of the method: what comes in with a step stands at that step; the rest as the recipe has it. Meat
// first.
std::vector<std::size_t> order_of(const recipe::Recipe& recipe) {
  std::vector<std::pair<std::size_t, std::size_t>> ranked;
  for (std::size_t i = 0; i < recipe.lines.size(); ++i) {
    std::size_t rank = recipe.lines[i].kind == LineKind::meat ? 0 : recipe.steps.size() + 1;
    for (std::size_t k = recipe.steps.size(); k-- > 0 && rank > 0;) {
      const auto& lines = recipe.steps[k].lines;
      if (std::find(lines.begin(), lines.end(), recipe.lines[i].id) != lines.end()) rank = k + 1;
    }
    ranked.emplace_back(rank, i);
  }
  std::stable_sort(ranked.begin(), ranked.end());
  std::vector<std::size_t> order;
  for (const auto& [rank, i] : ranked) order.push_back(i);
  return order;
}

words::Text where_it_goes(const Screen& s, const recipe::Recipe& recipe, const recipe::SheetLine& line) {
  std::vector<words::Text> facts = {
      s.say(Say::weigh_out_fact, {words::arg("share", share_of_meat(s.l, line.share_of_meat))})};
  for (std::size_t i = 0; i < recipe.steps.size(); ++i) {
    const recipe::Step& step = recipe.steps[i];
    if (std::find(step.lines.begin(), step.lines.end(), line.id) == step.lines.end()) continue;
    facts.push_back(s.say(Say::weigh_out_in_step, {words::count("n", static_cast<int>(i) + 1),
                                                   words::arg("step", step_name(s, step))}));
    if (step.in_liquid) facts.push_back(s.say(Say::weigh_out_in_liquid));
    break;
  }
  return with_commas(facts);
}

// The strictest most that decides, for the curing mix.
const safety::Finding* nitrite_limit(const std::vector<safety::Finding>& findings) {
  const safety::Finding* strictest = nullptr;
  for (const safety::Finding& finding : findings) {
    if (finding.rule != safety::Rule::nitrite_ingoing || !finding.decides || !finding.limit) continue;
    if (finding.sense != tables::LimitSense::most) continue;
    if (strictest == nullptr || finding.margin.value_or(0.0) < strictest->margin.value_or(0.0))
      strictest = &finding;
  }
  return strictest;
}

void tell_slip(Screen& s, const recipe::Recipe& recipe, const recipe::Sheet& sheet) {
  const std::optional<recipe::Mend> mend = recipe::mend(recipe, sheet, s.session.hands().scales);
  if (!mend) return;
  const words::Arg found = words::arg("found", mg_per_kg(s.l, sheet.nitrite));
  const words::Arg wanted = words::arg("wanted", mg_per_kg(s.l, sheet.nitrite_wanted));
  const words::Arg salt = words::arg("salt", grams(s.l, mend->salt));
  const words::Text text =
      mend->meat.value > 0.0
          ? s.say(Say::weigh_out_slip_meat, {found, wanted, salt, words::arg("meat", grams(s.l, mend->meat))})
          : s.say(Say::weigh_out_slip_mix, {found, wanted, salt, words::arg("mix", grams(s.l, mend->mix))});
  parts::trouble(s.page, text, {}, std::nullopt);
}

// The line in hand: its figure, the field, what it may be at most.
void draw_next(Screen& s, const plan::Batch& batch, const recipe::Sheet& sheet,
               const std::vector<safety::Finding>& findings, const recipe::SheetLine& line) {
  Session& session = s.session;
  const Id batch_id = session.view.item;
  const parts::Key here = key("weigh_out") / batch_id / line.id;
  WeighInDraft& draft = session.drafts.batches[batch_id].lines[line.id];
  const bool cure = line.kind == LineKind::cure;
  const recipe::WeighedIn* in = weighed_in(batch, line.id);

  parts::over_heading(s.page, s.say(Say::weigh_out_next));
  words::Text name = words::verbatim(line.name);
  if (cure) {
    name = s.say(Say::mix_strength, {words::arg("name", batch.made_from.mix.name),
                                     words::arg("strength", per_cent(s.l, batch.made_from.mix.nitrite, 2))});
  }
  parts::huge_figure(s.page, name, grams(s.l, line.asked), where_it_goes(s, batch.made_from, line));
  if (in != nullptr) {
    parts::paragraph(s.page, s.say(Say::weigh_out_already, {words::arg("mass", grams(s.l, in->mass))}));
  }
  if (cure && batch.made_from.mix.supply.empty()) {
    // Batches of before: none begins unbound any more.
    parts::trouble(s.page, s.say(Say::weigh_out_unbound), {}, std::nullopt);
    return;
  }
  if (cure) parts::paragraph(s.page, s.say(Say::weigh_out_caution));

  const NumberRule rule{"mass", NumberKind::mass, "g", 0.01, recipe::kMostMeat.value};
  parts::Field field;
  field.key = here / "mass";
  field.label = s.say(Say::weigh_out_scale);
  field.value = draft.mass;
  field.unit = words::verbatim("g");
  field.large = true;
  field.pad_act = s.say(Say::weigh_out_is_in);
  field.units = {"g", "kg", "oz", "lb"};
  const words::Language language = s.l;
  const double asked_g = line.asked.value;
  field.judge = [language, rule, asked_g](const std::string& typed) {
    parts::Judged judged;
    const Result<TypedNumber> number = parse_number(typed, rule);
    if (!number.ok()) {
      judged.error = words::sentence(language, number.error());
    } else if (asked_g > 0.0) {
      judged.answer =
          words::text(language, Say::weigh_out_answer,
                      {words::arg("share", per_cent(language, number.value().value / asked_g, 0))});
    }
    return judged;
  };
  parts::gap(s.page, 16.0);
  const parts::Typed typed = parts::number_field(s.page, field);
  if (typed.committed) draft.mass = *typed.committed;
  if (const safety::Finding* limit = cure ? nitrite_limit(findings) : nullptr) {
    const bool as_salt = limit->limit->of == "NaNO2" || !limit->limit_also;
    const Ppm most(as_salt ? limit->limit->value : limit->limit_also->value);
    const Grams mix = recipe::most_mix(batch.made_from, sheet, most, session.hands().scales);
    parts::paragraph(s.page, s.say(Say::weigh_out_most, {words::arg("mass", grams(s.l, mix)),
                                                         words::arg("limit", amount(s.l, *limit->limit)),
                                                         words::arg("whose", whose(s.l, *limit))}));
  }
  if (const auto lot = words_entry(s, here / "lot", Say::weigh_out_lot, draft.lot)) draft.lot = *lot;
  const std::string text = typed.editing ? typed.judged : draft.mass;
  const Result<TypedNumber> number = parse_number(text, rule);
  std::vector<parts::Act> acts = {
      {here / "in", s.say(Say::weigh_out_is_in), parts::ActKind::main, number.ok(),
       s.say(cure ? Say::weigh_out_cure_by_number : Say::weigh_out_number_first)}};
  if (!cure) {
    acts.push_back({here / "as_asked",
                    s.say(Say::weigh_out_as_asked, {words::arg("mass", grams(s.l, line.asked))}),
                    parts::ActKind::other,
                    line.asked.value > 0.0,
                    {}});
  }
  parts::gap(s.page, 16.0);
  const std::optional<int> pressed = parts::acts(s.page, acts);
  if (!pressed) return;
  const Grams mass = *pressed == 0 ? Grams(number.value().value) : line.asked;
  s.page.host().drop_field(field.key.value());
  session.weigh_in_line(batch_id, {line.id, mass, session.book.ports().now_utc_ms(), draft.lot});
}

}  // namespace

void draw_weigh_out(Screen& s) {
  Session& session = s.session;
  const auto batch = session.book.batch(session.view.item);
  if (!batch) {
    session.open_leaf(BenchLeaf::sheet);
    return;
  }
  const std::shared_ptr<const BatchJudged> judged = session.judged(session.view.item);
  if (parts::way_back(
          s.page,
          {key("weigh_out") / "leave", s.say(Say::weigh_out_leave), parts::ActKind::bare, true, {}})) {
    session.open_leaf(BenchLeaf::sheet);
    return;
  }
  if (judged->error) {
    parts::heading(s.page, words::verbatim(batch->name));
    parts::trouble(s.page, s.say(Say::sheet_problem), words::sentence(s.l, *judged->error), std::nullopt);
    draw_history(s);
    return;
  }
  const recipe::Sheet& sheet = judged->sheet;
  parts::heading(s.page, s.say(Say::weigh_out_title, {words::arg("name", batch->name),
                                                      words::arg("mass", grams(s.l, sheet.meat))}));
  draw_notice(s);
  BatchDraft& draft = session.drafts.batches[session.view.item];
  const std::vector<std::size_t> order = order_of(batch->made_from);
  double total_g = 0.0;
  std::vector<words::Text> names;
  std::optional<std::size_t> next;
  for (const std::size_t i : order) {
    const recipe::SheetLine& line = sheet.lines[i];
    if (const recipe::WeighedIn* in = weighed_in(*batch, line.id)) {
      total_g += in->mass.value;
      names.push_back(words::join({words::verbatim(line.name + " "), grams(s.l, in->mass)}));
    } else if (!next) {
      next = i;
    }
  }
  // A line that was asked for stays in hand until it is in.
  for (const std::size_t i : order) {
    if (draft.line == sheet.lines[i].id) next = i;
  }
  const words::Arg total = words::arg("total", grams(s.l, Grams(total_g)));
  if (names.empty()) {
    parts::lead(s.page,
                s.say(Say::weigh_out_nothing, {words::count("n", static_cast<int>(sheet.lines.size()))}));
  } else if (!next) {
    parts::lead(s.page, s.say(Say::weigh_out_all, {total}));
  } else {
    parts::paragraph(s.page, s.say(Say::weigh_out_in, {total, words::arg("names", with_commas(names))}));
  }
  const std::vector<safety::Finding>& findings = judged->findings;
  tell_slip(s, batch->made_from, sheet);
  if (next) {
    parts::gap(s.page, 16.0);
    parts::rule(s.page);
    draw_next(s, *batch, sheet, findings, sheet.lines[*next]);
    parts::rule(s.page);
  } else if (parts::act(s.page, {key("weigh_out") / "batch",
                                 s.say(Say::weigh_out_to_batch),
                                 parts::ActKind::main,
                                 true,
                                 {}})) {
    session.go_to_batch(session.view.item);
    return;
  }
  const auto rows = [&](Say title, bool there) {
    bool first = true;
    for (const std::size_t i : order) {
      const recipe::SheetLine& line = sheet.lines[i];
      const recipe::WeighedIn* in = weighed_in(*batch, line.id);
      if ((in != nullptr) != there || (next && i == *next)) continue;
      if (first) {
        parts::gap(s.page, 24.0);
        parts::second_heading(s.page, s.say(title));
      }
      first = false;
      parts::Row row;
      row.key = key("weigh_out") / "row" / line.id;
      row.name = words::verbatim(line.name);
      row.figure = grams(s.l, in != nullptr ? in->mass : line.asked);
      if (in == nullptr) {
        row.fact = where_it_goes(s, batch->made_from, line);
      } else {
        const words::Arg time = words::arg("time", clock_time(s, in->at_utc_ms));
        row.fact = in->lot.empty() ? s.say(Say::weigh_out_in_at, {time})
                                   : s.say(Say::weigh_out_in_lot, {time, words::arg("lot", in->lot)});
      }
      if (parts::row(s.page, row)) draft.line = line.id;
    }
  };
  rows(Say::weigh_out_to_come, false);
  rows(Say::weigh_out_there, true);
  draw_history(s);
  if (names.empty()) return;
  parts::gap(s.page, 36.0);
  parts::second_heading(s.page, s.say(Say::weigh_out_how_it_stands));
  draw_findings(s, findings);
  draw_composition(s, key("weigh_out") / session.view.item, draft.loss, batch->made_from.wanted_loss, batch->made_from,
                   sheet);
}

}  // namespace saltrafter::desk
