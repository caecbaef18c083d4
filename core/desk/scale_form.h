// A piece on the scale, or several weighed as one: what it weighed, what is expected, the field, the answer
// at once, and a question where the weight looks wrong.
#pragma once

#include <cstdint>
#include <memory>
#include <optional>
#include <vector>

#include "core/desk/piece_forms.h"

namespace saltrafter::desk {

struct ScaleForm {
  Id batch_id;
  std::shared_ptr<const plan::Batch> batch;
  std::vector<Id> pieces;  // not empty
  Date day{};
  bool day_refused = false;  // what stands in the field of the day
  Grams tray;                // lies on the scale with it
  words::Id keep = words::Id::keep_weight;
  std::vector<parts::Act> others = {};  // beside the main act
};

struct ScaleDone {
  Id kept;  // the weighing; empty: none was
  Grams mass;
  bool by_touch = false;          // it was kept by a finger
  std::optional<int> other = {};  // of the other acts the one that was pressed
};
ScaleDone draw_scale(Screen& screen, const ScaleForm& form, WeighDraft& draft);

// Why a weight of that day looks wrong, as a question; empty where it does not.
words::Text odd_words(const Screen& screen, const plan::Batch& batch, Date day, const plan::AtScale& scale,
                      Grams mass);

// The field of these pieces' weight.
parts::Key scale_field(const std::vector<Id>& pieces);

}  // namespace saltrafter::desk
