// What the screens stand on: the book and its keeping, where the maker is, and the long work under way.
//
// A screen reads the session and asks it to do things; whatever changes the document goes through `apply`.
#pragma once

#include <functional>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "core/base/base.h"
#include "core/book/book.h"
#include "core/desk/forecasts.h"
#include "core/desk/judgements.h"
#include "core/desk/parts/parts.h"
#include "core/desk/shell.h"
#include "core/plan/plan.h"
#include "core/recipe/recipe.h"
#include "core/share/share.h"
#include "core/words/words.h"

namespace saltrafter::desk {

enum class Place { round, bench, rails, air, shelf };
inline constexpr int kPlaces = 5;

// The pages of one recipe.
enum class BenchLeaf { sheet, hang, change, line, pick, mix, method, step, stage, revisions, blend, weigh };
inline constexpr int kBenchLeaves = 12;

// The pages of one batch beside its own and the weighing of a piece.
enum class RailsLeaf {
  batch, steps, lots, souring, stages, standing, hang, wanted, weigh, piece, take_down, yield, split
};
inline constexpr int kRailsLeaves = 13;

// The pages of the Shelf: the tables, one of them, one of its rows; the maker's own rows, one of them, and
// what it stands in for; whose rules, scales and money.
enum class ShelfLeaf { shelf, tables, table, row, supplies, supply, replaces, rules };
inline constexpr int kShelfLeaves = 8;

// Where the maker is. Ids are empty where nothing is open.
struct View {
  Place place = Place::bench;
  Id recipe;             // open on the Bench
  BenchLeaf bench = BenchLeaf::sheet;  // what of it
  Id item;               // the line, step, stage or batch that the leaf is about
  Id batch;              // open on the Rails
  RailsLeaf rails = RailsLeaf::batch;  // what of it
  Id piece;              // of the batch: being weighed, or what the leaf is about
  Id lot;                // opened among the meat of the batch
  ShelfLeaf shelf = ShelfLeaf::shelf;
  std::string table;      // opened on the Shelf: key in assets/tables
  std::string table_row;  // of it: the row's key
  Id supply;              // the own row that is open
};

// How this device shows the screens; kept with it, and no part of the document.
struct Look {
  std::optional<parts::ThemeName> theme;  // empty: as the device wishes
  double text_scale = 1.0;                // 1 .. 2
};

// What is typed for a thing and not applied yet is kept by the thing: another one's page neither shows nor
// loses it, and whoever comes back finds it. What is applied is set back, and all of it goes with its record.

// The hanging form: what was said on it. The rest is the recipe's casing, the usual air and today.
struct HangDraft {
  std::optional<Metres> casing;
  std::optional<Celsius> temperature;
  std::optional<RelativeHumidity> humidity;
  std::optional<Date> day;
  std::string reason;  // for going past a stop
  Id made;             // the batch that came of it: a recipe's form makes one, and leads to it from then on

  friend bool operator==(const HangDraft&, const HangDraft&) = default;
};

// Two states of a recipe side by side: places in the list of revisions, -1 the recipe as it is.
struct CompareDraft {
  int before = -2;  // -2: the newest revision
  int after = -1;
};

// Cuts at hand and wishes.
struct BlendDraft {
  std::vector<recipe::BlendCut> cuts;
  recipe::BlendWishes wishes;
  std::string open;     // the cut whose bounds are shown
  bool adding = false;  // the list of cuts is open
};

struct RecipeDraft {
  HangDraft hang;
  recipe::Wish wish;  // what it is made for
  CompareDraft compare;
  std::optional<BlendDraft> blend;  // once its page was open
  std::optional<double> loss;       // looked at instead of the wanted one
  int pick_kind = 1;                // what kind of line is looked for
};

// What is weighed in.
struct WeighInDraft {
  std::string mass;
  std::string lot;
};

// A weighing of a piece.
struct WeighDraft {
  std::optional<Date> day;  // as chosen; today when not
  std::string weight;

