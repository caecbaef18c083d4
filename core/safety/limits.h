// The limits table as findings: which rows hold, what each says, which of them decides. Internal to safety.
#pragma once

#include <vector>

#include "core/safety/amounts.h"
#include "core/safety/safety.h"

namespace saltrafter::safety {

// Rows of a rule for the recipe's product class that hold on the subject's day: those of no jurisdiction and
// those of the chosen one, or of all until one is chosen. In the order of the table.
std::vector<const tables::Limit*> rows_for(const Subject& subject, Rule rule);

// What a row says of an amount, in the row's own expression.
Finding finding_of(const tables::Limit& row, const AmountFound& found);
Finding finding_of(const tables::Limit& row, const Subject& subject);

// True when `a` asks for more than `b`, a row on the same question. Of two alike the one that is evidence,
// then by id.
bool stricter(const tables::Limit& a, const tables::Limit& b);
// Two rows of one rule ask the same when both are mosts or both leasts, and of one substance.
bool same_question(const tables::Limit& a, const tables::Limit& b);
// True when no row of `rows` on the same question is stricter.
bool is_strictest(const tables::Limit& row, const std::vector<const tables::Limit*>& rows);

// One finding a row; of each question the strictest decides.
std::vector<Finding> row_findings(const Subject& subject, Rule rule);

// The rule's one finding: the best of the ways to keep it, a way being as good as the worst of its rows.
// Nothing where no row holds.
std::vector<Finding> way_findings(const Subject& subject, const std::vector<const tables::Limit*>& rows,
                                  Rule rule);

// The margin within which a row is near, in its unit.
double near_margin(const tables::Limit& row);

// A limit's figure as the sodium salt where it is one of curing salts; else as it stands.
double as_compared(const tables::Limit& row);

}  // namespace saltrafter::safety
