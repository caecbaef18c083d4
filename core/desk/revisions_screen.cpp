// The Bench: a recipe through its revisions, and any two of them line by line.
#include <algorithm>
#include <cmath>

#include "core/desk/forms.h"

namespace saltrafter::desk {
namespace {

using Say = words::Id;
using recipe::Changed;
using recipe::LineKind;

// A revision's place in the list; -1 is the recipe as it is now.
constexpr int kNow = -1;

// As it would come back: by the packets as they are now.
struct State {
  recipe::Recipe recipe;
  words::Text name;
};

State state_at(const Screen& s, const recipe::Recipe& now, const std::vector<recipe::Revision>& revisions,
               int place) {
  if (place < 0 || place >= static_cast<int>(revisions.size())) return {now, s.say(Say::revision_now)};
  const recipe::Revision& revision = revisions[static_cast<std::size_t>(place)];
  return {recipe::by_packets(revision.was, s.session.book.supplies()),
          s.say(Say::revision_n, {words::count("n", place + 1),
                                  words::arg("date", words::day_month(s.l, revision.until))})};
}

words::Text amount_words(const Screen& s, LineKind kind, const std::optional<double>& amount) {
  if (!amount) return {};
  switch (kind) {
    case LineKind::meat: return per_cent(s.l, *amount, 1);
    case LineKind::cure: return mg_per_kg(s.l, Ppm(*amount));
    default: return words::measure(s.l, *amount, *amount < 10.0 ? 2 : 1, "g/kg");
  }
}

void draw_lines(Screen& s, const recipe::Comparison& comparison, const State& before, const State& after) {
  std::vector<parts::TableRow> rows;
  for (const recipe::LineChange& change : comparison.lines) {
    if (change.what == Changed::same) continue;
    words::Text difference;
    if (change.what == Changed::added) difference = s.say(Say::compare_added);
    if (change.what == Changed::removed) difference = s.say(Say::compare_removed);
    if (change.what == Changed::changed && change.before && change.after) {
      const double by = *change.after - *change.before;
      const words::Text size = amount_words(s, change.kind, std::abs(by));
      difference = words::join({words::verbatim(by < 0.0 ? "\u2212" : "+"), size});
    }
    rows.push_back({std::nullopt, {words::verbatim(change.name), amount_words(s, change.kind, change.before),
                                   amount_words(s, change.kind, change.after), difference}});
  }
  if (rows.empty() && comparison.fields.empty()) {
    parts::lead(s.page, s.say(Say::compare_same));
    return;
  }
  if (!rows.empty()) {
    parts::table(s.page, {{s.say(Say::compare_line), false}, {before.name, true}, {after.name, true},
                          {s.say(Say::compare_change), true}}, rows);
  }
  if (!comparison.fields.empty()) {
    std::vector<words::Text> names;
    for (const std::string& field : comparison.fields) names.push_back(field_name(s.l, field));
    parts::gap(s.page, 8.0);
    parts::paragraph(s.page, s.say(Say::compare_fields, {words::arg("names", with_commas(names))}));
  }
}

// Composition, water activity and price, beside each other, on a kilogram of meat and the same scales.
void draw_figures(Screen& s, const State& before, const State& after) {
  const recipe::Hands hands = s.session.hands();
  const Result<recipe::Sheet> first = recipe::scale(before.recipe, Grams(1000.0), nullptr, hands);
  const Result<recipe::Sheet> second = recipe::scale(after.recipe, Grams(1000.0), nullptr, hands);
  if (!first.ok() || !second.ok()) return;
  parts::gap(s.page, 24.0);
  parts::second_heading(s.page, s.say(Say::compare_figures));
  std::vector<parts::TableRow> rows;
  const auto row = [&](Say name, auto&& figure) {
    rows.push_back({std::nullopt, {s.say(name), figure(before.recipe, first.value()),
                                   figure(after.recipe, second.value())}});
  };
  const auto finished = [](const recipe::Recipe& recipe, const recipe::Sheet& sheet) {
    return recipe::finished(sheet, recipe.wanted_loss);
  };
  row(Say::figure_fat, [&](const recipe::Recipe& r, const recipe::Sheet& sheet) {
    const recipe::Composition c = finished(r, sheet);
    return per_cent(s.l, c.fat_g / c.total_g(), 1);
  });
  row(Say::figure_salt, [&](const recipe::Recipe& r, const recipe::Sheet& sheet) {
    const recipe::Composition c = finished(r, sheet);
    return per_cent(s.l, c.salt_g / c.total_g(), 2);
  });
  row(Say::figure_mpr, [&](const recipe::Recipe& r, const recipe::Sheet& sheet) {
    return words::number(s.l, recipe::moisture_protein_ratio(finished(r, sheet)), 2);
  });
  row(Say::figure_brine, [&](const recipe::Recipe& r, const recipe::Sheet& sheet) {
    return per_cent(s.l, recipe::water_phase_salt(finished(r, sheet)), 1);
  });
  row(Say::figure_activity, [&](const recipe::Recipe& r, const recipe::Sheet& sheet) {
    const auto estimate = recipe::estimate_activity(finished(r, sheet), recipe::solutes_of(r, sheet),
                                                       s.session.learnt(r.product_class));
    return estimate.ok() ? words::number(s.l, estimate.value().likely.value, 3) : words::verbatim("\u2013");
  });
  row(Say::compare_price, [&](const recipe::Recipe& r, const recipe::Sheet& sheet) {
    const recipe::Cost cost = recipe::cost_of(r, sheet, hands.supplies);
    return cost.lines.empty() ? words::verbatim("\u2013") : money(s, cost.per_kg_finished);
  });
  parts::table(s.page, {{words::Text(), false}, {before.name, true}, {after.name, true}}, rows);

  parts::gap(s.page, 24.0);
  parts::second_heading(s.page, s.say(Say::compare_limits));
  const auto was = s.session.findings(before.recipe, first.value());
  const auto is = s.session.findings(after.recipe, second.value());
  int shown = 0;
  for (const safety::Finding& now : is) {
    if (!now.decides) continue;
    for (const safety::Finding& then : was) {
      if (safety::name_of(then) != safety::name_of(now) || !then.decides || then.level == now.level) continue;
      const auto level = [&s](const safety::Finding& finding) {
        return parts::level_word(s.l, static_cast<parts::Level>(finding.level));
      };
      parts::paragraph(s.page, s.say(Say::compare_worse, {words::arg("rule", rule_name(s.l, now)),
                                                          words::arg("before", level(then)),
                                                          words::arg("after", level(now))}));
      ++shown;
    }
  }
  if (shown == 0) parts::reason(s.page, s.say(Say::compare_limits_same));
}

}  // namespace

void draw_revisions(Screen& s) {
  Session& session = s.session;
  const auto recipe = open_recipe(s, Say::revisions_title);
  if (recipe == nullptr) return;
  draw_notice(s);
  const std::vector<recipe::Revision> revisions = session.book.revisions(session.view.recipe);
  if (revisions.empty()) {
    parts::lead(s.page, s.say(Say::revisions_none));
    return;
  }
  const int newest = static_cast<int>(revisions.size()) - 1;
  CompareDraft& draft = session.drafts.recipes[session.view.recipe].compare;
  if (draft.before < kNow || draft.before > newest) draft.before = newest;
  if (draft.after < kNow || draft.after > newest) draft.after = kNow;

  const auto pick = [&](std::string_view name, Say label, int& place) {
    std::vector<parts::Choice> choices;
    for (int i = kNow; i <= newest; ++i) {
      const int at = i == kNow ? kNow : newest - i;
      const State state = state_at(s, *recipe, revisions, at);
      const words::Text why = at == kNow ? words::Text()
                                         : words::verbatim(revisions[static_cast<std::size_t>(at)].why);
      choices.push_back({key("revisions") / name / (at + 2), state.name, why});
    }
    const int chosen = place == kNow ? 0 : newest - place + 1;
    parts::gap(s.page, 16.0);
    if (const auto pressed = parts::one_of(s.page, s.say(label), choices, chosen)) {
      place = *pressed == 0 ? kNow : newest - (*pressed - 1);
    }
  };
  pick("before", Say::compare_before, draft.before);
  pick("after", Say::compare_after, draft.after);
  const State before = state_at(s, *recipe, revisions, draft.before);
  const State after = state_at(s, *recipe, revisions, draft.after);
  parts::gap(s.page, 36.0);
  parts::second_heading(s.page, s.say(Say::revisions_pair));
  draw_lines(s, recipe::compare(before.recipe, after.recipe), before, after);
  draw_figures(s, before, after);
  if (draft.before != kNow) {
    parts::gap(s.page, 24.0);
    const recipe::Revision revision = revisions[static_cast<std::size_t>(draft.before)];
    const bool packet_gone = !revision.was.mix.supply.empty() && before.recipe.mix.supply.empty();
    if (packet_gone) {
      parts::reason(s.page, s.say(Say::revision_packet_gone, {words::arg("name", revision.was.mix.name)}));
    }
    if (parts::act(s.page, {key("revisions") / "again", s.say(Say::take_back_revision), parts::ActKind::other,
                            !(before.recipe == *recipe), s.say(Say::compare_same)}) &&
        session.change_recipe(session.view.recipe, before.recipe)) {
      std::vector<words::Text> said = {
          s.say(Say::revision_taken_back, {words::arg("date", words::day_month(s.l, revision.until))})};
      if (packet_gone) {
        said.push_back(words::verbatim(" "));
        said.push_back(s.say(Say::revision_packet_gone, {words::arg("name", revision.was.mix.name)}));
      }
      session.tell_edit(words::join(said));
    }
  }
  draw_history(s);
}

}  // namespace saltrafter::desk
