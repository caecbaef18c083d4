// What a reader sees against what a listener is told: every text that was set must stand in a node whose
// rectangle covers it, every node in sight must have been drawn, and every control must be large enough for a
// finger.
#pragma once

#include <doctest/doctest.h>

#include <string>
#include <vector>

#include "core/desk/parts/parts.h"

namespace seen {

using saltrafter::parts::Node;
using saltrafter::parts::Rect;
using saltrafter::parts::Role;
using saltrafter::parts::Written;

// Letters may stand over the edge of their node by this much: sizes are rounded to whole device pixels.
inline constexpr double kOver_px = 2.0;
inline constexpr double kFinger_px = 44.0;
inline constexpr double kAct_px = 48.0;
inline constexpr double kWetAct_px = 64.0;

inline std::string without_spaces(const std::string& text) {
  std::string out;
  for (const char c : text) {
    if (c != ' ') out += c;
  }
  return out;
}

inline bool covers(const Rect& node, const Rect& text) {
  return text.x >= node.x - kOver_px && text.right() <= node.right() + kOver_px &&
         text.y >= node.y - kOver_px && text.bottom() <= node.bottom() + kOver_px;
}

inline bool says(const Node& node, const std::string& text) {
  for (const std::string* said : {&node.name, &node.value, &node.description}) {
    if (said->find(text) != std::string::npos) return true;
  }
  return false;
}

inline Rect in_css(const Rect& layout, double scale) {
  return {layout.x * scale, layout.y * scale, layout.width * scale, layout.height * scale};
}

// A key of the pad shows a sign and is called by a word.
inline bool is_sign(const std::string& text) {
  return text == "." || text == "," || text == "+" || text == "\u2212";
}

// What is drawn of a node: its name; of a field what stands in it; of a picture and a bar no letters at all.
inline std::string drawn_of(const Node& node) {
  switch (node.role) {
    case Role::figure:
    case Role::progressbar:
      return {};
    case Role::textbox:
    case Role::spinbutton:
      return without_spaces(node.value);
    default:
      return without_spaces(node.name);
  }
}

// The texts that stand on the screen and in no node.
inline std::vector<std::string> untold(const std::vector<Node>& nodes, const std::vector<Written>& written,
                                       double scale) {
  std::vector<std::string> out;
  for (const Written& run : written) {
    const Rect rect = in_css(run.rect, scale);
    if (common(rect, in_css(run.clip, scale)).empty()) continue;
    bool told = false;
    for (const Node& node : nodes) {
      told = told || (covers(node.rect, rect) && (says(node, run.text) || is_sign(run.text)));
    }
    if (!told) out.push_back(run.text);
  }
  return out;
}

// The nodes in sight of which nothing is drawn.
inline std::vector<std::string> undrawn(const std::vector<Node>& nodes, const std::vector<Written>& written,
                                        double scale) {
  std::vector<std::string> out;
  for (const Node& node : nodes) {
    const std::string wanted = drawn_of(node);
    if (node.offscreen || wanted.empty()) continue;
    std::string found;
    bool sign = false;
    for (const Written& run : written) {
      if (!covers(node.rect, in_css(run.rect, scale))) continue;
      const std::string text = without_spaces(run.text);
      sign = sign || is_sign(text);
      if (wanted.find(text) != std::string::npos) found += text;
    }
    if (found.find(wanted) == std::string::npos && !sign) out.push_back(node.name);
  }
  return out;
}

inline void check_controls(const std::vector<Node>& nodes, bool wet) {
  for (const Node& node : nodes) {
    CAPTURE(node.name);
    if (node.id != 0) CHECK_FALSE(node.name.empty());
    if (!node.focusable) continue;
    const bool act = node.role == Role::button;
    const double least = act ? (wet ? kWetAct_px : kAct_px) : kFinger_px;
    CHECK(node.rect.height >= least - 0.01);
    CHECK(node.rect.width >= kFinger_px - 0.01);
  }
}

// The headings of a page: one of the first level, first, and none deeper than one more than the one before.
inline void check_headings(const std::vector<Node>& nodes) {
  int before = 0;
  int first_level = 0;
  for (const Node& node : nodes) {
    if (node.role != Role::heading) continue;
    CAPTURE(node.name);
    CHECK(node.level >= 1);
    CHECK(node.level <= before + 1);
    before = node.level;
    first_level += node.level == 1 ? 1 : 0;
  }
  CHECK(first_level == 1);
}

// Nodes come as a page is read: none wholly above the one before, but for the top of a second column. Places,
// the status and the pad stand outside the page.
inline void check_order(const std::vector<Node>& nodes, double scale) {
  const double strip_px = 30.0 * scale;  // a label over a picture belongs to the picture
  const Node* before = nullptr;
  for (const Node& node : nodes) {
    const bool of_pad = node.role == Role::button && !node.focusable;
    if (node.role == Role::place || node.role == Role::status || of_pad) continue;
    if (before != nullptr && node.rect.x < before->rect.right()) {
      CAPTURE(before->name);
      CAPTURE(node.name);
      CHECK(node.rect.bottom() > before->rect.y - strip_px);
    }
    before = &node;
  }
}

inline void check_screen(const std::vector<Node>& nodes, const std::vector<Written>& written, double scale,
                         bool wet) {
  CHECK(written.size() > 5);
  for (const std::string& text : untold(nodes, written, scale)) FAIL_CHECK("written, in no node: ", text);
  for (const std::string& name : undrawn(nodes, written, scale)) FAIL_CHECK("a node nobody sees: ", name);
  check_controls(nodes, wet);
  check_headings(nodes);
  check_order(nodes, scale);
}

}  // namespace seen
