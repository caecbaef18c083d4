// When a batch will have lost what its maker wants, learnt from its weighings; as a task in slices.
//
// A forecast starts from the model at its defaults and is corrected, piece by piece and as a batch, by what the
// scale said. It gives ranges that hold 8 times in 10. Days count from hanging.
#pragma once

#include <array>
#include <memory>
#include <optional>
#include <string_view>
#include <vector>

#include "core/base/base.h"
#include "core/drying/body.h"
#include "core/drying/fit.h"
#include "core/drying/offsets.h"
#include "core/drying/run.h"
#include "core/drying/wish.h"

namespace saltrafter::drying {

// Names of the figures a forecast makes, for the working and the report.
inline constexpr std::string_view kFigureLossNow = "drying.loss_now";              // share of weight at hanging
inline constexpr std::string_view kFigureExpectedEarliest = "drying.expected_earliest";  // d since hanging
inline constexpr std::string_view kFigureExpectedLikely = "drying.expected_likely";      // d
inline constexpr std::string_view kFigureExpectedLatest = "drying.expected_latest";      // d
inline constexpr std::string_view kFigureFactorInner = "drying.factor_inner";      // F_D
inline constexpr std::string_view kFigureFactorOuter = "drying.factor_outer";      // F_k
inline constexpr std::string_view kFigureReachingHumidity = "drying.reaching_humidity";  // 0..1
inline constexpr std::string_view kFigureCoreActivity = "drying.aw_core";          // estimate
inline constexpr std::string_view kFigureSurfaceActivity = "drying.aw_surface";    // estimate
inline constexpr std::string_view kFigureMeanActivity = "drying.aw_mean";          // estimate
inline constexpr std::string_view kFigureCaseHardening = "drying.case_hardening";

// The model's own error, beside the factors': of ln(day) throughout, and of ln(loss) for each e-fold of time beyond
// the last weighing. Set on simulated pieces that differ from the model in form (tests/reference/drying/TRUTH.md).
inline constexpr Assumption kTimeDiscrepancy{"drying.discrepancy_time", 0.03, "", "choice", 0.02, 0.05};
inline constexpr Assumption kAheadDiscrepancy{"drying.discrepancy_ahead", 0.05, "", "choice", 0.03, 0.08};

// From here on a forecast learns from its weighings: before, they tell of the surface alone (choice).
inline constexpr double kTellsFrom = 0.10;  // loss of the piece that has lost most
inline constexpr std::size_t kLeastWeighings = 2;

struct PieceWeighing {
  Id id;
  double day = 0.0;  // since hanging, 0..3650
  Grams mass;        // > 0
  int of = 1;        // a share of so many pieces that were weighed as one, 1..1000 (scale.h)
  Grams doubt{};     // one standard deviation beside the scale's, >= 0: water that may still stand on it
};

struct ForecastPiece {
  Id id;
  Grams hung;                       // > 0
  std::optional<Metres> diameter;   // at hanging; absent: the batch's
  std::vector<PieceWeighing> weighings;
  bool hangs = true;                // false: it is down; its weighings teach, and no window speaks of it
};

struct ForecastInput {
  recipe::Composition composition;  // of the mix or the meat at hanging; only ratios count
  recipe::Solutes solutes;          // in the same mass; none: salt alone beside the meat's own
  Geometry geometry;
  Kind kind = Kind::minced;
  Wrap wrap = Wrap::cased;
  std::vector<Stage> stages;
  std::vector<ForecastPiece> pieces;
  double wanted_loss = 0.35;        // of the weight at hanging, 0.01..0.9; where there are no wishes
  std::vector<Wish> wishes;         // all must hold at once
  std::vector<Reading> readings;    // of the batch, for what weighings cannot see
  Days now{0.0};                    // the day asked about, 0..3650
  Days horizon{90.0};               // the curve's length, 1..400
  FactorPrior prior;
  Figures figures;
  bool robust = true;               // Student's t; false: plain least squares
  Saturation saturation;
};

// A range that holds 8 times in 10, and its middle. Losses are shares of the weight at hanging.
struct LossBand {
  double low = 0.0, likely = 0.0, high = 0.0;
};

// Days since hanging; absent: not within `searched_days`.
struct Window {
  std::optional<Days> earliest, likely, latest;
};

enum class Doubt {
  too_light,   // 0.4 of the weight at hanging or less
  too_heavy,   // more than 1.02 of it
  gain,        // heavier than the weighing before by more than 3 g and 0.3 %
  too_fast,    // lost three times what the model loses
  mark,        // 3 to 4 standard deviations from what at least three others say; taken in
  set_aside,   // more than 4; left out of the fit
};

struct Suspicion {
  Id piece, weighing;
  Doubt doubt = Doubt::mark;
  double z = 0.0;  // leave-one-out, standard deviations; 0 where it was not computed
};

struct PieceOutlook {
  Id piece;
  std::array<double, 2> ln_factor{};  // inner, outer; most likely
  std::array<double, 2> sd{};
  double correlation = 0.0;
  double day_sd = 0.0;                // of ln(day) of the window, the model's own error in it
  int weighings_used = 0;             // after hanging, not set aside
  bool hangs = true;
  std::optional<Days> dried;          // the likely day by drying alone
  Days least{0.0};                    // and the day before which nothing counts
  Window expected;
  // Absent when reached, or when even 30 % would not do it: the last stage's humidity that reaches what is wanted
  // within searched_days, rounded down to 0.01.
  std::optional<RelativeHumidity> reaching_humidity;
  LossBand loss_now;
  std::vector<LossBand> days;         // index: day 0..horizon
  std::array<double, 2> window_slope{};  // d ln(day) / d ln F at the needed loss
  // Of day_sd, what is not the factors': the model's error of time, what is not known of the needed loss, and the
  // model's error ahead of the last weighing.
  std::array<double, 3> day_model{};
};

// Of all that hangs together (batch_odds.h).
struct AllDays {
  Days tenth, half, ninetieth;  // by these all have what is wanted, with odds of 0.1, 0.5 and 0.9
};

struct CurveDay {
  DayState state;  // most likely
  LossBand loss;
  std::vector<Layer> layers;  // core first
};

struct Forecast {
  bool prior_only = true;  // before 10 % loss, or with fewer than two weighings: the model as it comes
  std::vector<PieceOutlook> pieces;  // in the order of the input
  // The piece in the middle of those that hang by its likely day; of all where none hangs.
  std::size_t middle = 0;
  double together = 0.0;             // 0..1: correlation of ln(day) between two pieces, mean over pairs (batch_odds.h)
  std::optional<AllDays> all;        // of two pieces or more that hang and all get there
  std::vector<CurveDay> curve;       // of that piece, day 0..horizon
  std::array<double, 2> batch_ln_factor{};
  std::array<double, 2> batch_sd{};
  Offsets offsets;                    // what readings say of water and isotherm; the prior without any
  recipe::Composition composition;    // as the readings have it, of which all states and wishes speak
  NeededLoss needed;                  // the loss at which all wishes hold
  std::vector<Suspicion> suspicions;  // in the order of pieces and days
  Days searched_days{250.0};
};

// What a piece should weigh on a day within the horizon (between days: on a line). Nothing beyond it.
struct MassBand {
  Grams low, likely, high;
};
std::optional<MassBand> expected_mass(const PieceOutlook& outlook, Grams hung, Days day);

// The odds, 0..1, that the piece has all that is wanted by this day; nothing where no likely day is known.
std::optional<double> odds_by(const PieceOutlook& outlook, Days day);

class ForecastTask final : public Task {
 public:
  // Errors: those of make_body, check_stages, check_wishes and learn_offsets; missing "pieces", "saturation";
  // out_of_range for wanted_loss, now, horizon, "pieces/<i>/hung" (g), "pieces/<i>/weighings/<j>/day" (d), ".../mass"
  // (g), ".../of" and ".../doubt" (g), prior's sds.
  static Result<ForecastTask> make(ForecastInput input);

