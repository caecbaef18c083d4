// What must hold of the solver whatever moves through whatever.
#include "core/transport/transport.h"
#include "tests/near.h"

#include <limits>

namespace {

using namespace saltrafter;
using namespace saltrafter::transport;

struct FallingMaterial {
  double diffusivity(double x) const { return 1e-10 * std::exp(-2.0 * (1.0 - x / 1.5)); }
};
struct SteepSurface {
  void at_radius(double r_m) { k = 1e-7 * 0.03 / r_m; }
  double flux(double x, double& slope) const {
    slope = k * 0.5 / std::sqrt(std::max(x, 1e-12));
    return k * (std::sqrt(std::max(x, 0.0)) - 0.4);
  }
  double k = 0.0;
};

Diffusion shrinking(double index, double content = 1.5) {
  return Diffusion::make(Shape{index, 0.03, 30, 2.0}, Volumes{9e-4, 1e-3}, content).value();
}

}  // namespace

TEST_CASE("what left through the surface is what is missing inside, in both schemes and all shapes") {
  for (const double index : {0.0, 0.5, 1.0, 1.375, 2.0}) {
    for (const Scheme scheme : {Scheme::backward_euler, Scheme::bdf2}) {
      Diffusion d = shrinking(index);
      SteepSurface surface;
      double dt_s = 1000.0;
      for (int i = 0; i < 300; ++i) {
        if (i == 120) {
          d.restart();
          dt_s = 700.0;
        }
        d.step(dt_s, FallingMaterial{}, surface, scheme);
        dt_s = std::min(dt_s * 1.2, 20000.0);
      }
      CAPTURE(index);
      CHECK(d.shed_kg() > 0.02 * d.solids_kg());
      CHECK(std::abs(d.closure()) < 1e-9);
    }
  }
}

TEST_CASE("a body in balance with its surroundings stays as it is") {
  Diffusion d = shrinking(1.0, 0.16);  // sqrt(0.16) = 0.4, where SteepSurface lets nothing through
  SteepSurface surface;
  for (int i = 0; i < 50; ++i) {
    d.step(21600.0, FallingMaterial{}, surface);
  }
  CHECK(d.mean_content() == near_abs(0.16, 1e-12));
}

TEST_CASE("size follows what is left: volume of solids and of the moving substance add") {
  Diffusion d = shrinking(1.0);
  SteepSurface surface;
  for (int i = 0; i < 100; ++i) {
    d.step(21600.0, FallingMaterial{}, surface);
  }
  const double share = (9e-4 + d.mean_content() * 1e-3) / (9e-4 + 1.5 * 1e-3);
  CHECK(d.outer_m() == near_rel(0.03 * std::sqrt(share), 1e-12));
}

TEST_CASE("contents fall from the core outwards and never below those of the surface while it dries") {
  Diffusion d = shrinking(2.0);
  SteepSurface surface;
  for (int i = 0; i < 60; ++i) {
    d.step(21600.0, FallingMaterial{}, surface);
    for (std::size_t j = 1; j < d.content().size(); ++j) {
      CHECK(d.content()[j] <= d.content()[j - 1] + 1e-12);
    }
    CHECK(d.surface_content() < d.content().back());
  }
}

TEST_CASE("a step of no length, negative length or none at all changes nothing") {
  Diffusion d = shrinking(1.0);
  SteepSurface surface;
  for (const double dt_s : {0.0, -1.0, std::numeric_limits<double>::quiet_NaN()}) {
    d.step(dt_s, FallingMaterial{}, surface);
  }
  CHECK(d.mean_content() == near_abs(1.5, 1e-15));
  CHECK(d.shed_kg() == 0.0);
}

TEST_CASE("a body that cannot be is refused with the field, the bounds and what was found") {
  const auto field_of = [](Shape shape, Volumes volumes, double content) {
    Result<Diffusion> made = Diffusion::make(shape, volumes, content);
    return made.ok() ? std::string() : made.error().field;
  };
  const Volumes good{9e-4, 1e-3};
  CHECK(field_of({1.0, 0.03, 30, 2.0}, good, 1.0).empty());
  CHECK(field_of({2.1, 0.03, 30, 2.0}, good, 1.0) == "index");
  CHECK(field_of({1.0, 0.0, 30, 2.0}, good, 1.0) == "outer_m");
  CHECK(field_of({1.0, 0.03, 3, 2.0}, good, 1.0) == "cells");
  CHECK(field_of({1.0, 0.03, 30, 5.0}, good, 1.0) == "grading");
  CHECK(field_of({1.0, 0.03, 30, 2.0}, {0.0, 1e-3}, 1.0) == "solid_m3_kg");
  CHECK(field_of({1.0, 0.03, 30, 2.0}, {9e-4, -1.0}, 1.0) == "moving_m3_kg");
  CHECK(field_of({1.0, 0.03, 30, 2.0}, good, std::numeric_limits<double>::quiet_NaN()) == "content");
  CHECK(*Diffusion::make({2.1, 0.03, 30, 2.0}, good, 1.0).error().high == 2.0);
}

TEST_CASE("a body may begin uneven: nothing is lost on the way to even, and an even list is the even body") {
  for (const double index : {0.0, 1.0, 2.0}) {
    const Shape shape{index, 0.03, 20, 2.0};
    const Volumes volumes{9e-4, 1e-3};
    std::vector<double> contents(20, 0.0);
    contents.back() = 2.0;
    Diffusion d = Diffusion::make(shape, volumes, contents).value();
    const double mean = d.mean_content();
    CHECK(mean > 0.0);
    CHECK(d.outer_m() == near_rel(0.03, 1e-12));
    CHECK(d.core_content() == near_abs(0.0, 1e-12));
    CHECK(d.surface_content() == 2.0);
    ClosedSurface closed;
    for (int i = 0; i < 400; ++i) {
      d.step(4.0e5, FallingMaterial{}, closed);
    }
    CHECK(d.mean_content() == near_rel(mean, 1e-9));
    CHECK(d.core_content() == near_rel(mean, 1e-3));
    CHECK(std::abs(d.closure()) < 1e-6);

    const std::vector<double> same(20, 1.5);
    Diffusion listed = Diffusion::make(shape, volumes, same).value();
    Diffusion plain = Diffusion::make(shape, volumes, 1.5).value();
    SteepSurface of_listed;
    SteepSurface of_plain;
    for (int i = 0; i < 50; ++i) {
      listed.step(3000.0, FallingMaterial{}, of_listed);
      plain.step(3000.0, FallingMaterial{}, of_plain);
    }
    CHECK(listed.mean_content() == plain.mean_content());
    CHECK(listed.shed_kg() == plain.shed_kg());
  }
  const Shape shape{1.0, 0.03, 20, 2.0};
  const Volumes volumes{9e-4, 1e-3};
  const std::vector<double> few(19, 1.0);
  CHECK(Diffusion::make(shape, volumes, few).error().field == "contents");
  std::vector<double> negative(20, 1.0);
  negative[7] = -1.0;
  CHECK(Diffusion::make(shape, volumes, negative).error().field == "content");
}
