// What the tests of answers to "what if" share: a piece of the golden salami as it hangs, and ways to run a task.
#pragma once

#include <doctest/doctest.h>

#include <utility>
#include <vector>

#include "tests/reference/drying/bodies.h"

namespace saltrafter::drying::test {

inline Hanging hanging(double diameter_m, std::vector<Stage> stages, double now, Factors factors = {},
                       const char* id = "piece") {
  Hanging out;
  out.id.text = id;
  out.hung = Grams(900.0);
  out.geometry = golden::cylinder(diameter_m);
  out.body = golden::salami_body(diameter_m);
  out.factors = factors;
  out.stages = std::move(stages);
  out.now = Days(now);
  return out;
}

template <class AnyTask>
auto result_of(AnyTask task) {
  while (!task.finished()) task.step();
  return task.result();
}

// In slices, moved between two of them; what is left to do never grows.
template <class AnyTask>
void run_in_slices(AnyTask& task, double slice_ms) {
  double clock_ms = 0.0;
  Progress before = task.progress();
  int slices = 0;
  while (!run_slice(task, [&clock_ms] { return clock_ms += 1.0; }, slice_ms)) {
    const Progress now = task.progress();
    CHECK(now.done >= before.done);
    CHECK(now.total <= before.total);
    before = now;
    AnyTask moved = std::move(task);
    task = std::move(moved);
    ++slices;
  }
  CHECK(slices > 3);
  CHECK(task.progress().done == task.progress().total);
}

}  // namespace saltrafter::drying::test
