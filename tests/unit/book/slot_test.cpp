#include <doctest/doctest.h>

#include <fstream>
#include <sstream>

#include "core/book/crc32c.h"
#include "tests/unit/book/samples.h"

namespace saltrafter::book {
namespace {

using sample::World;

// Two generations of one recipe, in the two slots of a store.
struct TwoGenerations {
  TwoGenerations() {
    Keeper keeper(world.ports(), drawer.store(), {}, 0);
    id = sample::add_recipe(keeper.book(), sample::recipe(world, "First"));
    keeper.tick(1);
    sample::rename(keeper.book(), id, "Second");
    keeper.tick(2);
    for (int place = 0; place < 2; ++place) {
      const std::string key = slot_key(id, place);
      if (read_slot(drawer.texts[key]).value().generation == 2) newest = key;
    }
  }
  std::string name_after_load() {
    sample::Drawer copy = drawer;
    Keeper keeper(world.ports(), copy.store(), {}, 0);
    damaged = keeper.damaged();
    keeper.tick(1);
    kept = copy.texts;
    return keeper.book().recipe(id) != nullptr ? keeper.book().recipe(id)->name : "";
  }
  World world;
  sample::Drawer drawer;
  Id id;
  std::string newest;
  std::vector<SlotText> damaged;
  std::map<std::string, std::string> kept;
};

TEST_CASE("The checksum is CRC-32C") { CHECK(crc32c("123456789") == 0xE3069283U); }

TEST_CASE("A slot is ASCII, says what it holds in its first line, and is read back") {
  TwoGenerations two;
  const std::string text = two.drawer.texts[two.newest];
  for (const char c : text) CHECK(static_cast<unsigned char>(c) < 0x80);
  CHECK(text.rfind("SR1 recipe " + two.id.text + " 2 1 1 ", 0) == 0);
  const auto slot = read_slot(text);
  REQUIRE(slot.ok());
  CHECK(slot.value().saved_at == "2026-09-21T14:13:20Z");
  CHECK(slot.value().edit_count == 1);
  CHECK(write_slot(slot.value()) == text);
  CHECK(two.name_after_load() == "Second");
}

TEST_CASE("A slot torn at any length leaves the generation before it, and its text is kept") {
  TwoGenerations two;
  const std::string whole = two.drawer.texts[two.newest];
  for (std::size_t length = 0; length < whole.size(); ++length) {
    CAPTURE(length);
    two.drawer.texts[two.newest] = whole.substr(0, length);
    REQUIRE(two.name_after_load() == "First");
    REQUIRE(two.damaged == std::vector<SlotText>{{two.newest, whole.substr(0, length)}});
    bool found = false;
    for (const auto& entry : two.kept) {
      found = found || (entry.first.rfind("saltrafter:damaged:", 0) == 0 && entry.second == whole.substr(0, length));
    }
    REQUIRE(found);
  }
}

TEST_CASE("One flipped bit anywhere in a slot is noticed") {
  TwoGenerations two;
  const std::string whole = two.drawer.texts[two.newest];
  for (std::size_t place = 0; place < whole.size(); ++place) {
    for (unsigned bit = 0; bit < 8; ++bit) {
      std::string bad = whole;
      bad[place] = static_cast<char>(static_cast<unsigned char>(bad[place]) ^ (1U << bit));
      CAPTURE(place);
      CAPTURE(bit);
      REQUIRE_FALSE(read_slot(bad).ok());
    }
    std::string bad = whole;
    bad[place] = static_cast<char>(static_cast<unsigned char>(bad[place]) ^ 4U);
    two.drawer.texts[two.newest] = bad;
    REQUIRE(two.name_after_load() == "First");
  }
}

TEST_CASE("A whole slot under another record's key is not taken") {
  TwoGenerations two;
  const std::string text = two.drawer.texts[two.newest];
  two.drawer.texts[two.newest] = "";
  two.drawer.texts["saltrafter:d:aaaaaaaaaaaaaaaa:0"] = text;
  CHECK(two.name_after_load() == "First");
  CHECK(two.damaged.size() == 2);
}

TEST_CASE("A kept slot with all that happens to pieces opens for ever and is written as it is") {
  std::ifstream in(SALTRAFTER_SOURCE_DIR "/tests/fixtures/schema1.pieces.slot", std::ios::binary);
  std::stringstream text;
  text << in.rdbuf();
  const Result<Slot> slot = read_slot(text.str());
  REQUIRE(slot.ok());
  const Result<Record> record = record_of(slot.value());
  REQUIRE(record.ok());
  Node node = read_tree(record.value().data, kRecordLimits).value();
  const Result<plan::Batch> batch = decode_batch(node);
  REQUIRE(batch.ok());
  CHECK(batch.value().pieces.size() == 3);
  CHECK(batch.value().weighings[1].bunch.size() == 2);
  CHECK(batch.value().events.size() == 6);
  REQUIRE(batch.value().taken_down.size() == 1);
  CHECK(batch.value().taken_down[0].faults.size() == 9);
  CHECK(batch.value().taken_down[0].foreseen->day == std::optional<Days>(44.5));
  encode(batch.value(), node);
  CHECK(write_tree(node, TextForm::stored) == record.value().data);
}

}  // namespace
}  // namespace saltrafter::book
