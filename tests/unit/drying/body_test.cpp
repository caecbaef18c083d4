// Forms and stages: what each means for the solver, and what must hold of sealed and waxed stages.
#include "core/tables/tables.h"
#include "tests/near.h"
#include "tests/reference/drying/bodies.h"

using namespace saltrafter;
using namespace saltrafter::drying;
using golden::kMagnus;

namespace {

Body shaped(const Geometry& geometry) { return make_body({golden::salami()}, geometry, golden::figures()).value(); }

double loss_on(const Body& body, const std::vector<Stage>& stages, int day) {
  return run_daily(body, stages, {}, kMagnus, day).value().back().loss;
}

}  // namespace

TEST_CASE("a rolled piece is a cylinder, a ham lies between cylinder and sphere") {
  const Body roll = shaped({Form::rolled, Metres(0.08), Metres(0.25), {}});
  const Body cylinder = shaped({Form::cylinder, Metres(0.08), Metres(0.25), {}});
  CHECK(roll.shape_index == cylinder.shape_index);
  CHECK(roll.outer_m == cylinder.outer_m);
  CHECK(roll.shape_index == near_abs(1.0 + 0.75 * 0.08 / 0.25, 1e-12));
  const Body ham = shaped({Form::ham, kHamDiameter, {}, {}});
  CHECK(ham.shape_index == 1.5);
  CHECK(ham.outer_m == near_abs(0.085, 1e-12));
}

TEST_CASE("edges make a slab dry faster; with a closed face it is half of one twice as thick") {
  const Body endless = shaped({Form::slab_open, Metres(0.04), {}, {}});
  const Body edged = shaped({Form::slab_open, Metres(0.04), Metres(0.25), Metres(0.12)});
  CHECK(endless.shape_index == 0.0);
  CHECK(edged.shape_index == near_abs(0.75 * (0.04 / 0.25 + 0.04 / 0.12), 1e-12));
  const Body closed = shaped({Form::slab_skin_closed, Metres(0.02), Metres(0.25), Metres(0.12)});
  CHECK(closed.shape_index == near_abs(edged.shape_index, 1e-12));
  CHECK(closed.outer_m == near_abs(edged.outer_m, 1e-12));
  const std::vector<Stage> air{golden::stage(1, 13, 0.75, 0.1)};
  CHECK(loss_on(edged, air, 15) > loss_on(endless, air, 15) + 0.01);
  CHECK(loss_on(closed, air, 15) == near_abs(loss_on(edged, air, 15), 1e-12));
  const auto field = [](const Geometry& geometry) {
    return make_body({golden::salami()}, geometry).error().field;
  };
  CHECK(field({Form::slab_skin_closed, Metres(0.07), Metres(0.12), {}}) == "length");
  CHECK(field({Form::slab_open, Metres(0.07), Metres(0.12), Metres(0.05)}) == "width");
}

TEST_CASE("a stage may change the surface from then on: waxed dries slower than cased, naked faster") {
  const auto with = [](std::optional<Wrap> wrap) {
    std::vector<Stage> stages{golden::stage(5, 13, 0.78, 0.1), golden::stage(5, 13, 0.78, 0.1), golden::stage(1, 13, 0.78, 0.1)};
    stages[1].wrap = wrap;
    return run_daily(golden::s60(), stages, {}, kMagnus, 30).value();
  };
  const auto cased = with(std::nullopt);
  const auto waxed = with(Wrap::waxed);
  const auto naked = with(Wrap::naked);
  CHECK(waxed[5].loss == cased[5].loss);
  CHECK(waxed[10].loss < cased[10].loss - 0.005);
  CHECK(naked[10].loss > cased[10].loss + 0.003);
  CHECK(waxed[30].loss < cased[30].loss - 0.005);  // from then on, not for one stage
  CHECK(with(Wrap::cased)[30].loss == cased[30].loss);
}

TEST_CASE("in a sealed stage nothing leaves and the gradient dies with the time of its shape") {
  // Small differences, nothing that depends on them: the slowest mode alone is left.
  for (const auto& [form, beta] : {std::pair{Form::cylinder, 3.831706}, std::pair{Form::slab_open, 3.141593}}) {
    Body body = shaped({form, Metres(0.048), {}, {}});
    body.slowdown = 0.0;
    body.activation_j_mol = 0.0;
    body.d0_m2_s = 6e-11;
    std::vector<Stage> stages{golden::stage(0.5, 13, 0.955, 0.1), golden::stage(1, 13, 0.9, 0.1)};
    stages[1].sealed = true;
    Run run(body, stages, {}, kMagnus, {60, Days(0.1), transport::Scheme::bdf2}, {0.5, 12.0, 16.0});
    CHECK(run.to_next_mark());
    const double before = run.loss();
    CHECK(before > 1e-4);
    CHECK(run.to_next_mark());
    const DayState early = run.state();
    CHECK(run.to_next_mark());
    const DayState late = run.state();
    CHECK(late.loss == near_abs(before, 1e-9));
    const double tau_d = 0.024 * 0.024 / (6e-11 * beta * beta) / 86400.0;
    const double seen_d = 4.0 / std::log((early.x_core - early.x_surface) / (late.x_core - late.x_surface));
    CHECK(seen_d == near_rel(tau_d, 0.03));
  }
}

