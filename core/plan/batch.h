// What is recorded of a batch in work: its recipe as it was, its pieces, and what was weighed and done.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "core/base/base.h"
#include "core/drying/drying.h"
#include "core/recipe/recipe.h"
#include "core/safety/safety.h"

namespace saltrafter::plan {

// The air a chamber is meant to keep while a batch hangs.
struct Air {
  Celsius temperature{13.0};
  RelativeHumidity humidity{0.76};
  MetresPerSecond speed{0.05};

  friend bool operator==(const Air&, const Air&) = default;
};

// Whole muscle keeps four weights: `trimmed`, `after_cure`, `hung`, and what was weighed last (pieces.h).
struct Piece {
  Id id;
  int number = 1;
  Grams hung;                             // at hanging, as weighed: casing and string with it
  Metres diameter{0.055};                 // at hanging
  std::optional<Grams> tare = {};         // casing and string, of `hung`; nothing: not weighed (see tare_of)
  std::optional<Grams> trimmed = {};      // the raw muscle, ready for the cure
  std::optional<Grams> after_cure = {};   // rinsed and dried off, before casing and string

  friend bool operator==(const Piece&, const Piece&) = default;
};

// What is done to a piece that hangs.
enum class EventKind {
  cut,       // a part of it is taken away
  sampled,   // some of it goes to a meter or a laboratory
  trimmed,   // a bad or hard part is taken off
  retied,    // other string, net or hook
  stripped,  // the casing is taken off
  wetted,    // washed, wiped or sprayed
};

struct PieceEvent {
  Id id;
  Id piece;
  EventKind kind = EventKind::cut;
  Date date{};
  Grams before;  // both as weighed, with what casing and string it had
  Grams after;
  std::string note;

  friend bool operator==(const PieceEvent&, const PieceEvent&) = default;
};

// What is found when a piece is taken down and cut open.
enum class Fault {
  case_hardened,
  hollow,
  smear,           // of fat, over lean or under the casing
  mould_unwanted,  // of another colour than the wanted one, or inside
  sour,            // more than meant
  soft_core,
  uneven,
  rancid,
  other,           // by TakenDown::other
};

// What the forecast said of a piece just before it was taken down, kept as it was.
struct Foreseen {
  double loss_low = 0.0, loss_likely = 0.0, loss_high = 0.0;  // that day, of the weight at hanging; 8 in 10
  std::optional<Days> day;             // since hanging, on which the wanted loss was likely
  std::optional<WaterActivity> core;   // estimates of that day
  std::optional<WaterActivity> mean;
  int weighings = 0;                   // that it had learnt from

  friend bool operator==(const Foreseen&, const Foreseen&) = default;
};

// A piece that has come off its rail, which closes it.
struct TakenDown {
  Id id;
  Id piece;
  Date date{};
  Grams mass;                    // as weighed, with the casing and string it hung with to the end
  std::optional<Grams> usable;   // of it, for slicing: without casing, string, ends and what was trimmed off
  std::vector<Id> readings;      // its water activity and pH, in the evidence of the batch
  std::vector<Fault> faults;     // each once
  std::string other;             // words of Fault::other
  std::string note;
  std::optional<Foreseen> foreseen;

  friend bool operator==(const TakenDown&, const TakenDown&) = default;
};

// What a batch costs beside the lines of its recipe; in the maker's money.
struct Costs {
  Grams trim;                        // bought with the meat and trimmed off before the cure
  double energy_kwh = 0.0;           // of the chamber for this batch, as the maker reckons it
  double price_per_kwh = 0.0;
  // Of the finished weight, lost as ends, casing and rind, where no piece says it; 0..1.
  std::optional<double> ends_share;

  friend bool operator==(const Costs&, const Costs&) = default;
};

// A step of the method as it was done.
struct StepDone {
  Id step;
  std::int64_t at_utc_ms = 0;
  std::optional<double> value;  // what was asked: °C, pH, g, min
  std::string words;

  friend bool operator==(const StepDone&, const StepDone&) = default;
};

// What the wanted loss of a recipe is a share of.
enum class LossBase {
  hung,     // the weight at hanging without casing and string
  trimmed,  // the trimmed weight of whole muscle
};

struct Batch {
  std::string name;
  Id recipe;                     // where it came from; the recipe itself may change later
  recipe::Recipe made_from;      // the recipe as it was
  Grams meat;
  Date begun_on{};               // weighed out, or hung where it was not weighed out here
  bool hung = true;              // false: being weighed out, cured or fermented; `hung_on` says nothing yet
  Date hung_on{};
  Air air;
  std::vector<recipe::WeighedIn> weighed;  // what was put in; empty: as the sheet asks
  std::vector<StepDone> steps_done;
  safety::Evidence evidence;
  std::vector<Piece> pieces;
  std::vector<drying::Weighing> weighings;
  std::vector<PieceEvent> events;
  std::vector<TakenDown> taken_down;     // one a piece
  LossBase loss_base = LossBase::hung;   // of made_from.wanted_loss
  std::vector<drying::Wish> wishes;      // what is wanted of the pieces, all at once, one a kind in their order; empty: made_from.wanted_loss
  Costs costs;
  Id from;                               // the batch whose mix it is a part of; empty: a mix of its own

  friend bool operator==(const Batch&, const Batch&) = default;
};

}  // namespace saltrafter::plan
