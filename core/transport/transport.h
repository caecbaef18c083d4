// transport: diffusion of one substance through a body that shrinks as it gives it off.
//
// One space coordinate from the core outwards; the shape index goes from slab (0) over cylinder (1) to sphere
// (2) and all between. Cells hold a fixed mass of dry solids, so what leaves the surface is what is missing
// inside. What moves, how fast and into which surroundings are laws handed in; no word of meat or air here.
#pragma once

#include <algorithm>
#include <array>
#include <cmath>
#include <span>
#include <vector>

#include "core/base/base.h"

namespace saltrafter::transport {

// A slab open on both sides has half its thickness as `outer_m`; with one closed face, its full thickness.
struct Shape {
  double index = 1.0;    // 0 slab, 1 cylinder, 2 sphere; 0..2
  double outer_m = 0.0;  // > 0
  int cells = 30;        // 4..400
  double grading = 2.0;  // cells get finer towards the surface; 0 = equal widths; 0..4
};

// Volume taken by a kilogram of dry solids and of the moving substance; they add. Source: additive volumes.
struct Volumes {
  double solid_m3_kg = 0.0;   // > 0
  double moving_m3_kg = 0.0;  // >= 0; 0: the body keeps its size
};

enum class Scheme { backward_euler, bdf2 };

// Laws a step takes:
//   material.diffusivity(x)    m2/s at content x (kg of the substance per kg of dry solids), > 0
//   surface.at_radius(r_m)     told once a pass; may keep what depends on the size
//   surface.flux(x, slope)     kg/(m2 s) leaving at surface content x; writes d flux/dx >= 0 to slope
// FixedSurface holds the content of the surface itself, ClosedSurface lets nothing through.
// To carry slopes a law says more:
//   material.log_slope(x)      d ln diffusivity / dx
//   surface.answer(x)          how flux(x) answers to the radius and to the surface's own factor
struct SurfaceAnswer {
  double by_radius = 0.0;  // d flux / d radius, kg/(m3 s)
  double by_factor = 0.0;  // d flux / d ln factor, kg/(m2 s)
};
struct FixedSurface {
  double content = 0.0;
  void at_radius(double) {}
};
struct ClosedSurface {
  void at_radius(double) {}
};

// The state of one body and its march in time. Contents are kg per kg dry solids, times seconds.
class Diffusion {
 public:
  // A body with the same content everywhere. Errors: out_of_range for index, outer_m, cells, grading,
  // solid_m3_kg, moving_m3_kg, content (0..100).
  static Result<Diffusion> make(const Shape& shape, const Volumes& volumes, double content);
  // A body that begins uneven: one content a cell, core first. Errors: the same, field "content" for any of
  // them, and out_of_range "contents" where there are not as many as cells.
  static Result<Diffusion> make(const Shape& shape, const Volumes& volumes, std::span<const double> contents);

  // One implicit step of dt_s > 0 seconds: second order in time by BDF2 with changing step, backward Euler for
  // the first step after `restart`; `passes` fixed-point passes over geometry, diffusivity and surface.
  // A dt_s that is not positive changes nothing. Source: BDF2 for changing steps, textbook form (memory).
  // Returns whether the passes settled: the last one moved no content by more than 1e-3 of itself (of one pass
  // alone this says nothing). What did not settle is no solution: `undo` it and take shorter steps.
  template <class Material, class Surface>
  bool step(double dt_s, const Material& material, Surface& surface, Scheme scheme = Scheme::bdf2, int passes = 4);
  // Back to before the last step, which can be done once; then as after `restart`. Slopes stay as they are, so
  // undo before `differentiate`.
  void undo();

  // Slopes: how the contents answer to the logarithm of two factors, one on the diffusivity everywhere ([0]) and
  // one that the surface's law knows ([1]). They start at nothing and are carried from here on; allocates once.
  void carry_slopes();
  // The step just made once more, linearised, with the laws it took: the same eliminated matrix, other right
  // sides. Nothing unless slopes are carried. What of the matrix depends on the contents goes to the right side,
  // by fixed-point passes; what those leave is less than the grid does (tests).
  template <class Material, class Surface>
  void differentiate(double dt_s, const Material& material, const Surface& surface);
  static constexpr std::size_t kFactors = 2;
  static constexpr double kSettled = 1e-3;
  double mean_slope(std::size_t factor) const;  // d mean_content() / d ln factor; 0 when not carried

