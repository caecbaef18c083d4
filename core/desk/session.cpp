#include "core/desk/session.h"

#include <algorithm>
#include <array>
#include <cmath>
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
  return {hands(), settings.chosen, std::move(settings.own_limits), today(), book.ports().now_utc_ms()};
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

bool Session::change_batch(const Id& id, const plan::Batch& batch, const std::string& name) {
  book::EditBuilder edit(book, name);
  edit.put(id, batch);
  const Result<Done> done = apply(edit);
  if (!done.ok()) tell_wrong(words::sentence(language, done.error()));
  return done.ok();
}

bool Session::change_chamber(const plan::Chamber& chamber, const std::string& name) {
  book::EditBuilder edit(book, name);
  if (const Id kept = book.the_chamber().id; !kept.empty()) {
    edit.put(kept, chamber);
  } else {
    edit.create(chamber);
  }
  const Result<Done> done = apply(edit);
  if (!done.ok()) tell_wrong(words::sentence(language, done.error()));
  return done.ok();
}

HangsTogether Session::hangs_together() const {
  HangsTogether all;
  all.today = today();
  all.air = usual_air();
  std::shared_ptr<const plan::Batch> last;
  for (const Id& id : book.ids(book::Kind::batch)) {
    const auto batch = book.batch(id);
    if (!batch || plan::pieces_in_air(*batch).empty()) continue;
    all.batches.emplace_back(id, batch);
    if (!last || batch->hung_on >= last->hung_on) last = batch;
  }
  if (last) {
    const drying::Stage ahead = plan::air_ahead(*last, all.today);
    all.air = {ahead.temperature, ahead.humidity, ahead.speed};
  }
  const auto kept = chamber();
  if (const plan::AirReading* read = plan::newest_reading(kept->air, book.ports().now_utc_ms())) {
    all.air.temperature = read->temperature;
    all.air.humidity = read->humidity;
  }
  return all;
}

void Session::begin_weighing_out(const Id& id) {
  const auto recipe = book.recipe(id);
  if (!recipe) return;
  const auto is_cure = [](const recipe::Line& line) { return line.kind == recipe::LineKind::cure; };
  // A batch keeps the recipe as it was: the packet is read before one begins.
  if (recipe->mix.supply.empty() && std::any_of(recipe->lines.begin(), recipe->lines.end(), is_cure)) {
    return open_leaf(BenchLeaf::mix);
  }
  // One that was begun today of the same recipe and has nothing in yet, or is not finished, goes on.
  for (const Id& batch_id : book.ids(book::Kind::batch)) {
    const auto batch = book.batch(batch_id);
    if (batch && batch->recipe == id && !batch->hung && batch->begun_on == today() &&
        batch->made_from == *recipe && batch->weighed.size() < recipe->lines.size() &&
        batch->meat == meat(id)) {
      return open_leaf(BenchLeaf::weigh, batch_id);
    }
  }
  plan::Batch batch;
  batch.name = recipe->name;
  batch.recipe = id;
  batch.made_from = *recipe;
  batch.meat = meat(id);
  batch.begun_on = today();
  batch.hung = false;
  batch.hung_on = today();
  batch.air = usual_air();
  book::EditBuilder edit(book, "edit_begin");
  const Id made = edit.create(batch);
  if (const Result<Done> done = apply(edit); !done.ok())
    return tell_wrong(words::sentence(language, done.error()));
  notice.reset();
  open_leaf(BenchLeaf::weigh, made);
}

void Session::go_to_weigh_out(const Id& id) {
  const auto batch = book.batch(id);
  if (!batch) return;
  go_to(Place::bench);
  view.recipe = batch->recipe;
  open_leaf(BenchLeaf::weigh, id);
}

void Session::weigh_in_line(const Id& id, const recipe::WeighedIn& in) {
  const auto now = book.batch(id);
  if (!now) return;
  plan::Batch after = *now;
  std::erase_if(after.weighed, [&in](const recipe::WeighedIn& other) { return other.line == in.line; });
  after.weighed.push_back(in);
  if (!change_batch(id, after, "edit_weighed_in")) return;
  BatchDraft& draft = drafts.batches[id];
  draft.line = {};
  draft.lines.erase(in.line);
  sent_here = true;
}

