// The first members of every file of ours: format, schema, minReader.
#pragma once

#include <string_view>

#include "core/base/base.h"
#include "core/book/book.h"

namespace saltrafter::share {

struct Envelope {
  book::Node root;
  int schema = 1;
  int min_reader = 1;
};

book::Node open_envelope(std::string_view format);

// Error: as book::read_tree; wrong_format (found: the other format) where it is no file of that format.
Result<Envelope> read_envelope(std::string_view text, std::string_view format, const book::ReadLimits& limits);

// The format a text claims, read through the largest limits; empty where it claims none.
Result<std::string> format_of(std::string_view text);

}  // namespace saltrafter::share
