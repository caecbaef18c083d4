// The solver against Crank's series, and the series against their published tables.
#include "core/transport/transport.h"
#include "tests/near.h"
#include "tests/reference/transport/rows.h"
#include "tests/reference/transport/series.h"

namespace {

using saltrafter::transport::Diffusion;
using saltrafter::transport::FixedSurface;
using saltrafter::transport::Shape;
using saltrafter::transport::Volumes;

constexpr double kRadiusM = 0.03;
constexpr double kD = 1e-10;
constexpr double kSolidM3Kg = 1e-3;

struct Constant {
  double diffusivity(double) const { return kD; }
};
struct Linear {  // flux proportional to the content of the surface
  double k = 0.0;
  void at_radius(double) {}
  double flux(double x, double& slope) const {
    slope = k;
    return k * x;
  }
};

Linear with_biot(double bi) { return {bi * kD / kSolidM3Kg / kRadiusM}; }

Diffusion body(double m, int cells) {
  return Diffusion::make(Shape{m, kRadiusM, cells, 2.0}, Volumes{kSolidM3Kg, 0.0}, 1.0).value();
}

// To Fo in steps of R2/(division D), the first sixteen of them shorter.
template <class Surface>
void march(Diffusion& diffusion, Surface surface, double fo, double division) {
  const double whole = 1.0 / division;
  double now = 0.0;
  for (int i = 1; fo - now > 1e-12; ++i) {
    const double wanted = whole * std::min(1.0, i / 16.0);
    const double parts = std::max(std::ceil((fo - now) / wanted - 1e-6), 1.0);
    const double step = (fo - now) / parts;
    diffusion.step(step * kRadiusM * kRadiusM / kD, Constant{}, surface);
    now += step;
  }
}

}  // namespace

TEST_CASE("our series give the tabulated means of a body whose surface is held constant") {
  for (const rows::Row& row : rows::read("dry_analytic_const_surface.csv")) {
    const int m = series::shape(row.at("geometry"));
    const double fo = rows::number(row, "Fo");
    CAPTURE(row.at("geometry"));
    CAPTURE(fo);
    const std::vector<double> b = series::roots(m, -1.0, 40);
    const double mean = series::sum(b, fo, [m](double r) { return series::mean_coefficient(m, -1.0, r); });
    CHECK(mean == near_abs(rows::number(row, "MR_mean"), 1e-6));
  }
}

TEST_CASE("the solver follows a surface held constant within a thousandth from Fo 0.05") {
  for (const rows::Row& row : rows::read("dry_analytic_const_surface.csv")) {
    const double fo = rows::number(row, "Fo");
    if (fo < 0.05) {
      continue;
    }
    CAPTURE(row.at("geometry"));
    CAPTURE(fo);
    Diffusion d = body(series::shape(row.at("geometry")), 60);
    march(d, FixedSurface{0.0}, fo, 300.0);
    CHECK(d.mean_content() == near_abs(rows::number(row, "MR_mean"), fo < 0.4 ? 1e-3 : 5e-4));
  }
}

TEST_CASE("roots of the surface conditions are the tabulated ones") {
  for (const rows::Row& row : rows::read("dry_biot_roots.csv")) {
    const std::vector<double> b =
        series::roots(series::shape(row.at("geometry")), rows::number(row, "Bi"), 6);
    CAPTURE(row.at("geometry"));
    CAPTURE(row.at("Bi"));
    for (std::size_t i = 0; i < b.size(); ++i) {
      CHECK(b[i] == near_abs(rows::number(row, "b" + std::to_string(i + 1)), 1e-6));
    }
  }
}

