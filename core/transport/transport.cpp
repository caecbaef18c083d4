// The parts of the solver that know no law: grid, geometry, elimination, bookkeeping of what left.
#include "core/transport/transport.h"

namespace saltrafter::transport {

namespace {

constexpr int kLeastCells = 4;
constexpr int kMostCells = 400;
constexpr double kSmallContent = 0.01;  // kg/kg: below it a move counts as of this much
constexpr int kSlopePasses = 2;

// v^(1/(m+1)); the three pure shapes without the general power, which costs most of a pass.
double radius_of(double v, double m) {
  if (m == 1.0) {
    return std::sqrt(v);
  }
  if (m == 0.0) {
    return v;
  }
  if (m == 2.0) {
    return std::cbrt(v);
  }
  return std::pow(v, 1.0 / (m + 1.0));
}

}  // namespace

Result<Diffusion> Diffusion::make(const Shape& shape, const Volumes& volumes, double content) {
  // The number of cells is checked below; what is no number of cells gets no such list.
  const bool cells = shape.cells > 0 && shape.cells <= kMostCells;
  const std::vector<double> contents(cells ? static_cast<std::size_t>(shape.cells) : 0, content);
  return make(shape, volumes, contents);
}

Result<Diffusion> Diffusion::make(const Shape& shape, const Volumes& volumes,
                                  std::span<const double> contents) {
  if (!(shape.index >= 0.0 && shape.index <= 2.0)) {
    return out_of_range("index", shape.index, 0.0, 2.0, "");
  }
  if (!(shape.outer_m > 0.0 && shape.outer_m <= 10.0)) {
    return out_of_range("outer_m", shape.outer_m, 0.0, 10.0, "m");
  }
  if (shape.cells < kLeastCells || shape.cells > kMostCells) {
    return out_of_range("cells", shape.cells, kLeastCells, kMostCells, "");
  }
  if (!(shape.grading >= 0.0 && shape.grading <= 4.0)) {
    return out_of_range("grading", shape.grading, 0.0, 4.0, "");
  }
  if (!(volumes.solid_m3_kg > 0.0 && volumes.solid_m3_kg <= 1.0)) {
    return out_of_range("solid_m3_kg", volumes.solid_m3_kg, 0.0, 1.0, "m3/kg");
  }
  if (!(volumes.moving_m3_kg >= 0.0 && volumes.moving_m3_kg <= 1.0)) {
    return out_of_range("moving_m3_kg", volumes.moving_m3_kg, 0.0, 1.0, "m3/kg");
  }
  const auto n = static_cast<std::size_t>(shape.cells);
  if (contents.size() != n) {
    return out_of_range("contents", static_cast<double>(contents.size()), shape.cells, shape.cells, "");
  }
  for (const double content : contents) {
    if (!(content >= 0.0 && content <= 100.0)) {
      return out_of_range("content", content, 0.0, 100.0, "kg/kg");
    }
  }
  Diffusion d;
  d.m_ = shape.index;
  d.volumes_ = volumes;
  d.surface_content_ = contents.back();
  d.x_.assign(contents.begin(), contents.end());
  d.x_before_ = d.x_;
  d.history_ = d.x_;
  for (auto* v : {&d.solids_, &d.face_m_, &d.node_m_, &d.face_area_, &d.conductance_, &d.upper_, &d.pivot_,
                  &d.right_}) {
    v->assign(n, 0.0);
  }
  double v_inner = 0.0;
  for (std::size_t j = 0; j < n; ++j) {
    const double share = static_cast<double>(j + 1) / static_cast<double>(n);
    const double g = shape.grading;
    const double r_m = shape.outer_m * (g > 0.0 ? std::expm1(-g * share) / std::expm1(-g) : share);
    const double v = std::pow(r_m, d.m_ + 1.0);
    d.solids_[j] = (v - v_inner) / (volumes.solid_m3_kg + contents[j] * volumes.moving_m3_kg);
    d.solids_kg_ += d.solids_[j];
    v_inner = v;
  }
  const auto [least, most] = std::minmax_element(contents.begin(), contents.end());
  d.x_start_ = *least == *most ? *most : d.mean_content();  // the same everywhere: no rounding by the mean
  d.update_geometry();
  return d;
}

void Diffusion::update_geometry() {
  double v = 0.0;
  for (std::size_t i = 0; i < x_.size(); ++i) {
    const double half = 0.5 * solids_[i] * (volumes_.solid_m3_kg + x_[i] * volumes_.moving_m3_kg);
    node_m_[i] = radius_of(v + half, m_);
    v += 2.0 * half;
    face_m_[i] = radius_of(v, m_);
    face_area_[i] = v / face_m_[i];  // r^m
  }
}

void Diffusion::begin_step(double dt_s, Scheme scheme) {
  if (scheme == Scheme::backward_euler || previous_dt_s_ <= 0.0) {
    alpha_ = 1.0;
    now_share_ = 1.0;
    before_share_ = 0.0;
  } else {
    const double w = dt_s / previous_dt_s_;
    now_share_ = 1.0 + w;
    before_share_ = w * w / (1.0 + w);
    alpha_ = (1.0 + 2.0 * w) / (1.0 + w);
  }
  for (std::size_t i = 0; i < x_.size(); ++i) {
    history_[i] = now_share_ * x_[i] - before_share_ * x_before_[i];
  }
  shed_history_kg_ = now_share_ * shed_kg_ - before_share_ * shed_before_kg_;
  x_before_ = x_;
  shed_before_kg_ = shed_kg_;
  surface_before_ = surface_content_;
}

void Diffusion::undo() {
  x_ = x_before_;
  shed_kg_ = shed_before_kg_;
  surface_content_ = surface_before_;
  restart();
  update_geometry();
}

// alpha s x - dt (fluxes in) = s history, by elimination from the core outwards.
double Diffusion::solve(double dt_s, OuterLink link) {
  const std::size_t n = x_.size();
  const double area = (m_ + 1.0) * face_area_[n - 1];
  const double x_outer = x_[n - 1];
  double inner = 0.0;
  for (std::size_t i = 0; i < n; ++i) {
    const bool last = i + 1 == n;
    const double outer = last ? 0.0 : dt_s * conductance_[i];
    double diagonal = alpha_ * solids_[i] + inner + outer;
    double right = solids_[i] * history_[i];
    if (last) {
      diagonal += dt_s * area * link.slope;
      right -= dt_s * area * (link.flux - link.slope * x_outer);
    }
    if (i > 0) {
      diagonal -= inner * upper_[i - 1];
      right += inner * right_[i - 1];
    }
    pivot_[i] = diagonal;
    upper_[i] = outer / diagonal;
    right_[i] = right / diagonal;
    inner = outer;
  }
  double moved = 0.0;
  double next = 0.0;
  for (std::size_t i = n; i-- > 0;) {
    next = right_[i] + upper_[i] * next;
    const double move = std::abs(next - x_[i]);
    // A content at or below nothing is no solution either.
    const double share = next > 0.0 ? move / std::max(next, kSmallContent) : 1.0;
    moved = share <= moved ? moved : share;  // keeps what is no number
    x_[i] = next;
  }
  linear_flux_ = area * (link.flux + link.slope * (x_[n - 1] - x_outer));
  link_slope_ = link.slope;
  return moved;
}

void Diffusion::end_step(double dt_s) {
  shed_kg_ = (shed_history_kg_ + dt_s * linear_flux_) / alpha_;
  previous_dt_s_ = dt_s;
  update_geometry();
}

void Diffusion::carry_slopes() {
  const std::size_t n = x_.size();
  for (Slopes& slopes : slopes_) {
    slopes.now.assign(n, 0.0);
    slopes.before.assign(n, 0.0);
  }
  for (auto* v : {&log_slope_, &node_slope_, &face_share_, &node_share_, &volume_slope_, &slope_history_}) {
    v->assign(n, 0.0);
  }
}

// The equations of `solve`, each term by its change. M d = s d_history + dt (changes of the fluxes at contents
// held), where M is the matrix of the last pass; changes of conductance and size come from the pass before.
void Diffusion::solve_slopes(double dt_s, const OuterSlopes& link) {
  const std::size_t n = x_.size();
  const double shape = m_ / (m_ + 1.0);
  const double area = (m_ + 1.0) * face_area_[n - 1];
  const double gap_m = face_m_[n - 1] - node_m_[n - 1];
  double v = 0.0;
  for (std::size_t i = 0; i < n; ++i) {
    const double half = 0.5 * solids_[i] * (volumes_.solid_m3_kg + x_[i] * volumes_.moving_m3_kg);
    node_share_[i] = node_m_[i] / ((m_ + 1.0) * (v + half));
    v += 2.0 * half;
    face_share_[i] = 1.0 / v;
  }
  for (std::size_t factor = 0; factor < kFactors; ++factor) {
    Slopes& slopes = slopes_[factor];
    const double by_diffusivity = factor == 0 ? 1.0 : 0.0;
    for (std::size_t i = 0; i < n; ++i) {
      slope_history_[i] = now_share_ * slopes.now[i] - before_share_ * slopes.before[i];
    }
    slopes.before = slopes.now;
    std::vector<double>& d = slopes.now;
    for (int pass = 0; pass < kSlopePasses; ++pass) {
      double grown = 0.0;
      for (std::size_t i = 0; i < n; ++i) {
        const double half = 0.5 * solids_[i] * volumes_.moving_m3_kg * d[i];
        node_slope_[i] = node_share_[i] * (grown + half);
        grown += 2.0 * half;
        volume_slope_[i] = grown * face_share_[i];  // d ln of the volume inside
      }
      double inner = 0.0;
      double from_inside = 0.0;
      for (std::size_t i = 0; i < n; ++i) {
        double outer = 0.0;
        double through = 0.0;  // change of what comes in at the outer face
        if (i + 1 < n) {
          outer = dt_s * conductance_[i];
          through = outer * (x_[i + 1] - x_[i]) *
                    (by_diffusivity + shape * volume_slope_[i] + 0.5 * log_slope_[i] * (d[i] + d[i + 1]) -
                     (node_slope_[i + 1] - node_slope_[i]) / (node_m_[i + 1] - node_m_[i]));
        } else {
          const double radius_slope = face_m_[i] / (m_ + 1.0) * volume_slope_[i];
          const double gap_slope = (radius_slope - node_slope_[i]) / gap_m;
          const double flux = (link.by_content - link_slope_) * d[i] +
                              link.by_conductance * (by_diffusivity - gap_slope) + link.by_radius * radius_slope +
                              link.by_factor * (1.0 - by_diffusivity) + link.flux * shape * volume_slope_[i];
          through = -dt_s * area * flux;
        }
        double right = solids_[i] * slope_history_[i] + through - from_inside;
        if (i > 0) {
          right += inner * right_[i - 1];
        }
        right_[i] = right / pivot_[i];
        inner = outer;
        from_inside = through;
      }
      d[n - 1] = right_[n - 1];
      for (std::size_t i = n - 1; i-- > 0;) {
        d[i] = right_[i] + upper_[i] * d[i + 1];
      }
    }
  }
}

double Diffusion::mean_slope(std::size_t factor) const {
  double sum = 0.0;
  const std::vector<double>& d = slopes_[factor].now;
  for (std::size_t i = 0; i < d.size(); ++i) {
    sum += solids_[i] * d[i];
  }
  return sum / solids_kg_;
}

double Diffusion::mean_content() const {
  double sum = 0.0;
  for (std::size_t i = 0; i < x_.size(); ++i) {
    sum += solids_[i] * x_[i];
  }
  return sum / solids_kg_;
}

double Diffusion::core_content() const {
  const double inner_m2 = node_m_[0] * node_m_[0];
  const double next_m2 = node_m_[1] * node_m_[1];
  return x_[0] - (x_[1] - x_[0]) * inner_m2 / (next_m2 - inner_m2);
}

double Diffusion::closure() const {
  const double fell_kg = solids_kg_ * (x_start_ - mean_content());
  const double scale = std::max(std::abs(shed_kg_), 1e-6 * solids_kg_);
  return (shed_kg_ - fell_kg) / scale;
}

}  // namespace saltrafter::transport
