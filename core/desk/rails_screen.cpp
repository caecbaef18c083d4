// The Rails: what is in work, one batch with its forecast, and one piece being weighed.
#include <algorithm>
#include <array>
#include <cmath>

#include "core/desk/piece_forms.h"

namespace saltrafter::desk {
namespace {

using Say = words::Id;

words::Text loss_words(const Screen& s, double loss) { return per_cent(s.l, loss, 1); }

words::Text batch_fact(const Screen& s, const plan::Batch& batch) {
  if (!batch.hung)
    return s.say(Say::batch_begun_fact, {words::arg("date", words::day_month(s.l, batch.begun_on))});
  const Date today = s.session.today();
  double lost = 0.0;
  for (const plan::Piece& piece : batch.pieces) lost = std::max(lost, plan::loss_so_far(batch, piece, today));
  const words::Arg day = words::count("day", days_between(batch.hung_on, today));
  const words::Arg pieces = words::count("n", static_cast<int>(batch.pieces.size()));
  return batch.weighings.empty()
             ? s.say(Say::batch_fact_new, {day, pieces})
             : s.say(Say::batch_fact, {day, pieces, words::arg("loss", loss_words(s, lost))});
}

// Where it stands, the stage it is in and the one to come; the way to its other pages.
void draw_work(Screen& s, const Id& id, const plan::Batch& batch) {
  Session& session = s.session;
  const std::shared_ptr<const BatchJudged> judged = session.judged(id);
  const safety::Stands& stands = judged->stands;
  if (const words::Text sentence = standing_sentence(s, stands); !sentence.empty())
    parts::lead(s.page, sentence);
  const plan::StagesNow now = plan::stages_now(batch);
  const std::vector<recipe::Stage>& stages = batch.made_from.stages;
  const auto stage_words = [&](Say say, std::size_t i) {
    return s.say(
        say, {words::arg("stage", stage_name(s, stages[i])), words::arg("fact", stage_fact(s, stages[i]))});
  };
  if (now.on) parts::paragraph(s.page, stage_words(Say::batch_in_stage, *now.on));
  if (now.next && (!batch.hung || now.on))
    parts::paragraph(s.page, stage_words(Say::batch_next_stage, *now.next));
  if (!batch.hung) {
    const bool hangs_next = !now.next || stages[*now.next].kind == recipe::StageKind::dry ||
                            stages[*now.next].kind == recipe::StageKind::cold_dry;
    const std::optional<int> pressed =
        parts::acts(s.page, {{key("batch") / "next", s.say(Say::batch_to_stage),
                              hangs_next ? parts::ActKind::other : parts::ActKind::main, now.next.has_value(),
                              s.say(Say::batch_next_hang)},
                             {key("batch") / "hang",
                              s.say(Say::hang_it),
                              hangs_next ? parts::ActKind::main : parts::ActKind::other,
                              true,
                              {}}});
    if (pressed == 0) session.open_rails(RailsLeaf::stages);
    if (pressed == 1) {
      session.notice.reset();
      session.open_rails(RailsLeaf::hang);
    }
  }
  if (batch.hung &&
      parts::act(s.page, {key("batch") / "weigh", s.say(Say::batch_weigh), parts::ActKind::main, true, {}})) {
    session.notice.reset();
    session.open_rails(RailsLeaf::weigh);
  }
  struct Way {
    RailsLeaf leaf;
    std::string_view name;
    Say says;
  };
  std::vector<Way> ways = {{RailsLeaf::stages, "stages", Say::batch_stages},
                           {RailsLeaf::souring, "souring", Say::batch_souring},
                           {RailsLeaf::lots, "lots", Say::batch_lots},
                           {RailsLeaf::steps, "steps", Say::batch_steps},
                           {RailsLeaf::wanted, "wanted", Say::batch_wanted},
                           {RailsLeaf::standing, "standing", Say::batch_standing}};
  if (batch.hung) ways.push_back({RailsLeaf::yield, "yield", Say::batch_yield});
  // What is in pieces is no mix that could be split.
  if (!batch.hung && batch.pieces.empty()) ways.push_back({RailsLeaf::split, "split", Say::batch_split});
  std::vector<parts::Act> acts;
  for (const Way& way : ways) {
    acts.push_back({key("batch") / way.name, s.say(way.says), parts::ActKind::bare, true, {}});
  }
  const bool weighed_out = !batch.weighed.empty() || !batch.hung;
  acts.push_back({key("batch") / "weigh_out", s.say(Say::batch_weigh_out), parts::ActKind::bare, weighed_out, {}});
  const std::optional<int> pressed = parts::acts(s.page, acts);
  if (!pressed) return;
  const auto way = static_cast<std::size_t>(*pressed);
  if (way < ways.size()) {
    session.open_rails(ways[way].leaf);
  } else {
    session.go_to_weigh_out(id);
  }
}

// The pieces of whole muscle before they hang, each with the weights of its cure.
void draw_pieces_before(Screen& s, const Id& id, const plan::Batch& batch) {
  if (batch.made_from.product_class != recipe::ProductClass::whole_muscle_dry) return;
  Session& session = s.session;
  parts::gap(s.page, 36.0);
  parts::second_heading(s.page, s.say(Say::pieces));
  parts::paragraph(s.page, s.say(Say::pieces_before_what));
  if (!batch.pieces.empty()) parts::list_rule(s.page);
  for (const plan::Piece& piece : batch.pieces) {
    parts::Row row;
    row.key = key("batch") / piece.id;
    row.name = s.say(Say::piece_n, {words::count("n", piece.number)});
    row.fact = s.say(Say::piece_before_none);
    if (piece.trimmed) {
      const words::Arg trimmed = words::arg("trimmed", grams(s.l, *piece.trimmed));
      row.fact = piece.after_cure ? s.say(Say::piece_before_cured, {trimmed, words::arg("cured", grams(s.l, *piece.after_cure))})
                                  : s.say(Say::piece_before_trimmed, {trimmed});
    }
    if (parts::row(s.page, row)) session.open_rails(RailsLeaf::piece, piece.id);
  }
  parts::gap(s.page, 16.0);
  if (!parts::act(s.page, {key("batch") / "add_piece", s.say(Say::piece_add), parts::ActKind::other, true, {}})) return;
  plan::Batch after = batch;
  const Id added = plan::add_piece(after, session.book.ports());
  const int number = after.pieces.back().number;
  if (!session.change_batch(id, after, "edit_piece_added")) return;
  session.open_rails(RailsLeaf::piece, added);
  session.tell_edit(s.say(Say::piece_added, {words::count("n", number)}));
}

}  // namespace

void draw_batches(Screen& s) {
  Session& session = s.session;
  const std::vector<Id> ids = session.book.ids(book::Kind::batch);
  parts::heading(s.page, s.say(Say::in_work));
  draw_notice(s);
  if (ids.empty()) {
    if (parts::empty_state(
            s.page, s.say(Say::nothing_hangs), s.say(Say::nothing_hangs_what),
            parts::Act{key("rails") / "bench", s.say(Say::go_to_bench), parts::ActKind::other, true, {}})) {
      session.go_to(Place::bench);
    }
  } else {
    parts::lead(s.page, s.say(Say::in_work_lead, {words::count("n", static_cast<int>(ids.size()))}));
    for (const Id& id : ids) {
      const auto batch = session.book.batch(id);
      if (!batch) continue;
      parts::Row row;
      row.key = key("rails") / id;
      row.name = words::verbatim(batch->name);
      row.fact = batch_fact(s, *batch);
      row.fact = with_standing(s, id, row.fact);
      if (parts::row(s.page, row)) session.view.batch = id;
    }
  }
  draw_history(s);
}

void draw_batch(Screen& s) {
  Session& session = s.session;
  const Id id = session.view.batch;
  const auto batch = session.book.batch(id);
  if (!batch) {
    session.view.batch = {};
    return;
  }
  const int day = days_between(batch->hung_on, session.today());
  if (parts::way_back(s.page, {key("batch") / "back", s.say(Say::all_batches),
                               parts::ActKind::bare, true, {}})) {
    session.view.batch = {};
  }
  if (batch->hung) {
    parts::over_heading(
        s.page, s.say(Say::batch_label,
                      {words::count("day", day), words::arg("date", words::day_month(s.l, batch->hung_on))}));
    parts::heading(s.page,
                   s.say(Say::batch_title, {words::arg("name", batch->name),
                                            words::count("n", static_cast<int>(batch->pieces.size()))}));
  } else {
    parts::over_heading(
        s.page, s.say(Say::batch_begun, {words::arg("date", words::day_month(s.l, batch->begun_on))}));
    parts::heading(s.page, words::verbatim(batch->name));
  }
  draw_notice(s);
  draw_work(s, id, *batch);
  if (batch->hung) {
    draw_drying(s, id, batch);
  } else {
    draw_pieces_before(s, id, *batch);
  }
  draw_history(s);

  s.page.second_column();
  const std::shared_ptr<const BatchJudged> judged = session.judged(id);
  if (judged->error) {
    parts::trouble(s.page, s.say(Say::sheet_problem), words::sentence(s.l, *judged->error), std::nullopt);
    return;
  }
  draw_findings(s, judged->findings);
  parts::gap(s.page, 16.0);
  parts::paragraph(s.page, s.say(Say::not_known_lead));
  draw_composition(s, key("batch") / id, session.drafts.batches[id].loss, finished_loss(s, id, batch), batch->made_from,
                   judged->sheet);
}

}  // namespace saltrafter::desk