  friend bool operator==(const WeighDraft&, const WeighDraft&) = default;
};

// A round of weighing through the pieces of a batch.
struct RoundDraft {
  std::optional<Date> day;      // of all its weighings; today when not
  Grams tray;                   // hook or tray that lies on the scale with each of them
  std::map<Id, Date> left_out;  // pieces skipped, and the day of the round they were skipped in
  bool as_one = false;          // several are weighed as one: these, as typed so far
  std::vector<Id> bunch;
  WeighDraft together;
  Id kept;                      // the weighing that was kept last
  // The field of the piece in hand is to be opened: for a keyboard, or with the pad.
  enum class Opens { no, for_keys, with_pad } opens = Opens::no;
};

// What was done to a piece.
struct EventDraft {
  plan::EventKind kind = plan::EventKind::cut;
  std::optional<Date> day;
  std::string before, after, note;
};

// What a scale cannot see of a piece.
struct FeelDraft {
  std::optional<Date> day;
  int feel = -1;  // place in drying::kFeels
  std::string moisture;
};

// A piece that comes off its rail.
struct TakeDownDraft {
  std::optional<Date> day;
  std::string mass, usable, activity, ph, moisture;
  int cut = -1;  // how it looks cut open, place in drying::kFeels
  safety::Site site = safety::Site::not_said;
  safety::InstrumentState instrument = safety::InstrumentState::not_said;
  std::vector<plan::Fault> faults;
  std::string other, note;
};

// A batch that a mix becomes, beside others.
struct PartDraft {
  std::string name;
  double share = 0.0;
};

// When a stage begins, and why it goes past its stops.
struct StageDraft {
  std::optional<Date> day;
  std::string time;  // "07:42"; empty: now
  std::string reason;
};

// What a step asks for.
struct StepDraft {
  std::string value;
  std::string words;  // what was said, or why nothing was measured
};

struct ReadingDraft {
  safety::Reading reading;
  std::string value;
  std::optional<Date> day;
  std::string time;  // "07:42"; empty: now
};

// A reading of the chamber's air, and a change of the chamber.
struct AirDraft {
  std::string temperature, humidity;
  std::optional<Date> day;
  std::string time;  // "07:42"; empty: now
  plan::ChamberChangeKind kind = plan::ChamberChangeKind::fan;
  std::optional<Date> changed_on;  // today when not
  std::string note;
  Id open;                // the reading or change in hand
  bool show_all = false;  // all readings are listed
};

// An act on where a batch stands, and the answer to its open stops.
struct ActDraft {
  int act = 0;
  std::string reason;
  std::string evidence;
  std::string stop_reason;
};

struct BatchDraft {
  HangDraft hang;
  ReadingDraft reading;
  ActDraft act;
  std::optional<double> loss;  // looked at instead of the wanted one
  plan::WhatIf what_if;
  Id line;                     // to be weighed in out of its turn
  std::map<Id, WeighInDraft> lines;
  std::map<Id, WeighDraft> pieces;
  RoundDraft round;
  std::map<Id, EventDraft> events;         // by piece
  std::map<Id, TakeDownDraft> take_downs;  // by piece
  std::map<Id, FeelDraft> feels;           // by piece
  Id event;                                // opened among what was done to the pieces, and said of them
  std::vector<PartDraft> parts;            // none: not begun
  std::map<Id, StageDraft> stages;
  std::map<Id, StepDraft> steps;
};

struct SupplyDraft {
  std::optional<Grams> holds;  // half of a packet of culture
  std::optional<Grams> for_meat;
  Id wanted_by;  // the recipe that waits for this packet of curing salt
};

// A limit of the maker's own.
struct LimitDraft {
  bool open = false;
  Id of;  // one that is there already; empty: a new one
  tables::Agent agent = tables::Agent::nitrite;
  tables::LimitSense sense = tables::LimitSense::most;
};

struct Drafts {
  std::map<Id, RecipeDraft> recipes;
  std::map<Id, BatchDraft> batches;
  std::map<Id, SupplyDraft> supplies;
  LimitDraft limit;
  AirDraft air;
};

// A friend's file, looked at and not kept.
struct Offer {
  Id id;  // of its fields, as long as it is looked at
  std::string file_name;
  share::RecipeFile file;
  Grams meat{1000.0};
  RecipeDraft draft = {};
};

// The desktop's path screen: a folder, and what is to be written there; reading when `writes` is empty.
struct FilesView {
  std::string folder;
  std::string name;                  // of the file to write
  std::optional<std::string> writes;
};

class Session {
 public:
  Session(Shell services, book::FirstStore first, const book::SecondStore& second,
          words::Language words_language);

