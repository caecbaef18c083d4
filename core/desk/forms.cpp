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

std::shared_ptr<const recipe::Recipe> open_recipe(Screen& s, words::Id title) {
  Session& session = s.session;
  const auto recipe = session.book.recipe(session.view.recipe);
  if (!recipe) {
    session.view.recipe = {};
    session.view.bench = BenchLeaf::sheet;
    return nullptr;
  }
  if (parts::way_back(s.page, {key("leaf") / "back", s.say(Say::back_to, {words::arg("where", recipe->name)}),
                               parts::ActKind::bare, true, {}})) {
    session.open_leaf(BenchLeaf::sheet);
  }
  parts::heading(s.page, s.say(title, {words::arg("name", recipe->name)}));
  return recipe;
}

std::optional<std::optional<double>> number_or_nothing(Screen& s, parts::Key at, words::Id label, words::Id what,
                                                       const NumberRule& rule, std::optional<double> stored,
                                                       int decimals) {
  parts::Field field;
  field.key = at;
  field.label = s.say(label);
  if (stored) field.value = typed_number(s.l, *stored * shown_per_stored(rule), decimals);
  field.unit = words::verbatim(rule.unit);
  field.answer = s.say(what);
  field.judge = judge_number(s.l, rule);
  parts::gap(s.page, 24.0);
  const parts::Typed typed = parts::number_field(s.page, field);
  if (!typed.committed) return std::nullopt;
  const Result<TypedNumber> number = parse_number(*typed.committed, rule);
  std::optional<double> taken;
  if (number.ok()) taken = number.value().value;
  return taken;
}

std::optional<double> number_entry(Screen& s, parts::Key at, words::Id label, const NumberRule& rule,
                                   std::optional<double> stored, int decimals, std::vector<std::string> units,
                                   double step) {
  parts::Field field;
  field.key = at;
  field.label = s.say(label);
  if (stored) field.value = typed_number(s.l, *stored * shown_per_stored(rule), decimals);
  field.unit = words::verbatim(rule.unit);
  field.judge = judge_number(s.l, rule);
  field.units = std::move(units);
  field.step = step;
  field.may_stay_empty = false;
  parts::gap(s.page, 24.0);
  const parts::Typed typed = parts::number_field(s.page, field);
  if (!typed.committed) return std::nullopt;
  const Result<TypedNumber> number = parse_number(*typed.committed, rule);
  return number.ok() ? std::optional<double>(number.value().value) : std::nullopt;
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
