// What is recorded of a batch and its meat: lots, readings, and what the maker has said of findings.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "core/base/base.h"
#include "core/tables/tables.h"

namespace saltrafter::safety {

// So long the air is taken to have been as it was read; beyond that nobody knows (choice).
inline constexpr Days kLongestUnread{3.0};

enum class InstrumentState { not_said, checked, overdue, failed };

enum class ReadingKind {
  ph_meter,
  ph_strip,        // recorded, ends nothing
  chamber_air,     // °C
  core,            // °C, in the meat
  water_activity,  // `site` says where the sample was taken
  // What only a forecast learns from (drying/offsets.h): no rule counts these.
  moisture,        // g water per g of a sample of the whole cross-section, 0..1
  firmness,        // by hand: place in drying::kFeels
  cut_look,        // the same of a piece that was cut open
};

enum class Site { not_said, core, surface, mixed };

struct Reading {
  Id id;
  ReadingKind kind = ReadingKind::ph_meter;
  std::int64_t at_utc_ms = 0;
  double value = 0.0;        // in what its kind says: pH, °C, water activity, g/g, a place
  double uncertainty = 0.0;  // ±, 0: the kind's usual (pH 0.05, strip 0.3, °C 0.5, aw 0.01; choice)
  Id piece;                  // empty: the batch
  Site site = Site::not_said;
  InstrumentState instrument = InstrumentState::not_said;
  std::string note;

  friend bool operator==(const Reading&, const Reading&) = default;
};

struct Frozen {
  Celsius temperature;
  Days days;
  Metres thickness;          // of the piece or layer
  bool core_measured = false;  // `temperature` was measured in the middle, and the days count from then

  friend bool operator==(const Frozen&, const Frozen&) = default;
};

// One lot of raw meat as bought or slaughtered.
struct MeatLot {
  Id id;
  Id line;           // of the recipe; empty: all of its species
  std::string name;  // the maker's words
  tables::Species species = tables::Species::pork;
  bool wild = false;                 // shot, or kept out of doors
  bool certified_free = false;       // tested or certified free of Trichinella
  std::optional<Frozen> frozen;
  std::optional<double> ph;          // by meter, of the raw meat
  double ph_uncertainty = 0.05;
  bool liver = false;

  friend bool operator==(const MeatLot&, const MeatLot&) = default;
};

// A stop that the maker goes on past, with a reason. It does not travel with a shared recipe.
struct Acknowledged {
  Id id;
  std::string finding;  // name_of
  Date on{};
  std::string reason;   // not empty

  friend bool operator==(const Acknowledged&, const Acknowledged&) = default;
};

enum class Standing { in_work, held, released, discarded };

// One act of the maker: hold, take up again, release, discard.
struct StandingAct {
  Id id;
  Id piece;  // empty: the whole batch
  Standing to = Standing::held;
  Date on{};
  std::string reason;    // not empty
  std::string evidence;  // what was seen or measured; not empty for a release

  friend bool operator==(const StandingAct&, const StandingAct&) = default;
};

// A limit of the maker's own; it may tighten a rule and loosens none.
struct OwnLimit {
  Id id;
  tables::Agent agent = tables::Agent::nitrite;
  tables::LimitSense sense = tables::LimitSense::most;
  double value = 0.0;  // in the agent's unit, as sodium salt

  friend bool operator==(const OwnLimit&, const OwnLimit&) = default;
};

// A stage that has begun, with the days it began and ended.
struct StageDone {
  Id stage;  // of the recipe's plan
  std::int64_t began_utc_ms = 0;
  std::optional<std::int64_t> ended_utc_ms;

  friend bool operator==(const StageDone&, const StageDone&) = default;
};

// All of it, for one batch. Empty for a recipe that nobody has made yet.
struct Evidence {
  std::vector<MeatLot> lots;
  std::vector<Reading> readings;
  std::vector<StageDone> stages;
  std::vector<Acknowledged> acknowledged;
  std::vector<StandingAct> acts;
  bool taken_down = false;
  // Composition of the thickest piece now by weight loss; share of the weight at hanging.
  double loss_now = 0.0;
  std::optional<Celsius> hangs_in;  // the air it hangs in; nothing where it does not hang

  friend bool operator==(const Evidence&, const Evidence&) = default;
};

}  // namespace saltrafter::safety
