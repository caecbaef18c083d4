#include "core/book/changes.h"

#include <algorithm>
#include <map>

#include "core/book/fields.h"

namespace saltrafter::book {
namespace {

using Elements = std::map<std::string, const Node*>;

std::vector<std::string> keys_of(const Node& list) {
  std::vector<std::string> keys;
  for (const Node& item : list.items) keys.push_back(key_of_element(item).value_or(ElementKey{}).text);
  return keys;
}

// Every element is an object with a key of its own.
bool has_keys(const Node& list) {
  if (list.type != Node::Type::list) return false;
  return elements_by_key(&list).size() == list.items.size();
}

const Node* at(const Elements& elements, const std::string& key) {
  const auto found = elements.find(key);
  return found != elements.end() ? found->second : nullptr;
}

void walk(const Node* before, const Node* after, const std::string& path, std::vector<std::string>& out) {
  if (before == nullptr && after == nullptr) return;
  if (before == nullptr || after == nullptr || before->type != after->type) {
    out.push_back(path);
    return;
  }
  if (*before == *after) return;
  const std::string start = path.empty() ? "" : path + "/";
  if (before->type == Node::Type::object) {
    for (std::size_t i = 0; i < before->keys.size(); ++i) {
      walk(&before->items[i], after->find(before->keys[i]), start + before->keys[i], out);
    }
    for (std::size_t i = 0; i < after->keys.size(); ++i) {
      if (before->find(after->keys[i]) == nullptr) out.push_back(start + after->keys[i]);
    }
  } else if (has_keys(*before) && has_keys(*after)) {
    const Elements in_before = elements_by_key(before);
    const Elements in_after = elements_by_key(after);
    std::vector<std::string> kept_before;
    std::vector<std::string> kept_after;
    for (const std::string& key : keys_of(*before)) {
      const Node* other = at(in_after, key);
      walk(at(in_before, key), other, start + key, out);
      if (other != nullptr) kept_before.push_back(key);
    }
    for (const std::string& key : keys_of(*after)) {
      if (at(in_before, key) != nullptr) {
        kept_after.push_back(key);
      } else {
        out.push_back(start + key);
      }
    }
    if (kept_before != kept_after) out.push_back(path);
  } else {
    out.push_back(path);
  }
}

Node carry(const Node& before, const Node& after, const Node& current);

Node carry_object(const Node& before, const Node& after, const Node& current) {
  Node out = Node::object();
  const auto take = [&](const std::string& key) {
    const Node* old = before.find(key);
    const Node* mine = after.find(key);
    const Node* theirs = current.find(key);
    const bool untouched = old == nullptr ? mine == nullptr : mine != nullptr && *old == *mine;
    if (untouched) {
      if (theirs != nullptr) out.set(key, *theirs);
    } else if (mine != nullptr) {
      out.set(key, old != nullptr && theirs != nullptr ? carry(*old, *mine, *theirs) : *mine);
    }
  };
  for (const std::string& key : current.keys) take(key);
  for (const std::string& key : after.keys) {
    if (current.find(key) == nullptr) take(key);
  }
  return out;
}

Node carry_list(const Node& before, const Node& after, const Node& current) {
  Node out = Node::list();
  const Elements in_before = elements_by_key(&before);
  const Elements in_after = elements_by_key(&after);
  const Elements in_current = elements_by_key(&current);
  const auto take = [&](const std::string& key) {
    const Node* old = at(in_before, key);
    const Node* mine = at(in_after, key);
    const Node* theirs = at(in_current, key);
    if (mine == nullptr) {
      // Came there; gone here only if it was here.
      if (old == nullptr && theirs != nullptr) out.items.push_back(*theirs);
      return;
    }
    if (theirs == nullptr) {
      if (old == nullptr || !(*old == *mine)) out.items.push_back(*mine);
      return;
    }
    out.items.push_back(old != nullptr ? carry(*old, *mine, *theirs) : *mine);
  };
  // The side that changed the order gives it; elements of the other side alone follow.
  const bool order_changed = keys_of(before) != keys_of(after);
  const Elements& in_first = order_changed ? in_after : in_current;
  for (const std::string& key : keys_of(order_changed ? after : current)) take(key);
  for (const std::string& key : keys_of(order_changed ? current : after)) {
    if (at(in_first, key) == nullptr) take(key);
  }
  return out;
}

Node carry(const Node& before, const Node& after, const Node& current) {
  if (before == after) return current;
  if (before.type != after.type || after.type != current.type) return after;
  if (after.type == Node::Type::object) return carry_object(before, after, current);
  if (has_keys(before) && has_keys(after) && has_keys(current)) return carry_list(before, after, current);
  return after;
}

}  // namespace

std::vector<std::string> changed_paths(const Node* before, const Node* after) {
  std::vector<std::string> out;
  walk(before, after, "", out);
  std::sort(out.begin(), out.end());
  out.erase(std::unique(out.begin(), out.end()), out.end());
  return out;
}

Node carry_over(const Node& before, const Node& after, const Node& current) { return carry(before, after, current); }

}  // namespace saltrafter::book
