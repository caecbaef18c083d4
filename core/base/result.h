// Failure as a value: which input, what was found there, what would be right.
//
// An Error is typed data without a sentence; `words` makes the sentence. A limit that is not kept is no
// error but a finding (module safety).
#pragma once

#include <cassert>
#include <optional>
#include <string>
#include <utility>
#include <variant>

namespace saltrafter {

enum class ErrorCode {
  missing,           // the field is required and empty
  not_a_number,      // text where a number is expected
  ambiguous_number,  // "1,250": thousands or decimals, both possible; `expected` holds both readings, parted by '|'
  out_of_range,      // outside [low, high]
  unknown_unit,      // a unit this quantity does not have; `expected` lists those it has
  unknown_value,     // a word that is not in a closed list; `expected` lists the words
  wrong_type,        // JSON of another type; `expected` names the right one
  duplicate_key,     // the same JSON key twice in one object
  cut_off,           // the text ends too early
  not_json,          // not JSON at all; `found` is what stands at the fault
  too_deep,          // nested deeper than `high`
  too_large,         // more bytes, values or characters than `high`
  wrong_format,      // JSON, but no file of ours
  newer_schema,      // written by a newer program; `high` is what this one reads
  damaged,           // a checksum or length does not fit
  refused,           // against a rule that no reason overrides; `field` names the rule
  not_found,         // no record, table row or key of that name
  not_converged,     // an iteration ended without the answer it promises
  read_only,         // the document is opened for looking only
  storage_full,
  storage_denied,
};

// `field` is a path or the name of the input, e.g. "lines/3/amount". Bounds are in `unit`.
struct Error {
  ErrorCode code = ErrorCode::missing;
  std::string field;
  std::string found;
  std::string expected;
  std::string unit;
  std::optional<double> low;
  std::optional<double> high;

  friend bool operator==(const Error&, const Error&) = default;
};

// The usual numeric error: `found` outside low..high.
Error out_of_range(std::string field, double found, double low, double high, std::string unit);

template <class T>
class [[nodiscard]] Result {
 public:
  // Implicit, so that a function can simply return a T or an Error.
  Result(T value) : state_(std::in_place_index<0>, std::move(value)) {}
  Result(Error error) : state_(std::in_place_index<1>, std::move(error)) {}

  bool ok() const { return state_.index() == 0; }
  const T& value() const& {
    assert(ok());
    return *std::get_if<0>(&state_);
  }
  T&& value() && {
    assert(ok());
    return std::move(*std::get_if<0>(&state_));
  }
  const Error& error() const {
    assert(!ok());
    return *std::get_if<1>(&state_);
  }

 private:
  std::variant<T, Error> state_;
};

// For functions that only succeed or fail.
struct Done {
  friend bool operator==(Done, Done) = default;
};

}  // namespace saltrafter
