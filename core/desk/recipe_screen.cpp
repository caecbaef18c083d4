// The Bench: one recipe scaled to the meat at hand, and a friend's recipe looked at.
#include <algorithm>
#include <array>
#include <cmath>

#include "core/desk/forms.h"

namespace saltrafter::desk {
namespace {

using Say = words::Id;
using recipe::LineKind;

// The lines of the nitrite's working, in words.
constexpr std::array<std::pair<std::string_view, Say>, 6> kWorkingWords = {
    {{"nitrite.meat", Say::working_meat},
     {"nitrite.mix", Say::working_mix},
     {"nitrite.strength", Say::working_strength},
     {"nitrite.ingoing", Say::working_ingoing},
     {"nitrite.ion_per_salt", Say::working_ion_per_salt},
     {"nitrite.ingoing_ion", Say::working_ingoing_ion}}};

words::Text curing_name(const Screen& s, const recipe::Recipe& recipe) {
  return s.say(Say::mix_strength, {words::arg("name", recipe.mix.name),
                                   words::arg("strength", per_cent(s.l, recipe.mix.nitrite, 2))});
}

// The finding under the curing line: the nearest limit that decides.
void tell_dose(const Screen& s, const std::vector<safety::Finding>& findings, const recipe::Sheet& sheet,
               parts::RecipeLine& line) {
  const safety::Finding* worst = nullptr;
  for (const safety::Finding& finding : findings) {
    if (finding.rule != safety::Rule::nitrite_ingoing || !finding.decides || !finding.limit) continue;
    if (worst == nullptr || finding.margin.value_or(0.0) < worst->margin.value_or(0.0)) worst = &finding;
  }
  if (worst == nullptr) return;
  line.level = static_cast<parts::Level>(worst->level);
  line.finding =
      s.say(Say::dose_finding,
            {words::arg("dose", mg_per_kg(s.l, sheet.nitrite)),
             words::arg("level", parts::level_word(s.l, line.level)),
             words::arg("limit", amount(s.l, worst->limit_also ? *worst->limit_also : *worst->limit)),
             words::arg("whose", whose(s.l, *worst))});
}

// Of the findings about a line, the worst that asks for something.
void tell_about(const Screen& s, const std::vector<safety::Finding>& findings, const Id& about,
                parts::RecipeLine& line) {
  const safety::Finding* worst = nullptr;
  for (const safety::Finding& finding : findings) {
    if (!(finding.about == about) || !finding.decides) continue;
    if (finding.level != safety::Level::near && finding.level != safety::Level::not_met) continue;
    if (worst == nullptr || finding.level > worst->level) worst = &finding;
  }
  if (worst == nullptr) return;
  line.level = static_cast<parts::Level>(worst->level);
  line.finding = finding_words(s, *worst);
}

// How far half a step of the scale moves the dose.
void tell_rounding(const Screen& s, const recipe::Sheet& sheet, parts::RecipeLine& line) {
  if (!(sheet.mix.value > 0.0) || !(sheet.mix_step.value > 0.0)) return;
  constexpr double kWorthSaying = 0.02;
  const double share = 0.5 * sheet.mix_step.value / sheet.mix.value;
  if (share < kWorthSaying) return;
  line.note = words::join({line.note, words::verbatim(" "),
                           s.say(Say::rounded_to, {words::arg("step", grams(s.l, sheet.mix_step)),
                                                   words::arg("share", per_cent(s.l, share, 0))})});
}

// A recipe's lines; pressing one opens it where the recipe is the maker's own.
struct Lines {
  const recipe::Recipe& recipe;
  const recipe::Sheet* sheet;  // nullptr: it cannot be worked out, and the lines say what they ask for
  const std::vector<safety::Finding>& findings;
  bool open;
  std::optional<Error> fault;
};

void draw_lines(Screen& s, const Lines& lines) {
  std::optional<Id> pressed;
  for (std::size_t i = 0; i < lines.recipe.lines.size(); ++i) {
    const recipe::Line& asks = lines.recipe.lines[i];
    parts::RecipeLine line;
    if (lines.open) line.key = key("line") / asks.id;
    line.name = words::verbatim(asks.name);
    line.share = asked(s.l, asks);
    const recipe::SheetLine* from = nullptr;
    if (lines.sheet != nullptr) from = &lines.sheet->lines[i];
    if (from != nullptr) {
      line.share = share_of_meat(s.l, from->share_of_meat);
      line.grams = grams(s.l, from->weighed);
    }
    if (asks.kind == LineKind::cure) {
      line.name = curing_name(s, lines.recipe);
      line.note = s.say(Say::weigh_nitrite);
      if (lines.open && lines.recipe.mix.supply.empty()) {
        line.note = words::join({s.say(Say::mix_not_bound), words::verbatim(". "), line.note});
      }
      if (lines.sheet != nullptr) {
        tell_rounding(s, *lines.sheet, line);
        tell_dose(s, lines.findings, *lines.sheet, line);
      }
    } else if (asks.kind == LineKind::salt && lines.sheet != nullptr &&
               lines.sheet->salt_from_mix.value > 0.0) {
      line.note = s.say(Say::mix_brings, {words::arg("mass", grams(s.l, lines.sheet->salt_from_mix))});
    } else if (from != nullptr && !from->parts_known && asks.kind == LineKind::additive) {
      line.note = s.say(Say::own_material);
    }
    if (line.finding.empty()) tell_about(s, lines.findings, asks.id, line);
    if (lines.fault && lines.fault->field.rfind("lines/" + std::to_string(i) + "/", 0) == 0) {
      line.level = parts::Level::not_met;
      line.finding = words::sentence(s.l, *lines.fault);
    }
    if (parts::recipe_line(s.page, line)) pressed = asks.id;
  }
  if (lines.sheet != nullptr && lines.sheet->water.value > 0.0) {
    parts::RecipeLine water;
    water.name = s.say(Say::brine_water);
    water.grams = grams(s.l, lines.sheet->water);
    parts::recipe_line(s.page, water);
  }
  if (pressed) s.session.open_leaf(BenchLeaf::line, *pressed);
}

void draw_working(Screen& s, const recipe::Recipe& recipe, Grams meat) {
  recipe::Working lines;
  if (!recipe::scale(recipe, meat, &lines, s.session.hands()).ok()) return;
  parts::WorkingView view;
  view.key = key("recipe") / "working";
  view.name = s.say(Say::how_worked_out);
  for (const recipe::WorkingLine& line : lines) {
    for (const auto& [id, say] : kWorkingWords) {
      if (line.id != id) continue;
      const words::Text value = say == Say::working_strength ? per_cent(s.l, line.value, 2)
                                : line.unit == "1"
                                    ? words::number(s.l, line.value, 4)
                                    : words::measure(s.l, line.value, line.value < 1000.0 ? 1 : 0, line.unit);
      view.lines.push_back(s.say(say, {words::arg("value", value)}));
    }
  }
  parts::working(s.page, view);
}

// The meat that a wish asks for, said, with the act that takes it.
void draw_answer(Screen& s, const recipe::Recipe& recipe, recipe::Wish& wish,
                 const std::function<void(Grams)>& take) {
  const Result<Grams> meat = recipe::meat_for(recipe, wish, s.session.hands());
  if (!meat.ok()) {
    parts::gap(s.page, 8.0);
    parts::reason(s.page, meat.error().code == ErrorCode::missing && wish.by == recipe::By::stock
                              ? s.say(Say::stock_nothing)
                              : words::sentence(s.l, meat.error()));
    return;
  }
  const Grams rounded(std::floor(meat.value().value + 0.5));
  const Result<recipe::Sheet> sheet = recipe::scale(recipe, rounded, nullptr, s.session.hands());
  parts::gap(s.page, 16.0);
  if (sheet.ok()) {
    parts::paragraph(s.page, s.say(Say::asks_for_meat, {words::arg("mass", grams(s.l, rounded)),
                                                        words::count("n", sheet.value().pieces)}));
  }
  if (parts::act(s.page, {key("wish") / "take",
                          s.say(Say::take_this_meat, {words::arg("mass", grams(s.l, rounded))}),
                          parts::ActKind::other,
                          true,
                          {}})) {
    take(rounded);
    wish.by = recipe::By::meat;
  }
}

// The meat: as weighed here, or worked out from what shall come of it or from what there is.
void draw_meat(Screen& s, parts::Key here, const recipe::Recipe& recipe, recipe::Wish& wish, Grams on_tray,
               const std::function<void(Grams)>& take) {
  constexpr std::array<Named<recipe::By>, 4> kBy = {{{recipe::By::meat, Say::by_meat},
                                                     {recipe::By::pieces, Say::by_pieces},
                                                     {recipe::By::finished, Say::by_finished},
                                                     {recipe::By::stock, Say::by_stock}}};
  NumberEntry meat{here / "meat",
                   s.say(Say::meat_on_tray),
                   {"meat", NumberKind::mass, "g", 1.0, recipe::kMostMeat.value},
                   on_tray.value,
                   1,
                   {"g", "kg", "oz", "lb"}};
  meat.gap = 16.0;
  if (const auto taken = enter(s, meat); taken && *taken) take(Grams(**taken));
  if (const auto by = choose(s, here / "by", Say::scale_by, kBy, wish.by)) wish.by = *by;
  if (wish.by == recipe::By::meat) return;
  if (wish.by == recipe::By::pieces) {
    if (const auto n =
            number_entry(s, here / "pieces", Say::pieces_wanted,
                         {"pieces", NumberKind::plain, "", 1.0, 1000.0}, wish.pieces, 0, {}, 1.0)) {
      wish.pieces = static_cast<int>(std::lround(*n));
    }
  } else if (wish.by == recipe::By::finished) {
    std::optional<double> shown;
    if (wish.finished.value > 0.0) shown = wish.finished.value;
    if (const auto mass = number_entry(s, here / "finished", Say::finished_wanted,
                                       {"finished", NumberKind::mass, "g", 1.0, recipe::kMostMeat.value},
                                       shown, 1, {"g", "kg", "oz", "lb"})) {
      wish.finished = Grams(*mass);
    }
    if (!shown) return;
  } else {
    for (const recipe::Line& line : recipe.lines) {
      if (line.kind != LineKind::meat) continue;
      const auto known =
          std::find_if(wish.stock.begin(), wish.stock.end(),
                       [&line](const recipe::InStock& stock) { return stock.material == line.material; });
      NumberEntry entry{here / "stock" / line.material, s.say(Say::stock_of, {words::arg("name", line.name)}),
                        {"stock", NumberKind::mass, "g", 0.0, recipe::kMostMeat.value}, std::nullopt, 1,
                        {"g", "kg", "oz", "lb"}};
      entry.may_stay_empty = true;
      entry.gap = 16.0;
      if (known != wish.stock.end()) entry.stored = known->mass.value;
      const auto taken = enter(s, entry);
      if (!taken) continue;
      if (known != wish.stock.end()) wish.stock.erase(known);
      if (*taken) wish.stock.push_back({line.material, Grams(**taken)});
    }
  }
  draw_answer(s, recipe, wish, take);
}

// The sheet with its findings; both for the maker's own recipe and for a friend's.
struct Worked {
  parts::Key key;  // of what is looked at: what is typed for one recipe never stands in another's field
  const recipe::Recipe& recipe;
  RecipeDraft& draft;
  Grams meat;
  bool own;  // its lines can be opened
  std::function<void(Grams)> set_meat;
  std::function<void(const recipe::Sheet*)> acts;  // nullptr: there is no sheet
};

void draw_worked(Screen& s, const Worked& worked) {
  draw_meat(s, worked.key, worked.recipe, worked.draft.wish, worked.meat, worked.set_meat);
  parts::gap(s.page, 16.0);
  const Result<recipe::Sheet> made = recipe::scale(worked.recipe, worked.meat, nullptr, s.session.hands());
  if (!made.ok()) {
    const bool at_line = made.error().field.rfind("lines/", 0) == 0;
    parts::trouble(s.page, s.say(Say::sheet_problem),
                   at_line ? words::Text() : words::sentence(s.l, made.error()), std::nullopt);
    draw_lines(s, {worked.recipe, nullptr, {}, worked.own, made.error()});
    worked.acts(nullptr);
    draw_notice(s);
    draw_history(s);
    return;
  }
  const recipe::Sheet& sheet = made.value();
  const std::vector<safety::Finding> findings = s.session.findings(worked.recipe, sheet);
  if (sheet.refused) {
    parts::trouble(s.page, s.say(Say::refused_title),
                   s.say(Say::refused_what, {words::arg("found", mg_per_kg(s.l, sheet.nitrite_wanted)),
                                             words::arg("limit", mg_per_kg(s.l, recipe::kNitriteCeiling))}),
                   std::nullopt);
  }
  draw_lines(s, {worked.recipe, &sheet, findings, worked.own, std::nullopt});
  if (sheet.too_salty) {
    const Error& salty = *sheet.too_salty;
    parts::trouble(
        s.page,
        s.say(Say::too_salty, {words::arg("brings", words::measure(s.l, salty.low.value_or(0.0), 1, "g")),
                               words::arg("wanted", words::verbatim(salty.found + " g"))}),
        {}, std::nullopt);
  }
  parts::gap(s.page, 16.0);
  worked.acts(&sheet);
  draw_notice(s);
  draw_working(s, worked.recipe, worked.meat);
  draw_history(s);

  s.page.second_column();
  draw_composition(s, worked.key, worked.draft.loss, worked.recipe.wanted_loss, worked.recipe, sheet);
  draw_findings(s, findings);
  parts::gap(s.page, 16.0);
  parts::reason(s.page, s.say(Say::cautions_raw));
}

// When the recipe was changed last, and why.
words::Text over_recipe(const Screen& s, const Id& id) {
  const std::vector<recipe::Revision> revisions = s.session.book.revisions(id);
  if (revisions.empty()) return s.say(Say::recipe_label);
  const recipe::Revision& newest = revisions.back();
  const words::Arg date = words::arg("date", words::day_month(s.l, newest.until));
  if (newest.why.empty()) return s.say(Say::revision_label_bare, {date});
  return s.say(Say::revision_label, {date, words::arg("why", newest.why)});
}

}  // namespace

void draw_recipe(Screen& s) {
  Session& session = s.session;
  const Id id = session.view.recipe;
  const auto recipe = session.book.recipe(id);
  if (!recipe) {
    session.view.recipe = {};
    return;
  }
  const auto record = session.book.find(id);
  const bool read_only = record && record->read_only();
  if (parts::way_back(s.page, {key("recipe") / "back", s.say(Say::all_recipes),
                               parts::ActKind::bare, true, {}})) {
    session.view.recipe = {};
  }
  parts::over_heading(s.page, read_only ? s.say(Say::looking_only) : over_recipe(s, id));
  parts::heading(s.page, words::verbatim(recipe->name));
  const auto acts = [&](const recipe::Sheet* sheet) {
    const bool allowed = sheet != nullptr && !sheet->refused;
    const words::Text why = s.say(sheet == nullptr ? Say::sheet_problem : Say::refused_title);
    const std::optional<int> pressed = parts::acts(
        s.page, {{key("recipe") / "add", s.say(Say::add_line), parts::ActKind::bare, !read_only,
                  s.say(Say::looking_only)},
                 {key("recipe") / "weigh", s.say(Say::weigh_it_out), parts::ActKind::main, allowed, why},
                 {key("recipe") / "hang", s.say(Say::hang_it), parts::ActKind::other, allowed, why},
                 {key("recipe") / "send", s.say(Say::send_to_friend), parts::ActKind::other, allowed, why}});
    const std::optional<int> leaf = parts::acts(
        s.page, {{key("recipe") / "change", s.say(Say::change_recipe), parts::ActKind::bare, !read_only,
                  s.say(Say::looking_only)},
                 {key("recipe") / "method", s.say(Say::method), parts::ActKind::bare, true, {}},
                 {key("recipe") / "revisions", s.say(Say::revisions), parts::ActKind::bare, true, {}},
                 {key("recipe") / "blend", s.say(Say::blend_meat), parts::ActKind::bare, !read_only,
                  s.say(Say::looking_only)},
                 {key("recipe") / "copy", s.say(Say::copy_recipe), parts::ActKind::bare, true, {}},
                 {key("recipe") / "remove", s.say(Say::remove_recipe), parts::ActKind::bare, !read_only,
                  s.say(Say::looking_only)}});
    if (pressed == 0) session.open_leaf(BenchLeaf::pick);
    if (pressed == 1) session.begin_weighing_out(id);
    if (pressed == 2) session.begin_hanging();
    if (pressed == 3) session.send_recipe(*recipe);
    constexpr std::array<BenchLeaf, 4> kLeaves = {BenchLeaf::change, BenchLeaf::method, BenchLeaf::revisions,
                                                  BenchLeaf::blend};
    if (leaf && *leaf < 4) session.open_leaf(kLeaves[static_cast<std::size_t>(*leaf)]);
    if (leaf == 4) session.copy_recipe(id);
    if (leaf == 5) session.remove_recipe(id);
  };
  draw_worked(s, {key("recipe") / id, *recipe, session.drafts.recipes[id], session.meat(id), !read_only,
                  [&session, id](Grams meat) { session.set_meat(id, meat); }, acts});
}

void draw_offer(Screen& s) {
  Session& session = s.session;
  const recipe::Recipe recipe = session.offer->file.recipe;
  const bool read_only = session.offer->file.read_only;
  parts::over_heading(s.page, s.say(Say::offer_label));
  parts::heading(s.page, words::verbatim(recipe.name));
  parts::lead(s.page, s.say(read_only ? Say::looking_only : Say::offer_lead));
  std::optional<int> pressed;
  const auto acts = [&](const recipe::Sheet*) {
    pressed = parts::acts(
        s.page, {{key("offer") / "keep", s.say(Say::keep_recipe), parts::ActKind::main, !read_only,
                  s.say(Say::looking_only)},
                 {key("offer") / "leave", s.say(Say::leave_recipe), parts::ActKind::other, true, {}}});
  };
  Offer& offer = *session.offer;
  draw_worked(s, {key("offer") / offer.id, recipe, offer.draft, offer.meat, false,
                  [&offer](Grams meat) { offer.meat = meat; }, acts});
  // The offer ends with either, after the page that shows it.
  if (pressed == 0) session.keep_offer();
  if (pressed == 1) session.leave_offer();
}

}  // namespace saltrafter::desk
