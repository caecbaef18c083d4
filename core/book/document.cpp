#include "core/book/document.h"

#include <algorithm>
#include <set>

#include "core/book/changes.h"
#include "core/book/fields.h"
#include "core/book/tree.h"

namespace saltrafter::book {
namespace {

constexpr std::size_t kLongestHistory = 200;  // edits kept for undo; choice

bool absent(const RecordPtr& record) { return record == nullptr || record->deleted; }

// Equal as far as a person sees it: stamps may differ after undo and redo.
bool same_content(const RecordPtr& a, const RecordPtr& b) {
  if (absent(a) || absent(b)) return absent(a) && absent(b);
  return a == b || (a->kind == b->kind && a->data == b->data);
}

// The same record, bit for bit.
bool same_record(const RecordPtr& a, const RecordPtr& b) {
  if (a == nullptr || b == nullptr) return absent(a) && absent(b);
  return a == b || *a == *b;
}

std::vector<std::string> paths_changed(const RecordPtr& before, const Record& after) {
  std::vector<std::string> paths;
  if (before == nullptr) return paths;  // a new record: its fields have no history yet
  if (before->deleted != after.deleted) paths.emplace_back("deleted");
  if (before->data != after.data) {
    const Result<Node> a = read_tree(before->data, kRecordLimits);
    const Result<Node> b = read_tree(after.data, kRecordLimits);
    if (a.ok() && b.ok()) {
      for (std::string& path : changed_paths(&a.value(), &b.value())) paths.push_back(std::move(path));
    }
  }
  return paths;
}

template <class Value>
Result<Done> done_or_error(const Result<Value>& value) {
  if (!value.ok()) return value.error();
  return Done{};
}

}  // namespace

Result<Done> check_data(Kind kind, const Node& data, const std::string& path) {
  switch (kind) {
    case Kind::ingredient: return done_or_error(decode_supply(data, path));
    case Kind::batch: return done_or_error(decode_batch(data, path));
    case Kind::settings: return done_or_error(decode_settings(data, path));
    case Kind::recipe: {
      const Result<Done> recipe = done_or_error(decode_recipe(data, path));
      return recipe.ok() ? done_or_error(decode_revisions(data, path)) : recipe;
    }
    case Kind::chamber: return done_or_error(decode_chamber(data, path));
    case Kind::air_log:
    case Kind::calibration: break;
  }
  std::optional<Error> fault;
  const Fields any(data, path, fault);
  if (fault) return *fault;
  return Done{};
}

Result<Done> check_record(const Record& record) {
  const Result<Node> tree = read_tree(record.data, kRecordLimits);
  if (!tree.ok()) return tree.error();
  return check_data(record.kind, tree.value());
}

Book::Book(Ports ports, std::string device, const std::vector<RecordPtr>& records)
    : ports_(std::move(ports)), device_(std::move(device)) {
  if (device_.empty()) device_ = make_id(ports_).text;
  adopt(records);
}

void Book::adopt(const std::vector<RecordPtr>& records) {
  records_.clear();
  undo_.clear();
  redo_.clear();
  for (const RecordPtr& record : records) {
    records_[record->id] = record;
    for (const auto& entry : record->stamps) last_stamp_ = std::max(last_stamp_, entry.second.ms);
  }
  ++edition_;
}

RecordPtr Book::current(const Id& id) const {
  const auto found = records_.find(id);
  return found != records_.end() ? found->second : nullptr;
}

RecordPtr Book::find(const Id& id) const {
  RecordPtr record = current(id);
  return absent(record) ? nullptr : record;
}

std::vector<Id> Book::ids(Kind kind) const {
  std::vector<Id> out;
  for (const auto& entry : records_) {
    if (entry.second->kind == kind && !entry.second->deleted) out.push_back(entry.first);
  }
  return out;
}

std::vector<RecordPtr> Book::records() const {
  std::vector<RecordPtr> out;
  for (const auto& entry : records_) out.push_back(entry.second);
  return out;
}

Book::Decoded& Book::decoded(const Id& id, const RecordPtr& record) const {
  Decoded& cached = decoded_[id];
  if (cached.of == record) return cached;
  cached = Decoded{record, nullptr, nullptr, nullptr, nullptr, nullptr};
  const Result<Node> tree = read_tree(record->data, kRecordLimits);
  if (!tree.ok()) return cached;
  if (record->kind == Kind::recipe) {
    Result<recipe::Recipe> value = decode_recipe(tree.value());
    if (value.ok()) cached.recipe = std::make_shared<const recipe::Recipe>(std::move(value).value());
  } else if (record->kind == Kind::batch) {
    Result<plan::Batch> value = decode_batch(tree.value());
    if (value.ok()) cached.batch = std::make_shared<const plan::Batch>(std::move(value).value());
  } else if (record->kind == Kind::ingredient) {
    Result<recipe::Supply> value = decode_supply(tree.value());
    if (value.ok()) {
      recipe::Supply supply = std::move(value).value();
      supply.key = id.text;
      cached.supply = std::make_shared<const recipe::Supply>(std::move(supply));
    }
  } else if (record->kind == Kind::chamber) {
    Result<plan::Chamber> value = decode_chamber(tree.value());
    if (value.ok()) cached.chamber = std::make_shared<const plan::Chamber>(std::move(value).value());
  }
  return cached;
}

std::shared_ptr<const recipe::Recipe> Book::recipe(const Id& id) const {
  const RecordPtr record = find(id);
  return record != nullptr ? decoded(id, record).recipe : nullptr;
}

std::shared_ptr<const plan::Batch> Book::batch(const Id& id) const {
  const RecordPtr record = find(id);
  return record != nullptr ? decoded(id, record).batch : nullptr;
}

std::shared_ptr<const recipe::Supply> Book::supply(const Id& id) const {
  const RecordPtr record = find(id);
  return record != nullptr ? decoded(id, record).supply : nullptr;
}

std::shared_ptr<const plan::Chamber> Book::chamber(const Id& id) const {
  const RecordPtr record = find(id);
  return record != nullptr ? decoded(id, record).chamber : nullptr;
}

KeptChamber Book::the_chamber() const {
  for (const Id& id : ids(Kind::chamber)) {
    if (auto kept = chamber(id)) return {id, std::move(kept)};
  }
  return {{}, no_chamber_};
}

recipe::Supplies Book::supplies() const {
  recipe::Supplies out;
  for (const Id& id : ids(Kind::ingredient)) {
    if (const std::shared_ptr<const recipe::Supply> one = supply(id)) out.push_back(*one);
  }
  return out;
}

std::vector<recipe::Revision> Book::revisions(const Id& recipe) const {
  const RecordPtr record = find(recipe);
  if (record == nullptr || record->kind != Kind::recipe) return {};
  Decoded& cached = decoded(recipe, record);
  if (cached.revisions == nullptr) {
    std::vector<recipe::Revision> out;
    const Result<Node> tree = read_tree(record->data, kRecordLimits);
    if (tree.ok()) {
      Result<std::vector<recipe::Revision>> read = decode_revisions(tree.value());
      if (read.ok()) out = std::move(read).value();
    }
    cached.revisions = std::make_shared<const std::vector<recipe::Revision>>(std::move(out));
  }
  return *cached.revisions;
}

Settings Book::settings() const {
  for (const Id& id : ids(Kind::settings)) {
    const Result<Node> tree = read_tree(find(id)->data, kRecordLimits);
    if (!tree.ok()) continue;
    Result<Settings> settings = decode_settings(tree.value());
    if (settings.ok()) return std::move(settings).value();
  }
  return {};
}

std::int64_t Book::next_stamp() const {
  const std::int64_t now = ports_.now_utc_ms ? ports_.now_utc_ms() : 0;
  return std::max(now, last_stamp_ + 1);
}

// Stamps what has changed and puts it in place; the caller has checked what a caller must.
Result<Done> Book::commit(Edit edit) {
  const std::int64_t stamp_ms = next_stamp();
  for (Change& change : edit.changes) {
    Record after = *change.after;
    after.id = change.id;
    const RecordPtr before = current(change.id);
    if (before != nullptr) {
      if (before->read_only()) return Error{ErrorCode::read_only, "id", change.id.text, "", "", {}, {}};
      after.schema = std::max(before->schema, kSchema);
      after.min_reader = std::max(before->min_reader, kMinReader);
      after.extra = before->extra;
      after.stamps = before->stamps;
    }
    const Result<Done> checked = check_record(after);
    if (!checked.ok()) return checked.error();
    for (const std::string& path : paths_changed(before, after)) after.stamps[path] = {stamp_ms, device_};
    change.before = before;
    change.after = std::make_shared<const Record>(std::move(after));
  }
  for (const Change& change : edit.changes) records_[change.id] = change.after;
  last_stamp_ = stamp_ms;
  ++edition_;
  news_.push_back(std::move(edit));
  return Done{};
}

Result<Done> Book::apply(Edit edit) {
  if (edit.fault) return *edit.fault;
  std::set<Id> seen;
  for (const Change& change : edit.changes) {
    const bool known = change.after != nullptr && !change.id.empty();
    if (!known || !seen.insert(change.id).second || !same_record(change.before, current(change.id))) {
      return Error{ErrorCode::refused, "before", change.id.text, "", "", {}, {}};
    }
  }
  if (edit.changes.empty()) return Done{};
  const Result<Done> done = commit(std::move(edit));
  if (!done.ok()) return done;
  undo_.push_back(news_.back());
  if (undo_.size() > kLongestHistory) undo_.erase(undo_.begin());
  redo_.clear();
  return done;
}

Result<Done> Book::reverse(const Edit& edit, bool back) {
  Edit turned;
  turned.name = edit.name;
  for (const Change& change : edit.changes) {
    const RecordPtr& from = back ? change.after : change.before;
    const RecordPtr& to = back ? change.before : change.after;
    const RecordPtr now = current(change.id);
    if (!same_content(now, from)) return Error{ErrorCode::refused, "before", change.id.text, "", "", {}, {}};
    Record record = to != nullptr ? *to : *now;
    if (to == nullptr) record.deleted = true;
    turned.changes.push_back({change.id, now, std::make_shared<const Record>(std::move(record))});
  }
  return commit(std::move(turned));
}

Result<Done> Book::undo() {
  if (undo_.empty()) return Error{ErrorCode::not_found, "undo", "", "", "", {}, {}};
  const Result<Done> done = reverse(undo_.back(), true);
  if (!done.ok()) return done;
  redo_.push_back(std::move(undo_.back()));
  undo_.pop_back();
  return done;
}

Result<Done> Book::redo() {
  if (redo_.empty()) return Error{ErrorCode::not_found, "redo", "", "", "", {}, {}};
  const Result<Done> done = reverse(redo_.back(), false);
  if (!done.ok()) return done;
  undo_.push_back(std::move(redo_.back()));
  redo_.pop_back();
  return done;
}

std::optional<std::string> Book::can_undo() const {
  if (undo_.empty()) return std::nullopt;
  return undo_.back().name;
}

std::optional<std::string> Book::can_redo() const {
  if (redo_.empty()) return std::nullopt;
  return redo_.back().name;
}

std::vector<Edit> Book::take_news() {
  std::vector<Edit> news;
  news.swap(news_);
  return news;
}

}  // namespace saltrafter::book
