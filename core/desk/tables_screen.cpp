// The Shelf: the reference tables, one of them as a list, and one row with every figure and its source.
#include <algorithm>

#include "core/desk/forms.h"
#include "core/desk/table_rows.h"

namespace saltrafter::desk {
namespace {

using Say = words::Id;

std::vector<recipe::Supply> own_rows(const Screen& s, const ReferenceTable& table) {
  std::vector<recipe::Supply> own;
  if (!table.own) return own;
  for (const recipe::Supply& supply : s.session.book.supplies()) {
    if (supply.kind == *table.own) own.push_back(supply);
  }
  return own;
}

// The own row that stands in place of a row of the table.
const recipe::Supply* own_instead(const std::vector<recipe::Supply>& own, const std::string& key) {
  for (const recipe::Supply& supply : own) {
    if (supply.replaces == key) return &supply;
  }
  return nullptr;
}

const ReferenceTable* open_table(Screen& s, ShelfLeaf up, const words::Text& where) {
  Session& session = s.session;
  const ReferenceTable* table = find_reference_table(session.view.table);
  if (back_to_shelf(s, where, up)) return nullptr;
  if (table == nullptr) session.open_shelf(ShelfLeaf::tables);
  return table;
}

// Figures of one source stand together, with what is said of it once beneath.
void draw_figures(Screen& s, const std::vector<RowFigure>& figures) {
  for (std::size_t i = 0; i < figures.size(); ++i) {
    if (i == 0) parts::list_rule(s.page);
    parts::row(s.page, {std::nullopt, figures[i].name, {}, figures[i].value, false});
    const bool last = i + 1 == figures.size();
    const tables::Origin& origin = figures[i].origin;
    if (!last && figures[i + 1].origin.source == origin.source && figures[i + 1].origin.known == origin.known)
      continue;
    parts::gap(s.page, 8.0);
    parts::paragraph(s.page, s.say(Say::row_source, {words::arg("source", origin.source),
                                                     words::arg("known", known(s.l, origin.known))}));
    parts::gap(s.page, 24.0);
  }
}

}  // namespace

void draw_tables(Screen& s) {
  Session& session = s.session;
  if (back_to_shelf(s, s.say(Say::shelf_title), ShelfLeaf::shelf)) return;
  parts::heading(s.page, s.say(Say::tables_title));
  parts::lead(s.page, s.say(Say::tables_lead));
  parts::gap(s.page, 16.0);
  parts::list_rule(s.page);
  for (const ReferenceTable& table : reference_tables()) {
    const int own = static_cast<int>(own_rows(s, table).size());
    parts::Row row;
    row.key = key("tables") / table.key;
    row.name = s.say(table.name);
    row.fact = s.say(table.use);
    row.figure = words::number(s.l, static_cast<double>(table.rows(s.l).size()), 0);
    if (own > 0)
      row.figure = s.say(Say::tables_with_own, {words::arg("all", row.figure), words::count("n", own)});
    if (parts::row(s.page, row)) {
      session.view.table = std::string(table.key);
      session.open_shelf(ShelfLeaf::table);
    }
  }
}

void draw_table(Screen& s) {
  Session& session = s.session;
  const ReferenceTable* table = open_table(s, ShelfLeaf::tables, s.say(Say::tables_title));
  if (table == nullptr) return;
  parts::heading(s.page, s.say(table->name));
  parts::lead(s.page, s.say(table->use));
  const std::vector<recipe::Supply> own = own_rows(s, *table);
  std::vector<ReferenceRow> rows = table->rows(s.l);
  if (!own.empty()) {
    parts::gap(s.page, 24.0);
    parts::second_heading(s.page, s.say(Say::table_yours));
    parts::list_rule(s.page);
    for (const recipe::Supply& supply : own) {
      if (parts::row(s.page, supply_row(s, supply, key("table") / "own" / supply.key))) {
        session.open_supply(Id{supply.key});
      }
    }
  }
  if (table->own) {
    parts::gap(s.page, 16.0);
    if (parts::act(s.page, {key("table") / "add", s.say(Say::table_add), parts::ActKind::other, true, {}})) {
      session.new_supply(*table->own, {}, {});
      return;
    }
  }
  parts::gap(s.page, 24.0);
  if (!own.empty()) parts::second_heading(s.page, s.say(Say::table_ours));
  const bool by_name = rows.size() >= 40;
  if (by_name) {
    std::stable_sort(rows.begin(), rows.end(), [](const ReferenceRow& a, const ReferenceRow& b) {
      return words::folded(a.name.plain()) < words::folded(b.name.plain());
    });
  }
  parts::List list{key("table") / table->key, {}};
  for (const ReferenceRow& row : rows) {
    words::Text fact = row.fact;
    if (const recipe::Supply* mine = own_instead(own, row.key)) {
      fact = s.say(Say::row_replaced, {words::arg("name", mine->name)});
    }
    list.rows.push_back({key("table") / table->key / row.key, row.name, fact, row.figure, false});
  }
  if (list.rows.size() < 12) parts::list_rule(s.page);
  if (const auto pressed = parts::list(s.page, list)) {
    session.view.table_row = rows[static_cast<std::size_t>(*pressed)].key;
    session.open_shelf(ShelfLeaf::row);
  }
}

void draw_table_row(Screen& s) {
  Session& session = s.session;
  const ReferenceTable* named = find_reference_table(session.view.table);
  const ReferenceTable* table =
      open_table(s, ShelfLeaf::table, named != nullptr ? s.say(named->name) : s.say(Say::tables_title));
  if (table == nullptr) return;
  const std::vector<ReferenceRow> rows = table->rows(s.l);
  const auto row = std::find_if(rows.begin(), rows.end(), [&session](const ReferenceRow& one) {
    return one.key == session.view.table_row;
  });
  if (row == rows.end()) return session.open_shelf(ShelfLeaf::table);
  parts::heading(s.page, row->name);
  parts::lead(s.page, s.say(table->use));
  const std::vector<recipe::Supply> own = own_rows(s, *table);
  if (const recipe::Supply* mine = own_instead(own, row->key)) {
    parts::gap(s.page, 16.0);
    parts::paragraph(s.page, s.say(Say::row_replaced_here));
    if (parts::row(s.page, supply_row(s, *mine, key("row") / "own"))) session.open_supply(Id{mine->key});
  }
  parts::gap(s.page, 24.0);
  draw_figures(s, row->figures);
  if (table->own && own_instead(own, row->key) == nullptr) {
    parts::reason(s.page, s.say(Say::row_make_own_what));
    parts::gap(s.page, 16.0);
    if (parts::act(s.page,
                   {key("row") / "make_own", s.say(Say::row_make_own), parts::ActKind::other, true, {}})) {
      session.new_supply(*table->own, row->key, row->name.plain());
    }
  }
}

}  // namespace saltrafter::desk
