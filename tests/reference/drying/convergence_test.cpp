// The order of both schemes in time, as the design states it.
#include "tests/reference/drying/bodies.h"
#include "tests/near.h"

using namespace saltrafter::drying;
using saltrafter::transport::Scheme;

namespace {

// Largest relative difference of the loss from day 3 on, against quarter hours on the same grid.
double error_of(Scheme scheme, double step_h) {
  const Body body = golden::s60();
  const std::vector<Stage> stages{golden::stage(1, 13, 0.78, 0.1)};
  const auto course = [&](Scheme used, double hours) {
    return run_daily(body, stages, {}, golden::kMagnus, 30, {30, golden::Days(hours / 24.0), used}).value();
  };
  static const auto truth = course(Scheme::bdf2, 0.25);
  const auto seen = course(scheme, step_h);
  double worst = 0.0;
  for (std::size_t day = 3; day < truth.size(); ++day) {
    worst = std::max(worst, std::abs(seen[day].loss / truth[day].loss - 1.0));
  }
  return worst;
}

}  // namespace

TEST_CASE("halving the step halves the error of backward Euler") {
  const double coarse = error_of(Scheme::backward_euler, 12.0);
  const double fine = error_of(Scheme::backward_euler, 6.0);
  CAPTURE(coarse);
  CAPTURE(fine);
  CHECK(coarse / fine > 1.8);
  CHECK(coarse / fine < 2.2);
}

TEST_CASE("halving the step quarters the error of the second-order scheme") {
  double before = error_of(Scheme::bdf2, 24.0);
  for (const double step_h : {12.0, 6.0, 3.0}) {
    const double now = error_of(Scheme::bdf2, step_h);
    CAPTURE(step_h);
    CAPTURE(now);
    CHECK(before / now > 3.3);
    CHECK(before / now < 5.5);
    before = now;
  }
}
