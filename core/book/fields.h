// Reads typed members out of a tree: type, range, closed lists, units. The first fault is kept.
#pragma once

#include <algorithm>
#include <array>
#include <cstdint>
#include <map>
#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "core/base/base.h"
#include "core/book/tree.h"

namespace saltrafter::book {

// The words of a closed list, as they stand in files. A word that is not there is an error, never a default.
template <class Value, std::size_t N>
using WordTable = std::array<std::pair<Value, std::string_view>, N>;

template <class Value, std::size_t N>
std::string_view word_of(const WordTable<Value, N>& table, Value value) {
  for (const auto& row : table) {
    if (row.first == value) return row.second;
  }
  return {};
}

class Fields {
 public:
  // `path` is the path of `node`, empty at the root. A node that is no object is a fault.
  Fields(const Node& node, std::string path, std::optional<Error>& fault);

  bool has(std::string_view key) const { return node_.find(key) != nullptr; }

  // A text of at most `longest` bytes; empty and a fault when it is missing or too long.
  std::string text(std::string_view key, std::size_t longest);
  std::string text_not_empty(std::string_view key, std::size_t longest);
  Id id(std::string_view key);
  Id optional_id(std::string_view key);  // an empty text is an empty id
  Date date(std::string_view key);
  bool truth(std::string_view key);
  int whole(std::string_view key, int low, int high);
  // The member `name_unit`, or `name` where `unit` is empty. Where there is a unit and only another
  // `name_...` stands there, the unit is the fault.
  double number(std::string_view name, std::string_view unit, double low, double high);
  // The member `name_utc_ms`: a whole number of milliseconds, 0..2^53.
  std::int64_t instant(std::string_view name);
  // Lists and objects: nullptr when missing or of another type.
  const Node* object(std::string_view key);
  const Node* list(std::string_view key, std::size_t longest);

  // The same where a member may be absent: a default of the caller's, or nothing. One that is there is held
  // to the same rules.
  std::string optional_text(std::string_view key, std::size_t longest);
  Id optional_id_or_none(std::string_view key);
  std::optional<Date> optional_date(std::string_view key);
  bool optional_truth(std::string_view key, bool otherwise);
  std::optional<double> optional_number(std::string_view name, std::string_view unit, double low,
                                        double high);
  double optional_number(std::string_view name, std::string_view unit, double low, double high,
                         double otherwise);
  std::optional<std::int64_t> optional_instant(std::string_view name);
  const Node* optional_object(std::string_view key);
  const Node* optional_list(std::string_view key, std::size_t longest);

  // A list of ids, and one of words of a closed list, each taken once; empty where it is absent.
  std::vector<Id> optional_ids(std::string_view key, std::size_t longest);
  template <class Value, std::size_t N>
  std::vector<Value> optional_words(std::string_view key, const WordTable<Value, N>& table) {
    std::vector<Value> values;
    const Node* words = optional_list(key, N);
    for (std::size_t i = 0; words != nullptr && i < words->items.size() && ok(); ++i) {
      // Each word is read as the member of an object, so that its path and its faults are as ever.
      Node one = Node::object();
      const std::string place = std::to_string(i);
      one.set(place, words->items[i]);
      const Value value = Fields(one, path(key), fault_).word(place, table);
      if (std::find(values.begin(), values.end(), value) == values.end()) values.push_back(value);
    }
    return values;
  }

  template <class Value, std::size_t N>
  Value optional_word(std::string_view key, const WordTable<Value, N>& table, Value otherwise) {
    return has(key) ? word(key, table) : otherwise;
  }

  template <class Value, std::size_t N>
  Value word(std::string_view key, const WordTable<Value, N>& table) {
    const Node* node = expect(key, Node::Type::text);
    if (node == nullptr) return table[0].first;
    for (const auto& row : table) {
      if (row.second == node->text) return row.first;
    }
    std::string words;
    for (const auto& row : table) words += (words.empty() ? "" : ", ") + std::string(row.second);
    refuse(ErrorCode::unknown_value, key, *node, std::move(words));
    return table[0].first;
  }

  void refuse(ErrorCode code, std::string_view key, const Node& found, std::string expected);
  std::string path(std::string_view key) const;
  bool ok() const { return !fault_.has_value(); }

