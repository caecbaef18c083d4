#include "core/book/codec.h"
#include "core/book/codec_parts.h"
#include "core/book/fields.h"

namespace saltrafter::book {
namespace {

constexpr double kMostEnergyKwh = 1e6;

void encode_weighed(const recipe::WeighedIn& weighed, Node& onto) {
  put_text(onto, "line", weighed.line.text);
  put_number(onto, "mass_g", weighed.mass.value);
  put_instant(onto, "at_utc_ms", weighed.at_utc_ms);
  put_text_unless(onto, "lot", weighed.lot);
}

void encode_step_done(const plan::StepDone& step, Node& onto) {
  put_text(onto, "step", step.step.text);
  put_instant(onto, "at_utc_ms", step.at_utc_ms);
  put_optional_number(onto, "value", step.value);
  put_text_unless(onto, "words", step.words);
}

recipe::WeighedIn decode_weighed(const Node& node, const std::string& path, std::optional<Error>& fault) {
  Fields fields(node, path, fault);
  recipe::WeighedIn weighed;
  weighed.line = fields.id("line");
  weighed.mass = Grams(fields.number("mass", "g", 0.0, kMostGrams));
  weighed.at_utc_ms = fields.instant("at");
  weighed.lot = fields.optional_text("lot", kLongestName);
  return weighed;
}

// The value is in the unit that the step asks for.
plan::StepDone decode_step_done(const Node& node, const std::string& path, std::optional<Error>& fault) {
  Fields fields(node, path, fault);
  plan::StepDone step;
  step.step = fields.id("step");
  step.at_utc_ms = fields.instant("at");
  step.value = fields.optional_number("value", "", -kMostGrams, kMostGrams);
  step.words = fields.optional_text("words", kLongestNote);
  return step;
}

constexpr WordTable<plan::LossBase, 2> kLossBases{{
    {plan::LossBase::hung, "hung"},
    {plan::LossBase::trimmed, "trimmed"},
}};

// What is wanted of a batch: a number of each kind, where there is one.
struct WishField {
  drying::WishKind kind;
  std::string_view name, unit;
  double least, most;

