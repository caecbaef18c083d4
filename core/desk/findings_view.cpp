// Findings as rows, and the composition of a mix as two bars.
#include "core/desk/screens.h"

namespace saltrafter::desk {
namespace {

using Say = words::Id;

Say rule_words(const safety::Finding& finding) {
  switch (finding.rule) {
    case safety::Rule::nitrite_ceiling:
      return Say::rule_ceiling;
    case safety::Rule::nitrite_ingoing:
      return Say::rule_nitrite;
    case safety::Rule::nitrite_residual:
      return Say::rule_nitrite_residual;
    case safety::Rule::nitrate_ingoing:
      return Say::rule_nitrate;
    case safety::Rule::nitrate_residual:
      return Say::rule_nitrate_residual;
    case safety::Rule::cure_ingoing:
      return finding.sense == tables::LimitSense::least ? Say::rule_cure_enough : Say::rule_cure;
    case safety::Rule::cure_residual:
      return Say::rule_cure_residual;
    case safety::Rule::fermentation:
      return Say::rule_fermentation;
    case safety::Rule::parasites:
      return Say::rule_trichinella;
    case safety::Rule::water_activity:
      return Say::rule_water_activity;
  }
  return Say::rule_nitrite;
}

Say missing_words(const std::string& id) {
  if (id == "ph_reading") return Say::missing_ph;
  if (id == "freezing_record" || id == "trichinella_test") return Say::missing_freezing;
  if (id == "measured_water_activity" || id == "sample_site") return Say::missing_water_activity;
  if (id == "residual_analysis") return Say::missing_analysis;
  return Say::missing_other;
}

words::Text found_words(const Screen& s, const safety::Finding& finding) {
  if (finding.level == safety::Level::not_known && !finding.missing.empty()) {
    return s.say(missing_words(finding.missing.front()));
  }
  if (!finding.found || !finding.limit) return {};
  // Of what both are is said once, after the limit.
  safety::Amount found = *finding.found;
  if (found.of == finding.limit->of) found.of.clear();
  return s.say(finding.sense == tables::LimitSense::most ? Say::at_most : Say::at_least,
               {words::arg("found", amount(s.l, found)), words::arg("limit", amount(s.l, *finding.limit))});
}

words::Text source_words(const Screen& s, const safety::Finding& finding) {
  if (finding.source.empty()) return {};
  // A rule of this program's own that rests on a source is named by the source.
  const words::Text source = finding.jurisdiction
                                 ? s.say(Say::finding_source, {words::arg("whose", whose(s.l, finding)),
                                                               words::arg("source", finding.source)})
                                 : words::verbatim(finding.source);
  return words::join({source, words::verbatim(" ("), known(s.l, finding.known), words::verbatim(")")});
}

std::optional<parts::LimitBar> bar_of(const safety::Finding& finding) {
  if (!finding.found || !finding.limit || finding.level == safety::Level::not_known) return std::nullopt;
  return parts::bar_from_zero(finding.found->value, finding.limit->value,
                              finding.sense == tables::LimitSense::most);
}

}  // namespace

void draw_findings(Screen& s, const std::vector<safety::Finding>& findings) {
  int counts[5] = {0, 0, 0, 0, 0};
  std::vector<const safety::Finding*> shown;
  for (const safety::Finding& finding : findings) {
    if (!finding.decides || finding.level == safety::Level::does_not_apply) continue;
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
  parts::second_heading(s.page, words::join(title), s.say(Say::limits_whose));
  int index = 0;
  for (const safety::Finding* finding : shown) {
    parts::FindingRow row;
    const parts::Key row_key = key("finding") / index++ / finding->row;
    row.key = row_key;
    row.rule = s.say(rule_words(*finding));
    row.found = found_words(s, *finding);
    row.level = static_cast<parts::Level>(finding->level);
    row.bar = bar_of(*finding);
    // The source of the limit that a recipe runs up against stands open; the others open when pressed.
    parts::Host& host = s.page.host();
    const bool open = finding->rule == safety::Rule::nitrite_ingoing || host.opened(row_key.value());
    if (open) row.remedy = source_words(s, *finding);
    if (parts::finding(s.page, row)) host.open_words(row_key.value());
  }
}

void draw_composition(Screen& s, const recipe::Sheet& sheet, double wanted_loss) {
  const recipe::Composition now = sheet.composition;
  const recipe::Composition finished = recipe::finished(sheet, wanted_loss);
  const auto bar = [&s](const recipe::Composition& c, const words::Text& head) {
    const double total = c.total_g();
    if (!(total > 0.0)) return;
    const auto part = [&s, total](Say name, double mass_g) {
      const double share = mass_g / total;
      return parts::Share{
          words::join({s.say(name), words::verbatim(" "), words::number(s.l, share * 100.0, share < 0.1 ? 1 : 0)}),
          share};
    };
    parts::composition_bar(s.page, head,
                           {part(Say::water, c.water_g), part(Say::protein, c.protein_g), part(Say::fat, c.fat_g),
                            part(Say::salt, c.salt_g), part(Say::rest, c.rest_g)});
  };
  parts::second_heading(
      s.page, s.say(Say::fat_finished, {words::arg("fat", per_cent(s.l, finished.fat_g / finished.total_g(), 0))}));
  bar(now, s.say(Say::composition_now, {words::arg("mass", grams(s.l, Grams(now.total_g())))}));
  parts::gap(s.page, 16.0);
  bar(finished, s.say(Say::composition_finished, {words::arg("loss", per_cent(s.l, wanted_loss, 0)),
                                                  words::arg("mass", grams(s.l, Grams(finished.total_g())))}));
  parts::paragraph(
      s.page,
      s.say(Say::mpr_finished,
            {words::arg("now", words::number(s.l, recipe::moisture_protein_ratio(now), 1)),
             words::arg("finished", words::number(s.l, recipe::moisture_protein_ratio(finished), 1)),
             words::arg("brine", per_cent(s.l, recipe::water_phase_salt(finished), 1))}));
}

}  // namespace saltrafter::desk
