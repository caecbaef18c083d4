// The native side of the forecast's bench and of the comparison with SciPy; both are driven by forecast.py.
//   forecast curve CELLS STEP_H           the golden salami for 60 days: day,loss as CSV
//   forecast time CELLS STEP_H REPEATS    the same run, median milliseconds
//   forecast fit PIECES REPEATS           a whole forecast, median milliseconds and the longest slice
#include <algorithm>
#include <chrono>
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

std::vector<golden::dry::DayState> curve(int cells, double step_h) {
  return golden::dry::run_daily(golden::s60(), golden::gentle(), {}, golden::kMagnus, 60,
                                {cells, golden::Days(step_h / 24.0), saltrafter::transport::Scheme::bdf2})
      .value();
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
    for (const auto& day : curve(std::atoi(argv[2]), std::atof(argv[3]))) {
      std::printf("%.0f,%.15g\n", day.day.value, day.loss);
    }
    return 0;
  }
  if (verb == "time" && argc == 5) {
    std::vector<double> times_ms;
    for (int i = 0; i < std::atoi(argv[4]); ++i) {
      const auto start = Clock::now();
      curve(std::atoi(argv[2]), std::atof(argv[3]));
      times_ms.push_back(ms_since(start));
    }
    std::printf("%.4f\n", median(times_ms));
    return 0;
  }
  if (verb == "fit" && argc == 4) {
    std::vector<golden::dry::ForecastPiece> pieces;
    for (int p = 0; p < std::atoi(argv[2]); ++p) {
      const double g = 3.0 * p;
      pieces.push_back(golden::piece(std::to_string(p).c_str(), 900 + g,
                                     {{2, 876 + g}, {4, 837 + g}, {7, 788 + g}, {10, 748 + g}, {14, 711 + g},
                                      {18, 683 + g}}));
    }
    std::vector<double> times_ms;
    double longest_ms = 0.0;
    for (int i = 0; i < std::atoi(argv[3]); ++i) {
      const auto start = Clock::now();
      auto task = golden::dry::ForecastTask::make(golden::forecast_of(pieces)).value();
      while (!task.finished()) {
        const auto slice = Clock::now();
        task.step();
        longest_ms = std::max(longest_ms, ms_since(slice));
      }
      times_ms.push_back(ms_since(start));
    }
    std::printf("%.2f %.3f\n", median(times_ms), longest_ms);
    return 0;
  }
  std::fputs("usage: forecast curve CELLS STEP_H | time CELLS STEP_H REPEATS | fit PIECES REPEATS\n", stderr);
  return 2;
}