TEST_CASE("our series give the tabulated means, centres and surfaces under evaporation") {
  for (const rows::Row& row : rows::read("dry_analytic_biot.csv")) {
    const int m = series::shape(row.at("geometry"));
    const double bi = rows::number(row, "Bi");
    const double fo = rows::number(row, "Fo");
    CAPTURE(row.at("geometry"));
    CAPTURE(bi);
    CAPTURE(fo);
    const std::vector<double> b = series::roots(m, bi, 24);
    CHECK(series::sum(b, fo, [&](double r) { return series::mean_coefficient(m, bi, r); }) ==
          near_abs(rows::number(row, "MR_mean"), 1e-6));
    CHECK(series::sum(b, fo, [&](double r) { return series::profile_coefficient(m, bi, r, false); }) ==
          near_abs(rows::number(row, "MR_centre"), 1e-6));
    CHECK(series::sum(b, fo, [&](double r) { return series::profile_coefficient(m, bi, r, true); }) ==
          near_abs(rows::number(row, "MR_surface"), 1e-6));
  }
}

TEST_CASE("coefficients of the means add to one at the start") {
  for (int m = 0; m < 3; ++m) {
    for (const double bi : {0.1, 1.0, 10.0}) {
      const std::vector<double> b = series::roots(m, bi, 100);
      CHECK(series::sum(b, 0.0, [&](double r) { return series::mean_coefficient(m, bi, r); }) ==
            near_abs(1.0, 1e-4));
    }
  }
}

TEST_CASE("the solver follows evaporation from slab, cylinder and sphere") {
  for (const rows::Row& row : rows::read("dry_analytic_biot.csv")) {
    const double bi = rows::number(row, "Bi");
    const double fo = rows::number(row, "Fo");
    if (fo < 0.05 || bi < 1.0) {
      continue;
    }
    CAPTURE(row.at("geometry"));
    CAPTURE(bi);
    CAPTURE(fo);
    const int m = series::shape(row.at("geometry"));
    const double mean = rows::number(row, "MR_mean");
    Diffusion coarse = body(m, 40);
    march(coarse, with_biot(bi), fo, 170.0);
    CHECK(coarse.mean_content() == near_abs(mean, bi <= 10.0 ? 5e-4 : 1.3e-3));
    Diffusion fine = body(m, 80);
    march(fine, with_biot(bi), fo, 500.0);
    CHECK(fine.mean_content() == near_abs(mean, 1.3e-4));
    CHECK(fine.surface_content() == near_abs(rows::number(row, "MR_surface"), 5e-4));
    CHECK(fine.core_content() == near_abs(rows::number(row, "MR_centre"), 1e-3));
  }
}

TEST_CASE("the index between cylinder and sphere stands for a cylinder's ends within a hundredth") {
  for (const double fo : {0.02, 0.05, 0.1, 0.2, 0.3}) {
    // Length twice the diameter: half the length is twice the radius.
    const auto mean_of = [](int m, double at) {
      return series::sum(series::roots(m, -1.0, 40), at,
                         [m](double r) { return series::mean_coefficient(m, -1.0, r); });
    };
    const double product = mean_of(1, fo) * mean_of(0, fo / 4.0);
    Diffusion d = body(1.0 + 0.75 * 0.5, 80);
    march(d, FixedSurface{0.0}, fo, 500.0);
    CAPTURE(fo);
    CHECK(d.mean_content() == near_abs(product, 0.010));
  }
}

TEST_CASE("in a sealed body differences die at the rate of its first closed mode") {
  const double modes[] = {series::kPi, 3.831706, 4.493409};
  for (int m = 0; m < 3; ++m) {
    Diffusion d = body(m, 60);
    march(d, with_biot(5.0), 0.1, 500.0);
    const double mean = d.mean_content();
    d.restart();
    march(d, saltrafter::transport::ClosedSurface{}, 0.15, 2000.0);
    const double before = d.core_content() - mean;
    d.restart();
    march(d, saltrafter::transport::ClosedSurface{}, 0.05, 2000.0);
    const double rate = std::log(before / (d.core_content() - mean)) / 0.05;
    CAPTURE(m);
    CHECK(rate == near_rel(modes[m] * modes[m], 0.01));
    CHECK(d.mean_content() == near_abs(mean, 1e-12));
  }
}
