#include "core/base/task.h"

#include <cstring>

namespace saltrafter {

bool run_slice(Task& task, const std::function<double()>& clock_ms, double budget_ms) {
  const double start_ms = clock_ms();
  do {
    task.step();
  } while (!task.finished() && clock_ms() - start_ms < budget_ms);
  return task.finished();
}

std::uint64_t fold(std::uint64_t hash, std::uint64_t bits) {
  for (int i = 0; i < 8; ++i) {
    hash = (hash ^ ((bits >> (8 * i)) & 0xffU)) * 1099511628211ULL;
  }
  return hash;
}

std::uint64_t fold(std::uint64_t hash, double value) {
  const double plain = value == 0.0 ? 0.0 : value;
  std::uint64_t bits = 0;
  std::memcpy(&bits, &plain, sizeof bits);
  return fold(hash, bits);
}

}  // namespace saltrafter
