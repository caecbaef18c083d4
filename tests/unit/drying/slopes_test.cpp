// How the loss answers to the two factors: carried along one run, against runs with the factors moved.
#include <random>

#include "tests/near.h"
#include "tests/reference/drying/bodies.h"

using namespace saltrafter;
using namespace saltrafter::drying;
using golden::kMagnus;

namespace {

struct Course {
  std::vector<double> loss;
  std::vector<std::array<double, 2>> slope;
};

Course course(const Body& body, const std::vector<Stage>& stages, std::array<double, 2> ln,
              const std::vector<double>& marks, Resolution resolution, Slopes slopes = Slopes::left_out) {
  Run run(body, stages, {std::exp(ln[0]), std::exp(ln[1])}, kMagnus, resolution, marks, slopes);
  Course out;
  while (run.to_next_mark()) {
    out.loss.push_back(run.loss());
    out.slope.push_back(run.loss_slopes());
  }
  return out;
}

}  // namespace

TEST_CASE("slopes of the loss are those of central differences, within 1 %, in any of 30 random settings") {
  std::mt19937_64 random(23);
  const auto between = [&random](double low, double high) {
    return low + (high - low) * static_cast<double>(random() >> 11) * 0x1p-53;
  };
  const std::vector<double> marks{0.5, 2, 3, 7, 14, 21, 35, 60};
  const std::array<Form, 5> forms{Form::cylinder, Form::slab_skin_closed, Form::ham, Form::slab_open, Form::rolled};
  for (int i = 0; i < 30; ++i) {
    const recipe::Composition mix{between(45, 75), between(12, 24), between(2, 35), between(1, 5), between(0, 3)};
    const auto form = forms[static_cast<std::size_t>(i) % forms.size()];
    Geometry geometry{form, Metres(between(0.025, 0.11)), {}, {}};
    if (i % 4 == 1) {
      geometry.length = Metres(0.25);
    }
    const Body body = make_body({mix, {}, i % 2 ? Kind::minced : Kind::whole_muscle, i % 3 ? Wrap::cased : Wrap::naked},
                                geometry)
                          .value();
    std::vector<Stage> stages{golden::stage(between(0.3, 4), between(5, 24), between(0.6, 0.9), between(0, 0.5)),
                              golden::stage(between(8, 20), between(5, 20), between(0.5, 0.85), between(0, 0.5)),
                              golden::stage(4, 4, 0.7, 0), golden::stage(1, 13, 0.76, 0.1)};
    stages[2].sealed = i % 2 == 0;
    stages[3].wrap = Wrap::waxed;
    const std::array<double, 2> ln{between(-0.7, 0.7), between(-0.7, 0.7)};
    const Resolution resolution = i % 3 == 0 ? kForDisplay : kForFit;
    const Course here = course(body, stages, ln, marks, resolution, Slopes::carried);
    constexpr double kNudge = 1e-3;
    for (std::size_t k = 0; k < 2; ++k) {
      std::array<double, 2> up = ln;
      std::array<double, 2> down = ln;
      up[k] += kNudge;
      down[k] -= kNudge;
      const Course above = course(body, stages, up, marks, resolution);
      const Course below = course(body, stages, down, marks, resolution);
      for (std::size_t m = 0; m < marks.size(); ++m) {
        const double difference = (above.loss[m] - below.loss[m]) / (2.0 * kNudge);
        CAPTURE(i);
        CAPTURE(k);
        CAPTURE(marks[m]);
        // Relative to the stronger of the two answers of that day.
        const double scale = std::max(std::abs(here.slope[m][0]), std::abs(here.slope[m][1]));
        CHECK(here.slope[m][k] == near_abs(difference, 0.01 * scale));
      }
    }
  }
}

TEST_CASE("carrying slopes changes no bit of the run") {
  const std::vector<double> marks{1, 7, 30};
  const Course with = course(golden::s60(), golden::gentle(), {0.1, -0.2}, marks, kForFit, Slopes::carried);
  const Course without = course(golden::s60(), golden::gentle(), {0.1, -0.2}, marks, kForFit);
  CHECK(with.loss == without.loss);
  CHECK(without.slope[2] == std::array<double, 2>{0.0, 0.0});
  CHECK(with.slope[2][0] > 0.0);
}
