// The parts of the solver that know no law: grid, geometry, elimination, bookkeeping of what left.
#include "core/transport/transport.h"

namespace saltrafter::transport {

namespace {

constexpr int kLeastCells = 4;
constexpr int kMostCells = 400;

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
  for (auto* v : {&d.solids_, &d.face_m_, &d.node_m_, &d.face_area_, &d.conductance_, &d.upper_, &d.right_}) {
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
    history_ = x_;
    shed_history_kg_ = shed_kg_;
  } else {
    const double w = dt_s / previous_dt_s_;
    const double now = 1.0 + w;
    const double before = w * w / (1.0 + w);
    alpha_ = (1.0 + 2.0 * w) / (1.0 + w);
    for (std::size_t i = 0; i < x_.size(); ++i) {
      history_[i] = now * x_[i] - before * x_before_[i];
    }
    shed_history_kg_ = now * shed_kg_ - before * shed_before_kg_;
  }
  x_before_ = x_;
  shed_before_kg_ = shed_kg_;
}

// alpha s x - dt (fluxes in) = s history, by elimination from the core outwards.
void Diffusion::solve(double dt_s, OuterLink link) {
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
    upper_[i] = outer / diagonal;
    right_[i] = right / diagonal;
    inner = outer;
  }
  x_[n - 1] = right_[n - 1];
  for (std::size_t i = n - 1; i-- > 0;) {
    x_[i] = right_[i] + upper_[i] * x_[i + 1];
  }
  linear_flux_ = area * (link.flux + link.slope * (x_[n - 1] - x_outer));
}

void Diffusion::end_step(double dt_s) {
  shed_kg_ = (shed_history_kg_ + dt_s * linear_flux_) / alpha_;
  previous_dt_s_ = dt_s;
  update_geometry();
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