  Shell shell;
  words::Language language;
  book::Keeper keeper;
  book::Book& book;  // the keeper's
  View view;
  bool sent_here = false;  // the page is drawn from its top
  Look look;
  Drafts drafts;
  std::optional<Offer> offer;
  std::optional<FilesView> files;  // the desktop's path screen, over everything else
  std::optional<words::Text> notice;  // what was done last, or what was wrong with a file
  bool notice_is_wrong = false;
  bool notice_undoes = false;  // it tells of the last edit, which can be taken back beside it
  Forecasts forecasts;
  Judgements judgements;
  std::unique_ptr<share::ReportTask> report;  // being made, after the forecasts

  Date today() const { return saltrafter::today(book.ports()); }

  // Saving. The first recipes are put into an empty book once it is sure that it is empty.
  void tick(std::int64_t now_ms);
  void second_store_has_answered();
  // Goes on with long work for about so long; true while there is more.
  // Forecasts begin with what the batches that are down teach.
  void learn_from_finished();
  bool work(double budget_ms);
  bool working() const { return forecasts.busy() || report != nullptr; }
  bool second_store_answered() const { return answered_; }

  // The recipes of the first visit, put into an empty book. Does nothing in a book that has recipes.
  void bring_first_recipes();

  // With what a recipe is scaled, and whose rules hold.
  recipe::Hands hands() const { return {book.supplies(), book.settings().scales, {}}; }
  safety::Chosen chosen() const { return book.settings().chosen; }
  Ground ground() const;
  // All findings of a sheet of a recipe that nobody has made yet.
  const std::vector<safety::Finding>& findings(const recipe::Recipe& recipe, const recipe::Sheet& sheet);
  // A batch with its sheet, its findings and where it stands; nullptr where there is no such batch.
  std::shared_ptr<const BatchJudged> judged(const Id& batch);
  // What was measured on batches of a class, for the estimate of the next one.
  std::vector<recipe::MeasuredActivity> learnt(recipe::ProductClass product_class) const;
  // The chamber that all hang in, never null; changed through the door, and made by its first change. False: it was
  // refused, and told.
  std::shared_ptr<const plan::Chamber> chamber() const { return book.the_chamber().chamber; }
  bool change_chamber(const plan::Chamber& chamber, const std::string& edit);
  // What hangs in it, and its air: as read where that is not too long ago, else as planned for the batch hung last.
  HangsTogether hangs_together() const;
  // Changes a batch through the door. False: it was refused, and told.
  bool change_batch(const Id& id, const plan::Batch& batch, const std::string& edit);

  // Recipes. A day's changes make one revision, unless a batch was made in between. False: it was refused,
  // and told.
  bool change_recipe(const Id& id, const recipe::Recipe& recipe, const std::string& edit = "edit_recipe");
  void explain_revision(const Id& id, const std::string& why);
  void new_recipe();
  void copy_recipe(const Id& id);
  void remove_recipe(const Id& id);
  // Begins a batch of the recipe for the meat on the tray, and opens its weigh-out.
  void begin_weighing_out(const Id& recipe);
  void go_to_weigh_out(const Id& batch);
  void weigh_in_line(const Id& batch, const recipe::WeighedIn& in);
  void enter_packet();  // to a new curing mix among the supplies
  void use_packet();    // back to the recipe that waits for the open curing mix, with it
  void open_leaf(BenchLeaf leaf, const Id& item = {});

