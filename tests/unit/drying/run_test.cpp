// What must hold of a run for any recipe and any air.
#include <limits>
#include <random>

#include "tests/near.h"
#include "tests/reference/drying/bodies.h"

using namespace saltrafter;
using namespace saltrafter::drying;
using golden::kMagnus;

namespace {

std::vector<DayState> days_of(const Body& body, std::vector<Stage> stages, int days) {
  return run_daily(body, stages, {}, kMagnus, days).value();
}

}  // namespace

TEST_CASE("air in balance with the meat takes nothing from it at any temperature") {
  for (const double t_c : {2.0, 13.0, 24.0}) {
    const Body body = golden::s60();
    Stage stage = golden::stage(1, t_c, body.isotherm->activity(body.x0).value, 0.1);
    CHECK(std::abs(days_of(body, {stage}, 30).back().loss) < 1e-6);
  }
}

TEST_CASE("air wetter than the meat makes it heavier") {
  CHECK(days_of(golden::s60(), {golden::stage(1, 13, 0.99, 0.1)}, 5).back().loss < 0.0);
}

TEST_CASE("a sealed stage keeps the weight and lets the rim catch up with the core") {
  std::vector<Stage> stages{golden::stage(2, 22, 0.85, 0.3), golden::stage(12, 13, 0.65, 0.3),
                            golden::stage(1, 4, 0.65, 0.3)};
  stages[2].sealed = true;
  const auto days = days_of(golden::s60(), stages, 35);
  CHECK(days[14].loss == near_abs(0.314, 0.002));  // design section 6.4, prototype
  CHECK(days[14].case_hardening == near_abs(0.216, 0.003));
  CHECK(std::abs(days[35].loss - days[14].loss) < 1e-9);
  CHECK(days[17].case_hardening == near_abs(0.133, 0.003));
  CHECK(days[21].case_hardening == near_abs(0.081, 0.003));
  CHECK(days[35].case_hardening == near_abs(0.028, 0.003));
}

TEST_CASE("water that left the surface is what the piece has lost, in any of 40 random settings") {
  std::mt19937_64 random(7);
  const auto between = [&random](double low, double high) {
    return low + (high - low) * static_cast<double>(random() >> 11) * 0x1p-53;
  };
  for (int i = 0; i < 40; ++i) {
    const recipe::Composition mix{between(40, 75), between(12, 24), between(2, 40), between(0, 5), between(0, 5)};
    const Geometry geometry{i % 3 == 0 ? Form::slab_skin_closed : Form::cylinder, Metres(between(0.02, 0.12)), {}};
    const Body body = make_body({mix, {}, i % 2 ? Kind::minced : Kind::whole_muscle, i % 4 ? Wrap::cased : Wrap::naked},
                                geometry)
                          .value();
    const std::vector<Stage> stages{golden::stage(between(0.3, 4), between(0, 26), between(0.2, 0.99), between(0, 1)),
                                    golden::stage(1, between(0, 26), between(0.2, 0.99), between(0, 1))};
    Run run(body, stages, {between(0.3, 3), between(0.3, 3)}, kMagnus, kForDisplay, {40.0});
    CHECK(run.to_next_mark());
    CHECK(run.day() == 40.0);
    CHECK(std::abs(run.closure()) < 1e-9);
    const DayState state = run.state();
    CHECK(std::isfinite(state.loss));
    CHECK(state.x_surface >= 0.0);
    CHECK(state.aw_core.value >= 0.0);
    CHECK(state.aw_core.value <= 1.0);
  }
}

TEST_CASE("drier air, faster air, a thinner piece and leaner meat each dry faster") {
  const auto loss = [](double fat_g, double diameter_m, double humidity, double speed_ms) {
    const double lean = (973 - fat_g) / 753;  // what is not fat, in the salami's own proportions
    const recipe::Composition mix{575 * lean, 178 * lean, fat_g, 27, 0};
    const Body body = make_body({mix}, golden::cylinder(diameter_m)).value();
    return days_of(body, {golden::stage(1, 13, humidity, speed_ms)}, 20).back().loss;
  };
  const double base = loss(220, 0.06, 0.78, 0.1);
  CHECK(loss(220, 0.06, 0.74, 0.1) > base);
  CHECK(loss(220, 0.06, 0.78, 0.3) > base);
  CHECK(loss(220, 0.05, 0.78, 0.1) > base);
  CHECK(loss(120, 0.06, 0.78, 0.1) > base);
}

