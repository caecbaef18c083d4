#include "core/book/record.h"

#include <array>
#include <utility>

#include "core/book/fields.h"
#include "core/book/tree.h"

namespace saltrafter::book {
namespace {

constexpr std::array<std::pair<Kind, std::string_view>, 7> kKinds{{
    {Kind::ingredient, "ingredient"},
    {Kind::recipe, "recipe"},
    {Kind::chamber, "chamber"},
    {Kind::batch, "batch"},
    {Kind::air_log, "air_log"},
    {Kind::calibration, "calibration"},
    {Kind::settings, "settings"},
}};

bool known_member(std::string_view key) { return key == "data" || key == "stamps" || key == "deleted" || key == "edit"; }

}  // namespace

std::string_view kind_name(Kind kind) {
  for (const auto& row : kKinds) {
    if (row.first == kind) return row.second;
  }
  return {};
}

std::optional<Kind> kind_named(std::string_view name) {
  for (const auto& row : kKinds) {
    if (row.second == name) return row.first;
  }
  return std::nullopt;
}

std::string write_record(const Record& record) {
  // The data is canonical text already: it goes in as it is.
  std::string out = "{\"data\":" + record.data;
  if (!record.stamps.empty()) {
    Node stamps = Node::object();
    for (const auto& entry : record.stamps) {
      Node stamp = Node::list();
      stamp.items.push_back(Node::of_number(static_cast<double>(entry.second.ms)));
      stamp.items.push_back(Node::of_text(entry.second.device));
      stamps.keys.push_back(entry.first);
      stamps.items.push_back(std::move(stamp));
    }
    out += ",\"stamps\":" + write_tree(stamps, TextForm::stored);
  }
  if (record.deleted) out += ",\"deleted\":true";
  if (record.extra.size() > 2) out += "," + record.extra.substr(1, record.extra.size() - 2);
  return out + "}";
}

Result<Record> read_record(Record record, std::string_view text) {
  Result<Node> tree = read_tree(text, kRecordLimits);
  if (!tree.ok()) return tree.error();
  const Node& root = tree.value();
  std::optional<Error> fault;
  Fields fields(root, "", fault);
  const Node* data = fields.object("data");
  if (data != nullptr) record.data = write_tree(*data, TextForm::stored);
  if (const Node* stamps = root.find("stamps")) {
    Fields rows(*stamps, "stamps", fault);
    for (std::size_t i = 0; i < stamps->keys.size() && !fault; ++i) {
      const Node& row = stamps->items[i];
      constexpr double kLatest = 9e15;  // whole numbers up to here are exact in a double
      if (row.type != Node::Type::list || row.items.size() != 2 || row.items[0].type != Node::Type::number ||
          row.items[1].type != Node::Type::text || !(row.items[0].number >= 0.0 && row.items[0].number < kLatest)) {
        rows.refuse(ErrorCode::wrong_type, stamps->keys[i], row, "[ms, device]");
        break;
      }
      record.stamps[stamps->keys[i]] = {static_cast<std::int64_t>(row.items[0].number), row.items[1].text};
    }
  }
  if (const Node* deleted = root.find("deleted")) {
    if (deleted->type != Node::Type::boolean) fields.refuse(ErrorCode::wrong_type, "deleted", *deleted, "true");
    record.deleted = deleted->boolean;
  }
  if (fault) return *fault;
  Node extra = Node::object();
  for (std::size_t i = 0; i < root.keys.size(); ++i) {
    if (!known_member(root.keys[i])) extra.set(root.keys[i], root.items[i]);
  }
  if (!extra.keys.empty()) record.extra = write_tree(extra, TextForm::stored);
  return record;
}

}  // namespace saltrafter::book
