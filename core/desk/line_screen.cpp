// The Bench: one line of a recipe, what it may be made of, and the curing mix that meets the dose.
#include <algorithm>
#include <array>

#include "core/desk/forms.h"
#include "core/tables/tables.h"

namespace saltrafter::desk {
namespace {

using Say = words::Id;
using recipe::Basis;
using recipe::LineKind;

constexpr std::array<Named<Basis>, 4> kBases = {{{Basis::g_per_kg, Say::basis_g_per_kg},
                                                 {Basis::percent_of_meat, Say::basis_percent},
                                                 {Basis::fixed_g, Say::basis_fixed},
                                                 {Basis::g_per_piece, Say::basis_piece}}};

// How an amount is typed, and how many stored units (NumberRule) one of the line's is.
struct AmountEntry {
  NumberRule rule;
  Say label = Say::line_amount;
  double stored_per_amount = 1.0;
  int decimals = 2;
  std::vector<std::string> units = {};
};

AmountEntry entry_of(const recipe::Line& line) {
  switch (line.kind) {
    case LineKind::meat:
      return {{"amount", NumberKind::share, "%", 0.0, 1.0}, Say::line_share_of_meat, 1.0, 2};
    case LineKind::salt:
      return {{"amount", NumberKind::share, "g/kg", 0.0, 0.5}, Say::line_salt, 1e-3, 2, {"g/kg", "%"}};
    case LineKind::cure: return {{"amount", NumberKind::ppm, "mg/kg", 0.0, 10000.0}, Say::line_dose, 1.0, 1};
    case LineKind::additive:
    case LineKind::culture: break;
  }
  switch (line.basis) {
    case Basis::percent_of_meat:
      return {{"amount", NumberKind::share, "%", 0.0, 2.0}, Say::line_amount, 1.0, 3};
    case Basis::g_per_kg:
      return {{"amount", NumberKind::share, "g/kg", 0.0, 2.0}, Say::line_amount, 1e-3, 3, {"g/kg", "%"}};
    case Basis::fixed_g:
    case Basis::g_per_piece: break;
  }
  return {{"amount", NumberKind::mass, "g", 0.0, 1e6}, Say::line_amount, 1.0, 2, {"g", "kg", "oz"}};
}

// An amount that means the same on another basis, by one kilogram of meat.
double on_basis(const recipe::Recipe& recipe, const recipe::Line& line, Basis to) {
  const double piece_kg = std::max(1e-6, recipe::piece_mass(recipe).value / 1000.0);
  double g_per_kg = line.amount;
  if (line.basis == Basis::percent_of_meat) g_per_kg = line.amount * 1000.0;
  if (line.basis == Basis::g_per_piece) g_per_kg = line.amount / piece_kg;
  if (to == Basis::percent_of_meat) return g_per_kg / 1000.0;
  if (to == Basis::g_per_piece) return g_per_kg * piece_kg;
  return g_per_kg;
}

words::Text material_words(const Screen& s, const recipe::Line& line) {
  if (line.material.empty()) return s.say(Say::line_material_none);
  return material_name(s.session.book.supplies(), s.l, line.material);
}

void draw_packet(Screen& s, parts::Key here, recipe::Recipe recipe, std::size_t i) {
  Session& session = s.session;
  const Id id = session.view.recipe;
  recipe::Line& line = recipe.lines[i];
  if (!line.packet) {
    parts::gap(s.page, 16.0);
    if (parts::act(s.page, {here / "use_packet", s.say(Say::packet_use), parts::ActKind::other, true, {}})) {
      // The dose stays what it is until the packet's own figures are typed.
      const double g_per_kg = std::max(1e-3, on_basis(recipe, line, Basis::g_per_kg));
      line.packet = recipe::Packet{Grams(g_per_kg * 100.0), Grams(100000.0), std::nullopt, true};
      session.change_recipe(id, recipe);
    }
    return;
  }
  parts::gap(s.page, 24.0);
  parts::second_heading(s.page, s.say(Say::packet_says));
  recipe::Packet& packet = *line.packet;
  bool changed = false;
  if (const auto holds =
          number_entry(s, here / "holds", Say::packet_holds, {"packet", NumberKind::mass, "g", 0.1, 1e5},
                       packet.holds.value, 2, {"g", "kg"})) {
    packet.holds = Grams(*holds);
    changed = true;
  }
  if (const auto meat =
          number_entry(s, here / "for", Say::packet_for, {"meat", NumberKind::mass, "kg", 100.0, 1e7},
                       packet.for_meat.value, 3, {"kg", "g", "lb"})) {
    packet.for_meat = Grams(*meat);
    changed = true;
  }
  changed = packet_entry(s, here, packet) || changed;
  if (parts::act(s.page, {here / "forget", s.say(Say::packet_forget), parts::ActKind::bare, true, {}})) {
    line.amount = packet.holds.value * 1000.0 / packet.for_meat.value;
    line.basis = Basis::g_per_kg;
    line.packet.reset();
    changed = true;
  }
  if (changed) session.change_recipe(id, recipe);
}

void draw_mix_of_line(Screen& s, parts::Key here, const recipe::Recipe& recipe) {
  parts::gap(s.page, 24.0);
  parts::second_heading(s.page, s.say(Say::mix_of_recipe));
  parts::paragraph(s.page, mix_words(s.l, recipe.mix));
  if (!recipe.mix.supply.empty()) {
    parts::reason(s.page, s.say(Say::mix_bound_to, {words::arg("name", recipe.mix.name)}));
  } else {
    parts::reason(s.page, s.say(Say::mix_not_bound));
  }
  parts::paragraph(s.page, s.say(Say::mix_caution));
  if (parts::act(s.page, {here / "mix", s.say(Say::mix_choose), parts::ActKind::other, true, {}})) {
    s.session.open_leaf(BenchLeaf::mix);
  }
}

}  // namespace

words::Text asked(const words::Language& l, const recipe::Line& line) {
  switch (line.kind) {
    case LineKind::meat: return per_cent(l, line.amount, 1);
    case LineKind::salt: return words::measure(l, line.amount, 1, "g/kg");
    case LineKind::cure: return mg_per_kg(l, Ppm(line.amount));
    case LineKind::additive:
    case LineKind::culture: break;
  }
  if (line.packet && line.packet->for_meat.value > 0.0) {
    return words::measure(l, line.packet->holds.value * 1000.0 / line.packet->for_meat.value, 3, "g/kg");
  }
  switch (line.basis) {
    case Basis::percent_of_meat: return share_of_meat(l, line.amount);
    case Basis::g_per_kg: return words::measure(l, line.amount, line.amount < 1.0 ? 2 : 1, "g/kg");
    case Basis::fixed_g:
      return words::text(l, Say::in_all, {words::arg("amount", grams(l, Grams(line.amount)))});
    case Basis::g_per_piece: break;
  }
  return words::text(l, Say::each_piece, {words::arg("amount", grams(l, Grams(line.amount)))});
}

words::Text mix_words(const words::Language& l, const recipe::CuringMix& mix) {
  return words::text(l, Say::mix_is,
                     {words::arg("name", mix.name), words::arg("nitrite", per_cent(l, mix.nitrite, 2)),
                      words::arg("nitrate", per_cent(l, mix.nitrate, 2))});
}

void draw_line(Screen& s) {
  Session& session = s.session;
  const auto found = open_recipe(s, Say::line_of);
  if (found == nullptr) return;
  recipe::Recipe recipe = *found;
  const std::optional<std::size_t> at = place_of(recipe.lines, session.view.item);
  if (!at) {
    session.open_leaf(BenchLeaf::sheet);
    return;
  }
  recipe::Line& line = recipe.lines[*at];
  const Id id = session.view.recipe;
  const parts::Key here = key("line") / id / line.id;  // a copy of the recipe has lines of the same ids
  draw_notice(s);

  if (const auto name = words_entry(s, here / "name", Say::line_name, line.name)) {
    line.name = *name;
    session.change_recipe(id, recipe);
  }
  if (line.kind == LineKind::meat || line.kind == LineKind::additive || line.kind == LineKind::culture) {
    parts::gap(s.page, 16.0);
    parts::Row row;
    row.key = here / "material";
    row.name = s.say(Say::line_material);
    row.fact = material_words(s, line);
    if (parts::row(s.page, row)) session.open_leaf(BenchLeaf::pick, line.id);
  }
  if (!line.packet) {
    const AmountEntry entry = entry_of(line);
    if (const auto typed =
            number_entry(s, here / "amount" / static_cast<int>(line.basis), entry.label, entry.rule,
                         line.amount * entry.stored_per_amount, entry.decimals, entry.units)) {
      line.amount = *typed / entry.stored_per_amount;
      session.change_recipe(id, recipe);
    }
  }
  if (line.kind == LineKind::meat) {
    double others = 0.0;
    for (const recipe::Line& other : recipe.lines) {
      if (other.kind == LineKind::meat && other.id != line.id) others += other.amount;
    }
    const double sum = others + line.amount;
    if (std::abs(sum - 1.0) > 0.0005) {
      parts::paragraph(s.page, s.say(Say::line_sum, {words::arg("sum", per_cent(s.l, sum, 1))}));
      if (others <= 1.0 &&
          parts::act(s.page, {here / "fill_up", s.say(Say::line_fill_up), parts::ActKind::other, true, {}})) {
        line.amount = 1.0 - others;
        session.change_recipe(id, recipe);
      }
    }
  }
  const tables::Additive* usual =
      line.kind == LineKind::additive ? tables::find_additive(line.material) : nullptr;
  if (usual != nullptr && usual->usual_high > 0.0) {
    parts::reason(s.page,
                  s.say(Say::line_usual, {words::arg("low", words::number(s.l, usual->usual_low, 1)),
                                          words::arg("high", words::number(s.l, usual->usual_high, 1))}));
  }
  if (line.kind == LineKind::additive || (line.kind == LineKind::culture && !line.packet)) {
    if (const auto basis = choose(s, here / "basis", Say::line_basis, kBases, line.basis)) {
      line.amount = on_basis(recipe, line, *basis);
      line.basis = *basis;
      session.change_recipe(id, recipe);
    }
  }
  if (line.kind == LineKind::culture) draw_packet(s, here, recipe, *at);
  if (line.kind == LineKind::cure) draw_mix_of_line(s, here, recipe);

  parts::gap(s.page, 36.0);
  const std::optional<int> act = parts::acts(
      s.page,
      {{here / "up", s.say(Say::line_up), parts::ActKind::other, *at > 0, {}},
       {here / "down", s.say(Say::line_down), parts::ActKind::other, *at + 1 < recipe.lines.size(), {}},
       {here / "remove", s.say(Say::line_remove), parts::ActKind::bare, true, {}}});
  if (act == 0) std::swap(recipe.lines[*at], recipe.lines[*at - 1]);
  if (act == 1) std::swap(recipe.lines[*at], recipe.lines[*at + 1]);
  if (act == 0 || act == 1) session.change_recipe(id, recipe);
  if (act == 2) {
    const std::string name = line.name;
    recipe.lines.erase(recipe.lines.begin() + static_cast<std::ptrdiff_t>(*at));
    for (recipe::Step& step : recipe.steps) std::erase(step.lines, session.view.item);
    if (session.change_recipe(id, recipe)) {
      session.open_leaf(BenchLeaf::sheet);
      session.tell_edit(s.say(Say::line_removed, {words::arg("name", name)}));
    }
  }
  draw_history(s);
}

namespace {

// One thing that may go in: its row, and the line it makes.
struct Offered {
  parts::Row row;
  recipe::Line line;
};

Offered offer(const Screen& s, LineKind kind, std::string_view material, words::Text name, words::Text fact,
              double amount) {
  Offered out;
  out.row.key = key("pick") / static_cast<int>(kind) / material;
  out.row.name = name;
  out.row.fact = std::move(fact);
  out.line.kind = kind;
  out.line.name = name.plain();
  out.line.material = std::string(material);
  out.line.basis = kind == LineKind::meat ? Basis::percent_of_meat : Basis::g_per_kg;
  out.line.amount = amount;
  (void)s;
  return out;
}

// The maker's own rows of a kind, first and marked as theirs.
void offer_own(const Screen& s, recipe::SupplyKind kind, LineKind line, std::vector<Offered>& out) {
  for (const recipe::Supply& supply : s.session.book.supplies()) {
    if (supply.kind != kind) continue;
    Offered own = offer(s, line, supply.key, words::verbatim(supply.name), s.say(Say::pick_mine), 1.0);
    own.line.parts = supply.parts;
    own.line.packet = supply.packet;
    out.push_back(std::move(own));
  }
}

std::vector<Offered> offers(const Screen& s, LineKind kind, const recipe::Recipe& recipe) {
  std::vector<Offered> out;
  double meat = 0.0;
  bool salt = false;
  bool cure = false;
  for (const recipe::Line& line : recipe.lines) {
    if (line.kind == LineKind::meat) meat += line.amount;
    salt = salt || line.kind == LineKind::salt;
    cure = cure || line.kind == LineKind::cure;
  }
  switch (kind) {
    case LineKind::meat:
      offer_own(s, recipe::SupplyKind::cut, kind, out);
      for (const tables::Cut& cut : tables::cuts()) {
        out.push_back(offer(s, kind, cut.key, material_name({}, s.l, cut.key),
                            s.say(Say::pick_cut_fact, {words::arg("water", per_cent(s.l, cut.water, 0)),
                                                       words::arg("protein", per_cent(s.l, cut.protein, 0)),
                                                       words::arg("fat", per_cent(s.l, cut.fat, 0))}),
                            std::max(0.0, 1.0 - meat)));
      }
      break;
    case LineKind::additive:
      offer_own(s, recipe::SupplyKind::additive, kind, out);
      for (const tables::Additive& additive : tables::additives()) {
        const double middle = 0.5 * (additive.usual_low + additive.usual_high);
        out.push_back(offer(
            s, kind, additive.key, material_name({}, s.l, additive.key),
            s.say(Say::pick_usual_fact, {words::arg("low", words::number(s.l, additive.usual_low, 1)),
                                         words::arg("high", words::number(s.l, additive.usual_high, 1))}),
            middle));
      }
      break;
    case LineKind::culture:
      offer_own(s, recipe::SupplyKind::culture, kind, out);
      for (const tables::Culture& culture : tables::cultures()) {
        out.push_back(offer(
            s, kind, culture.key, material_name({}, s.l, culture.key),
            s.say(Say::pick_culture_fact,
                  {words::arg("organism", culture.organism), words::arg("low", celsius(s.l, culture.use_low)),
                   words::arg("high", celsius(s.l, culture.use_high))}),
            0.2));
      }
      break;
    case LineKind::salt:
    case LineKind::cure:
      if (!salt) out.push_back(offer(s, LineKind::salt, {}, s.say(Say::pick_salt), {}, 28.0));
      if (!cure) out.push_back(offer(s, LineKind::cure, {}, s.say(Say::pick_cure), {}, 110.0));
      break;
  }
  return out;
}

constexpr std::array<std::pair<LineKind, Say>, 4> kKinds = {{{LineKind::meat, Say::kind_meat},
                                                             {LineKind::additive, Say::kind_ingredient},
                                                             {LineKind::culture, Say::kind_culture},
                                                             {LineKind::salt, Say::kind_salts}}};

}  // namespace

// Of a line: what it is. Without a line: what a new one is.
void draw_pick(Screen& s) {
  Session& session = s.session;
  const auto found = open_recipe(s, Say::pick_title);
  if (found == nullptr) return;
  recipe::Recipe recipe = *found;
  const std::optional<std::size_t> at = place_of(recipe.lines, session.view.item);
  int& picked = session.drafts.recipes[session.view.recipe].pick_kind;
  int kind = picked;
  if (at) {
    for (std::size_t i = 0; i < kKinds.size(); ++i) {
      if (kKinds[i].first == recipe.lines[*at].kind) kind = static_cast<int>(i);
    }
  } else {
    std::vector<parts::Choice> choices;
    for (std::size_t i = 0; i < kKinds.size(); ++i) {
      choices.push_back({key("pick") / "kind" / static_cast<int>(i), s.say(kKinds[i].second), {}});
    }
    parts::gap(s.page, 16.0);
    if (const auto chosen = parts::one_of(s.page, s.say(Say::pick_kind), choices, kind)) picked = *chosen;
  }
  const LineKind wanted = kKinds[static_cast<std::size_t>(kind)].first;
  std::vector<Offered> all = offers(s, wanted, recipe);
  if (wanted == LineKind::additive) {
    all.push_back(offer(s, wanted, {}, s.say(Say::pick_own_words), s.say(Say::line_material_none), 1.0));
  }
  // By name, so that letters can head them.
  std::stable_sort(all.begin(), all.end(), [](const Offered& a, const Offered& b) {
    return words::folded(a.row.name.plain()) < words::folded(b.row.name.plain());
  });
  parts::List list{key("pick") / session.view.recipe / kind, {}};
  for (const Offered& one : all) list.rows.push_back(one.row);
  const std::optional<int> pressed = parts::list(s.page, list);
  if (!pressed) return;
  recipe::Line line = all[static_cast<std::size_t>(*pressed)].line;
  if (at) {
    recipe::Line& present = recipe.lines[*at];
    // A name that still is the old material's goes with it; the maker's own word stays.
    const bool named_by_table =
        present.name == material_name(session.book.supplies(), s.l, present.material).plain();
    if (present.name.empty() || named_by_table) present.name = line.name;
    present.material = line.material;
    present.parts = line.parts;
    if (line.packet) present.packet = line.packet;
  } else {
    line.id = make_id(session.book.ports());
    if (line.kind == LineKind::cure) line.name = recipe.mix.name;
    recipe.lines.push_back(line);
    session.view.item = line.id;
  }
  session.change_recipe(session.view.recipe, recipe);
  session.open_leaf(BenchLeaf::line, session.view.item);
}

// Which of the maker's mixes meets the dose.
void draw_mix(Screen& s) {
  Session& session = s.session;
  const auto found = open_recipe(s, Say::pick_mix_title);
  if (found == nullptr) return;
  parts::lead(s.page, s.say(Say::pick_mix_lead));
  parts::paragraph(s.page, s.say(Say::mix_caution));
  parts::List list{key("mix"), {}};
  std::vector<std::string> packets;
  for (const recipe::Supply& supply : session.book.supplies()) {
    if (supply.kind != recipe::SupplyKind::curing_mix) continue;
    parts::Row row;
    row.key = key("mix") / supply.key;
    row.name = words::verbatim(supply.name);
    row.fact = mix_words(s.l, recipe::mix_of(supply));
    row.selected = found->mix.supply == supply.key;
    list.rows.push_back(std::move(row));
    packets.push_back(supply.key);
  }
  if (const auto pressed = parts::list(s.page, list)) {
    recipe::Recipe recipe = *found;
    recipe.mix.supply = packets[static_cast<std::size_t>(*pressed)];
    session.change_recipe(session.view.recipe, recipe);
    session.open_leaf(BenchLeaf::sheet);
    return;
  }
  parts::gap(s.page, 24.0);
  if (parts::act(s.page, {key("mix") / "new", s.say(Say::pick_mix_new), parts::ActKind::other, true, {}})) {
    session.enter_packet();
  }
}

}  // namespace saltrafter::desk
