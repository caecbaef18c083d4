#include "core/figure/picture.h"

#include <cmath>

namespace saltrafter::figure {

Paint of(Ink ink, double share) {
  Paint paint;
  paint.ink = ink;
  paint.share = share;
  return paint;
}

Paint meat(double loss_over_wanted) {
  Paint paint;
  if (!std::isfinite(loss_over_wanted)) loss_over_wanted = 0.0;
  paint.ramp = std::fmin(1.0, std::fmax(0.0, loss_over_wanted));
  return paint;
}

bool Box::overlaps(const Box& other) const {
  return left_mm < other.right_mm && other.left_mm < right_mm && top_mm < other.bottom_mm &&
         other.top_mm < bottom_mm;
}

Box box_of(const Label& label, const Advance& advance) {
  const double run_mm = advance(label.text, label.face) * label.size_mm;
  double left_mm = label.at.x_mm;
  if (label.align == Align::centre) left_mm -= run_mm / 2.0;
  if (label.align == Align::right) left_mm -= run_mm;
  return Box{left_mm, label.at.y_mm - 0.75 * label.size_mm, left_mm + run_mm,
             label.at.y_mm + 0.25 * label.size_mm};
}

}  // namespace saltrafter::figure
