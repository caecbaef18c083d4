// Findings as rows: those of a whole recipe or batch, and those about one line, stage or lot.
#include <array>
#include <cmath>

#include "core/desk/screens.h"

namespace saltrafter::desk {
namespace {

using Say = words::Id;
using safety::Level;
using safety::Rule;

// Ids of what is missing and of what to do are those of the catalogue, with these beginnings.
words::Text by_key(const Screen& s, const char* beginning, const std::string& id, std::span<const words::Arg> args) {
  const std::optional<Say> say = words::find(beginning + id);
  return say ? words::text(s.l, *say, args) : words::Text();
}

words::Text figure_words(const Screen& s, const safety::Figure& figure) {
  if (figure.unit == "1") return words::number(s.l, figure.value, 2);
  if (figure.unit == "pH") return words::number(s.l, figure.value, 2);
  if (figure.unit == "%") return words::measure(s.l, figure.value, 1, "%");
  const int decimals = std::abs(figure.value) < 100.0 && std::abs(figure.value - std::round(figure.value)) > 0.05 ? 1 : 0;
  return words::measure(s.l, figure.value, decimals, figure.unit);
}

std::vector<words::Arg> args_of(const Screen& s, const safety::Finding& finding) {
  std::vector<words::Arg> args;
  args.reserve(finding.figures.size() + 2);
  for (const safety::Figure& figure : finding.figures) args.push_back(words::arg(figure.id, figure_words(s, figure)));
  if (finding.found) args.push_back(words::arg("found", amount(s.l, *finding.found)));
  if (finding.limit) args.push_back(words::arg("limit", amount(s.l, *finding.limit)));
  return args;
}

words::Text advice_words(const Screen& s, const safety::Finding& finding) {
  if (finding.advice.empty()) return {};
  return by_key(s, "advice_", finding.advice, args_of(s, finding));
}

words::Text found_words(const Screen& s, const safety::Finding& finding) {
  if (finding.found && finding.limit) {
    // Of what both are is said once, after the limit.
    safety::Amount found = *finding.found;
    if (found.of == finding.limit->of) found.of.clear();
    return s.say(finding.sense == tables::LimitSense::most ? Say::at_most : Say::at_least,
                 {words::arg("found", amount(s.l, found)), words::arg("limit", amount(s.l, *finding.limit))});
  }
  if (!finding.missing.empty()) {
    words::Text missing = by_key(s, "missing_", finding.missing.front(), args_of(s, finding));
    return missing.empty() ? s.say(Say::missing_other) : missing;
  }
  return advice_words(s, finding);
}

words::Text source_words(const Screen& s, const safety::Finding& finding) {
  if (finding.source.empty()) return {};
  // A rule of no jurisdiction is known by what it rests on.
  const words::Text source = finding.jurisdiction || finding.own
                                 ? s.say(Say::finding_source, {words::arg("whose", whose(s.l, finding)),
                                                               words::arg("source", finding.source)})
                                 : s.say(Say::finding_ground, {words::arg("source", finding.source)});
  std::vector<words::Text> all = {source, words::verbatim(" ("), known(s.l, finding.known), words::verbatim(")")};
  if (!finding.from.empty()) {
    all.push_back(words::verbatim(". "));
    const Result<Date> from = parse_iso_date(finding.from);
    if (from.ok()) {
      const words::Text year = words::verbatim(finding.from.substr(0, 4));
      all.push_back(s.say(Say::finding_from, {words::arg("date", words::join({words::day_month(s.l, from.value()),
                                                                              words::verbatim(" "), year}))}));
    }
  }
  return words::join(all);
}

std::optional<parts::LimitBar> bar_of(const safety::Finding& finding) {
  if (!finding.found || !finding.limit || finding.level == Level::not_known) return std::nullopt;
  const double value = finding.found->value;
  const double limit = finding.limit->value;
  parts::LimitBar bar = finding.found->unit == "aw"   ? parts::bar_of_water_activity(value, limit, finding.uncertainty)
                        : finding.found->unit == "pH" ? parts::bar_of_ph(value, limit, finding.uncertainty)
                                                      : parts::bar_from_zero(value, limit, true);
  bar.at_most = finding.sense == tables::LimitSense::most;
  return bar;
}

// What stands beneath a finding that is opened: what else is missing, what to do, whose rule it is, its figures.
std::vector<words::Text> opened_words(const Screen& s, const safety::Finding& finding) {
  std::vector<words::Text> lines;
  const auto add = [&lines](words::Text text) {
    if (!text.empty()) lines.push_back(std::move(text));
  };
  for (std::size_t i = finding.found && finding.limit ? 0 : 1; i < finding.missing.size(); ++i) {
    add(by_key(s, "missing_", finding.missing[i], args_of(s, finding)));
  }
  const bool shown = !finding.found && finding.missing.empty();
  if (!shown) add(advice_words(s, finding));
  if (finding.limit_also && finding.found_also) {
    add(s.say(Say::finding_also, {words::arg("found", amount(s.l, *finding.found_also)),
                                  words::arg("limit", amount(s.l, *finding.limit_also))}));
  }
  for (const safety::Figure& figure : finding.figures) {
    const std::optional<Say> say = words::find("figure_" + figure.id);
    if (say) add(s.say(*say, {words::arg("value", figure_words(s, figure))}));
  }
  add(source_words(s, finding));
  return lines;
}

parts::FindingRow row_of(const Screen& s, const safety::Finding& finding) {
  parts::FindingRow row;
  row.rule = rule_name(s.l, finding);
  row.found = found_words(s, finding);
  row.level = static_cast<parts::Level>(finding.level);
  row.bar = bar_of(finding);
  return row;
}

constexpr std::array<std::pair<Rule, Say>, 28> kRules = {{{Rule::nitrite_ceiling, Say::rule_ceiling},
                                                          {Rule::nitrite_ingoing, Say::rule_nitrite},
                                                          {Rule::nitrite_residual, Say::rule_nitrite_residual},
                                                          {Rule::nitrate_ingoing, Say::rule_nitrate},
                                                          {Rule::nitrate_residual, Say::rule_nitrate_residual},
                                                          {Rule::cure_ingoing, Say::rule_cure},
                                                          {Rule::cure_residual, Say::rule_cure_residual},
                                                          {Rule::ascorbate_ingoing, Say::rule_ascorbate},
                                                          {Rule::nitrate_in_short, Say::rule_nitrate_in_short},
                                                          {Rule::mix_as_packet, Say::rule_mix_as_packet},
                                                          {Rule::mix_confused, Say::rule_mix_confused},
                                                          {Rule::acid_with_nitrite, Say::rule_acid_with_nitrite},
                                                          {Rule::least_salt, Say::rule_least_salt},
                                                          {Rule::salt_in_water, Say::rule_salt_in_water},
                                                          {Rule::cure_time, Say::rule_cure_time},
                                                          {Rule::meat_ph, Say::rule_meat_ph},
                                                          {Rule::staging, Say::rule_staging},
                                                          {Rule::cold_until_salted, Say::rule_cold_until_salted},
                                                          {Rule::sealing, Say::rule_sealing},
                                                          {Rule::fermentation, Say::rule_fermentation},
                                                          {Rule::parasites, Say::rule_trichinella},
                                                          {Rule::kill_not_shown, Say::rule_kill},
                                                          {Rule::listeria, Say::rule_listeria},
                                                          {Rule::moisture_protein_ratio, Say::rule_mpr},
                                                          {Rule::water_activity, Say::rule_water_activity},
                                                          {Rule::keeps, Say::rule_keeps},
                                                          {Rule::species, Say::rule_species},
                                                          {Rule::own_weighing, Say::rule_own_weighing}}};

}  // namespace

words::Text rule_name(const words::Language& l, const safety::Finding& finding) {
  if (finding.rule == Rule::cure_ingoing && finding.sense == tables::LimitSense::least) {
    return words::text(l, Say::rule_cure_enough);
  }
  for (const auto& [rule, say] : kRules) {
    if (rule == finding.rule) return words::text(l, say);
  }
  return {};
}

words::Text finding_words(const Screen& s, const safety::Finding& finding) {
  const words::Text advice = advice_words(s, finding);
  const words::Text found = found_words(s, finding);
  const words::Arg rule = words::arg("rule", rule_name(s.l, finding));
  const words::Arg level = words::arg("level", parts::level_word(s.l, static_cast<parts::Level>(finding.level)));
  const bool bare = found.empty() || (!finding.found && finding.missing.empty());
  const words::Text said = bare ? s.say(Say::finding_said_bare, {rule, level})
                                : s.say(Say::finding_said, {rule, level, words::arg("found", found)});
  return advice.empty() ? said : words::join({said, words::verbatim(" "), advice});
}

void draw_findings_about(Screen& s, const std::vector<safety::Finding>& findings, const Id& about) {
  for (const safety::Finding& finding : findings) {
    if (!(finding.about == about) || !finding.decides) continue;
    if (finding.level == Level::met || finding.level == Level::does_not_apply) continue;
    parts::FindingRow row = row_of(s, finding);
    row.beneath = opened_words(s, finding);
    parts::finding(s.page, row);
  }
}

void draw_findings(Screen& s, const std::vector<safety::Finding>& findings) {
  int counts[5] = {0, 0, 0, 0, 0};
  std::vector<const safety::Finding*> shown;
  std::vector<const safety::Finding*> beside;
  for (const safety::Finding& finding : findings) {
    if (!finding.decides || finding.level == Level::does_not_apply) {
      beside.push_back(&finding);
      continue;
    }
    ++counts[static_cast<std::size_t>(finding.level)];
    shown.push_back(&finding);
  }
  parts::gap(s.page, 24.0);
  // Worst first would frighten, best first would lull: the order of the five words; what does not occur is left out.
  std::vector<words::Text> title;
  for (int level = 0; level < 4; ++level) {
    if (counts[level] == 0) continue;
    if (!title.empty()) title.push_back(words::verbatim(", "));
    title.push_back(s.say(Say::limits_count,
                          {words::count("n", counts[level]),
                           words::arg("level", parts::level_word(s.l, static_cast<parts::Level>(level)))}));
  }
  parts::second_heading(s.page, words::join(title), whose_rules(s));
  parts::Host& host = s.page.host();
  int index = 0;
  const auto draw = [&](const safety::Finding& finding) {
    parts::FindingRow row = row_of(s, finding);
    const parts::Key row_key = key("finding") / index++ / finding.row;
    row.key = row_key;
    // The source of the limit that a recipe runs up against stands open, and so does what is not met; the others open
    // when pressed.
    const bool open = finding.rule == Rule::nitrite_ingoing || (finding.level == Level::not_met && finding.decides) ||
                      host.opened(row_key.value());
    if (open) row.beneath = opened_words(s, finding);
    if (parts::finding(s.page, row)) host.open_words(row_key.value());
  };
  for (const safety::Finding* finding : shown) draw(*finding);
  if (beside.empty()) return;
  // What does not apply, and what another rule is stricter than, is there to be looked at.
  const parts::Key more = key("finding") / "beside";
  parts::gap(s.page, 16.0);
  const bool open = host.opened(more.value());
  if (parts::act(s.page, {more, s.say(open ? Say::findings_fewer : Say::findings_more,
                                      {words::count("n", static_cast<int>(beside.size()))}),
                          parts::ActKind::bare, true, {}})) {
    host.open_words(more.value());
  }
  if (!open) return;
  for (const safety::Finding* finding : beside) draw(*finding);
}

}  // namespace saltrafter::desk
