// A whole muscle for tests: lean loin of 72.93 % water, salted as said.
#pragma once

#include <string>
#include <vector>

#include "core/safety/safety.h"
#include "tests/unit/recipe/fixture.h"

namespace saltrafter::safety::test {

inline recipe::Recipe muscle(double across_m, double salt_g_per_kg, recipe::Form form = recipe::Form::round,
                             recipe::CureMethod method = recipe::CureMethod::equilibrium) {
  recipe::Recipe r;
  r.product_class = recipe::ProductClass::whole_muscle_dry;
  r.method = method;
  r.form = form;
  r.casing_diameter = Metres(across_m);
  r.lines = {recipe::test::line(recipe::LineKind::meat, "pork_top_loin_lean", 1.0),
             recipe::test::line(recipe::LineKind::salt, "", salt_g_per_kg)};
  return r;
}

inline recipe::Stage stage(const char* id, recipe::StageKind kind, double c, double days,
                           bool sealed = false) {
  recipe::Stage s;
  s.id = Id{id};
  s.kind = kind;
  s.temperature = Celsius(c);
  s.days = Days(days);
  s.sealed = sealed;
  return s;
}

inline recipe::Sheet sheet_of(const recipe::Recipe& r) {
  const Result<recipe::Sheet> sheet = recipe::scale(r, Grams(10000.0));
  REQUIRE(sheet.ok());
  return sheet.value();
}

inline Salting salted(const recipe::Recipe& r, const std::vector<SaltTime>& times) {
  Result<Salting> out = salting(r, sheet_of(r), times);
  REQUIRE(out.ok());
  return std::move(out).value();
}

}  // namespace saltrafter::safety::test
