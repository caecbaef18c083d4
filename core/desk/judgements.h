// What the limits say of recipes and batches, computed once and kept until what they rest on changes.
#pragma once

#include <cstdint>
#include <deque>
#include <map>
#include <memory>
#include <optional>
#include <vector>

#include "core/base/base.h"
#include "core/plan/plan.h"

namespace saltrafter::desk {

// With what and by whose rules is judged, and when.
struct Ground {
  recipe::Hands hands;
  safety::Chosen chosen = safety::Chosen::not_chosen;
  std::vector<safety::OwnLimit> own;
  Date today{};
  std::int64_t now_utc_ms = 0;
  std::shared_ptr<const plan::Chamber> chamber = {};  // that batches hang in; nullptr: none is known
};
safety::Subject subject_of(const Ground& ground, const recipe::Recipe& recipe, const recipe::Sheet& sheet,
                           safety::Evidence evidence = {});

// A batch on the weights put in, with all that is recorded of it.
struct BatchJudged {
  std::shared_ptr<const plan::Batch> batch;  // as it was judged
  safety::Evidence evidence;                 // with the loss of now; what `stands` points into
  std::optional<Error> error;                // there is no sheet, and no finding
  recipe::Sheet sheet;
  std::vector<safety::Finding> findings;
  safety::Stands stands;
  drying::Sealing sealing;  // whether it may go into a bag now to even out, of one that hangs
};

class Judgements {
 public:
  const std::vector<safety::Finding>& of_recipe(const Ground& ground, const recipe::Recipe& recipe,
                                                const recipe::Sheet& sheet);
  // Good as long as it is held. By the hour is judged to the minute.
  std::shared_ptr<const BatchJudged> of_batch(const Ground& ground, const Id& id,
                                              const std::shared_ptr<const plan::Batch>& batch);

 private:
  struct OfRecipe {
    Ground ground;
    recipe::Recipe recipe;
    recipe::Sheet sheet;
    std::vector<safety::Finding> findings;
  };
  struct OfBatch {
    Ground ground;
    std::shared_ptr<const BatchJudged> judged;
  };
  std::deque<OfRecipe> recipes_;  // the last few
  std::map<Id, OfBatch> batches_;
};

}  // namespace saltrafter::desk
