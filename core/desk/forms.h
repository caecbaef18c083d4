// What the forms share: a page of the open recipe, fields that keep what is typed at once, one of a closed list.
#pragma once

#include <array>
#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "core/desk/screens.h"

namespace saltrafter::desk {

// The head of a page of the open recipe: the way back to its sheet and a heading. Nullptr: it is gone, and so is
// the page.
std::shared_ptr<const recipe::Recipe> open_recipe(Screen& screen, words::Id heading);

// A field of a number within a form: what is kept stands in it in the rule's unit; what was taken comes back. Both as
// stored (SI, shares 0..1).
std::optional<double> number_entry(Screen& screen, parts::Key key, words::Id label, const NumberRule& rule,
                                   std::optional<double> stored, int decimals, std::vector<std::string> units = {},
                                   double step = 0.0);

// The same where nothing may stand in it; `what` says so beneath. Taken: the inner value, empty where it was emptied.
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

// Texts with commas between; empty ones are left out.
words::Text with_commas(const std::vector<words::Text>& texts);

}  // namespace saltrafter::desk