  // Forgets the step before: call it where the surroundings jump.
  void restart() { previous_dt_s_ = 0.0; }

  std::span<const double> content() const { return x_; }        // of each cell, core first
  std::span<const double> solids() const { return solids_; }    // kg of each cell, in the unit of solids_kg()
  double mean_content() const;                                  // weighed by dry solids
  double core_content() const;  // at the very core: the two innermost cells on a parabola with its top there
  double surface_content() const { return surface_content_; }   // at the very surface
  std::span<const double> faces_m() const { return face_m_; }   // outer face of each cell, from the core
  double outer_m() const { return face_m_.back(); }
  // Dry solids, and what has passed the surface by adding up fluxes, both per same (arbitrary) share of a body.
  double solids_kg() const { return solids_kg_; }
  double shed_kg() const { return shed_kg_; }
  // shed_kg / solids_kg against the fall of the mean content: round-off apart zero, relative to what left.
  double closure() const;

 private:
  struct OuterLink {  // flux through the outer face, kg/(m2 s), as a line in the outer cell's content
    double flux = 0.0;
    double slope = 0.0;
  };

  // The flux through the outer face, linearised: kg/(m2 s) itself and per change of what it hangs on.
  struct OuterSlopes {
    double flux = 0.0, by_content = 0.0, by_conductance = 0.0, by_radius = 0.0, by_factor = 0.0;
  };
  struct Slopes {
    std::vector<double> now, before;  // of each cell's content by the factor
  };

  Diffusion() = default;
  void update_geometry();
  void begin_step(double dt_s, Scheme scheme);
  double solve(double dt_s, OuterLink link);  // the largest move of a content, over its size
  void end_step(double dt_s);
  template <class Material, class Surface>
  OuterLink outer_link(const Material& material, const Surface& surface);
  template <class Material, class Surface>
  OuterSlopes outer_slopes(const Material& material, const Surface& surface) const;
  void solve_slopes(double dt_s, const OuterSlopes& outer);

