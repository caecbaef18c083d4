#include "core/share/report.h"

#include <algorithm>
#include <utility>

#include "core/plan/plan.h"
#include "core/share/book_file.h"
#include "core/share/envelope.h"
#include "core/share/recipe_file.h"
#include "core/share/report_parts.h"

namespace saltrafter::share {
namespace {

using book::Node;

Node report_root(Date today) {
  Node root = open_envelope(kReportFormat);
  put_text(root, "today", iso_date(today));
  return root;
}

ReportMaker maker_of(const book::Book& book, safety::Chosen chosen) {
  const book::Settings settings = book.settings();
  ReportMaker maker;
  maker.hands.supplies = book.supplies();
  maker.hands.scales = settings.scales;
  maker.chosen = chosen != safety::Chosen::not_chosen ? chosen : settings.chosen;
  maker.own = settings.own_limits;
  maker.air = book.the_chamber().chamber->air;
  return maker;
}

// Nothing here asks a clock: what is judged by the hour is judged as it stands when the day ends in UTC.
std::int64_t end_of(Date day) {
  constexpr std::int64_t kDayMs = 86400000;
  return (static_cast<std::int64_t>(day.time_since_epoch().count()) + 1) * kDayMs;
}

// Findings on a sheet; none where there is no sheet.
std::vector<safety::Finding> findings_on(const recipe::Recipe& recipe, const Result<recipe::Sheet>& sheet,
                                         const safety::Evidence& evidence, const ReportMaker& maker, Date today) {
  if (!sheet.ok()) return {};
  safety::Subject subject;
  subject.recipe = &recipe;
  subject.sheet = &sheet.value();
  subject.evidence = evidence;
  subject.chosen = maker.chosen;
  subject.own = maker.own;
  subject.today = today;
  subject.now_utc_ms = end_of(today);
  return safety::findings(subject);
}

Node sheet_part(const recipe::Recipe& recipe, const Result<recipe::Sheet>& sheet,
                const recipe::Working& working, const std::vector<safety::Finding>& findings) {
  Node node = Node::object();
  put_text(node, "name", recipe.name);
  if (!sheet.ok()) {
    node.set("error", error_node(sheet.error()));
    return node;
  }
  node.set("sheet", sheet_node(sheet.value()));
  node.set("workings", working_node(working));
  node.set("composition", composition_node(sheet.value().composition));
  put(node, "wanted_loss_share", recipe.wanted_loss);
  node.set("finished", composition_node(recipe::finished(sheet.value(), recipe.wanted_loss)));
  node.set("findings", findings_node(findings));
  return node;
}

Node recipe_part(const recipe::Recipe& recipe, Grams meat, const ReportMaker& maker, Date today) {
  recipe::Working working;
  const Result<recipe::Sheet> sheet = recipe::scale(recipe, meat, &working, maker.hands);
  return sheet_part(recipe, sheet, working, findings_on(recipe, sheet, {}, maker, today));
}

Node batch_part(const plan::Batch& batch, const ReportMaker& maker, Date today) {
  recipe::Working working;
  const Result<recipe::Sheet> sheet = plan::sheet_of(batch, maker.hands, &working);
  const safety::Evidence evidence = plan::evidence_on(batch, today, maker.air);
  const std::vector<safety::Finding> findings = findings_on(batch.made_from, sheet, evidence, maker, today);
  Node node = sheet_part(batch.made_from, sheet, working, findings);
  put_text(node, "name", batch.name);
  const safety::Stands stands = safety::stands(evidence, findings, {});
  put_text(node, "standing", safety::key_of(stands.standing));
  node.set("held_by_itself", Node::of_boolean(stands.by_itself));
  put_text(node, "begun_on", iso_date(batch.begun_on));
  node.set("hung", Node::of_boolean(batch.hung));
  if (!batch.hung) return node;
  put_text(node, "hung_on", iso_date(batch.hung_on));
  Node pieces = Node::list();
  for (const plan::Piece& piece : batch.pieces) {
    Node row = Node::object();
    put_text(row, "id", piece.id.text);
    put(row, "number", piece.number);
    put(row, "hung_g", piece.hung.value);
    put(row, "loss_so_far_share", plan::loss_so_far(batch, piece, today));
    pieces.items.push_back(std::move(row));
  }
  node.set("pieces", std::move(pieces));
  return node;
}

Result<drying::ForecastTask> forecast_of(const plan::Batch& batch, const ReportMaker& maker, Date today) {
  Result<drying::ForecastInput> input = plan::forecast_input(batch, today, maker.hands, {}, maker.air);
  if (!input.ok()) return input.error();
  return drying::ForecastTask::make(std::move(input).value());
}

Node newer_node(std::string_view kind, const Id& id) {
  Node node = Node::object();
  node.set("error", error_node({ErrorCode::newer_schema, std::string(kind), id.text, "", "", {}, {}}));
  return node;
}

std::string errors_text(Date today, const Error& error) {
  Node root = report_root(today);
  Node errors = Node::list();
  errors.items.push_back(error_node(error));
  root.set("errors", std::move(errors));
  return book::write_tree(root, book::TextForm::file);
}

}  // namespace

ReportTask::ReportTask(const book::Book& book, Date today, const ReportOptions& options)
    : today_(today), maker_(maker_of(book, options.chosen)) {
  const book::Settings settings = book.settings();
  for (const Id& id : book.ids(book::Kind::recipe)) {
    rows_.push_back({id, book.recipe(id), book::meat_on_tray(settings, id), nullptr});
  }
  recipes_ = rows_.size();
  for (const Id& id : book.ids(book::Kind::batch)) rows_.push_back({id, nullptr, {}, book.batch(id)});
  key_ = fold(kHashStart, static_cast<std::uint64_t>(today.time_since_epoch().count()));
  const std::string all = share::write_book_file(book);
  for (const char c : all) key_ = fold(key_, static_cast<std::uint64_t>(static_cast<unsigned char>(c)));
}

void ReportTask::step() {
  if (finished()) return;
  const Row& row = rows_[at_];
  if (forecast_) {
    forecast_->step();
    if (!forecast_->finished()) return;
    done_.back().set("forecast", forecast_node(forecast_->result(), row.batch->hung_on));
    forecast_.reset();
    ++at_;
    return;
  }
  const bool is_recipe = at_ < recipes_;
  Node node;
  if (row.recipe != nullptr) {
    node = recipe_part(*row.recipe, row.meat, maker_, today_);
  } else if (row.batch != nullptr) {
    node = batch_part(*row.batch, maker_, today_);
  } else {
    node = newer_node(is_recipe ? "recipe" : "batch", row.id);
  }
  put_text(node, "id", row.id.text);
  if (row.batch != nullptr && row.batch->hung) {
    Result<drying::ForecastTask> task = forecast_of(*row.batch, maker_, today_);
    if (task.ok()) {
      forecast_ = std::move(task).value();
    } else {
      node.set("forecast", error_node(task.error()));
    }
  }
  done_.push_back(std::move(node));
  if (!forecast_) ++at_;
}

Progress ReportTask::progress() const {
  // A batch counts a hundred times a recipe: its forecast is what takes the time.
  constexpr int kBatch = 100;
  const auto share_of = [this](std::size_t rows) {
    const std::size_t recipes = std::min(rows, recipes_);
    return static_cast<int>(recipes) + kBatch * static_cast<int>(rows - recipes);
  };
  Progress progress{share_of(at_), share_of(rows_.size())};
  if (forecast_) {
    const Progress inner = forecast_->progress();
    if (inner.total > 0) progress.done += kBatch * inner.done / inner.total;
  }
  return progress;
}

std::string ReportTask::text() const {
  Node root = report_root(today_);
  Node recipes = Node::list();
  Node batches = Node::list();
  for (std::size_t i = 0; i < done_.size(); ++i) (i < recipes_ ? recipes : batches).items.push_back(done_[i]);
  root.set("recipes", std::move(recipes));
  root.set("batches", std::move(batches));
  return book::write_tree(root, book::TextForm::file);
}

std::string report(const book::Book& book, Date today, const ReportOptions& options) {
  ReportTask task(book, today, options);
  while (!task.finished()) task.step();
  return task.text();
}

FileReport report_of_file(std::string_view text, Date today, const ReportOptions& options) {
  const Result<std::string> format = format_of(text);
  if (!format.ok()) return {false, errors_text(today, format.error())};
  if (format.value() == kBookFormat) {
    const Result<BookFile> file = read_book_file(text);
    if (!file.ok()) return {false, errors_text(today, file.error())};
    // Nothing is edited here, so the book needs neither clock nor chance; the device has any name.
    const book::Book book(Ports{}, "report", file.value().records);
    return {true, report(book, today, options)};
  }
  const Result<RecipeFile> file = read_recipe_file(text);
  if (!file.ok()) {
    Error error = file.error();
    if (error.code == ErrorCode::wrong_format) {
      error.expected = std::string(kRecipeFormat) + ", " + std::string(kBookFormat);
    }
    return {false, errors_text(today, error)};
  }
  Node root = report_root(today);
  Node recipes = Node::list();
  const ReportMaker nobody{{}, options.chosen, {}, {}};
  recipes.items.push_back(recipe_part(file.value().recipe, book::kFirstMeat, nobody, today));
  root.set("recipes", std::move(recipes));
  return {true, book::write_tree(root, book::TextForm::file)};
}

}  // namespace saltrafter::share
