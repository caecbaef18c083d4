#include <doctest/doctest.h>

#include <cmath>
#include <string>

#include "core/safety/safety.h"
#include "tests/near.h"
#include "tests/reference/transport/rows.h"

using namespace saltrafter;
using namespace saltrafter::safety;

namespace {

DegreeScheme scheme_of(const rows::Row& row) {
  return row.at("scheme") == "us" ? DegreeScheme::us : DegreeScheme::ca;
}

Celsius celsius(DegreeScheme scheme, double degrees) {
  return Celsius(scheme == DegreeScheme::us ? (degrees - 32.0) / 1.8 : degrees);
}

// "10@75;10@85"
std::vector<Held> course_of(DegreeScheme scheme, const std::string& steps) {
  std::vector<Held> course;
  const char* at = steps.c_str();
  while (*at != '\0') {
    char* end = nullptr;
    const double hours = std::strtod(at, &end);
    REQUIRE(*end == '@');
    const double degrees = std::strtod(end + 1, &end);
    course.push_back({hours, celsius(scheme, degrees)});
    at = *end == ';' ? end + 1 : end;
  }
  return course;
}

}  // namespace

TEST_CASE("each class of both schemes has its published limit, at its bounds as well") {
  int evidence = 0;
  for (const rows::Row& row : rows::read("cure_degree_hours_limits.csv")) {
    const DegreeScheme scheme = scheme_of(row);
    const std::string& from = row.at("highest_from");
    const std::string& to = row.at("highest_to");
    CAPTURE(row.at("scheme"));
    CAPTURE(row.at("class"));
    std::vector<double> inside;
    if (from.empty()) inside = {rows::number(row, "highest_to") - 0.01};
    if (to.empty()) inside = {rows::number(row, "highest_from") + 0.01};
    if (inside.empty()) inside = {rows::number(row, "highest_from"), rows::number(row, "highest_to")};
    for (const double degrees : inside) {
      CAPTURE(degrees);
      const DegreeHours one = degree_hours(scheme, {{1.0, celsius(scheme, degrees)}});
      CHECK(one.limit == rows::number(row, "limit"));
      CHECK(one.count == near_abs(degrees - rows::number(row, "base"), 1e-8));
      REQUIRE(one.row != nullptr);
      const bool read = row.at("known") == "read_copy";
      CHECK(tables::is_evidence(one.row->origin.known) == read);
      CHECK(one.level == (read ? Level::met : Level::not_known));
      CHECK(one.row->ph == kSafePh);
      evidence += read ? 1 : 0;
    }
  }
  CHECK(evidence == 1);
}

TEST_CASE("the longest time at one temperature is the published one") {
  int printed = 0;
  for (const rows::Row& row : rows::read("cure_degree_hours_constant.csv")) {
    const DegreeScheme scheme = scheme_of(row);
    CAPTURE(row.at("scheme"));
    CAPTURE(row.at("temperature"));
    const Celsius temperature = celsius(scheme, rows::number(row, "temperature"));
    const std::optional<double> longest = longest_hours(scheme, temperature);
    REQUIRE(longest);
    CHECK(*longest == near_abs(rows::number(row, "hours"), 0.01));
    if (!row.at("published").empty()) {
      ++printed;
      CHECK(std::floor(*longest + 1e-6) == rows::number(row, "published"));
      // A plan of just the printed hours is within the limit, one of an hour more is not.
      const double hours = rows::number(row, "published");
      CHECK(degree_hours(scheme, {{hours, temperature}}).level != Level::not_met);
      CHECK(degree_hours(scheme, {{hours + 1.0, temperature}}).level == Level::not_met);
    }
    CHECK(degree_hours(scheme, {{*longest, temperature}}).limit == rows::number(row, "limit"));
  }
  CHECK(printed == 8);
}

TEST_CASE("the worked cases come out: count, limit, verdict") {
  for (const rows::Row& row : rows::read("cure_degree_hours_variable.csv")) {
    CAPTURE(row.at("n"));
    const DegreeScheme scheme = scheme_of(row);
    const DegreeHours sum = degree_hours(scheme, course_of(scheme, row.at("steps")));
    CHECK(sum.count == near_rel(rows::number(row, "count"), 1e-6));
    CHECK(sum.limit == rows::number(row, "limit"));
    CHECK((sum.level == Level::not_met) == (row.at("verdict") == "fail"));
  }
}

TEST_CASE("90 F is the second class in the United States and the first in Canada") {
  const Celsius at = celsius(DegreeScheme::us, 90.0);
  CHECK(degree_hours(DegreeScheme::us, {{1.0, at}}).limit == 1000.0);
  CHECK(degree_hours(DegreeScheme::ca, {{1.0, at}}).limit == 665.0);
}

TEST_CASE("the sugar for a pH is that of the buffer model, and misses the measured as the table says") {
  for (const rows::Row& row : rows::read("cure_sugar.csv")) {
    CAPTURE(row.at("id"));
    const Result<SugarNeed> need = sugar_for(rows::number(row, "ph_from"), rows::number(row, "ph_to"), 0.16);
    REQUIRE(need.ok());
    CHECK(need.value().least == near_abs(rows::number(row, "least"), 0.02));
    CHECK(need.value().advised == near_rel(1.3 * need.value().least, 1e-12));
    if (row.at("measured").empty()) continue;
    const double measured = rows::number(row, "measured");
    CHECK(need.value().least == near_abs(measured, 0.65));
    CHECK(measured <= need.value().advised);
  }
  // Trade rule (read in a copy): 1 g of dextrose per kg for a tenth of pH, 10 g/kg from 5.9 to 4.9.
  CHECK(sugar_for(5.9, 4.9, 0.16).value().most == near_abs(10.0, 1e-9));
}

TEST_CASE(
    "the course of pH against measured sausages: in the band, the likely one off by what is written down") {
  for (const rows::Row& row : rows::read("cure_souring_measured.csv")) {
    CAPTURE(row.at("id"));
    PhStart start;
    start.ph0 = 5.75;
    start.sugar_g_per_kg = rows::number(row, "sugar");
    start.lean_share = 1.0;
    start.culture = row.at("culture");
    start.temperature = Celsius(rows::number(row, "temperature"));
    start.diameter = Metres(rows::number(row, "diameter") / 1000.0);
    const PhCourse course = ph_course(start);
    REQUIRE(course.points.size() == 97);
    const double hours = rows::number(row, "hours");
    const bool at_end = hours >= 1000.0;
    const PhPoint& point = at_end ? course.points.back() : course.points[static_cast<std::size_t>(hours)];
    const double low = rows::number(row, "low");
    const double high = rows::number(row, "high");
    CHECK(point.low <= high);
    CHECK(point.high >= low);
    const double likely = at_end ? course.final_ph : point.likely;
    const double miss = likely < low ? likely - low : likely > high ? likely - high : 0.0;
    CHECK(miss == near_abs(rows::number(row, "miss"), 0.02));
    CHECK(course.known == tables::Known::practice);
  }
}
