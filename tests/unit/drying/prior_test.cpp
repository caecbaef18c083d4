// What finished batches teach of the next.
#include <limits>

#include "core/drying/drying.h"
#include "tests/near.h"

using namespace saltrafter::drying;

namespace {

FinishedBatch batch(double inner, double outer, double sd = 0.08) {
  FinishedBatch out;
  out.ln_factor = {inner, outer};
  out.sd = {sd, sd};
  return out;
}

}  // namespace

TEST_CASE("without a batch of its kind the first prior stands") {
  const TaughtPrior none = posterior_prior({}, Kind::minced);
  CHECK(none.taught_by == 0);
  CHECK(none.prior.mean == FactorPrior{}.mean);
  CHECK(none.prior.batch_sd == FactorPrior{}.batch_sd);
  FinishedBatch other = batch(0.5, 0.5);
  other.kind = Kind::whole_muscle;
  CHECK(posterior_prior({other}, Kind::minced).taught_by == 0);
  CHECK(posterior_prior({other}, Kind::whole_muscle).taught_by == 1);
}

TEST_CASE("batches that agree draw the prior to them and narrow it, step by step, to no less than 0.15") {
  std::vector<FinishedBatch> batches;
  double mean_before = 0.0;
  double sd_before = FactorPrior{}.batch_sd[0];
  for (int i = 0; i < 30; ++i) {
    batches.push_back(batch(-0.3, 0.25));
    const TaughtPrior taught = posterior_prior(batches, Kind::minced);
    CHECK(taught.taught_by == i + 1);
    CHECK(taught.prior.mean[0] < mean_before);
    CHECK(taught.prior.batch_sd[0] <= sd_before);
    CHECK(taught.prior.batch_sd[0] >= 0.15);
    mean_before = taught.prior.mean[0];
    sd_before = taught.prior.batch_sd[0];
  }
  CHECK(mean_before == near_abs(-0.3, 0.03));
  CHECK(sd_before == near_abs(0.15, 0.005));
  const TaughtPrior three = posterior_prior({batches[0], batches[1], batches[2]}, Kind::minced);
  CHECK(three.prior.mean[0] < -0.25);
  CHECK(three.prior.batch_sd[0] < 0.2);
  CHECK(three.prior.piece_sd == FactorPrior{}.piece_sd);
}

TEST_CASE("a changed fan, cooler, layout or season makes a batch count for less, each widens the prior") {
  const std::vector<FinishedBatch> same(3, batch(-0.3, 0.4));
  const TaughtPrior plain = posterior_prior(same, Kind::minced);
  for (bool FinishedBatch::*change : {&FinishedBatch::other_fan, &FinishedBatch::other_cooler,
                                      &FinishedBatch::other_layout, &FinishedBatch::other_season}) {
    std::vector<FinishedBatch> changed = same;
    for (FinishedBatch& one : changed) {
      one.*change = true;
    }
    const TaughtPrior after = posterior_prior(changed, Kind::minced);
    CHECK(after.taught_by == 3);
    CHECK(after.prior.batch_sd[1] > plain.prior.batch_sd[1]);
    CHECK(after.prior.mean[1] < plain.prior.mean[1]);
    CHECK(after.prior.mean[1] > 0.0);
    CHECK(after.prior.batch_sd[0] >= plain.prior.batch_sd[0]);
  }
  // A fan does nothing to the meat.
  std::vector<FinishedBatch> fan = same;
  for (FinishedBatch& one : fan) {
    one.other_fan = true;
  }
  CHECK(posterior_prior(fan, Kind::minced).prior.mean[0] == plain.prior.mean[0]);
}

TEST_CASE("held, odd and far extrapolated batches are left out, and so are figures that are none") {
  const TaughtPrior plain = posterior_prior({batch(-0.3, 0.25)}, Kind::minced);
  for (bool FinishedBatch::*flag : {&FinishedBatch::held, &FinishedBatch::odd, &FinishedBatch::extrapolated}) {
    FinishedBatch out = batch(1.0, 1.0);
    out.*flag = true;
    const TaughtPrior with = posterior_prior({batch(-0.3, 0.25), out}, Kind::minced);
    CHECK(with.taught_by == 1);
    CHECK(with.prior.mean == plain.prior.mean);
  }
  for (const FinishedBatch& bad : {batch(std::numeric_limits<double>::quiet_NaN(), 0.0), batch(0.0, 0.0, 0.0),
                                   batch(5.0, 0.0), batch(0.0, 0.0, std::numeric_limits<double>::infinity())}) {
    CHECK(posterior_prior({bad}, Kind::minced).taught_by == 0);
  }
}

TEST_CASE("a batch that learnt little teaches little, and what it learnt is not counted with its prior once more") {
  const TaughtPrior sure = posterior_prior({batch(-0.3, 0.0, 0.05)}, Kind::minced);
  const TaughtPrior unsure = posterior_prior({batch(-0.3, 0.0, 0.35)}, Kind::minced);
  CHECK(unsure.prior.batch_sd[0] > sure.prior.batch_sd[0]);
  // With sd 0.35 of a prior of 0.40 its own weighings say -1.28 +- 0.72: the estimate moves by about its own figure.
  CHECK(unsure.prior.mean[0] == near_abs(-0.25, 0.06));
  const TaughtPrior nothing = posterior_prior({batch(0.0, 0.0, 0.3999)}, Kind::minced);
  CHECK(nothing.prior.batch_sd[0] == near_abs(0.40, 0.005));
}
