// Prints random blends and our answers, one JSON object a line, for another library to solve again:
// glpk.test.mjs. The seed is fixed; about half of the cases cannot be met.
#include <cstdint>
#include <cstdio>
#include <string>
#include <vector>

#include "core/recipe/recipe.h"

namespace {

using namespace saltrafter;
using namespace saltrafter::recipe;

constexpr int kCases = 240;

class Chance {
 public:
  double between(double low, double high) {
    state_ = state_ * 6364136223846793005ULL + 1442695040888963407ULL;
    return low + (high - low) * static_cast<double>(state_ >> 11U) * 0x1p-53;
  }
  bool one_in(int n) { return between(0.0, n) < 1.0; }

 private:
  std::uint64_t state_ = 20260101;
};

// Meat-like: fat as drawn, the fat-free rest about three quarters water and a fifth protein.
BlendCut cut(Chance& chance, int key) {
  BlendCut out;
  // Keys fall while the cuts come, so that their order by key is not that of the list.
  out.material = std::string("cut_") + static_cast<char>('z' - key);
  const double fat = chance.one_in(4) ? chance.between(0.6, 0.9) : chance.between(0.01, 0.35);
  const double protein = (1.0 - fat) * chance.between(0.18, 0.24);
  const double water = (1.0 - fat) * chance.between(0.68, 0.75);
  out.parts.fat_g = fat;
  out.parts.protein_g = protein;
  out.parts.water_g = water;
  out.parts.rest_g = 1.0 - fat - protein - water;
  out.price = chance.between(2.0, 24.0);
  if (chance.one_in(4)) out.least = chance.between(0.0, 0.35);
  if (chance.one_in(4)) out.most = chance.between(out.least, 1.0);
  return out;
}

Bounds around(Chance& chance, double low, double high, double widest) {
  const double first = chance.between(low, high);
  return {first, first + chance.between(0.0, widest)};
}

void print_bounds(const char* name, const std::optional<Bounds>& bounds) {
  if (bounds) std::printf(",\"%s\":[%.17g,%.17g]", name, bounds->low, bounds->high);
}

void print(const std::vector<BlendCut>& cuts, const BlendWishes& wishes, const BlendAnswer& answer) {
  std::printf("{\"aim\":\"%s\",\"fat_aim\":%.17g", wishes.aim == BlendAim::nearest ? "nearest" : "least_cost",
              wishes.fat_aim);
  print_bounds("fat", wishes.fat);
  print_bounds("ratio", wishes.moisture_protein_ratio);
  if (wishes.most_price) std::printf(",\"price\":%.17g", *wishes.most_price);
  std::printf(",\"cuts\":[");
  for (std::size_t i = 0; i < cuts.size(); ++i) {
    const BlendCut& c = cuts[i];
    std::printf(
        "%s{\"key\":\"%s\",\"fat\":%.17g,\"protein\":%.17g,\"water\":%.17g,\"price\":%.17g,\"least\":%.17g,"
        "\"most\":%.17g}",
        i == 0 ? "" : ",", c.material.c_str(), c.parts.fat_g, c.parts.protein_g, c.parts.water_g,
        c.price.value_or(0.0), c.least, c.most);
  }
  std::printf("],\"together\":%s,\"conflicts\":{", answer.together ? "true" : "false");
  for (std::size_t i = 0; i < answer.conflicts.size(); ++i) {
    std::printf("%s\"%s\":%.17g", i == 0 ? "" : ",", answer.conflicts[i].wish.c_str(),
                answer.conflicts[i].by);
  }
  std::printf("}");
  if (answer.blend) {
    std::printf(",\"shares\":[");
    for (std::size_t i = 0; i < cuts.size(); ++i)
      std::printf("%s%.17g", i == 0 ? "" : ",", answer.blend->shares[i]);
    std::printf("]");
  }
  std::printf("}\n");
}

}  // namespace

int main() {
  Chance chance;
  for (int i = 0; i < kCases; ++i) {
    std::vector<BlendCut> cuts;
    const int count = 2 + static_cast<int>(chance.between(0.0, 7.0));
    for (int k = 0; k < count; ++k) cuts.push_back(cut(chance, k));
    BlendWishes wishes;
    wishes.aim = chance.one_in(2) ? BlendAim::nearest : BlendAim::least_cost;
    wishes.fat_aim = chance.between(0.05, 0.5);
    if (!chance.one_in(4)) wishes.fat = around(chance, 0.05, 0.5, 0.1);
    if (chance.one_in(2)) wishes.moisture_protein_ratio = around(chance, 2.9, 3.9, 0.4);
    if (chance.one_in(2)) wishes.most_price = chance.between(3.0, 16.0);
    const Result<BlendAnswer> answer = blend(cuts, wishes);
    if (!answer.ok()) {
      std::fprintf(stderr, "case %d: %s\n", i, answer.error().field.c_str());
      return 1;
    }
    print(cuts, wishes, answer.value());
  }
  return 0;
}
