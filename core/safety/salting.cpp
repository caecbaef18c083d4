#include "core/safety/salting.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include "core/safety/threshold.h"
#include "core/tables/tables.h"
#include "core/transport/transport.h"

namespace saltrafter::safety {
namespace {

constexpr double kSecondsADay = 86400.0;
constexpr double kGasJMolK = 8.314462618;  // exact, SI
constexpr double kGivenAtC = 4.0;          // where the diffusivities are given
constexpr double kMostDays = 365.0;
constexpr double kLookAheadDays = 120.0;
constexpr double kAllEven = 0.9999;  // share of the mean from which days bring nothing more
constexpr int kCells = 64;
constexpr double kGrading = 1.2;
constexpr int kProfileSteps = 10;
constexpr double kLongestStepDays = 0.25;
constexpr double kShortestStepDays = 1.0 / 96.0;
constexpr double kStepOfScale = 0.003;  // of a2/D, the time in which salt crosses the piece

// The first roots of J1, and J0 there; computed. The page's library has no Bessel functions.
struct BesselRoot {
  double beta = 0.0;
  double j0 = 0.0;
};
constexpr std::array<BesselRoot, 12> kBesselRoots{
    {{3.831705970208, -0.402759395703},
     {7.015586669816, 0.300115752526},
     {10.173468135063, -0.249704877058},
     {13.323691936314, 0.218359407248},
     {16.470630050878, -0.196465371469},
     {19.615858510468, 0.180063375344},
     {22.760084380593, -0.167184600474},
     {25.903672087618, 0.156724986253},
     {29.046828534917, -0.148011109973},
     {32.189679910974, 0.140605798184},
     {35.332307550084, -0.134211240310},
     {38.474766234772, 0.128616622072}}};

struct Still {
  double m2_s = 0.0;
  double diffusivity(double) const { return m2_s; }
};

// What a piece is, for salt. Contents are kg of salt per kg of all else, at hanging.
struct Piece {
  double index = 1.0;
  double outer_m = 0.0;
  double volume_m3_kg = 0.0;
  double salt = 0.0;   // what shall be in it
  double water = 0.0;  // kg per kg of all else
  recipe::CureMethod method = recipe::CureMethod::equilibrium;
  double saturated = 0.0;                      // content of a surface that lies in salt
  double brine_salt = 0.0, brine_water = 0.0;  // kg per kg of the piece's all else

