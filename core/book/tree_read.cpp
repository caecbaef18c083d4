#include <cmath>
#include <iterator>
#include <nlohmann/json.hpp>
#include <set>

#include "core/book/tree.h"

namespace saltrafter::book {
namespace {

// Walks over the text and leaves in *last how far the reader has come.
struct CountingIterator {
  using iterator_category = std::forward_iterator_tag;
  using value_type = char;
  using difference_type = std::ptrdiff_t;
  using pointer = const char*;
  using reference = const char&;

  const char* at = nullptr;
  const char** last = nullptr;

  reference operator*() const { return *at; }
  CountingIterator& operator++() {
    ++at;
    *last = at;
    return *this;
  }
  CountingIterator operator++(int) {
    CountingIterator before = *this;
    ++*this;
    return before;
  }
  bool operator==(const CountingIterator& other) const { return at == other.at; }
  bool operator!=(const CountingIterator& other) const { return at != other.at; }
};

class TreeBuilder {
 public:
  using number_integer_t = nlohmann::json::number_integer_t;
  using number_unsigned_t = nlohmann::json::number_unsigned_t;
  using number_float_t = nlohmann::json::number_float_t;
  using string_t = nlohmann::json::string_t;
  using binary_t = nlohmann::json::binary_t;

  TreeBuilder(std::string_view text, const ReadLimits& limits) : last(text.data()), text_(text), limits_(limits) {}

  bool null() { return add(Node{}) != nullptr; }
  bool boolean(bool value) { return add(Node::of_boolean(value)) != nullptr; }
  bool number_integer(number_integer_t value) {
    return add_number(static_cast<double>(value), std::to_string(value));
  }
  bool number_unsigned(number_unsigned_t value) {
    return add_number(static_cast<double>(value), std::to_string(value));
  }
  bool number_float(number_float_t value, const string_t& digits) { return add_number(value, digits); }
  bool string(string_t& value) {
    if (value.size() > limits_.text_bytes) return fail_length();
    return add(Node::of_text(std::move(value))) != nullptr;
  }
  bool binary(binary_t&) { return false; }
  bool start_object(std::size_t) { return open(Node::object()); }
  bool start_array(std::size_t) { return open(Node::list()); }
  bool end_object() { return close(); }
  bool end_array() { return close(); }
  bool key(string_t& value) {
    if (value.size() > limits_.text_bytes) return fail_length();
    Open& top = open_.back();
    if (!top.seen.insert(value).second) {
      return fail({ErrorCode::duplicate_key, path(value), "\"" + value + "\"" + at_line(), "", "", {}, {}});
    }
    top.node->keys.push_back(std::move(value));
    return true;
  }
  template <class Exception>
  bool parse_error(std::size_t position, const std::string&, const Exception& fault) {
    Error error;
    error.field = path({});
    error.found = rest_of_line() + at_line();
    constexpr int kNumberTooBig = 406;  // the library's number for a value beyond the range of a double
    if (fault.id == kNumberTooBig) {
      error.code = ErrorCode::out_of_range;
      error.expected = "1e308";
    } else if (position > text_.size()) {
      error.code = ErrorCode::cut_off;
      for (auto it = open_.rbegin(); it != open_.rend(); ++it) {
        error.expected += it->node->type == Node::Type::object ? '}' : ']';
      }
      if (open_.empty()) error.expected = "{";
    } else {
      error.code = ErrorCode::not_json;
      error.expected = std::string_view(fault.what()).find("UTF-8") != std::string_view::npos ? "UTF-8" : "JSON";
    }
    return fail(std::move(error));
  }

  Result<Node> result() && {
    if (error_) return *error_;
    return std::move(root_);
  }
  bool failed() const { return error_.has_value(); }

  const char* last;  // the reader's place in the text

 private:
  struct Open {
    Node* node;  // stays where it is: its parent takes no other child before this one is closed
    std::set<std::string> seen;
  };

