#include "core/book/keeper.h"

#include <algorithm>
#include <cstdio>

#include "core/book/changes.h"
#include "core/book/crc32c.h"
#include "core/book/tree.h"

namespace saltrafter::book {
namespace {

constexpr std::string_view kSlotPrefix = "saltrafter:d:";
constexpr std::string_view kDeviceKey = "saltrafter:device";
constexpr std::string_view kDamagedPrefix = "saltrafter:damaged:";

bool begins_with(std::string_view text, std::string_view start) { return text.substr(0, start.size()) == start; }

std::vector<SlotText> read_slots(const FirstStore& store) {
  std::vector<SlotText> slots;
  if (!store.keys || !store.get) return slots;
  for (const std::string& key : store.keys()) {
    if (!begins_with(key, kSlotPrefix)) continue;
    if (std::optional<std::string> text = store.get(key)) slots.push_back({key, std::move(*text)});
  }
  return slots;
}

std::string device_of(const FirstStore& store, const Ports& ports) {
  if (store.get) {
    const std::optional<std::string> text = store.get(std::string(kDeviceKey));
    if (text && parse_id(*text).ok()) return *text;
  }
  return make_id(ports).text;
}

std::vector<RecordPtr> records_of(const Resolved& resolved) {
  std::vector<RecordPtr> records;
  for (const auto& entry : resolved.winners) records.push_back(entry.second.record);
  return records;
}

bool same_winners(const Resolved& a, const Resolved& b) {
  return std::equal(a.winners.begin(), a.winners.end(), b.winners.begin(), b.winners.end(),
                    [](const auto& x, const auto& y) {
                      return x.first == y.first && *x.second.record == *y.second.record;
                    });
}

// The change of a held edit made on the record as it is now.
RecordPtr carried(const Change& change, const RecordPtr& now) {
  Record record = *change.after;
  if (now != nullptr) {
    record = *now;
    const std::string& base = change.before != nullptr ? change.before->data : change.after->data;
    const Result<Node> before = read_tree(base, kRecordLimits);
    const Result<Node> after = read_tree(change.after->data, kRecordLimits);
    const Result<Node> current = read_tree(now->data, kRecordLimits);
    if (before.ok() && after.ok() && current.ok()) {
      record.data = write_tree(carry_over(before.value(), after.value(), current.value()), TextForm::stored);
    }
    const bool was_deleted = change.before != nullptr && change.before->deleted;
    if (was_deleted != change.after->deleted) record.deleted = change.after->deleted;
  }
  return std::make_shared<const Record>(std::move(record));
}

}  // namespace

Keeper::Keeper(Ports ports, FirstStore first, SecondStore second, std::int64_t now_ms)
    : ports_(std::move(ports)),
      first_(std::move(first)),
      second_(std::move(second)),
      book_(ports_, device_of(first_, ports_)),
      started_ms_(now_ms),
      now_ms_(now_ms) {
  at_start_ = read_slots(first_);
  shown_ = resolve(at_start_);
  book_.adopt(records_of(shown_));
  place_winners(shown_);
  // Writing this first also tells at once whether the store takes anything at all.
  const Stored probe = first_.set ? first_.set(std::string(kDeviceKey), book_.device_) : Stored::denied;
  if (probe != Stored::ok) first_failure_ = probe;
  if (!has_second()) {
    phase_ = Phase::joined;
    settle(shown_);
  }
}

void Keeper::place_winners(const Resolved& resolved) {
  for (const auto& entry : resolved.winners) {
    Place& place = places_[entry.first];
    place.place = entry.second.place;
    place.generation = entry.second.generation;
    place.highest = std::max(place.highest, entry.second.highest);
  }
}

// From here on both stores are known: what they lack is written, what must not come back is written over.
void Keeper::settle(const Resolved& resolved) {
  for (const SlotText& slot : resolved.damaged) keep_damaged(slot);
  for (const auto& entry : resolved.winners) {
    const Winner& winner = entry.second;
    if (winner.record->read_only()) continue;
    if (winner.revoked) {
      Edit again;
      again.changes.push_back({entry.first, nullptr, winner.record});
      write_edit(again);
      continue;
    }
    const auto stored = std::find(at_start_.begin(), at_start_.end(), winner.slot);
    if (stored == at_start_.end()) first_queue_.push_back({winner.slot, {}, 0});
    if (has_second()) second_pending_[winner.slot.key] = winner.slot.text;
  }
}

void Keeper::keep_damaged(const SlotText& slot) {
  if (std::find(damaged_.begin(), damaged_.end(), slot) != damaged_.end()) return;
  damaged_.push_back(slot);
  char sum[16];
  std::snprintf(sum, sizeof sum, ":%08x", static_cast<unsigned>(crc32c(slot.text)));
  const std::string key = std::string(kDamagedPrefix) + slot.key + sum;
  if (first_.get && first_.get(key) == slot.text) return;
  first_queue_.push_back({{key, slot.text}, {}, 0});
}

void Keeper::write_edit(const Edit& edit) {
  std::map<Id, std::uint64_t> members;
  for (const Change& change : edit.changes) members[change.id] = places_[change.id].highest + 1;
  const Id edit_id = make_id(ports_);
  for (const Change& change : edit.changes) {
    Place& place = places_[change.id];
    place.place = 1 - place.place;
    place.generation = members[change.id];
    place.highest = place.generation;
    const Slot slot = make_slot(*change.after, place.generation, edit_id, members, ports_.now_utc_ms());
    const SlotText text{slot_key(change.id, place.place), write_slot(slot)};
    first_queue_.push_back({text, change.id, place.generation});
    if (has_second()) second_pending_[text.key] = text.text;
  }
}

void Keeper::collect() {
  std::vector<Edit> news = book_.take_news();
  for (Edit& edit : news) {
    if (phase_ != Phase::waiting) write_edit(edit);
    if (phase_ != Phase::joined) held_.push_back(std::move(edit));
    first_retry_ms_ = now_ms_;
  }
}

void Keeper::tick(std::int64_t now_ms) {
  now_ms_ = now_ms;
  collect();
  if (phase_ == Phase::waiting && now_ms_ - started_ms_ >= kAnswerMs) {
    go_alone();
  }
  flush_first();
  flush_second();
}

std::optional<std::int64_t> Keeper::next_deadline() const {
  std::optional<std::int64_t> next;
  const auto sooner = [&next](std::int64_t at) { next = next ? std::min(*next, at) : at; };
  if (!book_.news_.empty()) sooner(now_ms_);
  if (phase_ == Phase::waiting) sooner(started_ms_ + kAnswerMs);
  if (changed_elsewhere_) return next;
  if (!first_queue_.empty()) sooner(first_failure_ ? first_retry_ms_ : now_ms_);
  const bool may_put = phase_ == Phase::joined && has_second() && !second_busy_;
  if (may_put && !second_pending_.empty()) sooner(second_failed_ ? second_retry_ms_ : now_ms_);
  return next;
}

// Without the second store: what was held goes to the first one, but stays held until the second answers.
void Keeper::go_alone() {
  phase_ = Phase::alone;
  for (const SlotText& slot : shown_.damaged) keep_damaged(slot);
  for (const Edit& edit : held_) write_edit(edit);
}

void Keeper::loaded(const std::vector<SlotText>& slots) {
  if (phase_ == Phase::joined) return;
  collect();
  std::vector<SlotText> all = at_start_;
  for (const SlotText& slot : slots) {
    if (begins_with(slot.key, kSlotPrefix)) all.push_back(slot);
  }
  const Resolved resolved = resolve(all);
  const bool written_alone = phase_ == Phase::alone;
  phase_ = Phase::joined;
  second_failed_ = false;
  std::vector<Edit> held;
  held.swap(held_);
  const bool same = same_winners(resolved, shown_);
  if (!written_alone || !same) {
    place_winners(resolved);
    settle(resolved);
    if (same) {
      for (const Edit& edit : held) write_edit(edit);
    } else {
      book_.adopt(records_of(resolved));
      hold_again(held);
    }
  } else {
    // Written to the first store already, and nothing newer came: the second one takes all of it.
    settle(resolved);
    for (const Edit& edit : held) write_edit(edit);
  }
  // What the second store holds already needs no writing.
  for (const SlotText& slot : slots) {
    const auto pending = second_pending_.find(slot.key);
    if (pending != second_pending_.end() && pending->second == slot.text) second_pending_.erase(pending);
  }
  flush_first();
  flush_second();
}

void Keeper::hold_again(const std::vector<Edit>& edits) {
  for (const Edit& edit : edits) {
    Edit now;
    now.name = edit.name;
    for (const Change& change : edit.changes) {
      const RecordPtr current = book_.current(change.id);
      now.changes.push_back({change.id, current, carried(change, current)});
    }
    if (book_.apply(now).ok()) continue;
    // It cannot be made on what is there now (a newer program's record): its text is kept.
    for (const Change& change : edit.changes) {
      const Slot slot = make_slot(*change.after, 0, make_id(ports_), {{change.id, 0}}, ports_.now_utc_ms());
      keep_damaged({slot_key(change.id, 0), write_slot(slot)});
    }
  }
  for (const Edit& edit : book_.take_news()) write_edit(edit);
}

void Keeper::load_failed() {
  if (phase_ == Phase::joined) return;
  collect();
  second_failed_ = true;
  if (phase_ == Phase::waiting) go_alone();
  flush_first();
}

// Another writer has been here: a generation that this one did not make stands where this one is to go.
bool Keeper::overtaken(const Write& write) const {
  if (write.generation == 0 || !first_.get) return false;
  for (int place = 0; place < 2; ++place) {
    const std::optional<std::string> text = first_.get(slot_key(write.id, place));
    if (!text || *text == write.slot.text) continue;
    const Result<Slot> slot = read_slot(*text);
    if (slot.ok() && slot.value().generation >= write.generation) return true;
  }
  return false;
}

void Keeper::flush_first() {
  if (changed_elsewhere_) return;
  if (first_failure_ && now_ms_ < first_retry_ms_) return;
  while (!first_queue_.empty()) {
    const Write& write = first_queue_.front();
    if (overtaken(write)) {
      changed_elsewhere_ = true;
      return;
    }
    Stored stored = first_.set ? first_.set(write.slot.key, write.slot.text) : Stored::denied;
    if (stored == Stored::ok && first_.get && first_.get(write.slot.key) != write.slot.text) stored = Stored::denied;
    if (stored != Stored::ok) {
      first_failure_ = stored;
      first_retry_ms_ = now_ms_ + kRetryMs;
      return;
    }
    first_failure_.reset();
    first_queue_.pop_front();
  }
}

void Keeper::flush_second() {
  if (phase_ != Phase::joined || !has_second() || second_busy_ || changed_elsewhere_) return;
  if (second_pending_.empty() || (second_failed_ && now_ms_ < second_retry_ms_)) return;
  second_sent_.swap(second_pending_);
  second_pending_.clear();
  second_busy_ = true;
  std::vector<SlotText> slots;
  for (const auto& entry : second_sent_) slots.push_back({entry.first, entry.second});
  second_.put(slots, ++ticket_);
}

void Keeper::put_done(std::uint64_t ticket, bool ok) {
  if (!second_busy_ || ticket != ticket_) return;
  second_busy_ = false;
  second_failed_ = !ok;
  if (ok) {
    second_sent_.clear();
    flush_second();
    return;
  }
  for (auto& entry : second_sent_) second_pending_.insert(std::move(entry));  // a newer text of that key stays
  second_sent_.clear();
  second_retry_ms_ = now_ms_ + kRetryMs;
}

SaveState Keeper::state() const {
  if (changed_elsewhere_) return {Saving::not_saved, Trouble::changed_elsewhere};
  if (first_failure_) {
    return {Saving::not_saved, *first_failure_ == Stored::full ? Trouble::full : Trouble::denied};
  }
  if (second_failed_) return {Saving::not_saved, Trouble::second_failed};
  if (phase_ == Phase::alone) return {Saving::not_saved, Trouble::no_answer};
  const bool open = !book_.news_.empty() || !held_.empty() || !first_queue_.empty() || !second_pending_.empty() ||
                    second_busy_;
  if (open) return {Saving::saving, Trouble::none};
  if (phase_ == Phase::waiting || book_.records_.empty()) return {Saving::nothing_yet, Trouble::none};
  return {Saving::saved, Trouble::none};
}

}  // namespace saltrafter::book
