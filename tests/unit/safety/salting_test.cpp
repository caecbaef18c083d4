// Salt on its way: what holds whatever the piece, and the bound while it dries.
#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <vector>

#include "core/safety/safety.h"
#include "core/safety/threshold.h"
#include "tests/near.h"
#include "tests/unit/safety/whole_muscle.h"

using namespace saltrafter;
using namespace saltrafter::safety;
using recipe::CureMethod;
using recipe::Form;
using test::muscle;
using test::salted;
using test::sheet_of;

namespace {

// Salt and water side by side, in small explicit steps: water goes to the rim down its own gradient and takes
// its salt along, salt goes down the gradient of the brine. Returns salt in the water phase at the centre.
struct SideBySide {
  double index = 1.0;
  double across_m = 0.08;
  double salt = 0.03;
  double cure_days = 28.0, dry_days = 30.0, loss = 0.15;
  double salt_m2_s = kSaltDiffusivityLow, water_m2_s = 4e-11;

  double centre() const {
    constexpr std::size_t kCells = 40;
    constexpr double kDay = 86400.0;
    const double water0 = 0.7293;
    const double dr = 0.5 * across_m / kCells;
    std::vector<double> volume(kCells), water(kCells, water0), in_meat(kCells, 0.0);
    double all = 0.0;
    const auto radius = [dr](std::size_t i) { return static_cast<double>(i) * dr; };
    for (std::size_t i = 0; i < kCells; ++i) {
      volume[i] = (std::pow(radius(i + 1), index + 1.0) - std::pow(radius(i), index + 1.0)) / (index + 1.0);
      all += volume[i];
    }
    in_meat.back() = salt * all / volume.back();
    const double dt = 0.2 * dr * dr / std::max(salt_m2_s, water_m2_s);
    const double end = (cure_days + dry_days) * kDay;
    std::vector<double> water_out(kCells + 1, 0.0), salt_out(kCells + 1, 0.0);
    for (double t = 0.0; t < end; t += dt) {
      const bool dries = t > cure_days * kDay;
      for (std::size_t j = 1; j < kCells; ++j) {
        const double area = std::pow(radius(j), index);
        const double flow = dries ? -water_m2_s * (water[j] - water[j - 1]) / dr : 0.0;
        const double brine_in = in_meat[j - 1] / water[j - 1];
        const double brine_out = in_meat[j] / water[j];
        water_out[j] = area * flow;
        const double between = 0.5 * (water[j] + water[j - 1]);
        salt_out[j] = area * (flow * brine_in - salt_m2_s * between * (brine_out - brine_in) / dr);
      }
      water_out[kCells] = dries ? loss * (1.0 + salt) / (dry_days * kDay) * all : 0.0;
      for (std::size_t i = 0; i < kCells; ++i) {
        water[i] += dt * (water_out[i] - water_out[i + 1]) / volume[i];
        in_meat[i] += dt * (salt_out[i] - salt_out[i + 1]) / volume[i];
      }
    }
    return in_meat[0] / (in_meat[0] + water[0]);
  }
};

}  // namespace

TEST_CASE("while it dries the bound at the centre stays under salt and water computed side by side") {
  for (const double index : {0.0, 1.0}) {
    for (const double across_m : {0.04, 0.08}) {
      for (const double water_m2_s : {3e-11, 1e-9}) {
        SideBySide other;
        other.index = index;
        other.across_m = across_m;
        other.water_m2_s = water_m2_s;
        other.loss = index == 0.0 && across_m > 0.05 ? 0.08 : 0.12;  // as much as such a rim can give off
        const recipe::Recipe r = muscle(across_m, 30.0, index == 0.0 ? Form::slab : Form::round);
        const Salting s = salted(
            r, {SaltTime{Days(28.0), Celsius(4.0)}, SaltTime{Days(30.0), Celsius(4.0), false, other.loss}});
        const double truth = other.centre();
        CAPTURE(index);
        CAPTURE(across_m);
        CAPTURE(water_m2_s);
        CHECK(s.days.back().centre <= truth + 1e-5);
        CHECK(s.days.back().centre >= 0.95 * truth);
        CHECK(s.days.back().centre < s.days.back().centre_likely);
        CHECK(s.days.back().centre_likely < s.days.back().mean);
      }
    }
  }
}

