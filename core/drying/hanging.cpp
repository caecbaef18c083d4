#include "core/drying/hanging.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <string>
#include <utility>

namespace saltrafter::drying {

namespace {

Error missing(std::string field) {
  Error error;
  error.code = ErrorCode::missing;
  error.field = std::move(field);
  return error;
}

Result<Done> check(const Hanging& hanging, const std::string& at) {
  if (!hanging.body.isotherm) {
    return missing(at + "body");
  }
  if (!(hanging.hung.value > 0.0 && hanging.hung.value <= 1e6)) {
    return out_of_range(at + "hung", hanging.hung.value, 0.0, 1e6, "g");
  }
  if (!(hanging.now.value >= 0.0 && hanging.now.value <= 3650.0)) {
    return out_of_range(at + "now", hanging.now.value, 0.0, 3650.0, "d");
  }
  if (!(hanging.needed_loss >= 0.0 && hanging.needed_loss <= 0.9)) {
    return out_of_range(at + "needed_loss", hanging.needed_loss, 0.0, 0.9, "");
  }
  for (const double factor : {hanging.factors.inner, hanging.factors.outer}) {
    if (!(factor >= 0.01 && factor <= 100.0)) {
      return out_of_range(at + "factors", factor, 0.01, 100.0, "");
    }
  }
  return check_stages(hanging.stages);
}

// A piece as it was hung. `any`: the same meat in any size; one for all pieces, since tabulating its isotherm is the
// long part.
Result<Hanging> hanging(const ForecastInput& input, const ForecastPiece& piece, const Body& any) {
  Hanging one;
  one.id = piece.id;
  one.hung = piece.hung;
  one.kind = input.kind;
  one.geometry = input.geometry;
  one.geometry.diameter = piece.diameter.value_or(input.geometry.diameter);
  Result<Body> body = with_size(any, one.geometry);
  if (!body.ok()) {
    return body.error();
  }
  one.body = std::move(body).value();
  one.stages = input.stages;
  return one;
}

}  // namespace

Result<std::vector<Hanging>> hangings(const ForecastInput& input, const Forecast& forecast) {
  if (input.pieces.empty() || input.pieces.size() != forecast.pieces.size()) {
    return missing("pieces");
  }
  const Stuff stuff{forecast.composition, input.solutes, input.kind, input.wrap};
  const Result<Body> body = make_body(stuff, input.geometry, input.figures);
  if (!body.ok()) {
    return body.error();
  }
  std::vector<Hanging> out;
  for (std::size_t i = 0; i < input.pieces.size(); ++i) {
    Result<Hanging> made = hanging(input, input.pieces[i], body.value());
    if (!made.ok()) {
      return made.error();
    }
    Hanging one = std::move(made).value();
    const std::array<double, 2>& ln = forecast.pieces[i].ln_factor;
    one.body.holds = std::exp(forecast.offsets.mean[1]);
    one.factors = {std::exp(ln[0]), std::exp(ln[1])};
    one.now = input.now;
    one.needed_loss = forecast.needed.loss;
    one.least = Days(forecast.needed.least_days);
    out.push_back(std::move(one));
  }
  return out;
}

StillHanging those_that_hang(ForecastInput input, Forecast forecast) {
  const auto hangs = [](const auto& piece) { return piece.hangs; };
  const std::vector<PieceOutlook>& outlooks = forecast.pieces;
  if (outlooks.size() != input.pieces.size() || std::none_of(outlooks.begin(), outlooks.end(), hangs)) {
    return {std::move(input), std::move(forecast)};
  }
  const auto middle = outlooks.begin() + static_cast<std::ptrdiff_t>(forecast.middle);
  forecast.middle = static_cast<std::size_t>(std::count_if(outlooks.begin(), middle, hangs));
  std::erase_if(input.pieces, [](const ForecastPiece& piece) { return !piece.hangs; });
  std::erase_if(forecast.pieces, [](const PieceOutlook& piece) { return !piece.hangs; });
  return {std::move(input), std::move(forecast)};
}

Result<std::vector<Hanging>> new_hangings(const ForecastInput& input) {
  if (input.pieces.empty()) {
    return missing("pieces");
  }
  const Stuff stuff{input.composition, input.solutes, input.kind, input.wrap};
  const Result<Body> body = make_body(stuff, input.geometry, input.figures);
  if (!body.ok()) {
    return body.error();
  }
  std::vector<Hanging> out;
  for (const ForecastPiece& piece : input.pieces) {
    const Metres diameter = piece.diameter.value_or(input.geometry.diameter);
    const auto alike = std::find_if(out.begin(), out.end(), [diameter](const Hanging& other) {
      return other.geometry.diameter == diameter;
    });
    if (alike != out.end()) {
      alike->hung = alike->hung + piece.hung;
      continue;
    }
    Result<Hanging> made = hanging(input, piece, body.value());
    if (!made.ok()) {
      return made.error();
    }
    Hanging one = std::move(made).value();
    one.factors = {std::exp(input.prior.mean[0]), std::exp(input.prior.mean[1])};
    one.needed_loss = input.wanted_loss;
    out.push_back(std::move(one));
  }
  return out;
}

Result<Done> check_hangings(const std::vector<Hanging>& hangings, const Saturation& saturation,
                            const std::string& field) {
  if (!saturation.psat_pa || !saturation.slope_pa_k) {
    return missing("saturation");
  }
  if (hangings.empty()) {
    return missing(field);
  }
  for (std::size_t i = 0; i < hangings.size(); ++i) {
    if (Result<Done> checked = check(hangings[i], field + "/" + std::to_string(i) + "/"); !checked.ok()) {
      return checked;
    }
  }
  return Done{};
}

std::uint64_t fold(std::uint64_t hash, const std::vector<Stage>& stages, const Saturation& saturation) {
  hash = saltrafter::fold(hash, static_cast<std::uint64_t>(stages.size()));
  for (const Stage& stage : stages) {
    for (const double v :
         {stage.duration.value, stage.temperature.value, stage.humidity.value, stage.speed.value,
          stage.sealed ? 1.0 : 0.0, stage.wrap ? static_cast<double>(*stage.wrap) : -1.0,
          saturation.psat_pa(stage.temperature.value), saturation.slope_pa_k(stage.temperature.value)}) {
      hash = saltrafter::fold(hash, v);
    }
  }
  return hash;
}

std::uint64_t fold(std::uint64_t hash, const Hanging& hanging, const Saturation& saturation) {
  hash = saltrafter::fold(hash, static_cast<std::uint64_t>(hanging.id.text.size()));
  for (const char c : hanging.id.text) {
    hash = saltrafter::fold(hash, static_cast<std::uint64_t>(static_cast<unsigned char>(c)));
  }
  const Body& body = hanging.body;
  for (const double v :
       {hanging.hung.value, static_cast<double>(hanging.kind), static_cast<double>(hanging.geometry.form),
        hanging.geometry.diameter.value, hanging.geometry.length ? hanging.geometry.length->value : -1.0,
        hanging.geometry.width ? hanging.geometry.width->value : -1.0, hanging.factors.inner,
        hanging.factors.outer, hanging.now.value, hanging.needed_loss, hanging.least.value, body.x0,
        body.shape_index, body.outer_m, body.solid_m3_kg, body.d0_m2_s, body.slowdown, body.activation_j_mol,
        body.casing_pa_m2s_kg, body.radiation_w_m2k, body.holds}) {
    hash = saltrafter::fold(hash, v);
  }
  // An isotherm has a handful of parameters: so many points tell two apart.
  for (const double activity : {0.5, 0.7, 0.8, 0.85, 0.9, 0.93, 0.96, 0.98}) {
    hash = saltrafter::fold(hash, body.isotherm->content(WaterActivity(activity)));
  }
  return fold(hash, hanging.stages, saturation);
}

CutStages cut(const std::vector<Stage>& stages, Days day) {
  CutStages out;
  double start = 0.0;
  for (std::size_t i = 0; i < stages.size(); ++i) {
    const bool last = i + 1 == stages.size();
    const double end = start + stages[i].duration.value;
    if (start < day.value) {
      const double until_day = day.value - start;
      out.before.push_back(stages[i]);
      out.before.back().duration = Days(last ? until_day : std::min(stages[i].duration.value, until_day));
    }
    if (last || end > day.value) {
      out.after.push_back(stages[i]);
      if (!last) {
        out.after.back().duration = Days(end - std::max(start, day.value));
      }
    }
    start = end;
  }
  return out;
}

std::vector<Stage> joined(std::vector<Stage> first, const std::vector<Stage>& then) {
  first.insert(first.end(), then.begin(), then.end());
  return first;
}

}  // namespace saltrafter::drying
