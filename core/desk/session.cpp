#include "core/desk/session.h"

#include <cmath>

#include "core/desk/say.h"

namespace saltrafter::desk {

Session::Session(Shell services, book::FirstStore first, const book::SecondStore& second,
                 words::Language words_language)
    : shell(std::move(services)),
      language(words_language),
      keeper(shell.ports, std::move(first), second, static_cast<std::int64_t>(shell.clock_ms())),
      book(keeper.book()),
      answered_(!second.put) {
  hang.day = today();
}

void Session::tick(std::int64_t now_ms) {
  keeper.tick(now_ms);
  if (!answered_ && keeper.state().trouble == book::Trouble::no_answer) second_store_has_answered();
}

void Session::second_store_has_answered() {
  answered_ = true;
  // Tombstones count: who removed every recipe wants none back.
  if (book.records().empty()) bring_first_recipes();
}

Result<Done> Session::apply(book::EditBuilder& edit) {
  // A notice of an earlier edit stays to be read; its undo would take back this one.
  notice_undoes = false;
  return book.apply(edit.done());
}

void Session::bring_first_recipes() {
  if (!book.ids(book::Kind::recipe).empty()) return;
  book::EditBuilder edit(book, "edit_first");
  for (const recipe::Recipe& recipe : recipe::starter_recipes(book.ports())) edit.create(recipe);
  (void)apply(edit);
}

Grams Session::meat(const Id& recipe) const { return book::meat_on_tray(book.settings(), recipe); }

void Session::set_meat(const Id& recipe, Grams meat) {
  book::Settings settings = book.settings();
  book::set_meat_on_tray(settings, recipe, meat);
  book::EditBuilder edit(book, "edit_meat");
  edit.put(settings);
  (void)apply(edit);
}

Result<Done> Session::hang_recipe(const Id& recipe_id) {
  const auto recipe = book.recipe(recipe_id);
  if (!recipe) return Error{ErrorCode::not_found, "recipe", recipe_id.text, {}, {}, {}, {}};
  const Grams on_tray = meat(recipe_id);
  const Result<recipe::Sheet> sheet = recipe::scale(*recipe, on_tray);
  if (!sheet.ok()) return sheet.error();
  if (const Result<Done> allowed = recipe::may_be_used(sheet.value()); !allowed.ok()) return allowed.error();

  plan::Batch batch;
  batch.name = recipe->name;
  batch.recipe = recipe_id;
  batch.made_from = *recipe;
  batch.made_from.casing_diameter = hang.casing;
  batch.meat = on_tray;
  batch.hung_on = hang.day;
  batch.air = hang.air;
  batch.pieces = plan::split_into_pieces(book.ports(), sheet.value().total, hang.casing);
  // A piece is hung by the scale, and a scale shows whole grams here.
  for (plan::Piece& piece : batch.pieces) piece.hung = Grams(std::round(piece.hung.value));

  book::EditBuilder edit(book, "edit_hang");
  const Id id = edit.create(batch);
  const Result<Done> done = apply(edit);
  if (!done.ok()) return done;
  view.place = Place::rails;
  view.hanging = false;
  view.batch = id;
  view.piece = {};
  return done;
}

Result<Done> Session::weigh(const Id& batch_id, const drying::Weighing& weighing) {
  const auto now = book.batch(batch_id);
  if (!now) return Error{ErrorCode::not_found, "batch", batch_id.text, {}, {}, {}, {}};
  if (const Result<Done> sound = plan::check_weighing(*now, weighing, today()); !sound.ok()) return sound;
  plan::Batch after = *now;
  after.weighings.push_back(weighing);
  book::EditBuilder edit(book, "edit_weigh");
  edit.put(batch_id, after);
  return apply(edit);
}

void Session::file_opened(const std::string& name, const std::string& text) {
  Result<share::RecipeFile> file = share::read_recipe_file(text);
  if (!file.ok()) {
    view.place = Place::bench;
    view.hanging = false;
    view.recipe = {};
    offer.reset();
    return tell_wrong(file_fault(file.error()));
  }
  notice.reset();
  offer = Offer{name, std::move(file).value(), book::kFirstMeat};
  view.place = Place::bench;
  view.hanging = false;
}

// What is wrong with a file, where, and that nothing of the book has changed.
words::Text Session::file_fault(const Error& error) const {
  const book::FoundInText found = book::found_in_text(error);
  Error plain = error;
  plain.found = found.text;
  std::vector<words::Text> said = {words::text(language, words::Id::file_refused), words::verbatim(" ")};
  if (found.line > 0 && !error.field.empty()) {
    said.push_back(words::text(language, words::Id::file_at,
                               {words::count("line", found.line), words::arg("field", error.field)}));
    said.push_back(words::verbatim(" "));
  } else if (found.line > 0) {
    said.push_back(words::text(language, words::Id::file_at_line, {words::count("line", found.line)}));
    said.push_back(words::verbatim(" "));
  }
  said.push_back(words::sentence(language, plain));
  return words::join(said);
}

void Session::keep_offer() {
  if (!offer || offer->file.read_only) return;
  book::EditBuilder edit(book, "edit_keep");
  const Id id = edit.create(book::Kind::recipe, offer->file.data);
  const Result<Done> done = apply(edit);
  if (!done.ok()) return tell_wrong(words::sentence(language, done.error()));
  tell_edit(words::text(language, words::Id::kept, {words::arg("name", offer->file.recipe.name)}));
  offer.reset();
  view.recipe = id;
}

void Session::leave_offer() {
  offer.reset();
  view.recipe = {};
}

void Session::begin_hanging(const recipe::Recipe& recipe) {
  hang.casing = recipe.casing_diameter;
  hang.day = today();
  for (const Id& id : book.ids(book::Kind::batch)) {
    if (const auto batch = book.batch(id)) hang.air = batch->air;
  }
  view.hanging = true;
  notice.reset();
}

void Session::give_file(const std::string& name, const std::string& text) {
  if (shell.download) {
    shell.download(name, text);
    tell(words::text(language, words::Id::file_written, {words::arg("name", name)}));
  } else if (shell.write_file) {
    files = FilesView{shell.start_folder, name, text};
  }
}

void Session::send_recipe(const recipe::Recipe& recipe) {
  const book::RecordPtr record = book.find(view.recipe);
  const Result<std::string> text = share::write_recipe_file(recipe, record ? record->data : std::string());
  if (!text.ok()) return tell_wrong(words::sentence(language, text.error()));
  give_file(share::file_name(recipe.name, "recipe"), text.value());
}

void Session::save_book() { give_file(share::file_name("book " + iso_date(today()), "book"), share::write_book_file(book)); }

void Session::save_report() {
  if (!report) report = std::make_unique<share::ReportTask>(book, today());
}

bool Session::work(double budget_ms) {
  forecasts.work(shell.clock_ms, budget_ms);
  if (forecasts.busy() || !report) return forecasts.busy();
  if (!run_slice(*report, shell.clock_ms, budget_ms)) return true;
  const std::string text = report->text();
  report.reset();
  give_file(share::file_name("report " + iso_date(today()), "report", ".json"), text);
  return false;
}

void Session::ask_for_file() {
  if (shell.pick_file) {
    shell.pick_file();
  } else if (shell.list_folder) {
    files = FilesView{shell.start_folder, {}, std::nullopt};
  }
}

void Session::write_file(const std::string& path) {
  if (!files || !files->writes) return;
  const Result<Done> done = shell.write_file(path, *files->writes);
  if (!done.ok()) return tell_wrong(words::sentence(language, done.error()));
  files.reset();
  tell(words::text(language, words::Id::file_written, {words::arg("name", path)}));
}

void Session::read_file(const std::string& path) {
  const Result<std::string> text = shell.read_file(path);
  if (!text.ok()) return tell_wrong(words::sentence(language, text.error()));
  files.reset();
  file_opened(path, text.value());
}

void Session::tell(words::Text text) {
  notice = std::move(text);
  notice_is_wrong = false;
  notice_undoes = false;
}

void Session::tell_edit(words::Text text) {
  tell(std::move(text));
  notice_undoes = true;
}

void Session::tell_wrong(words::Text text) {
  notice = std::move(text);
  notice_is_wrong = true;
}

void Session::go_to(Place place) {
  files.reset();
  notice.reset();
  if (view.place == place) {
    if (place == Place::bench) view.recipe = {};
    if (place == Place::rails) view.batch = {};
    view.hanging = false;
    view.piece = {};
  }
  view.place = place;
}

void Session::go_to_batch(const Id& batch) {
  go_to(Place::rails);
  view.batch = batch;
  view.piece = {};
  sent_here = true;
}

void Session::forget_what_is_gone() {
  if (!view.recipe.empty() && !book.recipe(view.recipe)) view.recipe = {};
  if (view.recipe.empty()) view.hanging = false;
  if (!view.batch.empty() && !book.batch(view.batch)) view.batch = {};
  if (view.batch.empty()) view.piece = {};
}

std::string Session::setting(const std::string& name) const {
  const book::Settings settings = book.settings();
  const auto found = settings.values.find(name);
  return found == settings.values.end() ? std::string() : found->second;
}

void Session::set_setting(const std::string& name, const std::string& value) {
  book::Settings settings = book.settings();
  settings.values[name] = value;
  book::EditBuilder edit(book, "edit_settings");
  edit.put(settings);
  (void)apply(edit);
}

void Session::undo() {
  if (notice_undoes) notice.reset();
  (void)book.undo();
}

void Session::redo() {
  notice_undoes = false;
  (void)book.redo();
}

void Session::step_history(bool back) {
  const auto edit = back ? book.can_undo() : book.can_redo();
  if (!edit) return tell(words::text(language, back ? words::Id::nothing_to_undo : words::Id::nothing_to_redo));
  back ? undo() : redo();
  tell(words::text(language, back ? words::Id::undone : words::Id::redone,
                   {words::arg("what", edit_name(language, *edit))}));
}

}  // namespace saltrafter::desk