void Session::put_recipe(book::EditBuilder& edit, const Id& id, const recipe::Recipe& now,
                         const recipe::Recipe& then) const {
  const std::vector<recipe::Revision> revisions = book.revisions(id);
  bool made = false;
  for (const Id& batch_id : book.ids(book::Kind::batch)) {
    const auto batch = book.batch(batch_id);
    made = made || (batch && batch->recipe == id && batch->made_from == now);
  }
  if (!made && !revisions.empty() && revisions.back().until == today()) {
    edit.put(id, then);
  } else {
    edit.revise(id, then, {});
  }
}

bool Session::change_recipe(const Id& id, const recipe::Recipe& recipe, const std::string& name) {
  const auto now = book.recipe(id);
  const recipe::Recipe then = recipe::by_packets(recipe, book.supplies());
  if (!now || *now == then) return false;
  book::EditBuilder edit(book, name);
  put_recipe(edit, id, *now, then);
  const Result<Done> done = apply(edit);
  if (!done.ok()) tell_wrong(words::sentence(language, done.error()));
  return done.ok();
}

void Session::explain_revision(const Id& id, const std::string& why) {
  book::EditBuilder edit(book, "edit_why");
  edit.explain(id, why);
  (void)apply(edit);
}

void Session::new_recipe() {
  recipe::Recipe recipe = recipe::new_recipe(book.ports());
  recipe.name = words::text(language, words::Id::new_recipe_name).plain();
  book::EditBuilder edit(book, "edit_new_recipe");
  const Id id = edit.create(recipe);
  if (!apply(edit).ok()) return;
  notice.reset();
  view.recipe = id;
  open_leaf(BenchLeaf::change);
}

void Session::copy_recipe(const Id& id) {
  const auto from = book.recipe(id);
  if (!from) return;
  recipe::Recipe copy = *from;
  copy.name = words::text(language, words::Id::copy_of, {words::arg("name", from->name)}).plain();
  book::EditBuilder edit(book, "edit_copy");
  const Id made = edit.create(copy);
  if (!apply(edit).ok()) return;
  view.recipe = made;
  open_leaf(BenchLeaf::sheet);
  tell_edit(words::text(language, words::Id::recipe_copied, {words::arg("name", from->name)}));
}

void Session::remove_recipe(const Id& id) {
  const auto recipe = book.recipe(id);
  if (!recipe) return;
  book::EditBuilder edit(book, "edit_remove_recipe");
  edit.remove(id);
  if (!apply(edit).ok()) return;
  view.recipe = {};
  open_leaf(BenchLeaf::sheet);
  tell_edit(words::text(language, words::Id::recipe_removed, {words::arg("name", recipe->name)}));
}

void Session::open_leaf(BenchLeaf leaf, const Id& item) {
  view.bench = leaf;
  view.item = item;
  sent_here = leaf != BenchLeaf::sheet;
}

void Session::open_shelf(ShelfLeaf leaf) {
  view.shelf = leaf;
  notice.reset();
  sent_here = true;
}

void Session::open_supply(const Id& supply) {
  view.supply = supply;
  open_shelf(ShelfLeaf::supply);
}

// What a new row is called until the maker names it; by recipe::SupplyKind.
constexpr std::array<words::Id, 5> kNewNames = {words::Id::supply_new_cut, words::Id::supply_new_additive,
                                                words::Id::supply_new_mix, words::Id::supply_new_culture,
                                                words::Id::supply_new_casing};

Id Session::new_supply(recipe::SupplyKind kind, const std::string& replaces, const std::string& name) {
  recipe::Supply supply;
  supply.kind = kind;
  supply.name =
      name.empty() ? words::text(language, kNewNames[static_cast<std::size_t>(kind)]).plain() : name;
  supply.replaces = replaces;
  if (const tables::Cut* cut = kind == recipe::SupplyKind::cut ? tables::find_cut(replaces) : nullptr) {
    supply.species = cut->species;
  }
  book::EditBuilder edit(book, "edit_new_supply");
  const Id made = edit.create(supply);
  if (const Result<Done> done = apply(edit); !done.ok()) {
    tell_wrong(words::sentence(language, done.error()));
    return {};
  }
  open_supply(made);
  return made;
}

