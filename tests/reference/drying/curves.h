// Recorded and published curves of dry_curves.csv, with the air and the body they are taken to have hung in.
#pragma once

#include <sstream>

#include "core/air/air.h"
#include "tests/reference/drying/bodies.h"
#include "tests/reference/transport/rows.h"

namespace curves {

namespace dry = saltrafter::drying;

struct Point {
  double day = 0.0;
  double loss = 0.0;
};

struct Curve {
  std::string set, product, known, assumed;
  dry::Stuff stuff;
  dry::Geometry geometry;
  std::vector<dry::Stage> stages;
  std::vector<Point> points;
};

inline constexpr dry::Saturation kAir{saltrafter::air::saturation_pressure_pa,
                                      saltrafter::air::saturation_pressure_slope_pa_k};

inline std::vector<dry::Stage> programme(const std::string& text) {
  std::vector<dry::Stage> out;
  std::istringstream all(text);
  for (std::string one; std::getline(all, one, ';');) {
    double days = 0.0, t_c = 0.0, humidity = 0.0, speed_ms = 0.0;
    REQUIRE_MESSAGE(std::sscanf(one.c_str(), "%lfx%lf/%lf/%lf", &days, &t_c, &humidity, &speed_ms) == 4, one);
    out.push_back(golden::stage(days, t_c, humidity / 100.0, speed_ms));
  }
  return out;
}

inline dry::Body body(const Curve& curve, const dry::Figures& figures = {}) {
  return dry::make_body(curve.stuff, curve.geometry, figures).value();
}

inline std::vector<Curve> read() {
  std::vector<Curve> out;
  for (const rows::Row& row : rows::read("dry_curves.csv")) {
    if (out.empty() || out.back().set != row.at("set")) {
      Curve curve;
      curve.set = row.at("set");
      curve.product = row.at("product");
      curve.known = row.at("known");
      curve.assumed = row.at("assumed");
      curve.stuff.composition = {rows::number(row, "water"), rows::number(row, "protein"), rows::number(row, "fat"),
                                 rows::number(row, "salt"), 0.0};
      curve.stuff.kind = row.at("kind") == "minced" ? dry::Kind::minced : dry::Kind::whole_muscle;
      curve.stuff.wrap = row.at("wrap") == "cased" ? dry::Wrap::cased : dry::Wrap::naked;
      const std::string form = row.at("form");
      curve.geometry.form = form == "ham"                ? dry::Form::ham
                            : form == "rolled"           ? dry::Form::rolled
                            : form == "slab_skin_closed" ? dry::Form::slab_skin_closed
                                                         : dry::Form::cylinder;
      curve.geometry.diameter = golden::Metres(1e-3 * rows::number(row, "diameter_mm"));
      if (!row.at("length_mm").empty()) {
        curve.geometry.length = golden::Metres(1e-3 * rows::number(row, "length_mm"));
      }
      curve.stages = programme(row.at("programme"));
      out.push_back(curve);
    }
    Curve& curve = out.back();
    double loss = 0.0;
    if (row.at("moisture_ratio").empty()) {
      loss = rows::number(row, "loss");
    } else {
      // The published ratio is against the equilibrium of the air.
      const dry::Body own = body(curve);
      const double most = own.loss_at(saltrafter::WaterActivity(curve.stages.back().humidity.value));
      loss = (1.0 - rows::number(row, "moisture_ratio")) * most;
    }
    curve.points.push_back({rows::number(row, "day"), loss});
  }
  return out;
}

}  // namespace curves
