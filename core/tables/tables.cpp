#include "core/tables/tables.h"

#include <algorithm>

#include "core/tables/metrics.h"

namespace saltrafter::tables {
namespace {

std::string_view key_of(const Limit& row) { return row.id; }
template <class Row>
std::string_view key_of(const Row& row) {
  return row.key;
}

template <class Row>
const Row* find(std::span<const Row> rows, std::string_view key) {
  for (const Row& row : rows) {
    if (key_of(row) == key) {
      return &row;
    }
  }
  return nullptr;
}

const Advance* find_advance(const FaceMetrics& face, std::uint32_t code_point) {
  const auto at = std::lower_bound(face.advances.begin(), face.advances.end(), code_point,
                                   [](const Advance& a, std::uint32_t code) { return a.code_point < code; });
  return at != face.advances.end() && at->code_point == code_point ? &*at : nullptr;
}

}  // namespace

const Cut* find_cut(std::string_view key) { return find(cuts(), key); }
const Additive* find_additive(std::string_view key) { return find(additives(), key); }
const CuringMix* find_curing_mix(std::string_view key) { return find(curing_mixes(), key); }
const Casing* find_casing(std::string_view key) { return find(casings(), key); }
const Culture* find_culture(std::string_view key) { return find(cultures(), key); }
const Organism* find_organism(std::string_view key) { return find(organisms(), key); }
const Limit* find_limit(std::string_view id) { return find(limits(), id); }
const DegreeHourClass* find_degree_hours(std::string_view key) { return find(degree_hours(), key); }
const Freezing* find_freezing(std::string_view key) { return find(freezing(), key); }
const Heating* find_heating(std::string_view key) { return find(heating(), key); }
const CuringMethod* find_curing_method(std::string_view key) { return find(curing_methods(), key); }
const SouringMethod* find_souring_method(std::string_view key) { return find(souring_methods(), key); }
const DailyLoss* find_daily_loss(std::string_view key) { return find(daily_loss(), key); }
const Salt* find_salt(std::string_view key) { return find(salts(), key); }
const Constant* find_constant(std::string_view key) { return find(constants(), key); }

int advance(Face face, char32_t code_point) {
  constexpr std::uint32_t kReplacement = 0xFFFD;
  const FaceMetrics& metrics = face_metrics(face);
  for (const std::uint32_t code :
       {static_cast<std::uint32_t>(code_point), kReplacement, std::uint32_t{'?'}}) {
    if (const Advance* found = find_advance(metrics, code)) {
      return found->width;
    }
  }
  return 0;
}

int ascent(Face face) { return face_metrics(face).ascent; }
int descent(Face face) { return face_metrics(face).descent; }

}  // namespace saltrafter::tables
