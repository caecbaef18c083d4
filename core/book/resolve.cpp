#include "core/book/resolve.h"

#include <algorithm>
#include <set>

namespace saltrafter::book {
namespace {

struct Candidate {
  Slot slot;
  RecordPtr record;
  SlotText text;
  int place = 0;
};

bool newer(const Candidate& a, const Candidate& b) {
  if (a.slot.generation != b.slot.generation) return a.slot.generation > b.slot.generation;
  // Two writers made the same generation: any choice is as good, as long as it is always the same one.
  if (a.slot.saved_at != b.slot.saved_at) return a.slot.saved_at > b.slot.saved_at;
  return a.text.text > b.text.text;
}

using Candidates = std::map<Id, std::vector<Candidate>>;

bool edit_is_whole(const Slot& slot, const Candidates& all) {
  if (slot.edit_count < 2) return true;
  const std::map<Id, std::uint64_t> members = members_of(slot);
  if (static_cast<int>(members.size()) != slot.edit_count) return false;
  for (const auto& member : members) {
    const auto found = all.find(member.first);
    if (found == all.end()) return false;
    const auto covers = [&](const Candidate& other) {
      return other.slot.generation > member.second ||
             (other.slot.generation == member.second && other.slot.edit == slot.edit);
    };
    if (std::none_of(found->second.begin(), found->second.end(), covers)) return false;
  }
  return true;
}

}  // namespace

Resolved resolve(const std::vector<SlotText>& slots) {
  Resolved out;
  Candidates all;
  std::set<std::pair<std::string, std::string>> seen;
  for (const SlotText& text : slots) {
    if (!seen.insert({text.key, text.text}).second) continue;
    const Result<Slot> slot = read_slot(text.text);
    if (!slot.ok()) {
      out.damaged.push_back(text);
      continue;
    }
    const Id& id = slot.value().id;
    const int place = text.key == slot_key(id, 0) ? 0 : 1;
    Result<Record> record = record_of(slot.value());
    const bool foreign_kind = !kind_named(slot.value().kind);
    if (text.key != slot_key(id, place) || (!record.ok() && !foreign_kind)) {
      out.damaged.push_back(text);
      continue;
    }
    if (foreign_kind) {
      all[id].push_back({slot.value(), nullptr, text, place});
      continue;
    }
    all[id].push_back({slot.value(), std::make_shared<const Record>(std::move(record).value()), text, place});
  }
  for (const auto& entry : all) {
    const bool known_kind = std::all_of(entry.second.begin(), entry.second.end(),
                                        [](const Candidate& candidate) { return candidate.record != nullptr; });
    if (!known_kind) continue;
    Winner winner;
    const Candidate* best = nullptr;
    std::uint64_t revoked_generation = 0;
    const Candidate* revoked = nullptr;
    for (const Candidate& candidate : entry.second) {
      winner.highest = std::max(winner.highest, candidate.slot.generation);
      if (!edit_is_whole(candidate.slot, all)) {
        out.damaged.push_back(candidate.text);
        if (candidate.slot.generation >= revoked_generation) {
          revoked_generation = candidate.slot.generation;
          revoked = &candidate;
        }
      } else if (best == nullptr || newer(candidate, *best)) {
        best = &candidate;
      }
    }
    if (best != nullptr) {
      winner.record = best->record;
      winner.slot = best->text;
      winner.place = best->place;
      winner.generation = best->slot.generation;
      winner.revoked = revoked_generation > winner.generation;
    } else {
      // Made by the edit that is not whole: it was never there. A tombstone keeps it so.
      Record tombstone = *revoked->record;
      tombstone.deleted = true;
      winner.record = std::make_shared<const Record>(std::move(tombstone));
      winner.place = revoked->place;
      winner.revoked = true;
    }
    out.winners[entry.first] = std::move(winner);
  }
  return out;
}

}  // namespace saltrafter::book