  double m_ = 1.0;
  Volumes volumes_;
  double x_start_ = 0.0;
  double solids_kg_ = 0.0;
  double surface_content_ = 0.0, surface_before_ = 0.0;
  double shed_kg_ = 0.0, shed_before_kg_ = 0.0, shed_history_kg_ = 0.0;
  double previous_dt_s_ = 0.0;
  double alpha_ = 1.0, now_share_ = 1.0, before_share_ = 0.0;  // of the time formula
  double linear_flux_ = 0.0;  // of the last pass, at the solved content
  double link_slope_ = 0.0;   // of the last pass
  std::vector<double> solids_, x_, x_before_, history_;
  std::vector<double> face_m_, node_m_, face_area_, conductance_;
  std::vector<double> upper_, pivot_, right_;  // of the tridiagonal elimination
  std::array<Slopes, kFactors> slopes_;
  std::vector<double> log_slope_, node_slope_, face_share_, node_share_, volume_slope_, slope_history_;
};

template <class Material, class Surface>
Diffusion::OuterLink Diffusion::outer_link(const Material& material, const Surface& surface) {
  const double x_cell = x_.back();
  const double gap_m = face_m_.back() - node_m_.back();
  const auto conductance = [&](double xs) {
    const double x_half = std::max(0.5 * (x_cell + xs), 0.0);
    return material.diffusivity(x_half) / ((volumes_.solid_m3_kg + x_half * volumes_.moving_m3_kg) * gap_m);
  };
  if constexpr (requires { surface.content; }) {
    surface_content_ = surface.content;
    const double k = conductance(surface.content);
    return {k * (x_cell - surface.content), k};
  } else if constexpr (!requires(double slope) { surface.flux(0.0, slope); }) {
    surface_content_ = x_cell;
    return {};
  } else {
    // The surface content where what arrives from inside is what leaves: Newton inside a shrinking bracket.
    double low = 1e-6;
    double high = 3.0 * std::max(x_cell, x_start_) + low;
    double xs = std::clamp(surface_content_, low, high);
    double k = 0.0;
    double slope = 0.0;
    double flux = 0.0;
    for (int i = 0; i < 60; ++i) {
      k = conductance(xs);
      flux = surface.flux(xs, slope);
      const double excess = k * (x_cell - xs) - flux;
      if (excess > 0.0) {
        low = xs;
      } else {
        high = xs;
      }
      double next = xs + excess / (k + slope);
      if (!(next > low && next < high)) {
        next = 0.5 * (low + high);
      }
      const double move = std::abs(next - xs);
      xs = next;
      if (move <= 1e-13 * std::max(1.0, xs)) {
        break;
      }
    }
    surface_content_ = xs;
    // The half cell decides the flux: at a bound of the search the law's own flux may not be met.
    return {k * (x_cell - xs), k * slope / (k + slope)};
  }
}

template <class Material, class Surface>
bool Diffusion::step(double dt_s, const Material& material, Surface& surface, Scheme scheme, int passes) {
  if (!(dt_s > 0.0)) {
    return true;
  }
  begin_step(dt_s, scheme);
  double moved = 0.0;
  const std::size_t n = x_.size();
  for (int pass = 0; pass < passes; ++pass) {
    update_geometry();
    for (std::size_t j = 0; j + 1 < n; ++j) {
      const double x_face = std::max(0.5 * (x_[j] + x_[j + 1]), 0.0);
      conductance_[j] = (m_ + 1.0) * face_area_[j] * material.diffusivity(x_face) /
                        ((volumes_.solid_m3_kg + x_face * volumes_.moving_m3_kg) * (node_m_[j + 1] - node_m_[j]));
    }
    surface.at_radius(face_m_.back());
    moved = solve(dt_s, outer_link(material, surface));
  }
  end_step(dt_s);
  return moved <= kSettled;  // not so when no number came out
}

template <class Material, class Surface>
Diffusion::OuterSlopes Diffusion::outer_slopes(const Material& material, const Surface& surface) const {
  OuterSlopes out;
  if constexpr (requires { surface.content; } || requires(double slope) { surface.flux(0.0, slope); }) {
    const double x_half = std::max(0.5 * (x_.back() + surface_content_), 0.0);
    const double volume = volumes_.solid_m3_kg + x_half * volumes_.moving_m3_kg;
    const double k = material.diffusivity(x_half) / (volume * (face_m_.back() - node_m_.back()));
    out.flux = k * (x_.back() - surface_content_);
    // Of the half cell's conductance, per change of either end's content.
    const double bend = 0.5 * out.flux * (material.log_slope(x_half) - volumes_.moving_m3_kg / volume);
    if constexpr (requires { surface.content; }) {
      out.by_content = k + bend;
      out.by_conductance = out.flux;
    } else {
      double slope = 0.0;
      surface.flux(surface_content_, slope);
      const SurfaceAnswer answer = surface.answer(surface_content_);
      const double stiffness = k - bend + slope;
      out.by_content = slope * (k + bend) / stiffness;
      out.by_conductance = slope * out.flux / stiffness;
      out.by_radius = (k - bend) / stiffness * answer.by_radius;
      out.by_factor = (k - bend) / stiffness * answer.by_factor;
    }
  }
  return out;
}

template <class Material, class Surface>
void Diffusion::differentiate(double dt_s, const Material& material, const Surface& surface) {
  if (slopes_[0].now.empty() || !(dt_s > 0.0)) {
    return;
  }
  for (std::size_t j = 0; j + 1 < x_.size(); ++j) {
    const double x_face = std::max(0.5 * (x_[j] + x_[j + 1]), 0.0);
    log_slope_[j] = material.log_slope(x_face) -
                    volumes_.moving_m3_kg / (volumes_.solid_m3_kg + x_face * volumes_.moving_m3_kg);
  }
  solve_slopes(dt_s, outer_slopes(material, surface));
}

}  // namespace saltrafter::transport
