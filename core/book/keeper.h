// Keeps the book on the device: a state machine between the document and two stores, which it reaches through
// ports. "Saved" is said only when both stores hold what the book holds.
//
// The first store answers at once but may lose its last seconds when the program is killed; the second answers
// later and keeps what it has confirmed. A host with one dependable store passes no second one.
#pragma once

#include <cstdint>
#include <deque>
#include <functional>
#include <map>
#include <optional>
#include <string>
#include <vector>

#include "core/base/base.h"
#include "core/book/document.h"
#include "core/book/resolve.h"
#include "core/book/slot.h"

namespace saltrafter::book {

enum class Stored { ok, full, denied };

// The store that answers at once. `keys` may list foreign keys: only ours are read, none is ever removed.
struct FirstStore {
  std::function<std::vector<std::string>()> keys;
  std::function<std::optional<std::string>(const std::string&)> get;
  std::function<Stored(const std::string&, const std::string&)> set;
};

// The store that answers later. The host reads it at start and calls Keeper::loaded or load_failed, once.
// `put` writes all slots in one transaction, then the host calls put_done with the ticket. Absent when empty.
struct SecondStore {
  std::function<void(const std::vector<SlotText>&, std::uint64_t)> put;
};

enum class Saving {
  nothing_yet,  // nothing has been entered
  saving,       // entered, not yet in both stores
  saved,        // both stores hold it
  not_saved,    // see trouble; work goes on, and a file can be saved
};
enum class Trouble {
  none,
  full,
  denied,             // the first store takes nothing: nothing outlasts this window
  no_answer,          // the second store has not answered within kAnswerMs
  second_failed,      // the second store cannot be read or written
  changed_elsewhere,  // another window has written newer generations; nothing more is written from here
};
struct SaveState {
  Saving saving = Saving::nothing_yet;
  Trouble trouble = Trouble::none;

  friend bool operator==(const SaveState&, const SaveState&) = default;
};

inline constexpr std::int64_t kAnswerMs = 3000;  // how long edits are held for the second store's answer; choice
inline constexpr std::int64_t kRetryMs = 1000;   // between tries after a failure; choice

class Keeper {
 public:
  // Reads the first store and shows its book at once. `now_ms` is any clock that only goes forward.
  Keeper(Ports ports, FirstStore first, SecondStore second, std::int64_t now_ms);
  Keeper(const Keeper&) = delete;
  Keeper& operator=(const Keeper&) = delete;

  Book& book() { return book_; }
  const Book& book() const { return book_; }

  // Writes what has been edited since. Call after every input that edited, after every answer of the second
  // store, and at the next deadline.
  void tick(std::int64_t now_ms);
  // When tick has something to do that no input and no answer brings: an answer that stays away, a write to
  // be tried again. On the clock of `now_ms`; none when there is nothing to wait for.
  std::optional<std::int64_t> next_deadline() const;
  // The second store's answer: all its slots. The newest generation wins; edits made before are applied to it.
  void loaded(const std::vector<SlotText>& slots);
  void load_failed();
  void put_done(std::uint64_t ticket, bool ok);

  SaveState state() const;
  // Texts that could not be read or belong to edits that were not whole. They are kept in the first store under
  // keys of their own ("saltrafter:damaged:...").
  const std::vector<SlotText>& damaged() const { return damaged_; }

 private:
  enum class Phase { waiting, alone, joined };
  struct Write {
    SlotText slot;
    Id id;                         // empty for what is no slot of a record
    std::uint64_t generation = 0;  // 0: a repair, written whatever is there
  };
  struct Place {
    int place = 1;
    std::uint64_t generation = 0;
    std::uint64_t highest = 0;
  };

  void collect();
  void go_alone();
  void write_edit(const Edit& edit);
  void settle(const Resolved& resolved);
  void place_winners(const Resolved& resolved);
  void keep_damaged(const SlotText& slot);
  void hold_again(const std::vector<Edit>& edits);
  void flush_first();
  void flush_second();
  bool overtaken(const Write& write) const;
  bool has_second() const { return static_cast<bool>(second_.put); }

  Ports ports_;
  FirstStore first_;
  SecondStore second_;
  Book book_;
  Phase phase_ = Phase::waiting;
  std::int64_t started_ms_ = 0;
  std::int64_t now_ms_ = 0;

  std::vector<SlotText> at_start_;  // the first store's slots
  Resolved shown_;                  // the winners of them
  std::map<Id, Place> places_;
  std::vector<Edit> held_;          // edits made before the second store answered
  std::vector<SlotText> damaged_;

  std::deque<Write> first_queue_;   // in order: nothing overtakes a write that failed
  std::optional<Stored> first_failure_;
  std::int64_t first_retry_ms_ = 0;
  bool changed_elsewhere_ = false;

  std::map<std::string, std::string> second_pending_;
  std::map<std::string, std::string> second_sent_;
  std::uint64_t ticket_ = 0;
  bool second_busy_ = false;
  bool second_failed_ = false;
  std::int64_t second_retry_ms_ = 0;
};

}  // namespace saltrafter::book
