// What the pages of one piece share.
#pragma once

#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "core/desk/batch_forms.h"

namespace saltrafter::desk {

inline constexpr parts::ActKind kBare = parts::ActKind::bare;

// The open piece of the open batch; heads the page with the way back and a heading that takes {n}. Nothing:
// it is gone, and so is the page.
struct OpenPiece {
  OpenBatch open;
  const plan::Piece* piece = nullptr;  // of open.batch
};
std::optional<OpenPiece> open_piece(Screen& screen, words::Id heading);

// "Piece 3", or "Pieces 2, 3 and 5".
words::Text piece_names(const Screen& screen, const plan::Batch& batch, const std::vector<Id>& pieces);

// What cannot be of a piece, in words: what is wrong, and what would be right.
// `day`: the one that was typed.
words::Text piece_fault(const Screen& screen, const plan::Batch& batch, const Id& piece, Date day,
                        const Error& error);

// A day on which something was done to a piece, its draft. False: what stands there is refused.
bool day_entry(Screen& screen, parts::Key key, words::Id label, std::optional<Date>& day);

// A weight in grams as it is typed, its draft.
struct MassEntry {
  parts::Key key;
  words::Id label;
  Grams least{0.1};
  Grams most;
  bool large = false;
  words::Text pad_act = {};
  words::Text what = {};  // beneath while nothing stands there
  std::string last = {};  // on the pad
  std::function<words::Text(Grams)> answer = {};
};
struct MassTyped {
  std::optional<Grams> mass;  // nothing: none that can be taken
  bool editing = false;
  bool refused = false;  // what stands there cannot be
  bool acted = false;    // as parts::Typed
  bool by_pad = false;
};
MassTyped mass_entry(Screen& screen, const MassEntry& entry, std::string& draft);

// Water measured in a piece, share of its weight, its draft; may stay empty. `odd`: why it is asked about.
struct MoistureTyped {
  std::optional<double> share;
  words::Text odd;
  bool refused = false;  // what stands there cannot be
};
MoistureTyped moisture_entry(Screen& screen, const OpenPiece& open, parts::Key key, std::optional<double> loss,
                             std::string& draft);

// The instant of a reading of a day: now, or noon of an earlier one, since the hour is not asked for.
std::int64_t instant_on(const Screen& screen, Date day);

// The newest forecast there is; nullptr: none yet.
const drying::Forecast* forecast_of(Screen& screen, const Id& id,
                                    const std::shared_ptr<const plan::Batch>& batch);

// The loss at which a batch has all that is wanted: as its forecast has it, else as its recipe says.
double finished_loss(Screen& screen, const Id& id, const std::shared_ptr<const plan::Batch>& batch);

// Casing and string of a piece as it was hung, changed at once; an act gives all pieces the same.
void tare_entry(Screen& screen, const Id& id, const plan::Batch& batch, const plan::Piece& piece);

// What a piece that came down taught: foreseen beside measured.
void draw_lesson(Screen& screen, const plan::Taught& lesson);

// Leads to what else can be done with a piece that hangs; with one more act. True: that one was pressed.
bool draw_piece_acts(Screen& screen, const plan::Piece& piece, const std::optional<parts::Act>& more = {});

}  // namespace saltrafter::desk
