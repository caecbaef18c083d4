#include "core/safety/mix_findings.h"

#include <algorithm>
#include <cmath>
#include <string>

#include "core/safety/limits.h"

namespace saltrafter::safety {
namespace {

using tables::Limit;

constexpr double kSameStrength = 0.01;  // two strengths are one within a hundredth (choice)
constexpr double kFarOff = 5.0;         // no two kinds of mix that are sold lie nearer (choice)
// Between the mixes that stand in for all of the salt and those that are added to it.
constexpr double kWeakMost = 0.02;

bool alike(double a, double b) { return std::abs(a - b) <= kSameStrength * std::abs(b) + 1e-12; }

bool is_digit(char c) { return c >= '0' && c <= '9'; }

// A number as a label has it, with point or comma, and what stands behind it.
struct NamedNumber {
  double value = 0.0;
  bool whole = true;
  bool percent = false;
};

std::vector<NamedNumber> numbers_in(std::string_view name) {
  std::vector<NamedNumber> all;
  std::size_t i = 0;
  while (i < name.size()) {
    if (!is_digit(name[i])) {
      ++i;
      continue;
    }
    NamedNumber number;
    double scale = 1.0;
    for (; i < name.size(); ++i) {
      const bool sign = (name[i] == '.' || name[i] == ',') && i + 1 < name.size() && is_digit(name[i + 1]);
      if (sign && number.whole) {
        number.whole = false;
        continue;
      }
      if (!is_digit(name[i])) break;
      if (number.whole) {
        number.value = number.value * 10.0 + (name[i] - '0');
      } else {
        scale *= 0.1;
        number.value += scale * (name[i] - '0');
      }
    }
    std::size_t behind = i;
    while (behind < name.size() && (name[behind] == ' ' || name[behind] == '\xC2' || name[behind] == '\xA0'))
      ++behind;
    number.percent = behind < name.size() && name[behind] == '%';
    all.push_back(number);
  }
  return all;
}

MixLooks looks_by_name(const recipe::CuringMix& mix) {
  MixLooks looks = MixLooks::usual;
  bool strength_said = false;
  for (const NamedNumber& number : numbers_in(mix.name)) {
    if (number.percent) {
      const double said = number.value / 100.0;
      if (alike(said, mix.nitrite) || alike(said, mix.nitrate)) return MixLooks::usual;
      // What a label gives of salt or sugar is no strength.
      if (said > 0.5 || !(said > 0.0)) continue;
      const double ratio = mix.nitrite / said;
      looks = ratio >= kFarOff || ratio <= 1.0 / kFarOff ? MixLooks::called_strong : MixLooks::called_other;
      strength_said = true;
    } else if (number.whole && (number.value == 1.0 || number.value == 2.0) && !strength_said) {
      // Numbers 1 and 2 are strong mixes, without nitrate and with it.
      if (mix.nitrite < kWeakMost) return MixLooks::called_strong;
      if ((mix.nitrate > 0.0) != (number.value == 2.0)) looks = MixLooks::called_other;
    }
  }
  return looks;
}

MixLooks looks_by_strength(const recipe::CuringMix& mix) {
  bool tenfold = false;
  for (const tables::CuringMix& sold : tables::curing_mixes()) {
    if (!(sold.nitrite > 0.0)) continue;
    if (alike(mix.nitrite, sold.nitrite)) return MixLooks::usual;
    tenfold = tenfold || alike(mix.nitrite, 10.0 * sold.nitrite) || alike(10.0 * mix.nitrite, sold.nitrite);
  }
  return tenfold ? MixLooks::tenfold : MixLooks::unusual;
}

const recipe::Line* cure_line(const recipe::Recipe& recipe) {
  for (const recipe::Line& line : recipe.lines) {
    if (line.kind == recipe::LineKind::cure && line.amount > 0.0) return &line;
  }
  return nullptr;
}

Finding begun(Rule rule, const Id& about) {
  Finding finding;
  finding.rule = rule;
  finding.about = about;
  return finding;
}

Finding does_not_apply(Rule rule) {
  Finding finding = begun(rule, {});
  finding.known = tables::Known::choice;
  finding.level = Level::does_not_apply;
  return finding;
}

Finding asked_about(const Limit& row, const Subject& subject, const Id& about, const char* advice) {
  Finding finding = finding_of(row, subject);
  finding.rule = Rule::mix_confused;
  finding.about = about;
  finding.level = Level::near;
  finding.advice = advice;
  return finding;
}

const char* advice_of(MixLooks looks) {
  switch (looks) {
    case MixLooks::usual: break;
    case MixLooks::unusual: return "mix_strength_unusual";
    case MixLooks::tenfold: return "mix_strength_tenfold";
    case MixLooks::called_other: return "mix_called_other";
    case MixLooks::called_strong: return "mix_called_strong";
  }
  return "";
}

// The dose that was asked for and the one that was weighed, whichever is further off, against what is in use and a
// tenth of it. At most one finding.
void add_dose(const Subject& subject, const Id& about, std::vector<Finding>& all) {
  const double asked_ppm = subject.sheet->nitrite_wanted.value;
  const double in_ppm = subject.sheet->nitrite.value;
  for (const Limit* row : rows_for(subject, Rule::mix_confused)) {
    if (row->agent != tables::Agent::nitrite) continue;
    AmountFound asked;
    const bool most = row->sense == tables::LimitSense::most;
    asked.value = most ? std::max(asked_ppm, in_ppm) : std::min(asked_ppm, in_ppm);
    Finding finding = finding_of(*row, asked);
    if (!finding.margin || *finding.margin >= 0.0) continue;
    finding.rule = Rule::mix_confused;
    finding.about = about;
    // Rows stand from the worst to the least; the first that is missed says it.
    const bool tenfold = row->id == "any.nitrite.any.ingoing.tenfold";
    finding.level = tenfold ? Level::not_met : Level::near;
    finding.stop = tenfold ? Stop::with_reason : Stop::none;
    finding.advice = tenfold                                  ? "dose_tenfold"
                     : most ? "dose_high"
                            : "dose_low";
    all.push_back(std::move(finding));
    return;
  }
}

void add_looks(const Subject& subject, const Id& about, std::vector<Finding>& all) {
  const recipe::CuringMix& mix = subject.recipe->mix;
  const MixLooks looks = looks_of(mix);
  if (looks == MixLooks::usual) return;
  Finding finding = begun(Rule::mix_confused, about);
  finding.source = "mixes as they are sold, table of curing mixes";
  finding.known = tables::Known::practice;
  finding.found = Amount{100.0 * mix.nitrite, "%", "NaNO2"};
  finding.advice = advice_of(looks);
  // A strength that was read off a packet is asked about once more; one that nobody has read stops.
  const bool far_off = looks == MixLooks::tenfold || looks == MixLooks::called_strong;
  const bool bound = !mix.supply.empty();
  finding.level = far_off && !bound ? Level::not_met : Level::near;
  finding.stop = far_off && !bound ? Stop::with_reason : Stop::none;
  all.push_back(std::move(finding));
}

// Nitrate is slow, nitrite alone is soon gone: the kind of mix against the days that are planned.
void add_kind(const Subject& subject, const Id& about, std::vector<Finding>& all) {
  const recipe::Recipe& recipe = *subject.recipe;
  const std::optional<double> days = planned_days(recipe);
  const bool semi_dry = recipe.product_class == recipe::ProductClass::comminuted_semi_dry;
  if (recipe.mix.nitrate > 0.0) {
    const Limit* row = tables::find_limit("any.days.any.nitrate");
    if (row != nullptr && (semi_dry || (days && *days < row->value - 1e-9))) {
      all.push_back(asked_about(*row, subject, about, "mix_without_nitrate"));
    }
    return;
  }
  for (const Limit* row : rows_for(subject, Rule::mix_confused)) {
    if (row->agent == tables::Agent::days && days && *days > row->value + 1e-9) {
      all.push_back(asked_about(*row, subject, about, "mix_with_nitrate"));
    }
  }
}

// What turns nitrite into fumes in water: acids, ascorbates and wine.
constexpr std::string_view kAcids[] = {
    "sodium_ascorbate", "sodium_erythorbate", "ascorbic_acid", "citric_acid",    "gdl",
    "wine_vinegar",     "red_wine",           "white_wine",    "fortified_wine",
};

bool is_acid(const recipe::Line& line) {
  return line.kind == recipe::LineKind::additive &&
         std::find(std::begin(kAcids), std::end(kAcids), line.material) != std::end(kAcids);
}

// Of the maker's own materials nobody knows whether they are sour.
bool may_be_acid(const recipe::Line& line) {
  return line.kind == recipe::LineKind::additive && tables::find_additive(line.material) == nullptr;
}

struct InLiquid {
  bool cure = false;
  bool acid = false;
  bool unknown = false;
};

InLiquid in_liquid(const recipe::Recipe& recipe, const recipe::Step& step) {
  InLiquid found;
  const bool stirred = step.kind == recipe::StepKind::add || step.kind == recipe::StepKind::rehydrate ||
                       step.kind == recipe::StepKind::mix;
  if (!step.in_liquid || !stirred) return found;
  for (const recipe::Line& line : recipe.lines) {
    if (std::find(step.lines.begin(), step.lines.end(), line.id) == step.lines.end()) continue;
    found.cure = found.cure || (line.kind == recipe::LineKind::cure && line.amount > 0.0);
    found.acid = found.acid || is_acid(line);
    found.unknown = found.unknown || may_be_acid(line);
  }
  return found;
}

bool in_a_step(const recipe::Recipe& recipe, const Id& line) {
  return std::any_of(recipe.steps.begin(), recipe.steps.end(), [&line](const recipe::Step& step) {
    return std::find(step.lines.begin(), step.lines.end(), line) != step.lines.end();
  });
}

Finding acid_finding(Level level, const Id& about) {
  Finding finding = begun(Rule::acid_with_nitrite, about);
  finding.source =
      "Food and Agriculture Organization, Meat processing technology, as quoted by a makers' forum";
  finding.known = tables::Known::read_copy;
  finding.level = level;
  if (level == Level::not_met) finding.stop = Stop::with_reason;
  if (level == Level::not_met || level == Level::near) finding.advice = "add_apart";
  return finding;
}

}  // namespace

MixLooks looks_of(const recipe::CuringMix& mix) {
  if (!(mix.nitrite > 0.0)) return MixLooks::usual;
  const MixLooks strength = looks_by_strength(mix);
  const MixLooks name = looks_by_name(mix);
  if (name == MixLooks::called_strong || strength == MixLooks::usual) return name;
  return strength == MixLooks::tenfold || name == MixLooks::usual ? strength : name;
}

std::vector<Finding> packet_findings(const Subject& subject) {
  const recipe::Line* cure = cure_line(*subject.recipe);
  if (cure == nullptr) return {does_not_apply(Rule::mix_as_packet)};
  Finding finding = begun(Rule::mix_as_packet, cure->id);
  if (subject.recipe->mix.supply.empty()) {
    finding.level = Level::not_known;
    finding.missing = {"mix_packet"};
    finding.advice = "bind_mix";
  } else {
    finding.level = Level::met;
  }
  return {finding};
}

std::vector<Finding> confused_findings(const Subject& subject) {
  std::vector<Finding> all;
  if (const recipe::Line* cure = cure_line(*subject.recipe); cure != nullptr) {
    add_dose(subject, cure->id, all);
    add_looks(subject, cure->id, all);
    add_kind(subject, cure->id, all);
  }
  // Nothing is odd: there is nothing to ask about.
  if (all.empty()) all.push_back(does_not_apply(Rule::mix_confused));
  return all;
}

std::vector<Finding> short_nitrate_findings(const Subject& subject) {
  const recipe::Sheet& sheet = *subject.sheet;
  if (!(sheet.nitrate.value > 0.0)) return {does_not_apply(Rule::nitrate_in_short)};
  std::vector<const Limit*> rows = rows_for(subject, Rule::nitrate_in_short);
  // The European clauses are of sausages with nitrate alone.
  rows.erase(std::remove_if(rows.begin(), rows.end(),
                            [&sheet](const Limit* row) {
                              return row->jurisdiction == tables::Jurisdiction::eu &&
                                     sheet.nitrite.value > 0.0;
                            }),
             rows.end());
  const bool semi_dry = subject.recipe->product_class == recipe::ProductClass::comminuted_semi_dry;
  std::vector<Finding> all;
  for (const Limit* row : rows) {
    Finding finding = finding_of(*row, subject);
    finding.rule = Rule::nitrate_in_short;
    finding.decides = is_strictest(*row, rows);
    // What is meant to be eaten soon does not wait for nitrate, whatever its stages add to.
    if (semi_dry) {
      finding.level = Level::not_met;
      finding.margin.reset();
      finding.missing.clear();
    }
    if (finding.level == Level::not_met) finding.advice = "nitrate_needs_time";
    all.push_back(std::move(finding));
  }
  return all;
}

std::vector<Finding> acid_findings(const Subject& subject) {
  const recipe::Recipe& recipe = *subject.recipe;
  const recipe::Line* cure = cure_line(recipe);
  const auto acid = std::find_if(recipe.lines.begin(), recipe.lines.end(), is_acid);
  const auto unknown = std::find_if(recipe.lines.begin(), recipe.lines.end(), may_be_acid);
  if (cure == nullptr || (acid == recipe.lines.end() && unknown == recipe.lines.end())) {
    return {does_not_apply(Rule::acid_with_nitrite)};
  }
  std::vector<Finding> all;
  InLiquid before;
  for (const recipe::Step& step : recipe.steps) {
    const InLiquid now = in_liquid(recipe, step);
    if (now.cure && now.acid) {
      all.push_back(acid_finding(Level::not_met, step.id));
    } else if ((now.cure && before.acid) || (now.acid && before.cure)) {
      all.push_back(acid_finding(Level::near, step.id));
    } else if (now.cure && now.unknown) {
      all.push_back(acid_finding(Level::not_known, step.id));
      all.back().missing = {"own_material"};
    }
    before = now;
  }
  if (!all.empty()) return all;
  if (acid == recipe.lines.end()) return {does_not_apply(Rule::acid_with_nitrite)};
  all.push_back(acid_finding(Level::met, {}));
  bool all_placed = in_a_step(recipe, cure->id);
  for (const recipe::Line& line : recipe.lines)
    all_placed = all_placed && (!is_acid(line) || in_a_step(recipe, line.id));
  if (!all_placed) {
    all.back().level = Level::not_known;
    all.back().missing = {"steps"};
  }
  return all;
}

}  // namespace saltrafter::safety