  int line() const {
    // A number is known to end only by the character behind it: that one does not count.
    const char* end = last > text_.data() ? last - 1 : last;
    int lines = line_;
    for (const char* p = counted_; p < end; ++p) lines += *p == '\n' ? 1 : 0;
    return lines;
  }
  void count_lines() {
    line_ = line();
    counted_ = std::max(counted_, last > text_.data() ? last - 1 : last);
  }
  std::string at_line() const { return "@" + std::to_string(line()); }

  std::string path(std::string_view tail) const {
    std::string out;
    for (std::size_t i = 0; i < open_.size(); ++i) {
      const Node& node = *open_[i].node;
      const bool last_one = i + 1 == open_.size();
      if (node.type == Node::Type::object) {
        if (last_one && !tail.empty()) break;
        if (node.keys.empty()) break;
        if (last_one && node.keys.size() == node.items.size()) break;
        out += (out.empty() ? "" : "/") + node.keys.back();
      } else {
        const std::size_t index = last_one ? node.items.size() : node.items.size() - 1;
        out += (out.empty() ? "" : "/") + std::to_string(index);
      }
    }
    if (!tail.empty()) out += (out.empty() ? "" : "/") + std::string(tail);
    return out;
  }

  // What stands at the fault: up to 20 plain characters before the reader's place, of its line.
  std::string rest_of_line() const {
    const char* begin = last;
    constexpr std::ptrdiff_t kLongest = 20;
    while (begin > text_.data() && last - begin < kLongest && begin[-1] != '\n') --begin;
    std::string out;
    for (const char* p = begin; p < last; ++p) out += *p >= ' ' && *p <= '~' ? *p : '?';
    return out;
  }

  bool fail(Error error) {
    if (!error_) error_ = std::move(error);
    return false;
  }
  bool fail_length() {
    Error error{ErrorCode::too_large, path({}), at_line(), "", "bytes", {}, {}};
    error.high = static_cast<double>(limits_.text_bytes);
    return fail(std::move(error));
  }

  Node* add(Node node) {
    count_lines();
    if (++values_ > limits_.values) {
      Error error{ErrorCode::too_large, path({}), at_line(), "", "values", {}, {}};
      error.high = limits_.values;
      fail(std::move(error));
      return nullptr;
    }
    node.line = line_;
    if (open_.empty()) {
      root_ = std::move(node);
      return &root_;
    }
    std::vector<Node>& items = open_.back().node->items;
    items.push_back(std::move(node));
    return &items.back();
  }
  bool add_number(double value, std::string digits) {
    if (!std::isfinite(value)) {
      return fail({ErrorCode::out_of_range, path({}), digits + at_line(), "1e308", "", {}, {}});
    }
    Node node;
    node.type = Node::Type::number;
    node.number = value;
    node.text = std::move(digits);
    return add(std::move(node)) != nullptr;
  }
  bool open(Node node) {
    if (static_cast<int>(open_.size()) >= limits_.depth) {
      Error error{ErrorCode::too_deep, path({}), at_line(), "", "levels", {}, {}};
      error.high = limits_.depth;
      return fail(std::move(error));
    }
    Node* added = add(std::move(node));
    if (added == nullptr) return false;
    open_.push_back({added, {}});
    return true;
  }
  bool close() {
    open_.pop_back();
    return true;
  }

  std::string_view text_;
  ReadLimits limits_;
  Node root_;
  std::vector<Open> open_;
  std::optional<Error> error_;
  int values_ = 0;
  int line_ = 1;
  const char* counted_ = text_.data();
};

}  // namespace

Result<Node> read_tree(std::string_view text, const ReadLimits& limits) {
  if (text.size() > limits.bytes) {
    Error error{ErrorCode::too_large, "", std::to_string(text.size()), "", "bytes", {}, {}};
    error.high = static_cast<double>(limits.bytes);
    return error;
  }
  TreeBuilder builder(text, limits);
  const CountingIterator begin{text.data(), &builder.last};
  const CountingIterator end{text.data() + text.size(), &builder.last};
  const bool whole = nlohmann::json::sax_parse(begin, end, &builder);
  if (!whole && !builder.failed()) return Error{ErrorCode::not_json, "", "@1", "JSON", "", {}, {}};
  return std::move(builder).result();
}

}  // namespace saltrafter::book
