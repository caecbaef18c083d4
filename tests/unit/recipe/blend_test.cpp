#include <doctest/doctest.h>

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

#include "core/recipe/recipe.h"
#include "tests/near.h"

using namespace saltrafter;
using namespace saltrafter::recipe;

namespace {

BlendCut cut(const char* key, double fat, std::optional<double> price = {}) {
  BlendCut c;
  c.material = key;
  c.parts.fat_g = fat;
  c.parts.water_g = 0.75 * (1.0 - fat);
  c.parts.protein_g = 0.2 * (1.0 - fat);
  c.parts.rest_g = 0.05 * (1.0 - fat);
  c.price = price;
  return c;
}

std::vector<BlendCut> three() {
  return {cut("lean", 0.05, 12.0), cut("belly", 0.5, 8.0), cut("back", 0.88, 4.0)};
}

BlendWishes cheapest() {
  BlendWishes wishes;
  wishes.aim = BlendAim::least_cost;
  return wishes;
}

BlendAnswer answer_of(const std::vector<BlendCut>& cuts, const BlendWishes& wishes) {
  const Result<BlendAnswer> answer = blend(cuts, wishes);
  REQUIRE(answer.ok());
  return answer.value();
}

Error error_of(const std::vector<BlendCut>& cuts, const BlendWishes& wishes) {
  const Result<BlendAnswer> answer = blend(cuts, wishes);
  REQUIRE_FALSE(answer.ok());
  return answer.error();
}

double conflict(const BlendAnswer& answer, const char* wish) {
  for (const Conflict& c : answer.conflicts) {
    if (c.wish == wish) return c.by;
  }
  return -1.0;
}

}  // namespace

TEST_CASE("two cuts meet a share of fat as by the square of Pearson") {
  BlendWishes wishes;
  wishes.fat_aim = 0.25;
  const BlendAnswer answer = answer_of({cut("lean", 0.0541), cut("back", 0.8869)}, wishes);
  REQUIRE(answer.blend.has_value());
  CHECK(answer.blend->shares[1] == near_abs(0.2352, 1e-4));
  CHECK(answer.blend->parts.fat_g == near_abs(0.25, 1e-9));
  CHECK(answer.blend->parts.total_g() == near_abs(1.0, 1e-9));
  CHECK_FALSE(answer.blend->price.has_value());
  CHECK(answer.conflicts.empty());
}

TEST_CASE("the cheapest blend takes as much of the cheap cut as the fat allows") {
  BlendWishes wishes = cheapest();
  wishes.fat = Bounds{0.2, 0.3};
  const BlendAnswer answer = answer_of(three(), wishes);
  REQUIRE(answer.blend.has_value());
  // Fat costs: per share of fat back fat lowers the price by 8/0.83, belly by 4/0.45; back fat more.
  CHECK(answer.blend->shares[2] == near_abs(0.25 / 0.83, 1e-9));
  CHECK(answer.blend->shares[1] == near_abs(0.0, 1e-9));
  CHECK(answer.blend->price.value_or(0.0) == near_abs(12.0 - 8.0 * 0.25 / 0.83, 1e-7));
}

TEST_CASE("among equals the shares are as equal as they can be, whatever the order of the cuts") {
  std::vector<BlendCut> cuts{cut("a", 0.1), cut("b", 0.1), cut("c", 0.1), cut("d", 0.7)};
  BlendWishes wishes;
  wishes.fat_aim = 0.25;
  const BlendAnswer answer = answer_of(cuts, wishes);
  CHECK(answer.blend->shares[0] == near_abs(0.25, 1e-6));
  CHECK(answer.blend->shares[3] == near_abs(0.25, 1e-6));
  cuts = {cut("e", 0.02, 9.0), cut("d", 0.1, 9.0), cut("c", 0.3, 9.0), cut("b", 0.5, 9.0),
          cut("a", 0.8, 9.0)};
  for (const BlendWishes& w : {wishes, cheapest()}) {
    const Blend one = answer_of(cuts, w).blend.value_or(Blend{});
    std::vector<BlendCut> turned(cuts.rbegin(), cuts.rend());
    const Blend two = answer_of(turned, w).blend.value_or(Blend{});
    REQUIRE(one.shares.size() == 5);
    for (std::size_t i = 0; i < 5; ++i) CHECK(one.shares[i] == two.shares[4 - i]);
  }
}

