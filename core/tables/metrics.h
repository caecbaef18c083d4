// Widths and heights of a face as the table compiler writes them; read through tables.h alone.
#pragma once

#include <cstdint>
#include <span>

#include "core/tables/tables.h"

namespace saltrafter::tables {

struct Advance {
  std::uint32_t code_point = 0;
  std::uint16_t width = 0;  // thousandths of an em
};

struct FaceMetrics {
  int ascent = 0;
  int descent = 0;
  std::span<const Advance> advances;  // by code point
};

const FaceMetrics& face_metrics(Face face);

}  // namespace saltrafter::tables
