// What the forms share: a page of the open recipe, fields that keep what is typed at once, one of a closed list.
#pragma once

#include <array>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "core/desk/screens.h"

namespace saltrafter::desk {

// The head of a page of the open recipe: the way back to its sheet, or its method, and a heading. Nullptr: it is gone, and so is
// the page.
std::shared_ptr<const recipe::Recipe> open_recipe(Screen& screen, words::Id heading,
                                                  BenchLeaf up = BenchLeaf::sheet);

// The way back to a page of the Shelf. True: it was taken, and this page ends.
bool back_to_shelf(Screen& screen, const words::Text& where, ShelfLeaf leaf);

// A field of a number within a form.
struct NumberEntry {
  parts::Key key;
  words::Text label;
  NumberRule rule;
  std::optional<double> stored;  // what is kept: SI, shares 0..1; it stands in the field in the rule's unit
  int decimals = 2;
  std::vector<std::string> units = {};
  double step = 0.0;
  bool may_stay_empty = false;
  words::Text unit = {};                          // where the rule has none of its own
  words::Text what = {};                          // beneath while nobody types
  std::function<words::Text(double)> wrong = {};  // beyond its range: what is wrong, of the stored value
  double gap = 24.0;                              // above it
};
// What was taken, as stored: the inner value is empty where the field was emptied.
std::optional<std::optional<double>> enter(Screen& screen, const NumberEntry& entry);

// The usual one, which may not be empty.
std::optional<double> number_entry(Screen& screen, parts::Key key, words::Id label, const NumberRule& rule,
                                   std::optional<double> stored, int decimals, std::vector<std::string> units = {},
                                   double step = 0.0);

// The same where nothing may stand in it; `what` says so beneath.
std::optional<std::optional<double>> number_or_nothing(Screen& screen, parts::Key key, words::Id label, words::Id what,
                                                       const NumberRule& rule, std::optional<double> stored,
                                                       int decimals);

// A field of words; what was committed.
std::optional<std::string> words_entry(Screen& screen, parts::Key key, words::Id label, const std::string& shown);

// A value of a closed list in words, with a line on what it means where there is one.
template <class Value>
struct Named {
  Value value;
  words::Id name;
  std::optional<words::Id> what = std::nullopt;
};

template <class Value, std::size_t N>
words::Id name_of(const std::array<Named<Value>, N>& table, Value value) {
  for (const Named<Value>& row : table) {
    if (row.value == value) return row.name;
  }
  return table.back().name;
}

// One of a closed list; the value where another one was chosen.
template <class Value, std::size_t N>
std::optional<Value> choose(Screen& s, parts::Key at, words::Id label, const std::array<Named<Value>, N>& table,
                            Value now) {
  std::vector<parts::Choice> choices;
  int chosen = -1;
  for (std::size_t i = 0; i < N; ++i) {
    choices.push_back({at / static_cast<int>(i), s.say(table[i].name), table[i].what ? s.say(*table[i].what) : words::Text()});
    if (table[i].value == now) chosen = static_cast<int>(i);
  }
  parts::gap(s.page, 24.0);
  const auto pressed = parts::one_of(s.page, s.say(label), choices, chosen);
  if (!pressed || *pressed == chosen) return std::nullopt;
  return table[static_cast<std::size_t>(*pressed)].value;
}

// What is asked of a culture's packet beside its dose: since when it is open, and where it is kept. True: changed.
bool packet_entry(Screen& screen, parts::Key key, recipe::Packet& packet);

inline constexpr std::array<Named<tables::Species>, 8> kSpecies = {{{tables::Species::pork, words::Id::species_pork},
                                                                    {tables::Species::beef, words::Id::species_beef},
                                                                    {tables::Species::veal, words::Id::species_veal},
                                                                    {tables::Species::lamb, words::Id::species_lamb},
                                                                    {tables::Species::goat, words::Id::species_goat},
                                                                    {tables::Species::horse, words::Id::species_horse},
                                                                    {tables::Species::game, words::Id::species_game},
                                                                    {tables::Species::poultry, words::Id::species_poultry}}};

// Texts with commas between; empty ones are left out.
words::Text with_commas(const std::vector<words::Text>& texts);

}  // namespace saltrafter::desk
