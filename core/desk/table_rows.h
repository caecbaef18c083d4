// The reference tables as the screens show them: each row with its figures in words, its sources and whose it
// is.
#pragma once

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "core/desk/screens.h"
#include "core/tables/tables.h"

namespace saltrafter::desk {

// One figure of a row, with its unit, and where it comes from.
struct RowFigure {
  words::Text name;
  words::Text value;
  tables::Origin origin;
};

struct ReferenceRow {
  std::string key;
  words::Text name;
  words::Text fact;    // the figures that tell it from others
  words::Text figure;  // the one figure that matters most, or empty
  std::vector<RowFigure> figures;
};

// A table described: its name, what the program does with it, and how its rows become words.
struct ReferenceTable {
  std::string_view key;  // as in assets/tables
  words::Id name;
  words::Id use;
  std::optional<recipe::SupplyKind> own;  // what the maker's own rows of it are
  std::vector<ReferenceRow> (*rows)(const words::Language& l);
};

const std::vector<ReferenceTable>& reference_tables();
const ReferenceTable* find_reference_table(std::string_view key);
// The table that own rows of a kind belong to.
const ReferenceTable& reference_table(recipe::SupplyKind kind);

// The word of a row: `kind` and the key with underscores for what no id may hold; the key itself where it has
// none.
words::Text row_name(const words::Language& l, std::string_view kind, std::string_view key);

// A figure with as many digits as it has, up to `most`: 6.25 stays 6.25, and 4.0 is 4.
words::Text exact_figure(const words::Language& l, double value, int most, std::string_view unit);

// A limit's agent and the unit of its figure, in words.
words::Text agent_name(const words::Language& l, tables::Agent agent);
words::Text agent_amount(const words::Language& l, tables::Agent agent, double value);

}  // namespace saltrafter::desk
