// Fuzz target: a slot that is taken is written byte for byte as it was read, and any mixture of slots resolves.
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <string>

#include "core/book/book.h"

using namespace saltrafter;

// The fuzzing engine gives this function its name.
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const std::string text(reinterpret_cast<const char*>(data), size);
  const auto slot = book::read_slot(text);
  if (slot.ok() && book::write_slot(slot.value()) != text) std::abort();
  // The same bytes as a payload of a slot that is whole.
  book::Slot whole;
  constexpr const char* kKinds[] = {"recipe", "batch", "ingredient", "settings"};
  whole.kind = kKinds[size % 4];
  whole.id.text = "aaaaaaaaaaaaaaaa";
  whole.edit.text = "bbbbbbbbbbbbbbbb";
  whole.edit_count = 1 + static_cast<int>(size % 3);
  whole.saved_at = "2026-11-25T00:00:00Z";
  whole.payload = text;
  const auto again = book::read_slot(book::write_slot(whole));
  if (!again.ok() || again.value().payload != text) std::abort();
  (void)book::record_of(whole);
  (void)book::resolve({{book::slot_key(whole.id, 0), book::write_slot(whole)}, {book::slot_key(whole.id, 1), text}});
  return 0;
}
