// plan: what is in work. A batch made from a recipe as it was, its pieces, its air and its weighings.
//
// Functions answer what is true of a batch on a day; the forecast itself is drying's.
#pragma once

#include <cstdint>
#include <memory>
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

struct Piece {
  Id id;
  int number = 1;
  Grams hung;                // weight at hanging, casing and string as weighed every time
  Metres diameter{0.055};    // at hanging

  friend bool operator==(const Piece&, const Piece&) = default;
};

// A step of the method as it was done.
struct StepDone {
  Id step;
  std::int64_t at_utc_ms = 0;
  std::optional<double> value;  // what was asked: °C, pH, g, min
  std::string words;

  friend bool operator==(const StepDone&, const StepDone&) = default;
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

  friend bool operator==(const Batch&, const Batch&) = default;
};

// How many pieces of about one length fill the mix, and their weights: equal shares of `mix`, at least one.
// Length 0.40 m, density 1050 kg/m3 (choice; common practice for the density 1030-1070). At most 1000 pieces;
// one where the diameter (m) is 0 or no number.
int piece_count(Grams mix, Metres diameter);
std::vector<Piece> split_into_pieces(const Ports& ports, Grams mix, Metres diameter);

// The sheet of a batch on the weights really put in, where there are any: those of the batch stand in place
// of what `hands` says was weighed. Errors: as recipe::scale.
Result<recipe::Sheet> sheet_of(const Batch& batch, const recipe::Hands& hands = {},
                               recipe::Working* working = nullptr);

// How far a batch has come through the stages of its recipe: places in made_from.stages.
struct StagesNow {
  std::optional<std::size_t> on;    // begun and not over
  std::optional<std::size_t> next;  // the first after the last that was begun
};
StagesNow stages_now(const Batch& batch);
const safety::StageDone* stage_done(const Batch& batch, const Id& stage);  // nullptr: not begun
// Ends what is on and begins a stage at an instant; nothing where it was begun before.
void begin_stage(Batch& batch, const Id& stage, std::int64_t at_utc_ms);

// The stage that a piece begins when it is hung in air of this temperature: the first of drying, a cold one only where the
// air is no warmer than 5 °C and not over 2 K warmer than it. Nothing where none is planned.
std::optional<std::size_t> hanging_stage(const recipe::Recipe& recipe, Celsius air);

// Hangs a batch: its mix split into pieces for the casing, weighed to the gram, and the stage in this air begun.
struct Hanging {
  Date day{};
  Metres casing;
  Air air;
};
void hang(Batch& batch, const Ports& ports, Grams mix, const Hanging& hanging);

// What is recorded of a batch, with the loss of its thickest piece on a day; of equally thick ones the least.
safety::Evidence evidence_on(const Batch& batch, Date day);

// Water activities measured on batches of a product class, each on what its piece was made of by its loss on that day:
// what the estimate of the next recipe learns from. Left out: rim samples, meters that failed, batches that never hung
// or have no sheet, pieces not weighed by then.
std::vector<recipe::MeasuredActivity> measured_activities(const std::vector<std::shared_ptr<const Batch>>& batches,
                                                          recipe::ProductClass product_class,
                                                          const recipe::Hands& hands, const Ports& ports);

// The newest weighing of a piece on or before `day`, or nothing. Of two on one day, the later in the list.
const drying::Weighing* last_weighing(const Batch& batch, const Id& piece, Date day);

// Loss of a piece now, share of its weight at hanging, from its newest weighing on or before `day`; 0 if none.
// Negative where it has gained.
double loss_so_far(const Batch& batch, const Piece& piece, Date day);

// Refuses what cannot be: a mass <= 0 or > 1.5 times the hanging weight, a day before hanging or after `today`.
// Errors: missing "hung_on" of a batch that does not hang; out_of_range with field "mass" (g) or "date" (days
// since hanging), not_found with field "piece".
Result<Done> check_weighing(const Batch& batch, const drying::Weighing& weighing, Date today);

// What the forecast of a batch is made from, on the day asked about: the composition of its mix as weighed in,
// its pieces and weighings, its form, its own air as one stage, whatever stages the recipe plans. Of two
// weighings of a piece on one day the one entered later counts.
// Errors: missing "hung_on" of a batch that does not hang; those of recipe::scale.
Result<drying::ForecastInput> forecast_input(const Batch& batch, Date today, const recipe::Hands& hands = {});

}  // namespace saltrafter::plan
