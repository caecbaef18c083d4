// Ports that repeat themselves, sample values and stores that fail on demand, for the tests of the book.
#pragma once

#include <algorithm>
#include <map>
#include <random>
#include <string>
#include <vector>

#include "core/book/book.h"

namespace saltrafter::book::sample {

// A clock that stands still unless moved, and chance from a seed.
struct World {
  explicit World(std::uint64_t seed = 1) : chance(seed) {}

  Ports ports() {
    Ports out;
    out.now_utc_ms = [this] { return now_ms; };
    out.zone_offset_min = [](std::int64_t) { return 60; };
    out.random_bits = [this] { return chance(); };
    return out;
  }

  std::int64_t now_ms = 1790000000000;
  std::mt19937_64 chance;
};

inline recipe::Recipe recipe(World& world, const std::string& name = "Fennel salami") {
  recipe::Recipe out;
  out.name = name;
  out.note = "Gr\xC3\xB6\xC3\x9F""er \xF0\x9F\x90\x96 \"cold\"\n2 days";
  out.mix = {"Curing salt", 0.0625, 0.0};
  const Ports ports = world.ports();
  out.lines.push_back({make_id(ports), recipe::LineKind::meat, "Shoulder", "pork_shoulder", recipe::Basis::percent_of_meat, 0.7});
  out.lines.push_back({make_id(ports), recipe::LineKind::meat, "Back fat", "pork_back_fat", recipe::Basis::percent_of_meat, 0.3});
  out.lines.push_back({make_id(ports), recipe::LineKind::salt, "Salt", "salt", recipe::Basis::g_per_kg, 27.5});
  out.lines.push_back({make_id(ports), recipe::LineKind::cure, "Cure", "", recipe::Basis::g_per_kg, 120});
  out.lines.push_back({make_id(ports), recipe::LineKind::additive, "Pepper", "", recipe::Basis::g_per_kg, 2.1});
  out.lines.push_back({make_id(ports), recipe::LineKind::additive, "Wine", "", recipe::Basis::fixed_g, 33.3});
  return out;
}

inline plan::Batch batch(World& world, const Id& made_from, const recipe::Recipe& recipe) {
  plan::Batch out;
  out.name = "Autumn";
  out.recipe = made_from;
  out.made_from = recipe;
  out.meat = Grams(4200);
  out.hung_on = parse_iso_date("2026-11-01").value();
  out.begun_on = out.hung_on;
  const Ports ports = world.ports();
  for (int i = 1; i <= 3; ++i) out.pieces.push_back({make_id(ports), i, Grams(1400.1 + i), Metres(0.055)});
  out.weighings.push_back({make_id(ports), out.pieces[0].id, parse_iso_date("2026-11-08").value(), Grams(1290.4)});
  return out;
}

// The first store: keeps everything until told to lose or refuse.
struct Drawer {
  std::map<std::string, std::string> texts;
  Stored answer = Stored::ok;
  long writes_left = -1;     // the write after these dies half-way, and the program with it; -1: never
  std::size_t tear = 0;      // how much of the dying write arrives
  bool dead = false;
  std::vector<std::map<std::string, std::string>> past;  // the state before each write, when `remember`
  bool remember = false;

  FirstStore store() {
    FirstStore out;
    out.keys = [this] {
      std::vector<std::string> keys;
      for (const auto& entry : texts) keys.push_back(entry.first);
      return keys;
    };
    out.get = [this](const std::string& key) -> std::optional<std::string> {
      const auto found = texts.find(key);
      if (found == texts.end()) return std::nullopt;
      return found->second;
    };
    out.set = [this](const std::string& key, const std::string& text) {
      if (dead) return Stored::denied;
      if (answer != Stored::ok) return answer;
      if (remember) past.push_back(texts);
      if (writes_left == 0) {
        dead = true;
        texts[key] = text.substr(0, std::min(tear, text.size()));
        return Stored::denied;
      }
      if (writes_left > 0) --writes_left;
      texts[key] = text;
      return Stored::ok;
    };
    return out;
  }
};

// The second store: transactions are done when told.
struct Vault {
  std::map<std::string, std::string> texts;
  std::vector<std::pair<std::uint64_t, std::vector<SlotText>>> open;

  SecondStore store() {
    SecondStore out;
    out.put = [this](const std::vector<SlotText>& slots, std::uint64_t ticket) { open.push_back({ticket, slots}); };
    return out;
  }
  std::vector<SlotText> slots() const {
    std::vector<SlotText> out;
    for (const auto& entry : texts) out.push_back({entry.first, entry.second});
    return out;
  }
  // The oldest open transaction happens, and the program hears of it.
  void complete(Keeper& keeper) {
    const auto first = open.front();
    open.erase(open.begin());
    for (const SlotText& slot : first.second) texts[slot.key] = slot.text;
    keeper.put_done(first.first, true);
  }
  void complete_all(Keeper& keeper) {
    while (!open.empty()) complete(keeper);
  }
};

inline Id add_recipe(Book& book, const recipe::Recipe& recipe) {
  EditBuilder edit(book, "edit.new_recipe");
  const Id id = edit.create(recipe);
  (void)book.apply(edit.done());
  return id;
}

inline bool rename(Book& book, const Id& id, const std::string& name) {
  recipe::Recipe recipe = *book.recipe(id);
  recipe.name = name;
  return book.apply(EditBuilder(book, "edit.rename").put(id, recipe).done()).ok();
}

// Everything a person sees of a book, as one text.
inline std::string seen(const Book& book) {
  std::string out;
  for (const RecordPtr& record : book.records()) {
    if (!record->deleted) out += record->id.text + " " + record->data + "\n";
  }
  return out;
}

}  // namespace saltrafter::book::sample
