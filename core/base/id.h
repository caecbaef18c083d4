// Identity of a record, a line, a piece, a weighing: 80 random bits as 16 letters and digits.
#pragma once

#include <string>
#include <string_view>

#include "core/base/ports.h"
#include "core/base/result.h"

namespace saltrafter {

// Compared and ordered by its text; ties anywhere in the program are broken by it.
struct Id {
  std::string text;

  bool empty() const { return text.empty(); }
  friend bool operator==(const Id&, const Id&) = default;
  friend bool operator<(const Id& a, const Id& b) { return a.text < b.text; }
};

// A fresh id from two draws of ports.random_bits. Alphabet: a-z and 2-7 (RFC 4648 base32, lower case).
Id make_id(const Ports& ports);

// Reads an id written by make_id: 16 characters of its alphabet. Error: wrong_type with the text found.
Result<Id> parse_id(std::string_view text);

}  // namespace saltrafter