  bool finished() const override { return phase_ == Phase::done; }
  // Whether the weighings have been learnt from; what is left are courses and windows.
  bool learnt() const { return phase_ != Phase::fit; }
  void step() override;
  Progress progress() const override;
  std::uint64_t key() const override { return key_; }
  // Complete once finished.
  const Forecast& result() const { return forecast_; }

 private:
  enum class Phase { fit, outlook, humidity, curve, done };
  struct Seen {
    std::size_t piece, weighing, mark;
    bool used;  // in the fit
  };
  struct Course {  // of one piece, a mark or a day at a time
    std::vector<double> loss;
    std::vector<std::array<double, 2>> slope;  // d loss / d ln factor
  };

  explicit ForecastTask(ForecastInput input);
  void start_run();
  void finish_run();
  void finish_fit_round();
  void begin_outlook();
  void finish_outlook();
  void begin_humidity();
  void next_humidity();
  void add_curve_day();
  double variance_of(const Seen& seen) const;
  std::vector<FitRow> rows(bool robust) const;
  void find_doubts(const std::vector<FitRow>& rows);
  void look_out(std::size_t piece);
  void find_all();
  std::optional<double> crossing(const std::vector<double>& losses) const;

  ForecastInput input_;
  std::vector<Body> bodies_;
  std::vector<std::vector<double>> marks_;  // days of weighings, each piece
  std::vector<Seen> seen_;
  FactorFit fit_;
  Forecast forecast_;
  std::uint64_t key_ = 0;
  double limit_ = 250.0;

  Phase phase_ = Phase::fit;
  int rounds_ = 0;        // of the fit, since its start or since a weighing was set aside
  bool student_ = false;  // Student's weights have begun
  int set_aside_ = 0;
  std::size_t piece_ = 0;
  std::unique_ptr<Run> run_;
  std::vector<Course> courses_;
  double humid_low_ = 0.0, humid_high_ = 0.0;
  int humid_turn_ = 0;
  int runs_done_ = 0;
  int runs_total_ = 0;
};

}  // namespace saltrafter::drying
