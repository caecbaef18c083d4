// The Shelf: whose rules the findings go by, limits of the maker's own, the scales and the money.
#include <array>

#include "core/desk/forms.h"
#include "core/desk/table_rows.h"

namespace saltrafter::desk {
namespace {

using Say = words::Id;
using safety::Chosen;
using safety::OwnLimit;
using tables::Agent;
using tables::LimitSense;

constexpr std::array<Named<Chosen>, 5> kChosen = {
    {{Chosen::us, Say::rules_us, Say::rules_us_what},
     {Chosen::eu, Say::rules_eu, Say::rules_eu_what},
     {Chosen::ca, Say::rules_ca, Say::rules_ca_what},
     {Chosen::none_of_these, Say::rules_none, Say::rules_none_what},
     {Chosen::not_chosen, Say::rules_open, Say::rules_open_what}}};

constexpr std::array<Named<LimitSense>, 2> kSenses = {
    {{LimitSense::most, Say::limit_most}, {LimitSense::least, Say::limit_least}}};

// How a limit of an agent is typed, and how many of the rule's stored unit one of the limit's is.
struct LimitEntry {
  Agent agent;
  NumberKind kind;
  std::string_view unit;
  double low;
  double high;
  double stored_per_limit;
  LimitSense usual;
};
// The most of nitrite is the program's own ceiling: above it nothing is weighed out whatever the maker types.
constexpr std::array<LimitEntry, 9> kEntries = {
    {{Agent::nitrite, NumberKind::ppm, "mg/kg", 0.0, 625.0, 1.0, LimitSense::most},
     {Agent::nitrate, NumberKind::ppm, "mg/kg", 0.0, 1e4, 1.0, LimitSense::most},
     {Agent::nitrite_and_nitrate, NumberKind::ppm, "mg/kg", 0.0, 1e4, 1.0, LimitSense::most},
     {Agent::ascorbate, NumberKind::ppm, "mg/kg", 0.0, 1e4, 1.0, LimitSense::most},
     {Agent::salt, NumberKind::share, "g/kg", 0.0, 0.2, 1e-3, LimitSense::least},
     {Agent::water_phase_salt, NumberKind::share, "%", 0.0, 0.26, 1.0, LimitSense::least},
     {Agent::water_activity, NumberKind::plain, "", 0.6, 1.0, 1.0, LimitSense::most},
     {Agent::ph, NumberKind::plain, "", 4.0, 7.0, 1.0, LimitSense::most},
     {Agent::moisture_protein_ratio, NumberKind::plain, "", 0.3, 5.0, 1.0, LimitSense::most}}};

const LimitEntry& entry_of(Agent agent) {
  for (const LimitEntry& entry : kEntries) {
    if (entry.agent == agent) return entry;
  }
  return kEntries[0];
}

words::Text bound(const Screen& s, const OwnLimit& limit) {
  return s.say(limit.sense == LimitSense::most ? Say::bound_most : Say::bound_least,
               {words::arg("value", agent_amount(s.l, limit.agent, limit.value))});
}

// The value of a limit; as the limit has it.
std::optional<double> draw_value(Screen& s, parts::Key at, Agent agent, std::optional<double> value) {
  const LimitEntry& entry = entry_of(agent);
  std::optional<double> stored;
  if (value) stored = *value * entry.stored_per_limit;
  const auto typed = number_entry(s, at, Say::limit_value,
                                  {"limit", entry.kind, entry.unit, entry.low, entry.high}, stored, 3);
  if (entry.kind == NumberKind::ppm) parts::reason(s.page, s.say(Say::limit_as_salt));
  if (!typed) return std::nullopt;
  return *typed / entry.stored_per_limit;
}

bool draw_new_limit(Screen& s, book::Settings& settings) {
  LimitDraft& draft = s.session.drafts.limit;
  if (!draft.open) {
    parts::gap(s.page, 16.0);
    if (parts::act(s.page, {key("limit") / "add", s.say(Say::limit_add), parts::ActKind::other, true, {}})) {
      draft = {};
      draft.open = true;
    }
    return false;
  }
  std::vector<parts::Choice> agents;
  int chosen = -1;
  for (std::size_t i = 0; i < kEntries.size(); ++i) {
    agents.push_back({key("limit") / "agent" / static_cast<int>(i), agent_name(s.l, kEntries[i].agent), {}});
    if (kEntries[i].agent == draft.agent) chosen = static_cast<int>(i);
  }
  parts::gap(s.page, 24.0);
  if (const auto pressed = parts::one_of(s.page, s.say(Say::limit_of), agents, chosen)) {
    draft.agent = kEntries[static_cast<std::size_t>(*pressed)].agent;
    draft.sense = kEntries[static_cast<std::size_t>(*pressed)].usual;
  }
  if (const auto sense = choose(s, key("limit") / "sense", Say::limit_sense, kSenses, draft.sense))
    draft.sense = *sense;
  const auto value =
      draw_value(s, key("limit") / "value" / static_cast<int>(draft.agent), draft.agent, std::nullopt);
  parts::gap(s.page, 8.0);
  if (parts::act(s.page, {key("limit") / "leave", s.say(Say::limit_leave), parts::ActKind::bare, true, {}}))
    draft = {};
  if (!value) return false;
  settings.own_limits.push_back({make_id(s.session.book.ports()), draft.agent, draft.sense, *value});
  draft = {};
  return true;
}

bool draw_own_limits(Screen& s, book::Settings& settings) {
  LimitDraft& draft = s.session.drafts.limit;
  bool changed = false;
  parts::gap(s.page, 36.0);
  parts::second_heading(s.page, s.say(Say::limits_own), s.say(Say::limits_own_what));
  parts::gap(s.page, 8.0);
  if (!settings.own_limits.empty()) parts::list_rule(s.page);
  for (std::size_t i = 0; i < settings.own_limits.size(); ++i) {
    OwnLimit& limit = settings.own_limits[i];
    const parts::Key here = key("limit") / limit.id;
    const bool in_hand = draft.of == limit.id;
    parts::Row row;
    row.key = here;
    row.name = agent_name(s.l, limit.agent);
    row.fact = s.say(Say::whose_mine);
    row.figure = bound(s, limit);
    row.selected = in_hand;
    if (parts::row(s.page, row)) {
      const Id of = in_hand ? Id{} : limit.id;
      draft = {};
      draft.of = of;
    }
    if (!in_hand) continue;
    if (const auto value = draw_value(s, here / "value", limit.agent, limit.value)) {
      limit.value = *value;
      changed = true;
    }
    parts::gap(s.page, 16.0);
    if (parts::act(s.page, {here / "remove", s.say(Say::limit_remove), parts::ActKind::bare, true, {}})) {
      settings.own_limits.erase(settings.own_limits.begin() + static_cast<std::ptrdiff_t>(i));
      draft = {};
      return true;
    }
    parts::gap(s.page, 24.0);
  }
  return draw_new_limit(s, settings) || changed;
}

constexpr std::array<Named<double>, 3> kFineSteps = {{{0.1, Say::scale_tenth, Say::scale_tenth_what},
                                                      {1.0, Say::scale_gram, Say::scale_gram_what},
                                                      {5.0, Say::scale_five, Say::scale_five_what}}};
constexpr std::array<Named<double>, 3> kCoarseSteps = {
    {{1.0, Say::scale_gram}, {5.0, Say::scale_five}, {10.0, Say::scale_ten}}};

bool draw_scales(Screen& s, book::Settings& settings) {
  recipe::Scales& scales = settings.scales;
  bool changed = false;
  parts::gap(s.page, 36.0);
  parts::second_heading(s.page, s.say(Say::scales), s.say(Say::scales_what));
  if (const auto step =
          choose(s, key("scales") / "fine", Say::scale_fine, kFineSteps, scales.fine_step.value)) {
    scales.fine_step = Grams(*step);
    changed = true;
  }
  if (const auto most =
          number_entry(s, key("scales") / "most", Say::scale_carries,
                       {"scale", NumberKind::mass, "g", 1.0, 1e5}, scales.fine_most.value, 1, {"g", "kg"})) {
    scales.fine_most = Grams(*most);
    changed = true;
  }
  if (const auto step =
          choose(s, key("scales") / "coarse", Say::scale_coarse, kCoarseSteps, scales.coarse_step.value)) {
    scales.coarse_step = Grams(*step);
    changed = true;
  }
  return changed;
}

std::size_t characters(const std::string& utf8) {
  std::size_t n = 0;
  for (const char c : utf8) n += (static_cast<unsigned char>(c) & 0xC0U) != 0x80U ? 1 : 0;
  return n;
}

bool draw_money(Screen& s, book::Settings& settings) {
  constexpr std::size_t kMostCharacters = 8;
  parts::Field field;
  field.key = key("money");
  field.label = s.say(Say::money_sign);
  field.value = settings.money;
  field.answer = s.say(Say::money_what);
  const words::Text long_sign = s.say(Say::money_long);
  field.judge = [long_sign](const std::string& typed) {
    parts::Judged judged;
    if (characters(typed) > kMostCharacters) judged.error = long_sign;
    return judged;
  };
  parts::gap(s.page, 36.0);
  const auto typed = parts::text_field(s.page, field).committed;
  if (!typed) return false;
  settings.money = *typed;
  return true;
}

}  // namespace

void draw_rules(Screen& s) {
  Session& session = s.session;
  if (back_to_shelf(s, s.say(Say::shelf_title), ShelfLeaf::shelf)) return;
  parts::heading(s.page, s.say(Say::rules_title));
  draw_notice(s);
  parts::lead(s.page, whose_rules(s));
  book::Settings settings = session.book.settings();
  bool changed = false;
  if (const auto chosen = choose(s, key("rules"), Say::rules_whose, kChosen, settings.chosen)) {
    settings.chosen = *chosen;
    changed = true;
  }
  parts::paragraph(s.page, s.say(Say::rules_caution));
  changed = draw_own_limits(s, settings) || changed;
  changed = draw_scales(s, settings) || changed;
  changed = draw_money(s, settings) || changed;
  if (changed) session.change_settings(settings, "edit_rules");
  draw_history(s);
}

}  // namespace saltrafter::desk
