#include "core/book/slot.h"

#include <chrono>
#include <cstdio>
#include <cstdlib>

#include "core/book/crc32c.h"
#include "core/book/document.h"
#include "core/book/tree.h"

namespace saltrafter::book {
namespace {

Error damaged(std::string found) { return {ErrorCode::damaged, "slot", std::move(found), "SR1", "", {}, {}}; }

std::string utc_text(std::int64_t ms) {
  using namespace std::chrono;
  const sys_time<milliseconds> instant{milliseconds(ms)};
  const sys_days day = floor<days>(instant);
  const year_month_day date(day);
  const auto second = duration_cast<seconds>(instant - day).count();
  char buffer[64];
  std::snprintf(buffer, sizeof buffer, "%04d-%02u-%02uT%02d:%02d:%02dZ", static_cast<int>(date.year()),
                static_cast<unsigned>(date.month()), static_cast<unsigned>(date.day()),
                static_cast<int>(second / 3600), static_cast<int>(second / 60 % 60), static_cast<int>(second % 60));
  return buffer;
}

// The digits of a whole number without sign; nothing else, and not so many that they could overflow.
bool read_whole(std::string_view text, std::uint64_t& out) {
  if (text.empty() || text.size() > 18) return false;
  out = 0;
  for (const char c : text) {
    if (c < '0' || c > '9') return false;
    out = out * 10 + static_cast<std::uint64_t>(c - '0');
  }
  return true;
}

}  // namespace

std::string write_slot(const Slot& slot) {
  std::string out = "SR1 ";
  out += slot.kind + ' ' + slot.id.text + ' ' + std::to_string(slot.generation) + ' ' + std::to_string(slot.schema) + ' ' +
         std::to_string(slot.min_reader) + ' ' + slot.edit.text + ' ' + std::to_string(slot.edit_count) + ' ' +
         slot.saved_at + ' ' + std::to_string(slot.payload.size());
  char sum[16];
  std::snprintf(sum, sizeof sum, " %08x\n", static_cast<unsigned>(crc32c(out + '\n' + slot.payload)));
  return out + sum + slot.payload;
}

Result<Slot> read_slot(std::string_view text) {
  const std::size_t header_end = text.find('\n');
  if (header_end == std::string_view::npos) return damaged("header");
  std::vector<std::string_view> words;
  for (std::size_t from = 0; from <= header_end;) {
    std::size_t to = text.find(' ', from);
    if (to == std::string_view::npos || to > header_end) to = header_end;
    words.push_back(text.substr(from, to - from));
    from = to + 1;
  }
  constexpr std::size_t kWords = 11;
  if (words.size() != kWords || words[0] != "SR1") return damaged("header");
  Slot slot;
  std::uint64_t numbers[5] = {};
  const std::size_t places[5] = {3, 4, 5, 7, 9};
  for (std::size_t i = 0; i < 5; ++i) {
    if (!read_whole(words[places[i]], numbers[i])) return damaged("header");
  }
  constexpr std::uint64_t kMost = 1000000;
  if (numbers[1] > kMost || numbers[2] > kMost || numbers[3] > kMost) return damaged("header");
  slot.id.text = std::string(words[2]);
  slot.generation = numbers[0];
  slot.schema = static_cast<int>(numbers[1]);
  slot.min_reader = static_cast<int>(numbers[2]);
  slot.edit.text = std::string(words[6]);
  slot.edit_count = static_cast<int>(numbers[3]);
  slot.saved_at = std::string(words[8]);
  slot.payload = std::string(text.substr(header_end + 1));
  if (slot.payload.size() != numbers[4]) return damaged("length");
  char sum[16];
  const std::string summed = std::string(text.substr(0, header_end - words[10].size() - 1)) + '\n' + slot.payload;
  std::snprintf(sum, sizeof sum, "%08x", static_cast<unsigned>(crc32c(summed)));
  if (words[10] != sum) return damaged("checksum");
  slot.kind = std::string(words[1]);
  if (!parse_id(slot.id.text).ok() || !parse_id(slot.edit.text).ok()) return damaged("id");
  // One way to write a slot, so none that differs is taken.
  if (write_slot(slot) != text) return damaged("header");
  return slot;
}

std::string slot_key(const Id& id, int place) {
  return std::string(kKeyPrefix) + "d:" + id.text + (place == 0 ? ":0" : ":1");
}

Slot make_slot(const Record& record, std::uint64_t generation, const Id& edit,
               const std::map<Id, std::uint64_t>& members, std::int64_t now_utc_ms) {
  Slot slot;
  slot.kind = std::string(kind_name(record.kind));
  slot.id = record.id;
  slot.generation = generation;
  slot.schema = record.schema;
  slot.min_reader = record.min_reader;
  slot.edit = edit;
  slot.edit_count = static_cast<int>(members.size());
  slot.saved_at = utc_text(now_utc_ms);
  slot.payload = write_record(record);
  if (members.size() > 1) {
    Node list = Node::object();
    for (const auto& member : members) list.set(member.first.text, Node::of_number(static_cast<double>(member.second)));
    slot.payload.insert(1, "\"edit\":" + write_tree(list, TextForm::stored) + ",");
  }
  return slot;
}

Result<Record> record_of(const Slot& slot) {
  const std::optional<Kind> kind = kind_named(slot.kind);
  if (!kind) return Error{ErrorCode::unknown_value, "kind", slot.kind, "", "", {}, {}};
  Record record;
  record.id = slot.id;
  record.kind = *kind;
  record.schema = slot.schema;
  record.min_reader = slot.min_reader;
  Result<Record> read = read_record(std::move(record), slot.payload);
  if (!read.ok() || read.value().read_only()) return read;
  const Result<Done> checked = check_record(read.value());
  if (!checked.ok()) return checked.error();
  return read;
}

std::map<Id, std::uint64_t> members_of(const Slot& slot) {
  std::map<Id, std::uint64_t> members{{slot.id, slot.generation}};
  if (slot.edit_count < 2) return members;
  const Result<Node> tree = read_tree(slot.payload, kRecordLimits);
  const Node* edit = tree.ok() ? tree.value().find("edit") : nullptr;
  if (edit == nullptr) return members;
  for (std::size_t i = 0; i < edit->keys.size(); ++i) {
    std::uint64_t generation = 0;
    if (read_whole(edit->items[i].text, generation)) members[Id{edit->keys[i]}] = generation;
  }
  return members;
}

}  // namespace saltrafter::book
