#include "core/desk/kept_drafts.h"

#include <cmath>
#include <map>
#include <string>
#include <string_view>
#include <type_traits>
#include <vector>

namespace saltrafter::desk {
namespace {

using book::Node;

// Each draft is described once, by `each` below, as names and members; a Writer and a Reader go through that.
template <class Door, class Draft>
void each(Door& door, Draft& draft);

// Writes what is not empty.
class Writer {
 public:
  Node node = Node::object();

  void operator()(std::string_view name, const std::string& text) {
    if (!text.empty()) node.set(name, Node::of_text(text));
  }
  void operator()(std::string_view name, const Id& id) { (*this)(name, id.text); }
  void operator()(std::string_view name, const std::optional<Date>& day) {
    if (day) node.set(name, Node::of_text(iso_date(*day)));
  }
  void operator()(std::string_view name, double value, double, double) {
    if (value != 0.0) node.set(name, Node::of_number(value));
  }
  template <class Quantity>
  void quantity(std::string_view name, const std::optional<Quantity>& value, double, double) {
    if (value) node.set(name, Node::of_number(value->value));
  }
  template <class Enum>
  void one_of(std::string_view name, Enum value, int) {
    (*this)(name, static_cast<double>(static_cast<int>(value)), 0.0, 0.0);
  }
  // A place in a list; below 0: none.
  void place(std::string_view name, int at, int) {
    if (at >= 0) node.set(name, Node::of_number(at));
  }
  template <class Enum>
  void set_of(std::string_view name, const std::vector<Enum>& values, int) {
    Node all = Node::list();
    for (const Enum value : values) all.items.push_back(Node::of_number(static_cast<double>(value)));
    put(name, std::move(all));
  }
  template <class Draft>
  void inner(std::string_view name, const Draft& draft) {
    put(name, written(draft));
  }
  template <class Draft>
  void by_id(std::string_view name, const std::map<Id, Draft>& drafts) {
    Node all = Node::object();
    for (const auto& [id, draft] : drafts) {
      Node of = written(draft);
      if (!of.items.empty()) all.set(id.text, std::move(of));
    }
    put(name, std::move(all));
  }
  template <class Draft>
  void in_order(std::string_view name, const std::vector<Draft>& drafts) {
    Node all = Node::list();
    for (const Draft& draft : drafts) all.items.push_back(written(draft));
    put(name, std::move(all));
  }

  template <class Draft>
  static Node written(const Draft& draft) {
    Writer writer;
    each(writer, draft);
    return std::move(writer.node);
  }

 private:
  void put(std::string_view name, Node of) {
    if (!of.items.empty()) node.set(name, std::move(of));
  }
};

// Reads what is there and can be; the rest stays as a new draft has it.
class Reader {
 public:
  explicit Reader(const Node& node) : node_(node) {}

  void operator()(std::string_view name, std::string& text) const {
    const Node* found = node_.find(name);
    if (found != nullptr && found->type == Node::Type::text) text = found->text;
  }
  void operator()(std::string_view name, Id& id) const { (*this)(name, id.text); }
  void operator()(std::string_view name, std::optional<Date>& day) const {
    std::string text;
    (*this)(name, text);
    const Result<Date> date = parse_iso_date(text);
    if (date.ok()) day = date.value();
  }
  void operator()(std::string_view name, double& value, double low, double high) const {
    const Node* found = node_.find(name);
    if (found == nullptr || found->type != Node::Type::number) return;
    if (found->number >= low && found->number <= high) value = found->number;
  }
  template <class Quantity>
  void quantity(std::string_view name, std::optional<Quantity>& value, double low, double high) const {
    double number = std::nan("");
    (*this)(name, number, low, high);
    if (std::isfinite(number)) value = Quantity(number);
  }
  template <class Enum>
  void one_of(std::string_view name, Enum& value, int count) const {
    double number = -1.0;
    (*this)(name, number, 0.0, count - 1);
    if (number >= 0.0) value = static_cast<Enum>(static_cast<int>(number));
  }
  void place(std::string_view name, int& at, int count) const { one_of(name, at, count); }
  template <class Enum>
  void set_of(std::string_view name, std::vector<Enum>& values, int count) const {
    const Node* all = of_type(name, Node::Type::list);
    if (all == nullptr) return;
    for (const Node& one : all->items) {
      const bool known = one.type == Node::Type::number && one.number >= 0.0 && one.number < count;
      if (known) values.push_back(static_cast<Enum>(static_cast<int>(one.number)));
    }
  }
  template <class Draft>
  void inner(std::string_view name, Draft& draft) const {
    if (const Node* of = of_type(name, Node::Type::object)) read(*of, draft);
  }
  template <class Draft>
  void by_id(std::string_view name, std::map<Id, Draft>& drafts) const {
    const Node* all = of_type(name, Node::Type::object);
    if (all == nullptr) return;
    for (std::size_t i = 0; i < all->items.size(); ++i) read(all->items[i], drafts[Id{all->keys[i]}]);
  }
  template <class Draft>
  void in_order(std::string_view name, std::vector<Draft>& drafts) const {
    const Node* all = of_type(name, Node::Type::list);
    if (all == nullptr) return;
    for (const Node& of : all->items) read(of, drafts.emplace_back());
  }

  template <class Draft>
  static void read(const Node& of, Draft& draft) {
    if (of.type != Node::Type::object) return;
    const Reader reader(of);
    each(reader, draft);
  }

