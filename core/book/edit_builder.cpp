#include "core/book/document.h"
#include "core/book/fields.h"
#include "core/book/tree.h"

namespace saltrafter::book {
namespace {

constexpr std::string_view kRevisions = "revisions";

}  // namespace

EditBuilder::EditBuilder(const Book& book, std::string name) : book_(book) { edit_.name = std::move(name); }

void EditBuilder::refuse(Error error) {
  if (!edit_.fault) edit_.fault = std::move(error);
}

// What an id stands for at this point of the edit: its own change so far, or the book's record.
RecordPtr EditBuilder::find(const Id& id) const {
  for (const Change& change : edit_.changes) {
    if (change.id == id) return change.after;
  }
  return book_.find(id);
}

void EditBuilder::add(const Id& id, Record after, RecordPtr before) {
  RecordPtr made = std::make_shared<const Record>(std::move(after));
  for (Change& change : edit_.changes) {
    if (change.id == id) {
      change.after = std::move(made);
      return;
    }
  }
  edit_.changes.push_back({id, std::move(before), std::move(made)});
}

template <class Value>
Id EditBuilder::create_typed(Kind kind, const Value& value) {
  Node data = Node::object();
  encode(value, data);
  return create(kind, write_tree(data, TextForm::stored));
}

Id EditBuilder::create(const recipe::Recipe& recipe) { return create_typed(Kind::recipe, recipe); }
Id EditBuilder::create(const plan::Batch& batch) { return create_typed(Kind::batch, batch); }
Id EditBuilder::create(const recipe::Supply& supply) { return create_typed(Kind::ingredient, supply); }
Id EditBuilder::create(const plan::Chamber& chamber) { return create_typed(Kind::chamber, chamber); }

Id EditBuilder::create(Kind kind, std::string_view data) {
  const Id id = make_id(book_.ports());
  Result<Node> tree = read_tree(data, kRecordLimits);
  if (!tree.ok()) {
    refuse(tree.error());
    return id;
  }
  Record record;
  record.id = id;
  record.kind = kind;
  record.data = write_tree(tree.value(), TextForm::stored);
  add(id, std::move(record), nullptr);
  return id;
}

template <class Value>
void EditBuilder::put_typed(const Id& id, Kind kind, const Value& value) {
  const RecordPtr before = find(id);
  Node data = Node::object();
  if (before != nullptr) {
    Result<Node> earlier = read_tree(before->data, kRecordLimits);
    if (earlier.ok()) data = std::move(earlier).value();
  }
  encode(value, data);
  put(id, kind, write_tree(data, TextForm::stored));
}

EditBuilder& EditBuilder::put(const Id& id, const recipe::Recipe& recipe) {
  put_typed(id, Kind::recipe, recipe);
  return *this;
}

EditBuilder& EditBuilder::put(const Id& id, const plan::Batch& batch) {
  put_typed(id, Kind::batch, batch);
  return *this;
}

EditBuilder& EditBuilder::put(const Id& id, const recipe::Supply& supply) {
  put_typed(id, Kind::ingredient, supply);
  return *this;
}

EditBuilder& EditBuilder::put(const Id& id, const plan::Chamber& chamber) {
  put_typed(id, Kind::chamber, chamber);
  return *this;
}

EditBuilder& EditBuilder::revise(const Id& id, const recipe::Recipe& recipe, const std::string& why) {
  const RecordPtr before = find(id);
  if (before == nullptr || before->kind != Kind::recipe) return put(id, recipe);  // which is its fault
  Result<Node> earlier = read_tree(before->data, kRecordLimits);
  if (!earlier.ok()) {
    refuse(earlier.error());
    return *this;
  }
  Node data = std::move(earlier).value();
  const Result<recipe::Recipe> was = decode_recipe(data);
  if (was.ok() && was.value() == recipe) return *this;
  // The earlier state goes in as it stands, with what this program does not know of it.
  Node state = data;
  state.erase(kRevisions);
  Node revision = Node::object();
  put_text(revision, "id", make_id(book_.ports()).text);
  put_text(revision, "until", iso_date(today(book_.ports())));
  put_text_unless(revision, "why", why);
  revision.set("was", std::move(state));
  Node* kept = data.find(kRevisions);
  if (kept == nullptr || kept->type != Node::Type::list) {
    data.set(kRevisions, Node::list());
    kept = data.find(kRevisions);
  }
  kept->items.push_back(std::move(revision));
  encode(recipe, data);
  return put(id, Kind::recipe, write_tree(data, TextForm::stored));
}

EditBuilder& EditBuilder::explain(const Id& id, const std::string& why) {
  const RecordPtr before = find(id);
  Result<Node> earlier = read_tree(before != nullptr ? before->data : "{}", kRecordLimits);
  Node data = earlier.ok() ? std::move(earlier).value() : Node::object();
  Node* kept = data.find(kRevisions);
  if (kept == nullptr || kept->items.empty()) {
    refuse({ErrorCode::not_found, std::string(kRevisions), id.text, "", "", {}, {}});
    return *this;
  }
  put_text_unless(kept->items.back(), "why", why);
  return put(id, Kind::recipe, write_tree(data, TextForm::stored));
}

EditBuilder& EditBuilder::put(const Id& id, Kind kind, std::string_view data) {
  const RecordPtr before = find(id);
  if (before == nullptr || before->deleted || before->kind != kind) {
    refuse({ErrorCode::not_found, "id", id.text, std::string(kind_name(kind)), "", {}, {}});
    return *this;
  }
  Result<Node> tree = read_tree(data, kRecordLimits);
  if (!tree.ok()) {
    refuse(tree.error());
    return *this;
  }
  Record record = *before;
  record.data = write_tree(tree.value(), TextForm::stored);
  add(id, std::move(record), before);
  return *this;
}

EditBuilder& EditBuilder::put(const Settings& settings) {
  for (const Id& id : book_.ids(Kind::settings)) {
    put_typed(id, Kind::settings, settings);
    return *this;
  }
  create_typed(Kind::settings, settings);
  return *this;
}

EditBuilder& EditBuilder::remove(const Id& id) {
  const RecordPtr before = find(id);
  if (before == nullptr || before->deleted) {
    refuse({ErrorCode::not_found, "id", id.text, "", "", {}, {}});
    return *this;
  }
  Record record = *before;
  record.deleted = true;
  add(id, std::move(record), before);
  return *this;
}

EditBuilder& EditBuilder::bring(const Record& record) {
  const RecordPtr before = find(record.id);
  if (record.deleted || (before != nullptr && before->kind == record.kind && before->data == record.data)) {
    return *this;
  }
  if (before != nullptr) return put(record.id, record.kind, record.data);
  add(record.id, record, nullptr);
  return *this;
}

}  // namespace saltrafter::book