TEST_CASE("all salt of an equilibrium cure stays in the piece and evens out") {
  const recipe::Recipe r = muscle(0.05, 30.0);
  const recipe::Sheet sheet = sheet_of(r);
  const Salting s = salted(r, {SaltTime{Days(100.0), Celsius(3.0)}});
  REQUIRE(s.days.size() == 101);
  const double mean = recipe::water_phase_salt(sheet.composition);
  for (std::size_t i = 0; i < s.days.size(); ++i) {
    CHECK(s.days[i].at.value == static_cast<double>(i));
    CHECK(s.days[i].mean == near_rel(mean, 1e-9));
    REQUIRE(s.days[i].profile.size() == 11);
    CHECK(s.days[i].profile.front() == near_abs(s.days[i].centre_likely, 1e-12));
    if (i > 0) CHECK(s.days[i].centre >= s.days[i - 1].centre - 1e-12);
    CHECK(s.days[i].centre <= s.days[i].centre_likely + 1e-12);
  }
  CHECK(s.days[1].profile.back() > 1.5 * mean);
  CHECK(s.days.back().centre == near_rel(mean, 1e-3));
  CHECK_FALSE(s.cold_until);  // 3 % on 73 % of water never is 4.5 %
  REQUIRE((s.evened_slow && s.evened_likely && s.evened_fast));
  CHECK(*s.evened_fast < *s.evened_likely);
  CHECK(*s.evened_likely < *s.evened_slow);
  const Salting salty = salted(muscle(0.05, 40.0), {SaltTime{Days(2.0), Celsius(3.0)}});
  REQUIRE(salty.cold_until);
  CHECK(salty.cold_until->value > 2.0);
  CHECK(salty.days.size() == 3);
}

TEST_CASE("a time cut in two is the same time, and a piece shut on one side is half of one twice as thick") {
  const std::vector<SaltTime> whole{SaltTime{Days(10.0), Celsius(4.0)},
                                    SaltTime{Days(20.0), Celsius(4.0), false, 0.10}};
  const std::vector<SaltTime> cut{SaltTime{Days(4.5), Celsius(4.0)}, SaltTime{Days(5.5), Celsius(4.0)},
                                  SaltTime{Days(10.0), Celsius(4.0), false, 0.05},
                                  SaltTime{Days(10.0), Celsius(4.0), false, 0.10}};
  const SaltProfile a = salted(muscle(0.06, 30.0), whole).days.back();
  const SaltProfile b = salted(muscle(0.06, 30.0), cut).days.back();
  CHECK(a.at.value == 30.0);
  CHECK(b.centre == near_abs(a.centre, 2e-5));
  CHECK(b.mean == near_abs(a.mean, 1e-9));
  const SaltProfile shut = salted(muscle(0.03, 30.0, Form::slab_closed), whole).days.back();
  const SaltProfile open = salted(muscle(0.06, 30.0, Form::slab), whole).days.back();
  CHECK(shut.centre == near_rel(open.centre, 1e-9));
  for (const Form form : {Form::rolled, Form::ham}) {
    CHECK(salted(muscle(0.06, 30.0, form), whole).days.back().centre == near_rel(a.centre, 1e-12));
    CHECK(cold_loss_per_day(muscle(0.06, 30.0, form)) == near_rel(cold_loss_per_day(muscle(0.06, 30.0)), 1e-12));
    CHECK(centre_share(form, 0.1) == near_rel(centre_share(Form::round, 0.1), 1e-12));
  }
  // An end between two days is a day of its own.
  const Salting half = salted(muscle(0.06, 30.0), {SaltTime{Days(2.5), Celsius(4.0)}});
  REQUIRE(half.days.size() == 4);
  CHECK(half.days.back().at.value == 2.5);
}

TEST_CASE(
    "a salt box gives no more than its line, less where the time does not do, and counts not while it lies") {
  const recipe::Recipe r = muscle(0.06, 30.0, Form::round, CureMethod::salt_box);
  const double mean = recipe::water_phase_salt(sheet_of(r).composition);
  const Salting enough =
      salted(r, {SaltTime{Days(6.0), Celsius(4.0), true}, SaltTime{Days(40.0), Celsius(4.0)}});
  CHECK(enough.days[6].mean == near_rel(mean, 1e-6));
  CHECK(enough.days.back().mean == near_rel(mean, 1e-6));
  CHECK(enough.days.back().centre > 0.99 * mean);
  CHECK(enough.days[6].centre < 0.8 * mean);
  const Salting little =
      salted(r, {SaltTime{Days(0.05), Celsius(4.0), true}, SaltTime{Days(60.0), Celsius(4.0)}});
  CHECK(little.days.back().mean < 0.9 * mean);
  CHECK(little.days.back().mean > 0.2 * mean);
  const Salting lies = salted(r, {SaltTime{Days(50.0), Celsius(4.0), true}});
  REQUIRE(lies.evened_likely);
  CHECK(lies.evened_likely->value >= 50.0);
}

