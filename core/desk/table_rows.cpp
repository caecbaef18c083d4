#include "core/desk/table_rows.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "core/desk/forms.h"

namespace saltrafter::desk {
namespace {

using Say = words::Id;
using recipe::SupplyKind;
using words::Language;
using words::Text;

Text share(const Language& l, double part) { return exact_figure(l, part * 100.0, 2, "%"); }

Text range(const Language& l, double low, double high, int most, std::string_view unit) {
  if (low == high) return exact_figure(l, low, most, unit);
  return words::text(l, Say::cell_range,
                     {words::arg("low", exact_figure(l, low, most, {})),
                      words::arg("high", exact_figure(l, high, most, unit))});
}

Text allergens(const Language& l, tables::AllergenSet set) {
  constexpr int kAllergens = 14;
  std::vector<Text> names;
  for (int i = 0; i < kAllergens; ++i) {
    const auto allergen = static_cast<tables::Allergen>(i);
    if (set.has(allergen)) names.push_back(allergen_name(l, allergen));
  }
  return names.empty() ? words::text(l, Say::allergens_none) : with_commas(names);
}

ReferenceRow row_of(std::string_view key, Text name) {
  ReferenceRow row;
  row.key = std::string(key);
  row.name = std::move(name);
  return row;
}

Text composition_fact(const Language& l, double water, double protein, double fat) {
  return words::text(
      l, Say::pick_cut_fact,
      {words::arg("water", per_cent(l, water, 0)), words::arg("protein", per_cent(l, protein, 0)),
       words::arg("fat", per_cent(l, fat, 0))});
}

std::vector<ReferenceRow> cut_rows(const Language& l) {
  std::vector<ReferenceRow> rows;
  for (const tables::Cut& cut : tables::cuts()) {
    ReferenceRow row = row_of(cut.key, row_name(l, "cut_", cut.key));
    row.fact = composition_fact(l, cut.water, cut.protein, cut.fat);
    row.figures = {{words::text(l, Say::cell_animal), species_name(l, cut.species), cut.origin},
                   {words::text(l, Say::cell_water), share(l, cut.water), cut.origin},
                   {words::text(l, Say::cell_protein), share(l, cut.protein), cut.origin},
                   {words::text(l, Say::cell_fat), share(l, cut.fat), cut.origin},
                   {words::text(l, Say::cell_ash), share(l, cut.ash), cut.origin}};
    rows.push_back(std::move(row));
  }
  return rows;
}

std::vector<ReferenceRow> additive_rows(const Language& l) {
  std::vector<ReferenceRow> rows;
  for (const tables::Additive& a : tables::additives()) {
    ReferenceRow row = row_of(a.key, row_name(l, "additive_", a.key));
    row.fact = words::text(l, Say::pick_usual_fact,
                           {words::arg("low", exact_figure(l, a.usual_low, 2, {})),
                            words::arg("high", exact_figure(l, a.usual_high, 2, {}))});
    row.figures = {
        {words::text(l, Say::cell_water), share(l, a.water), a.composition},
        {words::text(l, Say::cell_protein), share(l, a.protein), a.composition},
        {words::text(l, Say::cell_fat), share(l, a.fat), a.composition},
        {words::text(l, Say::cell_salt_alone), share(l, a.salt), a.composition},
        {words::text(l, Say::cell_sugar), share(l, a.sugar), a.sugar_origin},
        {words::text(l, Say::cell_usual), range(l, a.usual_low, a.usual_high, 2, "g/kg"), a.usual},
        {words::text(l, Say::cell_allergens), allergens(l, a.allergens), a.allergens_origin},
        {words::text(l, Say::cell_allergens_some), allergens(l, a.allergens_possible), a.allergens_origin}};
    rows.push_back(std::move(row));
  }
  return rows;
}

constexpr std::array<Named<tables::CasingKind>, 4> kCasingKinds = {
    {{tables::CasingKind::natural, Say::casing_natural},
     {tables::CasingKind::collagen, Say::casing_of_collagen},
     {tables::CasingKind::fibrous, Say::casing_of_fibre},
     {tables::CasingKind::textile, Say::casing_of_cloth}}};

std::vector<ReferenceRow> casing_rows(const Language& l) {
  std::vector<ReferenceRow> rows;
  for (const tables::Casing& casing : tables::casings()) {
    ReferenceRow row = row_of(casing.key, row_name(l, "casing_", casing.key));
    const Text kind = words::text(l, name_of(kCasingKinds, casing.kind));
    const Text diameter =
        range(l, casing.diameter_low.value * 1000.0, casing.diameter_high.value * 1000.0, 0, "mm");
    const Text filling = range(l, casing.filling_low, casing.filling_high, 2, "kg/m");
    row.fact = with_commas({kind, words::text(l, Say::casing_holds, {words::arg("mass", filling)})});
    row.figure = diameter;
    row.figures = {{words::text(l, Say::cell_kind), kind, casing.origin},
                   {words::text(l, Say::cell_stuffed), diameter, casing.origin},
                   {words::text(l, Say::cell_filling), filling, casing.filling}};
    rows.push_back(std::move(row));
  }
  return rows;
}

constexpr std::array<Named<tables::CultureRole>, 4> kRoles = {
    {{tables::CultureRole::sours, Say::role_sours},
     {tables::CultureRole::colours, Say::role_colours},
     {tables::CultureRole::yeast, Say::role_yeast},
     {tables::CultureRole::mould, Say::role_mould}}};

std::vector<ReferenceRow> culture_rows(const Language& l) {
  std::vector<ReferenceRow> rows;
  for (const tables::Culture& c : tables::cultures()) {
    ReferenceRow row = row_of(c.key, row_name(l, "culture_", c.key));
    const Text use = range(l, c.use_low.value, c.use_high.value, 1, "°C");
    row.fact = with_commas({words::verbatim(c.organism), use});
    const Text ph = c.ph_low && c.ph_high ? range(l, *c.ph_low, *c.ph_high, 2, {})
                                          : words::text(l, Say::culture_not_sour);
    row.figures = {
        {words::text(l, Say::cell_species), words::verbatim(c.organism), c.origin},
        {words::text(l, Say::cell_role), words::text(l, name_of(kRoles, c.role)), c.origin},
        {words::text(l, Say::cell_grows), range(l, c.growth_low.value, c.growth_high.value, 1, "°C"),
         c.origin},
        {words::text(l, Say::cell_best), range(l, c.best_low.value, c.best_high.value, 1, "°C"), c.origin},
        {words::text(l, Say::cell_used_at), use, c.use},
        {words::text(l, Say::cell_final_ph), ph, c.ph},
        {words::text(l, Say::cell_salt_stands),
         c.salt ? share(l, *c.salt) : words::text(l, Say::cell_not_known), c.salt_origin}};
    rows.push_back(std::move(row));
  }
  return rows;
}

std::vector<ReferenceRow> mix_rows(const Language& l) {
  std::vector<ReferenceRow> rows;
  for (const tables::CuringMix& mix : tables::curing_mixes()) {
    ReferenceRow row = row_of(mix.key, row_name(l, "mix_", mix.key));
    row.fact = words::text(
        l, Say::mix_fact,
        {words::arg("nitrite", share(l, mix.nitrite)), words::arg("nitrate", share(l, mix.nitrate))});
    row.figures = {{row_name(l, "salt_", mix.nitrite_salt), share(l, mix.nitrite), mix.origin},
                   {row_name(l, "salt_", mix.nitrate_salt), share(l, mix.nitrate), mix.origin},
                   {words::text(l, Say::cell_salt_alone), share(l, mix.salt), mix.origin}};
    rows.push_back(std::move(row));
  }
  return rows;
}

std::vector<ReferenceRow> organism_rows(const Language& l) {
  std::vector<ReferenceRow> rows;
  for (const tables::Organism& o : tables::organisms()) {
    ReferenceRow row = row_of(o.key, row_name(l, "organism_", o.key));
    const Text aw = exact_figure(l, o.least_aw.value, 3, {});
    const Text ph = exact_figure(l, o.least_ph, 2, {});
    const Text cold = exact_figure(l, o.least_temperature.value, 1, "°C");
    row.fact = words::text(l, Say::organism_fact,
                           {words::arg("aw", aw), words::arg("ph", ph), words::arg("temperature", cold)});
    const bool toxin = o.hazard == tables::Hazard::toxin;
    row.figures = {{words::text(l, Say::cell_species), words::verbatim(o.species), o.aw},
                   {words::text(l, Say::cell_danger),
                    words::text(l, toxin ? Say::danger_toxin : Say::danger_growth), o.aw},
                   {words::text(l, Say::cell_least_aw), aw, o.aw},
                   {words::text(l, Say::cell_least_ph), ph, o.ph},
                   {words::text(l, Say::cell_least_temperature), cold, o.temperature}};
    rows.push_back(std::move(row));
  }
  return rows;
}

// --- limits ---

struct AgentWords {
  tables::Agent agent;
  Say name;
  std::string_view unit;
  double shown = 1.0;  // the unit's figures in one of the stored
  int digits = 0;
};
constexpr std::array<AgentWords, 11> kAgents = {
    {{tables::Agent::nitrite, Say::agent_nitrite, "mg/kg", 1.0, 2},
     {tables::Agent::nitrate, Say::agent_nitrate, "mg/kg", 1.0, 2},
     {tables::Agent::nitrite_and_nitrate, Say::agent_cure, "mg/kg", 1.0, 2},
     {tables::Agent::ascorbate, Say::agent_ascorbate, "mg/kg", 1.0, 2},
     {tables::Agent::salt, Say::agent_salt, "g/kg", 1.0, 1},
     {tables::Agent::water_phase_salt, Say::agent_water_phase_salt, "%", 100.0, 2},
     {tables::Agent::water_activity, Say::agent_water_activity, {}, 1.0, 3},
     {tables::Agent::ph, Say::agent_ph, {}, 1.0, 2},
     {tables::Agent::temperature, Say::agent_temperature, "°C", 1.0, 1},
     {tables::Agent::days, Say::agent_days, "d", 1.0, 1},
     {tables::Agent::moisture_protein_ratio, Say::agent_mpr, {}, 1.0, 2}}};

const AgentWords& agent_words(tables::Agent agent) {
  for (const AgentWords& row : kAgents) {
    if (row.agent == agent) return row;
  }
  return kAgents[0];
}

constexpr std::array<Named<tables::Jurisdiction>, 4> kJurisdictions = {
    {{tables::Jurisdiction::us, Say::whose_us},
     {tables::Jurisdiction::eu, Say::whose_eu},
     {tables::Jurisdiction::ca, Say::whose_ca},
     {tables::Jurisdiction::any, Say::limit_ours}}};
constexpr std::array<Named<tables::LimitClass>, 7> kLimitClasses = {
    {{tables::LimitClass::any, Say::limit_any},
     {tables::LimitClass::comminuted_dry, Say::limit_minced_dry},
     {tables::LimitClass::whole_muscle_dry, Say::limit_whole},
     {tables::LimitClass::comminuted_semi_dry, Say::limit_minced_soft},
     {tables::LimitClass::minced, Say::limit_minced},
     {tables::LimitClass::whole_muscle_rubbed, Say::limit_whole_rubbed},
     {tables::LimitClass::whole_muscle_brined, Say::limit_whole_brined}}};
constexpr std::array<Named<tables::LimitBasis>, 6> kBases = {
    {{tables::LimitBasis::ingoing, Say::basis_ingoing},
     {tables::LimitBasis::residual, Say::basis_residual},
     {tables::LimitBasis::finished, Say::basis_finished},
     {tables::LimitBasis::raw, Say::basis_raw},
     {tables::LimitBasis::centre, Say::basis_centre},
     {tables::LimitBasis::stage, Say::basis_stage}}};
constexpr std::array<Named<tables::Expressed>, 3> kExpressed = {
    {{tables::Expressed::sodium_salt, Say::expressed_salt},
     {tables::Expressed::ion, Say::expressed_ion},
     {tables::Expressed::acid, Say::expressed_acid}}};

// The rule that a limit serves, as the findings call it.
Text rule_of(const Language& l, const tables::Limit& limit) {
  safety::Finding finding;
  finding.sense = limit.sense;
  for (int i = 0; i <= static_cast<int>(safety::Rule::species); ++i) {
    finding.rule = static_cast<safety::Rule>(i);
    if (safety::key_of(finding.rule) == limit.rule) return rule_name(l, finding);
  }
  return words::verbatim(limit.rule);
}

Text day_text(const Language& l, std::string_view iso) {
  const Result<Date> day = parse_iso_date(iso);
  return day.ok() ? words::day_full(l, day.value()) : words::text(l, Say::cell_not_stated);
}

std::vector<ReferenceRow> limit_rows(const Language& l) {
  std::vector<ReferenceRow> rows;
  for (const tables::Limit& limit : tables::limits()) {
    const Text rule = rule_of(l, limit);
    const Text agent = agent_name(l, limit.agent);
    const Text basis = words::text(l, name_of(kBases, limit.basis));
    const Text whose = words::text(l, name_of(kJurisdictions, limit.jurisdiction));
    const Text product = words::text(l, name_of(kLimitClasses, limit.product));
    const bool plain = limit.expressed == tables::Expressed::plain;
    const Text expressed = plain ? Text() : words::text(l, name_of(kExpressed, limit.expressed));
    const Text until = limit.until.empty()
                           ? Text()
                           : words::text(l, Say::limit_until, {words::arg("day", day_text(l, limit.until))});
    const Text beside = limit.way == "both" ? words::text(l, Say::limit_with_other) : Text();
    const Text bound =
        words::text(l, limit.sense == tables::LimitSense::most ? Say::bound_most : Say::bound_least,
                    {words::arg("value", agent_amount(l, limit.agent, limit.value))});
    ReferenceRow row = row_of(limit.id, with_commas({rule, whose}));
    row.fact = with_commas({agent, expressed, basis, product, beside, until});
    row.figure = bound;
    const auto cell = [&](Say name, const Text& value) {
      if (!value.empty()) row.figures.push_back({words::text(l, name), value, limit.origin});
    };
    cell(Say::cell_limit, bound);
    cell(Say::cell_of, agent);
    cell(Say::cell_expressed, expressed);
    cell(Say::cell_basis, basis);
    cell(Say::cell_product, product);
    cell(Say::cell_whose, whose);
    cell(Say::cell_rule, rule);
    cell(Say::cell_way, limit.way == "only"
                            ? Text()
                            : words::text(l, beside.empty() ? Say::limit_one_way : Say::limit_with_other));
    if (limit.near_margin && *limit.near_margin > 0.0) {
      cell(Say::cell_near, agent_amount(l, limit.agent, *limit.near_margin));
    }
    cell(Say::cell_from, day_text(l, limit.from));
    cell(Say::cell_until, limit.until.empty() ? Text() : day_text(l, limit.until));
    rows.push_back(std::move(row));
  }
  return rows;
}

std::vector<ReferenceRow> degree_hour_rows(const Language& l) {
  std::vector<ReferenceRow> rows;
  for (const tables::DegreeHourClass& one : tables::degree_hours()) {
    ReferenceRow row = row_of(one.key, row_name(l, "degree_hours_", one.key));
    const std::string_view degrees = one.unit.substr(0, one.unit.find(' '));
    const Text base = exact_figure(l, one.base, 1, degrees);
    row.fact = words::text(l, Say::degree_hours_fact,
                           {words::arg("base", base), words::arg("ph", exact_figure(l, one.ph, 1, {}))});
    row.figure = exact_figure(l, one.limit, 0, one.unit);
    const Text highest =
        one.highest ? exact_figure(l, *one.highest, 1, degrees) : words::text(l, Say::cell_open);
    row.figures = {{words::text(l, Say::cell_count_base), base, one.end},
                   {words::text(l, Say::cell_count_end), exact_figure(l, one.ph, 1, {}), one.end},
                   {words::text(l, Say::cell_highest), highest, one.origin},
                   {words::text(l, Say::cell_most_count), row.figure, one.origin}};
    rows.push_back(std::move(row));
  }
  return rows;
}

// --- parasites ---

// "up to 150 mm", "over 150 mm, up to 686 mm"; nothing where any size will do.
Text sizes(const Language& l, Metres over, const std::optional<Metres>& most) {
  const Text from = over.value > 0.0
                        ? words::text(l, Say::size_over,
                                      {words::arg("size", exact_figure(l, over.value * 1000.0, 1, "mm"))})
                        : Text();
  const Text to = most ? words::text(l, Say::size_most,
                                     {words::arg("size", exact_figure(l, most->value * 1000.0, 1, "mm"))})
                       : Text();
  return with_commas({from, to});
}

std::vector<ReferenceRow> freezing_rows(const Language& l) {
  std::vector<ReferenceRow> rows;
  for (const tables::Freezing& one : tables::freezing()) {
    const bool core = one.where == tables::FrozenWhere::core;
    const Text parasite =
        words::text(l, one.parasite == tables::Parasite::trichinella ? Say::parasite_trichinella
                                                                     : Say::parasite_toxoplasma);
    const Text where =
        words::text(l, core ? Say::frozen_core : Say::frozen_chamber,
                    {words::arg("temperature", exact_figure(l, one.temperature.value, 1, "°C"))});
    ReferenceRow row = row_of(one.key, with_commas({parasite, where}));
    const Text size = sizes(l, one.thickness_over, one.thickness_most);
    row.fact = size.empty() ? words::text(l, Say::size_any) : size;
    row.figure = exact_figure(l, one.value, 1, one.unit);
    row.figures = {{words::text(l, Say::cell_parasite), parasite, one.origin},
                   {words::text(l, core ? Say::cell_core_at : Say::cell_freezer_at),
                    exact_figure(l, one.temperature.value, 1, "°C"), one.origin},
                   {words::text(l, Say::cell_thickness), row.fact, one.origin},
                   {words::text(l, Say::cell_least_time), row.figure, one.origin}};
    rows.push_back(std::move(row));
  }
  return rows;
}

std::vector<ReferenceRow> heating_rows(const Language& l) {
  std::vector<ReferenceRow> rows;
  for (const tables::Heating& one : tables::heating()) {
    const Text temperature = exact_figure(l, one.temperature.value, 1, "°C");
    ReferenceRow row =
        row_of(one.key, words::text(l, Say::heated_core, {words::arg("temperature", temperature)}));
    row.figure = one.minutes > 0.0 ? exact_figure(l, one.minutes, 1, "min") : words::text(l, Say::at_once);
    row.figures = {{words::text(l, Say::cell_core_at), temperature, one.origin},
                   {words::text(l, Say::cell_least_time), row.figure, one.origin}};
    rows.push_back(std::move(row));
  }
  return rows;
}

constexpr std::array<Named<tables::CuredProduct>, 3> kCuredProducts = {
    {{tables::CuredProduct::sausage, Say::cured_sausage},
     {tables::CuredProduct::pepperoni, Say::cured_pepperoni},
     {tables::CuredProduct::whole_muscle, Say::cured_whole}}};

Text days_at(const Language& l, double value, std::string_view unit, const std::optional<Celsius>& at) {
  const Text span = exact_figure(l, value, 1, unit);
  if (!at) return span;
  return words::text(
      l, Say::span_at,
      {words::arg("span", span), words::arg("temperature", exact_figure(l, at->value, 1, "°C"))});
}

std::vector<ReferenceRow> curing_method_rows(const Language& l) {
  std::vector<ReferenceRow> rows;
  for (const tables::CuringMethod& one : tables::curing_methods()) {
    const Text product = words::text(l, name_of(kCuredProducts, one.product));
    // A method is a number, or the name of what is made by it.
    const std::optional<Say> named = words::find("cured_" + std::string(one.method));
    const Text method =
        named ? words::text(l, *named) : words::text(l, Say::cured_method, {words::arg("n", one.method)});
    ReferenceRow row = row_of(one.key, named ? method : with_commas({product, method}));
    const Text size = sizes(l, one.diameter_over, one.diameter_most);
    const Text drying = days_at(l, one.drying_days.value, "d", one.drying_temperature);
    row.fact = with_commas({size, words::text(l, Say::cured_dried, {words::arg("span", drying)})});
    if (one.total_days) row.figure = exact_figure(l, one.total_days->value, 1, "d");
    const auto cell = [&](Say name, const Text& value) {
      if (!value.empty()) row.figures.push_back({words::text(l, name), value, one.origin});
    };
    cell(Say::cell_product, product);
    cell(Say::cell_method, method);
    cell(Say::cell_stuffed, size);
    cell(Say::cell_particle,
         one.particle_most ? exact_figure(l, one.particle_most->value * 1000.0, 1, "mm") : Text());
    cell(Say::cell_least_salt, one.salt_least ? share(l, *one.salt_least) : Text());
    cell(Say::cell_smoke,
         one.smoke_hours ? days_at(l, *one.smoke_hours, "h", one.smoke_temperature) : Text());
    cell(Say::cell_cure,
         one.cure_days ? days_at(l, one.cure_days->value, "d", one.cure_temperature) : Text());
    cell(Say::cell_drying, drying);
    cell(Say::cell_total, row.figure);
    rows.push_back(std::move(row));
  }
  return rows;
}

std::vector<ReferenceRow> souring_method_rows(const Language& l) {
  std::vector<ReferenceRow> rows;
  for (const tables::SouringMethod& one : tables::souring_methods()) {
    const Text ph = range(l, one.ph_least, one.ph_most, 2, {});
    const Text salt = one.salt_below
                          ? words::text(l, Say::salt_between,
                                        {words::arg("low", share(l, one.salt_least)),
                                         words::arg("high", share(l, *one.salt_below))})
                          : words::text(l, Say::bound_least, {words::arg("value", share(l, one.salt_least))});
    ReferenceRow row = row_of(one.key, words::text(l, Say::souring_method_name, {words::arg("ph", ph)}));
    row.fact = words::text(l, Say::souring_method_fact, {words::arg("salt", salt)});
    row.figure = exact_figure(l, one.days.value, 1, "d");
    row.figures = {{words::text(l, Say::cell_ph), ph, one.origin},
                   {words::text(l, Say::cell_salt_in_mix), salt, one.origin},
                   {words::text(l, Say::cell_days_after), row.figure, one.origin},
                   {words::text(l, Say::cell_dried_at), exact_figure(l, one.temperature_least.value, 1, "°C"),
                    one.temperature_origin}};
    rows.push_back(std::move(row));
  }
  return rows;
}

std::vector<ReferenceRow> daily_loss_rows(const Language& l) {
  std::vector<ReferenceRow> rows;
  for (const tables::DailyLoss& one : tables::daily_loss()) {
    const Text product = words::text(l, name_of(kCuredProducts, one.product));
    const Text size = sizes(l, one.diameter_over, one.diameter_most);
    ReferenceRow row = row_of(one.key, with_commas({product, size}));
    row.figure = words::text(l, Say::bound_most,
                             {words::arg("value", range(l, one.low * 100.0, one.high * 100.0, 1, "%"))});
    row.figures = {{words::text(l, Say::cell_product), product, one.origin},
                   {words::text(l, Say::cell_thickness), size, one.origin},
                   {words::text(l, Say::cell_daily_loss), row.figure, one.origin}};
    rows.push_back(std::move(row));
  }
  return rows;
}

std::vector<ReferenceRow> salt_rows(const Language& l) {
  std::vector<ReferenceRow> rows;
  for (const tables::Salt& salt : tables::salts()) {
    ReferenceRow row = row_of(salt.key, row_name(l, "salt_", salt.key));
    row.fact = words::verbatim(salt.key);
    row.figure = exact_figure(l, salt.molar_mass, 3, "g/mol");
    row.figures = {{words::text(l, Say::cell_molar_mass), row.figure, salt.origin},
                   {words::text(l, Say::cell_ion, {words::arg("ion", salt.ion)}),
                    exact_figure(l, salt.ion_mass, 3, "g/mol"), salt.origin},
                   {words::text(l, Say::cell_ion_share), per_cent(l, salt.ion_share(), 2), salt.origin}};
    rows.push_back(std::move(row));
  }
  return rows;
}

// Very small and very large figures keep their leading digits: "1.5 · 10⁻¹⁰ m²/s".
Text constant_figure(const Language& l, double value, std::string_view unit) {
  const double size = std::abs(value);
  if (size == 0.0 || (size >= 1e-4 && size < 1e7)) return exact_figure(l, value, 5, unit);
  const int power = static_cast<int>(std::floor(std::log10(size) + 1e-9));
  static constexpr std::array<std::string_view, 10> kRaised = {"⁰", "¹", "²", "³", "⁴",
                                                               "⁵", "⁶", "⁷", "⁸", "⁹"};
  std::string raised = power < 0 ? "⁻" : "";
  for (const char digit : std::to_string(std::abs(power)))
    raised += kRaised[static_cast<std::size_t>(digit - '0')];
  const std::string tail = "\u2009·\u200910" + raised + (unit.empty() ? "" : "\u2009") + std::string(unit);
  return words::join({exact_figure(l, value / std::pow(10.0, power), 2, {}), words::verbatim(tail)});
}

std::string unit_text(std::string_view unit) {
  std::string text(unit);
  for (const auto& [plain, set] : {std::pair<std::string_view, std::string_view>{"m2", "m²"}, {"m3", "m³"}}) {
    if (const std::size_t at = text.find(plain); at != std::string::npos) text.replace(at, plain.size(), set);
  }
  return text;
}

std::vector<ReferenceRow> constant_rows(const Language& l) {
  std::vector<ReferenceRow> rows;
  for (const tables::Constant& constant : tables::constants()) {
    ReferenceRow row = row_of(constant.key, row_name(l, "constant_", constant.key));
    const std::string unit = constant.unit == "1" ? std::string() : unit_text(constant.unit);
    const auto use = words::find("used_" + std::string(constant.key.substr(0, constant.key.find('.'))));
    if (use) row.fact = words::text(l, *use);
    row.figure = constant_figure(l, constant.value, unit);
    row.figures = {{words::text(l, Say::cell_value), row.figure, constant.origin}};
    if (constant.low < constant.high) {
      row.figures.push_back({words::text(l, Say::cell_may_be),
                             words::text(l, Say::cell_range,
                                         {words::arg("low", constant_figure(l, constant.low, {})),
                                          words::arg("high", constant_figure(l, constant.high, unit))}),
                             constant.origin});
    }
    rows.push_back(std::move(row));
  }
  return rows;
}

}  // namespace

words::Text exact_figure(const words::Language& l, double value, int most, std::string_view unit) {
  int decimals = 0;
  double scale = 1.0;
  while (decimals < most && std::abs(value * scale - std::round(value * scale)) > 1e-6) {
    ++decimals;
    scale *= 10.0;
  }
  return unit.empty() ? words::number(l, value, decimals) : words::measure(l, value, decimals, unit);
}

words::Text row_name(const words::Language& l, std::string_view kind, std::string_view key) {
  std::string id = std::string(kind) + std::string(key);
  for (char& c : id) {
    if (c == '.' || c == '-') c = '_';
  }
  const std::optional<Say> say = words::find(id);
  return say ? words::text(l, *say) : words::verbatim(key);
}

words::Text agent_name(const words::Language& l, tables::Agent agent) {
  return words::text(l, agent_words(agent).name);
}

words::Text agent_amount(const words::Language& l, tables::Agent agent, double value) {
  const AgentWords& row = agent_words(agent);
  return exact_figure(l, value * row.shown, row.digits, row.unit);
}

const std::vector<ReferenceTable>& reference_tables() {
  static const std::vector<ReferenceTable> kTables = {
      {"cuts", Say::table_cuts, Say::table_cuts_use, SupplyKind::cut, cut_rows},
      {"additives", Say::table_additives, Say::table_additives_use, SupplyKind::additive, additive_rows},
      {"casings", Say::table_casings, Say::table_casings_use, SupplyKind::casing, casing_rows},
      {"cultures", Say::table_cultures, Say::table_cultures_use, SupplyKind::culture, culture_rows},
      {"curing_mixes", Say::table_mixes, Say::table_mixes_use, SupplyKind::curing_mix, mix_rows},
      {"limits", Say::table_limits, Say::table_limits_use, std::nullopt, limit_rows},
      {"degree_hours", Say::table_degree_hours, Say::table_degree_hours_use, std::nullopt, degree_hour_rows},
      {"freezing", Say::table_freezing, Say::table_freezing_use, std::nullopt, freezing_rows},
      {"curing_methods", Say::table_curing_methods, Say::table_curing_methods_use, std::nullopt,
       curing_method_rows},
      {"souring_methods", Say::table_souring_methods, Say::table_souring_methods_use, std::nullopt,
       souring_method_rows},
      {"heating", Say::table_heating, Say::table_heating_use, std::nullopt, heating_rows},
      {"daily_loss", Say::table_daily_loss, Say::table_daily_loss_use, std::nullopt, daily_loss_rows},
      {"organisms", Say::table_organisms, Say::table_organisms_use, std::nullopt, organism_rows},
      {"constants", Say::table_constants, Say::table_constants_use, std::nullopt, constant_rows},
      {"salts", Say::table_salts, Say::table_salts_use, std::nullopt, salt_rows}};
  return kTables;
}

const ReferenceTable* find_reference_table(std::string_view key) {
  for (const ReferenceTable& table : reference_tables()) {
    if (table.key == key) return &table;
  }
  return nullptr;
}

const ReferenceTable& reference_table(recipe::SupplyKind kind) {
  for (const ReferenceTable& table : reference_tables()) {
    if (table.own == kind) return table;
  }
  return reference_tables().front();
}

}  // namespace saltrafter::desk
