// What a maker wants of a piece, as the loss at which it has it.
#pragma once

#include <array>
#include <vector>

#include "core/base/base.h"
#include "core/drying/body.h"
#include "core/drying/offsets.h"

namespace saltrafter::drying {

enum class WishKind {
  loss,                    // value: share of the weight at hanging, 0.01..0.9
  moisture_protein_ratio,  // value: water to protein by mass, 0.1..10
  moisture,                // value: g water per g, 0.05..0.9
  activity,                // value: water activity of a blended sample, 0.3..0.999
  least_days,              // value: days since hanging, 0..3650
};

struct Wish {
  WishKind kind = WishKind::loss;
  double value = 0.35;

  friend bool operator==(const Wish&, const Wish&) = default;
};

// Errors: out_of_range "wishes/<i>/value".
Result<Done> check_wishes(const std::vector<Wish>& wishes);

// All wishes but least_days hold from this loss on, since each holds from one on. Source: mass balance, only
// water leaves; activity by the isotherm.
struct NeededLoss {
  double loss = 0.0;           // 0 where all hold at hanging
  double sd = 0.0;             // by what is not known of water and isotherm
  std::size_t last = 0;        // index of the wish that holds last
  double least_days = 0.0;     // the longest of them
  std::vector<double> each;    // the loss from which on each wish holds; of least_days 0
};

// `body` and `composition` stand where `offsets.mean` has moved them.
NeededLoss needed_loss(const std::vector<Wish>& wishes, const Body& body, const recipe::Composition& composition,
                       const Offsets& offsets);

}  // namespace saltrafter::drying
