// The report: every figure computed from a book or a recipe, as JSON with stable names that carry units.
//
// The desktop program prints it, the page saves it, and a test compares both. No figure is computed here: each
// comes from the module that owns it.
#pragma once

#include <string>
#include <string_view>

#include "core/base/base.h"
#include "core/book/book.h"
#include "core/safety/safety.h"

namespace saltrafter::share {

inline constexpr std::string_view kReportFormat = "saltrafter.report";

struct ReportOptions {
  Grams meat{1000.0};  // what recipes are scaled to; a batch has its own
  safety::Chosen chosen = safety::Chosen::not_chosen;
};

// All recipes and batches of the book, ordered by id. What cannot be computed stands as an "error" in its place.
// Forecasts are run to their end: up to about a second a batch.
std::string report(const book::Book& book, Date today, const ReportOptions& options = {});

struct FileReport {
  bool ok = false;   // false: the text holds the errors
  std::string text;
};
// The same of a recipe file or a book file, told apart by what they say they are.
FileReport report_of_file(std::string_view text, Date today, const ReportOptions& options = {});

// The word for an error's code in files: "out_of_range".
std::string_view error_name(ErrorCode code);

}  // namespace saltrafter::share
