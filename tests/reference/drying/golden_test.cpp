// The drying model against golden runs and the days they reach a loss.
#include "tests/reference/drying/bodies.h"
#include "tests/reference/drying/checks.h"

using checks::expected;
using namespace saltrafter::drying;
using golden::day_of_loss;
using golden::gentle;
using golden::kMagnus;

namespace {

std::vector<DayState> days_of(const Body& body, const std::vector<Stage>& stages, int days,
                              Resolution resolution = kForDisplay) {
  return run_daily(body, stages, {}, kMagnus, days, resolution).value();
}

void follow(const char* file, const Body& body, const std::vector<Stage>& stages) {
  const std::vector<DayState> days = days_of(body, stages, 60);
  for (const rows::Row& row : rows::read(file)) {
    const DayState& day = days[static_cast<std::size_t>(rows::number(row, "day"))];
    CAPTURE(day.day.value);
    CHECK(day.loss == near_rel(rows::number(row, "loss_frac"), 1e-3));
    CHECK(day.x_mean == near_rel(rows::number(row, "X_mean"), 1e-3));
    CHECK(day.x_surface == near_rel(rows::number(row, "X_surface"), 2e-3));
    CHECK(day.x_core == near_rel(rows::number(row, "X_core"), 2e-3));
    CHECK(day.aw_surface.value == near_abs(rows::number(row, "aw_surface"), 5e-4));
    CHECK(day.aw_core.value == near_abs(rows::number(row, "aw_core"), 5e-4));
    CHECK(day.aw_average.value == near_abs(rows::number(row, "aw_mean"), 5e-4));
    CHECK(1e3 * day.outer.value == near_abs(rows::number(row, "radius_mm"), 0.01));
  }
}

double day_of_35(std::vector<Stage> stages, double diameter_m = 0.060, int horizon = 100) {
  const Body body = golden::salami_body(diameter_m);
  return day_of_loss(days_of(body, stages, horizon), 0.35);
}

std::vector<Stage> last_humidity(double humidity) {
  std::vector<Stage> stages = gentle();
  stages.back().humidity = golden::RelativeHumidity(humidity);
  return stages;
}
std::vector<Stage> last_celsius(double t_c) {
  std::vector<Stage> stages = gentle();
  stages.back().temperature = golden::Celsius(t_c);
  return stages;
}
std::vector<Stage> speed(double speed_ms) {
  std::vector<Stage> stages = gentle();
  for (Stage& stage : stages) {
    stage.speed = golden::MetresPerSecond(speed_ms);
  }
  return stages;
}

}  // namespace

TEST_CASE("a 60 mm salami through three stages dries as in the golden run") {
  follow("dry_golden_salami60.csv", golden::s60(), gentle());
}

TEST_CASE("a lean 65 mm muscle dries as in the golden run") {
  follow("dry_golden_bresaola65.csv", golden::l65(), {golden::stage(1, 13, 0.75, 0.05)});
}

TEST_CASE("at four times the cells and a 24th of the step the golden salami is met to its last digit") {
  const std::vector<DayState> days =
      days_of(golden::s60(), gentle(), 35, {160, golden::Days(0.25 / 24), saltrafter::transport::Scheme::bdf2});
  for (const rows::Row& row : rows::read("dry_golden_salami60.csv")) {
    const double day = rows::number(row, "day");
    if (day <= 35.0) {
      CHECK(days[static_cast<std::size_t>(day)].loss == near_abs(rows::number(row, "loss_frac"), 1.6e-6));
    }
  }
}

