// CRC-32C (Castagnoli): tells a damaged text from a whole one. Guards against accident, not against forgery.
#pragma once

#include <cstdint>
#include <string_view>

namespace saltrafter::book {

// Polynomial 0x1EDC6F41, reflected, start and end inverted. Check value: "123456789" gives E3069283.
// Source: RFC 3720 appendix B.4 (memory), the check value is the common one.
std::uint32_t crc32c(std::string_view text);

}  // namespace saltrafter::book
