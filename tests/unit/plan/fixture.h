// Two pieces of 1 kg that hang, for the tests of what happens to them.
#pragma once

#include "core/plan/plan.h"

namespace saltrafter::plan::test {

inline const Date kHung = std::chrono::year(2026) / 11 / 1;

inline Date day(int since_hanging) { return kHung + std::chrono::days(since_hanging); }

inline drying::Weighing weighing(const char* id, const char* piece, int on, double mass_g) {
  drying::Weighing w;
  w.id = Id{id};
  w.piece = Id{piece};
  w.date = day(on);
  w.mass = Grams(mass_g);
  return w;
}

inline PieceEvent event(EventKind kind, int on, double before_g, double after_g, const char* id = "e") {
  return {Id{id}, Id{"one"}, kind, day(on), Grams(before_g), Grams(after_g), ""};
}

// Weighed on days 14 and 7 (one) and 7 (two).
inline Batch batch() {
  Batch b;
  b.hung_on = kHung;
  Piece one;
  one.id = Id{"one"};
  one.hung = Grams(1000.0);
  Piece two = one;
  two.id = Id{"two"};
  two.number = 2;
  b.pieces = {one, two};
  b.weighings = {weighing("a", "one", 14, 800.0), weighing("b", "one", 7, 900.0),
                 weighing("c", "two", 7, 910.0)};
  return b;
}

}  // namespace saltrafter::plan::test
