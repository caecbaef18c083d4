// The Bench: cuts at hand and wishes in, shares of the meat out.
#include <algorithm>
#include <array>
#include <cmath>

#include "core/desk/forms.h"
#include "core/tables/tables.h"

namespace saltrafter::desk {
namespace {

using Say = words::Id;
using recipe::BlendAim;

constexpr std::array<Named<BlendAim>, 2> kAims = {
    {{BlendAim::nearest, Say::blend_nearest},
     {BlendAim::least_cost, Say::blend_cheapest, Say::blend_cheapest_what}}};

// The cuts of the recipe to begin with, whatever their shares.
BlendDraft begin(const Screen& s, const recipe::Recipe& recipe) {
  BlendDraft draft;
  const Result<recipe::Sheet> sheet = recipe::scale(recipe, Grams(1000.0), nullptr, s.session.hands());
  recipe::Composition meat;
  for (const recipe::Line& line : recipe.lines) {
    if (line.kind != recipe::LineKind::meat) continue;
    if (const auto parts = recipe::parts_of_line(line, s.session.hands().supplies)) {
      draft.cuts.push_back({line.material, *parts, std::nullopt, 0.0, 1.0});
      meat = meat + *parts * line.amount;
    }
  }
  if (meat.total_g() > 0.0) draft.wishes.fat_aim = meat.fat_g / meat.total_g();
  return draft;
}

void draw_cut(Screen& s, BlendDraft& draft, std::size_t i, const std::optional<double>& share) {
  recipe::BlendCut& cut = draft.cuts[i];
  const parts::Key here = key("blend") / s.session.view.recipe / cut.material;
  const recipe::Supplies supplies = s.session.book.supplies();
  const recipe::Supply* own = recipe::find_supply(supplies, cut.material);
  cut.price = own != nullptr ? own->price : std::nullopt;
  const words::Text name = material_name(supplies, s.l, cut.material);
  const words::Arg water = words::arg("water", per_cent(s.l, cut.parts.water_g, 0));
  const words::Arg protein = words::arg("protein", per_cent(s.l, cut.parts.protein_g, 0));
  const words::Arg fat = words::arg("fat", per_cent(s.l, cut.parts.fat_g, 0));
  std::vector<words::Text> facts = {
      cut.price
          ? s.say(Say::blend_cut_priced, {water, protein, fat, words::arg("price", money(s, *cut.price))})
          : s.say(Say::blend_cut_fact, {water, protein, fat})};
  if (cut.least > 0.0 || cut.most < 1.0) {
    facts.push_back(s.say(Say::blend_bounds, {words::arg("low", per_cent(s.l, cut.least, 0)),
                                              words::arg("high", per_cent(s.l, cut.most, 0))}));
  }
  parts::Row row;
  row.key = here;
  row.name = name;
  row.fact = with_commas(facts);
  if (share) row.figure = per_cent(s.l, *share, 1);
  row.selected = draft.open == cut.material;
  if (parts::row(s.page, row)) draft.open = draft.open == cut.material ? std::string() : cut.material;
  if (draft.open != cut.material) return;
  const auto bound = [&](std::string_view at, Say label, double& member) {
    const NumberRule rule{"share", NumberKind::share, "%", 0.0, 1.0};
    NumberEntry entry{here / at, s.say(label, {words::arg("name", name)}), rule, member, 1};
    entry.gap = 16.0;
    if (const auto taken = enter(s, entry); taken && *taken) member = **taken;
  };
  bound("least", Say::blend_least, cut.least);
  bound("most", Say::blend_most, cut.most);
  parts::gap(s.page, 16.0);
  if (parts::act(s.page,
                 {here / "out", s.say(Say::blend_out), parts::ActKind::bare, draft.cuts.size() > 1, {}})) {
    draft.cuts.erase(draft.cuts.begin() + static_cast<std::ptrdiff_t>(i));
    draft.open.clear();
  }
}

void draw_wishes(Screen& s, BlendDraft& draft) {
  const parts::Key here = key("blend") / s.session.view.recipe;
  recipe::BlendWishes& wishes = draft.wishes;
  parts::gap(s.page, 36.0);
  parts::second_heading(s.page, s.say(Say::blend_wishes));
  if (const auto aim = choose(s, here / "aim", Say::blend_aim, kAims, wishes.aim)) wishes.aim = *aim;
  if (wishes.aim == BlendAim::nearest) {
    if (const auto fat =
            number_entry(s, here / "fat_aim", Say::blend_fat_aim, {"fat", NumberKind::share, "%", 0.0, 0.9},
                         wishes.fat_aim, 1, {}, 1.0)) {
      wishes.fat_aim = *fat;
    }
  }
  const auto edge = [&](std::string_view at, Say label, const NumberRule& rule, std::optional<double> shown,
                        int decimals) {
    return number_or_nothing(s, here / at, label, Say::blend_open, rule, shown, decimals);
  };
  std::optional<double> low;
  std::optional<double> high;
  if (wishes.fat && wishes.fat->low > 0.0) low = wishes.fat->low;
  if (wishes.fat && wishes.fat->high < 1.0) high = wishes.fat->high;
  const NumberRule share{"fat", NumberKind::share, "%", 0.0, 1.0};
  const auto typed_low = edge("fat_low", Say::blend_fat_low, share, low, 1);
  const auto typed_high = edge("fat_high", Say::blend_fat_high, share, high, 1);
  if (typed_low) low = *typed_low;
  if (typed_high) high = *typed_high;
  wishes.fat.reset();
  if (low || high) wishes.fat = recipe::Bounds{low.value_or(0.0), high.value_or(1.0)};
  std::optional<double> ratio;
  if (wishes.moisture_protein_ratio) ratio = wishes.moisture_protein_ratio->high;
  if (const auto typed =
          edge("mpr", Say::blend_mpr_high, {"ratio", NumberKind::plain, "", 0.5, 20.0}, ratio, 2)) {
    wishes.moisture_protein_ratio.reset();
    if (*typed) wishes.moisture_protein_ratio = recipe::Bounds{0.0, **typed};
  }
  if (const auto typed =
          edge("price", Say::blend_price, {"price", NumberKind::plain, "", 0.0, 1e6}, wishes.most_price, 2)) {
    wishes.most_price = *typed;
  }
}

void tell_conflicts(Screen& s, const recipe::BlendAnswer& answer, const recipe::Supplies& supplies) {
  parts::trouble(s.page, s.say(Say::blend_none), {}, std::nullopt);
  if (answer.conflicts.empty()) parts::paragraph(s.page, s.say(Say::blend_conflict_none));
  for (const recipe::Conflict& conflict : answer.conflicts) {
    const std::optional<Say> wish = words::find("blend_wish_" + conflict.wish);
    words::Text by = per_cent(s.l, conflict.by, 1);
    if (conflict.wish == "price") by = money(s, conflict.by);
    if (conflict.wish == "moisture_protein_ratio") by = words::number(s.l, conflict.by, 2);
    parts::paragraph(s.page, s.say(Say::blend_conflict,
                                   {words::arg("wish", wish ? words::text(s.l, *wish)
                                                            : material_name(supplies, s.l, conflict.wish)),
                                    words::arg("by", by)}));
  }
}

// The recipe with its meat lines replaced by the blend; a cut that was there keeps its line.
recipe::Recipe blended(const Screen& s, const recipe::Recipe& recipe, const BlendDraft& draft,
                       const recipe::Blend& blend) {
  recipe::Recipe out = recipe;
  std::vector<recipe::Line> lines;
  const recipe::Supplies supplies = s.session.book.supplies();
  constexpr double kWorthWeighing = 0.0005;
  for (std::size_t i = 0; i < draft.cuts.size(); ++i) {
    if (blend.shares[i] < kWorthWeighing) continue;
    recipe::Line line;
    for (const recipe::Line& old : recipe.lines) {
      if (old.kind == recipe::LineKind::meat && old.material == draft.cuts[i].material && line.id.empty())
        line = old;
    }
    if (line.id.empty()) {
      line.id = make_id(s.session.book.ports());
      line.kind = recipe::LineKind::meat;
      line.material = draft.cuts[i].material;
      line.basis = recipe::Basis::percent_of_meat;
      line.name = material_name(supplies, s.l, line.material).plain();
      if (const recipe::Supply* own = recipe::find_supply(supplies, line.material)) line.parts = own->parts;
    }
    line.amount = std::round(blend.shares[i] * 1e4) / 1e4;  // a hundredth of a per cent
    lines.push_back(std::move(line));
  }
  for (const recipe::Line& line : recipe.lines) {
    if (line.kind != recipe::LineKind::meat) lines.push_back(line);
  }
  out.lines = std::move(lines);
  return out;
}

}  // namespace

void draw_blend(Screen& s) {
  Session& session = s.session;
  const auto recipe = open_recipe(s, Say::blend_title);
  if (recipe == nullptr) return;
  const Id id = session.view.recipe;
  std::optional<BlendDraft>& kept = session.drafts.recipes[id].blend;
  if (!kept) kept = begin(s, *recipe);
  BlendDraft& draft = *kept;
  parts::lead(s.page, s.say(Say::blend_lead));
  draw_notice(s);
  const Result<recipe::BlendAnswer> answer = recipe::blend(draft.cuts, draft.wishes);
  const recipe::Blend* blend = answer.ok() && answer.value().blend ? &*answer.value().blend : nullptr;
  parts::second_heading(s.page, s.say(Say::blend_cuts));
  for (std::size_t i = 0; i < draft.cuts.size(); ++i) {
    std::optional<double> share;
    if (blend != nullptr && i < blend->shares.size()) share = blend->shares[i];
    const std::size_t before = draft.cuts.size();
    draw_cut(s, draft, i, share);
    if (draft.cuts.size() != before) return;
  }
  parts::gap(s.page, 16.0);
  if (draft.adding) {
    parts::List list{key("blend") / id / "add", {}};
    std::vector<std::pair<std::string, recipe::Composition>> cuts;
    std::vector<tables::Cut> by_name(tables::cuts().begin(), tables::cuts().end());
    std::stable_sort(by_name.begin(), by_name.end(), [&s](const tables::Cut& a, const tables::Cut& b) {
      return words::folded(material_name({}, s.l, a.key).plain()) <
             words::folded(material_name({}, s.l, b.key).plain());
    });
    for (const tables::Cut& cut : by_name) {
      const auto has = [&cut](const recipe::BlendCut& one) { return one.material == cut.key; };
      const auto parts = recipe::cut_parts(cut.key);
      if (!parts || std::any_of(draft.cuts.begin(), draft.cuts.end(), has)) continue;
      parts::Row row;
      row.key = key("blend") / "add" / cut.key;
      row.name = material_name({}, s.l, cut.key);
      row.fact = s.say(Say::blend_cut_fact, {words::arg("water", per_cent(s.l, cut.water, 0)),
                                             words::arg("protein", per_cent(s.l, cut.protein, 0)),
                                             words::arg("fat", per_cent(s.l, cut.fat, 0))});
      list.rows.push_back(std::move(row));
      cuts.emplace_back(cut.key, *parts);
    }
    if (const auto pressed = parts::list(s.page, list)) {
      const auto& [material, made_of] = cuts[static_cast<std::size_t>(*pressed)];
      draft.cuts.push_back({material, made_of, std::nullopt, 0.0, 1.0});
      draft.adding = false;
    }
  } else if (parts::act(
                 s.page,
                 {key("blend") / "more", s.say(Say::blend_add_cut), parts::ActKind::other, true, {}})) {
    draft.adding = true;
  }
  draw_wishes(s, draft);

  s.page.second_column();
  parts::gap(s.page, 24.0);
  if (!answer.ok()) {
    parts::trouble(s.page, words::sentence(s.l, answer.error()), {}, std::nullopt);
  } else if (blend == nullptr) {
    tell_conflicts(s, answer.value(), session.book.supplies());
  } else {
    const words::Arg fat = words::arg("fat", per_cent(s.l, blend->parts.fat_g / blend->parts.total_g(), 1));
    const words::Arg ratio =
        words::arg("ratio", words::number(s.l, recipe::moisture_protein_ratio(blend->parts), 2));
    parts::lead(s.page, blend->price ? s.say(Say::blend_found_price,
                                             {fat, ratio, words::arg("price", money(s, *blend->price))})
                                     : s.say(Say::blend_found, {fat, ratio}));
    const recipe::Recipe after = blended(s, *recipe, draft, *blend);
    if (parts::act(s.page, {key("blend") / "take", s.say(Say::blend_take), parts::ActKind::main,
                            !(after == *recipe), s.say(Say::blend_same)}) &&
        session.change_recipe(id, after, "edit_blend")) {
      kept.reset();
      session.open_leaf(BenchLeaf::sheet);
      session.tell_edit(s.say(Say::blend_taken));
    }
  }
  draw_history(s);
}

}  // namespace saltrafter::desk