TEST_CASE("a brine and the meat in it come to one strength") {
  recipe::Recipe r = muscle(0.04, 60.0, Form::round, CureMethod::brine);
  r.brine = recipe::Brine{1000.0, 0.1, Days(60.0)};
  const recipe::Sheet sheet = sheet_of(r);
  const Salting s = salted(r, {SaltTime{Days(90.0), Celsius(4.0), true}});
  const double salt_g = sheet.salt_wanted.value;
  const double water_g =
      sheet.composition.water_g + (sheet.water.value > 0.0 ? sheet.water.value : 10000.0 - salt_g);
  CHECK(s.days.back().mean == near_rel(salt_g / (salt_g + water_g), 2e-3));
  CHECK(s.days.back().centre == near_rel(salt_g / (salt_g + water_g), 2e-3));
  for (std::size_t i = 1; i < s.days.size(); ++i) CHECK(s.days[i].mean >= s.days[i - 1].mean - 1e-9);
  // Taken out of it, it takes up no more.
  const Salting out = salted(r, {SaltTime{Days(1.0), Celsius(4.0), true}, SaltTime{Days(9.0), Celsius(4.0)}});
  CHECK(out.days.back().mean == near_rel(out.days[1].mean, 1e-9));
}

TEST_CASE("bad times and bodies that are none are refused") {
  const recipe::Recipe r = muscle(0.06, 30.0);
  const recipe::Sheet sheet = sheet_of(r);
  for (const double days : {-1.0, 366.0, std::numeric_limits<double>::quiet_NaN()}) {
    const Result<Salting> bad = salting(r, sheet, {SaltTime{Days(days), Celsius(4.0)}});
    REQUIRE_FALSE(bad.ok());
    CHECK(bad.error().code == ErrorCode::out_of_range);
    CHECK(bad.error().field == "days");
    CHECK(salt_at_centre(r, sheet, {SaltTime{Days(days), Celsius(4.0)}}).error().field == "days");
  }
  const Result<Salting> none = salting(r, recipe::Sheet{}, {});
  REQUIRE_FALSE(none.ok());
  CHECK(none.error().field == "composition");
  CHECK_FALSE(cold_way(r, recipe::Sheet{}));
}

TEST_CASE("the working of the centre gives the centre") {
  const recipe::Recipe r = muscle(0.06, 30.0);
  recipe::Working working;
  // So long that the salt is even but for what the water carries along.
  const std::vector<SaltTime> times{SaltTime{Days(90.0), Celsius(4.0)},
                                    SaltTime{Days(30.0), Celsius(4.0), false, 0.12}};
  const Salting s = salting(r, sheet_of(r), times, &working).value();
  const auto line = [&](const char* id) {
    for (const recipe::WorkingLine& one : working) {
      if (one.id == id) return one.value;
    }
    FAIL("no line ", id);
    return 0.0;
  };
  const double salt = line("salting.salt") * line("salting.carried");
  const double water = line("salting.water") - 0.12 * (1.0 + line("salting.salt"));
  CHECK(salt / (salt + water) == near_rel(line("salting.centre"), 1e-3));
  CHECK(line("salting.centre") == s.days.back().centre);
  CHECK(salt_at_centre(r, sheet_of(r), times).value() == near_abs(s.days.back().centre, 1e-5));
  CHECK(line("salting.carried") < 0.98);
}

