// A record: the unit of saving, undoing, merging and sharing. Its data is text; typed values are in document.h.
#pragma once

#include <cstdint>
#include <map>
#include <memory>
#include <optional>
#include <string>
#include <string_view>

#include "core/base/base.h"

namespace saltrafter::book {

enum class Kind { ingredient, recipe, chamber, batch, air_log, calibration, settings };

std::string_view kind_name(Kind kind);
std::optional<Kind> kind_named(std::string_view name);

// The schema this program writes, and the newest `minReader` it may edit.
inline constexpr int kSchema = 1;
// The oldest program that may edit what this one writes.
inline constexpr int kMinReader = 1;

// When and on which device a field was changed last. Merging between devices goes by it; the clock of one
// device never decides between copies on that device.
struct Stamp {
  std::int64_t ms = 0;
  std::string device;

  friend bool operator==(const Stamp&, const Stamp&) = default;
};

// Shared and never changed: an edit makes a new one.
struct Record {
  Id id;
  Kind kind = Kind::settings;
  int schema = kSchema;
  int min_reader = kMinReader;
  std::string data;                     // ASCII JSON object, unknown members included
  std::map<std::string, Stamp> stamps;  // field path, elements by their ids ("lines/<id>/name"); "deleted"
  bool deleted = false;                 // a tombstone: kept so that other copies learn of it
  std::string extra;                    // members beside data that a newer program wrote, or empty

  bool read_only() const { return min_reader > kSchema; }
  friend bool operator==(const Record&, const Record&) = default;
};
using RecordPtr = std::shared_ptr<const Record>;

// What a slot or a book file holds of a record, beside its id, kind and schema: data, stamps, deleted.
std::string write_record(const Record& record);
// Error: as read_tree, or wrong_type. `record` brings id, kind, schema and min_reader.
Result<Record> read_record(Record record, std::string_view text);

}  // namespace saltrafter::book
