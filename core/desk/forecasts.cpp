#include "core/desk/forecasts.h"

#include <algorithm>

#include "core/air/air.h"

namespace saltrafter::desk {

namespace {

drying::Kind kind_of(const plan::Batch& batch) {
  return batch.made_from.product_class == recipe::ProductClass::whole_muscle_dry ? drying::Kind::whole_muscle
                                                                                  : drying::Kind::minced;
}

bool same(const drying::FactorPrior& a, const drying::FactorPrior& b) {
  return a.mean == b.mean && a.batch_sd == b.batch_sd && a.piece_sd == b.piece_sd;
}

}  // namespace

void Forecasts::learn(const std::vector<std::pair<Id, std::shared_ptr<const plan::Batch>>>& batches,
                      const std::shared_ptr<const plan::Chamber>& chamber, Date today, const recipe::Hands& hands) {
  chamber_ = chamber;
  today_ = today;
  hands_ = hands;
  std::map<Id, Lesson> lessons;
  for (const auto& [id, batch] : batches) {
    if (batch->pieces.empty() || batch->taken_down.size() < batch->pieces.size()) continue;
    const auto known = lessons_.find(id);
    if (known != lessons_.end() && known->second.batch == batch && known->second.chamber == chamber) {
      lessons[id] = std::move(known->second);
      continue;
    }
    Lesson& lesson = lessons[id];
    lesson.batch = batch;
    lesson.chamber = chamber;
    if (known == lessons_.end() || known->second.batch != batch) continue;
    // A change of the chamber that its forecast knows nothing of leaves what it taught.
    lesson.key = known->second.key;
    lesson.task = std::move(known->second.task);
    lesson.learnt = known->second.learnt;
  }
  lessons_ = std::move(lessons);
}

bool Forecasts::learning() const {
  return std::any_of(lessons_.begin(), lessons_.end(), [](const auto& one) { return works(one.second); });
}

void Forecasts::begin(Lesson& lesson) const {
  lesson.begun = true;
  Result<drying::ForecastInput> input = plan::forecast_input(*lesson.batch, today_, hands_, {}, lesson.chamber->air);
  Result<drying::ForecastTask> task =
      input.ok() ? drying::ForecastTask::make(std::move(input).value()) : Result<drying::ForecastTask>(input.error());
  if (!task.ok()) {
    lesson.task.reset();
    lesson.learnt.reset();
    return;
  }
  if (task.value().key() == lesson.key) return;
  lesson.key = task.value().key();
  lesson.learnt.reset();
  lesson.task = std::make_unique<drying::ForecastTask>(std::move(task).value());
}

drying::TaughtPrior Forecasts::prior_for(drying::Kind kind, Date hung_on) const {
  std::vector<drying::FinishedBatch> all;
  for (const auto& [id, lesson] : lessons_) {
    // Only what hung before it and is down by now.
    if (!lesson.learnt || lesson.batch->hung_on >= hung_on) continue;
    drying::FinishedBatch finished = *lesson.learnt;
    plan::mark_changes(finished, *chamber_, lesson.batch->hung_on, hung_on);
    all.push_back(finished);
  }
  return drying::posterior_prior(all, kind);
}

Forecasts::Answer Forecasts::ask(const Id& id, const std::shared_ptr<const plan::Batch>& batch, Date today,
                                 const recipe::Hands& hands, const plan::WhatIf& what_if) {
  Entry& entry = entries_[{id, !(what_if == plan::WhatIf{})}];
  const drying::FactorPrior prior = prior_for(kind_of(*batch), batch->hung_on).prior;
  if (entry.batch != batch || entry.chamber != chamber_ || entry.today != today ||
      !(entry.supplies == hands.supplies) || !(entry.what_if == what_if) || !same(entry.prior, prior)) {
    // Another question: its answer is not the last one's.
    if (!(entry.what_if == what_if)) entry.done.reset();
    entry.what_if = what_if;
    entry.prior = prior;
    entry.batch = batch;
    entry.chamber = chamber_;
    entry.today = today;
    entry.supplies = hands.supplies;
    entry.error.reset();
    entry.stopped = false;
    entry.waiting = hands;
    if (!begun_ && !learning()) {
      begun_ = true;
      begin(entry);
    }
  }
  Answer answer;
  answer.error = entry.error;
  answer.stopped = entry.stopped;
  if (entry.error) return answer;
  if (entry.done) answer.forecast = &*entry.done;
  if (entry.waiting) answer.progress = {0, 1};
  if (entry.task) answer.progress = entry.task->progress();
  return answer;
}

void Forecasts::begin(Entry& entry) {
  const recipe::Hands hands = std::move(*entry.waiting);
  entry.waiting.reset();
  const auto refuse = [&entry](const Error& error) {
    entry.task.reset();
    entry.error = error;
  };
  Result<drying::ForecastInput> input =
      plan::forecast_input(*entry.batch, entry.today, hands, entry.what_if, entry.chamber->air);
  if (!input.ok()) return refuse(input.error());
  drying::ForecastInput asked = std::move(input).value();
  // What was learnt while it waited counts.
  entry.prior = prior_for(kind_of(*entry.batch), entry.batch->hung_on).prior;
  asked.prior = entry.prior;
  Result<drying::ForecastTask> task = drying::ForecastTask::make(asked);
  if (!task.ok()) return refuse(task.error());
  if (task.value().key() == entry.key && entry.done) return;
  entry.input = std::move(asked);
  entry.key = task.value().key();
  entry.task = std::make_unique<drying::ForecastTask>(std::move(task).value());
}

void Forecasts::begin_next(Entry& entry) {
  constexpr int kWeighAtMost = 3;
  const std::vector<drying::ForecastPiece>& pieces = entry.input.pieces;
  if (std::none_of(pieces.begin(), pieces.end(), [](const drying::ForecastPiece& piece) { return piece.hangs; })) {
    entry.next = Part::none;  // nothing is left to be done to it
  }
  switch (entry.next) {
    case Part::advice: {
      entry.next = Part::which;
      auto advising = drying::AdviceTask::make(entry.input, *entry.done, entry.sealing);
      if (advising.ok()) entry.advising = std::make_unique<drying::AdviceTask>(std::move(advising).value());
      return;
    }
    case Part::which: {
      entry.next = Part::levers;
      auto choosing = drying::WeighWhichTask::make(entry.input, *entry.done, entry.bunches, kWeighAtMost);
      if (choosing.ok()) entry.choosing = std::make_unique<drying::WeighWhichTask>(std::move(choosing).value());
      return;
    }
    case Part::levers: {
      entry.next = Part::none;
      const drying::StillHanging still = drying::those_that_hang(entry.input, *entry.done);
      Result<std::vector<drying::Hanging>> hang = drying::hangings(still.input, still.forecast);
      if (!hang.ok()) return;
      drying::LeversInput levers;
      levers.pieces = std::move(hang).value();
      levers.middle = still.forecast.middle;
      levers.saturation = entry.input.saturation;
      auto levering = drying::LeversTask::make(std::move(levers));
      if (levering.ok()) entry.levering = std::make_unique<drying::LeversTask>(std::move(levering).value());
      return;
    }
    case Part::none: return;
  }
}

const Counsel* Forecasts::counsel(const Id& id, const drying::Sealing& sealing,
                                  const std::vector<std::vector<Id>>& bunches) {
  const auto found = entries_.find({id, false});
  if (found == entries_.end() || !found->second.done || found->second.forecasts()) return nullptr;
  Entry& entry = found->second;
  const bool same_bag =
      entry.sealing.allowed == sealing.allowed && entry.sealing.temperature == sealing.temperature;
  if (entry.counselled != entry.key || !same_bag || entry.bunches != bunches) {
    entry.sealing = sealing;
    entry.bunches = bunches;
    entry.counsel = {};
    entry.counselled = entry.key;
    entry.advising.reset();
    entry.choosing.reset();
    entry.levering.reset();
    entry.next = Part::advice;
  }
  return &entry.counsel;
}

bool Forecasts::work(const std::function<double()>& clock_ms, double budget_ms) {
  const double start_ms = clock_ms();
  begun_ = false;
  const auto left_ms = [&] { return std::max(0.0, budget_ms - (clock_ms() - start_ms)); };
  // True when a task ended within what was left of the slice; it takes one step at least.
  const auto ends = [&](auto& task) { return run_slice(*task, clock_ms, left_ms()); };
  for (auto& [id, lesson] : lessons_) {
    while (works(lesson)) {
      if (!lesson.begun) {
        begin(lesson);
      } else if (ends(lesson.task)) {
        lesson.learnt = plan::finished_batch(*lesson.batch, lesson.task->result());
        lesson.task.reset();
      }
      if (!(left_ms() > 0.0)) return busy();
    }
  }
  for (auto& [id, entry] : entries_) {
    while (entry.forecasts()) {
      if (entry.waiting) {
        begin(entry);
      } else if (ends(entry.task)) {
        entry.done = entry.task->result();
        entry.task.reset();
      }
      if (!(left_ms() > 0.0)) return busy();
    }
  }
  const auto go_on = [&](auto& task, auto& into) {
    if (!ends(task)) return;
    into = task->result();
    task.reset();
  };
  for (auto& [id, entry] : entries_) {
    while (entry.counsels()) {
      if (entry.advising) {
        go_on(entry.advising, entry.counsel.advice);
      } else if (entry.choosing) {
        go_on(entry.choosing, entry.counsel.which);
      } else if (entry.levering) {
        go_on(entry.levering, entry.counsel.levers);
      } else {
        begin_next(entry);
      }
      if (!(left_ms() > 0.0)) return busy();
    }
  }
  if (together_.task) {
    go_on(together_.task, together_.done);
    if (!(left_ms() > 0.0)) return busy();
  }
  if (check_.task) go_on(check_.task, check_.done);
  return busy();
}

bool Forecasts::busy() const {
  return learning() || std::any_of(entries_.begin(), entries_.end(), [](const auto& one) {
           return one.second.forecasts() || one.second.counsels();
         }) ||
         together_.task || check_.task;
}

void Forecasts::stop() {
  for (auto& [id, entry] : entries_) {
    if (entry.counsels()) entry.counselled = 0;
    entry.advising.reset();
    entry.choosing.reset();
    entry.levering.reset();
    entry.next = Part::none;
    if (!entry.forecasts()) continue;
    entry.key = 0;
    entry.stopped = true;
    entry.waiting.reset();
    entry.task.reset();
  }
  const auto rest = [](auto& about) {
    about.stopped = about.stopped || about.waits || about.task;
    about.task.reset();
  };
  rest(together_);
  rest(check_);
}

void Forecasts::resume() {
  for (auto& [id, entry] : entries_) {
    if (entry.stopped) entry.batch.reset();
  }
  together_.stopped = false;
  check_.stopped = false;
}

// The pieces of all batches that hang in the air, as their forecasts have them; those are there.
Result<std::vector<drying::Hanging>> Forecasts::hanging_now(const HangsTogether& all) const {
  std::vector<drying::Hanging> out;
  for (const auto& [id, batch] : all.batches) {
    const auto found = entries_.find({id, false});
    if (found == entries_.end() || !found->second.done) continue;
    Result<std::vector<drying::Hanging>> made = drying::hangings(found->second.input, *found->second.done);
    if (!made.ok()) return made.error();
    const std::vector<Id> in_air = plan::pieces_in_air(*batch);
    for (const drying::Hanging& piece : made.value()) {
      if (std::find(in_air.begin(), in_air.end(), piece.id) != in_air.end()) out.push_back(piece);
    }
  }
  return out;
}

template <class AnyTask, class Found, class Make>
Forecasts::Shared<Found> Forecasts::answer(AboutAll<AnyTask, Found>& about, const HangsTogether& all,
                                           const recipe::Hands& hands, const Make& make) {
  if (!(about.asked == all)) {
    about = {};
    about.asked = all;
  }
  Shared<Found> out;
  out.stopped = about.stopped;
  if (about.stopped) return out;
  std::vector<std::uint64_t> keys;
  about.waits = false;
  for (const auto& [id, batch] : all.batches) {
    const Answer forecast = ask(id, batch, all.today, hands);
    if (forecast.error) {
      out.left_out.push_back(id);
      continue;
    }
    about.waits = about.waits || forecast.progress.total > 0 || forecast.forecast == nullptr;
    out.progress.done += forecast.progress.done;
    out.progress.total += forecast.progress.total;
    keys.push_back(entries_[{id, false}].key);
  }
  out.forecasting = about.waits;
  if (about.waits) return out;
  out.progress = {};
  // The first question may have no forecast under it, and its keys be none.
  if (about.keys != keys || !(about.task || about.done || about.error)) {
    about.keys = keys;
    about.task.reset();
    about.done.reset();
    about.error.reset();
    auto task = make();
    if (task.ok()) {
      about.task = std::make_unique<AnyTask>(std::move(task).value());
    } else {
      about.error = task.error();
    }
  }
  if (about.task) out.progress = about.task->progress();
  if (about.done) out.result = &*about.done;
  out.error = about.error;
  return out;
}

Forecasts::Shared<drying::Together> Forecasts::together(const HangsTogether& asked, const recipe::Hands& hands) {
  if (asked.batches.empty()) return {};
  HangsTogether all = asked;
  all.air.humidity = {};  // it is what is looked for
  return answer(together_, all, hands, [&]() -> Result<drying::TogetherTask> {
    Result<std::vector<drying::Hanging>> pieces = hanging_now(all);
    if (!pieces.ok()) return pieces.error();
    drying::TogetherInput input;
    input.pieces = std::move(pieces).value();
    input.temperature = all.air.temperature;
    input.speed = all.air.speed;
    input.saturation = {air::saturation_pressure_pa, air::saturation_pressure_slope_pa_k};
    return drying::TogetherTask::make(std::move(input));
  });
}

Forecasts::Shared<drying::HangCheck> Forecasts::hang_check(const HangsTogether& all, const recipe::Hands& hands) {
  return answer(check_, all, hands, [&]() -> Result<drying::HangCheckTask> {
    Result<std::vector<drying::Hanging>> pieces = hanging_now(all);
    if (!pieces.ok()) return pieces.error();
    Result<drying::ForecastInput> fresh = plan::forecast_input(*all.fresh, all.today, hands);
    if (!fresh.ok()) return fresh.error();
    drying::ForecastInput wet = std::move(fresh).value();
    wet.prior = prior_for(kind_of(*all.fresh), all.today).prior;
    Result<std::vector<drying::Hanging>> made = drying::new_hangings(wet);
    if (!made.ok()) return made.error();
    drying::HangCheckInput input;
    input.hanging = std::move(pieces).value();
    input.fresh = std::move(made).value();
    input.temperature = all.air.temperature;
    input.humidity = all.air.humidity;
    input.speed = all.air.speed;
    input.humidity_rise = drying::kHumidityRise.value;
    input.saturation = wet.saturation;
    return drying::HangCheckTask::make(std::move(input));
  });
}

}  // namespace saltrafter::desk
