// Slots: how one generation of a record stands in a store. Two slots a record; the older one is overwritten, so
// that a write which dies anywhere leaves the generation before it whole.
//
// SR1 <kind> <id> <gen> <schema> <minReader> <edit id> <edit count> <saved at> <payload bytes> <crc32c>\n<JSON>
#pragma once

#include <cstdint>
#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "core/base/base.h"
#include "core/book/record.h"

namespace saltrafter::book {

// Everything of ours in a shared store begins so.
inline constexpr std::string_view kKeyPrefix = "saltrafter:";

struct Slot {
  std::string kind;             // its word; one that only a newer program knows is a whole slot all the same
  Id id;
  std::uint64_t generation = 0;  // counts the record's saves; decides which slot is newer, never the clock
  int schema = kSchema;
  int min_reader = kMinReader;
  Id edit;                 // the edit that made this generation
  int edit_count = 1;      // records that edit touched
  std::string saved_at;    // UTC, for people
  std::string payload;     // ASCII JSON
};

struct SlotText {
  std::string key;
  std::string text;

  friend bool operator==(const SlotText&, const SlotText&) = default;
};

std::string write_slot(const Slot& slot);
// Takes only what write_slot wrote, byte for byte. Error: damaged.
Result<Slot> read_slot(std::string_view text);

// "saltrafter:d:<id>:0" or ":1".
std::string slot_key(const Id& id, int place);

// The slot of a record as one part of an edit; `members` are all records of the edit with their generations.
Slot make_slot(const Record& record, std::uint64_t generation, const Id& edit,
               const std::map<Id, std::uint64_t>& members, std::int64_t now_utc_ms);
// The record in a slot. Errors: unknown_value for a kind that only a newer program knows; as read_record and
// check_record, but a record that opens read-only need not be understood.
Result<Record> record_of(const Slot& slot);
// The records of the slot's edit with their generations; itself alone for an edit of one record.
std::map<Id, std::uint64_t> members_of(const Slot& slot);

}  // namespace saltrafter::book
