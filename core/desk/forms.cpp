// What the forms of the Bench share: a page of the open recipe, and fields that keep what is typed at once.
#include "core/desk/forms.h"

namespace saltrafter::desk {

using Say = words::Id;

namespace {

// How many of the rule's unit one stored unit is.
double shown_per_stored(const NumberRule& rule) {
  switch (rule.kind) {
    case NumberKind::length: return rule.unit == "mm" ? 1000.0 : 1.0;
    case NumberKind::share: return rule.unit == "g/kg" ? 1000.0 : 100.0;
    case NumberKind::humidity: return 100.0;
    case NumberKind::mass: return rule.unit == "kg" ? 0.001 : 1.0;
    default: return 1.0;
  }
}

}  // namespace

std::shared_ptr<const recipe::Recipe> open_recipe(Screen& s, words::Id title, BenchLeaf up) {
  Session& session = s.session;
  const auto recipe = session.book.recipe(session.view.recipe);
  if (!recipe) {
    session.view.recipe = {};
    session.view.bench = BenchLeaf::sheet;
    return nullptr;
  }
  const words::Text back = up == BenchLeaf::method ? s.say(Say::back_to_method)
                                                   : s.say(Say::back_to, {words::arg("where", recipe->name)});
  if (parts::way_back(s.page, {key("leaf") / "back", back, parts::ActKind::bare, true, {}})) session.open_leaf(up);
  parts::heading(s.page, s.say(title, {words::arg("name", recipe->name)}));
  return recipe;
}

bool back_to_shelf(Screen& s, const words::Text& where, ShelfLeaf leaf) {
  const parts::Act act{key("shelf") / "up", s.say(Say::back_to, {words::arg("where", where)}), parts::ActKind::bare, true, {}};
  if (!parts::way_back(s.page, act)) return false;
  s.session.open_shelf(leaf);
  return true;
}

std::optional<std::optional<double>> enter(Screen& s, const NumberEntry& entry) {
  parts::Field field;
  field.key = entry.key;
  field.label = entry.label;
  if (entry.stored) field.value = typed_number(s.l, *entry.stored * shown_per_stored(entry.rule), entry.decimals);
  field.unit = entry.rule.unit.empty() ? entry.unit : words::verbatim(entry.rule.unit);
  field.answer = entry.what;
  field.units = entry.units;
  field.step = entry.step;
  field.may_stay_empty = entry.may_stay_empty;
  const auto judge = judge_number(s.l, entry.rule);
  field.judge = [judge, rule = entry.rule, wrong = entry.wrong](const std::string& typed) {
    parts::Judged judged = judge(typed);
    const Result<TypedNumber> number = parse_number(typed, rule);
    if (judged.error.empty() && number.ok() && wrong) judged.error = wrong(number.value().value);
    return judged;
  };
  parts::gap(s.page, entry.gap);
  const parts::Typed typed = parts::number_field(s.page, field);
  if (!typed.committed) return std::nullopt;
  const Result<TypedNumber> number = parse_number(*typed.committed, entry.rule);
  std::optional<double> taken;
  if (number.ok()) taken = number.value().value;
  return taken;
}

std::optional<double> number_entry(Screen& s, parts::Key at, words::Id label, const NumberRule& rule,
                                   std::optional<double> stored, int decimals, std::vector<std::string> units,
                                   double step) {
  return enter(s, {at, s.say(label), rule, stored, decimals, std::move(units), step}).value_or(std::nullopt);
}

std::optional<std::optional<double>> number_or_nothing(Screen& s, parts::Key at, words::Id label, words::Id what,
                                                       const NumberRule& rule, std::optional<double> stored,
                                                       int decimals) {
  NumberEntry entry{at, s.say(label), rule, stored, decimals};
  entry.may_stay_empty = true;
  entry.what = s.say(what);
  return enter(s, entry);
}

bool packet_entry(Screen& s, parts::Key at, recipe::Packet& packet) {
  bool changed = false;
  parts::gap(s.page, 24.0);
  if (const auto day = parts::date_field(s.page, {at / "opened", s.say(Say::packet_opened), packet.opened_on,
                                                  s.session.today(), true, {}})) {
    packet.opened_on = *day;
    changed = true;
  }
  if (packet.opened_on) {
    constexpr int kOpenedFor_d = 42;  // common practice: a few weeks in the freezer
    const int days = days_between(*packet.opened_on, s.session.today());
    if (days > kOpenedFor_d) parts::reason(s.page, s.say(Say::packet_old, {words::count("n", days)}));
  }
  parts::gap(s.page, 16.0);
  if (parts::tick_box(s.page, at / "frozen", s.say(Say::packet_frozen), packet.kept_frozen)) {
    packet.kept_frozen = !packet.kept_frozen;
    changed = true;
  }
  return changed;
}

std::optional<std::string> words_entry(Screen& s, parts::Key at, words::Id label, const std::string& shown) {
  parts::Field field;
  field.key = at;
  field.label = s.say(label);
  field.value = shown;
  parts::gap(s.page, 24.0);
  const parts::Typed typed = parts::text_field(s.page, field);
  return typed.committed;
}

words::Text money(const Screen& s, double amount) {
  const std::string sign = s.session.book.settings().money;
  const words::Text figure = words::number(s.l, amount, 2);
  return sign.empty() ? figure : words::join({words::verbatim(sign + "\u00a0"), figure});
}

words::Text clock_time(const Screen& s, std::int64_t utc_ms) {
  return words::verbatim(clock_text(minute_at(s.session.book.ports(), utc_ms)));
}

words::Text whose_rules(const Screen& s) {
  const int own = static_cast<int>(s.session.book.settings().own_limits.size());
  words::Text with_own;
  if (own > 0) with_own = words::join({words::verbatim(" "), s.say(Say::whose_rules_own, {words::count("n", own)})});
  const words::Arg arg = words::arg("own", with_own);
  switch (s.session.chosen()) {
    case safety::Chosen::us: return s.say(Say::whose_rules_us, {arg});
    case safety::Chosen::eu: return s.say(Say::whose_rules_eu, {arg});
    case safety::Chosen::ca: return s.say(Say::whose_rules_ca, {arg});
    case safety::Chosen::none_of_these: return s.say(Say::whose_rules_none, {arg});
    case safety::Chosen::not_chosen: break;
  }
  return s.say(Say::whose_rules_open, {arg});
}

words::Text with_commas(const std::vector<words::Text>& texts) {
  std::vector<words::Text> all;
  for (const words::Text& text : texts) {
    if (text.empty()) continue;
    if (!all.empty()) all.push_back(words::verbatim(", "));
    all.push_back(text);
  }
  return words::join(all);
}

}  // namespace saltrafter::desk
