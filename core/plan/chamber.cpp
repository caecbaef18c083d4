#include "core/plan/chamber.h"

namespace saltrafter::plan {

int changes_between(const Chamber& chamber, Date from, Date until) {
  int count = 0;
  for (const ChamberChange& change : chamber.changes) count += change.on > from && change.on <= until ? 1 : 0;
  return count;
}

}  // namespace saltrafter::plan
