// The Rails: a round of weighing through the pieces of a batch, one after another, or several as one.
#include <algorithm>
#include <utility>

#include "core/desk/scale_form.h"

namespace saltrafter::desk {
namespace {

using Say = words::Id;

struct Round {
  Id id;
  std::shared_ptr<const plan::Batch> batch;
  RoundDraft& draft;
  Date day{};
};

// The weighing of a piece of that day, its own or of a bunch; the newest counts.
const drying::Weighing* weighed(const Round& round, const Id& piece) {
  const drying::Weighing* newest = nullptr;
  for (const drying::Weighing& weighing : round.batch->weighings) {
    const auto& bunch = weighing.bunch;
    const bool its = weighing.piece == piece || std::find(bunch.begin(), bunch.end(), piece) != bunch.end();
    if (its && weighing.date == round.day) newest = &weighing;
  }
  return newest;
}

bool left_out(const Round& round, const Id& piece) {
  const auto found = round.draft.left_out.find(piece);
  return found != round.draft.left_out.end() && found->second == round.day;
}

bool hangs(const Round& round, const plan::Piece& piece) {
  return plan::find_taken_down(*round.batch, piece.id) == nullptr;
}

bool waits(const Round& round, const plan::Piece& piece) {
  return hangs(round, piece) && weighed(round, piece.id) == nullptr && !left_out(round, piece.id);
}

// The first that waits after `after`, round the end; empty: none does.
Id next_after(const Round& round, const Id& after) {
  const std::vector<plan::Piece>& pieces = round.batch->pieces;
  const std::size_t from = place_of(pieces, after).value_or(pieces.size() - 1) + 1;
  for (std::size_t i = 0; i < pieces.size(); ++i) {
    const plan::Piece& piece = pieces[(from + i) % pieces.size()];
    if (piece.id != after && waits(round, piece)) return piece.id;
  }
  return {};
}

// How far the round has come, over the heading; with what was kept last, whose undo brings the piece back in
// hand.
void draw_over(Screen& s, Round& round, int there, int count) {
  Session& session = s.session;
  const auto& all = round.batch->weighings;
  const auto last = std::find_if(all.begin(), all.end(), [&round](const drying::Weighing& weighing) {
    return weighing.id == round.draft.kept;
  });
  const words::Arg done = words::arg("done", words::number(s.l, there, 0));
  if (last == all.end()) {
    const words::Arg name = words::arg("name", round.batch->name);
    return parts::over_heading(s.page, s.say(Say::round_over, {name, done, words::count("n", count)}));
  }
  const std::vector<Id> pieces = last->bunch.empty() ? std::vector<Id>{last->piece} : last->bunch;
  const words::Text said = s.say(Say::round_kept, {done, words::count("n", count),
                                                   words::arg("piece", piece_names(s, *round.batch, pieces)),
                                                   words::arg("mass", grams(s.l, last->mass))});
  std::vector<parts::Act> acts;
  const bool undoes = session.book.can_undo() == "edit_weigh" && &*last == &all.back();
  if (undoes) acts.push_back({key("round") / "undo", s.say(Say::undo), kBare, true, {}});
  if (!parts::text_with_acts(s.page, said, acts)) return;
  session.view.piece = pieces.size() == 1 ? pieces[0] : Id{};
  round.draft.kept = {};
  session.undo();
}

void draw_rows(Screen& s, Round& round, const Id& in_hand) {
  parts::gap(s.page, 24.0);
  parts::second_heading(s.page, s.say(Say::round_pieces));
  parts::list_rule(s.page);
  for (const plan::Piece& piece : round.batch->pieces) {
    parts::Row row;
    row.name = s.say(Say::piece_n, {words::count("n", piece.number)});
    row.selected = piece.id == in_hand;
    const drying::Weighing* now = weighed(round, piece.id);
    if (const plan::TakenDown* down = plan::find_taken_down(*round.batch, piece.id)) {
      row.fact = s.say(Say::round_row_down, {words::arg("date", words::day_month(s.l, down->date))});
      parts::row(s.page, row);
      continue;
    }
    row.key = key("round") / piece.id;
    if (now != nullptr && now->bunch.empty()) {
      row.figure = grams(s.l, now->mass);
    } else if (now != nullptr) {
      row.fact = s.say(Say::round_row_bunch, {words::arg("mass", grams(s.l, now->mass))});
    } else if (left_out(round, piece.id)) {
      row.fact = s.say(Say::round_row_left_out);
    } else {
      row.fact = s.say(Say::round_row_waits);
    }
    if (parts::row(s.page, row)) {
      s.session.view.piece = piece.id;
      round.draft.left_out.erase(piece.id);
      round.draft.as_one = false;
      round.draft.opens = RoundDraft::Opens::for_keys;
      if (s.page.host().pressed_by_touch()) round.draft.opens = RoundDraft::Opens::with_pad;
    }
  }
}

// What holds for the whole round: its day and what lies on the scale beside a piece.
void draw_for_all(Screen& s, Round& round) {
  parts::gap(s.page, 36.0);
  parts::second_heading(s.page, s.say(Say::round_for_all));
  const parts::Key here = key("round") / round.id;
  day_entry(s, here / "day", Say::day, round.draft.day);
  const NumberRule rule{"tare", NumberKind::mass, "g", 0.0, recipe::kMostMeat.value};
  NumberEntry tray{here / "tray", s.say(Say::round_tray), rule, round.draft.tray.value, 1, {"g", "oz", "lb"}};
  tray.what = s.say(Say::round_tray_what);
  if (const auto taken = enter(s, tray)) round.draft.tray = Grams(taken->value_or(0.0));
}

// Which pieces hang together on the scale.
void draw_bunch(Screen& s, Round& round) {
  std::vector<parts::Chip> chips;
  std::vector<Id> of;
  for (const plan::Piece& piece : round.batch->pieces) {
    if (!hangs(round, piece)) continue;
    const auto& bunch = round.draft.bunch;
    const bool in = std::find(bunch.begin(), bunch.end(), piece.id) != bunch.end();
    chips.push_back({key("bunch") / piece.id, words::number(s.l, piece.number, 0), in});
    of.push_back(piece.id);
  }
  if (const auto pressed = parts::chips(s.page, s.say(Say::bunch_which), chips)) {
    const Id piece = of[static_cast<std::size_t>(*pressed)];
    std::vector<Id> bunch;
    for (const Id& id : of) {
      const auto& was = round.draft.bunch;
      const bool in = std::find(was.begin(), was.end(), id) != was.end();
      if (in != (id == piece)) bunch.push_back(id);
    }
    round.draft.bunch = bunch;
    round.draft.together = {};
  }
  parts::reason(s.page, s.say(Say::bunch_what));
}

bool day_refused(const Screen& s, const Id& batch) {
  const parts::FieldState* field = s.page.host().field((key("round") / batch / "day").value());
  return field != nullptr && field->kept;
}

void go_on(Screen& s, Round& round, const Id& from, bool by_touch) {
  s.session.view.piece = next_after(round, from);
  round.draft.opens = by_touch ? RoundDraft::Opens::with_pad : RoundDraft::Opens::for_keys;
}

// Opens the field of the piece that has come into hand, once it stands on the screen.
void open_field(Screen& s, Round& round, const std::vector<Id>& pieces) {
  if (round.draft.opens == RoundDraft::Opens::no) return;
  const bool with_pad = round.draft.opens == RoundDraft::Opens::with_pad;
  if (s.page.host().focus(scale_field(pieces).value(), with_pad)) round.draft.opens = RoundDraft::Opens::no;
  s.page.host().wake();
}

ScaleForm form_of(const Screen& s, const Round& round, std::vector<Id> pieces, bool more) {
  ScaleForm form;
  form.batch_id = round.id;
  form.batch = round.batch;
  form.pieces = std::move(pieces);
  form.day = round.day;
  form.day_refused = day_refused(s, round.id);
  form.tray = round.draft.tray;
  form.keep = more ? Say::keep_and_next : Say::keep_weight;
  return form;
}

void draw_in_hand(Screen& s, Round& round, const plan::Piece& piece, int hanging) {
  Session& session = s.session;
  parts::heading(s.page, s.say(Say::piece_n, {words::count("n", piece.number)}));
  ScaleForm form = form_of(s, round, {piece.id}, !next_after(round, piece.id).empty());
  if (waits(round, piece))
    form.others = {{key("round") / "skip", s.say(Say::skip_piece), parts::ActKind::other, true, {}}};
  const ScaleDone done = draw_scale(s, form, session.drafts.batches[round.id].pieces[piece.id]);
  open_field(s, round, form.pieces);
  if (!done.kept.empty()) {
    round.draft.kept = done.kept;
    go_on(s, round, piece.id, done.by_touch);
  } else if (done.other) {
    round.draft.left_out[piece.id] = round.day;
    go_on(s, round, piece.id, s.page.host().pressed_by_touch());
  }
  const parts::Act as_one{key("round") / "as_one", s.say(Say::bunch_begin), kBare, true, {}};
  if (draw_piece_acts(s, piece, hanging > 1 ? std::optional<parts::Act>(as_one) : std::nullopt))
    round.draft.as_one = true;
}

void draw_together(Screen& s, Round& round) {
  parts::heading(s.page, round.draft.bunch.size() > 1 ? piece_names(s, *round.batch, round.draft.bunch)
                                                      : s.say(Say::bunch_title));
  draw_bunch(s, round);
  const auto leave = [&] {
    if (parts::act(s.page, {key("round") / "as_one", s.say(Say::bunch_leave), kBare, true, {}}))
      round.draft.as_one = false;
  };
  if (round.draft.bunch.size() < 2) return leave();
  const ScaleForm form = form_of(s, round, round.draft.bunch, false);
  const ScaleDone done = draw_scale(s, form, round.draft.together);
  leave();
  if (done.kept.empty()) return;
  round.draft.kept = done.kept;
  round.draft.as_one = false;
  const Id last = std::exchange(round.draft.bunch, {}).back();
  go_on(s, round, last, done.by_touch);
}

}  // namespace

void draw_weigh_round(Screen& s) {
  Session& session = s.session;
  const Id id = session.view.batch;
  RoundDraft& draft = session.drafts.batches[id].round;
  Round round{id, session.book.batch(id), draft, draft.day.value_or(session.today())};
  if (parts::way_back(s.page, {key("round") / "leave", s.say(Say::leave), kBare, true, {}})) {
    draft.opens = RoundDraft::Opens::no;
    session.open_rails(RailsLeaf::batch);
    return;
  }
  int count = 0;
  int there = 0;
  for (const plan::Piece& piece : round.batch->pieces) {
    count += hangs(round, piece) ? 1 : 0;
    there += hangs(round, piece) && weighed(round, piece.id) != nullptr ? 1 : 0;
  }
  draw_over(s, round, there, count);
  const plan::Piece* piece = plan::find_piece(*round.batch, session.view.piece);
  if (piece == nullptr || !hangs(round, *piece))
    piece = plan::find_piece(*round.batch, next_after(round, {}));
  if (draft.as_one) {
    draw_together(s, round);
  } else if (piece != nullptr) {
    draw_in_hand(s, round, *piece, count);
  } else {
    parts::heading(s.page, s.say(there == count ? Say::round_all : Say::round_some_left));
    if (parts::act(s.page, {key("round") / "done", s.say(Say::to_the_batch), parts::ActKind::main, true, {}}))
      session.open_rails(RailsLeaf::batch);
  }
  if (session.notice_is_wrong) draw_notice(s);
  const auto for_all = [&] {
    draw_for_all(s, round);
    if (piece != nullptr && !draft.as_one) tare_entry(s, id, *round.batch, *piece);
  };
  const bool beside = s.page.has_two_columns();
  if (!beside) for_all();
  draw_rows(s, round, piece == nullptr || draft.as_one ? Id{} : piece->id);
  draw_history(s);
  s.page.second_column();
  if (beside) for_all();
}

}  // namespace saltrafter::desk
