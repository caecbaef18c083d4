// A whole book as one file: a backup, and what the desktop program reads for its report.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "core/base/base.h"
#include "core/book/book.h"

namespace saltrafter::share {

inline constexpr std::string_view kBookFormat = "saltrafter.book";

// Every record with its stamps, tombstones too, ordered by id. "saved_on" is today by the book's ports.
std::string write_book_file(const book::Book& book);

struct BookFile {
  std::vector<book::RecordPtr> records;
  bool read_only = false;  // the file or a record in it was written by a newer program
};

// Up to 16 MiB and 1000 records. Errors: as read_recipe_file; paths begin "records/<n>/data".
Result<BookFile> read_book_file(std::string_view text);

// What has to be done to a book so that it holds the file's records as well: edits of at most 50 records, to be
// applied in order. Records of the same id are put as the file has them; nothing is removed. Records that a newer
// program wrote are left out.
std::vector<book::Edit> restore(const book::Book& book, const BookFile& file);

}  // namespace saltrafter::share
