// The native side of the forecast's bench and of the comparison with SciPy; both are driven by forecast.py.
//   forecast curve CELLS STEP_H           the golden salami for 60 days: day,loss as CSV
//   forecast time CELLS STEP_H REPEATS    the same run, median milliseconds
//   forecast fit PIECES REPEATS           pieces of ten weighings: median milliseconds of one 60-day run on the
//     fit's own grid, of learning from all weighings, of the whole forecast, and its longest slice
#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <string>

#include "tests/reference/drying/bodies.h"

namespace {

using Clock = std::chrono::steady_clock;

double ms_since(Clock::time_point start) {
  return std::chrono::duration<double, std::milli>(Clock::now() - start).count();
}

std::vector<golden::dry::DayState> curve(const golden::dry::Body& body, golden::dry::Resolution resolution) {
  return golden::dry::run_daily(body, golden::gentle(), {}, golden::kMagnus, 60, resolution).value();
}

golden::dry::Resolution resolution(const char* cells, const char* step_h) {
  return {std::atoi(cells), golden::Days(std::atof(step_h) / 24.0), saltrafter::transport::Scheme::bdf2};
}

// Weighings of pieces that differ among themselves and from the model's default.
std::vector<golden::dry::ForecastPiece> batch(int pieces) {
  const std::vector<double> days{2, 5, 8, 12, 16, 20, 25, 30, 35, 40};
  const golden::dry::Body body = golden::s60();
  std::vector<golden::dry::ForecastPiece> out;
  for (int p = 0; p < pieces; ++p) {
    const golden::dry::Factors factors{0.75 + 0.01 * (p % 7), 1.25 - 0.02 * (p % 5)};
    golden::dry::Run run(body, golden::gentle(), factors, golden::kMagnus, golden::dry::kForDisplay, days);
    std::vector<std::pair<double, double>> weighings;
    for (int i = 0; run.to_next_mark(); ++i) {
      weighings.emplace_back(run.day(), std::round((900.0 + 3.0 * p) * (1.0 - run.loss())) + (i * 7 + p) % 3 - 1);
    }
    out.push_back(golden::piece(std::to_string(p).c_str(), 900.0 + 3.0 * p, weighings));
  }
  return out;
}

double median(std::vector<double> values) {
  std::sort(values.begin(), values.end());
  return values[values.size() / 2];
}

}  // namespace

int main(int argc, char** argv) {
  const std::string verb = argc > 1 ? argv[1] : "";
  if (verb == "curve" && argc == 4) {
    std::puts("day,loss");
    for (const auto& day : curve(golden::s60(), resolution(argv[2], argv[3]))) {
      std::printf("%.0f,%.15g\n", day.day.value, day.loss);
    }
    return 0;
  }
  if (verb == "time" && argc == 5) {
    const golden::dry::Body body = golden::s60();
    std::vector<double> times_ms;
    for (int i = 0; i < std::atoi(argv[4]); ++i) {
      const auto start = Clock::now();
      curve(body, resolution(argv[2], argv[3]));
      times_ms.push_back(ms_since(start));
    }
    std::printf("%.4f\n", median(times_ms));
    return 0;
  }
  if (verb == "fit" && argc == 4) {
    const std::vector<golden::dry::ForecastPiece> pieces = batch(std::atoi(argv[2]));
    const golden::dry::Body body = golden::s60();
    std::vector<double> run_ms, learn_ms, whole_ms;
    double longest_ms = 0.0;
    for (int i = 0; i < std::atoi(argv[3]); ++i) {  // in turn, so that a busy machine slows all
      for (int k = 0; k < 5; ++k) {
        const auto start = Clock::now();
        curve(body, golden::dry::kForFit);
        run_ms.push_back(ms_since(start));
      }
      const auto start = Clock::now();
      auto task = golden::dry::ForecastTask::make(golden::forecast_of(pieces)).value();
      bool learnt = false;
      while (!task.finished()) {
        const auto slice = Clock::now();
        task.step();
        longest_ms = std::max(longest_ms, ms_since(slice));
        if (!learnt && task.learnt()) {
          learnt = true;
          learn_ms.push_back(ms_since(start));
        }
      }
      whole_ms.push_back(ms_since(start));
    }
    std::printf("%.4f %.2f %.2f %.3f\n", median(run_ms), median(learn_ms), median(whole_ms), longest_ms);
    return 0;
  }
  std::fputs("usage: forecast curve CELLS STEP_H | time CELLS STEP_H REPEATS | fit PIECES REPEATS\n", stderr);
  return 2;
}
