// Pieces that dry by laws of their own, and what their maker knows and weighs of them: for the coverage of the
// forecast's ranges. Plain pieces follow the model with other factors; strange ones differ in form as well.
#pragma once

#include <cmath>
#include <numbers>
#include <random>

#include "tests/reference/drying/curves.h"

namespace simulated {

namespace dry = saltrafter::drying;
namespace transport = saltrafter::transport;

class Chance {
 public:
  explicit Chance(std::uint64_t seed) : random_(seed) {}
  double between(double low, double high) {
    return low + (high - low) * static_cast<double>(random_() >> 11) * 0x1p-53;
  }
  bool one_in(double n) { return between(0.0, n) < 1.0; }
  double normal() {  // Box and Muller
    const double u = between(1e-12, 1.0);
    return std::sqrt(-2.0 * std::log(u)) * std::cos(2.0 * std::numbers::pi * between(0.0, 1.0));
  }

 private:
  std::mt19937_64 random_;
};

// What is off in truth, beside the factors.
struct Strange {
  double humidity_start = 0.0, humidity_end = 0.0;  // added to the air's, from day 0 to day 40 on a line
  double power = 0.0;            // diffusivity as a power of X/X0; 0: the model's own exponential
  double shrinkage = 1.0;        // of the volume that water takes
  double water = 0.0;            // share of water, over the recipe's
  double holds = 1.0;            // water the solids hold, over the isotherm's
  double scale_drift = 0.0;      // of the weight, in 30 days
  double mistyped = 0.0;         // odds of a weighing
  double missed = 0.0;           // odds that a day of weighing is missed, and done two days later
  double moved_day = 1e9, moved_factor = 1.0;  // outer factor from that day on
  double change_day = 1e9, change_humidity = 0.0, change_c = 0.0;  // of the set point; known once it has come
};

struct Piece {
  dry::ForecastInput known;      // without weighings
  dry::Factors factors;
  Strange strange;
  double hung_g = 900.0;
  double ready_day = 1e9;        // in truth; 1e9: not within 250 days
  std::vector<dry::PieceWeighing> weighings;
};

struct Material {
  double level = 0.0, power = 0.0, slowdown = 0.0, x0 = 1.0;
  double diffusivity(double x) const {
    const double share = std::max(x / x0, 0.02);
    return power > 0.0 ? level * std::pow(share, power) : level * std::exp(-slowdown * (1.0 - share));
  }
};

// The air's side with the same film and cooling, written apart.
struct Surface {
  const dry::Body* body = nullptr;
  double speed_ms = 0.0, t_c = 13.0, humidity = 0.8, factor = 1.0;
  double k_psat = 0.0, cooling = 0.0;
  void at_radius(double r_m) {
    const double heat = dry::film_heat_w_m2k(golden::MetresPerSecond(speed_ms), golden::Metres(2.0 * r_m));
    const double vapour = dry::film_vapour_kg_m2spa(heat, golden::Celsius(t_c));
    const double k = factor / (1.0 / vapour + body->casing_pa_m2s_kg);
    k_psat = k * saltrafter::air::saturation_pressure_pa(t_c);
    cooling = k * 2.47e6 * saltrafter::air::saturation_pressure_slope_pa_k(t_c) / (heat + body->radiation_w_m2k);
  }
  double flux(double x, double& slope) const {
    const auto at = body->at(x);
    const double below = 1.0 + cooling * at.activity;
    slope = k_psat * (1.0 + cooling * humidity) / (below * below) * at.slope;
    return k_psat * (at.activity - humidity) / below;
  }
};

inline constexpr std::array<double, 7> kWeighDays{2, 4, 7, 10, 14, 18, 24};

// The stages as they are known on a day: a change of the set point shows only once it has come.
inline std::vector<dry::Stage> known_stages(const Piece& piece, double today) {
  std::vector<dry::Stage> stages = piece.known.stages;
  const Strange& s = piece.strange;
  if (s.change_day > today) {
    return stages;
  }
  double start = 0.0;
  for (std::size_t i = 0; i + 1 < stages.size(); ++i) {
    start += stages[i].duration.value;
  }
  dry::Stage changed = stages.back();
  changed.humidity.value += s.change_humidity;
  changed.temperature.value += s.change_c;
  stages.back().duration = golden::Days(s.change_day - start);
  stages.push_back(changed);
  return stages;
}

// Dries the piece in truth and weighs it.
inline void live(Piece& piece, Chance& chance) {
  const Strange& s = piece.strange;
  dry::Stuff stuff{dry::with_water(piece.known.composition, s.water), {}, piece.known.kind, piece.known.wrap};
  dry::Body body = dry::make_body(stuff, piece.known.geometry).value();
  body.holds = s.holds;
  auto diffusion = transport::Diffusion::make({body.shape_index, body.outer_m, 30, 2.0},
                                              {body.solid_m3_kg, 1e-3 * s.shrinkage}, body.x0)
                       .value();
  std::vector<double> days(kWeighDays.begin(), kWeighDays.end());
  for (double& day : days) {
    day += s.missed > 0.0 && chance.between(0.0, 1.0) < s.missed ? 2.0 : 0.0;
  }
  const std::vector<dry::Stage> stages = known_stages(piece, 1e9);
  std::size_t stage = 0;
  double stage_end = stages[0].duration.value;
  double loss_before = 0.0;
  std::size_t next = 0;
  constexpr double kStep = 0.25;
  for (double day = 0.0; day < 250.0; day += kStep) {
    while (stage + 1 < stages.size() && day >= stage_end - 1e-9) {
      stage_end += stages[++stage].duration.value;
    }
    const dry::Stage& air = stages[stage];
    const double along = std::min(day / 40.0, 1.0);
    Surface surface;
    surface.body = &body;
    surface.speed_ms = air.speed.value;
    surface.t_c = air.temperature.value;
    surface.humidity = std::min(air.humidity.value + s.humidity_start + along * (s.humidity_end - s.humidity_start), 0.98);
    surface.factor = piece.factors.outer * (day >= s.moved_day ? s.moved_factor : 1.0);
    const double kelvin = air.temperature.value + 273.15;
    const Material material{piece.factors.inner * body.d0_m2_s *
                                std::exp(-body.activation_j_mol / 8.314462618 * (1.0 / kelvin - 1.0 / 286.15)),
                            s.power, body.slowdown, body.x0};
    diffusion.step(kStep * 86400.0, material, surface, transport::Scheme::backward_euler);
    const double loss = (body.x0 - diffusion.mean_content()) / (1.0 + body.x0);
    if (piece.ready_day > 1e8 && loss >= piece.known.wanted_loss) {
      piece.ready_day = day + kStep * (piece.known.wanted_loss - loss_before) / (loss - loss_before);
    }
    loss_before = loss;
    const double now = day + kStep;
    if (next < days.size() && now >= days[next] - 1e-9) {
      const double noise_g = chance.normal() * std::sqrt(1.0 + std::pow(0.002 * piece.hung_g, 2));
      double mass_g = piece.hung_g * (1.0 - loss) * (1.0 + s.scale_drift * now / 30.0) + noise_g;
      if (s.mistyped > 0.0 && chance.between(0.0, 1.0) < s.mistyped) {
        mass_g += (chance.one_in(2) ? 1.0 : -1.0) * chance.between(40.0, 200.0);
      }
      dry::PieceWeighing w;
      w.id.text = std::to_string(next);
      w.day = days[next];
      w.mass = saltrafter::Grams(std::round(mass_g));
      piece.weighings.push_back(w);
      ++next;
    }
    if (next == days.size() && piece.ready_day < 1e8) {
      break;
    }
  }
}

// What a maker knows, drawn from usual products and airs; the wanted loss is one that the stated air allows.
inline Piece drawn(Chance& chance) {
  Piece piece;
  dry::ForecastInput& in = piece.known;
  const bool whole = chance.one_in(4);
  const double fat = whole ? chance.between(2, 15) : chance.between(12, 33);
  const double lean = (100.0 - fat - 2.8) / 100.0;
  in.composition = {76.5 * lean, 22.0 * lean, fat, 2.8, 1.5 * lean};
  in.kind = whole ? dry::Kind::whole_muscle : dry::Kind::minced;
  in.wrap = whole && chance.one_in(2) ? dry::Wrap::naked : dry::Wrap::cased;
  in.geometry.diameter = golden::Metres(whole ? chance.between(0.05, 0.085) : chance.between(0.04, 0.08));
  const double t_c = chance.between(11, 15);
  const double humidity = chance.between(0.70, 0.80);
  const double speed_ms = chance.between(0.03, 0.2);
  in.stages = whole ? std::vector<dry::Stage>{golden::stage(1, t_c, humidity, speed_ms)}
                    : std::vector<dry::Stage>{golden::stage(2, 21, 0.88, 0.2), golden::stage(4, 16, 0.83, 0.2),
                                              golden::stage(1, t_c, humidity, speed_ms)};
  in.saturation = curves::kAir;
  const dry::Body body = dry::make_body({in.composition, {}, in.kind, in.wrap}, in.geometry).value();
  const double most = body.loss_at(saltrafter::WaterActivity(humidity));
  in.wanted_loss = std::min(chance.between(0.28, 0.38), most - 0.08);
  piece.hung_g = chance.between(350, 1600);
  return piece;
}

inline Piece plain(std::uint64_t seed) {
  Chance chance(seed);
  Piece piece = drawn(chance);
  piece.factors = {std::exp(0.40 * chance.normal()), std::exp(0.40 * chance.normal())};
  live(piece, chance);
  return piece;
}

inline Piece strange(std::uint64_t seed) {
  Chance chance(seed);
  Piece piece = drawn(chance);
  piece.factors = {std::exp(0.30 * chance.normal()), std::exp(0.30 * chance.normal())};
  Strange& s = piece.strange;
  s.humidity_start = chance.between(-0.05, 0.05);
  s.humidity_end = chance.between(-0.05, 0.05);
  s.power = chance.between(0.7, 1.8);
  s.shrinkage = chance.between(0.8, 1.2);
  s.water = chance.between(-0.02, 0.02);
  s.holds = std::exp(0.05 * chance.normal());
  s.scale_drift = chance.one_in(2) ? 0.003 : -0.003;
  s.mistyped = 0.02;
  s.missed = 0.2;
  if (chance.one_in(3)) {
    s.moved_day = chance.between(5, 20);
    s.moved_factor = std::exp(chance.between(-0.25, 0.25));
  }
  if (chance.one_in(3)) {
    s.change_day = std::floor(chance.between(8, 20));
    s.change_humidity = chance.between(-0.04, 0.04);
    s.change_c = chance.between(-2, 2);
  }
  live(piece, chance);
  return piece;
}

inline dry::PieceOutlook outlook(const Piece& piece, std::size_t weighings) {
  dry::ForecastInput in = piece.known;
  dry::ForecastPiece own;
  own.id.text = "p";
  own.hung = saltrafter::Grams(piece.hung_g);
  own.weighings.assign(piece.weighings.begin(), piece.weighings.begin() + static_cast<std::ptrdiff_t>(weighings));
  const double today = weighings > 0 ? own.weighings.back().day : 0.0;
  in.stages = known_stages(piece, today);
  in.now = golden::Days(today);
  in.horizon = golden::Days(1);
  in.pieces = {own};
  return golden::run(in).pieces[0];
}

}  // namespace simulated
