// plan: what is in work. A batch made from a recipe as it was, its pieces, its air and its weighings.
//
// Functions answer what is true of a batch on a day; the forecast itself is drying's.
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <vector>

#include "core/plan/air_log.h"    // the chamber's air as it was read
#include "core/plan/at_scale.h"   // whether a weight looks wrong while the piece is on the scale
#include "core/plan/batch.h"      // what is recorded of a batch
#include "core/plan/chamber.h"    // what was changed and read in a chamber
#include "core/plan/pieces.h"     // what its pieces have lost, whatever was done to them
#include "core/plan/reached.h"    // what it has by measurement, and what by estimate alone
#include "core/plan/release.h"    // what is asked before a release
#include "core/plan/split.h"      // a mix that becomes several batches
#include "core/plan/take_down.h"  // a piece comes off its rail, and what it teaches
#include "core/plan/yield.h"      // what comes of a batch, its price, what it is made of

namespace saltrafter::plan {

// How many pieces of about one length fill the mix, and their weights: equal shares of `mix`, at least one.
// Length 0.40 m, density 1050 kg/m3 (choice; common practice for the density 1030-1070). At most 1000 pieces;
// one where the diameter (m) is 0 or no number.
int piece_count(Grams mix, Metres diameter);
std::vector<Piece> split_into_pieces(const Ports& ports, Grams mix, Metres diameter);

// One piece more of a batch that does not hang yet, in the diameter of its recipe: whole muscle is weighed trimmed and
// after the cure before it hangs. Its id.
Id add_piece(Batch& batch, const Ports& ports);

// The sheet of a batch on the weights really put in, where there are any: those of the batch stand in place
// of what `hands` says was weighed. Its composition is that at hanging: where every piece was weighed when
// trimmed, what cure and rinse took or gave beside the salts is counted as water; casing and string never
// are. Errors: as recipe::scale.
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

// The stage that a piece begins when it is hung in air of this temperature: the first of drying, a cold one
// only where the air is no warmer than 5 °C and not over 2 K warmer than it. Nothing where none is planned.
std::optional<std::size_t> hanging_stage(const recipe::Recipe& recipe, Celsius air);

// Hangs a batch: its mix split into pieces for the casing, weighed to the gram, and the stage in this air
// begun. Pieces that it has already are kept; one without a weight at hanging takes that after its cure, else
// its part of the mix, and one that has the recipe's diameter takes the casing's.
struct Hanging {
  Date day{};
  Metres casing;
  Air air;
};
void hang(Batch& batch, const Ports& ports, Grams mix, const Hanging& hanging);

// What is recorded of a batch, with the loss of its thickest piece on a day, of equally thick ones the least; with what
// the chamber's log says of the air it hung in, a bag aside, until all its pieces were down; taken down once they are.
safety::Evidence evidence_on(const Batch& batch, Date day, const AirLog& log = {});

// Water activities measured on batches of a product class, each on what its piece was made of by its loss on
// that day: what the estimate of the next recipe learns from. Left out: rim samples, meters that failed,
// batches that never hung or have no sheet, pieces not weighed by then.
std::vector<recipe::MeasuredActivity> measured_activities(const std::vector<std::shared_ptr<const Batch>>& batches,
                                                          recipe::ProductClass product_class,
                                                          const recipe::Hands& hands, const Ports& ports);

// The air of a batch from its hanging on, in stages.
struct ProgrammeStage {
  Id stage;               // of the recipe; empty: none of its stages
  drying::Stage air;
  bool recorded = false;  // it has been so; else it is planned
  bool measured = false;  // of what has been so: by the chamber's log
};
// Recorded: the stages begun. By the chamber's log they have the air that was read, a bag aside, in spans that it was
// steady for; in its holes, and without one, the stage it was hung in has the air it was hung in, the others have
// theirs, at the mean of the temperatures that the batch's own readings tell of meanwhile. Planned: the rest of the
// stage it is in, then the recipe's stages after it up to the store, the last of them going on. A stage that says no
// humidity has that of the hanging, one that says no surface that of the stage before it in the recipe. Days as
// planned, also where a stage ends by its loss. Of a batch that hangs.
std::vector<ProgrammeStage> programme(const Batch& batch, Date today, const AirLog& log = {});
// The pieces of a batch that hang in the chamber's air: none of one that does not hang, lies in a bag or is discarded.
std::vector<Id> pieces_in_air(const Batch& batch);
bool ahead_and_open(const ProgrammeStage& stage);  // it is to come, and in no bag

// Another air for what is to come: of the stage it is in, or of the one that follows a bag. Empty: as planned.
struct WhatIf {
  std::optional<Celsius> temperature;
  std::optional<RelativeHumidity> humidity;
  std::optional<MetresPerSecond> speed;

  friend bool operator==(const WhatIf&, const WhatIf&) = default;
};
// The air that it speaks of, as planned.
drying::Stage air_ahead(const Batch& batch, Date today);

// How long, and if it is flat how wide, a muscle of this form and diameter is at least to the forecast.
Metres least_side(const recipe::Recipe& recipe);

// What the forecast of a batch is made from, on the day asked about: the composition of its mix as weighed
// in, its pieces and weighings, its form and sides, its programme, what is wanted, what was measured and felt of it. All
// weights of a piece are brought to its base of that day (base_on), without casing and string, so that `hung`
// is its equivalent weight at hanging; of two on one day the later counts, and none that shows water standing
// on it. Errors: missing "hung_on" of a batch that does not hang, "pieces/<i>/trimmed"; those of
// recipe::scale.
Result<drying::ForecastInput> forecast_input(const Batch& batch, Date today, const recipe::Hands& hands = {},
                                             const WhatIf& what_if = {}, const AirLog& log = {});

// What a batch teaches the next one once all its pieces are down; nothing before. `forecast`: of the batch, made with a
// new chamber's prior. Odd: a fault was found or a piece wetted; extrapolated: no piece came to 0.7 of what was wanted.
std::optional<drying::FinishedBatch> finished_batch(const Batch& batch, const drying::Forecast& forecast);
// Marks what was changed in the chamber after `then`, up to and with `now`. What is no change of the four kinds counts
// as of cooler and layout.
void mark_changes(drying::FinishedBatch& finished, const Chamber& chamber, Date then, Date now);

}  // namespace saltrafter::plan
