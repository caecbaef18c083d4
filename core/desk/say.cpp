#include "core/desk/say.h"

#include <array>
#include <cmath>
#include <utility>

namespace saltrafter::desk {

using Say = words::Id;

words::Text grams(const words::Language& l, Grams mass) {
  // The step of a kitchen scale, and no nought after the mark where it says nothing.
  const bool whole = std::abs(mass.value - std::round(mass.value)) < 0.05;
  return words::measure(l, mass.value, mass.value >= 1000.0 || (whole && mass.value >= 100.0) ? 0 : 1, "g");
}

words::Text per_cent(const words::Language& l, double share, int decimals) {
  return words::measure(l, share * 100.0, decimals, "%");
}

words::Text mg_per_kg(const words::Language& l, Ppm dose) { return words::measure(l, dose.value, 0, "mg/kg"); }

words::Text millimetres(const words::Language& l, Metres length) {
  return words::measure(l, length.value * 1000.0, 0, "mm");
}

words::Text celsius(const words::Language& l, Celsius t) {
  const bool whole = std::abs(t.value - std::round(t.value)) < 0.05;
  return words::measure(l, t.value, whole ? 0 : 1, "°C");
}

words::Text pascal(const words::Language& l, Pascal p) { return words::measure(l, p.value, 0, "Pa"); }

words::Text share_of_meat(const words::Language& l, double share) {
  const double percent = share * 100.0;
  int decimals = percent >= 10.0 ? 0 : percent >= 1.0 ? 1 : percent >= 0.1 ? 2 : 3;
  // Digits that say nothing are left out: 0.30 is 0.3, but 0.025 keeps its three.
  while (decimals > 0) {
    const double shorter = std::pow(10.0, decimals - 1);
    if (std::abs(percent * shorter - std::round(percent * shorter)) > 1e-6) break;
    --decimals;
  }
  return words::measure(l, percent, decimals, "%");
}

std::string typed_number(const words::Language& l, double value, int most_decimals) {
  std::string text = format_number(value, most_decimals, NumberStyle{l.decimal_mark});
  if (most_decimals > 0 && text.find(l.decimal_mark) != std::string::npos) {
    while (text.back() == '0') text.pop_back();
    if (text.back() == l.decimal_mark) text.pop_back();
  }
  return text;
}

words::Text edit_name(const words::Language& l, const std::string& name) {
  static constexpr std::pair<std::string_view, Say> kNames[] = {
      {"edit_first", Say::edit_first},
      {"edit_meat", Say::edit_meat},
      {"edit_line", Say::edit_line},
      {"edit_hang", Say::edit_hang},
      {"edit_weigh", Say::edit_weigh},
      {"edit_wanted", Say::edit_wanted},
      {"edit_keep", Say::edit_keep},
      {"edit_settings", Say::edit_settings},
      {"edit_recipe", Say::edit_recipe},
      {"edit_new_recipe", Say::edit_new_recipe},
      {"edit_copy", Say::edit_copy},
      {"edit_remove_recipe", Say::edit_remove_recipe},
      {"edit_why", Say::edit_why},
      {"edit_begin", Say::edit_begin},
      {"edit_blend", Say::edit_blend},
      {"edit_weighed_in", Say::edit_weighed_in},
      {"edit_stage", Say::edit_stage},
      {"edit_reading", Say::edit_reading},
      {"edit_reading_removed", Say::edit_reading_removed},
      {"edit_lot", Say::edit_lot},
      {"edit_step_done", Say::edit_step_done},
      {"edit_standing", Say::edit_standing},
      {"edit_reason", Say::edit_reason},
      {"edit_new_supply", Say::edit_new_supply},
      {"edit_supply", Say::edit_supply},
      {"edit_remove_supply", Say::edit_remove_supply},
      {"edit_rules", Say::edit_rules},
      {"edit_event", Say::edit_event},
      {"edit_event_removed", Say::edit_event_removed},
      {"edit_piece", Say::edit_piece},
      {"edit_piece_added", Say::edit_piece_added},
      {"edit_piece_removed", Say::edit_piece_removed},
      {"edit_base", Say::edit_base},
      {"edit_take_down", Say::edit_take_down},
      {"edit_hung_again", Say::edit_hung_again},
      {"edit_costs", Say::edit_costs},
      {"edit_split", Say::edit_split},
      {"edit_feel", Say::edit_feel},
      {"edit_air_read", Say::edit_air_read},
      {"edit_air_removed", Say::edit_air_removed},
      {"edit_chamber", Say::edit_chamber},
      {"edit_chamber_removed", Say::edit_chamber_removed},
  };
  for (const auto& [known, say] : kNames) {
    if (known == name) return words::text(l, say);
  }
  return words::text(l, Say::edit_line);
}

words::Text whose(const words::Language& l, const safety::Finding& finding) {
  if (finding.own) return words::text(l, Say::whose_mine);
  if (!finding.jurisdiction) return words::text(l, Say::whose_ours);
  switch (*finding.jurisdiction) {
    case tables::Jurisdiction::us:
      return words::text(l, Say::whose_us);
    case tables::Jurisdiction::eu:
      return words::text(l, Say::whose_eu);
    case tables::Jurisdiction::ca:
      return words::text(l, Say::whose_ca);
    case tables::Jurisdiction::any:
      break;
  }
  return words::text(l, Say::whose_ours);
}

words::Text known(const words::Language& l, tables::Known known) {
  switch (known) {
    case tables::Known::read:
      return words::text(l, Say::known_read);
    case tables::Known::read_copy:
      return words::text(l, Say::known_read_copy);
    case tables::Known::derived:
      return words::text(l, Say::known_derived);
    case tables::Known::practice:
      return words::text(l, Say::known_practice);
    case tables::Known::memory:
      return words::text(l, Say::known_memory);
    case tables::Known::choice:
      return words::text(l, Say::known_choice);
  }
  return {};
}

words::Text material_name(const recipe::Supplies& supplies, const words::Language& l, std::string_view material) {
  if (const recipe::Supply* own = recipe::find_supply(supplies, material); own != nullptr) {
    return words::verbatim(own->name);
  }
  for (const char* kind : {"cut_", "additive_", "culture_", "casing_", "mix_", "organism_"}) {
    if (const std::optional<Say> say = words::find(kind + std::string(material))) return words::text(l, *say);
  }
  return words::verbatim(material);
}

words::Text standing_word(const words::Language& l, safety::Standing standing) {
  constexpr std::array<Say, 4> kWords = {Say::stands_in_work, Say::stands_held, Say::stands_released,
                                         Say::stands_discarded};
  return words::text(l, kWords[static_cast<std::size_t>(standing)]);
}

words::Text species_name(const words::Language& l, tables::Species species) {
  constexpr std::array<Say, 8> kNames = {Say::species_pork, Say::species_beef,  Say::species_veal, Say::species_lamb,
                                         Say::species_goat, Say::species_horse, Say::species_game, Say::species_poultry};
  return words::text(l, kNames[static_cast<std::size_t>(species)]);
}

words::Text allergen_name(const words::Language& l, tables::Allergen allergen) {
  constexpr std::array<Say, 14> kNames = {
      Say::allergen_gluten, Say::allergen_crustaceans, Say::allergen_egg,     Say::allergen_fish,   Say::allergen_peanut,
      Say::allergen_soy,    Say::allergen_milk,        Say::allergen_nuts,    Say::allergen_celery, Say::allergen_mustard,
      Say::allergen_sesame, Say::allergen_sulphites,   Say::allergen_lupin,   Say::allergen_molluscs};
  return words::text(l, kNames[static_cast<std::size_t>(allergen)]);
}

words::Text field_name(const words::Language& l, const std::string& field) {
  const std::optional<Say> say = words::find("field_" + field);
  return say ? words::text(l, *say) : words::verbatim(field);
}

// What an amount is of, as tables have it, in words.
words::Text substance(const words::Language& l, std::string_view of) {
  constexpr std::array<std::pair<std::string_view, Say>, 6> kSubstances = {{{"NaNO2", Say::of_nitrite},
                                                                            {"NO2-", Say::of_nitrite_ion},
                                                                            {"NaNO3", Say::of_nitrate},
                                                                            {"NO3-", Say::of_nitrate_ion},
                                                                            {"NaNO2+NaNO3", Say::of_both},
                                                                            {"NaCl", Say::of_salt}}};
  for (const auto& [id, say] : kSubstances) {
    if (id == of) return words::text(l, say);
  }
  return words::verbatim(std::string(of));
}

words::Text amount(const words::Language& l, const safety::Amount& amount) {
  if (amount.unit == "1" || amount.unit == "aw" || amount.unit == "pH") return words::number(l, amount.value, 2);
  const int decimals = amount.value < 100.0 && std::abs(amount.value - std::round(amount.value)) > 0.05 ? 1 : 0;
  const words::Text figure = words::measure(l, amount.value, decimals, amount.unit);
  if (amount.of.empty()) return figure;
  return words::join({figure, words::verbatim("\u00a0"), substance(l, amount.of)});
}

}  // namespace saltrafter::desk
