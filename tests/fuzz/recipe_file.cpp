// Fuzz target: whatever bytes a recipe file has, it is refused with one error or taken; what is taken has each
// key once, is written, read again and equal.
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <set>
#include <string>
#include <string_view>

#include "core/share/share.h"

using namespace saltrafter;

namespace {

bool each_key_once(const book::Node& node) {
  if (std::set<std::string>(node.keys.begin(), node.keys.end()).size() != node.keys.size()) return false;
  for (const book::Node& item : node.items) {
    if (!each_key_once(item)) return false;
  }
  return true;
}

}  // namespace

// The fuzzing engine gives this function its name.
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string_view text(reinterpret_cast<const char*>(data), size);
  const auto file = share::read_recipe_file(text);
  if (!file.ok() || file.value().read_only) return 0;
  const auto kept = book::read_tree(file.value().data, book::kRecordLimits);
  if (!kept.ok() || !each_key_once(kept.value())) std::abort();
  const auto written = share::write_recipe_file(file.value().recipe, file.value().data);
  if (!written.ok()) {
    if (written.error().code != ErrorCode::refused) std::abort();
    return 0;
  }
  const auto again = share::read_recipe_file(written.value());
  if (!again.ok() || !(again.value().recipe == file.value().recipe) || again.value().data != file.value().data) {
    std::abort();
  }
  return 0;
}
