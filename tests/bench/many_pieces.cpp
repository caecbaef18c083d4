// A book with 60 pieces in six batches, forecast and counselled as the screens do it: a frame asks for all of it, then
// goes on with it for 4 ms. Prints, in ms of this thread's processor time, so that a busy machine says the same: the
// longest frame's asking and its slice, how many frames and how long in all; and the longest single step of each task.
//   many_pieces
#include <algorithm>
#include <cmath>
#include <cstdio>
#include <ctime>
#include <memory>
#include <utility>
#include <vector>

#include "core/desk/forecasts.h"

namespace {

using namespace saltrafter;

constexpr double kBudget_ms = 4.0;
constexpr int kBatches = 6;
constexpr int kPieces = 10;  // a batch
constexpr int kHungFor_d = 30;

double cpu_ms() {
  timespec now{};
  clock_gettime(CLOCK_THREAD_CPUTIME_ID, &now);
  return 1e3 * static_cast<double>(now.tv_sec) + 1e-6 * static_cast<double>(now.tv_nsec);
}

Ports ports() {
  const auto next = std::make_shared<std::uint64_t>(0);
  Ports out;
  out.now_utc_ms = [] { return std::int64_t{0}; };
  out.zone_offset_min = [](std::int64_t) { return 0; };
  out.random_bits = [next] { return (*next)++; };
  return out;
}

const Date kToday = std::chrono::year(2026) / 11 / 25;

// Pieces of 10 weighings that differ a little among themselves.
plan::Batch batch(const Ports& from, const recipe::Recipe& recipe, int which) {
  plan::Batch out;
  out.name = recipe.name;
  out.made_from = recipe;
  out.meat = Grams(900.0 * kPieces);
  out.hung_on = kToday - std::chrono::days(kHungFor_d + which);
  out.begun_on = out.hung_on;
  for (int p = 0; p < kPieces; ++p) {
    plan::Piece piece;
    piece.id = make_id(from);
    piece.number = p + 1;
    piece.hung = Grams(900.0 + 7.0 * p);
    piece.diameter = recipe.casing_diameter * (1.0 + 0.01 * (p % 4));
    for (int day = 3; day <= kHungFor_d; day += 3) {
      drying::Weighing weighing;
      weighing.id = make_id(from);
      weighing.piece = piece.id;
      weighing.date = out.hung_on + std::chrono::days(day);
      const double lost = (0.32 - 0.01 * which) * (1.0 - std::exp(-day / (22.0 + 0.5 * p)));
      weighing.mass = Grams(std::round(piece.hung.value * (1.0 - lost)) + (day + p) % 3 - 1);
      out.weighings.push_back(weighing);
    }
    out.pieces.push_back(piece);
  }
  return out;
}

void step_all(Task& task, const char* name) {
  double longest_ms = 0.0;
  double all_ms = 0.0;
  int steps = 0;
  for (; !task.finished(); ++steps) {
    const double from_ms = cpu_ms();
    task.step();
    const double took_ms = cpu_ms() - from_ms;
    longest_ms = std::max(longest_ms, took_ms);
    all_ms += took_ms;
  }
  std::printf("  %-22s %8d steps, longest %6.3f ms, in all %8.1f ms\n", name, steps, longest_ms, all_ms);
}

template <class Make>
auto made(const char* name, Make&& make) {
  const double from_ms = cpu_ms();
  auto task = make();
  std::printf("  %-22s made in %.3f ms\n", name, cpu_ms() - from_ms);
  return std::move(task).value();
}

void each_task(const plan::Batch& batch) {
  const drying::ForecastInput input = made("input", [&] { return plan::forecast_input(batch, kToday); });
  auto forecast = made("forecast", [&] { return drying::ForecastTask::make(input); });
  step_all(forecast, "forecast");
  const drying::Forecast& done = forecast.result();
  auto advice = made("advice", [&] { return drying::AdviceTask::make(input, done, {}); });
  step_all(advice, "advice");
  auto which = made("which to weigh", [&] { return drying::WeighWhichTask::make(input, done, {}, 3); });
  step_all(which, "which to weigh");
  drying::LeversInput in;
  in.pieces = made("hangings", [&] { return drying::hangings(input, done); });
  in.middle = done.middle;
  in.saturation = input.saturation;
  auto levers = made("levers", [&] { return drying::LeversTask::make(in); });
  step_all(levers, "levers");
  drying::TogetherInput together_in;
  together_in.pieces = in.pieces;
  together_in.saturation = input.saturation;
  auto together = made("one air for all", [&] { return drying::TogetherTask::make(together_in); });
  step_all(together, "one air for all");
  drying::HangCheckInput check_in;
  check_in.hanging = in.pieces;
  check_in.fresh = in.pieces;
  check_in.saturation = input.saturation;
  auto check = made("hang check", [&] { return drying::HangCheckTask::make(check_in); });
  step_all(check, "hang check");
}

}  // namespace

int main() {
  const Ports from = ports();
  const std::vector<recipe::Recipe> recipes = recipe::starter_recipes(from);
  std::vector<std::pair<Id, std::shared_ptr<const plan::Batch>>> book;
  for (int i = 0; i < kBatches; ++i) {
    const recipe::Recipe& recipe = recipes[static_cast<std::size_t>(2 * i)];
    book.emplace_back(make_id(from), std::make_shared<const plan::Batch>(batch(from, recipe, i)));
  }
  std::printf("each task of a batch of %d pieces\n", kPieces);
  each_task(*book.front().second);

  desk::Forecasts forecasts;
  const recipe::Hands hands;
  double longest_ask_ms = 0.0, longest_slice_ms = 0.0, all_ms = 0.0;
  int frames = 0;
  bool busy = true;
  const auto chamber = std::make_shared<const plan::Chamber>();
  for (; busy; ++frames) {
    const double from_ms = cpu_ms();
    busy = false;
    forecasts.learn(book, chamber, kToday, hands);
    for (const auto& [id, one] : book) {
      if (forecasts.ask(id, one, kToday, hands).error) return 1;
      busy = forecasts.counsel(id, {}, {}) == nullptr || busy;
    }
    const double asked_ms = cpu_ms();
    busy = forecasts.work(cpu_ms, kBudget_ms) || busy;
    const double worked_ms = cpu_ms();
    longest_ask_ms = std::max(longest_ask_ms, asked_ms - from_ms);
    longest_slice_ms = std::max(longest_slice_ms, worked_ms - asked_ms);
    all_ms += worked_ms - from_ms;
  }
  std::printf("a book of %d pieces in %d batches, slices of %.0f ms\n", kBatches * kPieces, kBatches, kBudget_ms);
  std::printf("  longest asking %.3f ms, longest slice %.3f ms, %d frames, in all %.0f ms\n", longest_ask_ms,
              longest_slice_ms, frames, all_ms);
  return 0;
}