TEST_CASE("bounds per cut, ratio and price are kept") {
  std::vector<BlendCut> cuts = three();
  cuts[1].least = 0.2;
  cuts[2].most = 0.1;
  BlendWishes wishes;
  wishes.fat_aim = 0.4;
  wishes.most_price = 10.5;
  wishes.moisture_protein_ratio = Bounds{3.0, 3.8};
  const BlendAnswer answer = answer_of(cuts, wishes);
  REQUIRE(answer.blend.has_value());
  CHECK(answer.blend->parts.fat_g == near_abs(0.4, 1e-8));
  CHECK(answer.blend->shares[1] >= 0.2);
  CHECK(answer.blend->shares[2] <= 0.1);
  CHECK(answer.blend->price.value_or(99.0) <= 10.5 + 1e-7);
}

TEST_CASE("a wish that the others leave no room for is named with the least it must give way by") {
  BlendWishes wishes = cheapest();
  wishes.fat = Bounds{0.1, 0.2};
  wishes.most_price = 9.0;
  // 20 % fat costs at least 12 - 8 * 0.15 / 0.83; at a price of 9 there is at least 0.05 + 0.83 * 3 / 8 of
  // fat.
  const BlendAnswer answer = answer_of(three(), wishes);
  CHECK_FALSE(answer.blend.has_value());
  CHECK_FALSE(answer.together);
  REQUIRE(answer.conflicts.size() == 2);
  CHECK(conflict(answer, "price") == near_abs(3.0 - 8.0 * 0.15 / 0.83, 1e-7));
  CHECK(conflict(answer, "fat") == near_abs(0.05 + 0.83 * 3.0 / 8.0 - 0.2, 1e-7));
}

TEST_CASE("a ratio gives way in its own unit, and a wish that cannot help is not named") {
  // All cuts have 3.75 of water to protein: nothing but the ratio can give way.
  BlendWishes wishes = cheapest();
  wishes.fat = Bounds{0.2, 0.3};
  wishes.moisture_protein_ratio = Bounds{3.0, 3.5};
  const BlendAnswer answer = answer_of(three(), wishes);
  REQUIRE(answer.conflicts.size() == 1);
  CHECK(conflict(answer, "moisture_protein_ratio") == near_abs(0.25, 1e-8));
}

TEST_CASE("bounds of cuts that contradict each other are named by their material") {
  std::vector<BlendCut> cuts = three();
  cuts[0].least = 0.7;
  cuts[1].least = 0.6;
  const BlendAnswer most = answer_of(cuts, {});
  REQUIRE(most.conflicts.size() == 2);
  CHECK(conflict(most, "lean") == near_abs(0.3, 1e-8));
  CHECK(conflict(most, "belly") == near_abs(0.3, 1e-8));
  cuts = three();
  for (BlendCut& c : cuts) c.most = 0.3;
  const BlendAnswer least = answer_of(cuts, {});
  REQUIRE(least.conflicts.size() == 3);
  CHECK(conflict(least, "back") == near_abs(0.1, 1e-8));
}

TEST_CASE("wishes of which none alone is enough give way together") {
  BlendWishes wishes = cheapest();
  wishes.fat = Bounds{0.95, 1.0};
  wishes.most_price = 1.0;
  const BlendAnswer answer = answer_of(three(), wishes);
  CHECK_FALSE(answer.blend.has_value());
  CHECK(answer.together);
  REQUIRE(answer.conflicts.size() == 2);
  CHECK(conflict(answer, "fat") == near_abs(0.07, 1e-8));
  CHECK(conflict(answer, "price") == near_abs(3.0, 1e-7));
}

TEST_CASE("a wish for a ratio of cuts without protein is named, though there is no ratio to give") {
  BlendCut water;
  water.material = "water";
  water.parts.water_g = 1.0;
  BlendWishes wishes;
  wishes.moisture_protein_ratio = Bounds{0.0, 4.0};
  const BlendAnswer answer = answer_of({water}, wishes);
  CHECK(answer.together);
  REQUIRE(answer.conflicts.size() == 1);
  CHECK(conflict(answer, "moisture_protein_ratio") == 0.0);
}

