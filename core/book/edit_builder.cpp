#include "core/book/document.h"
#include "core/book/tree.h"

namespace saltrafter::book {

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
