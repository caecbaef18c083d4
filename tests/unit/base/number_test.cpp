#include "core/base/base.h"
#include "tests/near.h"

#include <limits>
#include <string>

using namespace saltrafter;

namespace {

NumberRule rule(NumberKind kind, std::string_view unit, double low, double high) {
  NumberRule r;
  r.field = "amount";
  r.kind = kind;
  r.unit = unit;
  r.low = low;
  r.high = high;
  return r;
}

const NumberRule kPlain = rule(NumberKind::plain, "", -1e6, 1e6);
const NumberRule kMass = rule(NumberKind::mass, "g", 0.0, 1e6);

double value_of(std::string_view text, const NumberRule& r) {
  const auto read = parse_number(text, r);
  CAPTURE(text);
  REQUIRE(read.ok());
  return read.value().value;
}

Error error_of(std::string_view text, const NumberRule& r) {
  const auto read = parse_number(text, r);
  CAPTURE(text);
  REQUIRE_FALSE(read.ok());
  return read.error();
}

}  // namespace

TEST_SUITE("base/number") {
  TEST_CASE("comma and point are both the decimal sign") {
    CHECK(value_of("0,9", kPlain) == 0.9);
    CHECK(value_of("0.9", kPlain) == 0.9);
    CHECK(value_of(".9", kPlain) == 0.9);
    CHECK(value_of(",9", kPlain) == 0.9);
    CHECK(value_of("12,", kPlain) == 12.0);
    CHECK(value_of("  7  ", kPlain) == 7.0);
    CHECK(value_of("0,0625", kPlain) == 0.0625);
    CHECK(value_of("-0", kPlain) == 0.0);
    CHECK_FALSE(std::signbit(value_of("-0", kPlain)));
  }

  TEST_CASE("only a space groups, whichever space it is") {
    CHECK(value_of("4 200", kMass) == 4200.0);
    CHECK(value_of("1 000,5", kMass) == 1000.5);
    CHECK(value_of("1\u2009000.5", kMass) == 1000.5);
    CHECK(value_of("1\u00A0000", kMass) == 1000.0);
    CHECK(value_of("1\u202F000 g", kMass) == 1000.0);
    CHECK(value_of("12 345 678", rule(NumberKind::plain, "", 0, 1e9)) == 12345678.0);
    for (const char* text :
         {"1.000,5", "1,000,5", "12 34", "1 2345", "1234 567", "1,5 000", "0 500", "1..5"}) {
      const Error error = error_of(text, kMass);
      CHECK(error.code == ErrorCode::not_a_number);
      CHECK(error.found == text);
      CHECK(error.field == "amount");
    }
  }

  TEST_CASE("three digits after the sign are asked about where both readings are possible") {
    const Error error = error_of("1,250", kMass);
    CHECK(error.code == ErrorCode::ambiguous_number);
    CHECK(error.expected == "1250 g|1.25 g");
    CHECK(error.found == "1,250");
    CHECK(error_of("1.500 kg", rule(NumberKind::mass, "g", 0.0, 1e7)).expected == "1500 kg|1.5 kg");
    CHECK(error_of("12.000", kPlain).expected == "12000|12");
    CHECK(error_of("1,250-38", kMass).code == ErrorCode::ambiguous_number);
    CHECK(error_of("2*1,250", kMass).code == ErrorCode::ambiguous_number);
  }

  TEST_CASE("a weight or a dose is asked about even where one reading is out of bounds") {
    CHECK(error_of("1,250", rule(NumberKind::ppm, "mg/kg", 0.0, 625.0)).expected == "1250 mg/kg|1.25 mg/kg");
    CHECK(error_of("1.500 kg", kMass).expected == "1500 kg|1.5 kg");
  }

  TEST_CASE("three digits are not asked about where one reading is impossible") {
    CHECK(value_of("0,250", kMass) == 0.25);
    CHECK(value_of(",250", kMass) == 0.25);
    CHECK(value_of("1 000,250", kMass) == 1000.25);
    CHECK(value_of("1250,250", kMass) == 1250.25);
    CHECK(value_of("1,2500", kMass) == 1.25);
    const NumberRule air = rule(NumberKind::temperature, "°C", -40, 60);
    CHECK(value_of("12,125", air) == 12.125);
    CHECK(value_of("-1,250", air) == -1.25);
    CHECK(value_of("2,500", rule(NumberKind::share, "%", 0.0, 1.0)) == 0.025);
  }

  TEST_CASE("units are converted to what is stored") {
    CHECK(value_of("4,2 kg", kMass) == 4200.0);
    CHECK(value_of("4,2KG", kMass) == 4200.0);
    CHECK(value_of("500 mg", kMass) == 0.5);
    CHECK(value_of("1 oz", kMass) == 28.349523125);
    CHECK(value_of("2 lb", kMass) == near_rel(907.18474, 1e-15));
    CHECK(value_of("9 lb 4 oz", kMass) == near_rel(9 * 453.59237 + 4 * 28.349523125, 1e-14));
    const NumberRule length = rule(NumberKind::length, "mm", 0.001, 10);
    CHECK(value_of("55mm", length) == 0.055);
    CHECK(value_of("55", length) == 0.055);
    CHECK(value_of("5.5 cm", length) == 0.055);
    CHECK(value_of("2 in", length) == near_rel(0.0508, 1e-15));
    const NumberRule air = rule(NumberKind::temperature, "°C", -40, 60);
    CHECK(value_of("−2,5 °C", air) == -2.5);
    CHECK(value_of("-2.5C", air) == -2.5);
    CHECK(value_of("50 °F", air) == near_rel(10.0, 1e-14));
    CHECK(value_of("140 F", air) == 60.0);
    CHECK(value_of("-40F", air) == -40.0);
    const NumberRule share = rule(NumberKind::share, "%", 0, 1);
    CHECK(value_of("2,5", share) == 0.025);
    CHECK(value_of("2,5 %", share) == 0.025);
    CHECK(value_of("25 g/kg", share) == 0.025);
    CHECK(value_of("25 g/kg", rule(NumberKind::share, "g/kg", 0, 1)) == 0.025);
    const NumberRule humidity = rule(NumberKind::humidity, "%", 0, 1);
    CHECK(value_of("76", humidity) == 0.76);
    CHECK(value_of("76 % RH", humidity) == 0.76);
    CHECK(value_of("76%rh", humidity) == 0.76);
    CHECK(value_of("150 ppm", rule(NumberKind::ppm, "mg/kg", 0, 1e4)) == 150.0);
    CHECK(value_of("150 mg/kg", rule(NumberKind::ppm, "mg/kg", 0, 1e4)) == 150.0);
    CHECK(value_of("36 h", rule(NumberKind::days, "d", 0, 400)) == 1.5);
    CHECK(value_of("3 weeks", rule(NumberKind::days, "d", 0, 400)) == 21.0);
    CHECK(value_of("3w", rule(NumberKind::days, "d", 0, 400)) == 21.0);
    CHECK(value_of("0.05 m/s", rule(NumberKind::speed, "m/s", 0, 5)) == 0.05);
  }

  TEST_CASE("arithmetic goes by the usual precedence and says that it was used") {
    const auto tare = parse_number("1250-38", kMass);
    REQUIRE(tare.ok());
    CHECK(tare.value().value == 1212.0);
    CHECK(tare.value().computed);
    CHECK(tare.value().unit == "g");
    CHECK_FALSE(parse_number("-5", kPlain).value().computed);
    CHECK(value_of("1250 − 38", kMass) == 1212.0);
    CHECK(value_of("2+3*4", kPlain) == 14.0);
    CHECK(value_of("2×3÷4", kPlain) == 1.5);
    CHECK(value_of("10-2-3", kPlain) == 5.0);
    CHECK(value_of("8/2/2", kPlain) == 2.0);
    CHECK(value_of("-2+5", kPlain) == 3.0);
    CHECK(value_of("3*1,5 kg", kMass) == 4500.0);
    CHECK(value_of("1 kg / 4", kMass) == 250.0);
    CHECK(parse_number("9 lb 4 oz", kMass).value().unit == "lb");
  }

  TEST_CASE("the unit of the last term that names one holds for those that name none") {
    CHECK(value_of("4 + 0,2 kg", kMass) == near_rel(4200.0, 1e-15));
    CHECK(value_of("4 kg + 0,2", kMass) == near_rel(4200.0, 1e-15));
    CHECK(value_of("1 kg + 200 g", kMass) == 1200.0);
    CHECK(value_of("1 kg + 200 g + 5", kMass) == 1205.0);
    CHECK(value_of("50 °F + 18", rule(NumberKind::temperature, "°C", -40, 60)) == near_rel(20.0, 1e-14));
  }

  TEST_CASE("what is wrong is named") {
    CHECK(error_of("", kMass).code == ErrorCode::missing);
    CHECK(error_of(" \u2009 ", kMass).code == ErrorCode::missing);
    const struct {
      const char* text;
      const char* found;
    } rows[] = {{"1e3", "1e3"},
                {"1e-3 g", "1e-3"},
                {"NaN", "NaN"},
                {"inf", "inf"},
                {"12*", "*"},
                {"12+", "+"},
                {"*3", "*3"},
                {"5--2", "-2"},
                {"(2+3)", "(2+3)"},
                {"1/0", "/ 0"},
                {"4 oz 9 lb", "9"},
                {"4 oz 9", "9"},
                {"2 kg * 3 kg", "3 kg"},
                {"6 kg/2 kg", "2 kg"},
                {",", ","},
                {"-", "-"}};
    for (const auto& row : rows) {
      const Error error = error_of(row.text, kMass);
      CHECK(error.code == ErrorCode::not_a_number);
      CHECK(error.found == row.found);
    }
    const Error parrots = error_of("12 parrots", kMass);
    CHECK(parrots.code == ErrorCode::unknown_unit);
    CHECK(parrots.found == "parrots");
    CHECK(parrots.expected == "g, kg, oz, lb, mg");
    CHECK(error_of("12g", kPlain).code == ErrorCode::unknown_unit);
    CHECK(error_of("12 g", rule(NumberKind::length, "mm", 0, 1)).expected == "mm, cm, m, in");
    CHECK(error_of("20 °C + 5 °F", rule(NumberKind::temperature, "°C", -40, 60)).code ==
          ErrorCode::unknown_unit);
  }

  TEST_CASE("bounds are those of the field, told in the unit typed") {
    const NumberRule meat = rule(NumberKind::mass, "g", 1.0, 200'000.0);
    const Error error = error_of("300 kg", meat);
    CHECK(error.code == ErrorCode::out_of_range);
    CHECK(error.unit == "kg");
    CHECK(error.found == "300");
    CHECK(error.low.value() == near_rel(0.001, 1e-15));
    CHECK(error.high.value() == near_rel(200.0, 1e-15));
    CHECK(error_of("-5", meat).code == ErrorCode::out_of_range);
    CHECK(error_of("0", meat).code == ErrorCode::out_of_range);
    CHECK(value_of("200 kg", meat) == 200'000.0);
    CHECK(error_of(std::string(190, '9'), meat).code == ErrorCode::out_of_range);
    CHECK(error_of(std::string(150, '9') + "*" + std::string(40, '9'), meat).code == ErrorCode::out_of_range);
    CHECK(error_of(std::string(1000, '9'), meat).code == ErrorCode::not_a_number);
    CHECK(error_of(std::string(1000, ' '), meat).code == ErrorCode::not_a_number);
  }

  TEST_CASE("no text makes a number that is not finite") {
    const char alphabet[] = "0129,. -+*/gk%e\xC2\xB0(x";
    std::uint64_t state = 20261125;
    for (int i = 0; i < 20000; ++i) {
      std::string text;
      for (int k = 0; k < 12; ++k) {
        state = state * 6364136223846793005ULL + 1442695040888963407ULL;
        text.push_back(alphabet[(state >> 33U) % (sizeof alphabet - 1)]);
      }
      for (const NumberKind kind : {NumberKind::mass, NumberKind::temperature, NumberKind::humidity}) {
        const auto read = parse_number(text, rule(kind, "", -1e6, 1e6));
        CAPTURE(text);
        if (read.ok()) {
          CHECK(std::isfinite(read.value().value));
        } else {
          CHECK_FALSE(read.error().field.empty());
        }
      }
    }
  }

  TEST_CASE("numbers are shown with fixed decimals, thin spaces and a true minus") {
    CHECK(format_number(4200, 0) == "4\u2009200");
    CHECK(format_number(999, 0) == "999");
    CHECK(format_number(1234567.891, 2) == "1\u2009234\u2009567.89");
    CHECK(format_number(0.9, 1, NumberStyle{','}) == "0,9");
    CHECK(format_number(-2.5, 1) == "\u22122.5");
    CHECK(format_number(-0.04, 1) == "0.0");
    CHECK(format_number(-0.0, 0) == "0");
    CHECK(format_number(0.005, 2) == "0.01");
    CHECK(format_number(0.000001, 6) == "0.000001");
    CHECK(format_number(999.96, 1) == "1\u2009000.0");
    CHECK(format_number(std::numeric_limits<double>::quiet_NaN(), 2) == "\u2013");
    CHECK(format_number(std::numeric_limits<double>::infinity(), 2) == "\u2013");
    CHECK(format_number(1.5, 9) == "1.500000");
    CHECK(format_number(1.5, -3) == "2");
    CHECK(format_number(1e15, 0) == "1\u2009000\u2009000\u2009000\u2009000\u2009000");
  }

  TEST_CASE("halves go up as a person reads them, not as they are stored") {
    CHECK(format_number(0.25, 1) == "0.3");
    CHECK(format_number(2.675, 2) == "2.68");
    CHECK(format_number(1.005, 2) == "1.01");
    CHECK(format_number(-0.5, 0) == "\u22121");
    CHECK(format_number(0.4999999, 0) == "0");
  }

  TEST_CASE("a mass has the digits of a kitchen scale") {
    CHECK(format_grams(4200.4) == "4\u2009200");
    CHECK(format_grams(999.96) == "1\u2009000");
    CHECK(format_grams(999.94) == "999.9");
    CHECK(format_grams(10.0) == "10.0");
    CHECK(format_grams(9.996) == "10.0");
    CHECK(format_grams(9.994) == "9.99");
    CHECK(format_grams(0.65, NumberStyle{','}) == "0,65");
  }

  TEST_CASE("what is shown is read again as the same number") {
    for (const double value : {0.0, 0.5, 12.25, 999.5, 1000.5, 4200.75, 123456.5}) {
      for (const char mark : {'.', ','}) {
        CHECK(value_of(format_number(value, 2, NumberStyle{mark}), kMass) == value);
      }
    }
  }

  TEST_CASE("a most is rounded down and a least up, binary noise apart") {
    CHECK(round_down(156.259, 2) == near_abs(156.25, 1e-12));
    CHECK(round_down(0.3 - 0.1 - 0.1, 1) == near_abs(0.1, 1e-15));
    CHECK(round_up(156.251, 2) == near_abs(156.26, 1e-12));
    CHECK(round_up(0.1 + 0.2, 1) == near_abs(0.3, 1e-15));
    CHECK(round_down(-1.25, 1) == near_abs(-1.3, 1e-15));
    CHECK_FALSE(std::signbit(round_up(-0.01, 1)));
    CHECK(round_down(2.0, 0) == 2.0);
    CHECK(round_up(2.0, 0) == 2.0);
  }
}
