#include "core/desk/parts/table.h"

#include <cmath>

#include "core/desk/parts/rows.h"

namespace saltrafter::parts {
namespace {

constexpr double kApart = 24.0;

class Wide {
 public:
  Wide(Page& page, const std::vector<Column>& columns, const std::vector<TableRow>& rows)
      : page_(page), columns_(columns), rows_(rows) {}

  // Column widths by their content; what is left goes to columns of words. False: they do not fit.
  bool fits() {
    Canvas& c = page_.canvas();
    double sum = 0.0;
    int of_words = 0;
    for (std::size_t k = 0; k < columns_.size(); ++k) {
      double widest = width_of(c, columns_[k].head, type::small);
      for (const TableRow& row : rows_) {
        if (k < row.cells.size()) widest = std::fmax(widest, width_of(c, row.cells[k], type::text));
      }
      if (!columns_[k].figures) {
        ++of_words;
        widest = std::fmin(widest, 0.45 * page_.width());
      } else if (page_.width() > 120.0 * static_cast<double>(columns_.size())) {
        widest = std::fmax(widest, 92.0);  // figures stand apart from each other, not huddled at the right
      }
      widths_.push_back(widest);
      sum += widest + (k > 0 ? kApart : 0.0);
    }
    if (sum > page_.width()) return false;
    const double left = page_.width() - sum;
    for (std::size_t k = 0; k < columns_.size(); ++k) {
      if (of_words > 0 ? !columns_[k].figures : true) {
        widths_[k] += left / (of_words > 0 ? of_words : static_cast<double>(columns_.size()));
      }
    }
    return true;
  }

  std::optional<int> run() {
    Canvas& c = page_.canvas();
    std::optional<int> pressed;
    const Rect head = page_.take(34.0);
    std::vector<words::Text> heads;
    for (const Column& column : columns_) heads.push_back(column.head);
    cells(heads, Rect{head.x, head.y + 4.0, head.width, 24.0}, type::small, true);
    c.hairline(head.x, head.right(), head.bottom() - 1.0, c.colour(Ink::rule));
    for (int i = 0; i < static_cast<int>(rows_.size()); ++i) {
      const TableRow& row = rows_[static_cast<std::size_t>(i)];
      double tallest = 25.0;
      for (std::size_t k = 0; k < columns_.size() && k < row.cells.size(); ++k) {
        tallest = std::fmax(tallest, set(c, row.cells[k], type::text, widths_[k]).height());
      }
      const Rect rect = page_.take(std::fmax(48.0, tallest + 22.0));
      if (row.key && target(row, rect)) pressed = i;
      cells(row.cells, Rect{rect.x, rect.y + (rect.height - 1.0 - tallest) / 2.0, rect.width, tallest},
            type::text, !row.key);
      if (!row.key) c.hairline(rect.x, rect.right(), rect.bottom() - 1.0, c.colour(Ink::rule));
    }
    return pressed;
  }

 private:
  bool target(const TableRow& row, const Rect& rect) {
    Node node;
    node.id = row.key->value();
    node.role = Role::row;
    for (std::size_t k = 0; k < row.cells.size(); ++k) {
      if (k == 0) {
        node.name = row.cells[k].plain();
        node.verbatim = row.cells[k].verbatim();
      } else {
        node.value += (k > 1 ? ", " : "") + row.cells[k].plain();
      }
    }
    return page_.row_ground(std::move(node), rect).pressed;
  }

  void cells(const std::vector<words::Text>& texts, const Rect& line, const Style& style, bool said) {
    Canvas& c = page_.canvas();
    double x = line.x;
    for (std::size_t k = 0; k < columns_.size() && k < texts.size(); ++k) {
      const Setting& cell = set(c, texts[k], style, widths_[k]);
      draw(c, cell, x, line.y, widths_[k], columns_[k].figures ? Align::right : Align::left, style.ink);
      const double left = columns_[k].figures ? x + widths_[k] - cell.width : x;
      if (said) page_.say(texts[k], Role::cell, Rect{left, line.y, cell.width, cell.height()});
      x += widths_[k] + kApart;
    }
  }

  Page& page_;
  const std::vector<Column>& columns_;
  const std::vector<TableRow>& rows_;
  std::vector<double> widths_;
};

// What the name and the figure of each row are.
void row_heads(Page& page, const std::vector<Column>& columns, std::size_t main) {
  if (columns.empty()) return;
  Canvas& c = page.canvas();
  const bool figure = main < columns.size() && !columns[main].head.empty();
  const double half = figure ? (page.width() - kApart) / 2.0 : page.width();
  const Setting& name = set(c, columns[0].head, type::small, half);
  const Setting right = figure ? set(c, columns[main].head, type::small, half) : Setting();
  const double height = std::fmax(name.height(), right.height());
  if (height <= 0.0) return;
  const Rect line = page.take(height + 10.0);
  draw(c, name, line.x, line.y + 4.0);
  page.say(columns[0].head, Role::cell, Rect{line.x, line.y + 4.0, name.width, name.height()});
  if (figure) {
    draw(c, right, line.right() - half, line.y + 4.0, half, Align::right, type::small.ink);
    page.say(columns[main].head, Role::cell,
             Rect{line.right() - right.width, line.y + 4.0, right.width, right.height()});
  }
  c.hairline(line.x, line.right(), line.bottom() - 1.0, c.colour(Ink::rule));
}

std::optional<int> as_rows(Page& page, const std::vector<Column>& columns,
                           const std::vector<TableRow>& rows) {
  std::optional<int> pressed;
  // The first figure stands at the right of the name, the others beneath with their heads.
  std::size_t main = columns.size();
  for (std::size_t k = 1; k < columns.size() && main == columns.size(); ++k) {
    if (columns[k].figures) main = k;
  }
  row_heads(page, columns, main);
  for (int i = 0; i < static_cast<int>(rows.size()); ++i) {
    const TableRow& row = rows[static_cast<std::size_t>(i)];
    Row line;
    line.key = row.key;
    if (!row.cells.empty()) line.name = row.cells[0];
    std::vector<words::Text> rest;
    for (std::size_t k = 1; k < row.cells.size() && k < columns.size(); ++k) {
      if (k == main) {
        line.figure = row.cells[k];
        continue;
      }
      if (row.cells[k].empty()) continue;
      if (!rest.empty()) rest.push_back(words::verbatim(", "));
      rest.push_back(columns[k].head);
      rest.push_back(words::verbatim(" "));
      rest.push_back(row.cells[k]);
    }
    line.fact = words::join(rest);
    if (parts::row(page, line)) pressed = i;
  }
  return pressed;
}

}  // namespace

std::optional<int> table(Page& page, const std::vector<Column>& columns, const std::vector<TableRow>& rows,
                         const words::Text& order) {
  page.space(8.0);
  if (!order.empty()) page.paragraph(order, type::small);
  Wide wide(page, columns, rows);
  std::optional<int> pressed;
  if (!page.narrow() && wide.fits()) {
    pressed = wide.run();
  } else {
    pressed = as_rows(page, columns, rows);
  }
  page.space(16.0);
  return pressed;
}

}  // namespace saltrafter::parts
