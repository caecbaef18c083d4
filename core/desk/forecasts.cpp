#include "core/desk/forecasts.h"

#include <algorithm>

namespace saltrafter::desk {

Forecasts::Answer Forecasts::ask(const Id& id, const std::shared_ptr<const plan::Batch>& batch, Date today,
                                 const recipe::Hands& hands, const plan::WhatIf& what_if) {
  Entry& entry = entries_[{id, !(what_if == plan::WhatIf{})}];
  if (entry.batch != batch || entry.today != today || !(entry.supplies == hands.supplies) ||
      !(entry.what_if == what_if)) {
    // Another question: its answer is not the last one's.
    if (!(entry.what_if == what_if)) entry.done.reset();
    entry.what_if = what_if;
    entry.batch = batch;
    entry.today = today;
    entry.supplies = hands.supplies;
    begin(entry, hands);
  }
  Answer answer;
  answer.error = entry.error;
  if (entry.error) return answer;
  if (entry.done) answer.forecast = &*entry.done;
  if (entry.task) answer.progress = entry.task->progress();
  return answer;
}

void Forecasts::begin(Entry& entry, const recipe::Hands& hands) {
  entry.error.reset();
  const auto refuse = [&entry](const Error& error) {
    entry.task.reset();
    entry.error = error;
  };
  Result<drying::ForecastInput> input = plan::forecast_input(*entry.batch, entry.today, hands, entry.what_if);
  if (!input.ok()) return refuse(input.error());
  Result<drying::ForecastTask> task = drying::ForecastTask::make(std::move(input).value());
  if (!task.ok()) return refuse(task.error());
  if (task.value().key() == entry.key && entry.done) return;
  entry.key = task.value().key();
  entry.task = std::make_unique<drying::ForecastTask>(std::move(task).value());
}

bool Forecasts::work(const std::function<double()>& clock_ms, double budget_ms) {
  const double start_ms = clock_ms();
  for (auto& [id, entry] : entries_) {
    if (!entry.task) continue;
    if (run_slice(*entry.task, clock_ms, std::max(0.0, budget_ms - (clock_ms() - start_ms)))) {
      entry.done = entry.task->result();
      entry.task.reset();
    }
    if (clock_ms() - start_ms >= budget_ms) break;
  }
  return busy();
}

bool Forecasts::busy() const {
  return std::any_of(entries_.begin(), entries_.end(), [](const auto& e) { return e.second.task != nullptr; });
}

void Forecasts::stop() {
  for (auto& [id, entry] : entries_) {
    if (!entry.task) continue;
    entry.key = 0;
    entry.batch.reset();
    entry.task.reset();
  }
}

}  // namespace saltrafter::desk