  double water_after(double loss) const { return std::max(0.0, water - loss * (1.0 + salt)); }
};

Result<Piece> piece_of(const recipe::Recipe& recipe, const recipe::Sheet& sheet) {
  const recipe::Composition& parts = sheet.composition;
  const double else_g = parts.total_g() - parts.salt_g;
  if (!(parts.water_g > 0.0) || !(else_g > parts.water_g) || !(parts.salt_g >= 0.0)) {
    Error error;
    error.code = ErrorCode::missing;
    error.field = "composition";
    return error;
  }
  Piece piece;
  const double across_m = recipe.casing_diameter.value;
  // A roll and a ham count as round: of a ham's surface more lies around its middle, so it salts no slower.
  piece.index = recipe::is_flat(recipe.form) ? 0.0 : 1.0;
  piece.outer_m = recipe.form == recipe::Form::slab_closed ? across_m : 0.5 * across_m;
  piece.volume_m3_kg = 1.0 / threshold("meat.density").value;
  piece.salt = parts.salt_g / else_g;
  piece.water = parts.water_g / else_g;
  const double saturated = threshold("safety.saturated_brine").value;
  piece.saturated = saturated / (1.0 - saturated) * piece.water;
  piece.method = recipe.method;
  if (piece.method == recipe::CureMethod::mixed_in) piece.method = recipe::CureMethod::equilibrium;
  if (piece.method == recipe::CureMethod::brine) {
    const recipe::Brine brine = recipe.brine.value_or(recipe::Brine{});
    const double all_g = sheet.meat.value * brine.g_per_kg * 1e-3;
    double salt_g = sheet.salt_from_mix.value;
    for (const recipe::SheetLine& line : sheet.lines) {
      if (line.kind == recipe::LineKind::salt) salt_g += line.weighed.value;
    }
    const double water_g = sheet.water.value > 0.0 ? sheet.water.value : std::max(0.0, all_g - salt_g);
    piece.brine_salt = salt_g / else_g;
    piece.brine_water = water_g / else_g;
    piece.salt =
        piece.brine_salt * piece.water / (piece.water + piece.brine_water);  // once it has evened out
  }
  return piece;
}

double salt_in_water(double salt, double water) {
  return salt > 0.0 ? salt / (salt + std::max(water, 0.0)) : 0.0;
}

// The steady share of the mean that stays at the centre while water leaves evenly: 1 over the mean of
// exp(k (r/a)^2) over the piece. Simpson's rule on 40 strips.
double carried_share(double index, double k) {
  if (!(k > 0.0)) return 1.0;
  constexpr int kStrips = 40;
  const auto at = [&](double r) { return std::pow(r, index) * std::exp(std::min(k, 50.0) * r * r); };
  double sum = at(0.0) + at(1.0);
  for (int i = 1; i < kStrips; ++i) sum += (i % 2 == 1 ? 4.0 : 2.0) * at(static_cast<double>(i) / kStrips);
  return 3.0 * kStrips / ((index + 1.0) * sum);
}

// One piece at one diffusivity, through its times.
class Walk {
 public:
  Walk(const Piece& piece, double at_4_c_m2_s, transport::Diffusion body)
      : piece_(&piece), at_4_c_m2_s_(at_4_c_m2_s), body_(std::move(body)) {}

  static Result<Walk> make(const Piece& piece, double at_4_c_m2_s) {
    const transport::Shape shape{piece.index, piece.outer_m, kCells, kGrading};
    const transport::Volumes volumes{piece.volume_m3_kg, 0.0};
    Result<transport::Diffusion> even = transport::Diffusion::make(shape, volumes, 0.0);
    if (!even.ok()) return even.error();
    if (piece.method != recipe::CureMethod::equilibrium) {
      return Walk(piece, at_4_c_m2_s, std::move(even).value());
    }
    std::vector<double> contents(kCells, 0.0);
    contents.back() = piece.salt * even.value().solids_kg() / even.value().solids().back();
    Result<transport::Diffusion> body = transport::Diffusion::make(shape, volumes, contents);
    if (!body.ok()) return body.error();
    return Walk(piece, at_4_c_m2_s, std::move(body).value());
  }

  // A new time begins: other surroundings.
  void enter(const SaltTime& time) {
    const double end_loss = std::max(loss_, std::min(time.loss_at_end, 1.0));
    loss_rate_ = time.days.value > 0.0 ? (end_loss - loss_) / time.days.value : 0.0;
    if (!(time.days.value > 0.0)) loss_ = end_loss;
    material_.m2_s = salt_diffusivity(at_4_c_m2_s_, time.temperature);
    in_salt_ = time.in_salt;
    since_ = 0.0;
    body_.restart();
  }

  void go(double days) {
    double left = days;
    while (left > 0.0) {
      const double parts = std::max(std::ceil(left / step_days() - 1e-6), 1.0);
      const double dt = left / parts;
      step(dt);
      since_ += dt;
      loss_ += loss_rate_ * dt;
      left = parts > 1.0 ? left - dt : 0.0;
    }
    if (loss_rate_ > 0.0) {
      const double water = std::max(piece_->water_after(loss_), 1e-6);
      const double leaves_per_s = loss_rate_ * (1.0 + piece_->salt) / water / kSecondsADay;
      const double k =
          leaves_per_s * piece_->outer_m * piece_->outer_m / (2.0 * (piece_->index + 1.0) * material_.m2_s);
      carried_ = std::min(carried_, carried_share(piece_->index, k));
    }
  }

