#include "core/base/id.h"

namespace saltrafter {
namespace {

constexpr std::string_view kAlphabet = "abcdefghijklmnopqrstuvwxyz234567";
constexpr std::size_t kLength = 16;

}  // namespace

Id make_id(const Ports& ports) {
  Id id;
  id.text.reserve(kLength);
  for (int half = 0; half < 2; ++half) {
    std::uint64_t bits = ports.random_bits();
    for (std::size_t i = 0; i < kLength / 2; ++i) {
      id.text.push_back(kAlphabet[bits & 31U]);
      bits >>= 5U;
    }
  }
  return id;
}

Result<Id> parse_id(std::string_view text) {
  if (text.size() == kLength && text.find_first_not_of(kAlphabet) == std::string_view::npos) {
    return Id{std::string(text)};
  }
  Error error;
  error.code = ErrorCode::wrong_type;
  error.field = "id";
  error.found = std::string(text.substr(0, 40));
  error.expected = "id";
  return error;
}

}  // namespace saltrafter
