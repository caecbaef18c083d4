// What keeps and what grows, by pH and water activity.
#pragma once

#include <vector>

#include "core/base/base.h"
#include "core/safety/finding.h"
#include "core/tables/tables.h"

namespace saltrafter::safety {

struct Subject;

// Leistner and Roedel's classes of salted, cured and soured meat. Of unsoured muscle they say too much: by pH
// it is never kept, and its water activity has to be lower (rows of the rule `keeps`).
enum class KeepingClass { shelf_stable, perishable, very_perishable };
// Source: rows any.*.minced.keeps of the limits table. Alone, each has to be under its figure.
KeepingClass keeping_class(double ph, WaterActivity activity);

// Whether an organism may grow or make its toxin there, all else being ideal: at a figure itself it counts as
// growing. Source: table organisms.
bool may_grow(const tables::Organism& organism, Celsius temperature, double ph, WaterActivity activity);

// Listeria, and keeping without cold by pH and water activity together. Only measured values are judged.
std::vector<Finding> keeping_findings(const Subject& subject);

}  // namespace saltrafter::safety
