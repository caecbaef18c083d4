#include "core/desk/whereabouts.h"

#include "core/desk/kept_drafts.h"

#include <array>
#include <cstdlib>
#include <vector>

namespace saltrafter::desk {
namespace {

using book::Node;

constexpr std::array<std::string_view, kPlaces> kPlaceNames = {"round", "bench", "rails", "air", "shelf"};
constexpr std::array<std::string_view, 2> kThemes = {"paper", "cellar"};  // by parts::ThemeName
constexpr std::array<std::string_view, kBenchLeaves> kLeafNames = {"sheet", "hang",      "change", "line",
                                                                   "pick",  "mix",       "method", "step",
                                                                   "stage", "revisions", "blend",  "weigh"};

constexpr std::array<std::string_view, kRailsLeaves> kRailsNames = {
    "batch", "steps", "meat",  "readings",  "stages", "standing",
    "hang",  "wanted", "weigh", "piece", "take_down", "yield", "split"};

// Leaves that may be about a piece.
bool of_piece(RailsLeaf leaf) {
  return leaf == RailsLeaf::batch || leaf == RailsLeaf::weigh || leaf == RailsLeaf::piece ||
         leaf == RailsLeaf::take_down;
}

constexpr std::array<std::string_view, kShelfLeaves> kShelfNames = {
    "shelf", "tables", "table", "row", "supplies", "supply", "replaces", "rules"};

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

}  // namespace

std::string address_of(const View& view) {
  std::string out(name_of(view.place));
  if (view.place == Place::bench && !view.recipe.empty()) {
    out += "/" + view.recipe.text;
    if (view.bench != BenchLeaf::sheet) {
      out += "/" + std::string(kLeafNames[static_cast<std::size_t>(view.bench)]);
      if (!view.item.empty()) out += "/" + view.item.text;
    }
  }
  if (view.place == Place::rails && !view.batch.empty()) {
    out += "/" + view.batch.text;
    if (view.rails != RailsLeaf::batch)
      out += "/" + std::string(kRailsNames[static_cast<std::size_t>(view.rails)]);
    if (of_piece(view.rails) && !view.piece.empty()) out += "/" + view.piece.text;
  }
  if (view.place == Place::shelf && view.shelf != ShelfLeaf::shelf) {
    out += "/" + std::string(kShelfNames[static_cast<std::size_t>(view.shelf)]);
    if (view.shelf == ShelfLeaf::table || view.shelf == ShelfLeaf::row) out += "/" + view.table;
    if (view.shelf == ShelfLeaf::row) out += "/" + view.table_row;
    if (view.shelf == ShelfLeaf::supply || view.shelf == ShelfLeaf::replaces) out += "/" + view.supply.text;
  }
  return out;
}

std::optional<View> view_at(std::string_view address, const View& now) {
  std::vector<std::string_view> parts;
  while (!address.empty() && parts.size() < 5) {
    const std::size_t to = address.find('/');
    parts.push_back(address.substr(0, to));
    address = to == std::string_view::npos ? std::string_view() : address.substr(to + 1);
  }
  if (parts.empty() || parts.size() > 4) return std::nullopt;
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
    view.bench = BenchLeaf::sheet;
    for (std::size_t i = 0; i < kLeafNames.size() && parts.size() > 2 && !view.recipe.empty(); ++i) {
      if (kLeafNames[i] == parts[2]) view.bench = static_cast<BenchLeaf>(i);
    }
    view.item = view.bench == BenchLeaf::sheet ? Id{} : id(3);
  }
  if (view.place == Place::rails) {
    view.batch = id(1);
    view.piece = view.batch.empty() ? Id{} : id(2);
    view.rails = RailsLeaf::batch;
    for (std::size_t i = 0; i < kRailsNames.size() && parts.size() > 2 && !view.batch.empty(); ++i) {
      if (kRailsNames[i] == parts[2]) view.rails = static_cast<RailsLeaf>(i);
    }
    if (view.rails != RailsLeaf::batch) view.piece = of_piece(view.rails) ? id(3) : Id{};
  }
  if (view.place == Place::shelf) {
    view.shelf = ShelfLeaf::shelf;
    for (std::size_t i = 0; i < kShelfNames.size() && parts.size() > 1; ++i) {
      if (kShelfNames[i] == parts[1]) view.shelf = static_cast<ShelfLeaf>(i);
    }
    view.table = parts.size() > 2 ? std::string(parts[2]) : std::string();
    view.table_row = parts.size() > 3 ? std::string(parts[3]) : std::string();
    view.supply = id(2);
  }
  return view;
}

std::string write_whereabouts(const Session& session, const parts::Host& host) {
  Node root = Node::object();
  const View& view = session.view;
  put(root, "place", std::string(name_of(view.place)));
  if (session.look.theme)
    put(root, "theme", std::string(kThemes[static_cast<std::size_t>(*session.look.theme)]));
  root.set("text_scale", Node::of_number(session.look.text_scale));
  put(root, "recipe", view.recipe.text);
  put(root, "leaf", std::string(kLeafNames[static_cast<std::size_t>(view.bench)]));
  put(root, "item", view.item.text);
  put(root, "batch", view.batch.text);
  put(root, "rails", std::string(kRailsNames[static_cast<std::size_t>(view.rails)]));
  put(root, "piece", view.piece.text);
  put(root, "shelf", std::string(kShelfNames[static_cast<std::size_t>(view.shelf)]));
  put(root, "table", view.table);
  put(root, "table_row", view.table_row);
  put(root, "supply", view.supply.text);
  root.set("drafts", drafts_node(session.drafts));
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
  for (std::size_t i = 0; i < kLeafNames.size(); ++i) {
    if (kLeafNames[i] == text_at(root, "leaf")) view.bench = static_cast<BenchLeaf>(i);
  }
  view.item = id_at("item");
  view.batch = id_at("batch");
  for (std::size_t i = 0; i < kRailsNames.size(); ++i) {
    if (kRailsNames[i] == text_at(root, "rails")) view.rails = static_cast<RailsLeaf>(i);
  }
  view.piece = id_at("piece");
  for (std::size_t i = 0; i < kShelfNames.size(); ++i) {
    if (kShelfNames[i] == text_at(root, "shelf")) view.shelf = static_cast<ShelfLeaf>(i);
  }
  view.table = text_at(root, "table");
  view.table_row = text_at(root, "table_row");
  view.supply = id_at("supply");
  take_up_drafts(root.find("drafts"), session);
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
