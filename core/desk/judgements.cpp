#include "core/desk/judgements.h"

#include <utility>

namespace saltrafter::desk {
namespace {

constexpr std::size_t kRecipesKept = 4;  // a page compares two
constexpr std::int64_t kMinute_ms = 60'000;

// Whether the same is found on both. A plan is judged by the day; a log of temperatures by the minute.
bool same_ground(const Ground& a, const Ground& b, std::int64_t step_ms) {
  return a.today == b.today && a.chamber == b.chamber && a.own == b.own && a.now_utc_ms / step_ms == b.now_utc_ms / step_ms && a.chosen == b.chosen &&
         a.hands.scales == b.hands.scales && a.hands.supplies == b.hands.supplies;
}

bool waits_for_time(const plan::Batch& batch) {
  const plan::StagesNow now = plan::stages_now(batch);
  return now.on.has_value();
}

bool same_weights(const recipe::Sheet& a, const recipe::Sheet& b) {
  return a.meat == b.meat && a.total == b.total && a.mix == b.mix && a.composition == b.composition;
}

// Asked of safety's own gate, as if the recipe went into a bag next, as cold as that gate wants it.
drying::Sealing sealing_of(const Ground& ground, const BatchJudged& judged) {
  constexpr Celsius kBag{3.0};
  recipe::Recipe with_bag = judged.batch->made_from;
  recipe::Stage bag;
  bag.id = Id{"a bag to even out in"};
  bag.kind = recipe::StageKind::rest;
  bag.temperature = kBag;
  bag.sealed = true;
  with_bag.stages.push_back(bag);
  return {safety::gate(subject_of(ground, with_bag, judged.sheet, judged.evidence), bag.id).empty(), kBag};
}

}  // namespace

safety::Subject subject_of(const Ground& ground, const recipe::Recipe& recipe, const recipe::Sheet& sheet,
                           safety::Evidence evidence) {
  safety::Subject subject;
  subject.recipe = &recipe;
  subject.sheet = &sheet;
  subject.evidence = std::move(evidence);
  subject.chosen = ground.chosen;
  subject.own = ground.own;
  subject.today = ground.today;
  subject.now_utc_ms = ground.now_utc_ms;
  return subject;
}

const std::vector<safety::Finding>& Judgements::of_recipe(const Ground& ground, const recipe::Recipe& recipe,
                                                          const recipe::Sheet& sheet) {
  constexpr std::int64_t kDay_ms = 1440 * kMinute_ms;
  for (const OfRecipe& known : recipes_) {
    if (same_ground(known.ground, ground, kDay_ms) && same_weights(known.sheet, sheet) && known.recipe == recipe) {
      return known.findings;
    }
  }
  if (recipes_.size() >= kRecipesKept) recipes_.pop_front();
  recipes_.push_back({ground, recipe, sheet, safety::findings(subject_of(ground, recipe, sheet))});
  return recipes_.back().findings;
}

std::shared_ptr<const BatchJudged> Judgements::of_batch(const Ground& ground, const Id& id,
                                                        const std::shared_ptr<const plan::Batch>& batch) {
  OfBatch& known = batches_[id];
  constexpr std::int64_t kHour_ms = 60 * kMinute_ms;
  const std::int64_t step_ms = waits_for_time(*batch) ? kMinute_ms : kHour_ms;
  if (known.judged && known.judged->batch == batch && same_ground(known.ground, ground, step_ms)) return known.judged;
  auto judged = std::make_shared<BatchJudged>();
  judged->batch = batch;
  judged->evidence = plan::evidence_on(*batch, ground.today, ground.chamber ? ground.chamber->air : plan::AirLog{});
  Result<recipe::Sheet> sheet = plan::sheet_of(*batch, ground.hands);
  if (sheet.ok()) {
    judged->sheet = std::move(sheet).value();
    judged->findings =
        safety::findings(subject_of(ground, batch->made_from, judged->sheet, judged->evidence));
  } else {
    judged->error = sheet.error();
  }
  if (batch->hung && !judged->error) judged->sealing = sealing_of(ground, *judged);
  judged->stands = safety::stands(judged->evidence, judged->findings, {});
  known = {ground, judged};
  return judged;
}

}  // namespace saltrafter::desk
