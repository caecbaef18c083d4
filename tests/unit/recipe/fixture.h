// A recipe for tests, and ports that count.
#pragma once

#include <cstdint>
#include <memory>

#include "core/recipe/recipe.h"

namespace saltrafter::recipe::test {

inline Ports counting_ports() {
  auto next = std::make_shared<std::uint64_t>(0);
  Ports ports;
  ports.now_utc_ms = [] { return std::int64_t{0}; };
  ports.zone_offset_min = [](std::int64_t) { return 0; };
  ports.random_bits = [next] { return (*next)++; };
  return ports;
}

inline Line line(LineKind kind, const char* material, double amount, Basis basis = Basis::g_per_kg) {
  Line l;
  l.id = Id{std::string("line_") + material + std::to_string(static_cast<int>(kind))};
  l.kind = kind;
  l.name = material;
  l.material = material;
  l.basis = basis;
  l.amount = amount;
  return l;
}

// 70 % lean ham, 30 % back fat, 27 g/kg salt in all, 150 mg/kg nitrite by a 6.25 % mix, dextrose and pepper.
inline Recipe sample() {
  Recipe r;
  r.name = "Sample";
  r.mix = CuringMix{"6.25 %", 0.0625, 0.0};
  r.lines = {line(LineKind::meat, "pork_ham_lean", 0.7),
             line(LineKind::meat, "pork_back_fat", 0.3),
             line(LineKind::salt, "", 27.0),
             line(LineKind::cure, "", 150.0),
             line(LineKind::additive, "dextrose", 4.0),
             line(LineKind::additive, "black_pepper", 0.003, Basis::percent_of_meat)};
  return r;
}

}  // namespace saltrafter::recipe::test
