#include "core/base/base.h"
#include "tests/near.h"

#include <limits>
#include <string>

using namespace saltrafter;

namespace {

const std::string kMonths[] = {"January", "February", "March",     "April",   "May",      "June",
                               "July",    "August",   "September", "October", "November", "December"};
const DateWords kWords{kMonths, "today", "yesterday"};

Date day(const char* iso) {
  const auto date = parse_iso_date(iso);
  REQUIRE(date.ok());
  return date.value();
}

const char* kToday = "2026-11-25";

std::string typed(std::string_view text, const char* on = kToday) {
  const auto date = parse_typed_date(text, day(on), kWords);
  CAPTURE(text);
  REQUIRE(date.ok());
  return iso_date(date.value());
}

Error error_of(std::string_view text) {
  const auto date = parse_typed_date(text, day(kToday), kWords);
  CAPTURE(text);
  REQUIRE_FALSE(date.ok());
  return date.error();
}

}  // namespace

TEST_SUITE("base/date") {
  TEST_CASE("a date is written and read as year, month, day") {
    CHECK(iso_date(day("2026-11-25")) == "2026-11-25");
    CHECK(iso_date(day("2024-02-29")) == "2024-02-29");
    CHECK(iso_date(Date{}) == "1970-01-01");
    for (const char* text : {"", "2026-1-05", "25.11.2026", "2026-11-25 ", "2026/11/25", "abcd-ef-gh"}) {
      CHECK(parse_iso_date(text).error().code == ErrorCode::wrong_type);
    }
    for (const char* text :
         {"2026-02-29", "2026-13-01", "2026-00-10", "2026-04-31", "1989-12-31", "2101-01-01"}) {
      CHECK(parse_iso_date(text).error().code == ErrorCode::out_of_range);
    }
    CHECK(parse_iso_date("2026-02-29").error().high.value() == 28.0);
  }

  TEST_CASE("today is the civil day where the maker is") {
    Ports ports;
    CHECK(today(ports) == Date{});
    ports.now_utc_ms = [] { return std::int64_t{1795563000000}; };  // 2026-11-24T23:30Z
    CHECK(iso_date(today(ports)) == "2026-11-24");
    ports.zone_offset_min = [](std::int64_t) { return 60; };
    CHECK(iso_date(today(ports)) == "2026-11-25");
    ports.now_utc_ms = [] { return std::int64_t{-1}; };
    ports.zone_offset_min = [](std::int64_t) { return 0; };
    CHECK(iso_date(today(ports)) == "1969-12-31");
  }

  TEST_CASE("a day lasts until its midnight, also where the clocks are changed") {
    constexpr std::int64_t kHour = 3'600'000;
    // 2026-10-25T01:00Z: from UTC+2 to UTC+1, a day of 25 hours.
    constexpr std::int64_t kChange = 1'792'890'000'000;
    std::int64_t now = 0;
    Ports ports;
    ports.now_utc_ms = [&now] { return now; };
    ports.zone_offset_min = [](std::int64_t utc_ms) { return utc_ms < kChange ? 120 : 60; };
    now = kChange - 2 * kHour;  // 01:00 on the wall
    CHECK(iso_date(today(ports)) == "2026-10-25");
    CHECK(ms_to_midnight(ports) == 24 * kHour);
    for (now = kChange - 30 * kHour; now < kChange + 50 * kHour; now += 1'234'567) {
      const Date before = today(ports);
      const std::int64_t began = now;
      now = began + ms_to_midnight(ports) - 1;
      CHECK(today(ports) == before);
      now += 1;
      CHECK(days_between(before, today(ports)) == 1);
      now = began;
    }
    now = -1;
    ports.zone_offset_min = nullptr;
    CHECK(ms_to_midnight(ports) == 1);
  }

  TEST_CASE("days are counted over months, years and leap days") {
    CHECK(days_between(day("2026-11-25"), day("2026-12-02")) == 7);
    CHECK(days_between(day("2026-12-02"), day("2026-11-25")) == -7);
    CHECK(days_between(day("2024-02-28"), day("2024-03-01")) == 2);
    CHECK(iso_date(add_days(day("2026-12-30"), Days(3))) == "2027-01-02");
  }

  TEST_CASE("parts of a day go to the nearest day, halves up") {
    CHECK(iso_date(add_days(day("2026-11-25"), Days(2.5))) == "2026-11-28");
    CHECK(iso_date(add_days(day("2026-11-25"), Days(2.49))) == "2026-11-27");
    CHECK(iso_date(add_days(day("2026-11-25"), Days(-0.5))) == "2026-11-25");
    CHECK(iso_date(add_days(day("2026-11-25"), Days(-0.51))) == "2026-11-24");
    CHECK(add_days(day("2026-11-25"), Days(std::numeric_limits<double>::quiet_NaN())) == day("2026-11-25"));
    CHECK(add_days(day("2026-11-25"), Days(1e300)) > day("2100-12-31"));
    CHECK(add_days(day("2026-11-25"), Days(-1e300)) < day("1990-01-01"));
  }

  TEST_CASE("dates are read as people type them") {
    CHECK(typed("2026-11-02") == "2026-11-02");
    CHECK(typed("25.11.2026") == "2026-11-25");
    CHECK(typed(" 5.1.2027 ") == "2027-01-05");
    CHECK(typed("5. 1. 2027") == "2027-01-05");
    CHECK(typed("25 November 2026") == "2026-11-25");
    CHECK(typed("25. nov. 2025") == "2025-11-25");
    CHECK(typed("3 sept 2026") == "2026-09-03");
    CHECK(typed("today") == "2026-11-25");
    CHECK(typed("Yesterday") == "2026-11-24");
    CHECK(typed("-2") == "2026-11-23");
    CHECK(typed("−30") == "2026-10-26");
    CHECK(typed("-0") == "2026-11-25");
  }

  TEST_CASE("without a year it is the latest such day that is not to come") {
    CHECK(typed("25.11.") == "2026-11-25");
    CHECK(typed("26.11.") == "2025-11-26");
    CHECK(typed("26.11") == "2025-11-26");
    CHECK(typed("1 Dec") == "2025-12-01");
    CHECK(typed("3 May") == "2026-05-03");
    CHECK(typed("29.2.") == "2024-02-29");
    CHECK(typed("29 Feb", "2100-06-01") == "2096-02-29");
  }

  TEST_CASE("what is no date is refused with examples, what is no day with its bounds") {
    CHECK(error_of("").code == ErrorCode::missing);
    CHECK(error_of("   ").code == ErrorCode::missing);
    for (const char* text : {"soon", "25", "25 Ju", "25 Ma", "25/11/2026", "11 25 2026", "25.11.2026.", "--2",
                             "-x", "-123456", "25 Nov 20266", "2026-1-5", "25.", "."}) {
      const Error error = error_of(text);
      CAPTURE(text);
      CHECK(error.code == ErrorCode::wrong_type);
      CHECK(error.expected == "2026-11-25|-2|today");
      CHECK(error.found == text);
    }
    for (const char* text :
         {"31.4.2026", "30 Feb", "0.1.2026", "1.13.2026", "1.1.26", "2026-02-30", "-99999"}) {
      CAPTURE(text);
      CHECK(error_of(text).code == ErrorCode::out_of_range);
    }
  }

  TEST_CASE("the words of the language are used, letters beyond ASCII too") {
    std::string months[12];
    for (int i = 0; i < 12; ++i) {
      months[i] = kMonths[i];
    }
    months[2] = "März";
    const DateWords german{months, "heute", "gestern"};
    CHECK(iso_date(parse_typed_date("2. mär", day(kToday), german).value()) == "2026-03-02");
    CHECK(iso_date(parse_typed_date("gestern", day(kToday), german).value()) == "2026-11-24");
    CHECK_FALSE(parse_typed_date("2. mä", day(kToday), german).ok());
  }
}
