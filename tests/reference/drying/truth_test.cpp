// TRUTH.md: how far the model is from every recorded curve, at its defaults, after learning, and with the level of
// its diffusivity set on all curves but the one looked at. The page's figures must be those computed here.
// SALTRAFTER_PRINT=1 prints the table for the page.
#include <cstdio>

#include "tests/reference/drying/curves.h"
#include "tests/reference/drying/page.h"

using namespace saltrafter::drying;
using curves::Curve;
using curves::Point;

namespace {

constexpr double kPointSd = 0.005;  // of a recorded loss, for the fit: half a point

struct At {
  std::vector<double> loss;
  std::vector<std::array<double, 2>> slope;
};

At model(const Curve& curve, std::array<double, 2> ln, const Figures& figures = {}) {
  std::vector<double> marks;
  for (const Point& point : curve.points) {
    marks.push_back(point.day);
  }
  const Body body = curves::body(curve, figures);
  Run run(body, curve.stages, {std::exp(ln[0]), std::exp(ln[1])}, curves::kAir, kForDisplay, marks, Slopes::carried);
  At out;
  while (run.to_next_mark()) {
    out.loss.push_back(run.loss());
    out.slope.push_back(run.loss_slopes());
  }
  return out;
}

At learnt(const Curve& curve) {
  FactorFit fit(1, FactorPrior{});
  for (int round = 0; round < 12; ++round) {
    const At at = model(curve, fit.ln_factors(0));
    std::vector<FitRow> rows;
    for (std::size_t i = 0; i < curve.points.size(); ++i) {
      rows.push_back({0, curve.points[i].loss - at.loss[i], at.slope[i], 1.0 / (kPointSd * kPointSd)});
    }
    fit.update(rows);
  }
  return model(curve, fit.ln_factors(0));
}

// Mean absolute error of a curve, in points of loss.
double error_of(const Curve& curve, const std::vector<double>& losses) {
  double sum = 0.0;
  for (std::size_t i = 0; i < losses.size(); ++i) {
    sum += 100.0 * std::abs(losses[i] - curve.points[i].loss);
  }
  return sum / static_cast<double>(losses.size());
}

// Errors of each curve over a ladder of levels of its diffusivity; with a slope that falls with the fat as mince's does,
// from the leanest muscle's on.
constexpr int kSteps = 25;
double level(int step) { return std::exp(-0.96 + 0.08 * step); }  // 0.38..2.6 times the default

std::vector<double> errors_by_level(const Curve& curve, double fat_slope = 0.0) {
  constexpr double kLeanest = 0.04;
  const saltrafter::recipe::Composition& parts = curve.stuff.composition;
  const double by_fat = -fat_slope * (parts.fat_g / parts.total_g() - kLeanest);
  std::vector<double> out;
  for (int step = 0; step < kSteps; ++step) {
    out.push_back(error_of(curve, model(curve, {std::log(level(step)) + by_fat, 0.0}).loss));
  }
  return out;
}

// The level with the least mean error over all curves of a kind but one.
int best_level(const std::vector<Curve>& all, const std::vector<std::vector<double>>& errors, Kind kind,
               std::size_t left_out) {
  int best = 0;
  double least = 1e9;
  for (int step = 0; step < kSteps; ++step) {
    double sum = 0.0;
    for (std::size_t i = 0; i < all.size(); ++i) {
      if (i != left_out && all[i].stuff.kind == kind) {
        sum += errors[i][static_cast<std::size_t>(step)];
      }
    }
    if (sum < least) {
      least = sum;
      best = step;
    }
  }
  return best;
}

// What the forecast says of the curve's last day before any weighing, with this level for the prior's mean.
LossBand range_at_last(const Curve& curve, double ln_level) {
  ForecastInput in;
  in.composition = curve.stuff.composition;
  in.kind = curve.stuff.kind;
  in.wrap = curve.stuff.wrap;
  in.geometry = curve.geometry;
  in.stages = curve.stages;
  in.saturation = curves::kAir;
  in.prior.mean[0] = ln_level;
  in.now = golden::Days(curve.points.back().day);
  in.pieces = {golden::piece("p", 1000.0, {})};
  return golden::run(in).pieces[0].loss_now;
}

}  // namespace

