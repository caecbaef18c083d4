// The Rails: the meat of a batch, lot by lot: what is known of it before it was salted.
#include "core/desk/batch_forms.h"

namespace saltrafter::desk {
namespace {

using Say = words::Id;
using safety::MeatLot;

words::Text lot_fact(const Screen& s, const MeatLot& lot) {
  std::vector<words::Text> facts = {species_name(s.l, lot.species)};
  if (lot.frozen) {
    facts.push_back(s.say(Say::lot_fact_frozen,
                          {words::arg("days", s.say(Say::days_n, {words::count("n", static_cast<int>(lot.frozen->days.value))})),
                           words::arg("temperature", celsius(s.l, lot.frozen->temperature))}));
  }
  if (lot.certified_free) facts.push_back(s.say(Say::lot_fact_certified));
  if (lot.ph) facts.push_back(s.say(Say::lot_fact_ph, {words::arg("ph", words::number(s.l, *lot.ph, 2))}));
  if (facts.size() == 1) facts.push_back(s.say(Say::lot_fact_nothing));
  return with_commas(facts);
}

bool draw_frozen(Screen& s, parts::Key here, MeatLot& lot) {
  bool changed = false;
  parts::gap(s.page, 16.0);
  if (parts::tick_box(s.page, here / "frozen", s.say(Say::lot_frozen), lot.frozen.has_value())) {
    if (lot.frozen) {
      lot.frozen.reset();
    } else {
      lot.frozen = safety::Frozen{Celsius(-18.0), Days(0.0), Metres(0.05), false};
    }
    changed = true;
  }
  if (!lot.frozen) return changed;
  if (const auto t = number_entry(s, here / "at", Say::lot_frozen_at, {"temperature", NumberKind::temperature, "°C", -60.0, 0.0},
                                  lot.frozen->temperature.value, 1, {"°C", "°F"})) {
    lot.frozen->temperature = Celsius(*t);
    changed = true;
  }
  if (const auto days = number_entry(s, here / "days", Say::lot_frozen_days, {"days", NumberKind::days, "d", 0.0, 3650.0},
                                     lot.frozen->days.value, 1)) {
    lot.frozen->days = Days(*days);
    changed = true;
  }
  if (const auto thick = number_entry(s, here / "thick", Say::lot_thickness, {"thickness", NumberKind::length, "mm", 0.005, 0.69},
                                      lot.frozen->thickness.value, 0, {"mm", "in"})) {
    lot.frozen->thickness = Metres(*thick);
    changed = true;
  }
  parts::gap(s.page, 16.0);
  if (parts::tick_box(s.page, here / "core", s.say(Say::lot_core), lot.frozen->core_measured)) {
    lot.frozen->core_measured = !lot.frozen->core_measured;
    changed = true;
  }
  return changed;
}

// True where the lot was changed; its act may remove it.
bool draw_lot(Screen& s, parts::Key here, MeatLot& lot) {
  bool changed = false;
  if (const auto name = words_entry(s, here / "name", Say::lot_name, lot.name)) {
    lot.name = *name;
    changed = true;
  }
  if (const auto species = choose(s, here / "species", Say::lot_species, kSpecies, lot.species)) {
    lot.species = *species;
    changed = true;
  }
  const auto tick = [&](std::string_view name, Say say, bool& member) {
    parts::gap(s.page, 16.0);
    if (!parts::tick_box(s.page, here / name, s.say(say), member)) return;
    member = !member;
    changed = true;
  };
  tick("wild", Say::lot_wild, lot.wild);
  tick("certified", Say::lot_certified, lot.certified_free);
  tick("liver", Say::lot_liver, lot.liver);
  changed = draw_frozen(s, here, lot) || changed;
  if (const auto ph = number_or_nothing(s, here / "ph", Say::lot_ph, Say::lot_ph_what, {"ph", NumberKind::plain, "", 4.5, 7.5},
                                        lot.ph, 2)) {
    lot.ph = *ph;
    changed = true;
  }
  return changed;
}

}  // namespace

void draw_lots(Screen& s) {
  const auto open = open_batch(s, Say::lots_title);
  if (!open) return;
  Session& session = s.session;
  plan::Batch after = *open->batch;
  std::vector<MeatLot>& lots = after.evidence.lots;
  if (lots.empty()) parts::lead(s.page, s.say(Say::lots_none));
  bool changed = false;
  for (std::size_t i = 0; i < lots.size(); ++i) {
    const parts::Key here = key("lot") / lots[i].id;
    parts::Row row;
    row.key = here;
    row.name = words::verbatim(lots[i].name);
    row.fact = lot_fact(s, lots[i]);
    const bool in_hand = session.view.lot == lots[i].id;
    row.selected = in_hand;
    if (parts::row(s.page, row)) session.view.lot = in_hand ? Id{} : lots[i].id;
    draw_findings_about(s, open->judged->findings, lots[i].id);
    if (!in_hand) continue;
    changed = draw_lot(s, here, lots[i]) || changed;
    parts::gap(s.page, 16.0);
    if (parts::act(s.page, {here / "remove", s.say(Say::lot_remove), parts::ActKind::bare, true, {}})) {
      lots.erase(lots.begin() + static_cast<std::ptrdiff_t>(i));
      changed = true;
      break;
    }
    parts::gap(s.page, 24.0);
  }
  parts::gap(s.page, 24.0);
  if (parts::act(s.page, {key("lot") / "add", s.say(Say::add_lot), parts::ActKind::other, true, {}})) {
    MeatLot lot;
    lot.id = make_id(session.book.ports());
    lot.name = s.say(Say::lot_new).plain();
    // The first animal of the recipe that no lot speaks of yet.
    for (const recipe::Line& line : after.made_from.lines) {
      const tables::Cut* cut = line.kind == recipe::LineKind::meat ? tables::find_cut(line.material) : nullptr;
      if (cut == nullptr) continue;
      bool spoken_of = false;
      for (const MeatLot& other : lots) spoken_of = spoken_of || other.species == cut->species;
      if (spoken_of) continue;
      lot.species = cut->species;
      lot.name = line.name;
      break;
    }
    session.view.lot = lot.id;
    lots.push_back(std::move(lot));
    changed = true;
  }
  if (changed) session.change_batch(open->id, after, "edit_lot");
  draw_history(s);
}

}  // namespace saltrafter::desk
