// Which cuts, in which shares, meet wishes for fat, water to protein and price.
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "core/base/base.h"
#include "core/recipe/composition.h"

namespace saltrafter::recipe {

struct BlendCut {
  std::string material;
  Composition parts;                 // of 1 g
  std::optional<double> price;       // per kg
  double least = 0.0;                // share of the meat, 0..1
  double most = 1.0;
};

struct Bounds {
  double low = 0.0;
  double high = 0.0;  // >= low; equal: exactly

  friend bool operator==(const Bounds&, const Bounds&) = default;
};

enum class BlendAim {
  least_cost,  // all cuts need a price
  nearest,     // to fat_aim, and among equals to equal shares by key order
};

struct BlendWishes {
  BlendAim aim = BlendAim::nearest;
  std::optional<Bounds> fat;                     // share of the meat, 0..1
  std::optional<Bounds> moisture_protein_ratio;  // of the raw blend
  std::optional<double> most_price;              // per kg
  double fat_aim = 0.25;                         // of BlendAim::nearest
};

// A wish that the others leave no room for, and the least by which it would have to give way alone.
struct Conflict {
  std::string wish;  // "fat", "moisture_protein_ratio", "price", or the material whose bounds are meant
  double by = 0.0;   // in the wish's own unit
};

struct Blend {
  std::vector<double> shares;  // of the cuts, in their order; add to 1
  Composition parts;           // of 1 g of the blend
  std::optional<double> price;  // per kg; nothing where a cut that takes part has none
};

struct BlendAnswer {
  std::optional<Blend> blend;       // nothing: no blend meets all wishes
  // Then, never empty: each wish that, given way alone, would let the others be met, and by how much.
  std::vector<Conflict> conflicts;
  // No wish alone is enough: these give way together, by the least in all (in shares, and price per highest
  // price). A ratio of a blend without protein gives way by 0: there is none.
  bool together = false;
};

inline constexpr std::size_t kMostBlendCuts = 40;  // choice: a page of cuts

// Linear programming over the shares. Among blends as good as the best (by 1e-9 of the highest price, of the
// share of fat) the one nearest to equal shares (least sum of differences), ties by key order, so that the
// order of `cuts` changes nothing.
// Errors: missing ("cuts"; "cuts/<i>/price" for least_cost or a wish for price), out_of_range ("cuts",
// "cuts/<i>/least", "cuts/<i>/price", "cuts/<i>/parts", "fat", "moisture_protein_ratio", "price", "fat_aim"),
// duplicate_key ("cuts/<i>/material"), not_converged.
Result<BlendAnswer> blend(const std::vector<BlendCut>& cuts, const BlendWishes& wishes);

}  // namespace saltrafter::recipe
