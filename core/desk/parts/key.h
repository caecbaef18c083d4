// The identity of a control: a path of names given by the screen. The same on each frame and in each
// language.
#pragma once

#include <cstdint>
#include <string_view>

#include "core/base/base.h"

namespace saltrafter::parts {

class Key {
 public:
  constexpr Key() = default;
  constexpr explicit Key(std::string_view name) : hash_(mixed(kHashStart, name)) {}

  constexpr Key operator/(std::string_view name) const {
    Key key;
    key.hash_ = mixed(hash_, name);
    return key;
  }
  Key operator/(const Id& id) const { return *this / std::string_view(id.text); }
  constexpr Key operator/(int n) const {
    Key key;
    key.hash_ = (hash_ ^ (static_cast<std::uint64_t>(n) + 0x9E37)) * kPrime;
    return key;
  }

  constexpr std::uint64_t value() const { return hash_; }

 private:
  static constexpr std::uint64_t kPrime = 1099511628211ULL;
  static constexpr std::uint64_t mixed(std::uint64_t hash, std::string_view name) {
    hash = (hash ^ 0x2F) * kPrime;  // a border, so that "ab"/"c" differs from "a"/"bc"
    for (const char c : name) hash = (hash ^ static_cast<unsigned char>(c)) * kPrime;
    return hash == 0 ? 1 : hash;
  }

  std::uint64_t hash_ = kHashStart;
};

}  // namespace saltrafter::parts