TEST_CASE("the page of truths says what the model computes") {
  const std::vector<Curve> all = curves::read();
  std::vector<std::vector<double>> errors;
  for (const Curve& curve : all) {
    errors.push_back(errors_by_level(curve));
  }
  struct Sum {
    double by_default = 0.0, learnt = 0.0, left_out = 0.0;
    int curves = 0, held = 0;
  };
  Sum minced, whole;
  for (std::size_t i = 0; i < all.size(); ++i) {
    const Curve& curve = all[i];
    const At plain = model(curve, {0.0, 0.0});
    const At fitted = learnt(curve);
    const Point& last = curve.points.back();
    const int other = best_level(all, errors, curve.stuff.kind, i);
    const LossBand range = range_at_last(curve, std::log(level(other)));
    const std::vector<double> figures{100.0 * last.loss,       100.0 * plain.loss.back(),
                                      100.0 * fitted.loss.back(), error_of(curve, plain.loss),
                                      error_of(curve, fitted.loss), errors[i][static_cast<std::size_t>(other)],
                                      100.0 * range.low, 100.0 * range.high};
    Sum& sum = curve.stuff.kind == Kind::minced ? minced : whole;
    sum.by_default += figures[3];
    sum.learnt += figures[4];
    sum.left_out += figures[5];
    ++sum.curves;
    sum.held += last.loss >= range.low && last.loss <= range.high ? 1 : 0;
    if (page::printing()) {
      std::printf("| %s | %s | %zu | %.0f | %.1f | %.1f | %.1f | %.1f | %.1f | %.1f | %.1f | %.1f | %s | %s |\n",
                  curve.set.c_str(),
                  curve.product.c_str(), curve.points.size(), last.day, figures[0], figures[1], figures[2], figures[3],
                  figures[4], figures[5], figures[6], figures[7], curve.known.c_str(), curve.assumed.c_str());
    } else {
      page::compare(curve.set, 5, figures, 0.0501);
    }
  }
  for (const auto& [name, sum, kind] : {std::tuple{"mean of minced", minced, Kind::minced},
                                        std::tuple{"mean of whole muscle", whole, Kind::whole_muscle}}) {
    const std::vector<double> means{sum.by_default / sum.curves, sum.learnt / sum.curves, sum.left_out / sum.curves,
                                    static_cast<double>(sum.held)};
    if (page::printing()) {
      std::printf("| %s | %d curves | | | | | | %.1f | %.1f | %.1f | %d of them within | | | best level on all %.2f of the "
                  "default |\n", name, sum.curves, means[0], means[1], means[2], sum.held, level(best_level(all, errors, kind, all.size())));
    } else {
      page::compare(name, 8, means, 0.0501);
    }
  }
}

TEST_CASE("no curve of a muscle but a ham's gets nearer by a diffusivity that falls with its fat") {
  std::vector<Curve> all;
  for (Curve& curve : curves::read()) {
    if (curve.stuff.kind == Kind::whole_muscle && curve.geometry.form != Form::ham) {
      all.push_back(std::move(curve));
    }
  }
  for (const auto& [name, slope] : {std::pair{"fat slope 0", 0.0}, std::pair{"fat slope 1", 1.0},
                                    std::pair{"fat slope 1.63", kFatSlope.value}, std::pair{"fat slope 3", 3.0}}) {
    std::vector<std::vector<double>> errors;
    for (const Curve& curve : all) {
      errors.push_back(errors_by_level(curve, slope));
    }
    const std::size_t on_all = static_cast<std::size_t>(best_level(all, errors, Kind::whole_muscle, all.size()));
    std::vector<double> means(2, 0.0);
    for (std::size_t i = 0; i < all.size(); ++i) {
      const std::size_t other = static_cast<std::size_t>(best_level(all, errors, Kind::whole_muscle, i));
      means[0] += errors[i][on_all] / static_cast<double>(all.size());
      means[1] += errors[i][other] / static_cast<double>(all.size());
    }
    if (page::printing()) {
      std::printf("| %s | %.2f | %.2f |\n", name, means[0], means[1]);
    } else {
      page::compare(name, 2, means, 0.0051);
    }
  }
}
