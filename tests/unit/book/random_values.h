// Recipes, batches, supplies and settings by chance from a seed, within what a file may hold: each member is now
// at its default, now not.
#pragma once

#include <cmath>
#include <random>
#include <string>
#include <vector>

#include "core/book/book.h"

namespace saltrafter::book::sample {

class Dice {
 public:
  explicit Dice(std::uint64_t seed) : bits_(seed) {}

  std::uint64_t below(std::uint64_t n) { return bits_() % n; }
  bool flip() { return below(2) == 0; }
  // Now an end of the range, now a round number, now one with all its digits.
  double within(double low, double high) {
    const double share = static_cast<double>(bits_() >> 11U) / 9007199254740992.0;
    switch (below(8)) {
      case 0: return low;
      case 1: return high;
      case 2: {
        const double round = std::round((low + share * (high - low)) * 100.0) / 100.0;
        return std::fmin(high, std::fmax(low, round));
      }
      default: break;
    }
    return std::fmin(high, low + share * (high - low));
  }
  template <class Value>
  Value one_of(int count) {
    return static_cast<Value>(below(static_cast<std::uint64_t>(count)));
  }
  Id id() {
    Ports ports;
    ports.random_bits = [this] { return bits_(); };
    return make_id(ports);
  }
  Id id_or_none() { return flip() ? id() : Id{}; }
  Date date() { return Date(std::chrono::days(7305 + static_cast<int>(below(40000)))); }  // from 1990 on
  std::int64_t instant() {
    constexpr std::int64_t kLatest = 9007199254740992;
    switch (below(6)) {
      case 0: return 0;
      case 1: return kLatest;
      case 2: return kLatest - 1 - static_cast<std::int64_t>(below(1000));
      default: break;
    }
    return 1790000000000 + static_cast<std::int64_t>(below(40000000000));
  }
  std::string words() {
    static const char* const kWords[] = {
        "", "salt", "\"cold\"", "Gr\xC3\xB6\xC3\x9Fz", "\xF0\x9F\x90\x96", "a\\b", "2 days\nmore", "\xE8\x85\xB8"};
    return std::string(kWords[below(8)]) + (flip() ? " " + std::to_string(below(1000)) : "");
  }
  std::string some_words() { return "x" + words(); }