 private:
  const Node* expect(std::string_view key, Node::Type type);
  // Whether `name_unit` is there; the fault where it is there in another unit only.
  bool there(std::string_view name, std::string_view unit);

  const Node& node_;
  std::string path_;
  std::optional<Error>& fault_;
};

// Puts a value into an object; an equal value keeps its digits as they were.
void put_number(Node& object, std::string_view key, double value);
void put_text(Node& object, std::string_view key, std::string_view value);
void put_truth(Node& object, std::string_view key, bool value);
void put_instant(Node& object, std::string_view key, std::int64_t utc_ms);

// The same for members that may be absent: what says no more than their absence is not written, so that a
// record of an earlier program stays as it is, and no stamp is set on a member that nobody changed.
void put_number_unless(Node& object, std::string_view key, double value, double otherwise);
void put_text_unless(Node& object, std::string_view key, std::string_view value,
                     std::string_view otherwise = {});
void put_truth_unless(Node& object, std::string_view key, bool value, bool otherwise);
void put_optional_number(Node& object, std::string_view key, const std::optional<double>& value);
template <class Unit>
void put_optional_number(Node& object, std::string_view key, const std::optional<Quantity<Unit>>& quantity) {
  put_optional_number(object, key, quantity ? std::optional<double>(quantity->value) : std::nullopt);
}

// A list of texts; an empty one is not written.
void put_texts(Node& object, std::string_view key, const std::vector<std::string>& texts);
void put_ids(Node& object, std::string_view key, const std::vector<Id>& ids);
template <class Value, std::size_t N>
void put_words(Node& object, std::string_view key, const WordTable<Value, N>& table,
               const std::vector<Value>& values) {
  std::vector<std::string> words;
  for (const Value value : values) words.emplace_back(word_of(table, value));
  put_texts(object, key, words);
}

// The object under that key, made where there is none.
Node& object_in(Node& object, std::string_view key);

// What tells an element of a list from the others: its "id"; of what belongs to something else that thing's
// id ("line"), with the instant where it can happen again ("step" with "at_utc_ms", "stage" with
// "began_utc_ms").
struct ElementKey {
  std::string_view member;  // whose value it is
  std::string text;
};
std::optional<ElementKey> key_of_element(const Node& element);
std::string key_at(const Id& id, std::int64_t utc_ms);  // as `text` of what can happen again

// The elements of a list by their keys; of two with one key the first.
std::map<std::string, const Node*> elements_by_key(const Node* list);

// A list of things, each laid over the earlier element of its key. An empty list that was not there stays
// away.
template <class Thing, class KeyOf, class Encode>
void encode_keyed(const std::vector<Thing>& things, Node& onto, std::string_view key, KeyOf key_of,
                  Encode encode_one) {
  const Node* earlier = onto.find(key);
  if (things.empty() && earlier == nullptr) return;
  Node list = Node::list();
  const std::map<std::string, const Node*> old = elements_by_key(earlier);
  for (const Thing& thing : things) {
    const auto found = old.find(key_of(thing));
    Node node = found != old.end() ? *found->second : Node::object();
    encode_one(thing, node);
    list.items.push_back(std::move(node));
  }
  onto.set(key, std::move(list));
}

template <class Thing, class Encode>
void encode_list(const std::vector<Thing>& things, Node& onto, std::string_view key, Encode encode_one) {
  encode_keyed(things, onto, key, [](const Thing& thing) { return thing.id.text; }, encode_one);
}

// The things of a list (nullptr: none), no key twice.
template <class Thing, class Decode>
std::vector<Thing> decode_list(const Node* list, const std::string& path, std::optional<Error>& fault,
                               Decode decode_one) {
  std::vector<Thing> things;
  if (list == nullptr) return things;
  std::set<std::string> seen;
  for (std::size_t i = 0; i < list->items.size() && !fault; ++i) {
    const Node& item = list->items[i];
    const std::string item_path = path + "/" + std::to_string(i);
    things.push_back(decode_one(item, item_path, fault));
    if (fault) break;
    const std::optional<ElementKey> key = key_of_element(item);
    if (key && !seen.insert(key->text).second) {
      const Node& own = *item.find(key->member);
      Fields(item, item_path, fault).refuse(ErrorCode::duplicate_key, key->member, own, "");
    }
  }
  return things;
}

}  // namespace saltrafter::book
