// Fuzz target: whatever bytes a recipe file has, it is refused with one error or taken; what is taken is written,
// read again and equal. Build with clang++ -fsanitize=fuzzer,address,undefined.
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <string_view>

#include "core/share/share.h"

using namespace saltrafter;

// The fuzzing engine gives this function its name.
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string_view text(reinterpret_cast<const char*>(data), size);
  const auto file = share::read_recipe_file(text);
  if (!file.ok() || file.value().read_only) return 0;
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