TEST_CASE("what cannot be a cut or a wish is refused by its field") {
  CHECK(error_of({}, {}).field == "cuts");
  CHECK(error_of({}, {}).code == ErrorCode::missing);
  CHECK(error_of(std::vector<BlendCut>(kMostBlendCuts + 1, cut("a", 0.1)), {}).field == "cuts");
  std::vector<BlendCut> cuts = three();
  cuts[2].material = "lean";
  CHECK(error_of(cuts, {}).code == ErrorCode::duplicate_key);
  CHECK(error_of(cuts, {}).field == "cuts/2/material");
  cuts = three();
  cuts[1].price.reset();
  CHECK(blend(cuts, {}).ok());
  CHECK(error_of(cuts, cheapest()).field == "cuts/1/price");
  CHECK(error_of(cuts, cheapest()).code == ErrorCode::missing);
  BlendWishes priced;
  priced.most_price = 5.0;
  CHECK(error_of(cuts, priced).field == "cuts/1/price");
  for (const double bad : {-0.1, 1.1, std::nan(""), std::numeric_limits<double>::infinity()}) {
    CAPTURE(bad);
    cuts = three();
    cuts[0].least = bad;
    CHECK(error_of(cuts, {}).field == "cuts/0/least");
    cuts = three();
    cuts[0].most = bad;
    CHECK(error_of(cuts, {}).field == "cuts/0/most");
    BlendWishes wishes;
    wishes.fat = Bounds{bad, 1.0};
    CHECK(error_of(three(), wishes).field == "fat");
    wishes = {};
    wishes.fat_aim = bad;
    CHECK(error_of(three(), wishes).field == "fat_aim");
  }
  cuts = three();
  cuts[0].least = 0.5;
  cuts[0].most = 0.4;
  CHECK(error_of(cuts, {}).field == "cuts/0/least");
  cuts = three();
  cuts[0].parts = Composition{};
  CHECK(error_of(cuts, {}).field == "cuts/0/parts");
  cuts[0].parts.water_g = std::nan("");
  CHECK(error_of(cuts, {}).field == "cuts/0/parts");
  BlendWishes wishes;
  wishes.fat = Bounds{0.3, 0.2};
  CHECK(error_of(three(), wishes).field == "fat");
  wishes = {};
  wishes.moisture_protein_ratio = Bounds{std::nan(""), 3.0};
  CHECK(error_of(three(), wishes).field == "moisture_protein_ratio");
  wishes = {};
  wishes.most_price = std::nan("");
  CHECK(error_of(three(), wishes).field == "price");
}

TEST_CASE("a page of like cuts with many wishes is blended or its conflict named") {
  for (int turn = 0; turn < 40; ++turn) {
    std::vector<BlendCut> cuts;
    for (std::size_t i = 0; i < kMostBlendCuts; ++i) {
      // Equal cuts in groups of five: many ties.
      const double fat = 0.02 + 0.11 * static_cast<double>(i / 5);
      cuts.push_back(cut("", fat, 12.0 - 8.0 * fat));
      cuts.back().material = "cut_" + std::to_string(100 + i);
      cuts.back().most = 0.05 + 0.01 * turn;
      if (i % 7 == 0) cuts.back().least = 0.01;
    }
    BlendWishes wishes = turn % 2 == 0 ? cheapest() : BlendWishes{};
    wishes.fat = Bounds{0.01 * turn, 0.01 * turn + 0.05};
    const BlendAnswer answer = answer_of(cuts, wishes);
    CAPTURE(turn);
    CHECK(answer.blend.has_value() == answer.conflicts.empty());
    if (!answer.blend) continue;
    double sum = 0.0;
    for (const double share : answer.blend->shares) sum += share;
    CHECK(sum == near_abs(1.0, 1e-8));
    CHECK(answer.blend->parts.fat_g >= wishes.fat->low - 1e-8);
    CHECK(answer.blend->parts.fat_g <= wishes.fat->high + 1e-8);
  }
}