void Session::rebind(book::EditBuilder& edit, const std::string& supply, const recipe::Supplies& then) const {
  for (const Id& id : book.ids(book::Kind::recipe)) {
    const auto now = book.recipe(id);
    if (!now || now->mix.supply != supply) continue;
    const recipe::Recipe bound = recipe::by_packets(*now, then);
    if (!(bound == *now)) put_recipe(edit, id, *now, bound);
  }
}

bool Session::change_supply(const recipe::Supply& supply) {
  book::EditBuilder edit(book, "edit_supply");
  edit.put(Id{supply.key}, supply);
  rebind(edit, supply.key, {supply});
  const Result<Done> done = apply(edit);
  if (!done.ok()) tell_wrong(words::sentence(language, done.error()));
  return done.ok();
}

void Session::remove_supply(const Id& id) {
  std::string name;
  for (const recipe::Supply& supply : book.supplies()) {
    if (supply.key == id.text) name = supply.name;
  }
  book::EditBuilder edit(book, "edit_remove_supply");
  edit.remove(id);
  rebind(edit, id.text, {});
  if (const Result<Done> done = apply(edit); !done.ok())
    return tell_wrong(words::sentence(language, done.error()));
  open_shelf(ShelfLeaf::supplies);
  tell_edit(words::text(language, words::Id::supply_removed, {words::arg("name", name)}));
}

void Session::enter_packet() {
  const Id recipe = view.recipe;
  go_to(Place::shelf);
  const Id made = new_supply(recipe::SupplyKind::curing_mix, {}, {});
  if (!made.empty()) drafts.supplies[made].wanted_by = recipe;
}

void Session::use_packet() {
  const Id id = std::exchange(drafts.supplies[view.supply].wanted_by, {});
  const auto recipe = book.recipe(id);
  if (!recipe) return;
  recipe::Recipe bound = *recipe;
  bound.mix.supply = view.supply.text;
  change_recipe(id, bound);
  go_to(Place::bench);
  view.recipe = id;
  open_leaf(BenchLeaf::sheet);
}

bool Session::change_settings(const book::Settings& settings, const std::string& name) {
  book::EditBuilder edit(book, name);
  edit.put(settings);
  const Result<Done> done = apply(edit);
  if (!done.ok()) tell_wrong(words::sentence(language, done.error()));
  return done.ok();
}

Grams Session::meat(const Id& recipe) const { return book::meat_on_tray(book.settings(), recipe); }

void Session::set_meat(const Id& recipe, Grams meat) {
  book::Settings settings = book.settings();
  book::set_meat_on_tray(settings, recipe, meat);
  book::EditBuilder edit(book, "edit_meat");
  edit.put(settings);
  (void)apply(edit);
}

plan::Batch Session::new_batch(const Id& recipe_id) const {
  plan::Batch batch;
  const auto recipe = book.recipe(recipe_id);
  if (!recipe) return batch;
  batch.name = recipe->name;
  batch.recipe = recipe_id;
  batch.made_from = *recipe;
  batch.meat = meat(recipe_id);
  return batch;
}

Result<Done> Session::hang_recipe(const Id& recipe_id, const std::function<void(plan::Batch&)>& finish) {
  const auto recipe = book.recipe(recipe_id);
  if (!recipe) return Error{ErrorCode::not_found, "recipe", recipe_id.text, {}, {}, {}, {}};
  HangDraft& draft = drafts.recipes[recipe_id].hang;
  if (book.batch(draft.made)) {
    go_to_batch(draft.made);
    return Done{};
  }
  const Result<recipe::Sheet> sheet = recipe::scale(*recipe, meat(recipe_id), nullptr, hands());
  if (!sheet.ok()) return sheet.error();
  if (const Result<Done> allowed = recipe::may_be_used(sheet.value()); !allowed.ok()) return allowed.error();

  plan::Batch batch = new_batch(recipe_id);
  const plan::Hanging form = hanging(draft, *recipe);
  batch.begun_on = form.day;
  plan::hang(batch, book.ports(), sheet.value().total, form);
  if (finish) finish(batch);

  book::EditBuilder edit(book, "edit_hang");
  const Id id = edit.create(batch);
  const Result<Done> done = apply(edit);
  if (!done.ok()) return done;
  draft = {};
  draft.made = id;
  view.bench = BenchLeaf::sheet;
  go_to_batch(id);
  return done;
}

