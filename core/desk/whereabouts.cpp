#include "core/desk/whereabouts.h"

#include <array>
#include <cstdlib>
#include <vector>

namespace saltrafter::desk {
namespace {

using book::Node;

constexpr std::array<std::string_view, kPlaces> kPlaceNames = {"round", "bench", "rails", "air", "shelf"};
constexpr std::array<std::string_view, 2> kThemes = {"paper", "cellar"};  // by parts::ThemeName
constexpr std::string_view kHang = "hang";

std::string_view name_of(Place place) { return kPlaceNames[static_cast<std::size_t>(place)]; }

std::string hex_of(std::uint64_t id) {
  char text[24];
  std::snprintf(text, sizeof text, "%llx", static_cast<unsigned long long>(id));
  return text;
}

void put(Node& node, std::string_view name, const std::string& text) {
  if (!text.empty()) node.set(name, Node::of_text(text));
}

std::string text_at(const Node& node, std::string_view name) {
  const Node* found = node.find(name);
  return found != nullptr && found->type == Node::Type::text ? found->text : std::string();
}

std::optional<double> number_at(const Node* node, std::string_view name, double low, double high) {
  const Node* found = node == nullptr ? nullptr : node->find(name);
  if (found == nullptr || found->type != Node::Type::number) return std::nullopt;
  if (!(found->number >= low && found->number <= high)) return std::nullopt;
  return found->number;
}

std::optional<Date> date_at(const Node* node, std::string_view name) {
  if (node == nullptr) return std::nullopt;
  const Result<Date> date = parse_iso_date(text_at(*node, name));
  return date.ok() ? std::optional<Date>(date.value()) : std::nullopt;
}

Node hanging_node(const HangDraft& hang) {
  Node node = Node::object();
  node.set("casing_m", Node::of_number(hang.casing.value));
  node.set("temperature_c", Node::of_number(hang.air.temperature.value));
  node.set("humidity_share", Node::of_number(hang.air.humidity.value));
  node.set("day", Node::of_text(iso_date(hang.day)));
  return node;
}

void take_up_hanging(const Node* node, HangDraft& hang) {
  const auto casing = number_at(node, "casing_m", 0.001, 1.0);
  const auto temperature = number_at(node, "temperature_c", -40.0, 60.0);
  const auto humidity = number_at(node, "humidity_share", 0.0, 1.0);
  const auto day = date_at(node, "day");
  if (!casing || !temperature || !humidity || !day) return;
  hang.casing = Metres(*casing);
  hang.air.temperature = Celsius(*temperature);
  hang.air.humidity = RelativeHumidity(*humidity);
  hang.day = *day;
}

}  // namespace

std::string address_of(const View& view) {
  std::string out(name_of(view.place));
  if (view.place == Place::bench && !view.recipe.empty()) {
    out += "/" + view.recipe.text;
    if (view.hanging) out += "/" + std::string(kHang);
  }
  if (view.place == Place::rails && !view.batch.empty()) {
    out += "/" + view.batch.text;
    if (!view.piece.empty()) out += "/" + view.piece.text;
  }
  return out;
}

std::optional<View> view_at(std::string_view address, const View& now) {
  std::vector<std::string_view> parts;
  while (!address.empty() && parts.size() < 4) {
    const std::size_t to = address.find('/');
    parts.push_back(address.substr(0, to));
    address = to == std::string_view::npos ? std::string_view() : address.substr(to + 1);
  }
  if (parts.empty() || parts.size() > 3) return std::nullopt;
  View view = now;
  bool known = false;
  for (std::size_t i = 0; i < kPlaceNames.size(); ++i) {
    if (kPlaceNames[i] != parts[0]) continue;
    view.place = static_cast<Place>(i);
    known = true;
  }
  if (!known) return std::nullopt;
  const auto id = [&parts](std::size_t at) {
    if (at >= parts.size()) return Id{};
    const Result<Id> read = parse_id(parts[at]);
    return read.ok() ? read.value() : Id{};
  };
  if (view.place == Place::bench) {
    view.recipe = id(1);
    view.hanging = !view.recipe.empty() && parts.size() == 3 && parts[2] == kHang;
  }
  if (view.place == Place::rails) {
    view.batch = id(1);
    view.piece = view.batch.empty() ? Id{} : id(2);
  }
  return view;
}

std::string write_whereabouts(const Session& session, const parts::Host& host) {
  Node root = Node::object();
  const View& view = session.view;
  put(root, "place", std::string(name_of(view.place)));
  if (session.look.theme) put(root, "theme", std::string(kThemes[static_cast<std::size_t>(*session.look.theme)]));
  root.set("text_scale", Node::of_number(session.look.text_scale));
  put(root, "recipe", view.recipe.text);
  root.set("hanging", Node::of_boolean(view.hanging));
  put(root, "batch", view.batch.text);
  put(root, "piece", view.piece.text);
  root.set("hang", hanging_node(session.hang));
  put(root, "weighed_piece", session.weigh_draft.piece.text);
  if (session.weigh_draft.day) put(root, "weighing_day", iso_date(*session.weigh_draft.day));
  put(root, "weight_typed", session.weigh_draft.weight);
  const parts::Host::Kept kept = host.kept();
  Node scrolls = Node::object();
  for (const auto& [page, at] : kept.scrolls) scrolls.set(hex_of(page), Node::of_number(at));
  root.set("scrolls", std::move(scrolls));
  Node fields = Node::object();
  for (const auto& [id, text] : kept.refused) fields.set(hex_of(id), Node::of_text(text));
  root.set("refused", std::move(fields));
  if (kept.typing) {
    put(root, "typing", hex_of(kept.typing->first));
    root.set("typed", Node::of_text(kept.typing->second));
  }
  return book::write_tree(root, book::TextForm::stored);
}

void take_up_whereabouts(std::string_view text, Session& session, parts::Host& host) {
  const Result<Node> read = book::read_tree(text);
  if (!read.ok()) return;
  const Node& root = read.value();
  for (std::size_t i = 0; i < kThemes.size(); ++i) {
    if (text_at(root, "theme") == kThemes[i]) session.look.theme = static_cast<parts::ThemeName>(i);
  }
  session.look.text_scale = number_at(&root, "text_scale", 1.0, 2.0).value_or(1.0);
  const auto id_at = [&root](std::string_view name) {
    const Result<Id> id = parse_id(text_at(root, name));
    return id.ok() ? id.value() : Id{};
  };
  const std::optional<View> place = view_at(text_at(root, "place"), View{});
  if (!place) return;
  View& view = session.view;
  view.place = place->place;
  view.recipe = id_at("recipe");
  const Node* hanging = root.find("hanging");
  view.hanging = hanging != nullptr && hanging->boolean;
  view.batch = id_at("batch");
  view.piece = id_at("piece");
  take_up_hanging(root.find("hang"), session.hang);
  session.weigh_draft = {id_at("weighed_piece"), date_at(&root, "weighing_day"), text_at(root, "weight_typed")};
  const auto id_of = [](const std::string& hex) { return std::strtoull(hex.c_str(), nullptr, 16); };
  parts::Host::Kept kept;
  if (const Node* scrolls = root.find("scrolls"); scrolls != nullptr && scrolls->type == Node::Type::object) {
    for (std::size_t i = 0; i < scrolls->items.size(); ++i) {
      kept.scrolls.emplace_back(id_of(scrolls->keys[i]), scrolls->items[i].number);
    }
  }
  if (const Node* fields = root.find("refused"); fields != nullptr && fields->type == Node::Type::object) {
    for (std::size_t i = 0; i < fields->items.size(); ++i) {
      kept.refused.emplace_back(id_of(fields->keys[i]), fields->items[i].text);
    }
  }
  if (const std::string typing = text_at(root, "typing"); !typing.empty()) {
    kept.typing = {id_of(typing), text_at(root, "typed")};
  }
  host.take_up(kept);
}

}  // namespace saltrafter::desk
