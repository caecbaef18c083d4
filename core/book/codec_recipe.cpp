#include "core/book/codec.h"
#include "core/book/codec_parts.h"
#include "core/book/fields.h"

namespace saltrafter::book {
namespace {

using recipe::Asked;
using recipe::Basis;
using recipe::CureMethod;
using recipe::Form;
using recipe::LineKind;
using recipe::ProductClass;
using recipe::StageKind;
using recipe::StepKind;
using recipe::Surface;

constexpr double kMostDays = 3650.0;
constexpr double kMostStepValue = 100000.0;  // mm, min, h

constexpr WordTable<LineKind, 5> kLineKinds{{
    {LineKind::meat, "meat"},
    {LineKind::salt, "salt"},
    {LineKind::cure, "cure"},
    {LineKind::additive, "additive"},
    {LineKind::culture, "culture"},
}};
constexpr WordTable<Basis, 4> kBases{{
    {Basis::percent_of_meat, "percent_of_meat"},
    {Basis::g_per_kg, "g_per_kg"},
    {Basis::fixed_g, "fixed_g"},
    {Basis::g_per_piece, "g_per_piece"},
}};
constexpr WordTable<ProductClass, 3> kProductClasses{{
    {ProductClass::comminuted_dry, "comminuted_dry"},
    {ProductClass::whole_muscle_dry, "whole_muscle_dry"},
    {ProductClass::comminuted_semi_dry, "comminuted_semi_dry"},
}};
constexpr WordTable<CureMethod, 4> kMethods{{
    {CureMethod::mixed_in, "mixed_in"},
    {CureMethod::equilibrium, "equilibrium"},
    {CureMethod::salt_box, "salt_box"},
    {CureMethod::brine, "brine"},
}};
constexpr WordTable<Form, 5> kForms{{
    {Form::round, "round"},
    {Form::slab, "slab"},
    {Form::slab_closed, "slab_closed"},
    {Form::rolled, "rolled"},
    {Form::ham, "ham"},
}};
constexpr WordTable<Surface, 3> kSurfaces{{
    {Surface::naked, "naked"},
    {Surface::cased, "cased"},
    {Surface::larded, "larded"},
}};
constexpr WordTable<StageKind, 6> kStageKinds{{
    {StageKind::cure, "cure"},
    {StageKind::rest, "rest"},
    {StageKind::ferment, "ferment"},
    {StageKind::cold_dry, "cold_dry"},
    {StageKind::dry, "dry"},
    {StageKind::store, "store"},
}};
constexpr WordTable<StepKind, 16> kStepKinds{{
    {StepKind::chill, "chill"},
    {StepKind::cut, "cut"},
    {StepKind::mince, "mince"},
    {StepKind::add, "add"},
    {StepKind::rehydrate, "rehydrate"},
    {StepKind::mix, "mix"},
    {StepKind::rest, "rest"},
    {StepKind::stuff, "stuff"},
    {StepKind::prick, "prick"},
    {StepKind::tie, "tie"},
    {StepKind::rub, "rub"},
    {StepKind::turn, "turn"},
    {StepKind::rinse, "rinse"},
    {StepKind::ferment, "ferment"},
    {StepKind::hang, "hang"},
    {StepKind::other, "other"},
}};
constexpr WordTable<Asked, 6> kAsked{{
    {Asked::nothing, "nothing"},
    {Asked::temperature, "temperature"},
    {Asked::ph, "ph"},
    {Asked::mass, "mass"},
    {Asked::minutes, "minutes"},
    {Asked::words, "words"},
}};

// The unit of a line's amount follows from what the line is; it stands in the member's name.
struct AmountUnit {
  std::string_view unit;
  double high;
};
AmountUnit amount_unit(LineKind kind, Basis basis) {
  switch (kind) {
    case LineKind::meat: return {"per_meat", 1.0};
    case LineKind::salt: return {"g_per_kg", 1000.0};
    case LineKind::cure: return {"mg_per_kg", 1e6};
    case LineKind::culture:
    case LineKind::additive: break;
  }
  switch (basis) {
    case Basis::percent_of_meat: return {"per_meat", 10.0};
    case Basis::g_per_kg: return {"g_per_kg", 10000.0};
    case Basis::g_per_piece:
    case Basis::fixed_g: break;
  }
  return {"g", kMostGrams};
}

void encode_line(const recipe::Line& line, Node& onto) {
  put_text(onto, "id", line.id.text);
  put_text(onto, "kind", word_of(kLineKinds, line.kind));
  put_text(onto, "name", line.name);
  put_text(onto, "material", line.material);
  put_text(onto, "basis", word_of(kBases, line.basis));
  const std::string key = "amount_" + std::string(amount_unit(line.kind, line.basis).unit);
  for (const char* other : {"amount_per_meat", "amount_g_per_kg", "amount_mg_per_kg", "amount_g"}) {
    if (key != other) onto.erase(other);
  }
  put_number(onto, key, line.amount);
  encode_parts(line.parts, onto);
  encode_packet(line.packet, onto);
}

recipe::Line decode_line(const Node& node, const std::string& path, std::optional<Error>& fault) {
  Fields fields(node, path, fault);
  recipe::Line line;
  line.id = fields.id("id");
  line.kind = fields.word("kind", kLineKinds);
  line.name = fields.text("name", kLongestName);
  line.material = fields.text("material", kLongestName);
  line.basis = fields.word("basis", kBases);
  const AmountUnit unit = amount_unit(line.kind, line.basis);
  line.amount = fields.number("amount", unit.unit, 0.0, unit.high);
  line.parts = decode_parts(fields, fault);
  line.packet = decode_packet(fields, fault);
  return line;
}

void encode_brine(const std::optional<recipe::Brine>& brine, Node& onto) {
  if (!brine) {
    onto.erase("brine");
    return;
  }
  Node& node = object_in(onto, "brine");
  put_number(node, "amount_g_per_kg", brine->g_per_kg);
  put_number(node, "pick_up_share", brine->pick_up);
  put_number(node, "lies_d", brine->days.value);
}

std::optional<recipe::Brine> decode_brine(Fields& fields, std::optional<Error>& fault) {
  const Node* node = fields.optional_object("brine");
  if (node == nullptr) return std::nullopt;
  Fields said(*node, fields.path("brine"), fault);
  recipe::Brine brine;
  brine.g_per_kg = said.optional_number("amount", "g_per_kg", 50.0, 5000.0, brine.g_per_kg);
  brine.pick_up = said.optional_number("pick_up", "share", 0.0, 0.5, brine.pick_up);
  brine.days = Days(said.optional_number("lies", "d", 0.0, kMostDays, brine.days.value));
  return brine;
}

void encode_stage(const recipe::Stage& stage, Node& onto) {
  put_text(onto, "id", stage.id.text);
  put_text(onto, "kind", word_of(kStageKinds, stage.kind));
  put_number(onto, "temperature_c", stage.temperature.value);
  std::optional<double> humidity;
  if (stage.humidity) humidity = stage.humidity->value;
  put_optional_number(onto, "humidity_share", humidity);
  put_number(onto, "lasts_d", stage.days.value);
  put_optional_number(onto, "until_loss_share", stage.until_loss);
  put_truth_unless(onto, "sealed", stage.sealed, false);
  put_text_unless(onto, "surface", stage.surface ? word_of(kSurfaces, *stage.surface) : "");
}

recipe::Stage decode_stage(const Node& node, const std::string& path, std::optional<Error>& fault) {
  Fields fields(node, path, fault);
  recipe::Stage stage;
  stage.id = fields.id("id");
  stage.kind = fields.word("kind", kStageKinds);
  const double usual_c = stage.temperature.value;
  stage.temperature = Celsius(fields.optional_number("temperature", "c", -40.0, 80.0, usual_c));
  const std::optional<double> humidity = fields.optional_number("humidity", "share", 0.0, 1.0);
  if (humidity) stage.humidity = RelativeHumidity(*humidity);
  stage.days = Days(fields.optional_number("lasts", "d", 0.0, kMostDays, stage.days.value));
  stage.until_loss = fields.optional_number("until_loss", "share", 0.0, 0.9);
  stage.sealed = fields.optional_truth("sealed", false);
  if (!fields.optional_text("surface", kLongestName).empty()) stage.surface = fields.word("surface", kSurfaces);
  return stage;
}

// The unit of a step's value follows from what the step is.
std::string step_value_key(StepKind kind) {
  switch (kind) {
    case StepKind::mince: return "value_mm";
    case StepKind::mix: return "value_min";
    case StepKind::rest: return "value_h";
    default: break;
  }
  return "value";
}

void encode_step(const recipe::Step& step, Node& onto) {
  put_text(onto, "id", step.id.text);
  put_text(onto, "kind", word_of(kStepKinds, step.kind));
  put_text(onto, "stage", word_of(kStageKinds, step.stage));
  put_truth_unless(onto, "before_stage", step.before_stage, true);
  put_text_unless(onto, "words", step.words);
  put_ids(onto, "lines", step.lines);
  put_truth_unless(onto, "in_liquid", step.in_liquid, false);
  const std::string key = step_value_key(step.kind);
  for (const char* other : {"value_mm", "value_min", "value_h", "value"}) {
    if (key != other) onto.erase(other);
  }
  put_optional_number(onto, key, step.value);
  std::optional<double> most_c;
  if (step.most) most_c = step.most->value;
  put_optional_number(onto, "most_c", most_c);
  put_text_unless(onto, "asks", word_of(kAsked, step.asks), word_of(kAsked, Asked::nothing));
}

recipe::Step decode_step(const Node& node, const std::string& path, std::optional<Error>& fault) {
  Fields fields(node, path, fault);
  recipe::Step step;
  step.id = fields.id("id");
  step.kind = fields.word("kind", kStepKinds);
  step.stage = fields.optional_word("stage", kStageKinds, step.stage);
  step.before_stage = fields.optional_truth("before_stage", true);
  step.words = fields.optional_text("words", kLongestNote);
  step.lines = fields.optional_ids("lines", kMostLines);
  step.in_liquid = fields.optional_truth("in_liquid", false);
  const std::string key = step_value_key(step.kind);
  const std::string_view unit = key == "value" ? std::string_view() : std::string_view(key).substr(6);
  step.value = fields.optional_number("value", unit, 0.0, kMostStepValue);
  const std::optional<double> most_c = fields.optional_number("most", "c", -40.0, 120.0);
  if (most_c) step.most = Celsius(*most_c);
  step.asks = fields.optional_word("asks", kAsked, Asked::nothing);
  return step;
}

void encode_revision(const recipe::Revision& revision, Node& onto) {
  put_text(onto, "id", revision.id.text);
  put_text(onto, "until", iso_date(revision.until));
  put_text_unless(onto, "why", revision.why);
  encode(revision.was, object_in(onto, "was"));
}

recipe::Revision decode_revision(const Node& node, const std::string& path, std::optional<Error>& fault) {
  Fields fields(node, path, fault);
  recipe::Revision revision;
  revision.id = fields.id("id");
  revision.until = fields.date("until");
  revision.why = fields.optional_text("why", kLongestNote);
  if (const Node* was = fields.object("was")) {
    Result<recipe::Recipe> recipe = decode_recipe(*was, fields.path("was"));
    if (recipe.ok()) {
      revision.was = std::move(recipe).value();
    } else if (!fault) {
      fault = recipe.error();
    }
  }
  return revision;
}

}  // namespace

void encode(const recipe::Recipe& recipe, Node& onto) {
  const recipe::Recipe usual;
  onto.type = Node::Type::object;
  put_text(onto, "name", recipe.name);
  put_text(onto, "note", recipe.note);
  put_text(onto, "product_class", word_of(kProductClasses, recipe.product_class));
  put_text_unless(onto, "method", word_of(kMethods, recipe.method), word_of(kMethods, usual.method));
  encode_mix(recipe.mix, onto);
  put_text_unless(onto, "casing", recipe.casing);
  put_text_unless(onto, "form", word_of(kForms, recipe.form), word_of(kForms, usual.form));
  put_number(onto, "casing_diameter_m", recipe.casing_diameter.value);
  put_number_unless(onto, "piece_length_m", recipe.piece_length.value, usual.piece_length.value);
  put_optional_number(onto, "piece_width_m", recipe.piece_width);
  put_number_unless(onto, "bone_share", recipe.bone_share, usual.bone_share);
  put_truth_unless(onto, "skin_on", recipe.skin_on, usual.skin_on);
  encode_brine(recipe.brine, onto);
  put_optional_number(onto, "wanted_ph", recipe.wanted_ph);
  put_number(onto, "wanted_loss_share", recipe.wanted_loss);
  if (onto.find("lines") == nullptr) onto.set("lines", Node::list());
  encode_list(recipe.lines, onto, "lines", encode_line);
  encode_list(recipe.stages, onto, "stages", encode_stage);
  encode_list(recipe.steps, onto, "steps", encode_step);
}

Result<recipe::Recipe> decode_recipe(const Node& node, const std::string& path) {
  std::optional<Error> fault;
  Fields fields(node, path, fault);
  recipe::Recipe recipe;
  recipe.name = fields.text("name", kLongestName);
  recipe.note = fields.text("note", kLongestNote);
  recipe.product_class = fields.word("product_class", kProductClasses);
  recipe.method = fields.optional_word("method", kMethods, recipe.method);
  if (const Node* mix = fields.object("curing_mix")) {
    recipe.mix = decode_mix(*mix, fields.path("curing_mix"), fault);
  }
  recipe.casing = fields.optional_text("casing", kLongestName);
  recipe.form = fields.optional_word("form", kForms, recipe.form);
  recipe.casing_diameter = Metres(fields.number("casing_diameter", "m", 0.005, 0.5));
  const double usual_m = recipe.piece_length.value;
  recipe.piece_length = Metres(fields.optional_number("piece_length", "m", 0.01, 5.0, usual_m));
  const std::optional<double> width_m = fields.optional_number("piece_width", "m", 0.01, 5.0);
  if (width_m) recipe.piece_width = Metres(*width_m);
  recipe.bone_share = fields.optional_number("bone", "share", 0.0, 0.5, recipe.bone_share);
  recipe.skin_on = fields.optional_truth("skin_on", recipe.skin_on);
  recipe.brine = decode_brine(fields, fault);
  recipe.wanted_ph = fields.optional_number("wanted_ph", "", 4.2, 5.6);
  recipe.wanted_loss = fields.number("wanted_loss", "share", 0.0, 0.9);
  recipe.lines =
      decode_list<recipe::Line>(fields.list("lines", kMostLines), fields.path("lines"), fault, decode_line);
  recipe.stages = decode_list<recipe::Stage>(fields.optional_list("stages", kMostStages),
                                             fields.path("stages"), fault, decode_stage);
  recipe.steps = decode_list<recipe::Step>(fields.optional_list("steps", kMostSteps), fields.path("steps"),
                                           fault, decode_step);
  if (fault) return *fault;
  return recipe;
}

void encode(const std::vector<recipe::Revision>& revisions, Node& onto) {
  onto.type = Node::Type::object;
  encode_list(revisions, onto, "revisions", encode_revision);
}

Result<std::vector<recipe::Revision>> decode_revisions(const Node& node, const std::string& path) {
  std::optional<Error> fault;
  Fields fields(node, path, fault);
  std::vector<recipe::Revision> revisions = decode_list<recipe::Revision>(
      fields.optional_list("revisions", kMostRevisions), fields.path("revisions"), fault, decode_revision);
  if (fault) return *fault;
  return revisions;
}

}  // namespace saltrafter::book