  std::string key() const { return std::string(name) + (unit.empty() ? "" : "_") + std::string(unit); }
};
constexpr std::array<WishField, 5> kWishFields{{
    {drying::WishKind::loss, "loss", "share", 0.01, 0.9},
    {drying::WishKind::moisture_protein_ratio, "moisture_protein_ratio", "", 0.1, 10.0},
    {drying::WishKind::moisture, "moisture", "share", 0.05, 0.9},
    {drying::WishKind::activity, "activity", "", 0.3, 0.999},
    {drying::WishKind::least_days, "least", "d", 0.0, 3650.0},
}};

void encode_wishes(const std::vector<drying::Wish>& wishes, Node& onto) {
  if (wishes.empty() && onto.find("wishes") == nullptr) return;
  Node& node = object_in(onto, "wishes");
  for (const WishField& field : kWishFields) {
    std::optional<double> value;
    for (const drying::Wish& wish : wishes) {
      if (wish.kind == field.kind) value = wish.value;
    }
    put_optional_number(node, field.key(), value);
  }
}

std::vector<drying::Wish> decode_wishes(const Node& node, const std::string& path, std::optional<Error>& fault) {
  Fields fields(node, path, fault);
  std::vector<drying::Wish> wishes;
  for (const WishField& field : kWishFields) {
    const std::optional<double> value =
        fields.optional_number(std::string(field.name), std::string(field.unit), field.least, field.most);
    if (value) wishes.push_back({field.kind, *value});
  }
  return wishes;
}

void encode_costs(const plan::Costs& costs, Node& onto) {
  if (costs == plan::Costs{} && onto.find("costs") == nullptr) return;
  Node& node = object_in(onto, "costs");
  put_number(node, "trim_g", costs.trim.value);
  put_number(node, "energy_kwh", costs.energy_kwh);
  put_number(node, "price_per_kwh", costs.price_per_kwh);
  put_optional_number(node, "ends_share", costs.ends_share);
}

plan::Costs decode_costs(const Node& node, const std::string& path, std::optional<Error>& fault) {
  Fields fields(node, path, fault);
  plan::Costs costs;
  costs.trim = Grams(fields.number("trim", "g", 0.0, kMostGrams));
  costs.energy_kwh = fields.number("energy", "kwh", 0.0, kMostEnergyKwh);
  costs.price_per_kwh = fields.number("price", "per_kwh", 0.0, kMostPrice);
  costs.ends_share = fields.optional_number("ends", "share", 0.0, 1.0);
  return costs;
}

constexpr WordTable<safety::Chosen, 5> kChosen{{
    {safety::Chosen::not_chosen, "not_chosen"},
    {safety::Chosen::us, "us"},
    {safety::Chosen::eu, "eu"},
    {safety::Chosen::ca, "ca"},
    {safety::Chosen::none_of_these, "none_of_these"},
}};

// Settings whose members are texts but not the maker's free ones.
constexpr std::string_view kRules = "rules";
constexpr std::string_view kMoney = "money";
bool is_typed(std::string_view key) { return key == kRules || key == kMoney; }

}  // namespace

void encode(const plan::Batch& batch, Node& onto) {
  onto.type = Node::Type::object;
  put_text(onto, "name", batch.name);
  put_text(onto, "recipe", batch.recipe.text);
  Node made_from = Node::object();
  if (const Node* old = onto.find("made_from")) made_from = *old;
  encode(batch.made_from, made_from);
  onto.set("made_from", std::move(made_from));
  put_number(onto, "meat_g", batch.meat.value);
  const Date never{};
  const std::string hung_on = batch.hung_on != never ? iso_date(batch.hung_on) : std::string();
  put_text_unless(onto, "begun_on", batch.begun_on != never ? iso_date(batch.begun_on) : hung_on, hung_on);
  put_truth_unless(onto, "hung", batch.hung, true);
  if (batch.hung || batch.hung_on != never) {
    put_text(onto, "hung_on", iso_date(batch.hung_on));
  } else {
    onto.erase("hung_on");
  }
  Node air = Node::object();
  if (const Node* old = onto.find("air")) air = *old;
  put_number(air, "temperature_c", batch.air.temperature.value);
  put_number(air, "humidity_share", batch.air.humidity.value);
  put_number(air, "speed_m_per_s", batch.air.speed.value);
  onto.set("air", std::move(air));
  const auto key_of_weighed = [](const recipe::WeighedIn& weighed) { return weighed.line.text; };
  encode_keyed(batch.weighed, onto, "weighed", key_of_weighed, encode_weighed);
  const auto key_of_step = [](const plan::StepDone& step) { return key_at(step.step, step.at_utc_ms); };
  encode_keyed(batch.steps_done, onto, "steps_done", key_of_step, encode_step_done);
  if (!(batch.evidence == safety::Evidence{}) || onto.find("evidence") != nullptr) {
    encode(batch.evidence, object_in(onto, "evidence"));
  }
  encode_pieces(batch, onto);
  put_text_unless(onto, "loss_base", word_of(kLossBases, batch.loss_base),
                  word_of(kLossBases, plan::LossBase::hung));
  encode_wishes(batch.wishes, onto);
  encode_costs(batch.costs, onto);
  put_text_unless(onto, "from", batch.from.text);
}

Result<plan::Batch> decode_batch(const Node& node, const std::string& path) {
  std::optional<Error> fault;
  Fields fields(node, path, fault);
  plan::Batch batch;
  batch.name = fields.text("name", kLongestName);
  batch.recipe = fields.optional_id("recipe");
  if (const Node* made_from = fields.object("made_from")) {
    Result<recipe::Recipe> recipe = decode_recipe(*made_from, fields.path("made_from"));
    if (!recipe.ok()) return recipe.error();
    batch.made_from = recipe.value();
  }
  batch.meat = Grams(fields.number("meat", "g", 0.0, kMostGrams));
  batch.hung = fields.optional_truth("hung", true);
  if (batch.hung || fields.has("hung_on")) batch.hung_on = fields.date("hung_on");
  batch.begun_on = fields.has("begun_on") || !fields.has("hung_on") ? fields.date("begun_on") : batch.hung_on;
  if (const Node* air = fields.object("air")) {
    Fields values(*air, fields.path("air"), fault);
    batch.air.temperature = Celsius(values.number("temperature", "c", -40.0, 80.0));
    batch.air.humidity = RelativeHumidity(values.number("humidity", "share", 0.0, 1.0));
    batch.air.speed = MetresPerSecond(values.number("speed", "m_per_s", 0.0, 20.0));
  }
  batch.weighed = decode_list<recipe::WeighedIn>(fields.optional_list("weighed", kMostLines),
                                                 fields.path("weighed"), fault, decode_weighed);
  batch.steps_done = decode_list<plan::StepDone>(fields.optional_list("steps_done", kMostStepsDone),
                                                 fields.path("steps_done"), fault, decode_step_done);
  if (const Node* evidence = fields.optional_object("evidence")) {
    batch.evidence = decode_evidence(*evidence, fields.path("evidence"), fault);
  }
  decode_pieces(fields, batch, fault);
  batch.loss_base = fields.optional_word("loss_base", kLossBases, plan::LossBase::hung);
  if (const Node* wishes = fields.optional_object("wishes")) {
    batch.wishes = decode_wishes(*wishes, fields.path("wishes"), fault);
  }
  if (const Node* costs = fields.optional_object("costs")) {
    batch.costs = decode_costs(*costs, fields.path("costs"), fault);
  }
  batch.from = fields.optional_id_or_none("from");
  if (fault) return *fault;
  return batch;
}

void encode(const Settings& settings, Node& onto) {
  const Settings usual;
  onto.type = Node::Type::object;
  for (const auto& entry : settings.values) {
    if (!is_typed(entry.first)) put_text(onto, entry.first, entry.second);
  }
  for (std::size_t i = onto.keys.size(); i-- > 0;) {
    const bool free_text = onto.items[i].type == Node::Type::text && !is_typed(onto.keys[i]);
    if (free_text && settings.values.count(onto.keys[i]) == 0) onto.erase(std::string(onto.keys[i]));
  }
  put_text_unless(onto, kRules, word_of(kChosen, settings.chosen), word_of(kChosen, usual.chosen));
  put_text_unless(onto, kMoney, settings.money);
  encode_own_limits(settings.own_limits, onto);
  if (!(settings.scales == usual.scales) || onto.find("scales") != nullptr) {
    Node& scales = object_in(onto, "scales");
    put_number(scales, "fine_step_g", settings.scales.fine_step.value);
    put_number(scales, "fine_most_g", settings.scales.fine_most.value);
    put_number(scales, "coarse_step_g", settings.scales.coarse_step.value);
  }
}

Result<Settings> decode_settings(const Node& node, const std::string& path) {
  constexpr double kFinestG = 0.001;
  constexpr double kCoarsestG = 1000.0;
  std::optional<Error> fault;
  Fields fields(node, path, fault);
  if (fault) return *fault;
  Settings settings;
  for (std::size_t i = 0; i < node.keys.size(); ++i) {
    if (node.items[i].type != Node::Type::text || is_typed(node.keys[i])) continue;
    settings.values[node.keys[i]] = node.items[i].text;
  }
  settings.chosen = fields.optional_word(kRules, kChosen, settings.chosen);
  settings.money = fields.optional_text(kMoney, kLongestMoney);
  settings.own_limits = decode_own_limits(fields, fault);
  if (const Node* scales = fields.optional_object("scales")) {
    Fields grams(*scales, fields.path("scales"), fault);
    settings.scales.fine_step = Grams(grams.number("fine_step", "g", kFinestG, kCoarsestG));
    settings.scales.fine_most = Grams(grams.number("fine_most", "g", 0.0, kMostGrams));
    settings.scales.coarse_step = Grams(grams.number("coarse_step", "g", kFinestG, kCoarsestG));
  }
  if (fault) return *fault;
  return settings;
}

}  // namespace saltrafter::book
