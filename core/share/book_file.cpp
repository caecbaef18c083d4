#include "core/share/book_file.h"

#include <set>

#include "core/share/envelope.h"

namespace saltrafter::share {
namespace {

using book::Node;
using book::Record;

constexpr std::size_t kMostRecords = 1000;
constexpr std::size_t kRecordsInOneEdit = 50;

Result<Record> read_one(const Node& node, const std::string& path) {
  const auto wrong = [&](ErrorCode code, const char* key, const Node& at, const char* expected) {
    return Error{code, path + "/" + key, book::found_at(at), expected, "", {}, {}};
  };
  Record record;
  for (const char* key : {"id", "kind"}) {
    const Node* text = node.find(key);
    if (text == nullptr) return wrong(ErrorCode::missing, key, node, "text");
    if (text->type != Node::Type::text) return wrong(ErrorCode::wrong_type, key, *text, "text");
  }
  const Result<Id> id = parse_id(node.find("id")->text);
  if (!id.ok()) return wrong(ErrorCode::wrong_type, "id", *node.find("id"), "id");
  record.id = id.value();
  const std::optional<book::Kind> kind = book::kind_named(node.find("kind")->text);
  if (!kind) {
    return wrong(ErrorCode::unknown_value, "kind", *node.find("kind"),
                 "ingredient, recipe, chamber, batch, air_log, calibration, settings");
  }
  record.kind = *kind;
  for (const char* key : {"schema", "minReader"}) {
    const Node* number = node.find(key);
    if (number == nullptr) return wrong(ErrorCode::missing, key, node, "number");
    if (number->type != Node::Type::number || !(number->number >= 1.0 && number->number <= 1e6)) {
      return wrong(ErrorCode::wrong_type, key, *number, "whole number");
    }
  }
  record.schema = static_cast<int>(node.find("schema")->number);
  record.min_reader = static_cast<int>(node.find("minReader")->number);
  Node rest = node;
  for (const char* key : {"id", "kind", "schema", "minReader"}) rest.erase(key);
  Result<Record> read = book::read_record(record, book::write_tree(rest, book::TextForm::stored));
  if (!read.ok()) {
    Error error = read.error();
    error.field = path + "/" + error.field;
    error.found = book::found_in_text(error).text + "@" + std::to_string(node.line);
    return error;
  }
  if (read.value().read_only()) return read;
  // Checked on the tree of the file, so that a fault names the file's own line.
  const Node& data = *node.find("data");
  const Result<Done> checked = book::check_data(record.kind, data, path + "/data");
  if (!checked.ok()) return checked.error();
  return read;
}

}  // namespace

std::string write_book_file(const book::Book& book) {
  Node root = open_envelope(kBookFormat);
  root.set("saved_on", Node::of_text(iso_date(today(book.ports()))));
  Node list = Node::list();
  for (const book::RecordPtr& record : book.records()) {
    Node node = Node::object();
    node.set("id", Node::of_text(record->id.text));
    node.set("kind", Node::of_text(std::string(book::kind_name(record->kind))));
    node.set("schema", Node::of_number(record->schema));
    node.set("minReader", Node::of_number(record->min_reader));
    const Result<Node> content = book::read_tree(book::write_record(*record), book::kRecordLimits);
    if (!content.ok()) continue;
    for (std::size_t i = 0; i < content.value().keys.size(); ++i) {
      node.set(content.value().keys[i], content.value().items[i]);
    }
    list.items.push_back(std::move(node));
  }
  root.set("records", std::move(list));
  return book::write_tree(root, book::TextForm::file);
}

Result<BookFile> read_book_file(std::string_view text) {
  const Result<Envelope> envelope = read_envelope(text, kBookFormat, book::kBookLimits);
  if (!envelope.ok()) return envelope.error();
  BookFile file;
  file.read_only = envelope.value().min_reader > book::kSchema;
  const Node* records = envelope.value().root.find("records");
  if (records == nullptr || records->type != Node::Type::list) {
    const Node& at = records != nullptr ? *records : envelope.value().root;
    return Error{records != nullptr ? ErrorCode::wrong_type : ErrorCode::missing, "records", book::found_at(at), "list",
                 "", {}, {}};
  }
  if (records->items.size() > kMostRecords) {
    Error error{ErrorCode::too_large, "records", book::found_at(*records), "", "values", {}, {}};
    error.high = static_cast<double>(kMostRecords);
    return error;
  }
  std::set<Id> seen;
  for (std::size_t i = 0; i < records->items.size(); ++i) {
    const std::string path = "records/" + std::to_string(i);
    Result<Record> record = read_one(records->items[i], path);
    if (!record.ok()) return record.error();
    if (!seen.insert(record.value().id).second) {
      return Error{ErrorCode::duplicate_key, path + "/id", book::found_at(*records->items[i].find("id")), "", "", {}, {}};
    }
    file.read_only = file.read_only || record.value().read_only();
    file.records.push_back(std::make_shared<const Record>(std::move(record).value()));
  }
  return file;
}

std::vector<book::Edit> restore(const book::Book& book, const BookFile& file) {
  std::vector<book::Edit> edits;
  for (std::size_t from = 0; from < file.records.size(); from += kRecordsInOneEdit) {
    book::EditBuilder edit(book, "edit.restore");
    for (std::size_t i = from; i < file.records.size() && i < from + kRecordsInOneEdit; ++i) {
      if (!file.records[i]->read_only()) edit.bring(*file.records[i]);
    }
    book::Edit done = edit.done();
    if (!done.changes.empty() || done.fault) edits.push_back(std::move(done));
  }
  return edits;
}

}  // namespace saltrafter::share
