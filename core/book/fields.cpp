#include "core/book/fields.h"

#include <cmath>

namespace saltrafter::book {
namespace {

std::string_view type_name(Node::Type type) {
  switch (type) {
    case Node::Type::null: return "null";
    case Node::Type::boolean: return "true, false";
    case Node::Type::number: return "number";
    case Node::Type::text: return "text";
    case Node::Type::list: return "list";
    case Node::Type::object: return "object";
  }
  return {};
}

constexpr std::string_view kUtcMs = "utc_ms";
constexpr double kLatestMs = 9007199254740992.0;  // 2^53: whole numbers up to here are exact in a double

}  // namespace

Fields::Fields(const Node& node, std::string path, std::optional<Error>& fault)
    : node_(node), path_(std::move(path)), fault_(fault) {
  if (node.type != Node::Type::object && !fault_) {
    fault_ = Error{ErrorCode::wrong_type, path_, found_at(node), std::string(type_name(Node::Type::object)), "", {}, {}};
  }
}

std::string Fields::path(std::string_view key) const {
  return path_.empty() ? std::string(key) : path_ + "/" + std::string(key);
}

void Fields::refuse(ErrorCode code, std::string_view key, const Node& found, std::string expected) {
  if (!fault_) fault_ = Error{code, path(key), found_at(found), std::move(expected), "", {}, {}};
}

const Node* Fields::expect(std::string_view key, Node::Type type) {
  if (fault_) return nullptr;
  const Node* node = node_.find(key);
  if (node == nullptr) {
    fault_ = Error{ErrorCode::missing, path(key), "@" + std::to_string(node_.line), std::string(type_name(type)), "", {}, {}};
    return nullptr;
  }
  if (node->type != type) {
    refuse(ErrorCode::wrong_type, key, *node, std::string(type_name(type)));
    return nullptr;
  }
  return node;
}

std::string Fields::text(std::string_view key, std::size_t longest) {
  const Node* node = expect(key, Node::Type::text);
  if (node == nullptr) return {};
  if (node->text.size() > longest) {
    refuse(ErrorCode::too_large, key, *node, "");
    fault_->unit = "bytes";
    fault_->high = static_cast<double>(longest);
    return {};
  }
  return node->text;
}

std::string Fields::text_not_empty(std::string_view key, std::size_t longest) {
  std::string out = text(key, longest);
  if (out.empty() && ok()) refuse(ErrorCode::missing, key, *node_.find(key), "text");
  return out;
}

Id Fields::id(std::string_view key) {
  const Node* node = expect(key, Node::Type::text);
  if (node == nullptr) return {};
  Result<Id> id = parse_id(node->text);
  if (id.ok()) return id.value();
  refuse(ErrorCode::wrong_type, key, *node, "id");
  return {};
}

Id Fields::optional_id(std::string_view key) {
  const Node* node = expect(key, Node::Type::text);
  if (node == nullptr || node->text.empty()) return {};
  return id(key);
}

Date Fields::date(std::string_view key) {
  const Node* node = expect(key, Node::Type::text);
  if (node == nullptr) return {};
  Result<Date> date = parse_iso_date(node->text);
  if (date.ok()) return date.value();
  refuse(date.error().code, key, *node, "2026-11-25");
  return {};
}

int Fields::whole(std::string_view key, int low, int high) {
  const Node* node = expect(key, Node::Type::number);
  if (node == nullptr) return low;
  if (std::floor(node->number) != node->number) {
    refuse(ErrorCode::wrong_type, key, *node, "whole number");
    return low;
  }
  if (!(node->number >= low && node->number <= high)) {
    refuse(ErrorCode::out_of_range, key, *node, "");
    fault_->low = low;
    fault_->high = high;
    return low;
  }
  return static_cast<int>(node->number);
}

bool Fields::truth(std::string_view key) {
  const Node* node = expect(key, Node::Type::boolean);
  return node != nullptr && node->boolean;
}

bool Fields::there(std::string_view name, std::string_view unit) {
  if (fault_) return false;
  if (unit.empty()) return has(name);
  const std::string start = std::string(name) + "_";
  const std::string key = start + std::string(unit);
  if (has(key)) return true;
  for (std::size_t i = 0; i < node_.keys.size(); ++i) {
    const std::string& other = node_.keys[i];
    if (other.compare(0, start.size(), start) != 0 && other != name) continue;
    const std::string found = other + "@" + std::to_string(node_.items[i].line);
    fault_ = Error{ErrorCode::unknown_unit, path(other), found, key, "", {}, {}};
    return false;
  }
  return false;
}

double Fields::number(std::string_view name, std::string_view unit, double low, double high) {
  (void)there(name, unit);
  const std::string key = unit.empty() ? std::string(name) : std::string(name) + "_" + std::string(unit);
  const Node* node = expect(key, Node::Type::number);
  if (node == nullptr) return low;
  if (!(node->number >= low && node->number <= high)) {
    refuse(ErrorCode::out_of_range, key, *node, "");
    fault_->unit = std::string(unit);
    fault_->low = low;
    fault_->high = high;
    return low;
  }
  return node->number;
}

std::int64_t Fields::instant(std::string_view name) {
  const double ms = number(name, kUtcMs, 0.0, kLatestMs);
  if (std::floor(ms) != ms) {
    const std::string key = std::string(name) + "_" + std::string(kUtcMs);
    refuse(ErrorCode::wrong_type, key, *node_.find(key), "whole number");
    return 0;
  }
  return static_cast<std::int64_t>(ms);
}

std::string Fields::optional_text(std::string_view key, std::size_t longest) {
  return has(key) ? text(key, longest) : std::string();
}

Id Fields::optional_id_or_none(std::string_view key) { return has(key) ? optional_id(key) : Id{}; }

std::vector<Id> Fields::optional_ids(std::string_view key, std::size_t longest) {
  std::vector<Id> ids;
  const Node* list = optional_list(key, longest);
  for (std::size_t i = 0; list != nullptr && i < list->items.size() && ok(); ++i) {
    const Node& item = list->items[i];
    const Result<Id> id = parse_id(item.type == Node::Type::text ? item.text : std::string());
    if (id.ok()) {
      ids.push_back(id.value());
    } else {
      refuse(ErrorCode::wrong_type, std::string(key) + "/" + std::to_string(i), item, "id");
    }
  }
  return ids;
}

std::optional<Date> Fields::optional_date(std::string_view key) {
  if (!has(key)) return std::nullopt;
  return date(key);
}

bool Fields::optional_truth(std::string_view key, bool otherwise) {
  return has(key) ? truth(key) : otherwise;
}

std::optional<double> Fields::optional_number(std::string_view name, std::string_view unit, double low,
                                              double high) {
  if (!there(name, unit)) return std::nullopt;
  return number(name, unit, low, high);
}

double Fields::optional_number(std::string_view name, std::string_view unit, double low, double high,
                               double otherwise) {
  return optional_number(name, unit, low, high).value_or(otherwise);
}

std::optional<std::int64_t> Fields::optional_instant(std::string_view name) {
  if (!there(name, kUtcMs)) return std::nullopt;
  return instant(name);
}

const Node* Fields::optional_object(std::string_view key) { return has(key) ? object(key) : nullptr; }

const Node* Fields::optional_list(std::string_view key, std::size_t longest) {
  return has(key) ? list(key, longest) : nullptr;
}

const Node* Fields::object(std::string_view key) { return expect(key, Node::Type::object); }

const Node* Fields::list(std::string_view key, std::size_t longest) {
  const Node* node = expect(key, Node::Type::list);
  if (node == nullptr || node->items.size() <= longest) return node;
  refuse(ErrorCode::too_large, key, *node, "");
  fault_->unit = "values";
  fault_->high = static_cast<double>(longest);
  return nullptr;
}

void put_number(Node& object, std::string_view key, double value) {
  const Node* old = object.find(key);
  if (old != nullptr && old->type == Node::Type::number && old->number == value) return;
  object.set(key, Node::of_number(value));
}

void put_text(Node& object, std::string_view key, std::string_view value) {
  const Node* old = object.find(key);
  if (old != nullptr && old->type == Node::Type::text && old->text == value) return;
  object.set(key, Node::of_text(std::string(value)));
}

void put_truth(Node& object, std::string_view key, bool value) {
  const Node* old = object.find(key);
  if (old != nullptr && old->type == Node::Type::boolean && old->boolean == value) return;
  object.set(key, Node::of_boolean(value));
}

void put_instant(Node& object, std::string_view key, std::int64_t utc_ms) {
  put_number(object, key, static_cast<double>(utc_ms));
}

void put_number_unless(Node& object, std::string_view key, double value, double otherwise) {
  const Node* old = object.find(key);
  if (value != otherwise) {
    put_number(object, key, value);
  } else if (old != nullptr && !(old->type == Node::Type::number && old->number == value)) {
    object.erase(key);
  }
}

void put_text_unless(Node& object, std::string_view key, std::string_view value, std::string_view otherwise) {
  const Node* old = object.find(key);
  if (value != otherwise) {
    put_text(object, key, value);
  } else if (old != nullptr && !(old->type == Node::Type::text && old->text == value)) {
    object.erase(key);
  }
}

void put_truth_unless(Node& object, std::string_view key, bool value, bool otherwise) {
  const Node* old = object.find(key);
  if (value != otherwise) {
    put_truth(object, key, value);
  } else if (old != nullptr && !(old->type == Node::Type::boolean && old->boolean == value)) {
    object.erase(key);
  }
}

void put_optional_number(Node& object, std::string_view key, const std::optional<double>& value) {
  if (value) {
    put_number(object, key, *value);
  } else {
    object.erase(key);
  }
}

void put_texts(Node& object, std::string_view key, const std::vector<std::string>& texts) {
  Node list = Node::list();
  for (const std::string& text : texts) list.items.push_back(Node::of_text(text));
  if (list.items.empty()) {
    object.erase(key);
  } else {
    object.set(key, std::move(list));
  }
}

void put_ids(Node& object, std::string_view key, const std::vector<Id>& ids) {
  std::vector<std::string> texts;
  for (const Id& id : ids) texts.push_back(id.text);
  put_texts(object, key, texts);
}

Node& object_in(Node& object, std::string_view key) {
  const Node* old = object.find(key);
  if (old == nullptr || old->type != Node::Type::object) object.set(key, Node::object());
  return *object.find(key);
}

std::optional<ElementKey> key_of_element(const Node& element) {
  struct Row {
    std::string_view member;
    std::string_view instant;  // that tells one from another of the same; or empty
  };
  constexpr Row kRows[] = {{"id", ""}, {"line", ""}, {"step", "at_utc_ms"}, {"stage", "began_utc_ms"}};
  for (const Row& row : kRows) {
    const Node* own = element.find(row.member);
    if (own == nullptr) continue;
    if (own->type != Node::Type::text) return std::nullopt;
    if (row.instant.empty()) return ElementKey{row.member, own->text};
    const Node* at = element.find(row.instant);
    if (at == nullptr || at->type != Node::Type::number) return std::nullopt;
    return ElementKey{row.member, own->text + "@" + Node::of_number(at->number).text};
  }
  return std::nullopt;
}

std::string key_at(const Id& id, std::int64_t utc_ms) {
  return id.text + "@" + Node::of_number(static_cast<double>(utc_ms)).text;
}

std::map<std::string, const Node*> elements_by_key(const Node* list) {
  std::map<std::string, const Node*> out;
  if (list == nullptr || list->type != Node::Type::list) return out;
  for (const Node& item : list->items) {
    if (const std::optional<ElementKey> key = key_of_element(item)) out.emplace(key->text, &item);
  }
  return out;
}

}  // namespace saltrafter::book
