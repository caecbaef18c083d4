#include "core/desk/parts/theme.h"

#include <cmath>

namespace saltrafter::parts {
namespace {

constexpr Colour hex(std::uint32_t rgb) {
  return Colour{static_cast<std::uint8_t>(rgb >> 16 & 0xFF), static_cast<std::uint8_t>(rgb >> 8 & 0xFF),
                static_cast<std::uint8_t>(rgb & 0xFF)};
}

// In the order of Ink: ground, sheet, ink, soft, rule, accent, on_accent, wash, near, not_met, edge.
constexpr Theme kPaper = {
    {hex(0xF5EFE3), hex(0xFCF8F0), hex(0x2B221B), hex(0x66574A), hex(0xD8CBB6), hex(0x1C5A57), hex(0xFCF8F0),
     hex(0xE4E6D8), hex(0x7A5300), hex(0x93300F), hex(0x2B221B)},
    {hex(0xE3A09A), hex(0xC9746B), hex(0xA4504A), hex(0x743530), hex(0x4C231F)}};
constexpr Theme kCellar = {
    {hex(0x181411), hex(0x221D19), hex(0xF0E7D8), hex(0xB7A996), hex(0x3B332B), hex(0x8CCBBB), hex(0x14201D),
     hex(0x243430), hex(0xE5BC63), hex(0xF2A183), hex(0xF0E7D8)},
    {hex(0xEBB3AC), hex(0xCE7F76), hex(0xA95750), hex(0x7E3D37), hex(0x5A2D28)}};

std::uint8_t blend(std::uint8_t a, std::uint8_t b, double share) {
  return static_cast<std::uint8_t>(std::lround(share * a + (1.0 - share) * b));
}

double luminance(Colour c) {
  const auto linear = [](std::uint8_t channel) {
    const double v = channel / 255.0;
    return v <= 0.04045 ? v / 12.92 : std::pow((v + 0.055) / 1.055, 2.4);
  };
  return 0.2126 * linear(c.red) + 0.7152 * linear(c.green) + 0.0722 * linear(c.blue);
}

}  // namespace

Colour Theme::of(const figure::Paint& paint) const {
  if (paint.ramp < 0.0) return mix(of(paint.ink), of(Ink::ground), paint.share);
  const double place = std::fmin(1.0, paint.ramp) * 4.0;
  const std::size_t step = static_cast<std::size_t>(std::fmin(3.0, std::floor(place)));
  return mix(ramp[step + 1], ramp[step], place - static_cast<double>(step));
}

const Theme& paper() { return kPaper; }
const Theme& cellar() { return kCellar; }

Colour mix(Colour a, Colour b, double share) {
  const double s = std::fmin(1.0, std::fmax(0.0, share));
  return Colour{blend(a.red, b.red, s), blend(a.green, b.green, s), blend(a.blue, b.blue, s)};
}

double contrast(Colour a, Colour b) {
  const double la = luminance(a);
  const double lb = luminance(b);
  return (std::fmax(la, lb) + 0.05) / (std::fmin(la, lb) + 0.05);
}

}  // namespace saltrafter::parts
