#include "web/stores.h"

#include <emscripten/emscripten.h>

#include "web/text_in.h"

namespace saltrafter::web {
namespace {

// Each answers with the length of the text that it has put into the room, or with a sign.
// clang-format off
EM_JS(int, first_keys, (), { return Module.first.keys(); });
EM_JS(int, first_get, (const char* key), { return Module.first.get(UTF8ToString(key)); });
EM_JS(int, first_set, (const char* key, const char* text), {
  return Module.first.set(UTF8ToString(key), UTF8ToString(text));
});
EM_JS(void, second_put, (const char* listed, double ticket), { Module.second.put(UTF8ToString(listed), ticket); });
// clang-format on

book::Stored as_stored(int sign) {
  switch (sign) {
    case 0: return book::Stored::ok;
    case 1: return book::Stored::full;
    default: return book::Stored::denied;
  }
}

}  // namespace

book::FirstStore local_storage() {
  book::FirstStore store;
  store.keys = [] { return split(take_text(first_keys()), kPart); };
  store.get = [](const std::string& key) -> std::optional<std::string> {
    const int bytes = first_get(key.c_str());
    if (bytes < 0) return std::nullopt;
    return take_text(bytes);
  };
  store.set = [](const std::string& key, const std::string& text) {
    return as_stored(first_set(key.c_str(), text.c_str()));
  };
  return store;
}

book::SecondStore database() {
  book::SecondStore store;
  store.put = [](const std::vector<book::SlotText>& slots, std::uint64_t ticket) {
    std::string listed;
    for (const book::SlotText& slot : slots) {
      listed += slot.key;
      listed += kPart;
      listed += slot.text;
      listed += kPart;
    }
    // Tickets count from one: far below where a double would leave whole numbers out.
    second_put(listed.c_str(), static_cast<double>(ticket));
  };
  return store;
}

std::vector<book::SlotText> read_slots(const std::string& listed) {
  const std::vector<std::string> parts = split(listed, kPart);
  std::vector<book::SlotText> slots;
  for (std::size_t i = 0; i + 1 < parts.size(); i += 2) slots.push_back({parts[i], parts[i + 1]});
  return slots;
}

}  // namespace saltrafter::web
