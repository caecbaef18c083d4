// Files that a session takes in and gives out.
#include "core/desk/session.h"

#include <utility>

namespace saltrafter::desk {

void Session::file_opened(const std::string& name, const std::string& text) {
  Result<share::RecipeFile> file = share::read_recipe_file(text);
  if (!file.ok()) {
    view.place = Place::bench;
    view.bench = BenchLeaf::sheet;
    view.recipe = {};
    offer.reset();
    return tell_wrong(file_fault(file.error()));
  }
  notice.reset();
  offer = Offer{make_id(book.ports()), name, std::move(file).value(), book::kFirstMeat};
  view.place = Place::bench;
  view.bench = BenchLeaf::sheet;
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
  if (!(offer->meat == book::kFirstMeat)) {
    book::Settings settings = book.settings();
    book::set_meat_on_tray(settings, id, offer->meat);
    edit.put(settings);
  }
  const Result<Done> done = apply(edit);
  if (!done.ok()) return tell_wrong(words::sentence(language, done.error()));
  tell_edit(words::text(language, words::Id::kept, {words::arg("name", offer->file.recipe.name)}));
  drafts.recipes[id] = offer->draft;
  offer.reset();
  view.recipe = id;
}

void Session::leave_offer() {
  offer.reset();
  view.recipe = {};
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

void Session::save_book() {
  give_file(share::file_name("book " + iso_date(today()), "book"), share::write_book_file(book));
}

void Session::save_report() {
  if (!report) report = std::make_unique<share::ReportTask>(book, today());
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

}  // namespace saltrafter::desk
