// Advice against the design's figures of case hardening: how it comes in a harsh programme and goes in a bag.
#include "tests/reference/drying/bodies.h"
#include "tests/near.h"

using namespace saltrafter;
using namespace saltrafter::drying;

namespace {

// Two days at 22 °C and 85 %, then 13 °C and 65 % with 0.3 m/s, to day 14.
std::vector<Stage> harsh_to_14() { return {golden::stage(2, 22, 0.85, 0.3), golden::stage(12, 13, 0.65, 0.3)}; }

std::vector<DayState> sealed_at(double t_c) {
  std::vector<Stage> stages = harsh_to_14();
  stages.push_back(golden::stage(30, t_c, 0.65, 0.3));
  stages.back().sealed = true;
  return run_daily(golden::s60(), stages, {}, golden::kMagnus, 35).value();
}

}  // namespace

// Source: the design's section 6.4, computed with a prototype of the model (derived); printed to three digits.
TEST_CASE("a 60 mm salami of a harsh programme evens out in a bag as the design says, colder more slowly") {
  const std::vector<DayState> cold = sealed_at(4.0);
  CHECK(cold[14].loss == near_abs(0.314, 1e-3));
  CHECK(cold[14].aw_surface.value == near_abs(0.732, 2e-3));
  CHECK(cold[14].aw_core.value == near_abs(0.949, 1e-3));
  CHECK(cold[14].case_hardening == near_abs(0.216, 3e-3));
  CHECK(cold[17].case_hardening == near_abs(0.133, 2e-3));
  CHECK(cold[21].case_hardening == near_abs(0.081, 2e-3));
  CHECK(cold[28].case_hardening == near_abs(0.046, 2e-3));
  CHECK(cold[35].case_hardening == near_abs(0.028, 2e-3));
  CHECK(cold[35].loss == near_abs(cold[14].loss, 1e-9));
  const std::vector<DayState> cellar = sealed_at(13.0);
  CHECK(cellar[17].case_hardening == near_abs(0.108, 2e-3));
  CHECK(cellar[21].case_hardening == near_abs(0.061, 2e-3));
  CHECK(cellar[28].case_hardening == near_abs(0.029, 2e-3));
  CHECK(cellar[35].case_hardening == near_abs(0.014, 2e-3));
}

// The calm band begins between the design's 3 days (0.133) and 7 days (0.081) at 4 °C; at 13 °C after the third.
TEST_CASE("the bag's days that are advised end where the design's index comes into its calm band") {
  const auto days = run_daily(golden::s60(), harsh_to_14(), {}, golden::kMagnus, 14).value();
  std::vector<std::pair<double, double>> weighings;
  for (const int day : {2, 5, 8, 11, 14}) {
    weighings.push_back({day, 900.0 * (1.0 - days[static_cast<std::size_t>(day)].loss)});
  }
  ForecastInput in = golden::forecast_of({golden::piece("a", 900.0, weighings)});
  in.stages = harsh_to_14();
  in.now = Days(14);
  const Forecast forecast = golden::run(in);
  const auto days_at = [&](double t_c) {
    AdviceTask task = AdviceTask::make(in, forecast, {true, Celsius(t_c)}).value();
    while (!task.finished()) {
      task.step();
    }
    for (const Advice& advice : task.result()) {
      for (const Remedy& remedy : advice.remedies) {
        if (remedy.cure == Cure::equalise) return remedy.days->value;
      }
    }
    return 0.0;
  };
  CHECK(days_at(4.0) >= 4.0);
  CHECK(days_at(4.0) <= 7.0);
  CHECK(days_at(13.0) == 4.0);
}
