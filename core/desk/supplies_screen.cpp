// The Shelf: the maker's own rows, one of them as a form, and the row of the tables that it stands in for.
#include <algorithm>
#include <array>
#include <cmath>

#include "core/desk/forms.h"
#include "core/desk/table_rows.h"

namespace saltrafter::desk {
namespace {

using Say = words::Id;
using recipe::Composition;
using recipe::Supply;
using recipe::SupplyKind;

constexpr std::array<Named<SupplyKind>, 5> kKinds = {{{SupplyKind::cut, Say::kind_meat},
                                                      {SupplyKind::additive, Say::kind_ingredient},
                                                      {SupplyKind::curing_mix, Say::mix_of_recipe},
                                                      {SupplyKind::culture, Say::kind_culture},
                                                      {SupplyKind::casing, Say::casing}}};

constexpr std::array<Named<bool>, 2> kNitriteSalts = {{{false, Say::salt_NaNO2}, {true, Say::salt_KNO2}}};
constexpr std::array<Named<bool>, 2> kNitrateSalts = {{{false, Say::salt_NaNO3}, {true, Say::salt_KNO3}}};

// The parts that are typed, in the order of a label.
constexpr std::array<std::pair<double Composition::*, Say>, 5> kParts = {
    {{&Composition::water_g, Say::cell_water},
     {&Composition::protein_g, Say::cell_protein},
     {&Composition::fat_g, Say::cell_fat},
     {&Composition::salt_g, Say::cell_salt_alone},
     {&Composition::sugar_g, Say::cell_sugar}}};

words::Text replaced_name(const Screen& s, const Supply& supply) {
  for (const ReferenceRow& row : reference_table(supply.kind).rows(s.l)) {
    if (row.key == supply.replaces) return row.name;
  }
  return words::verbatim(supply.replaces);
}

words::Text parts_words(const Screen& s, const Composition& parts) {
  return s.say(Say::pick_cut_fact, {words::arg("water", per_cent(s.l, parts.water_g, 0)),
                                    words::arg("protein", per_cent(s.l, parts.protein_g, 0)),
                                    words::arg("fat", per_cent(s.l, parts.fat_g, 0))});
}

// A number that may stay empty.
NumberEntry number(const Screen& s, parts::Key at, Say label, const NumberRule& rule,
                   std::optional<double> stored, int decimals = 2) {
  NumberEntry entry{at, s.say(label), rule, stored, decimals};
  entry.may_stay_empty = true;
  return entry;
}

bool draw_name(Screen& s, parts::Key here, Supply& supply) {
  parts::Field field;
  field.key = here / "name";
  field.label = s.say(Say::supply_name);
  field.value = supply.name;
  field.may_stay_empty = false;
  const words::Text missing = s.say(Say::supply_name_missing);
  const words::Text long_name = s.say(Say::supply_name_long);
  field.judge = [missing, long_name](const std::string& typed) {
    parts::Judged judged;
    if (typed.find_first_not_of(' ') == std::string::npos) judged.error = missing;
    if (typed.size() > book::kLongestName) judged.error = long_name;
    return judged;
  };
  parts::gap(s.page, 24.0);
  const parts::Typed typed = parts::text_field(s.page, field);
  if (!typed.committed) return false;
  supply.name = *typed.committed;
  return true;
}

void draw_instead_of(Screen& s, parts::Key here, const Supply& supply) {
  parts::gap(s.page, 36.0);
  parts::Row row;
  row.key = here / "replaces";
  row.name = s.say(Say::supply_replaces);
  row.fact = supply.replaces.empty()
                 ? s.say(Say::supply_replaces_nothing)
                 : s.say(Say::supply_replaces_what, {words::arg("name", replaced_name(s, supply))});
  parts::list_rule(s.page);
  if (parts::row(s.page, row)) s.session.open_shelf(ShelfLeaf::replaces);
}

// What 1 g of the row in whose place it stands is made of.
std::optional<Composition> replaced_parts(const Supply& supply) {
  return supply.kind == SupplyKind::cut ? recipe::cut_parts(supply.replaces)
                                        : recipe::additive_parts(supply.replaces);
}

void set_rest(Composition& parts) {
  parts.rest_g = std::max(0.0, 1.0 - parts.water_g - parts.protein_g - parts.fat_g - parts.salt_g);
}

bool draw_parts(Screen& s, parts::Key here, Supply& supply) {
  parts::gap(s.page, 36.0);
  parts::second_heading(s.page, s.say(Say::supply_parts));
  if (!supply.parts) {
    const std::optional<Composition> of_table = replaced_parts(supply);
    parts::paragraph(
        s.page, of_table ? s.say(Say::supply_parts_table, {words::arg("name", replaced_name(s, supply)),
                                                           words::arg("parts", parts_words(s, *of_table))})
                         : s.say(Say::supply_parts_none));
    parts::gap(s.page, 16.0);
    if (!parts::act(s.page,
                    {here / "own_parts", s.say(Say::supply_parts_type), parts::ActKind::other, true, {}})) {
      return false;
    }
    Composition begun = of_table.value_or(Composition{});
    // What is typed adds to 100 %: the sugar of a table may weigh more once it is split by water.
    begun.sugar_g = std::min(begun.sugar_g, begun.rest_g);
    set_rest(begun);
    supply.parts = begun;
    return true;
  }
  bool changed = false;
  Composition& parts = *supply.parts;
  double all = 0.0;
  for (const auto& [part, say] : kParts) all += parts.*part;
  for (std::size_t i = 0; i < kParts.size(); ++i) {
    double& part = parts.*(kParts[i].first);
    const double others = all - part;
    const words::Language l = s.l;
    const double kept = part;
    NumberEntry e = number(s, here / "part" / static_cast<int>(i), kParts[i].second,
                           {"share", NumberKind::share, "%", 0.0, 1.0}, part);
    e.wrong = [l, others, kept](double typed) {
      if (others + typed <= 1.0 + 1e-9) return words::Text();
      return words::text(l, Say::supply_parts_over,
                         {words::arg("sum", exact_figure(l, (others + typed) * 100.0, 2, "%")),
                          words::arg("kept", exact_figure(l, kept * 100.0, 2, "%"))});
    };
    if (const auto taken = enter(s, e)) {
      part = taken->value_or(0.0);
      set_rest(parts);
      changed = true;
    }
  }
  parts::gap(s.page, 16.0);
  parts::paragraph(
      s.page, s.say(Say::supply_parts_sum, {words::arg("sum", per_cent(s.l, all, 1)),
                                            words::arg("rest", per_cent(s.l, std::max(0.0, 1.0 - all), 1))}));
  parts::gap(s.page, 8.0);
  if (parts::act(s.page,
                 {here / "forget_parts", s.say(Say::supply_parts_forget), parts::ActKind::bare, true, {}})) {
    supply.parts.reset();
    changed = true;
  }
  return changed;
}

bool draw_allergens(Screen& s, parts::Key here, Supply& supply) {
  constexpr int kAllergens = 14;
  std::vector<parts::Chip> chips;
  for (int i = 0; i < kAllergens; ++i) {
    const auto allergen = static_cast<tables::Allergen>(i);
    chips.push_back({here / "allergen" / i, allergen_name(s.l, allergen), supply.allergens.has(allergen)});
  }
  parts::gap(s.page, 36.0);
  const auto turned = parts::chips(s.page, s.say(Say::supply_allergens), chips);
  if (!turned) return false;
  supply.allergens.bits =
      static_cast<std::uint16_t>(supply.allergens.bits ^ (1U << static_cast<unsigned>(*turned)));
  return true;
}

bool draw_nitrate(Screen& s, parts::Key here, Supply& supply) {
  bool changed = false;
  parts::gap(s.page, 24.0);
  if (parts::tick_box(s.page, here / "brings", s.say(Say::supply_brings_nitrate), supply.brings_nitrate)) {
    supply.brings_nitrate = !supply.brings_nitrate;
    changed = true;
  }
  if (!supply.brings_nitrate) return changed;
  NumberEntry e = number(s, here / "nitrate_share", Say::supply_nitrate_share,
                         {"nitrate", NumberKind::share, "%", 0.0, 1.0}, supply.nitrate_share, 3);
  e.what = s.say(Say::supply_nitrate_share_what);
  if (const auto taken = enter(s, e)) {
    supply.nitrate_share = *taken;
    changed = true;
  }
  return changed;
}

bool draw_mix(Screen& s, parts::Key here, Supply& supply) {
  bool changed = false;
  recipe::CuringMix& mix = supply.mix;
  parts::gap(s.page, 36.0);
  parts::second_heading(s.page, s.say(Say::supply_as_printed));
  parts::paragraph(s.page, s.say(Say::supply_mix_read));
  parts::gap(s.page, 8.0);
  parts::paragraph(s.page, s.say(Say::supply_mix_poison));
  const words::Language l = s.l;
  const auto strength = [&](std::string_view name, Say label, double& share, double other) {
    NumberEntry e =
        number(s, here / name, label, {std::string(name), NumberKind::share, "%", 0.0, 1.0}, std::nullopt, 3);
    if (share > 0.0) e.stored = share;
    if (label == Say::supply_nitrate) e.what = s.say(Say::supply_nitrate_none);
    e.wrong = [l, other](double typed) {
      if (other + typed <= 1.0 + 1e-9) return words::Text();
      return words::text(l, Say::supply_mix_over,
                         {words::arg("sum", exact_figure(l, (other + typed) * 100.0, 3, "%"))});
    };
    if (const auto taken = enter(s, e)) {
      share = taken->value_or(0.0);
      changed = true;
    }
  };
  strength("nitrite", Say::supply_nitrite, mix.nitrite, mix.nitrate);
  if (mix.nitrite > 0.0) {
    if (const auto salt =
            choose(s, here / "nitrite_salt", Say::supply_nitrite_as, kNitriteSalts, mix.potassium_nitrite)) {
      mix.potassium_nitrite = *salt;
      changed = true;
    }
  }
  strength("nitrate", Say::supply_nitrate, mix.nitrate, mix.nitrite);
  if (mix.nitrate > 0.0) {
    if (const auto salt =
            choose(s, here / "nitrate_salt", Say::supply_nitrate_as, kNitrateSalts, mix.potassium_nitrate)) {
      mix.potassium_nitrate = *salt;
      changed = true;
    }
  }
  parts::gap(s.page, 16.0);
  const double salt = std::max(0.0, 1.0 - mix.nitrite - mix.nitrate);
  parts::paragraph(s.page, mix.nitrite + mix.nitrate > 0.0
                               ? s.say(Say::supply_mix_rest, {words::arg("salt", per_cent(s.l, salt, 2))})
                               : s.say(Say::supply_mix_empty));
  int bound = 0;
  for (const Id& id : s.session.book.ids(book::Kind::recipe)) {
    const auto recipe = s.session.book.recipe(id);
    bound += recipe && recipe->mix.supply == supply.key ? 1 : 0;
  }
  if (bound > 0) {
    parts::gap(s.page, 8.0);
    parts::paragraph(s.page, s.say(Say::supply_mix_bound, {words::count("n", bound)}));
  }
  return changed;
}

bool draw_packet(Screen& s, parts::Key here, Supply& supply) {
  SupplyDraft& draft = s.session.drafts.supplies[Id{supply.key}];
  std::optional<Grams> of_packet = supply.packet ? supply.packet->holds : draft.holds;
  std::optional<Grams> of_meat = supply.packet ? supply.packet->for_meat : draft.for_meat;
  bool changed = false;
  parts::gap(s.page, 36.0);
  parts::second_heading(s.page, s.say(Say::supply_as_printed));
  if (!supply.packet) parts::paragraph(s.page, s.say(Say::supply_packet_what));
  if (const auto holds = number_entry(
          s, here / "holds", Say::packet_holds, {"packet", NumberKind::mass, "g", 0.1, 1e5},
          of_packet ? std::optional<double>(of_packet->value) : std::nullopt, 2, {"g", "kg"})) {
    of_packet = Grams(*holds);
    changed = true;
  }
  if (const auto meat = number_entry(
          s, here / "for", Say::packet_for, {"meat", NumberKind::mass, "kg", 100.0, 1e6},
          of_meat ? std::optional<double>(of_meat->value) : std::nullopt, 3, {"kg", "g", "lb"})) {
    of_meat = Grams(*meat);
    changed = true;
  }
  // Half of it is no dose: it counts once both are typed.
  const bool whole = of_packet && of_meat;
  draft.holds = whole ? std::nullopt : of_packet;
  draft.for_meat = whole ? std::nullopt : of_meat;
  if (!whole) return false;
  if (!supply.packet) supply.packet = recipe::Packet{*of_packet, *of_meat, std::nullopt, true};
  supply.packet->holds = *of_packet;
  supply.packet->for_meat = *of_meat;
  changed = packet_entry(s, here, *supply.packet) || changed;
  return changed;
}

bool draw_diameter(Screen& s, parts::Key here, Supply& supply) {
  std::optional<double> stored;
  if (supply.diameter.value > 0.0) stored = supply.diameter.value;
  NumberEntry e = number(s, here / "diameter", Say::supply_diameter,
                         {"diameter", NumberKind::length, "mm", 0.005, 0.5}, stored, 1);
  e.what = s.say(supply.replaces.empty() ? Say::supply_diameter_what : Say::supply_diameter_table);
  e.units = {"mm", "in"};
  const auto taken = enter(s, e);
  if (!taken) return false;
  supply.diameter = Metres(taken->value_or(0.0));
  return true;
}

bool draw_price_and_note(Screen& s, parts::Key here, Supply& supply) {
  bool changed = false;
  const bool casing = supply.kind == SupplyKind::casing;
  parts::gap(s.page, 12.0);
  NumberEntry e = number(s, here / "price", casing ? Say::supply_price_metre : Say::supply_price,
                         {"price", NumberKind::plain, "", 0.0, 1e5}, supply.price);
  e.unit = words::verbatim(s.session.book.settings().money);
  e.what = s.say(Say::supply_may_stay_empty);
  if (const auto taken = enter(s, e)) {
    supply.price = *taken;
    changed = true;
  }
  parts::Field note;
  note.key = here / "note";
  note.label = s.say(Say::supply_note);
  note.value = supply.note;
  note.answer = s.say(Say::supply_may_stay_empty);
  const words::Text long_note = s.say(Say::supply_name_long);
  note.judge = [long_note](const std::string& typed) {
    parts::Judged judged;
    if (typed.size() > book::kLongestNote) judged.error = long_note;
    return judged;
  };
  parts::gap(s.page, 24.0);
  if (const auto typed = parts::text_field(s.page, note).committed) {
    supply.note = *typed;
    changed = true;
  }
  return changed;
}

std::optional<Supply> open_supply(const Screen& s) {
  for (const Supply& supply : s.session.book.supplies()) {
    if (supply.key == s.session.view.supply.text) return supply;
  }
  return std::nullopt;
}

words::Text supply_fact(const Screen& s, const Supply& supply) {
  switch (supply.kind) {
    case SupplyKind::cut:
    case SupplyKind::additive:
      if (supply.parts) return parts_words(s, *supply.parts);
      if (supply.replaces.empty()) return s.say(Say::supply_parts_missing);
      break;
    case SupplyKind::curing_mix:
      if (supply.mix.nitrite + supply.mix.nitrate <= 0.0) return s.say(Say::supply_mix_missing);
      return s.say(Say::mix_fact,
                   {words::arg("nitrite", exact_figure(s.l, supply.mix.nitrite * 100.0, 3, "%")),
                    words::arg("nitrate", exact_figure(s.l, supply.mix.nitrate * 100.0, 3, "%"))});
    case SupplyKind::culture:
      if (!supply.packet) return s.say(Say::supply_packet_missing);
      return s.say(Say::supply_packet_fact,
                   {words::arg("holds", exact_figure(s.l, supply.packet->holds.value, 2, "g")),
                    words::arg("meat", exact_figure(s.l, supply.packet->for_meat.value / 1000.0, 3, "kg"))});
    case SupplyKind::casing:
      if (supply.diameter.value > 0.0) return millimetres(s.l, supply.diameter);
      break;
  }
  return {};
}

}  // namespace

parts::Row supply_row(const Screen& s, const Supply& supply, parts::Key at) {
  parts::Row row;
  row.key = at;
  row.name = words::verbatim(supply.name);
  const words::Text instead =
      supply.replaces.empty() ? words::Text()
                              : s.say(Say::supply_instead, {words::arg("name", replaced_name(s, supply))});
  row.fact = with_commas({s.say(Say::pick_mine), supply_fact(s, supply), instead});
  if (supply.price) {
    const Say per = supply.kind == SupplyKind::casing ? Say::supply_per_metre : Say::supply_per_kg;
    row.figure = s.say(per, {words::arg("price", money(s, *supply.price))});
  }
  return row;
}

void draw_supplies(Screen& s) {
  Session& session = s.session;
  if (back_to_shelf(s, s.say(Say::shelf_title), ShelfLeaf::shelf)) return;
  parts::heading(s.page, s.say(Say::supplies_title));
  draw_notice(s);
  const recipe::Supplies supplies = session.book.supplies();
  parts::lead(s.page, supplies.empty() ? s.say(Say::supplies_none)
                                       : s.say(Say::supplies_lead,
                                               {words::count("n", static_cast<int>(supplies.size()))}));
  for (const Named<SupplyKind>& kind : kKinds) {
    bool first = true;
    for (const Supply& supply : supplies) {
      if (supply.kind != kind.value) continue;
      if (first) {
        parts::gap(s.page, 24.0);
        parts::second_heading(s.page, s.say(kind.name));
        parts::list_rule(s.page);
        first = false;
      }
      if (parts::row(s.page, supply_row(s, supply, key("supplies") / supply.key)))
        session.open_supply(Id{supply.key});
    }
  }
  parts::gap(s.page, 24.0);
  parts::paragraph(s.page, s.say(Say::supplies_add));
  parts::gap(s.page, 8.0);
  std::vector<parts::Act> acts;
  for (std::size_t i = 0; i < kKinds.size(); ++i) {
    acts.push_back({key("supplies") / "add" / static_cast<int>(i),
                    s.say(kKinds[i].name),
                    parts::ActKind::other,
                    true,
                    {}});
  }
  if (const auto pressed = parts::acts(s.page, acts)) {
    session.new_supply(kKinds[static_cast<std::size_t>(*pressed)].value, {}, {});
  }
  draw_history(s);
}

void draw_supply(Screen& s) {
  Session& session = s.session;
  const std::optional<Supply> open = open_supply(s);
  if (!open) return session.open_shelf(ShelfLeaf::supplies);
  Supply supply = *open;
  const parts::Key here = key("supply") / supply.key;
  SupplyDraft& draft = session.drafts.supplies[session.view.supply];
  const auto waiting = draft.wanted_by.empty() ? nullptr : session.book.recipe(draft.wanted_by);
  const bool mix = supply.kind == SupplyKind::curing_mix;
  if (back_to_shelf(s, s.say(Say::supplies_title), ShelfLeaf::supplies)) {
    draft.wanted_by = {};
    return;
  }
  parts::heading(s.page, words::verbatim(supply.name));
  draw_notice(s);
  parts::lead(s.page, s.say(waiting && mix ? Say::supply_lead_packet : Say::supply_lead));
  bool changed = draw_name(s, here, supply);
  if (!(waiting && mix)) {
    if (const auto kind = choose(s, here / "kind", Say::pick_kind, kKinds, supply.kind)) {
      // What was said of another kind of thing is not true of this one; undo brings it back.
      Supply begun;
      begun.key = supply.key;
      begun.name = supply.name;
      begun.note = supply.note;
      begun.kind = *kind;
      supply = std::move(begun);
      draft = {};
      changed = true;
    }
    draw_instead_of(s, here, supply);
  }
  switch (supply.kind) {
    case SupplyKind::cut:
      if (const auto species = choose(s, here / "species", Say::lot_species, kSpecies, supply.species)) {
        supply.species = *species;
        changed = true;
      }
      changed = draw_parts(s, here, supply) || changed;
      break;
    case SupplyKind::additive:
      changed = draw_parts(s, here, supply) || changed;
      changed = draw_allergens(s, here, supply) || changed;
      changed = draw_nitrate(s, here, supply) || changed;
      break;
    case SupplyKind::curing_mix: changed = draw_mix(s, here, supply) || changed; break;
    case SupplyKind::culture: changed = draw_packet(s, here, supply) || changed; break;
    case SupplyKind::casing: changed = draw_diameter(s, here, supply) || changed; break;
  }
  changed = draw_price_and_note(s, here, supply) || changed;
  if (changed) session.change_supply(supply);
  parts::gap(s.page, 36.0);
  std::vector<parts::Act> acts;
  if (waiting && mix) {
    acts.push_back({here / "use", s.say(Say::supply_use_in, {words::arg("name", waiting->name)}),
                    parts::ActKind::main, open->mix.nitrite > 0.0, s.say(Say::supply_use_first)});
  }
  acts.push_back({here / "remove", s.say(Say::supply_remove), parts::ActKind::bare, true, {}});
  if (const auto pressed = parts::acts(s.page, acts)) {
    if (*pressed + 1 < static_cast<int>(acts.size())) return session.use_packet();
    return session.remove_supply(session.view.supply);
  }
  draw_history(s);
}

void draw_replaces(Screen& s) {
  Session& session = s.session;
  const std::optional<Supply> open = open_supply(s);
  if (!open) return session.open_shelf(ShelfLeaf::supplies);
  if (back_to_shelf(s, words::verbatim(open->name), ShelfLeaf::supply)) return;
  parts::heading(s.page, s.say(Say::replaces_title, {words::arg("name", open->name)}));
  parts::lead(s.page, s.say(Say::replaces_lead));
  std::vector<ReferenceRow> rows = reference_table(open->kind).rows(s.l);
  std::stable_sort(rows.begin(), rows.end(), [](const ReferenceRow& a, const ReferenceRow& b) {
    return words::folded(a.name.plain()) < words::folded(b.name.plain());
  });
  std::optional<std::string> chosen;
  parts::gap(s.page, 16.0);
  parts::list_rule(s.page);
  if (parts::row(s.page, {key("replaces") / "nothing",
                          s.say(Say::replaces_nothing),
                          s.say(Say::supply_replaces_nothing),
                          {},
                          open->replaces.empty()})) {
    chosen = std::string();
  }
  parts::gap(s.page, 24.0);
  parts::List list{key("replaces") / static_cast<int>(open->kind), {}};
  for (const ReferenceRow& row : rows) {
    list.rows.push_back(
        {key("replaces") / row.key, row.name, row.fact, row.figure, row.key == open->replaces});
  }
  if (const auto pressed = parts::list(s.page, list)) chosen = rows[static_cast<std::size_t>(*pressed)].key;
  if (!chosen) return;
  Supply supply = *open;
  supply.replaces = *chosen;
  if (const tables::Cut* cut = supply.kind == SupplyKind::cut ? tables::find_cut(*chosen) : nullptr) {
    supply.species = cut->species;
  }
  if (!(supply == *open)) session.change_supply(supply);
  session.open_shelf(ShelfLeaf::supply);
}

}  // namespace saltrafter::desk
