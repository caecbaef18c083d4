// What the screens stand on: the book and its keeping, where the maker is, and the long work under way.
//
// A screen reads the session and asks it to do things; whatever changes the document goes through `apply`.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "core/base/base.h"
#include "core/book/book.h"
#include "core/desk/forecasts.h"
#include "core/desk/parts/parts.h"
#include "core/desk/shell.h"
#include "core/plan/plan.h"
#include "core/recipe/recipe.h"
#include "core/share/share.h"
#include "core/words/words.h"

namespace saltrafter::desk {

enum class Place { round, bench, rails, air, shelf };
inline constexpr int kPlaces = 5;

// Where the maker is. Ids are empty where nothing is open.
struct View {
  Place place = Place::bench;
  Id recipe;             // open on the Bench
  bool hanging = false;  // its hanging form
  Id batch;              // open on the Rails
  Id piece;              // being weighed
};

// How this device shows the screens; kept with it, and no part of the document.
struct Look {
  std::optional<parts::ThemeName> theme;  // empty: as the device wishes
  double text_scale = 1.0;                // 1 .. 2
};

// The hanging form as it stands; kept while the maker looks elsewhere.
struct HangDraft {
  Metres casing;
  plan::Air air;
  Date day{};
};

// A weighing as far as it is typed. It belongs to one piece: another one's screen begins anew.
struct WeighDraft {
  Id piece;
  std::optional<Date> day;  // as chosen; today when not
  std::string weight;
};

// A friend's file, looked at and not kept.
struct Offer {
  std::string file_name;
  share::RecipeFile file;
  Grams meat{1000.0};
};

// The desktop's path screen: a folder, and what is to be written there; reading when `writes` is empty.
struct FilesView {
  std::string folder;
  std::string name;                  // of the file to write
  std::optional<std::string> writes;
};

class Session {
 public:
  Session(Shell services, book::FirstStore first, const book::SecondStore& second, words::Language words_language);

  Shell shell;
  words::Language language;
  book::Keeper keeper;
  book::Book& book;  // the keeper's
  View view;
  bool sent_here = false;  // the page is drawn from its top
  Look look;
  HangDraft hang;
  WeighDraft weigh_draft;
  std::optional<Offer> offer;
  std::optional<FilesView> files;  // the desktop's path screen, over everything else
  std::optional<words::Text> notice;  // what was done last, or what was wrong with a file
  bool notice_is_wrong = false;
  bool notice_undoes = false;  // it tells of the last edit, which can be taken back beside it
  Forecasts forecasts;
  std::unique_ptr<share::ReportTask> report;  // being made, after the forecasts

  Date today() const { return saltrafter::today(book.ports()); }

  // Saving. The first recipes are put into an empty book once it is sure that it is empty.
  void tick(std::int64_t now_ms);
  void second_store_has_answered();
  // Goes on with long work for about so long; true while there is more.
  bool work(double budget_ms);
  bool working() const { return forecasts.busy() || report != nullptr; }
  bool second_store_answered() const { return answered_; }

  // The recipes of the first visit, put into an empty book. Does nothing in a book that has recipes.
  void bring_first_recipes();

  // Meat on the tray for a recipe, g. 1 kg until the maker says otherwise.
  Grams meat(const Id& recipe) const;
  void set_meat(const Id& recipe, Grams meat);

  // Makes a batch of the open recipe by the hanging form and opens it. Error of the sheet where it is refused.
  Result<Done> hang_recipe(const Id& recipe);
  Result<Done> weigh(const Id& batch, const drying::Weighing& weighing);

  // Opens what a file holds: a recipe is offered; anything else says what is wrong, and nothing changes.
  void file_opened(const std::string& name, const std::string& text);
  void keep_offer();

  void leave_offer();

  // Begins the hanging form with what the recipe says and the air of the batch hung last.
  void begin_hanging(const recipe::Recipe& recipe);

  // Files out, through the browser or the desktop's path screen.
  void send_recipe(const recipe::Recipe& recipe);
  void save_book();
  void save_report();  // begins it; work() gives the file out when it is made
  void ask_for_file();
  void write_file(const std::string& path);  // of the path screen
  void read_file(const std::string& path);

  void tell(words::Text text);        // what was done
  void tell_edit(words::Text text);   // the same of the last edit, with its undo
  void tell_wrong(words::Text text);  // what could not be done, and why

  // Another place; the one one is in: its first page.
  void go_to(Place place);
  void go_to_batch(const Id& batch);  // sent from another place: it opens at its top
  // Leaves pages whose record was taken back by undo.
  void forget_what_is_gone();

  void undo();
  void redo();
  // The same by keyboard: undo or redo, and says what it did.
  void step_history(bool back);

  std::string setting(const std::string& name) const;
  void set_setting(const std::string& name, const std::string& value);

 private:
  Result<Done> apply(book::EditBuilder& edit);
  words::Text file_fault(const Error& error) const;
  void give_file(const std::string& name, const std::string& text);

  bool answered_;  // by the second store, or there is none
};

}  // namespace saltrafter::desk
