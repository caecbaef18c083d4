// Long work cut at fixed points, so that a page stays awake while it computes.
//
// A task owns its inputs and its state. Each step does one fixed piece of work whose size depends on the
// inputs alone: how steps are grouped into slices can never change a result. To cancel, drop the task.
#pragma once

#include <cstdint>
#include <functional>

namespace saltrafter {

struct Progress {
  int done = 0;
  int total = 0;  // an upper estimate; may shrink when work ends early, never grows
};

class Task {
 public:
  virtual ~Task() = default;
  virtual bool finished() const = 0;
  virtual void step() = 0;  // one fixed piece of work, about 1 ms or less; nothing when finished
  virtual Progress progress() const = 0;
  virtual std::uint64_t key() const = 0;  // hash of the inputs: equal keys, equal result

 protected:
  Task() = default;
  Task(const Task&) = default;
  Task& operator=(const Task&) = default;
};

// Steps until the task is finished or `budget_ms` of the given clock have passed (at least one step).
// Returns task.finished().
bool run_slice(Task& task, const std::function<double()>& clock_ms, double budget_ms);

// FNV-1a, 64 bit, for keys of tasks: fold(fold(kHashStart, a), b).
inline constexpr std::uint64_t kHashStart = 14695981039346656037ULL;
std::uint64_t fold(std::uint64_t hash, std::uint64_t bits);
std::uint64_t fold(std::uint64_t hash, double value);  // by its bits, -0 as 0

}  // namespace saltrafter