void Session::begin_hanging() {
  HangDraft& draft = drafts.recipes[view.recipe].hang;
  if (!draft.made.empty()) draft = {};
  notice.reset();
  open_leaf(BenchLeaf::hang);
}

void Session::open_rails(RailsLeaf leaf, const Id& piece) {
  view.rails = leaf;
  view.piece = piece;
  sent_here = leaf != RailsLeaf::batch;
}

plan::Air Session::usual_air() const {
  std::shared_ptr<const plan::Batch> last;
  for (const Id& id : book.ids(book::Kind::batch)) {
    const auto batch = book.batch(id);
    if (batch && batch->hung && (!last || batch->hung_on >= last->hung_on)) last = batch;
  }
  return last ? last->air : plan::Air{};
}

plan::Hanging Session::hanging(const HangDraft& draft, const recipe::Recipe& recipe) const {
  plan::Hanging form{draft.day.value_or(today()), draft.casing.value_or(recipe.casing_diameter), usual_air()};
  form.air.temperature = draft.temperature.value_or(form.air.temperature);
  form.air.humidity = draft.humidity.value_or(form.air.humidity);
  return form;
}

Result<Done> Session::hang_batch(const Id& id, const std::function<void(plan::Batch&)>& finish) {
  const auto now = book.batch(id);
  if (!now) return Error{ErrorCode::not_found, "batch", id.text, {}, {}, {}, {}};
  if (now->hung) {
    go_to_batch(id);
    return Done{};
  }
  const Result<recipe::Sheet> sheet = plan::sheet_of(*now, hands());
  if (!sheet.ok()) return sheet.error();
  if (const Result<Done> allowed = recipe::may_be_used(sheet.value()); !allowed.ok()) return allowed.error();
  plan::Batch after = *now;
  HangDraft& draft = drafts.batches[id].hang;
  plan::hang(after, book.ports(), sheet.value().total, hanging(draft, after.made_from));
  if (finish) finish(after);
  book::EditBuilder edit(book, "edit_hang");
  edit.put(id, after);
  const Result<Done> done = apply(edit);
  if (!done.ok()) return done;
  draft = {};
  go_to_batch(id);
  return done;
}

Result<Done> Session::weigh(const Id& batch_id, const drying::Weighing& weighing, const Id& instead) {
  const auto now = book.batch(batch_id);
  if (!now) return Error{ErrorCode::not_found, "batch", batch_id.text, {}, {}, {}, {}};
  plan::Batch after = *now;
  std::erase_if(after.weighings, [&instead](const drying::Weighing& other) { return other.id == instead; });
  if (const Result<Done> sound = plan::check_weighing(after, weighing, today()); !sound.ok()) return sound;
  after.weighings.push_back(weighing);
  book::EditBuilder edit(book, "edit_weigh");
  edit.put(batch_id, after);
  return apply(edit);
}

Result<Done> Session::split_batch(const Id& id, const std::vector<PartDraft>& parts) {
  const auto now = book.batch(id);
  if (!now) return Error{ErrorCode::not_found, "batch", id.text, {}, {}, {}, {}};
  std::vector<double> shares;
  for (const PartDraft& part : parts) shares.push_back(part.share);
  Result<std::vector<plan::Batch>> made = plan::split(*now, id, shares);
  if (!made.ok()) return made.error();
  std::vector<plan::Batch> batches = std::move(made).value();
  book::EditBuilder edit(book, "edit_split");
  for (std::size_t i = 0; i < batches.size(); ++i) {
    if (!parts[i].name.empty()) batches[i].name = parts[i].name;
    if (i == 0) {
      edit.put(id, batches[i]);
    } else {
      edit.create(batches[i]);
    }
  }
  return apply(edit);
}

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
