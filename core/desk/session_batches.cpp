// What a session does with batches, their pieces and the chamber.
#include "core/desk/session.h"

#include <algorithm>
#include <utility>

namespace saltrafter::desk {

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

}  // namespace saltrafter::desk
