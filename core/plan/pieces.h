// What a piece has lost, whatever was done to it since it was hung.
//
// Loss is a share of the weight at hanging of what is left, without casing and string. A part taken away
// lessens that weight in its own proportion, other string or a casing taken off changes what hangs with it:
// neither moves the loss. Water that was put on a piece is loss undone, as far as the scale still shows it:
// dry matter is what stays, so the base stands and the loss falls, and comes back as that water dries off.
#pragma once

#include <optional>
#include <vector>

#include "core/plan/batch.h"

namespace saltrafter::plan {

const Piece* find_piece(const Batch& batch, const Id& id);               // nullptr: none
const TakenDown* find_taken_down(const Batch& batch, const Id& piece);   // nullptr: it still hangs

// Casing and string at hanging: as weighed, else what the piece gained between cure and hanging, else 0: they
// then count as meat, as they always did.
Grams tare_of(const Piece& piece);

// What losses are reckoned from: loss = 1 - (mass - tare) / equivalent_hung.
struct Base {
  Grams equivalent_hung;  // weight at hanging of what is left of the piece, without casing and string
  Grams tare;  // hangs with it and is no meat; below 0 where more was taken off than had been counted
};
// With all that was done to the piece up to that day, that day included. At hanging: base_on(...,
// batch.hung_on) where nothing was done on that day. A cut is taken to have the piece's own mean moisture,
// and its diameter to stay.
Base base_on(const Batch& batch, const Piece& piece, Date day);

// One weight of one piece: its own weighing, its share of a bunch, the two weights of what was done to it, or
// its last one at take-down.
struct PieceMass {
  Id source;               // of the weighing, the event or the take-down
  Date date{};
  Grams mass;              // casing and string with it
  Base base;               // that stood when it was weighed
  double loss = 0.0;       // below 0 where it has gained
  bool estimated = false;  // a share of a bunch: by the weights at hanging, as if all had lost alike
  int of = 1;              // how many pieces it was weighed with, itself counted
  bool wet = false;        // just wetted: the scale shows water that stands on it
};
// Oldest first. Of one day: shares of a bunch, which was weighed before anything was done to its pieces, then
// own weights in the order entered. A weighing on the day of an event is of the piece after it where it is at
// least as near to the weight after as to that before. Empty where nothing hung.
std::vector<PieceMass> masses_of(const Batch& batch, const Piece& piece);

// The newest of them on or before `day`.
std::optional<PieceMass> last_mass(const Batch& batch, const Piece& piece, Date day);

// Its loss; nothing where the piece was never weighed after hanging.
std::optional<double> dried_loss(const Batch& batch, const Piece& piece, Date day);

// Its loss on a day that was perhaps no weighing day: on a line between the weights before and after, from none at
// hanging. After its last weight as that says; nothing where no weight stands after the day nor before it. Weights
// that show water standing on it are passed over.
std::optional<double> loss_between(const Batch& batch, const Piece& piece, Date day, Date today);

// The same as dried_loss with 0 for a piece that was never weighed. Negative where it has gained.
double loss_so_far(const Batch& batch, const Piece& piece, Date day);

// Whether the piece has a weight of its own, not a share of a bunch, from `since` to `day`: asked before a
// release.
bool own_weighing_since(const Batch& batch, const Piece& piece, Date since, Date day);

// The newest own weighing of a piece on or before `day`, or nothing. Of two on one day, the later in the
// list.
const drying::Weighing* last_weighing(const Batch& batch, const Id& piece, Date day);

// The loss that the recipe wants, as a share of the weight at hanging, whichever weight it is meant of; 0 or
// less where it was reached by hanging. Error: missing, field "trimmed", where it is meant of a weight that
// the piece does not have.
Result<double> wanted_loss(const Batch& batch, const Piece& piece);
// Of all pieces together, by their weights at hanging. Without pieces, or with none that weighs: as the
// recipe says.
Result<double> wanted_loss(const Batch& batch);

// Refuses what cannot be. Errors: missing "hung_on" of a batch that does not hang; not_found "piece" or
// "bunch/<i>"; refused "piece" beside a bunch; out_of_range "bunch" (pieces, 2 at least), "mass" (g: 0 or
// less, or heavier than one and a half times what it weighed at hanging; pieces hung as equal shares of a mix
// may really be heavier), "tare" (g), "minute", "date" (days since hanging: before it, after `today`, after
// the piece was taken down); duplicate_key "piece" where it was weighed in that same minute, with the id of
// that weighing as `found`.
Result<Done> check_weighing(const Batch& batch, const drying::Weighing& weighing, Date today);

// The same of what is done to a piece, not yet in the batch. Errors: as above with fields "before" and
// "after" (g): a part taken away or a casing taken off makes it lighter, water heavier, and meat must be
// left.
Result<Done> check_event(const Batch& batch, const PieceEvent& event, Date today);

}  // namespace saltrafter::plan
