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

double Fields::number(std::string_view name, std::string_view unit, double low, double high) {
  if (fault_) return low;
  const std::string start = std::string(name) + "_";
  const std::string key = start + std::string(unit);
  if (node_.find(key) == nullptr) {
    for (std::size_t i = 0; i < node_.keys.size(); ++i) {
      const std::string& other = node_.keys[i];
      if (other.compare(0, start.size(), start) != 0 && other != name) continue;
      fault_ = Error{ErrorCode::unknown_unit, path(other), other + "@" + std::to_string(node_.items[i].line), key, "", {}, {}};
      return low;
    }
  }
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

const Node* element_of(const Node* list, std::string_view id) {
  if (list == nullptr) return nullptr;
  for (const Node& item : list->items) {
    const Node* own = item.find("id");
    if (own != nullptr && own->type == Node::Type::text && own->text == id) return &item;
  }
  return nullptr;
}

}  // namespace saltrafter::book
