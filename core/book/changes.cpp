#include "core/book/changes.h"

#include <algorithm>
#include <set>

#include "core/book/fields.h"

namespace saltrafter::book {
namespace {

const std::string* id_of(const Node& node) {
  const Node* id = node.find("id");
  return id != nullptr && id->type == Node::Type::text ? &id->text : nullptr;
}

// Every element is an object with an id of its own.
bool has_ids(const Node& list) {
  if (list.type != Node::Type::list) return false;
  std::set<std::string> seen;
  for (const Node& item : list.items) {
    const std::string* id = id_of(item);
    if (id == nullptr || !seen.insert(*id).second) return false;
  }
  return true;
}

std::vector<std::string> ids_of(const Node& list) {
  std::vector<std::string> ids;
  for (const Node& item : list.items) ids.push_back(*id_of(item));
  return ids;
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
  } else if (has_ids(*before) && has_ids(*after)) {
    std::vector<std::string> kept_before;
    std::vector<std::string> kept_after;
    for (const Node& item : before->items) {
      const Node* other = element_of(after, *id_of(item));
      walk(&item, other, start + *id_of(item), out);
      if (other != nullptr) kept_before.push_back(*id_of(item));
    }
    for (const Node& item : after->items) {
      if (element_of(before, *id_of(item)) != nullptr) {
        kept_after.push_back(*id_of(item));
      } else {
        out.push_back(start + *id_of(item));
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
  const auto take = [&](const std::string& id) {
    const Node* old = element_of(&before, id);
    const Node* mine = element_of(&after, id);
    const Node* theirs = element_of(&current, id);
    if (mine == nullptr) {
      if (old == nullptr && theirs != nullptr) out.items.push_back(*theirs);  // came there; gone here only if it was here
      return;
    }
    if (theirs == nullptr) {
      if (old == nullptr || !(*old == *mine)) out.items.push_back(*mine);
      return;
    }
    out.items.push_back(old != nullptr ? carry(*old, *mine, *theirs) : *mine);
  };
  // The side that changed the order gives it; elements of the other side alone follow.
  const bool order_changed = ids_of(before) != ids_of(after);
  const Node& first = order_changed ? after : current;
  const Node& second = order_changed ? current : after;
  for (const Node& item : first.items) take(*id_of(item));
  for (const Node& item : second.items) {
    if (element_of(&first, *id_of(item)) == nullptr) take(*id_of(item));
  }
  return out;
}

Node carry(const Node& before, const Node& after, const Node& current) {
  if (before == after) return current;
  if (before.type != after.type || after.type != current.type) return after;
  if (after.type == Node::Type::object) return carry_object(before, after, current);
  if (has_ids(before) && has_ids(after) && has_ids(current)) return carry_list(before, after, current);
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
