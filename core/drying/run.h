// One run of the drying model: a body through its stages, stopping exactly at the days asked for.
#pragma once

#include <array>
#include <cmath>
#include <vector>

#include "core/base/base.h"
#include "core/drying/body.h"
#include "core/drying/film.h"
#include "core/transport/transport.h"

namespace saltrafter::drying {

// What weighings correct: inside (diffusivity) and outside (film, casing, a bias of the humidity). 1 = default.
struct Factors {
  double inner = 1.0;
  double outer = 1.0;
};

struct Resolution {
  int cells = 30;
  Days step{0.25};
  transport::Scheme scheme = transport::Scheme::bdf2;
};
inline constexpr Resolution kForDisplay{30, Days(0.25), transport::Scheme::bdf2};  // loss within 0.02 %
inline constexpr Resolution kForFit{20, Days(1.0), transport::Scheme::bdf2};       // loss within 0.08 %

// Bands of the case-hardening index. Choice, from what gentle and harsh programmes show in the model.
inline constexpr double kCalmBelow = 0.10;
inline constexpr double kActAbove = 0.15;

// The piece on one day. Contents are water per dry solids.
struct DayState {
  Days day;
  double loss = 0.0;        // of the weight at hanging, 0..1
  double daily_loss = 0.0;  // of the weight at hanging, over the day before (Run::daily fills it)
  double x_mean = 0.0, x_surface = 0.0, x_core = 0.0;
  WaterActivity aw_surface, aw_core;
  WaterActivity aw_mean;     // of a blended, equalised sample: the activity at the mean content
  WaterActivity aw_average;  // weighed by dry solids, in place
  Metres outer;              // radius, or (half) thickness
  double case_hardening = 0.0;  // aw_core - aw_surface
};

// One layer of the piece, from the core outwards; each holds the same meat on every day.
struct Layer {
  double inner = 0.0, outer = 0.0;  // where it lies: share of the outer radius (or thickness) on that day, 0..1
  double loss = 0.0;                // of its own weight at hanging, 0..1
  WaterActivity aw;
};

// Whether a run carries how its loss answers to the factors.
enum class Slopes { left_out, carried };

class Run {
 public:
  // `body` must outlive the run and come from make_body; stages must pass check_stages, both functions of
  // `saturation` be set: else finished at once with loss 0. `marks`: days > 0 at which to stop, rising.
  Run(const Body& body, std::vector<Stage> stages, Factors factors, Saturation saturation, Resolution resolution,
      std::vector<double> marks, Slopes slopes = Slopes::left_out);

  bool finished() const { return next_mark_ >= marks_.size(); }
  // One step of time; true when it ended on a mark. Nothing when finished.
  bool step();
  // Steps to the next mark; false when there is none.
  bool to_next_mark();

  double day() const { return day_; }
  double loss() const;
  // d loss / d ln factor, inner and outer, along the run so far; zeros where they were left out.
  std::array<double, 2> loss_slopes() const;
  double closure() const { return diffusion_.closure(); }  // see transport::Diffusion
  int steps() const { return steps_; }
  DayState state() const;
  std::vector<Layer> layers() const;

 private:
  struct Material {
    double log_d = 0.0;  // at x = 0
    double per_x = 0.0;
    double diffusivity(double x) const { return std::exp(log_d + per_x * x); }
    double log_slope(double) const { return per_x; }
  };
  struct Surface {
    const Body* body = nullptr;
    Film film{MetresPerSecond(0.0)};
    double humidity = 0.0, psat_pa = 0.0, slope_pa_k = 0.0, outer_factor = 1.0;
    double vapour_per_heat = 0.0, casing_pa_m2s_kg = 0.0, radiation_w_m2k = 0.0;
    // Of the radius last told; with d ln / d radius of the two.
    double k_psat = 0.0, cooling = 0.0, k_by_radius = 0.0, cooling_by_radius = 0.0;
    void at_radius(double r_m);
    double flux(double x, double& slope) const;
    transport::SurfaceAnswer answer(double x) const;
  };
  void enter_stage();
  double step_days() const;

  template <class AnySurface>
  void advance(double dt_days, AnySurface& surface, int halvings);

  const Body* body_;
  std::vector<Stage> stages_;
  Factors factors_;
  Saturation saturation_;
  Resolution resolution_;
  std::vector<double> marks_;
  transport::Diffusion diffusion_;
  Material material_;
  Surface surface_;
  Slopes slopes_;
  std::size_t stage_ = 0;
  std::size_t next_mark_ = 0;
  double casing_pa_m2s_kg_ = 0.0;  // of the stage
  double stage_start_ = 0.0;
  double day_ = 0.0;
  int steps_ = 0;
};

// The state at hanging and on each day 1..days (0..3650), with daily_loss filled.
// Errors: those of check_stages; out_of_range for days; missing "body" or "saturation"; out_of_range for factors
// (0.01..100).
Result<std::vector<DayState>> run_daily(const Body& body, const std::vector<Stage>& stages, Factors factors,
                                        Saturation saturation, int days, Resolution resolution = kForDisplay);

// Evaporation from a wet surface, kg/(m2 s), with the cooling it brings, in closed form: vapour coefficient
// kg/(m2 s Pa), heat coefficient (radiation included) W/(m2 K). Within 3 % of the wet bulb's root (derived).
double evaporation_kg_m2s(double vapour_kg_m2spa, double heat_w_m2k, double psat_pa, double slope_pa_k,
                          WaterActivity surface, RelativeHumidity air);

}  // namespace saltrafter::drying