  // Meat on the tray for a recipe, g. 1 kg until the maker says otherwise.
  Grams meat(const Id& recipe) const;
  void set_meat(const Id& recipe, Grams meat);

  // The Shelf. An own row is made, changed or removed by one edit each; recipes bound to a curing mix take
  // its new strength in the same edit, as their grams follow from the dose. False: it was refused, and told.
  void open_shelf(ShelfLeaf leaf);
  void open_supply(const Id& supply);
  // The new row's id; empty where it was refused.
  Id new_supply(recipe::SupplyKind kind, const std::string& replaces, const std::string& name);
  bool change_supply(const recipe::Supply& supply);
  void remove_supply(const Id& supply);
  bool change_settings(const book::Settings& settings, const std::string& edit = "edit_settings");

  // A batch of a recipe as a hanging form makes it, before it is hung. Without a name where there is no such recipe.
  plan::Batch new_batch(const Id& recipe) const;
  // Begins the hanging form of the open recipe: anew where a batch came of it, else as it stands.
  void begin_hanging();
  // Makes a batch of a recipe by its hanging form and opens it; the one that came of the form already, where
  // there is one. Error of the sheet where it is refused. `finish` may add to the batch before it is kept.
  Result<Done> hang_recipe(const Id& recipe, const std::function<void(plan::Batch&)>& finish = {});
  // Hangs a batch that was weighed out by its own form and opens it; as it is where it hangs already.
  Result<Done> hang_batch(const Id& batch, const std::function<void(plan::Batch&)>& finish = {});
  void open_rails(RailsLeaf leaf, const Id& piece = {});
  // `instead`: a weighing that it stands in for; empty: it comes beside the others.
  Result<Done> weigh(const Id& batch, const drying::Weighing& weighing, const Id& instead = {});
  // A mix becomes several batches by one edit; the first of them stays the one it was, and open.
  Result<Done> split_batch(const Id& batch, const std::vector<PartDraft>& parts);

  // Opens what a file holds: a recipe is offered; anything else says what is wrong, and nothing changes.
  void file_opened(const std::string& name, const std::string& text);
  void keep_offer();

  void leave_offer();

  // The hanging form as it stands: what was said on it, else the recipe's casing, the air of the batch hung
  // last and today.
  plan::Hanging hanging(const HangDraft& draft, const recipe::Recipe& recipe) const;

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
  // Leaves pages whose record was taken back by undo and forms that have done their work, and lets go of what
  // was typed for what is gone.
  void forget_what_is_gone();

  void undo();
  void redo();
  // The same by keyboard: undo or redo, and says what it did.
  void step_history(bool back);

  std::string setting(const std::string& name) const;
  void set_setting(const std::string& name, const std::string& value);

 private:
  Result<Done> apply(book::EditBuilder& edit);
  plan::Air usual_air() const;  // of the batch hung last
  // Gives every recipe that is bound to this packet its mix by the packets as they will be
  // (recipe::by_packets). Batches keep what they were made from.
  void rebind(book::EditBuilder& edit, const std::string& supply, const recipe::Supplies& then) const;
  // The recipe anew, as a revision unless one of today holds what was before.
  void put_recipe(book::EditBuilder& edit, const Id& id, const recipe::Recipe& now,
                  const recipe::Recipe& then) const;
  words::Text file_fault(const Error& error) const;
  void give_file(const std::string& name, const std::string& text);

  bool answered_;  // by the second store, or there is none
};

}  // namespace saltrafter::desk
