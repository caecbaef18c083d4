#include "core/drying/run.h"

#include <algorithm>
#include <cmath>
#include <utility>

namespace saltrafter::drying {

namespace {

constexpr double kSecondsADay = 86400.0;
constexpr double kGasJMolK = 8.314462618;    // exact, SI
constexpr double kReferenceK = 286.15;       // 13 °C, where d0 is given
constexpr double kVaporisationJKg = 2.47e6;  // memory, near 13 °C
constexpr double kRampDays = 1.0;            // a stage starts with short steps that grow over this time
constexpr double kRampStart = 1.0 / 16.0;
constexpr int kMostHalvings = 8;

transport::Diffusion start(const Body& body, int cells) {
  const transport::Shape shape{body.shape_index, body.outer_m, cells, 2.0};
  Result<transport::Diffusion> made =
      transport::Diffusion::make(shape, {body.solid_m3_kg, kWaterVolume.value}, body.x0);
  if (made.ok()) {
    return std::move(made).value();
  }
  return transport::Diffusion::make({1.0, 0.03, 4, 2.0}, {1e-3, 1e-3}, 1.0).value();
}

}  // namespace

double evaporation_kg_m2s(double vapour_kg_m2spa, double heat_w_m2k, double psat_pa, double slope_pa_k,
                          WaterActivity surface, RelativeHumidity air) {
  const double cooling = vapour_kg_m2spa * kVaporisationJKg * slope_pa_k / heat_w_m2k;
  return vapour_kg_m2spa * psat_pa * (surface.value - air.value) / (1.0 + cooling * surface.value);
}

void Run::Surface::at_radius(double r_m) {
  const Film::Heat heat = film.heat(2.0 * r_m);
  const double through_film = 1.0 / (heat.w_m2k * vapour_per_heat);
  const double k = outer_factor / (through_film + casing_pa_m2s_kg);
  k_psat = k * psat_pa;
  cooling = k * kVaporisationJKg * slope_pa_k / (heat.w_m2k + radiation_w_m2k);
  k_by_radius = through_film / (through_film + casing_pa_m2s_kg) * heat.log_slope / r_m;
  cooling_by_radius = k_by_radius - heat.w_m2k / (heat.w_m2k + radiation_w_m2k) * heat.log_slope / r_m;
}

double Run::Surface::flux(double x, double& slope) const {
  const recipe::Isotherm::Point at = body->at(x);
  const double below = 1.0 + cooling * at.activity;
  slope = k_psat * (1.0 + cooling * humidity) / (below * below) * at.slope;
  return k_psat * (at.activity - humidity) / below;
}

transport::SurfaceAnswer Run::Surface::answer(double x) const {
  const double activity = body->at(x).activity;
  const double below = 1.0 + cooling * activity;
  const double flux = k_psat * (activity - humidity) / below;
  return {flux * (k_by_radius - cooling * activity / below * cooling_by_radius), flux / below};
}

Run::Run(const Body& body, std::vector<Stage> stages, Factors factors, Saturation saturation,
         Resolution resolution, std::vector<double> marks, Slopes slopes)
    : body_(&body),
      stages_(std::move(stages)),
      factors_(factors),
      saturation_(saturation),
      resolution_(resolution),
      marks_(std::move(marks)),
      diffusion_(start(body, resolution.cells)),
      slopes_(slopes) {
  if (!body.isotherm || !check_stages(stages_).ok() || !saturation.psat_pa || !saturation.slope_pa_k) {
    marks_.clear();
    return;
  }
  while (next_mark_ < marks_.size() && !(marks_[next_mark_] > 0.0)) {
    ++next_mark_;
  }
  if (slopes_ == Slopes::carried) {
    diffusion_.carry_slopes();
  }
  casing_pa_m2s_kg_ = body.casing_pa_m2s_kg;
  enter_stage();
}

void Run::enter_stage() {
  const Stage& stage = stages_[stage_];
  const double t_k = stage.temperature.value + kKelvinAtZeroCelsius;
  const double d0 = factors_.inner * body_->d0_m2_s *
                    std::exp(-body_->activation_j_mol / kGasJMolK * (1.0 / t_k - 1.0 / kReferenceK));
  material_.log_d = std::log(d0) - body_->slowdown;
  material_.per_x = body_->slowdown / body_->x0;
  surface_.body = body_;
  surface_.film = Film(stage.speed);
  surface_.humidity = stage.humidity.value;
  surface_.psat_pa = saturation_.psat_pa(stage.temperature.value);
  surface_.slope_pa_k = saturation_.slope_pa_k(stage.temperature.value);
  surface_.outer_factor = factors_.outer;
  surface_.vapour_per_heat = film_vapour_kg_m2spa(1.0, stage.temperature);
  if (stage.wrap) {
    casing_pa_m2s_kg_ = casing_pa_m2s_kg(*stage.wrap);
  }
  surface_.casing_pa_m2s_kg = casing_pa_m2s_kg_;
  surface_.radiation_w_m2k = body_->radiation_w_m2k;
  stage_start_ = day_;
  diffusion_.restart();
}

double Run::step_days() const {
  const double whole = resolution_.step.value;
  const double ramp = kRampStart + (1.0 - kRampStart) * (day_ - stage_start_) / kRampDays;
  return whole * std::min(ramp, 1.0);
}

// A step that does not settle is taken again in halves: thin pieces in very dry air.
template <class AnySurface>
void Run::advance(double dt_days, AnySurface& surface, int halvings) {
  const double dt_s = dt_days * kSecondsADay;
  if (!diffusion_.step(dt_s, material_, surface, resolution_.scheme) && halvings > 0) {
    diffusion_.undo();
    advance(0.5 * dt_days, surface, halvings - 1);
    advance(0.5 * dt_days, surface, halvings - 1);
    return;
  }
  ++steps_;
  if (slopes_ == Slopes::carried) {
    diffusion_.differentiate(dt_s, material_, surface);
  }
}

bool Run::step() {
  if (finished()) {
    return false;
  }
  const bool last_stage = stage_ + 1 == stages_.size();
  const double stage_end = stage_start_ + stages_[stage_].duration.value;
  const double mark = marks_[next_mark_];
  const bool stage_first = !last_stage && stage_end <= mark;
  const double target = stage_first ? stage_end : mark;
  const double left = target - day_;
  // What is left until the target in equal parts, so that no sliver of a step stays at its end.
  const double parts = std::max(std::ceil(left / step_days() - 1e-6), 1.0);
  const double dt = left / parts;
  if (stages_[stage_].sealed) {
    transport::ClosedSurface closed;
    advance(dt, closed, kMostHalvings);
  } else {
    advance(dt, surface_, kMostHalvings);
  }
  if (parts > 1.0) {
    day_ += dt;
    return false;
  }
  day_ = target;
  if (stage_first) {
    ++stage_;
    enter_stage();
  }
  if (day_ < mark) {
    return false;
  }
  ++next_mark_;
  return true;
}

bool Run::to_next_mark() {
  while (!finished()) {
    if (step()) {
      return true;
    }
  }
  return false;
}

double Run::loss() const { return (body_->x0 - diffusion_.mean_content()) / (1.0 + body_->x0); }

std::array<double, 2> Run::loss_slopes() const {
  return {-diffusion_.mean_slope(0) / (1.0 + body_->x0), -diffusion_.mean_slope(1) / (1.0 + body_->x0)};
}

DayState Run::state() const {
  DayState s;
  s.day = Days(day_);
  s.loss = loss();
  s.x_mean = diffusion_.mean_content();
  s.x_surface = diffusion_.surface_content();
  s.x_core = diffusion_.core_content();
  s.outer = Metres(diffusion_.outer_m());
  if (body_->isotherm) {
    const auto activity = [this](double x) { return WaterActivity(body_->at(x).activity); };
    s.aw_surface = activity(s.x_surface);
    s.aw_core = activity(s.x_core);
    s.aw_mean = activity(s.x_mean);
    double sum = 0.0;
    for (std::size_t i = 0; i < diffusion_.content().size(); ++i) {
      sum += diffusion_.solids()[i] * activity(diffusion_.content()[i]).value;
    }
    s.aw_average = WaterActivity(sum / diffusion_.solids_kg());
    s.case_hardening = s.aw_core.value - s.aw_surface.value;
  }
  return s;
}

std::vector<Layer> Run::layers() const {
  std::vector<Layer> out;
  double inner = 0.0;
  for (std::size_t i = 0; i < diffusion_.content().size(); ++i) {
    const double x = diffusion_.content()[i];
    const double outer = diffusion_.faces_m()[i] / diffusion_.outer_m();
    out.push_back({inner, outer, (body_->x0 - x) / (1.0 + body_->x0),
                   body_->isotherm ? WaterActivity(body_->at(x).activity) : WaterActivity()});
    inner = outer;
  }
  return out;
}

Result<std::vector<DayState>> run_daily(const Body& body, const std::vector<Stage>& stages, Factors factors,
                                        Saturation saturation, int days, Resolution resolution) {
  Error missing;
  missing.code = ErrorCode::missing;
  if (!body.isotherm) {
    missing.field = "body";
    return missing;
  }
  if (!saturation.psat_pa || !saturation.slope_pa_k) {
    missing.field = "saturation";
    return missing;
  }
  if (Result<Done> checked = check_stages(stages); !checked.ok()) {
    return checked.error();
  }
  if (days < 0 || days > 3650) {
    return out_of_range("days", days, 0.0, 3650.0, "d");
  }
  for (const double factor : {factors.inner, factors.outer}) {
    if (!(factor >= 0.01 && factor <= 100.0)) {
      return out_of_range("factors", factor, 0.01, 100.0, "");
    }
  }
  std::vector<double> marks;
  for (int day = 1; day <= days; ++day) {
    marks.push_back(day);
  }
  Run run(body, stages, factors, saturation, resolution, std::move(marks));
  std::vector<DayState> out{run.state()};
  while (run.to_next_mark()) {
    DayState state = run.state();
    state.daily_loss = state.loss - out.back().loss;
    out.push_back(state);
  }
  return out;
}

}  // namespace saltrafter::drying
