// The report: every figure computed from a book or a recipe, as JSON with stable names that carry units.
//
// The desktop program prints it, the page saves it, and a test compares both. No figure is computed here: each
// comes from the module that owns it.
#pragma once

#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "core/base/base.h"
#include "core/book/book.h"
#include "core/drying/drying.h"
#include "core/plan/plan.h"
#include "core/safety/safety.h"

namespace saltrafter::share {

inline constexpr std::string_view kReportFormat = "saltrafter.report";

struct ReportOptions {
  safety::Chosen chosen = safety::Chosen::not_chosen;  // not chosen: what the book's settings say
};

// What the maker of a book has and goes by.
struct ReportMaker {
  recipe::Hands hands;
  safety::Chosen chosen = safety::Chosen::not_chosen;
  std::vector<safety::OwnLimit> own;
  plan::AirLog air;  // of the chamber
};

// All recipes and batches of the book, ordered by id; a recipe for the meat on its tray, as the book has it; a
// batch on the weights put in, and with its drying where it hangs. What cannot be computed stands as an "error"
// in its place. What is judged by the hour is judged for the end of `today` in UTC. Forecasts are run to their
// end, so it is a task: a step is one record or one step of a forecast.
class ReportTask : public Task {
 public:
  ReportTask(const book::Book& book, Date today, const ReportOptions& options = {});

  bool finished() const override { return at_ == rows_.size(); }
  void step() override;
  Progress progress() const override;
  std::uint64_t key() const override { return key_; }

  std::string text() const;  // of what is done; the whole report when finished

 private:
  struct Row {
    Id id;
    std::shared_ptr<const recipe::Recipe> recipe;
    Grams meat;
    std::shared_ptr<const plan::Batch> batch;
  };
  Date today_;
  ReportMaker maker_;
  std::vector<Row> rows_;  // recipes, then batches
  std::size_t recipes_ = 0;
  std::size_t at_ = 0;
  std::vector<book::Node> done_;
  std::optional<drying::ForecastTask> forecast_;  // of the batch in hand
  std::uint64_t key_ = 0;
};

// The task run to its end.
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