 private:
  const Node* of_type(std::string_view name, Node::Type type) const {
    const Node* found = node_.find(name);
    return found != nullptr && found->type == type ? found : nullptr;
  }
  const Node& node_;
};

constexpr double kMost_g = recipe::kMostMeat.value;
constexpr std::string_view kAir = "air";  // is no id
constexpr int kFeels = static_cast<int>(drying::kFeels.size());

template <class Door, class Draft>
void each(Door& door, Draft& d) {
  using Of = std::remove_const_t<Draft>;
  if constexpr (std::is_same_v<Of, HangDraft>) {
    door.quantity("casing_m", d.casing, 0.001, 1.0);
    door.quantity("temperature_c", d.temperature, -40.0, 60.0);
    door.quantity("humidity_share", d.humidity, 0.0, 1.0);
    door("day", d.day);
    door("reason", d.reason);
    door("made", d.made);
  } else if constexpr (std::is_same_v<Of, RecipeDraft>) {
    door.inner("hang", d.hang);
  } else if constexpr (std::is_same_v<Of, WeighInDraft>) {
    door("mass", d.mass);
    door("lot", d.lot);
  } else if constexpr (std::is_same_v<Of, WeighDraft>) {
    door("day", d.day);
    door("weight", d.weight);
  } else if constexpr (std::is_same_v<Of, RoundDraft>) {
    door("day", d.day);
    door("tray_g", d.tray.value, 0.0, kMost_g);
  } else if constexpr (std::is_same_v<Of, EventDraft>) {
    door.one_of("kind", d.kind, static_cast<int>(plan::EventKind::wetted) + 1);
    door("day", d.day);
    door("before", d.before);
    door("after", d.after);
    door("note", d.note);
  } else if constexpr (std::is_same_v<Of, FeelDraft>) {
    door("day", d.day);
    door.place("feel", d.feel, kFeels);
    door("moisture", d.moisture);
  } else if constexpr (std::is_same_v<Of, TakeDownDraft>) {
    door("day", d.day);
    door("mass", d.mass);
    door("usable", d.usable);
    door("activity", d.activity);
    door("ph", d.ph);
    door("moisture", d.moisture);
    door.place("cut", d.cut, kFeels);
    door.one_of("site", d.site, static_cast<int>(safety::Site::mixed) + 1);
    door.one_of("instrument", d.instrument, static_cast<int>(safety::InstrumentState::failed) + 1);
    door.set_of("faults", d.faults, static_cast<int>(plan::Fault::other) + 1);
    door("other", d.other);
    door("note", d.note);
  } else if constexpr (std::is_same_v<Of, PartDraft>) {
    door("name", d.name);
    door("share", d.share, 0.0, 1.0);
  } else if constexpr (std::is_same_v<Of, StageDraft>) {
    door("day", d.day);
    door("time", d.time);
    door("reason", d.reason);
  } else if constexpr (std::is_same_v<Of, StepDraft>) {
    door("value", d.value);
    door("words", d.words);
  } else if constexpr (std::is_same_v<Of, ReadingDraft>) {
    door.one_of("kind", d.reading.kind, static_cast<int>(safety::ReadingKind::cut_look) + 1);
    door("piece", d.reading.piece);
    door.one_of("site", d.reading.site, static_cast<int>(safety::Site::mixed) + 1);
    door.one_of("instrument", d.reading.instrument, static_cast<int>(safety::InstrumentState::failed) + 1);
    door("note", d.reading.note);
    door("value", d.value);
    door("day", d.day);
    door("time", d.time);
  } else if constexpr (std::is_same_v<Of, AirDraft>) {
    door("temperature", d.temperature);
    door("humidity", d.humidity);
    door("day", d.day);
    door("time", d.time);
    door.one_of("kind", d.kind, static_cast<int>(plan::ChamberChangeKind::other) + 1);
    door("changed_on", d.changed_on);
    door("note", d.note);
  } else if constexpr (std::is_same_v<Of, ActDraft>) {
    door.one_of("act", d.act, 4);
    door("reason", d.reason);
    door("evidence", d.evidence);
    door("stop_reason", d.stop_reason);
  } else {
    static_assert(std::is_same_v<Of, BatchDraft>);
    door.inner("hang", d.hang);
    door.inner("reading", d.reading);
    door.inner("act", d.act);
    door.by_id("lines", d.lines);
    door.by_id("pieces", d.pieces);
    door.inner("round", d.round);
    door.by_id("events", d.events);
    door.by_id("feels", d.feels);
    door.by_id("take_downs", d.take_downs);
    door.in_order("parts", d.parts);
    door.by_id("stages", d.stages);
    door.by_id("steps", d.steps);
  }
}

}  // namespace

Node drafts_node(const Drafts& drafts) {
  Node all = Node::object();
  const auto put = [&all](const Id& id, Node of) {
    if (!of.items.empty()) all.set(id.text, std::move(of));
  };
  for (const auto& [id, draft] : drafts.recipes) put(id, Writer::written(draft));
  for (const auto& [id, draft] : drafts.batches) put(id, Writer::written(draft));
  put(Id{std::string(kAir)}, Writer::written(drafts.air));
  return all;
}

void take_up_drafts(const Node* all, Session& session) {
  if (all == nullptr || all->type != Node::Type::object) return;
  for (std::size_t i = 0; i < all->items.size(); ++i) {
    const Id id{all->keys[i]};
    if (id.text == kAir) Reader::read(all->items[i], session.drafts.air);
    if (session.book.recipe(id)) Reader::read(all->items[i], session.drafts.recipes[id]);
    if (session.book.batch(id)) Reader::read(all->items[i], session.drafts.batches[id]);
  }
}

}  // namespace saltrafter::desk
