#include "core/share/report_parts.h"

#include <array>
#include <cmath>
#include <utility>

#include "core/share/report.h"

namespace saltrafter::share {

using book::Node;

namespace {

constexpr std::array<std::pair<ErrorCode, std::string_view>, 20> kErrorNames{{
    {ErrorCode::missing, "missing"},
    {ErrorCode::not_a_number, "not_a_number"},
    {ErrorCode::ambiguous_number, "ambiguous_number"},
    {ErrorCode::out_of_range, "out_of_range"},
    {ErrorCode::unknown_unit, "unknown_unit"},
    {ErrorCode::unknown_value, "unknown_value"},
    {ErrorCode::wrong_type, "wrong_type"},
    {ErrorCode::duplicate_key, "duplicate_key"},
    {ErrorCode::cut_off, "cut_off"},
    {ErrorCode::not_json, "not_json"},
    {ErrorCode::too_deep, "too_deep"},
    {ErrorCode::too_large, "too_large"},
    {ErrorCode::wrong_format, "wrong_format"},
    {ErrorCode::newer_schema, "newer_schema"},
    {ErrorCode::damaged, "damaged"},
    {ErrorCode::refused, "refused"},
    {ErrorCode::not_found, "not_found"},
    {ErrorCode::not_converged, "not_converged"},
    {ErrorCode::read_only, "read_only"},
    {ErrorCode::storage_full, "storage_full"},
}};

std::string unit_in_name(std::string_view unit) {
  if (unit.empty() || unit == "1") return {};
  std::string out = "_";
  for (const char c : unit) {
    if (c == '/') {
      out += "_per_";
    } else if (c == '%') {
      out += "percent";
    } else if ((c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9')) {
      out += c;
    }
  }
  return out;
}

void put_days(Node& node, const std::string& name, const std::optional<Days>& days, Date hung_on) {
  if (!days) return;
  put(node, name + "_d", days->value);
  put_text(node, name + "_on", iso_date(add_days(hung_on, *days)));
}

void put_window(Node& node, const drying::Window& window, Date hung_on) {
  put_days(node, std::string(drying::kFigureExpectedEarliest), window.earliest, hung_on);
  put_days(node, std::string(drying::kFigureExpectedLikely), window.likely, hung_on);
  put_days(node, std::string(drying::kFigureExpectedLatest), window.latest, hung_on);
}

Node band_node(const drying::LossBand& band) {
  Node node = Node::list();
  for (const double value : {band.low, band.likely, band.high}) node.items.push_back(Node::of_number(value));
  return node;
}

void put_amount(Node& node, const std::string& name, const std::optional<safety::Amount>& amount) {
  if (!amount) return;
  put(node, name + unit_in_name(amount->unit), amount->value);
  if (!amount->of.empty()) put_text(node, name + "_of", amount->of);
}

std::string_view key_of(drying::Doubt doubt) {
  switch (doubt) {
    case drying::Doubt::too_light: return "too_light";
    case drying::Doubt::too_heavy: return "too_heavy";
    case drying::Doubt::gain: return "gain";
    case drying::Doubt::too_fast: return "too_fast";
    case drying::Doubt::mark: return "mark";
    case drying::Doubt::set_aside: return "set_aside";
  }
  return {};
}

std::string_view key_of(safety::Stop stop) {
  switch (stop) {
    case safety::Stop::none: return "none";
    case safety::Stop::with_reason: return "with_reason";
    case safety::Stop::outright: return "outright";
  }
  return {};
}

std::string_view key_of(recipe::LineKind kind) {
  switch (kind) {
    case recipe::LineKind::meat: return "meat";
    case recipe::LineKind::salt: return "salt";
    case recipe::LineKind::cure: return "cure";
    case recipe::LineKind::additive: return "additive";
    case recipe::LineKind::culture: return "culture";
  }
  return {};
}

}  // namespace

std::string_view error_name(ErrorCode code) {
  for (const auto& row : kErrorNames) {
    if (row.first == code) return row.second;
  }
  return "storage_denied";
}

void put(Node& object, std::string_view name, double value) {
  if (std::isfinite(value)) object.set(name, Node::of_number(value));
}

void put_text(Node& object, std::string_view name, std::string_view value) {
  object.set(name, Node::of_text(std::string(value)));
}

Node error_node(const Error& error) {
  Node node = Node::object();
  const book::FoundInText found = book::found_in_text(error);
  put_text(node, "code", error_name(error.code));
  put_text(node, "field", error.field);
  put_text(node, "found", found.text);
  if (found.line > 0) put(node, "line", found.line);
  if (!error.expected.empty()) put_text(node, "expected", error.expected);
  if (!error.unit.empty()) put_text(node, "unit", error.unit);
  if (error.low) put(node, "low", *error.low);
  if (error.high) put(node, "high", *error.high);
  return node;
}

Node sheet_node(const recipe::Sheet& sheet) {
  Node node = Node::object();
  put(node, "meat_g", sheet.meat.value);
  put(node, "total_g", sheet.total.value);
  put(node, "salt_wanted_g", sheet.salt_wanted.value);
  put(node, "salt_from_mix_g", sheet.salt_from_mix.value);
  put(node, "mix_g", sheet.mix.value);
  put(node, "curing_base_g", sheet.curing_base.value);
  put(node, "water_g", sheet.water.value);
  put(node, "pieces", sheet.pieces);
  put(node, "nitrite_wanted_mg_per_kg", sheet.nitrite_wanted.value);
  put(node, "nitrite_mg_per_kg", sheet.nitrite.value);
  put(node, "nitrite_ion_mg_per_kg", sheet.nitrite_ion.value);
  put(node, "nitrate_mg_per_kg", sheet.nitrate.value);
  put(node, "nitrate_ion_mg_per_kg", sheet.nitrate_ion.value);
  put(node, "ascorbate_mg_per_kg", sheet.ascorbate.value);
  if (sheet.too_salty) node.set("too_salty", error_node(*sheet.too_salty));
  if (sheet.refused) node.set("refused", error_node(*sheet.refused));
  Node lines = Node::list();
  for (const recipe::SheetLine& line : sheet.lines) {
    Node row = Node::object();
    put_text(row, "id", line.id.text);
    put_text(row, "kind", key_of(line.kind));
    put_text(row, "name", line.name);
    put_text(row, "material", line.material);
    put(row, "exact_g", line.exact.value);
    put(row, "weighed_g", line.weighed.value);
    put(row, "share_of_meat", line.share_of_meat);
    if (line.each_g > 0.0) put(row, "each_g", line.each_g);
    row.set("is_in", Node::of_boolean(line.is_in));
    row.set("parts_known", Node::of_boolean(line.parts_known));
    lines.items.push_back(std::move(row));
  }
  node.set("lines", std::move(lines));
  return node;
}

Node working_node(const recipe::Working& working) {
  Node node = Node::object();
  for (const recipe::WorkingLine& line : working) put(node, line.id + unit_in_name(line.unit), line.value);
  return node;
}

Node composition_node(const recipe::Composition& composition) {
  Node node = Node::object();
  put(node, "total_g", composition.total_g());
  put(node, "water_g", composition.water_g);
  put(node, "protein_g", composition.protein_g);
  put(node, "fat_g", composition.fat_g);
  put(node, "salt_g", composition.salt_g);
  put(node, "rest_g", composition.rest_g);
  put(node, "sugar_g", composition.sugar_g);
  put(node, "moisture_protein_ratio", recipe::moisture_protein_ratio(composition));
  put(node, "water_phase_salt_share", recipe::water_phase_salt(composition));
  const Result<WaterActivity> brine = recipe::brine_activity_of_water_phase(recipe::water_phase_salt(composition));
  if (brine.ok()) put(node, "water_activity_brine_bound", brine.value().value);
  return node;
}

Node findings_node(const std::vector<safety::Finding>& findings) {
  Node list = Node::list();
  for (const safety::Finding& finding : findings) {
    Node node = Node::object();
    put_text(node, "rule", safety::key_of(finding.rule));
    put_text(node, "row", finding.row);
    put_text(node, "level", safety::key_of(finding.level));
    node.set("decides", Node::of_boolean(finding.decides));
    node.set("stop", Node::of_boolean(safety::stops(finding)));
    if (finding.stop != safety::Stop::none) put_text(node, "stop_kind", key_of(finding.stop));
    if (!finding.about.text.empty()) put_text(node, "about", finding.about.text);
    if (finding.own) node.set("own", Node::of_boolean(true));
    put_amount(node, "found", finding.found);
    put_amount(node, "limit", finding.limit);
    put_amount(node, "found_also", finding.found_also);
    put_amount(node, "limit_also", finding.limit_also);
    if (finding.margin) put(node, "margin" + (finding.limit ? unit_in_name(finding.limit->unit) : ""), *finding.margin);
    if (finding.uncertainty > 0.0) {
      put(node, "uncertainty" + (finding.limit ? unit_in_name(finding.limit->unit) : ""), finding.uncertainty);
    }
    put_text(node, "source", finding.source);
    if (!finding.from.empty()) put_text(node, "from", finding.from);
    if (finding.own) node.set("own", Node::of_boolean(true));
    if (!finding.about.empty()) put_text(node, "about", finding.about.text);
    if (!finding.advice.empty()) put_text(node, "advice", finding.advice);
    for (const safety::Figure& figure : finding.figures) {
      put(node, "figure." + figure.id + unit_in_name(figure.unit), figure.value);
    }
    Node missing = Node::list();
    for (const std::string& id : finding.missing) missing.items.push_back(Node::of_text(id));
    node.set("missing", std::move(missing));
    if (!finding.advice.empty()) put_text(node, "advice", finding.advice);
    if (!finding.figures.empty()) {
      Node figures = Node::object();
      for (const safety::Figure& figure : finding.figures) {
        put(figures, figure.id + unit_in_name(figure.unit), figure.value);
      }
      node.set("figures", std::move(figures));
    }
    list.items.push_back(std::move(node));
  }
  return list;
}

Node forecast_node(const drying::Forecast& forecast, Date hung_on) {
  Node node = Node::object();
  node.set("prior_only", Node::of_boolean(forecast.prior_only));
  put(node, "batch.ln_factor_inner", forecast.batch_ln_factor[0]);
  put(node, "batch.ln_factor_outer", forecast.batch_ln_factor[1]);
  put(node, "batch.sd_inner", forecast.batch_sd[0]);
  put(node, "batch.sd_outer", forecast.batch_sd[1]);
  put(node, "searched_d", forecast.searched_days.value);
  Node pieces = Node::list();
  for (const drying::PieceOutlook& piece : forecast.pieces) {
    Node row = Node::object();
    put_text(row, "id", piece.piece.text);
    put_window(row, piece.expected, hung_on);
    put(row, drying::kFigureFactorInner, std::exp(piece.ln_factor[0]));
    put(row, drying::kFigureFactorOuter, std::exp(piece.ln_factor[1]));
    put(row, "weighings_used", piece.weighings_used);
    row.set(std::string(drying::kFigureLossNow) + "_share", band_node(piece.loss_now));
    if (piece.reaching_humidity) {
      put(row, std::string(drying::kFigureReachingHumidity) + "_share", piece.reaching_humidity->value);
    }
    pieces.items.push_back(std::move(row));
  }
  node.set("pieces", std::move(pieces));
  put(node, "middle_piece", static_cast<double>(forecast.middle));
  Node curve = Node::list();
  for (const drying::CurveDay& day : forecast.curve) {
    Node row = Node::object();
    put(row, "day_d", day.state.day.value);
    row.set("loss_share", band_node(day.loss));
    put(row, drying::kFigureCoreActivity, day.state.aw_core.value);
    put(row, drying::kFigureSurfaceActivity, day.state.aw_surface.value);
    put(row, drying::kFigureMeanActivity, day.state.aw_mean.value);
    put(row, drying::kFigureCaseHardening, day.state.case_hardening);
    curve.items.push_back(std::move(row));
  }
  node.set("curve", std::move(curve));
  Node suspicions = Node::list();
  for (const drying::Suspicion& suspicion : forecast.suspicions) {
    Node row = Node::object();
    put_text(row, "piece", suspicion.piece.text);
    put_text(row, "weighing", suspicion.weighing.text);
    put_text(row, "doubt", key_of(suspicion.doubt));
    put(row, "z", suspicion.z);
    suspicions.items.push_back(std::move(row));
  }
  node.set("suspicions", std::move(suspicions));
  return node;
}

}  // namespace saltrafter::share
