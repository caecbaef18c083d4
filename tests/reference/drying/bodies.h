// The bodies and air of the published golden runs, with the saturation pressure they were made with.
#pragma once

#include <cmath>
#include <vector>

#include "core/drying/drying.h"

namespace golden {

namespace dry = saltrafter::drying;
using saltrafter::Celsius;
using saltrafter::Days;
using saltrafter::Metres;
using saltrafter::MetresPerSecond;
using saltrafter::RelativeHumidity;

// Magnus form of the World Meteorological Organization.
inline double magnus_pa(double t_c) { return 611.2 * std::exp(17.62 * t_c / (243.12 + t_c)); }
inline double magnus_slope_pa_k(double t_c) {
  return magnus_pa(t_c) * 17.62 * 243.12 / ((243.12 + t_c) * (243.12 + t_c));
}
inline constexpr dry::Saturation kMagnus{magnus_pa, magnus_slope_pa_k};

inline saltrafter::recipe::Composition salami() { return {575.0, 178.0, 220.0, 27.0, 0.0}; }
inline saltrafter::recipe::Composition lean() { return {715.0, 215.0, 40.0, 30.0, 0.0}; }

inline dry::Stage stage(double days, double t_c, double humidity, double speed_ms) {
  return {Days(days), Celsius(t_c), RelativeHumidity(humidity), MetresPerSecond(speed_ms), false};
}
inline std::vector<dry::Stage> gentle() {
  return {stage(2, 22, 0.90, 0.3), stage(5, 16, 0.82, 0.2), stage(1, 13, 0.78, 0.1)};
}

inline dry::Geometry cylinder(double diameter_m) { return {dry::Form::cylinder, Metres(diameter_m), {}}; }
// The figures the golden runs were made with, whatever the defaults have come to: the whole sorption curve, and
// nothing dissolved beside salt.
inline dry::Figures figures() { return {1.5e-10, 6e-11, saltrafter::recipe::Holding{1.0, 0.0}}; }

inline dry::Body salami_body(double diameter_m) {
  return dry::make_body({salami()}, cylinder(diameter_m), figures()).value();
}
inline dry::Body s60() { return salami_body(0.060); }
inline dry::Body l65() {
  return dry::make_body({lean(), {}, dry::Kind::whole_muscle, dry::Wrap::naked},
                        {dry::Form::cylinder, Metres(0.065), Metres(0.2)}, figures())
      .value();
}

// The first day with this loss, between whole days on a line; negative when there is none.
inline double day_of_loss(const std::vector<dry::DayState>& days, double loss) {
  for (std::size_t i = 1; i < days.size(); ++i) {
    if (days[i].loss >= loss) {
      return static_cast<double>(i - 1) + (loss - days[i - 1].loss) / (days[i].loss - days[i - 1].loss);
    }
  }
  return -1.0;
}

inline dry::ForecastInput forecast_of(std::vector<dry::ForecastPiece> pieces) {
  dry::ForecastInput in;
  in.composition = salami();
  in.geometry = cylinder(0.060);
  in.stages = gentle();
  in.pieces = std::move(pieces);
  in.saturation = kMagnus;
  in.figures = figures();
  return in;
}

inline dry::ForecastPiece piece(const char* id, double hung_g, std::vector<std::pair<double, double>> weighings) {
  dry::ForecastPiece p;
  p.id.text = id;
  p.hung = saltrafter::Grams(hung_g);
  for (const auto& [day, mass_g] : weighings) {
    dry::PieceWeighing w;
    w.id.text = std::string(id) + "-" + std::to_string(static_cast<int>(day));
    w.day = day;
    w.mass = saltrafter::Grams(mass_g);
    p.weighings.push_back(w);
  }
  return p;
}

inline dry::Forecast run(dry::ForecastInput in) {
  saltrafter::Result<dry::ForecastTask> task = dry::ForecastTask::make(std::move(in));
  dry::ForecastTask work = std::move(task).value();
  while (!work.finished()) {
    work.step();
  }
  return work.result();
}

}  // namespace golden
