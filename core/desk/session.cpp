#include "core/desk/session.h"

#include <algorithm>
#include <utility>

#include "core/desk/say.h"

namespace saltrafter::desk {

Session::Session(Shell services, book::FirstStore first, const book::SecondStore& second,
                 words::Language words_language)
    : shell(std::move(services)),
      language(words_language),
      keeper(shell.ports, std::move(first), second, static_cast<std::int64_t>(shell.clock_ms())),
      book(keeper.book()),
      answered_(!second.put) {}

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

Ground Session::ground() const {
  book::Settings settings = book.settings();
  return {hands(), settings.chosen,           std::move(settings.own_limits),
          today(), book.ports().now_utc_ms(), book.the_chamber().chamber};
}

const std::vector<safety::Finding>& Session::findings(const recipe::Recipe& recipe,
                                                      const recipe::Sheet& sheet) {
  return judgements.of_recipe(ground(), recipe, sheet);
}

std::shared_ptr<const BatchJudged> Session::judged(const Id& id) {
  const auto batch = book.batch(id);
  return batch ? judgements.of_batch(ground(), id, batch) : nullptr;
}

std::vector<recipe::MeasuredActivity> Session::learnt(recipe::ProductClass product_class) const {
  std::vector<std::shared_ptr<const plan::Batch>> batches;
  for (const Id& id : book.ids(book::Kind::batch)) batches.push_back(book.batch(id));
  return plan::measured_activities(batches, product_class, hands(), book.ports());
}

void Session::learn_from_finished() {
  std::vector<std::pair<Id, std::shared_ptr<const plan::Batch>>> batches;
  for (const Id& id : book.ids(book::Kind::batch)) {
    if (auto batch = book.batch(id)) batches.emplace_back(id, std::move(batch));
  }
  forecasts.learn(batches, chamber(), today(), hands());
}

bool Session::work(double budget_ms) {
  const double start_ms = shell.clock_ms();
  forecasts.work(shell.clock_ms, budget_ms);
  if (forecasts.busy() || !report) return forecasts.busy();
  const double left_ms = std::max(0.0, budget_ms - (shell.clock_ms() - start_ms));
  if (!run_slice(*report, shell.clock_ms, left_ms)) return true;
  const std::string text = report->text();
  report.reset();
  give_file(share::file_name("report " + iso_date(today()), "report", ".json"), text);
  return false;
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
    view.rails = RailsLeaf::batch;
    view.bench = BenchLeaf::sheet;
    view.piece = {};
    if (place == Place::shelf) view.shelf = ShelfLeaf::shelf;
  }
  view.place = place;
}

void Session::go_to_batch(const Id& batch) {
  go_to(Place::rails);
  view.batch = batch;
  view.rails = RailsLeaf::batch;
  view.piece = {};
  sent_here = true;
}

void Session::forget_what_is_gone() {
  if (!view.recipe.empty() && !book.recipe(view.recipe)) view.recipe = {};
  // A batch is weighed out whatever has become of its recipe.
  if (view.recipe.empty() && view.bench != BenchLeaf::weigh) view.bench = BenchLeaf::sheet;
  if (view.bench == BenchLeaf::sheet) view.item = {};
  if (view.place == Place::bench && view.bench == BenchLeaf::hang && !offer) {
    const Id made = drafts.recipes[view.recipe].hang.made;
    if (book.batch(made)) {
      view.bench = BenchLeaf::sheet;
      go_to_batch(made);
    }
  }
  if (!view.batch.empty() && !book.batch(view.batch)) view.batch = {};
  if (view.batch.empty()) view.rails = RailsLeaf::batch;
  if (view.batch.empty()) view.piece = {};
  if (!view.piece.empty() && plan::find_piece(*book.batch(view.batch), view.piece) == nullptr) view.piece = {};
  const bool of_piece = view.rails == RailsLeaf::piece || view.rails == RailsLeaf::take_down;
  if (of_piece && view.piece.empty()) view.rails = RailsLeaf::batch;
  const bool before_hanging = view.rails == RailsLeaf::hang || view.rails == RailsLeaf::split;
  if (before_hanging && book.batch(view.batch)->hung) view.rails = RailsLeaf::batch;
  if (view.rails == RailsLeaf::weigh && !book.batch(view.batch)->hung) view.rails = RailsLeaf::batch;
  const book::RecordPtr supply = view.supply.empty() ? nullptr : book.find(view.supply);
  if (!supply || supply->kind != book::Kind::ingredient) view.supply = {};
  const bool of_supply = view.shelf == ShelfLeaf::supply || view.shelf == ShelfLeaf::replaces;
  if (of_supply && view.supply.empty()) view.shelf = ShelfLeaf::supplies;
  const auto gone = [this](const auto& draft) { return book.find(draft.first) == nullptr; };
  std::erase_if(drafts.recipes, gone);
  std::erase_if(drafts.batches, gone);
  std::erase_if(drafts.supplies, gone);
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
  if (!edit)
    return tell(words::text(language, back ? words::Id::nothing_to_undo : words::Id::nothing_to_redo));
  back ? undo() : redo();
  tell(words::text(language, back ? words::Id::undone : words::Id::redone,
                   {words::arg("what", edit_name(language, *edit))}));
}

}  // namespace saltrafter::desk
