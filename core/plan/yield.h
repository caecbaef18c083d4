// What comes of a batch and what it costs: green weight to hung, finished and sliceable weight; price per kg;
// what the finished meat is made of.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "core/plan/batch.h"

namespace saltrafter::plan {

// All pieces together, g, casing and string left out. Those that still hang, or a batch without pieces, stand
// at the loss that is wanted of them. hung = taken_off + water + finished.
struct Yield {
  Grams green;       // the mix as put together; of whole muscle the trimmed meat
  Grams hung;
  Grams taken_off;   // cut, sampled and trimmed off since
  Grams water;       // dried away
  Grams finished;
  // For slicing: what each piece says, else `finished` less the batch's share of ends. Nothing where neither
  // is said.
  std::optional<Grams> usable;
  double loss = 0.0;  // of the weight at hanging of what is left: what the finished composition is after
  int taken_down = 0;  // pieces whose weights are measured
};
// `needed`: the loss at which all wishes of a batch hold (drying::NeededLoss); without it, or without wishes, what the
// recipe wants. Error: as wanted_loss.
Result<Yield> yield_of(const Batch& batch, const recipe::Sheet& sheet, std::optional<double> needed = {});

// In the maker's money. With something unpriced it is a least.
struct Price {
  double ingredients = 0.0;  // and casing
  double trim = 0.0;         // bought with the meat, at its price
  double energy = 0.0;
  std::vector<std::string> unpriced;        // as recipe::Cost
  std::optional<double> per_kg_finished;
  std::optional<double> per_kg_usable;

  double total() const { return ingredients + trim + energy; }
};
Price price_of(const Batch& batch, const recipe::Sheet& sheet, const recipe::Cost& cost, const Yield& yield);

// In 100 g of finished meat.
struct Finished {
  double water_g = 0.0, protein_g = 0.0, fat_g = 0.0, salt_g = 0.0;  // salt as sodium chloride
  double moisture_protein_ratio = 0.0;
  double water_phase_salt = 0.0;           // 0..1
  std::optional<WaterActivity> activity;   // the caller's, measured or estimated
};
Finished finished_of(const recipe::Composition& at_hanging, double loss,
                     std::optional<WaterActivity> activity);

// A line for a label, for 100 g. Carbohydrate is the sugar as it was put in, which is the most that can be
// left: what a culture soured is acid of less energy. Starch of spices and the meat's own sodium are not
// counted; saturates are not known.
struct Nutrition {
  double energy_kj = 0.0, energy_kcal = 0.0;
  double fat_g = 0.0, carbohydrate_g = 0.0, protein_g = 0.0;
  double salt_g = 0.0;  // sodium times 2.5
};
// Source: Regulation (EU) No 1169/2011, annex XIV for the energy, annex I for salt as sodium times 2.5; read
// in copies. All 0 where the composition has no mass.
Nutrition nutrition_of(const recipe::Composition& finished);

}  // namespace saltrafter::plan