  double share() const {
    const double mean = body_.mean_content();
    return mean > 0.0 ? std::max(body_.core_content(), 0.0) / mean : 0.0;
  }
  bool in_box() const { return in_salt_ && piece_->method == recipe::CureMethod::salt_box; }
  double centre() const { return of(std::max(body_.core_content(), 0.0) * carried_); }
  double mean() const { return of(body_.mean_content()); }
  double carried() const { return carried_; }

  std::vector<double> profile() const {
    const std::vector<double> r = middles();
    const std::span<const double> x = body_.content();
    std::vector<double> out;
    std::size_t next = 0;
    for (int i = 0; i <= kProfileSteps; ++i) {
      const double at = static_cast<double>(i) / kProfileSteps;
      while (next < r.size() && r[next] < at) ++next;
      double content = body_.surface_content();
      if (next == 0) {
        content = body_.core_content();
      } else if (next < r.size()) {
        const double part = (at - r[next - 1]) / (r[next] - r[next - 1]);
        content = x[next - 1] + part * (x[next] - x[next - 1]);
      }
      out.push_back(of(std::max(content, 0.0)));
    }
    return out;
  }

 private:
  double of(double content) const { return salt_in_water(content, piece_->water_after(loss_)); }

  // Where the middle of each cell's mass lies, as a share of the way to the rim.
  std::vector<double> middles() const {
    std::vector<double> out;
    double inside = 0.0;
    for (const double solids : body_.solids()) {
      const double share = (inside + 0.5 * solids) / body_.solids_kg();
      out.push_back(std::pow(share, 1.0 / (piece_->index + 1.0)));
      inside += solids;
    }
    return out;
  }

  // Short where the surroundings have jumped, then a fixed part of the time that salt takes across the piece.
  double step_days() const {
    const double cross_days = piece_->outer_m * piece_->outer_m / material_.m2_s / kSecondsADay;
    const double whole = std::clamp(kStepOfScale * cross_days, kShortestStepDays, kLongestStepDays);
    return whole * std::min(1.0, 1.0 / 32.0 + since_ / (8.0 * whole));
  }

  void step(double dt_days) {
    if (in_salt_ && piece_->method == recipe::CureMethod::salt_box) {
      step_in_box(dt_days);
    } else if (in_salt_ && piece_->method == recipe::CureMethod::brine && piece_->brine_water > 0.0) {
      const double left = std::max(0.0, piece_->brine_salt - body_.mean_content());
      const double strength = std::min(left / piece_->brine_water * piece_->water, piece_->saturated);
      transport::FixedSurface surface{strength};
      body_.step(dt_days * kSecondsADay, material_, surface, transport::Scheme::bdf2, 1);
    } else {
      closed(body_, dt_days);
    }
  }

  // Salt lies on it until the piece holds what it shall; of the step that goes beyond, the part up to there.
  void step_in_box(double dt_days) {
    if (body_.mean_content() >= piece_->salt) {
      closed(body_, dt_days);
      return;
    }
    const transport::Diffusion before = body_;
    salted(body_, dt_days);
    if (body_.mean_content() <= piece_->salt) return;
    double low = 0.0;
    double high = dt_days;
    for (int i = 0; i < 30; ++i) {
      const double middle = 0.5 * (low + high);
      body_ = before;
      salted(body_, middle);
      (body_.mean_content() > piece_->salt ? high : low) = middle;
    }
    body_ = before;
    salted(body_, high);
    body_.restart();
    closed(body_, dt_days - high);
    since_ = 0.0;
  }

  void salted(transport::Diffusion& body, double dt_days) const {
    transport::FixedSurface surface{piece_->saturated};
    body.step(dt_days * kSecondsADay, material_, surface, transport::Scheme::bdf2, 1);
  }
  void closed(transport::Diffusion& body, double dt_days) const {
    transport::ClosedSurface surface;
    body.step(dt_days * kSecondsADay, material_, surface, transport::Scheme::bdf2, 1);
  }

