// When a shell has to draw: while something may still change, and not at all after that.
//
// Both shells feed it their events and the time; it reads no clock of its own.
#pragma once

namespace saltrafter::desk {

// Dear ImGui needs some frames to settle after an input: a press and its release are read in different ones.
class RepaintClock {
 public:
  // Something happened at now_s (seconds on the shell's clock): at least four frames, for at least 0.6 s.
  void touch(double now_s);

  // A frame is wanted at at_s although nothing happens: a timer ends, a day begins. The earliest wish wins.
  void wake_at(double at_s);

  // Whether to draw now. Each true counts as a frame drawn.
  bool due(double now_s);

  // Seconds until the next wish of wake_at, at most max_s; 0 while frames are due.
  double idle_s(double now_s, double max_s) const;

 private:
  static constexpr int kFrames = 4;
  static constexpr double kSettle_s = 0.6;
  static constexpr double kNever_s = 1e300;

  int frames_ = kFrames;
  double until_s_ = 0.0;
  double wake_s_ = kNever_s;
};

}  // namespace saltrafter::desk
