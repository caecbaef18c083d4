#include <doctest/doctest.h>

#include "core/safety/safety.h"
#include "tests/near.h"
#include "tests/unit/recipe/fixture.h"

using namespace saltrafter;
using namespace saltrafter::safety;
using recipe::test::sample;

namespace {

constexpr std::int64_t kHour = 3600 * 1000;

Reading reading(ReadingKind kind, double value, std::int64_t at = 0, Site site = Site::core) {
  Reading r;
  r.kind = kind;
  r.value = value;
  r.at_utc_ms = at;
  r.site = site;
  return r;
}

Finding rule_of(const std::vector<Reading>& readings, Rule rule,
                recipe::ProductClass product = recipe::ProductClass::comminuted_dry) {
  recipe::Recipe r = sample();
  r.product_class = product;
  const recipe::Sheet sheet = recipe::scale(r, Grams(4200.0)).value();
  Subject subject;
  subject.recipe = &r;
  subject.sheet = &sheet;
  subject.chosen = Chosen::us;
  subject.today = std::chrono::year(2026) / 11 / 25;
  subject.evidence.readings = readings;
  std::vector<Finding> found;
  for (const Finding& f : findings(subject)) {
    if (f.rule == rule) found.push_back(f);
  }
  REQUIRE(found.size() == 1);
  return found.front();
}

Reading aw(double value, std::int64_t at = 0, Site site = Site::core) {
  return reading(ReadingKind::water_activity, value, at, site);
}
Reading ph(double value, std::int64_t at = 0) { return reading(ReadingKind::ph_meter, value, at); }

}  // namespace

TEST_CASE("Listeria: by water activity, by pH, or by both together; each alone is enough") {
  const auto level = [](const std::vector<Reading>& readings) {
    return rule_of(readings, Rule::listeria).level;
  };
  CHECK(level({}) == Level::not_known);
  CHECK(rule_of({}, Rule::listeria).missing ==
        std::vector<std::string>{"measured_water_activity", "ph_reading"});
  CHECK(level({aw(0.89)}) == Level::met);
  CHECK(level({aw(0.915)}) == Level::near);
  CHECK(level({ph(4.2)}) == Level::met);
  CHECK(level({ph(4.8), aw(0.925)}) == Level::met);
  CHECK(rule_of({ph(4.8), aw(0.925)}, Rule::listeria).row.find("with") != std::string::npos);
  CHECK(level({ph(5.1), aw(0.935)}) == Level::not_met);
  CHECK(level({ph(4.8), aw(0.95)}) == Level::not_met);
  // Half of it is not known yet and may still show it.
  CHECK(level({ph(4.8)}) == Level::not_known);
  CHECK(rule_of({ph(5.5)}, Rule::listeria).missing == std::vector<std::string>{"measured_water_activity"});
  CHECK(level({aw(0.95)}) == Level::not_known);
}

TEST_CASE("keeping without cold: soured mince by pH and water activity, muscle by water activity alone") {
  const auto level = [](const std::vector<Reading>& readings, recipe::ProductClass product) {
    return rule_of(readings, Rule::keeps, product).level;
  };
  const auto minced = recipe::ProductClass::comminuted_dry;
  const auto muscle = recipe::ProductClass::whole_muscle_dry;
  CHECK(level({}, minced) == Level::not_known);
  CHECK(level({ph(4.8)}, minced) == Level::met);
  CHECK(level({ph(5.05), aw(0.93)}, minced) == Level::met);
  CHECK(level({ph(5.3), aw(0.93)}, minced) == Level::not_met);
  CHECK(level({ph(5.8), aw(0.89)}, minced) == Level::met);
  CHECK(level({ph(5.8), aw(0.89)}, muscle) == Level::not_met);
  CHECK(level({ph(4.5), aw(0.89)}, muscle) == Level::not_met);
  // 0.85 is only remembered.
  CHECK(level({aw(0.80)}, muscle) == Level::not_known);
}

TEST_CASE("the worst of the readings taken within an hour of the last counts, and older ones do not") {
  CHECK(rule_of({ph(4.3), ph(4.7, kHour / 2)}, Rule::keeps).found->value == near_abs(4.7, 1e-12));
  CHECK(rule_of({ph(4.9), ph(4.7, kHour / 2)}, Rule::keeps).found->value == near_abs(4.9, 1e-12));
  CHECK(rule_of({ph(5.6), ph(4.7, 2 * kHour)}, Rule::keeps).found->value == near_abs(4.7, 1e-12));
  CHECK(rule_of({reading(ReadingKind::ph_strip, 4.2)}, Rule::keeps).level == Level::not_known);
}

TEST_CASE(
    "only a sample of the core proves a water activity, and an instrument that failed its check proves "
    "none") {
  CHECK(rule_of({aw(0.85)}, Rule::water_activity).level == Level::met);
  CHECK(rule_of({aw(0.85, 0, Site::surface)}, Rule::water_activity).level == Level::not_known);
  CHECK(rule_of({aw(0.85, 0, Site::mixed)}, Rule::water_activity).missing ==
        std::vector<std::string>{"sample_site"});
  Reading doubtful = aw(0.85);
  for (const InstrumentState state : {InstrumentState::overdue, InstrumentState::failed}) {
    doubtful.instrument = state;
    CHECK(rule_of({doubtful}, Rule::water_activity).level == Level::near);
  }
  doubtful.instrument = InstrumentState::checked;
  CHECK(rule_of({doubtful}, Rule::water_activity).level == Level::met);
  Reading rough = aw(0.87);
  rough.uncertainty = 0.05;
  CHECK(rule_of({rough}, Rule::water_activity).level == Level::near);
}