TEST_CASE("the day of 35 % loss moves with humidity, temperature and air as the design says") {
  CHECK(day_of_35(gentle()) == expected("salami 60 mm day of 35 % loss d"));
  CHECK(day_of_35(last_humidity(0.70)) == expected("last stage RH 70 d"));
  CHECK(day_of_35(last_humidity(0.74)) == expected("last stage RH 74 d"));
  CHECK(day_of_35(last_humidity(0.82)) == expected("last stage RH 82 d"));
  CHECK(day_of_35(last_humidity(0.85)) == expected("last stage RH 85 d"));
  CHECK(day_of_35(last_celsius(4)) == expected("last stage 4 C d"));
  CHECK(day_of_35(last_celsius(10)) == expected("last stage 10 C d"));
  CHECK(day_of_35(last_celsius(16)) == expected("last stage 16 C d"));
  CHECK(day_of_35(speed(0.02)) == expected("air 0.02 m/s d"));
  CHECK(day_of_35(speed(0.05)) == expected("air 0.05 m/s d"));
  CHECK(day_of_35(speed(0.3)) == expected("air 0.3 m/s d"));
  CHECK(day_of_35(speed(0.5)) == expected("air 0.5 m/s d"));
}

TEST_CASE("five calibres through three programmes reach their losses on the tabulated days") {
  for (const rows::Row& row : rows::read("dry_programme_by_calibre.csv")) {
    const std::string programme = row.at("programme");
    std::vector<Stage> stages = gentle();
    if (programme == "moderate") {
      stages = {golden::stage(2, 22, 0.90, 0.3), golden::stage(5, 16, 0.78, 0.2), golden::stage(1, 13, 0.74, 0.1)};
    } else if (programme == "harsh") {
      stages = {golden::stage(2, 22, 0.85, 0.3), golden::stage(1, 13, 0.65, 0.3)};
    } else if (programme != "gentle") {
      continue;
    }
    CAPTURE(programme);
    const double mm = rows::number(row, "diameter_mm");
    CAPTURE(mm);
    const Body body = golden::salami_body(mm * 1e-3);
    const std::vector<DayState> days = days_of(body, stages, 150);
    CHECK(day_of_loss(days, 0.30) == near_abs(rows::number(row, "days_to_30pct"), 0.2));
    CHECK(day_of_loss(days, 0.35) == near_abs(rows::number(row, "days_to_35pct"), 0.2));
    CHECK(day_of_loss(days, 0.40) == near_abs(rows::number(row, "days_to_40pct"), 0.3));
    CHECK(100.0 * days[7].loss == near_abs(rows::number(row, "loss_day7_pct"), 0.06));
    double most = 0.0;
    double hardening = 0.0;
    for (const DayState& day : days) {
      most = std::max(most, day.daily_loss);
      hardening = std::max(hardening, day.loss <= 0.35 ? day.case_hardening : 0.0);
    }
    CHECK(100.0 * most == near_abs(rows::number(row, "max_daily_loss_pct_of_W0"), 0.03));
    CHECK(hardening == near_abs(rows::number(row, "max_CHI_d_aw"), 0.004));
  }
}

TEST_CASE("how strongly the loss answers to the two factors is as tabulated") {
  const Body body = golden::s60();
  const auto course = [&body](Factors factors) { return run_daily(body, gentle(), factors, kMagnus, 49).value(); };
  const double h = 0.02;
  const auto base = course({});
  const auto inner_up = course({std::exp(h), 1.0});
  const auto inner_down = course({std::exp(-h), 1.0});
  const auto outer_up = course({1.0, std::exp(h)});
  const auto outer_down = course({1.0, std::exp(-h)});
  for (const rows::Row& row : rows::read("dry_sensitivity.csv")) {
    const auto day = static_cast<std::size_t>(rows::number(row, "day"));
    CAPTURE(day);
    CHECK(base[day].loss == near_rel(rows::number(row, "loss"), 1e-3));
    CHECK(std::log(inner_up[day].loss / inner_down[day].loss) / (2 * h) ==
          near_abs(rows::number(row, "dlnloss_dlnD"), 0.005));
    CHECK(std::log(outer_up[day].loss / outer_down[day].loss) / (2 * h) ==
          near_abs(rows::number(row, "dlnloss_dlnk"), 0.005));
  }
}