TEST_CASE("the layers of a piece hold all its water and lie from the core to the surface") {
  const Body body = golden::s60();
  Run run(body, golden::gentle(), {}, kMagnus, kForDisplay, {14.0});
  CHECK(run.to_next_mark());
  const std::vector<Layer> layers = run.layers();
  double weighed = 0.0;
  double outer = 0.0;
  double area = 0.0;
  for (const Layer& layer : layers) {
    CHECK(layer.inner == outer);
    CHECK(layer.outer > layer.inner);
    outer = layer.outer;
    const double ring = layer.outer * layer.outer - layer.inner * layer.inner;
    // Each ring had this share of the area at hanging: less water, less room.
    const double x0 = body.x0;
    const double vs = body.solid_m3_kg;
    const double share = ring * (vs + x0 * 1e-3) / (vs + (x0 - layer.loss * (1.0 + x0)) * 1e-3);
    weighed += share * layer.loss;
    area += share;
  }
  CHECK(outer == near_abs(1.0, 1e-12));
  CHECK(weighed / area == near_abs(run.loss(), 1e-9));
}

TEST_CASE("drier air never dries slower, in any of 60 random settings of the default model") {
  std::uint64_t state = 99;
  const auto between = [&state](double low, double high) {
    state = state * 6364136223846793005ULL + 1442695040888963407ULL;
    return low + (high - low) * static_cast<double>(state >> 11) * 0x1p-53;
  };
  for (int i = 0; i < 60; ++i) {
    const recipe::Composition mix{between(45, 75), between(12, 24), between(2, 40), between(1, 6), between(0, 4)};
    const Form form = i % 3 == 0 ? Form::slab_skin_closed : i % 3 == 1 ? Form::cylinder : Form::ham;
    const Body body = make_body({mix, {}, i % 2 ? Kind::minced : Kind::whole_muscle, i % 4 ? Wrap::cased : Wrap::naked},
                                {form, Metres(between(0.02, 0.12)), {}, {}})
                          .value();
    const double t_c = between(2, 24);
    const double speed_ms = between(0, 0.8);
    double before = 1.0;
    for (double humidity = 0.2; humidity < 0.99; humidity += 0.06) {
      const auto days = run_daily(body, {golden::stage(1, t_c, humidity, speed_ms)}, {}, kMagnus, 40, kForFit).value();
      CHECK(days.back().loss <= before + 1e-9);
      before = days.back().loss;
    }
  }
}

TEST_CASE("the figures the model uses are those the tables show") {
  const std::array<std::pair<const char*, Assumption>, 39> all{{
      {"drying.d0_minced", kMincedDiffusivity}, {"drying.d0_minced_fat", kFatReference},
      {"drying.d0_fat_slope", kFatSlope}, {"drying.d0_whole_muscle", kMuscleDiffusivity},
      {"drying.rim_exponent", kDryingSlowdown}, {"drying.activation_energy", kActivation},
      {"drying.casing_naked", kCasingNaked}, {"drying.casing_cased", kCasingCased},
      {"drying.casing_waxed", kCasingWaxed}, {"drying.radiation", kRadiation}, {"drying.factor_sd", kFactorSpread},
      {"drying.batch_to_batch_sd", kBatchToBatch}, {"drying.discrepancy_time", kTimeDiscrepancy},
      {"drying.discrepancy_ahead", kAheadDiscrepancy}, {"drying.water_sd", kWaterSpread},
      {"drying.holding_sd", kHoldingSpread}, {"drying.ham_shape", kHamShape},
      {"drying.end_share", kEndShare},
      {"drying.density_fat", kFatDensity},
      {"drying.density_protein", kProteinDensity},
      {"drying.density_salt", kSaltDensity},
      {"drying.dry_rim", kDryRim},
      {"drying.dry_rim_before", kDryRimBefore},
      {"drying.driest_set_point", kDriest},
      {"drying.dampest_set_point", kDampest},
      {"drying.scale_sd", kScaleSd},
      {"drying.string_sd", kStringSd},
      {"drying.look_ahead", kLookAhead},
      {"drying.longest_raise", kLongestRaise},
      {"drying.longest_sealed", kLongestSealed},
      {"drying.stalled_share", kStalledShare},
      {"drying.stalled_rate", kStalledRate},
      {"drying.far_from_wanted", kFarFromWanted},
      {"drying.moving_rate", kMovingRate},
      {"drying.uneven_watch", kUnevenWatch},
      {"drying.uneven_act", kUnevenAct},
      {"drying.reading_activity_sd", kReadingActivity},
      {"drying.reading_moisture_sd", kReadingMoisture},
      {"drying.reading_feel_sd", kReadingFeel}}};
  for (const auto& row : all) {
    const tables::Constant* shown = tables::find_constant(row.first);
    CAPTURE(row.first);
    REQUIRE(shown != nullptr);
    CHECK(row.second.value == shown->value);
    CHECK(row.second.low == shown->low);
    CHECK(row.second.high == shown->high);
    constexpr std::array<const char*, 6> kKnown{"read", "read_copy", "derived", "practice", "memory", "choice"};
    CHECK(row.second.known == kKnown[static_cast<std::size_t>(shown->origin.known)]);
  }
}
