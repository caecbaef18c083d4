#include "core/desk/screens.h"

#include <array>

namespace saltrafter::desk {
namespace {

using Say = words::Id;

words::Text saving_text(const Session& session) {
  const words::Language& l = session.language;
  switch (session.keeper.state().saving) {
    case book::Saving::nothing_yet:
      return words::text(l, Say::nothing_to_save);
    case book::Saving::saving:
      return words::text(l, Say::saving);
    case book::Saving::saved:
      return words::text(l, Say::saved_here);
    case book::Saving::not_saved:
      return words::text(l, Say::not_saved);
  }
  return {};
}

Say trouble_text(book::Trouble trouble) {
  switch (trouble) {
    case book::Trouble::full:
      return Say::not_saved_full;
    case book::Trouble::denied:
      return Say::not_saved_denied;
    case book::Trouble::changed_elsewhere:
      return Say::not_saved_elsewhere;
    default:
      return Say::not_saved_silent;
  }
}

// A file that must be saved is offered where the trouble is said.
void draw_trouble(Screen& screen) {
  const book::SaveState state = screen.session.keeper.state();
  if (state.saving != book::Saving::not_saved) return;
  if (parts::trouble(screen.page, screen.say(trouble_text(state.trouble)), screen.say(Say::not_saved_what),
                     parts::Act{key("trouble") / "save", screen.say(Say::save_book), parts::ActKind::bare, true, {}})) {
    screen.session.save_book();
  }
}

std::uint64_t page_key(const Session& session) {
  const View& view = session.view;
  parts::Key page = key("page") / static_cast<int>(view.place);
  if (session.files) return (page / "files").value();
  if (view.place == Place::bench) return (page / view.recipe / static_cast<int>(view.bench) / view.item / (session.offer ? 1 : 0)).value();
  if (view.place == Place::rails) return (page / view.batch / static_cast<int>(view.rails) / view.piece).value();
  if (view.place == Place::shelf) {
    return (page / static_cast<int>(view.shelf) / view.table / view.table_row / view.supply).value();
  }
  return page.value();
}

void draw_place(Screen& screen) {
  const View& view = screen.session.view;
  if (screen.session.files) return draw_files(screen);
  switch (view.place) {
    case Place::round:
      return draw_round(screen);
    case Place::bench:
      if (screen.session.offer) return draw_offer(screen);
      if (view.bench == BenchLeaf::weigh) return draw_weigh_out(screen);
      if (view.recipe.empty()) return draw_recipes(screen);
      switch (view.bench) {
        case BenchLeaf::sheet: return draw_recipe(screen);
        case BenchLeaf::hang: return draw_hang(screen);
        case BenchLeaf::change: return draw_change(screen);
        case BenchLeaf::line: return draw_line(screen);
        case BenchLeaf::pick: return draw_pick(screen);
        case BenchLeaf::mix: return draw_mix(screen);
        case BenchLeaf::method: return draw_method(screen);
        case BenchLeaf::step: return draw_step(screen);
        case BenchLeaf::stage: return draw_stage(screen);
        case BenchLeaf::revisions: return draw_revisions(screen);
        case BenchLeaf::blend: return draw_blend(screen);
        case BenchLeaf::weigh: return draw_weigh_out(screen);
      }
      return;
    case Place::rails:
      if (view.batch.empty()) return draw_batches(screen);
      switch (view.rails) {
        case RailsLeaf::batch: return view.piece.empty() ? draw_batch(screen) : draw_weigh(screen);
        case RailsLeaf::steps: return draw_steps(screen);
        case RailsLeaf::lots: return draw_lots(screen);
        case RailsLeaf::souring: return draw_souring(screen);
        case RailsLeaf::stages: return draw_stages(screen);
        case RailsLeaf::standing: return draw_standing(screen);
        case RailsLeaf::hang: return draw_hang_batch(screen);
        case RailsLeaf::wanted: return draw_wanted(screen);
        case RailsLeaf::weigh: return draw_weigh_round(screen);
        case RailsLeaf::piece: return draw_piece(screen);
        case RailsLeaf::take_down: return draw_take_down(screen);
        case RailsLeaf::yield: return draw_yield(screen);
        case RailsLeaf::split: return draw_split(screen);
      }
      return;
    case Place::air:
      return draw_air(screen);
    case Place::shelf:
      switch (view.shelf) {
        case ShelfLeaf::shelf: return draw_shelf(screen);
        case ShelfLeaf::tables: return draw_tables(screen);
        case ShelfLeaf::table: return draw_table(screen);
        case ShelfLeaf::row: return draw_table_row(screen);
        case ShelfLeaf::supplies: return draw_supplies(screen);
        case ShelfLeaf::supply: return draw_supply(screen);
        case ShelfLeaf::replaces: return draw_replaces(screen);
        case ShelfLeaf::rules: return draw_rules(screen);
      }
      return;
  }
}

}  // namespace

bool hands_are_wet(const Session& session) {
  if (session.view.place == Place::bench && session.view.bench == BenchLeaf::weigh) return true;
  const View& view = session.view;
  if (view.place != Place::rails || view.batch.empty()) return false;
  return view.rails == RailsLeaf::weigh || !view.piece.empty();
}

parts::Key key(std::string_view name) { return parts::Key(name); }

void draw_notice(Screen& screen) {
  Session& session = screen.session;
  if (!session.notice) return;
  const parts::Act close{key("notice") / "close", screen.say(Say::close), parts::ActKind::bare, true, {}};
  const words::Text text = *session.notice;
  const parts::Key told = key("notice") / text.plain();
  const double top = screen.page.y();
  if (session.notice_is_wrong) {
    if (parts::trouble(screen.page, text, {}, close)) session.notice.reset();
    screen.page.bring(told, top);
    return;
  }
  std::vector<parts::Act> acts;
  if (session.notice_undoes) {
    acts.push_back({key("notice") / "undo", screen.say(Say::undo), parts::ActKind::bare, true, {}});
  }
  acts.push_back(close);
  const std::optional<int> pressed = parts::notice(screen.page, text, acts);
  screen.page.bring(told, top);
  if (!pressed) return;
  if (*pressed + 1 < static_cast<int>(acts.size())) session.undo();
  session.notice.reset();
}

void draw_history(Screen& screen) {
  Session& session = screen.session;
  auto undo = session.book.can_undo();
  // The first recipes came by themselves: nothing that the maker did, and nothing to offer for taking back.
  if (undo && *undo == "edit_first") undo.reset();
  const auto redo = session.book.can_redo();
  if (!undo && !redo) return;
  std::vector<parts::Act> acts;
  if (undo) acts.push_back({key("history") / "undo", screen.say(Say::undo), parts::ActKind::bare, true, {}});
  if (redo) acts.push_back({key("history") / "redo", screen.say(Say::redo), parts::ActKind::bare, true, {}});
  parts::gap(screen.page, 24.0);
  const words::Text what = edit_name(screen.l, undo ? *undo : *redo);
  const words::Text change =
      screen.say(undo ? Say::last_change : Say::undone_change, {words::arg("what", what)});
  const std::optional<int> pressed = parts::text_with_acts(screen.page, change, acts);
  if (!pressed) return;
  if (*pressed == 0 && undo) {
    session.undo();
  } else {
    session.redo();
  }
}

std::function<parts::Judged(const std::string&)> judge_number(const words::Language& l, NumberRule rule) {
  return [l, rule](const std::string& typed) {
    parts::Judged judged;
    const Result<TypedNumber> number = parse_number(typed, rule);
    if (!number.ok()) {
      judged.error = words::sentence(l, number.error());
    } else if (number.value().computed || number.value().unit != rule.unit) {
      // What was worked out or typed in another unit is said in the field's own.
      const double value = number.value().value;
      if (rule.kind == NumberKind::mass) judged.answer = grams(l, Grams(value));
      if (rule.kind == NumberKind::length) judged.answer = millimetres(l, Metres(value));
      if (rule.kind == NumberKind::temperature) judged.answer = celsius(l, Celsius(value));
    }
    return judged;
  };
}

void draw_screen(Session& session, parts::Host& host) {
  const words::Language& l = session.language;
  session.forget_what_is_gone();
  parts::PageSetup setup;
  setup.key = parts::Key("screen") / static_cast<int>(page_key(session) & 0x7fffffff);
  const std::array<Say, kPlaces> names = {Say::place_round, Say::place_bench, Say::place_rails, Say::place_air,
                                          Say::place_shelf};
  if (!hands_are_wet(session)) {
    for (const Say name : names) {
      setup.places.push_back({parts::Key("place") / words::pattern(name), words::text(l, name)});
    }
  }
  setup.current = static_cast<int>(session.view.place);
  setup.status = saving_text(session);
  setup.wet = hands_are_wet(session) || session.view.place == Place::round;
  const View& view = session.view;
  // Where nothing stands in the second column, the pad does, level with its field.
  const bool sheet = view.bench == BenchLeaf::sheet || view.bench == BenchLeaf::blend;
  const bool bench = view.place == Place::bench && (session.offer || (!view.recipe.empty() && sheet));
  const bool two = view.rails == RailsLeaf::batch || view.rails == RailsLeaf::yield || hands_are_wet(session);
  const bool batch = view.place == Place::rails && !view.batch.empty() && two;
  setup.two_columns = (bench || batch) && !session.files;
  setup.from_top = session.sent_here;
  session.sent_here = false;
  const bool hangs_new = view.place == Place::bench && view.bench == BenchLeaf::hang;
  if (view.place == Place::rails || view.place == Place::air || hangs_new) session.learn_from_finished();
  parts::Page page(host, session.language, setup);
  Screen screen{session, page, session.language};
  draw_trouble(screen);
  draw_place(screen);
  if (const std::optional<int> place = page.chosen_place()) {
    session.go_to(static_cast<Place>(*place));
    host.wake();
  }
}

}  // namespace saltrafter::desk
