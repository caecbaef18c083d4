#include "core/share/report.h"

#include <array>

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

Node recipe_part(const recipe::Recipe& recipe, Grams meat, Date today, safety::Chosen chosen) {
  Node node = Node::object();
  put_text(node, "name", recipe.name);
  recipe::Working working;
  const Result<recipe::Sheet> sheet = recipe::scale(recipe, meat, &working);
  if (!sheet.ok()) {
    node.set("error", error_node(sheet.error()));
    return node;
  }
  node.set("sheet", sheet_node(sheet.value()));
  node.set("workings", working_node(working));
  node.set("composition", composition_node(sheet.value().composition));
  put(node, "wanted_loss_share", recipe.wanted_loss);
  node.set("finished", composition_node(recipe::finished(sheet.value(), recipe.wanted_loss)));
  node.set("findings", findings_node(safety::findings(recipe, sheet.value(), chosen, today)));
  return node;
}

Node batch_part(const plan::Batch& batch, Date today, safety::Chosen chosen) {
  Node node = recipe_part(batch.made_from, batch.meat, today, chosen);
  put_text(node, "name", batch.name);
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
  Result<drying::ForecastInput> input = plan::forecast_input(batch, today);
  if (!input.ok()) {
    node.set("forecast", error_node(input.error()));
    return node;
  }
  Result<drying::ForecastTask> task = drying::ForecastTask::make(std::move(input).value());
  if (!task.ok()) {
    node.set("forecast", error_node(task.error()));
    return node;
  }
  drying::ForecastTask forecast = std::move(task).value();
  while (!forecast.finished()) forecast.step();
  node.set("forecast", forecast_node(forecast.result(), batch.hung_on));
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

std::string report(const book::Book& book, Date today, const ReportOptions& options) {
  Node root = report_root(today);
  Node recipes = Node::list();
  for (const Id& id : book.ids(book::Kind::recipe)) {
    const auto recipe = book.recipe(id);
    Node node = recipe != nullptr ? recipe_part(*recipe, options.meat, today, options.chosen) : Node::object();
    if (recipe == nullptr) node.set("error", error_node({ErrorCode::newer_schema, "recipe", id.text, "", "", {}, {}}));
    put_text(node, "id", id.text);
    recipes.items.push_back(std::move(node));
  }
  root.set("recipes", std::move(recipes));
  Node batches = Node::list();
  for (const Id& id : book.ids(book::Kind::batch)) {
    const auto batch = book.batch(id);
    Node node = batch != nullptr ? batch_part(*batch, today, options.chosen) : Node::object();
    if (batch == nullptr) node.set("error", error_node({ErrorCode::newer_schema, "batch", id.text, "", "", {}, {}}));
    put_text(node, "id", id.text);
    batches.items.push_back(std::move(node));
  }
  root.set("batches", std::move(batches));
  return book::write_tree(root, book::TextForm::file);
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
  recipes.items.push_back(recipe_part(file.value().recipe, options.meat, today, options.chosen));
  root.set("recipes", std::move(recipes));
  return {true, book::write_tree(root, book::TextForm::file)};
}

}  // namespace saltrafter::share