TEST_CASE("the way through the cold passes on its last day and not on the one before") {
  for (const double salt : {28.0, 30.0, 33.0}) {
    recipe::Recipe r = muscle(0.06, salt);
    r.stages = {test::stage("cure", recipe::StageKind::cure, 3.0, 16.0, true)};
    const std::optional<ColdWay> way = cold_way(r, sheet_of(r));
    REQUIRE(way);
    CHECK(way->cure.value == 16.0);
    const double rate = cold_loss_per_day(r);
    CHECK(way->loss >= rate * way->dry.value);
    CHECK(way->loss < rate * way->dry.value + 0.001);
    const auto centre_after = [&](double days) {
      return salted(r, {SaltTime{Days(16.0), Celsius(3.0)},
                        SaltTime{Days(days), Celsius(4.0), false, rate * days}})
          .days.back()
          .centre;
    };
    CHECK(centre_after(way->dry.value) >= 0.045 - 1e-6);
    CHECK(centre_after(way->dry.value - 1.0) < 0.045);
  }
  recipe::Recipe salty = muscle(0.04, 40.0);
  salty.stages = {test::stage("cure", recipe::StageKind::cure, 3.0, 20.0, true)};
  CHECK_FALSE(cold_way(salty, sheet_of(salty)));  // curing alone does
  recipe::Recipe bland = muscle(0.06, 10.0);
  CHECK_FALSE(cold_way(bland, sheet_of(bland)));  // nothing up to 40 % does
  // A slab has half the surface of a round piece as thick.
  CHECK(cold_loss_per_day(muscle(0.06, 30.0, Form::slab)) ==
        near_rel(0.5 * cold_loss_per_day(muscle(0.06, 30.0)), 1e-12));
  CHECK(cold_loss_per_day(muscle(0.08, 30.0)) ==
        near_rel(threshold("safety.cold_loss_per_day").value, 1e-12));
}

TEST_CASE("a brine is as strong as its salt was weighed") {
  recipe::Recipe r = muscle(0.04, 30.0, Form::round, CureMethod::brine);
  r.brine = recipe::Brine{800.0, 0.25, Days(7.0)};
  const std::vector<SaltTime> times = {SaltTime{Days(14.0), Celsius(4.0), true}};
  const recipe::Sheet asked = sheet_of(r);
  recipe::Hands hands;
  hands.weighed = {{r.lines[1].id, asked.lines[1].weighed * 0.5, 0, ""}};
  const Result<recipe::Sheet> half = recipe::scale(r, Grams(10000.0), nullptr, hands);
  REQUIRE(half.ok());
  CHECK(salting(r, half.value(), times).value().days.back().mean < 0.7 * salting(r, asked, times).value().days.back().mean);
}

TEST_CASE("times of a plan end before the first that is not cold") {
  recipe::Recipe r = muscle(0.08, 30.0, Form::round, CureMethod::salt_box);
  r.wanted_loss = 0.3;
  r.stages = {test::stage("cure", recipe::StageKind::cure, 3.0, 4.0),
              test::stage("rest", recipe::StageKind::rest, 5.0, 10.0, true),
              test::stage("cold", recipe::StageKind::cold_dry, 4.0, 20.0),
              test::stage("dry", recipe::StageKind::dry, 13.0, 40.0)};
  const std::vector<SaltTime> cold = times_of(r);
  REQUIRE(cold.size() == 3);
  CHECK(cold[0].in_salt);
  CHECK_FALSE(cold[1].in_salt);
  CHECK(cold[1].loss_at_end == 0.0);
  CHECK(cold[2].loss_at_end == near_rel(20.0 * cold_loss_per_day(r), 1e-12));
  r.stages[2].until_loss = 0.12;
  CHECK(times_of(r)[2].loss_at_end == 0.12);
  CHECK(times_before(r, 9).size() == 4);
  CHECK(times_before(r, 9).back().loss_at_end == near_abs(0.3, 1e-12));
  REQUIRE(first_warm(r));
  CHECK(*first_warm(r) == 3);
}

TEST_CASE("every threshold is a row, and the range of the diffusivity is that of the header") {
  const Threshold d = threshold("safety.salt_diffusivity");
  CHECK(d.value == kSaltDiffusivity);
  CHECK(d.low == kSaltDiffusivityLow);
  CHECK(d.high == kSaltDiffusivityHigh);
  CHECK(std::isnan(threshold("safety.no_such_row").value));
  for (const char* key :
       {"safety.salt_activation_energy", "safety.saturated_brine", "safety.salt_evened", "safety.cold_loss_per_day",
        "safety.cold_drying_temperature", "safety.cold_loss_most", "safety.stage_cure", "safety.stage_rest",
        "safety.stage_ferment", "safety.stage_ferment_time", "safety.stage_cold_dry", "safety.stage_dry",
        "safety.stage_store", "any.temperature.whole_muscle_dry.cold", "any.water_phase_salt.whole_muscle_dry.centre",
        "any.water_activity.whole_muscle_dry.centre", "any.temperature.any.sealing", "any.water_phase_salt.any.sealing",
        "any.water_activity.any.sealing", "any.ph.any.sealing", "any.ph.whole_muscle_dry.raw"}) {
    CAPTURE(key);
    const Threshold row = threshold(key);
    CHECK(std::isfinite(row.value));
    CHECK_FALSE(tables::is_evidence(row.origin.known));  // so none of these may read met
  }
}
