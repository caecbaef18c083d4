// How often the ranges meant to hold 8 times in 10 hold: on pieces that follow the model, and on pieces that do not.
#include <algorithm>
#include <cstdio>

#include "tests/reference/drying/page.h"
#include "tests/reference/drying/simulated.h"

namespace {

struct Coverage {
  double held = 0.0, too_soon = 0.0, too_late = 0.0;  // shares of pieces: in the range, before it, after it
  double half_width = 0.0;                            // median, of the likely day
};

Coverage coverage(const std::vector<simulated::Piece>& pieces, std::size_t weighings) {
  Coverage out;
  std::vector<double> widths;
  const double one = 1.0 / static_cast<double>(pieces.size());
  for (const simulated::Piece& piece : pieces) {
    const auto outlook = simulated::outlook(piece, weighings);
    const auto& window = outlook.expected;
    if (window.earliest && piece.ready_day < window.earliest->value) {
      out.too_soon += one;
    } else if (window.latest && piece.ready_day > window.latest->value) {
      out.too_late += one;
    } else if (window.earliest || piece.ready_day > 1e8) {
      out.held += one;
    } else {
      out.too_soon += one;  // said to come at no time, and it came
    }
    // A window without an end counts as wide as can be.
    widths.push_back(window.latest ? 0.5 * (window.latest->value - window.earliest->value) / window.likely->value : 9.0);
  }
  std::sort(widths.begin(), widths.end());
  out.half_width = widths[widths.size() / 2];
  return out;
}

std::vector<simulated::Piece> many(simulated::Piece (*one)(std::uint64_t), int count) {
  std::vector<simulated::Piece> out;
  for (int i = 0; i < count; ++i) {
    out.push_back(one(1000 + static_cast<std::uint64_t>(i)));
  }
  return out;
}

// Compares with the page, or prints its row.
Coverage shown(const char* kind, const std::vector<simulated::Piece>& pieces, std::size_t weighings) {
  const Coverage c = coverage(pieces, weighings);
  const std::string key = std::string(kind) + ", " + std::to_string(weighings) + " weighings";
  if (page::printing()) {
    std::printf("| %s | %zu | %.1f | %.1f | %.1f | %.1f |\n", key.c_str(), pieces.size(), 100.0 * c.held,
                100.0 * c.too_soon, 100.0 * c.too_late, 100.0 * c.half_width);
  } else {
    page::compare(key, 3, {100.0 * c.held, 100.0 * c.too_soon, 100.0 * c.too_late, 100.0 * c.half_width}, 0.5);
  }
  return c;
}

}  // namespace

TEST_CASE("of 500 pieces that differ from the model in form, 75 to 88 % come within the range, which stays of use") {
  const std::vector<simulated::Piece> pieces = many(simulated::strange, 500);
  double widest = 0.35;
  for (const std::size_t weighings : {3U, 5U, 7U}) {
    const Coverage c = shown("strange", pieces, weighings);
    CHECK(c.held >= 0.75);
    CHECK(c.held <= 0.88);
    CHECK(c.half_width < widest);
    widest *= 0.5;
  }
  shown("strange", pieces, 0);
}

TEST_CASE("of pieces that follow the model at least 8 in 10 come within the range") {
  const std::vector<simulated::Piece> pieces = many(simulated::plain, 200);
  for (const std::size_t weighings : {0U, 3U, 5U, 7U}) {
    CHECK(shown("plain", pieces, weighings).held >= 0.80);
  }
}
