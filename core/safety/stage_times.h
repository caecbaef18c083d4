// Times and temperatures that a piece has seen, from what is recorded, and those to come. Internal to safety.
#pragma once

#include <cstddef>
#include <cstdint>
#include <optional>
#include <vector>

#include "core/safety/safety.h"

namespace saltrafter::safety {

// `subject.now_utc_ms`, or the beginning of `today` where it is 0.
std::int64_t now_of(const Subject& subject);

// What is recorded of the recipe's stage of that index, or nullptr.
const StageDone* done_of(const Subject& subject, std::size_t stage);

// The highest temperature of the air recorded in a stage by an instrument that has not failed, °C, up to now.
std::optional<double> highest_in(const Subject& subject, const StageDone& done);

// The first sign in a stage's log that its air was warm: a reading over 5 °C by more than the swing of a controller, or any
// over it where the mean of the log is. Nothing where the log says nothing of the kind.
struct Warm {
  std::int64_t at_utc_ms = 0;
  double temperature_c = 0.0;
};
std::optional<Warm> first_warm_in(const Subject& subject, const StageDone& done);

// The stages begun so far, in the order of their beginnings, up to `until_utc_ms`, at the mean of the
// temperatures recorded in each (planned where there is none). `loss` has risen evenly over the days outside
// a bag; without such days none of it counts. All together no longer than 365 days.
std::vector<SaltTime> times_done(const Subject& subject, std::int64_t until_utc_ms, double loss);

// Those, and what is still planned before the stage of that index. Of a recipe nobody has made: times_before.
std::vector<SaltTime> times_ahead(const Subject& subject, std::size_t stage);

}  // namespace saltrafter::safety