 private:
  std::mt19937_64 bits_;
};

inline recipe::Composition parts(Dice& dice) {
  recipe::Composition out;
  double left = 1.0;
  for (double* part : {&out.water_g, &out.protein_g, &out.fat_g, &out.salt_g}) {
    *part = dice.within(0.0, left);
    left = std::fmax(0.0, left - *part);
  }
  out.rest_g = left;
  if (dice.flip()) out.sugar_g = dice.within(0.0, 1.0);
  return out;
}

inline recipe::Packet packet(Dice& dice) {
  recipe::Packet out;
  out.holds = Grams(dice.within(0.001, 1e6));
  out.for_meat = Grams(dice.within(1.0, 1e8));
  if (dice.flip()) out.opened_on = dice.date();
  out.kept_frozen = dice.flip();
  return out;
}

inline recipe::CuringMix mix(Dice& dice) {
  recipe::CuringMix out;
  out.name = dice.words();
  out.nitrite = dice.within(0.0, 1.0);
  out.nitrate = dice.within(0.0, 1.0);
  out.potassium_nitrite = dice.flip();
  out.potassium_nitrate = dice.flip();
  if (dice.flip()) out.supply = dice.id().text;
  return out;
}

inline recipe::Recipe random_recipe(Dice& dice) {
  recipe::Recipe out;
  out.name = dice.words();
  out.note = dice.words();
  out.product_class = dice.one_of<recipe::ProductClass>(3);
  out.method = dice.one_of<recipe::CureMethod>(4);
  out.mix = mix(dice);
  for (std::uint64_t i = dice.below(6); i-- > 0;) {
    recipe::Line line;
    line.id = dice.id();
    line.kind = dice.one_of<recipe::LineKind>(5);
    line.name = dice.words();
    line.material = dice.words();
    line.basis = dice.one_of<recipe::Basis>(4);
    line.amount = dice.within(0.0, 1.0);
    if (dice.flip()) line.parts = parts(dice);
    if (dice.flip()) line.packet = packet(dice);
    out.lines.push_back(line);
  }
  if (dice.flip()) out.casing = dice.words();
  out.form = dice.one_of<recipe::Form>(5);
  out.casing_diameter = Metres(dice.within(0.005, 0.5));
  if (dice.flip()) out.piece_length = Metres(dice.within(0.01, 5.0));
  if (dice.flip()) out.piece_width = Metres(dice.within(0.01, 5.0));
  if (dice.flip()) out.bone_share = dice.within(0.0, 0.5);
  out.skin_on = dice.flip();
  if (dice.flip()) {
    out.brine = recipe::Brine{dice.within(50.0, 5000.0), dice.within(0.0, 0.5)};
    out.brine->days = Days(dice.within(0.0, 3650.0));
  }
  if (dice.flip()) out.wanted_ph = dice.within(4.2, 5.6);
  out.wanted_loss = dice.within(0.0, 0.9);
  for (std::uint64_t i = dice.below(4); i-- > 0;) {
    recipe::Stage stage;
    stage.id = dice.id();
    stage.kind = dice.one_of<recipe::StageKind>(6);
    stage.temperature = Celsius(dice.within(-40.0, 80.0));
    if (dice.flip()) stage.humidity = RelativeHumidity(dice.within(0.0, 1.0));
    stage.days = Days(dice.within(0.0, 3650.0));
    if (dice.flip()) stage.until_loss = dice.within(0.0, 0.9);
    stage.sealed = dice.flip();
    if (dice.flip()) stage.surface = dice.one_of<recipe::Surface>(3);
    out.stages.push_back(stage);
  }
  for (std::uint64_t i = dice.below(6); i-- > 0;) {
    recipe::Step step;
    step.id = dice.id();
    step.kind = dice.one_of<recipe::StepKind>(16);
    step.stage = dice.one_of<recipe::StageKind>(6);
    step.before_stage = dice.flip();
    step.words = dice.words();
    for (std::uint64_t k = dice.below(3); k-- > 0;) step.lines.push_back(dice.id());
    step.in_liquid = dice.flip();
    if (dice.flip()) step.value = dice.within(0.0, 100.0);
    if (dice.flip()) step.most = Celsius(dice.within(-40.0, 120.0));
    step.asks = dice.one_of<recipe::Asked>(6);
    out.steps.push_back(step);
  }
  return out;
}

inline safety::Evidence random_evidence(Dice& dice) {
  safety::Evidence out;
  for (std::uint64_t i = dice.below(3); i-- > 0;) {
    safety::MeatLot lot;
    lot.id = dice.id();
    lot.line = dice.id_or_none();
    lot.name = dice.words();
    lot.species = dice.one_of<tables::Species>(8);
    lot.wild = dice.flip();
    lot.certified_free = dice.flip();
    if (dice.flip()) {
      lot.frozen = safety::Frozen{Celsius(dice.within(-90.0, 30.0)), Days(dice.within(0.0, 3650.0)),
                                  Metres(dice.within(0.0, 2.0)), dice.flip()};
    }
    if (dice.flip()) lot.ph = dice.within(0.0, 14.0);
    if (dice.flip()) lot.ph_uncertainty = dice.within(0.0, 14.0);
    lot.liver = dice.flip();
    out.lots.push_back(lot);
  }
  for (std::uint64_t i = dice.below(5); i-- > 0;) {
    safety::Reading reading;
    reading.id = dice.id();
    reading.kind = dice.one_of<safety::ReadingKind>(8);
    reading.at_utc_ms = dice.instant();
    reading.value = dice.within(0.0, 1.0);
    if (dice.flip()) reading.uncertainty = dice.within(0.0, 1.0);
    if (reading.kind == safety::ReadingKind::firmness || reading.kind == safety::ReadingKind::cut_look) {
      reading.value = static_cast<double>(dice.below(drying::kFeels.size()));
      reading.uncertainty = 0.0;
    }
    reading.piece = dice.id_or_none();
    reading.site = dice.one_of<safety::Site>(4);
    reading.instrument = dice.one_of<safety::InstrumentState>(4);
    reading.note = dice.words();
    out.readings.push_back(reading);
  }
  for (std::uint64_t i = dice.below(3); i-- > 0;) {
    safety::StageDone stage;
    stage.stage = dice.id();
    stage.began_utc_ms = dice.instant();
    if (dice.flip()) stage.ended_utc_ms = dice.instant();
    out.stages.push_back(stage);
  }
  for (std::uint64_t i = dice.below(3); i-- > 0;) {
    out.acknowledged.push_back({dice.id(), dice.some_words(), dice.date(), dice.some_words()});
  }
  for (std::uint64_t i = dice.below(3); i-- > 0;) {
    out.acts.push_back({dice.id(), dice.id_or_none(), dice.one_of<safety::Standing>(4), dice.date(),
                        dice.some_words(), dice.some_words()});
  }
  out.taken_down = dice.flip();
  if (dice.flip()) out.loss_now = dice.within(-1.0, 1.0);
  return out;
}

inline std::optional<Grams> mass_or_none(Dice& dice) {
  return dice.flip() ? std::optional<Grams>(dice.within(0.0, 1e6)) : std::nullopt;
}

inline std::optional<plan::Foreseen> random_foreseen(Dice& dice) {
  if (dice.flip()) return std::nullopt;
  plan::Foreseen out{dice.within(-1.0, 1.0), dice.within(-1.0, 1.0), dice.within(-1.0, 1.0), {}, {}, {}, 0};
  if (dice.flip()) out.day = Days(dice.within(0.0, 3650.0));
  if (dice.flip()) out.core = WaterActivity(dice.within(0.0, 1.0));
  if (dice.flip()) out.mean = WaterActivity(dice.within(0.0, 1.0));
  out.weighings = static_cast<int>(dice.below(5001));
  return out;
}

inline void random_pieces(Dice& dice, plan::Batch& out) {
  for (std::uint64_t i = dice.below(3); i-- > 0;) {
    out.pieces.push_back({dice.id(), static_cast<int>(dice.below(1000)), Grams(dice.within(0.0, 1e6)),
                          Metres(dice.within(0.001, 1.0)), mass_or_none(dice), mass_or_none(dice),
                          mass_or_none(dice)});
  }
  for (std::uint64_t i = dice.below(3); i-- > 0;) {
    drying::Weighing weighing{dice.id(), {}, dice.date(), Grams(dice.within(0.0, 1e6))};
    if (dice.flip()) {
      weighing.piece = dice.id();
    } else {
      for (std::uint64_t k = 1 + dice.below(3); k-- > 0;) weighing.bunch.push_back(dice.id());
    }
    if (dice.flip()) weighing.tare = Grams(dice.within(0.0, 1e6));
    if (dice.flip()) weighing.minute = static_cast<int>(dice.below(1440));
    out.weighings.push_back(weighing);
  }
  for (std::uint64_t i = dice.below(3); i-- > 0;) {
    out.events.push_back({dice.id(), dice.id(), dice.one_of<plan::EventKind>(6), dice.date(),
                          Grams(dice.within(0.0, 1e6)), Grams(dice.within(0.0, 1e6)), dice.words()});
  }
  for (std::uint64_t i = dice.below(3); i-- > 0;) {
    plan::TakenDown down;
    down.id = dice.id();
    down.piece = dice.id();
    down.date = dice.date();
    down.mass = Grams(dice.within(0.0, 1e6));
    down.usable = mass_or_none(dice);
    for (std::uint64_t k = dice.below(3); k-- > 0;) down.readings.push_back(dice.id());
    for (int fault = 0; fault < 9; ++fault) {
      if (dice.below(4) == 0) down.faults.push_back(static_cast<plan::Fault>(fault));
    }
    down.other = dice.words();
    down.note = dice.words();
    down.foreseen = random_foreseen(dice);
    out.taken_down.push_back(down);
  }
}

inline plan::Batch random_batch(Dice& dice) {
  plan::Batch out;
  out.name = dice.words();
  out.recipe = dice.id_or_none();
  out.made_from = random_recipe(dice);
  out.meat = Grams(dice.within(0.0, 1e6));
  out.hung = dice.flip();
  if (out.hung || dice.flip()) out.hung_on = dice.date();
  out.begun_on = out.hung_on != Date{} && dice.flip() ? out.hung_on : dice.date();
  out.air = {Celsius(dice.within(-40.0, 80.0)), RelativeHumidity(dice.within(0.0, 1.0)),
             MetresPerSecond(dice.within(0.0, 20.0))};
  for (std::uint64_t i = dice.below(4); i-- > 0;) {
    out.weighed.push_back({dice.id(), Grams(dice.within(0.0, 1e6)), dice.instant(), dice.words()});
  }
  for (std::uint64_t i = dice.below(4); i-- > 0;) {
    plan::StepDone step{dice.id(), dice.instant(), {}, dice.words()};
    if (dice.flip()) step.value = dice.within(-40.0, 1e6);
    out.steps_done.push_back(step);
  }
  if (dice.flip()) out.evidence = random_evidence(dice);
  random_pieces(dice, out);
  out.loss_base = dice.one_of<plan::LossBase>(2);
  if (dice.flip()) out.wishes.push_back({drying::WishKind::loss, dice.within(0.01, 0.9)});
  if (dice.flip()) out.wishes.push_back({drying::WishKind::activity, dice.within(0.3, 0.999)});
  if (dice.flip()) out.wishes.push_back({drying::WishKind::least_days, dice.within(0.0, 3650.0)});
  if (dice.flip()) {
    out.costs = {Grams(dice.within(0.0, 1e6)), dice.within(0.0, 1e6), dice.within(0.0, 1e9), {}};
    if (dice.flip()) out.costs.ends_share = dice.within(0.0, 1.0);
  }
  out.from = dice.id_or_none();
  return out;
}

inline recipe::Supply random_supply(Dice& dice) {
  recipe::Supply out;
  out.kind = dice.one_of<recipe::SupplyKind>(5);
  out.name = dice.words();
  out.replaces = dice.words();
  if (dice.flip()) out.parts = parts(dice);
  out.species = dice.one_of<tables::Species>(8);
  if (dice.flip()) out.mix = mix(dice);
  if (dice.flip()) out.packet = packet(dice);
  if (dice.flip()) out.diameter = Metres(dice.within(0.0, 0.5));
  for (int i = 0; i < 14; ++i) {
    if (dice.below(5) == 0) out.allergens = out.allergens.with(static_cast<tables::Allergen>(i));
  }
  out.brings_nitrate = dice.flip();
  if (dice.flip()) out.nitrate_share = dice.within(0.0, 1.0);
  if (dice.flip()) out.price = dice.within(0.0, 1e9);
  out.note = dice.words();
  return out;
}

inline plan::Chamber random_chamber(Dice& dice) {
  plan::Chamber out;
  out.name = dice.words();
  for (std::uint64_t i = dice.below(4); i-- > 0;) {
    out.changes.push_back({dice.id(), dice.date(), dice.one_of<plan::ChamberChangeKind>(5), dice.words()});
  }
  for (std::uint64_t i = dice.below(4); i-- > 0;) {
    out.air.push_back({dice.id(), static_cast<std::int64_t>(dice.below(2'000'000'000'000)), Celsius(dice.within(-5.0, 45.0)),
                       RelativeHumidity(dice.within(0.0, 0.999))});
  }
  return out;
}

inline Settings random_settings(Dice& dice) {
  Settings out;
  if (dice.flip()) out.values["theme"] = dice.words();
  if (dice.flip()) out.values["meat_g/" + dice.id().text] = "1200";
  out.chosen = dice.one_of<safety::Chosen>(5);
  for (std::uint64_t i = dice.below(4); i-- > 0;) {
    out.own_limits.push_back({dice.id(), dice.one_of<tables::Agent>(11), dice.one_of<tables::LimitSense>(2),
                              dice.within(0.0, 1.0)});
  }
  if (dice.flip()) {
    out.scales.fine_step = Grams(dice.within(0.001, 1000.0));
    out.scales.fine_most = Grams(dice.within(0.0, 1e6));
    out.scales.coarse_step = Grams(dice.within(0.001, 1000.0));
  }
  if (dice.flip()) out.money = dice.flip() ? "\xE2\x82\xAC" : "CHF";
  return out;
}

}  // namespace saltrafter::book::sample