TEST_CASE("marks between whole days and stage ends are met exactly and change the course by next to nothing") {
  const Body body = golden::s60();
  Run whole(body, golden::gentle(), {}, kMagnus, kForDisplay, {20.0});
  Run cut(body, golden::gentle(), {}, kMagnus, kForDisplay, {0.37, 2.0, 6.9999, 11.5, 20.0});
  CHECK(whole.to_next_mark());
  for (const double day : {0.37, 2.0, 6.9999, 11.5, 20.0}) {
    CHECK(cut.to_next_mark());
    CHECK(cut.day() == day);
  }
  CHECK(cut.finished());
  CHECK_FALSE(cut.to_next_mark());
  CHECK(cut.loss() == near_rel(whole.loss(), 1e-4));
}

TEST_CASE("wetter or impossible input is refused with its field") {
  const Body body = golden::s60();
  const auto field_of = [&](Stage stage, int days = 10) {
    const auto made = run_daily(body, {stage}, {}, kMagnus, days);
    return made.ok() ? std::string() : made.error().field;
  };
  const Stage good = golden::stage(1, 13, 0.78, 0.1);
  CHECK(field_of(good).empty());
  CHECK(field_of(golden::stage(0, 13, 0.78, 0.1)) == "stages/0/duration");
  CHECK(field_of(golden::stage(1, 60, 0.78, 0.1)) == "stages/0/temperature");
  CHECK(field_of(golden::stage(1, 13, 1.0, 0.1)) == "stages/0/humidity");
  CHECK(field_of(golden::stage(1, 13, 0.78, std::numeric_limits<double>::quiet_NaN())) == "stages/0/speed");
  CHECK(field_of(good, -1) == "days");
  CHECK(run_daily(body, {}, {}, kMagnus, 3).error().field == "stages");
  CHECK(run_daily(body, {good}, {}, {}, 3).error().field == "saturation");
  CHECK(run_daily({}, {good}, {}, kMagnus, 3).error().field == "body");
  CHECK(run_daily(body, {good}, {0.0, 1.0}, kMagnus, 3).error().field == "factors");
  const auto body_field = [](recipe::Composition mix, Geometry geometry) {
    const auto made = make_body({mix}, geometry);
    return made.ok() ? std::string() : made.error().field;
  };
  CHECK(body_field({}, golden::cylinder(0.06)) == "composition");
  CHECK(body_field({575, -1, 220, 27, 0}, golden::cylinder(0.06)) == "composition");
  CHECK(body_field({575, 0, 220, 27, 0}, golden::cylinder(0.06)) == "solids");
  CHECK(body_field(golden::salami(), golden::cylinder(0.0)) == "diameter");
  CHECK(body_field(golden::salami(), {Form::cylinder, Metres(0.06), Metres(0.03)}) == "length");
}

TEST_CASE("isotherms of 60 random recipes rise strictly and invert") {
  std::mt19937_64 random(11);
  const auto share = [&random] { return static_cast<double>(random() >> 11) * 0x1p-53; };
  for (int i = 0; i < 60; ++i) {
    const recipe::Solids solids{0.02 + 0.9 * share(), 0.2 * share(), i % 3 == 0 ? share() : 0.0};
    const recipe::Isotherm isotherm = recipe::Isotherm::make(solids).value();
    double before = isotherm.content(WaterActivity(0.2));
    double before_activity = 0.0;
    for (int k = 1; k < 800; ++k) {
      const double a = 0.2 + (0.999 - 0.2) * k / 799.0;
      const double x = isotherm.content(WaterActivity(a));
      CHECK(x > before);
      const auto back = isotherm.at(x);
      CHECK(back.activity == near_abs(a, 2e-5));
      CHECK(back.activity > before_activity);
      CHECK(back.slope >= 0.0);
      before = x;
      before_activity = back.activity;
    }
  }
  CHECK(recipe::Isotherm::make({0.0, 0.1, 0.0}).error().field == "solids");
  CHECK(recipe::Isotherm::make({1.1, 0.1, 0.0}).error().field == "protein_and_rest");
}

TEST_CASE("brine refuses what is beyond saturation and inverts below it") {
  CHECK(recipe::brine_activity(-0.1).error().field == "molality");
  CHECK(recipe::brine_activity(6.4).error().field == "molality");
  CHECK(recipe::brine_molality(WaterActivity(0.7)).error().field == "water_activity");
  CHECK(recipe::brine_activity(0.0).value().value == 1.0);
  for (double m = 0.01; m < 6.3; m += 0.1) {
    CHECK(recipe::brine_molality(recipe::brine_activity(m).value()).value() == near_rel(m, 1e-9));
  }
  // 10 g of salt to 100 g of brine: 1.901 mol per kg of water.
  CHECK(recipe::brine_activity_of_water_phase(0.1).value().value ==
        near_abs(recipe::brine_activity(0.1 / 0.9 / 0.05844).value().value, 1e-12));
  CHECK(recipe::brine_activity_of_water_phase(0.3).error().field == "water_phase_salt");
}