  const Piece* piece_;
  double at_4_c_m2_s_;
  transport::Diffusion body_;
  Still material_;
  bool in_salt_ = false;
  double since_ = 0.0;  // days since the surroundings jumped
  double loss_ = 0.0, loss_rate_ = 0.0;
  double carried_ = 1.0;  // the least of carried_share so far
};

// Calls `see(day, walk)` at 0, at each whole day, at the end of the times, and then at each whole day up to
// `until_days`, sealed, as long as `goes_on(walk)`.
template <class See, class GoesOn>
void walk_through(Walk& walk, const std::vector<SaltTime>& times, double until_days, See see,
                  GoesOn goes_on) {
  double day = 0.0;
  const auto go_to = [&](double end) {
    while (day < end) {
      const double next = std::min(std::floor(day + 1e-9) + 1.0, end);
      walk.go(next - day);
      day = next;
      if (day < end || day == std::floor(day)) see(day, walk);
    }
  };
  Celsius last{kGivenAtC};
  see(0.0, walk);
  for (const SaltTime& time : times) {
    walk.enter(time);
    last = time.temperature;
    go_to(day + time.days.value);
  }
  if (day != std::floor(day)) see(day, walk);
  if (!(until_days > day)) return;
  walk.enter(SaltTime{Days(until_days - day), last, false, 0.0});
  while (day < until_days && goes_on(walk)) go_to(std::min(std::floor(day + 1e-9) + 1.0, until_days));
}

void walk_through(Walk& walk, const std::vector<SaltTime>& times) {
  for (const SaltTime& time : times) {
    walk.enter(time);
    walk.go(time.days.value);
  }
}

Result<double> all_days_of(const std::vector<SaltTime>& times) {
  double all_days = 0.0;
  for (const SaltTime& time : times) {
    if (!(time.days.value >= 0.0)) return out_of_range("days", time.days.value, 0.0, kMostDays, "d");
    all_days += time.days.value;
  }
  if (!(all_days <= kMostDays + 1e-9)) return out_of_range("days", all_days, 0.0, kMostDays, "d");
  return all_days;
}

bool at_least(double value, double limit) { return std::round((value - limit) * 1e9) >= 0.0; }

}  // namespace

double salt_diffusivity(double at_4_c_m2_s, Celsius temperature) {
  const double energy_j_mol = threshold("safety.salt_activation_energy").value;
  const double t_k = std::max(temperature.value, -40.0) + kKelvinAtZeroCelsius;
  const double given_k = kGivenAtC + kKelvinAtZeroCelsius;
  return at_4_c_m2_s * std::exp(-energy_j_mol / kGasJMolK * (1.0 / t_k - 1.0 / given_k));
}

Result<Salting> salting(const recipe::Recipe& recipe, const recipe::Sheet& sheet,
                        const std::vector<SaltTime>& times, recipe::Working* working) {
  const Result<double> all = all_days_of(times);
  if (!all.ok()) return all.error();
  const double all_days = all.value();
  const Result<Piece> piece = piece_of(recipe, sheet);
  if (!piece.ok()) return piece.error();

  const double evened = threshold("safety.salt_evened").value;
  const double cold_salt = threshold("any.water_phase_salt.whole_muscle_dry.centre").value;
  Salting out;
  double carried = 1.0;
  const std::array<std::pair<double, std::optional<Days>*>, 3> ends{
      {{kSaltDiffusivity, &out.evened_likely},
       {kSaltDiffusivityLow, &out.evened_slow},
       {kSaltDiffusivityHigh, &out.evened_fast}}};
  for (const auto& end : ends) {
    Result<Walk> made = Walk::make(piece.value(), end.first);
    if (!made.ok()) return made.error();
    Walk walk = std::move(made).value();
    const bool likely = end.second == &out.evened_likely;
    const bool slow = end.second == &out.evened_slow;
    std::optional<Days>& evened_on = *end.second;
    std::size_t seen = 0;
    const auto see = [&](double day, const Walk& now) {
      if (!evened_on && !now.in_box() && at_least(now.share(), evened)) evened_on = Days(day);
      if (slow && !out.cold_until && at_least(now.centre(), cold_salt)) out.cold_until = Days(day);
      if (day > all_days) return;
      if (likely) {
        out.days.push_back(SaltProfile{Days(day), 0.0, now.centre(), now.mean(), now.profile()});
      } else if (slow && seen < out.days.size()) {
        out.days[seen].centre = now.centre();
      }
      if (slow && day == all_days) carried = now.carried();
      ++seen;
    };
    const auto goes_on = [&](const Walk& now) {
      return !evened_on || (slow && !out.cold_until && now.share() < kAllEven);
    };
    walk_through(walk, times, kLookAheadDays, see, goes_on);
  }
  recipe::note(working, "salting.salt", piece.value().salt, "1", "computed");
  recipe::note(working, "salting.water", piece.value().water, "1", "computed");
  recipe::note(working, "salting.outer", piece.value().outer_m, "m", "maker");
  recipe::note(working, "salting.diffusivity_slow", kSaltDiffusivityLow, "m2/s", "safety.salt_diffusivity");
  recipe::note(working, "salting.diffusivity", kSaltDiffusivity, "m2/s", "safety.salt_diffusivity");
  const Threshold energy = threshold("safety.salt_activation_energy");
  recipe::note(working, "salting.activation_energy", energy.value, "J/mol", energy.key);
  recipe::note(working, "salting.days", all_days, "d", "maker");
  recipe::note(working, "salting.carried", carried, "1", "computed");
  recipe::note(working, "salting.centre", out.days.back().centre, "1", "computed");
  return out;
}

Result<double> salt_at_centre(const recipe::Recipe& recipe, const recipe::Sheet& sheet,
                              const std::vector<SaltTime>& times) {
  const Result<double> all = all_days_of(times);
  if (!all.ok()) return all.error();
  const Result<Piece> piece = piece_of(recipe, sheet);
  if (!piece.ok()) return piece.error();
  Result<Walk> made = Walk::make(piece.value(), kSaltDiffusivityLow);
  if (!made.ok()) return made.error();
  Walk walk = std::move(made).value();
  walk_through(walk, times);
  return walk.centre();
}

double cold_loss_per_day(const recipe::Recipe& recipe) {
  constexpr double kGivenRadiusM = 0.04;  // a round piece of 80 mm has 2 / 0.04 m of surface to volume
  const double across_m = std::max(recipe.casing_diameter.value, 0.01);
  const double outer_m = recipe.form == recipe::Form::slab_closed ? across_m : 0.5 * across_m;
  const double faces = recipe::is_flat(recipe.form) ? 1.0 : 2.0;
  return threshold("safety.cold_loss_per_day").value * 0.5 * faces * kGivenRadiusM / outer_m;
}

std::vector<SaltTime> times_before(const recipe::Recipe& recipe, std::size_t stage) {
  std::vector<SaltTime> times;
  double loss = 0.0;
  double days = 0.0;
  for (std::size_t i = 0; i < std::min(stage, recipe.stages.size()); ++i) {
    const recipe::Stage& s = recipe.stages[i];
    SaltTime time;
    time.days = Days(std::clamp(s.days.value, 0.0, std::max(kMostDays - days, 0.0)));
    days += time.days.value;
    time.temperature = s.temperature;
    const bool wet =
        recipe.method == recipe::CureMethod::salt_box || recipe.method == recipe::CureMethod::brine;
    time.in_salt = wet && s.kind == recipe::StageKind::cure;
    const bool dries = s.kind == recipe::StageKind::cold_dry || s.kind == recipe::StageKind::dry;
    if (s.until_loss) {
      loss = std::max(loss, *s.until_loss);
    } else if (dries && !s.sealed) {
      loss = std::max(loss, std::min(loss + cold_loss_per_day(recipe) * s.days.value, recipe.wanted_loss));
    }
    time.loss_at_end = loss;
    times.push_back(time);
  }
  return times;
}

bool is_cold(Celsius temperature) {
  return at_least(threshold("any.temperature.whole_muscle_dry.cold").value, temperature.value);
}

std::optional<std::size_t> first_warm(const recipe::Recipe& recipe) {
  for (std::size_t i = 0; i < recipe.stages.size(); ++i) {
    if (!is_cold(recipe.stages[i].temperature)) return i;
  }
  return std::nullopt;
}

std::vector<SaltTime> times_of(const recipe::Recipe& recipe) {
  return times_before(recipe, first_warm(recipe).value_or(recipe.stages.size()));
}

std::optional<ColdWay> cold_way(const recipe::Recipe& recipe, const recipe::Sheet& sheet) {
  std::vector<SaltTime> cure;
  for (const SaltTime& time : times_of(recipe)) {
    if (time.loss_at_end > 0.0) break;
    cure.push_back(time);
  }
  if (cure.empty()) {
    const Result<Salting> alone = salting(recipe, sheet, {});
    if (!alone.ok() || !alone.value().evened_slow) return std::nullopt;
    cure.push_back(SaltTime{*alone.value().evened_slow, Celsius(kGivenAtC), false, 0.0});
  }
  return cold_way(recipe, sheet, std::move(cure));
}

std::optional<ColdWay> cold_way(const recipe::Recipe& recipe, const recipe::Sheet& sheet,
                                std::vector<SaltTime> times) {
  double before_days = 0.0;
  double loss = 0.0;
  for (const SaltTime& time : times) {
    if (!(time.days.value >= 0.0)) return std::nullopt;
    before_days += time.days.value;
    loss = std::max(loss, time.loss_at_end);
  }
  const double rate = cold_loss_per_day(recipe);
  const double most_loss = threshold("safety.cold_loss_most").value;
  const double most_days =
      std::min(std::floor((most_loss - loss) / rate), std::floor(kMostDays - before_days));
  if (!(rate > 0.0) || !(most_days >= 1.0)) return std::nullopt;
  const Celsius dries_at{threshold("safety.cold_drying_temperature").value};
  times.push_back(SaltTime{Days(most_days), dries_at, false, loss + rate * most_days});

  const Result<Piece> piece = piece_of(recipe, sheet);
  if (!piece.ok()) return std::nullopt;
  Result<Walk> made = Walk::make(piece.value(), kSaltDiffusivityLow);
  if (!made.ok()) return std::nullopt;
  Walk walk = std::move(made).value();
  const double cold_salt = threshold("any.water_phase_salt.whole_muscle_dry.centre").value;
  bool passes_before = false;
  std::optional<double> passes;
  const auto see = [&](double day, const Walk& now) {
    const bool enough = at_least(now.centre(), cold_salt);
    if (day <= before_days) passes_before = enough;
    if (day > before_days && enough && !passes) passes = day;
  };
  walk_through(walk, times, 0.0, see, [](const Walk&) { return false; });
  if (passes_before || !passes) return std::nullopt;
  ColdWay way;
  way.cure = Days(before_days);
  way.dry = Days(std::ceil(*passes - before_days - 1e-9));
  way.loss = std::ceil((loss + rate * way.dry.value) * 1000.0 - 1e-6) / 1000.0;
  return way;
}

double centre_share(recipe::Form form, double fourier) {
  if (!(fourier >= 0.02)) return 0.0;
  constexpr double kPi = 3.14159265358979323846;
  double sum = 1.0;
  if (recipe::is_flat(form)) {
    for (int n = 1; n <= 12; ++n) {
      sum += (n % 2 == 1 ? -2.0 : 2.0) * std::exp(-n * n * kPi * kPi * fourier);
    }
    return std::max(sum, 0.0);
  }
  for (const BesselRoot& root : kBesselRoots) sum += std::exp(-root.beta * root.beta * fourier) / root.j0;
  return std::max(sum, 0.0);
}

}  // namespace saltrafter::safety
