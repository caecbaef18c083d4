// The parts of the report, one for each kind of result.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "core/book/book.h"
#include "core/drying/drying.h"
#include "core/recipe/recipe.h"
#include "core/safety/safety.h"

namespace saltrafter::share {

// Members of an object being written. A number that is not finite is left out.
void put(book::Node& object, std::string_view name, double value);
void put_text(book::Node& object, std::string_view name, std::string_view value);

book::Node error_node(const Error& error);
book::Node sheet_node(const recipe::Sheet& sheet);
// "nitrite.ingoing_mg_per_kg": the working's id with its unit spelled out.
book::Node working_node(const recipe::Working& working);
book::Node composition_node(const recipe::Composition& composition);
book::Node findings_node(const std::vector<safety::Finding>& findings);
book::Node forecast_node(const drying::Forecast& forecast, Date hung_on);

}  // namespace saltrafter::share
