#include <doctest/doctest.h>

#include <cstring>

#include "core/book/changes.h"
#include "tests/unit/book/samples.h"

namespace saltrafter::book {
namespace {

TEST_CASE("A refused text says what is wrong, where, and what would be right") {
  struct Row {
    const char* text;
    ErrorCode code;
    const char* field;
    int line;
  };
  const Row rows[] = {
      {"", ErrorCode::cut_off, "", 1},
      {"{\n\"a\": [1,\n2", ErrorCode::cut_off, "a/2", 3},
      {"{\n\"a\": tru", ErrorCode::cut_off, "a", 2},
      {"{\"a\":1,\n\"a\":2}", ErrorCode::duplicate_key, "a", 2},
      {"{\"b\":{\"x\":1,\n\n\"x\":1}}", ErrorCode::duplicate_key, "b/x", 3},
      {"hello", ErrorCode::not_json, "", 1},
      {"{\"a\":1}\n x", ErrorCode::not_json, "", 2},
      {"{\"a\":01}", ErrorCode::not_json, "", 1},
      {"{\"a\":NaN}", ErrorCode::not_json, "a", 1},
      {"{\"a\":1e400}", ErrorCode::out_of_range, "a", 1},
      {"{\"a\":\"\xFF\"}", ErrorCode::not_json, "a", 1},
      {"{\"a\":\"\\ud800\"}", ErrorCode::not_json, "a", 1},
      {"[[[[[[[[[[[[[[[[[1]]]]]]]]]]]]]]]]]", ErrorCode::too_deep, "0/0/0/0/0/0/0/0/0/0/0/0/0/0/0/0", 1},
  };
  for (const Row& row : rows) {
    CAPTURE(row.text);
    const auto tree = read_tree(row.text);
    REQUIRE_FALSE(tree.ok());
    CHECK(tree.error().code == row.code);
    CHECK(tree.error().field == row.field);
    CHECK(found_in_text(tree.error()).line == row.line);
  }
  CHECK(read_tree("{\"a\":[{\"b\":[1").error().expected == "]}]}");
  CHECK(read_tree("{\"a\":\"\xFF\"}").error().expected == "UTF-8");
}

TEST_CASE("Size, number of values and length of texts have limits") {
  CHECK(read_tree(std::string((1 << 20) + 1, ' ')).error().code == ErrorCode::too_large);
  CHECK(read_tree("\"" + std::string(4096, 'a') + "\"").ok());
  CHECK(read_tree("\"" + std::string(4097, 'a') + "\"").error().code == ErrorCode::too_large);
  std::string many = "[0";
  for (int i = 0; i < 19998; ++i) many += ",0";
  CHECK(read_tree(many + "]").ok());
  CHECK(read_tree(many + ",0]").error().unit == "values");
}

TEST_CASE("A text written is read back the same, digits, order and characters of every plane included") {
  const char* text =
      "{\"z\":1.50,\"a\":[true,false,null,-0.0,1e-7,12345678901234567890],\"t\":\"\xC3\xA4\xE2\x82\xAC\xF0\x9F\x90\x96\\n\\\"\\\\\\u0001\"}";
  const auto tree = read_tree(text);
  REQUIRE(tree.ok());
  const std::string stored = write_tree(tree.value(), TextForm::stored);
  for (const char c : stored) CHECK(static_cast<unsigned char>(c) < 0x80);
  CHECK(stored.find("1.50") != std::string::npos);
  CHECK(read_tree(stored).value() == tree.value());
  CHECK(read_tree(write_tree(tree.value(), TextForm::file)).value() == tree.value());
  CHECK(write_tree(Node::of_text("\xC3"), TextForm::stored) == "\"\\ufffd\"");
}

TEST_CASE("Numbers are written with the fewest digits that read back as the same number") {
  CHECK(Node::of_number(0.1).text == "0.1");
  CHECK(Node::of_number(4200).text == "4200");
  CHECK(Node::of_number(-0.0).text == "0");
  CHECK(Node::of_number(std::numeric_limits<double>::infinity()).type == Node::Type::null);
  std::mt19937_64 chance(7);
  for (int i = 0; i < 5000; ++i) {
    std::uint64_t bits = chance();
    double value;
    std::memcpy(&value, &bits, sizeof value);
    if (!std::isfinite(value)) continue;
    const auto read = read_tree(Node::of_number(value).text);
    REQUIRE(read.ok());
    CHECK(read.value().number == value);
  }
}

TEST_CASE("A change carried over to another version keeps what only the other side changed") {
  const auto tree = [](const char* text) { return read_tree(text).value(); };
  const Node before = tree(R"({"n":"a","x":1,"l":[{"id":"p","m":1},{"id":"q","m":2}]})");
  const Node after = tree(R"({"n":"b","x":1,"l":[{"id":"p","m":1},{"id":"q","m":3},{"id":"s","m":9}]})");
  const Node current = tree(R"({"n":"a","x":5,"y":7,"l":[{"id":"p","m":4},{"id":"q","m":2},{"id":"r","m":8}]})");
  const Node out = carry_over(before, after, current);
  CHECK(out.find("n")->text == "b");
  CHECK(out.find("x")->text == "5");
  CHECK(out.find("y")->text == "7");
  const Node* list = out.find("l");
  REQUIRE(list->items.size() == 4);
  std::map<std::string, std::string> masses;
  for (const Node& item : list->items) masses[item.find("id")->text] = item.find("m")->text;
  CHECK(masses == std::map<std::string, std::string>{{"p", "4"}, {"q", "3"}, {"r", "8"}, {"s", "9"}});
  CHECK(carry_over(before, after, before) == after);
  CHECK(carry_over(before, before, current) == current);
}

TEST_CASE("Changed paths name fields by the ids of their elements") {
  const auto tree = [](const char* text) { return read_tree(text).value(); };
  const Node a = tree(R"({"n":1,"l":[{"id":"p","m":1},{"id":"q","m":2}],"o":{"k":[1]}})");
  const Node b = tree(R"({"n":1,"l":[{"id":"q","m":3},{"id":"p","m":1}],"o":{"k":[2]},"z":0})");
  CHECK(changed_paths(&a, &b) == std::vector<std::string>{"l", "l/q/m", "o/k", "z"});
  CHECK(changed_paths(&a, &a).empty());
}

}  // namespace
}  // namespace saltrafter::book
