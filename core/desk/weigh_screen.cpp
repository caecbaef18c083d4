// The Rails: one piece being weighed.
#include "core/desk/scale_form.h"

namespace saltrafter::desk {
namespace {

using Say = words::Id;

// A piece that is off its rail is not weighed any more.
void draw_taken_down(Screen& s, const plan::TakenDown& down) {
  parts::lead(s.page, s.say(Say::piece_is_down, {words::arg("date", words::day_month(s.l, down.date)),
                                                 words::arg("mass", grams(s.l, down.mass))}));
  const std::optional<int> pressed = parts::acts(
      s.page, {{key("weigh") / "down", s.say(Say::look_at_take_down), parts::ActKind::other, true, {}},
               {key("weigh") / "piece", s.say(Say::piece_done_to), parts::ActKind::bare, true, {}}});
  if (pressed == 0) s.session.open_rails(RailsLeaf::take_down, down.piece);
  if (pressed == 1) s.session.open_rails(RailsLeaf::piece, down.piece);
}

}  // namespace

void draw_weigh(Screen& s) {
  Session& session = s.session;
  const auto batch = session.book.batch(session.view.batch);
  const plan::Piece* piece = batch ? plan::find_piece(*batch, session.view.piece) : nullptr;
  if (piece == nullptr) {
    session.view.piece = {};
    return;
  }
  WeighDraft& draft = session.drafts.batches[session.view.batch].pieces[piece->id];
  if (parts::way_back(s.page, {key("weigh") / "leave", s.say(Say::leave), parts::ActKind::bare, true, {}})) {
    session.view.piece = {};
  }
  parts::over_heading(s.page, words::verbatim(batch->name));
  parts::heading(s.page, s.say(Say::piece_n, {words::count("n", piece->number)}));
  if (const plan::TakenDown* down = plan::find_taken_down(*batch, piece->id)) {
    draw_taken_down(s, *down);
    draw_notice(s);
    draw_history(s);
    return;
  }
  const parts::Key day_key = key("weigh") / piece->id / "day";
  const parts::FieldState* day_field = s.page.host().field(day_key.value());
  ScaleForm form;
  form.batch_id = session.view.batch;
  form.batch = batch;
  form.pieces = {piece->id};
  form.day = draft.day.value_or(session.today());
  form.day_refused = day_field != nullptr && day_field->kept;
  const ScaleDone done = draw_scale(s, form, draft);
  if (!done.kept.empty()) {
    session.view.piece = {};
    session.tell_edit(s.say(Say::weight_kept,
                            {words::count("n", piece->number), words::arg("mass", grams(s.l, done.mass))}));
    return;
  }
  // The weight comes first: it is today's nearly always.
  day_entry(s, day_key, Say::day, draft.day);
  draw_piece_acts(s, *piece);
  draw_notice(s);
  draw_history(s);
}

}  // namespace saltrafter::desk
