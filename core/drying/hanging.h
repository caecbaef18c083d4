// A piece as it hangs now: what a finished forecast has made of it, ready to be run on in other air.
#pragma once

#include <cstdint>
#include <string>
#include <vector>

#include "core/base/base.h"
#include "core/drying/body.h"
#include "core/drying/forecast.h"
#include "core/drying/run.h"

namespace saltrafter::drying {

struct Hanging {
  Id id;
  Grams hung;                 // > 0; of several alike that one entry stands for, their sum
  Kind kind = Kind::minced;
  Geometry geometry;          // at hanging
  Body body;
  Factors factors;            // most likely
  std::vector<Stage> stages;  // since hanging; the last goes on
  Days now{0.0};              // since hanging, 0..3650
  double needed_loss = 0.35;  // of the weight at hanging, 0..0.9
  Days least{0.0};            // not before this day
};

// The pieces of a forecast, in its order. Errors: those of make_body; missing "pieces" where the forecast is
// not of this input.
Result<std::vector<Hanging>> hangings(const ForecastInput& input, const Forecast& forecast);

// Both without the pieces that are down, of which nothing is asked any more; as they are where none hangs.
struct StillHanging {
  ForecastInput input;
  Forecast forecast;
};
StillHanging those_that_hang(ForecastInput input, Forecast forecast);

// New wet ones, by the model and the input's prior alone: those of one diameter are one, of their sum. Errors: those of
// make_body; missing "pieces".
Result<std::vector<Hanging>> new_hangings(const ForecastInput& input);

// Errors: missing "saturation", "<field>" where there is none, "<field>/<i>/body"; out_of_range
// "<field>/<i>/hung" (g), ".../now" (d), ".../needed_loss", ".../factors"; those of check_stages.
Result<Done> check_hangings(const std::vector<Hanging>& hangings, const Saturation& saturation,
                            const std::string& field);

// For the keys of tasks.
std::uint64_t fold(std::uint64_t hash, const Hanging& hanging, const Saturation& saturation);
std::uint64_t fold(std::uint64_t hash, const std::vector<Stage>& stages, const Saturation& saturation);

// A programme cut in two on a day; one after the other they are what it was. Nothing before a day of 0.
struct CutStages {
  std::vector<Stage> before, after;  // `after` is never empty where `stages` is not
};
CutStages cut(const std::vector<Stage>& stages, Days day);

// One after the other.
std::vector<Stage> joined(std::vector<Stage> first, const std::vector<Stage>& then);

}  // namespace saltrafter::drying
