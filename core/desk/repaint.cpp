#include "core/desk/repaint.h"

#include <algorithm>

namespace saltrafter::desk {

void RepaintClock::touch(double now_s) {
  frames_ = kFrames;
  until_s_ = std::max(until_s_, now_s + kSettle_s);
}

void RepaintClock::wake_at(double at_s) { wake_s_ = std::min(wake_s_, at_s); }

bool RepaintClock::due(double now_s) {
  if (now_s >= wake_s_) {
    wake_s_ = kNever_s;
    frames_ = kFrames;
  }
  if (frames_ > 0) {
    --frames_;
    return true;
  }
  return now_s < until_s_;
}

double RepaintClock::idle_s(double now_s, double max_s) const {
  if (frames_ > 0 || now_s < until_s_) return 0.0;
  return std::clamp(wake_s_ - now_s, 0.0, max_s);
}

}  // namespace saltrafter::desk
