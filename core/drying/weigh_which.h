// Which few pieces to weigh today, and what that buys.
#pragma once

#include <array>
#include <optional>
#include <vector>

#include "core/base/base.h"
#include "core/drying/forecast.h"
#include "core/drying/hanging.h"
#include "core/drying/trials.h"

namespace saltrafter::drying {

enum class Why {
  thinnest,        // of the batch at hanging
  thickest,
  place,           // dries most unlike the batch, for its size
  most_uncertain,  // its day is known least, once those before are weighed
};

struct Pick {
  std::vector<Id> pieces;  // one, or a bunch that is weighed as one
  Why why = Why::thinnest;
  Window batch;            // the batch's window once this one and those before it are weighed
};

struct PieceGain {
  Id piece;
  double day_sd_before = 0.0, day_sd_after = 0.0;  // of ln(day), as PieceOutlook's
};

struct WhichToWeigh {
  Window before;                  // of the batch: that of its middle piece
  std::vector<Pick> picks;        // in the order of what they are for
  std::vector<PieceGain> pieces;  // in the order of the input; what all picks together buy each
  bool prior_only = false;        // the forecast stays the model as it comes, even so: `batch` is `before`
};

// From the fit's own covariance with weighings added that read what is expected: how far a weighing narrows a
// window depends on how the loss answers to the factors, not on what it will say. The model's own error shrinks
// as the forecast's does when the batch was seen last today (forecast.h, kAheadDiscrepancy).
class WeighWhichTask final : public Trials {
 public:
  // `bunches`: pieces tied together, by id; a bunch is one pick. Pieces weighed on the forecast's day are not
  // proposed again, and those that are down never. Errors: those of hangings and check_hangings; out_of_range
  // "now" where it is not after hanging, "at_most" (1..50); unknown_value "bunches/<i>" for what is no piece, or
  // is in another bunch.
  static Result<WeighWhichTask> make(ForecastInput input, Forecast forecast,
                                     std::vector<std::vector<Id>> bunches, int at_most);

  // Complete once finished.
  const WhichToWeigh& result() const { return result_; }

 protected:
  std::vector<Trial> next_round(const std::vector<TrialCourse>& courses) override;

 private:
  using Unit = std::vector<std::size_t>;  // pieces weighed as one

  WeighWhichTask(ForecastInput input, Forecast forecast, std::vector<Hanging> pieces, std::vector<Unit> units,
                 int at_most, std::uint64_t key);
  void choose(const std::vector<TrialCourse>& courses);
  bool is_aside(const PieceWeighing& weighing) const;
  std::array<double, 2> day_slope(std::size_t piece, const TrialCourse& course) const;
  double model_variance(std::size_t piece, double by_factors, double seen_before, double seen_after) const;
  std::optional<std::size_t> most(const std::vector<double>& value, const std::vector<bool>& open) const;
  Window window(std::size_t piece, double day_sd) const;

  ForecastInput input_;
  Forecast forecast_;
  std::vector<Hanging> pieces_;
  std::vector<Unit> units_;           // each piece in one
  std::vector<std::size_t> unit_of_;  // by piece
  int at_most_ = 0;
  WhichToWeigh result_;
};

}  // namespace saltrafter::drying
