// Typed values to trees and back. Encoding lays the values over the earlier tree, so that members which this
// program does not know stay; decoding checks type, range, unit and every closed list.
#pragma once

#include <map>
#include <string>

#include "core/base/base.h"
#include "core/book/tree.h"
#include "core/plan/plan.h"
#include "core/recipe/recipe.h"

namespace saltrafter::book {

// The maker's choices on this device, by key. What they mean is known where they are used.
struct Settings {
  std::map<std::string, std::string> values;
  safety::Chosen chosen = safety::Chosen::not_chosen;  // whose rules
  std::vector<safety::OwnLimit> own_limits;
  recipe::Scales scales;
  std::string money;  // sign or word of the maker's money, at most 8 characters; may be empty

  friend bool operator==(const Settings&, const Settings&) = default;
};

// The meat on a recipe's tray as the maker left it, g; kFirstMeat until it has been said.
inline constexpr Grams kFirstMeat{1000.0};
Grams meat_on_tray(const Settings& settings, const Id& recipe);
void set_meat_on_tray(Settings& settings, const Id& recipe, Grams meat);  // kept to the milligram

// Limits of what a file may hold, besides those of the reader. Choice.
inline constexpr std::size_t kMostLines = 64;
inline constexpr std::size_t kMostPieces = 1000;
inline constexpr std::size_t kMostWeighings = 5000;
inline constexpr std::size_t kMostEvents = 5000;   // done to the pieces of a batch
inline constexpr std::size_t kMostChamberChanges = 1000;
inline constexpr std::size_t kMostAirReadings = 5000;
inline constexpr std::size_t kMostSteps = 100;
inline constexpr std::size_t kMostStages = 40;
inline constexpr std::size_t kMostRevisions = 200;
inline constexpr std::size_t kMostReadings = 5000;
inline constexpr std::size_t kMostActs = 500;
inline constexpr std::size_t kMostLots = 200;
inline constexpr std::size_t kMostStepsDone = 2000;  // a piece is turned day by day
inline constexpr std::size_t kMostStagesDone = 200;
inline constexpr std::size_t kLongestName = 320;   // bytes: 80 characters of any script
inline constexpr std::size_t kLongestNote = 4000;  // bytes
inline constexpr std::size_t kLongestMoney = 32;   // bytes: 8 characters of any script
inline constexpr double kMostGrams = 1e6;          // 1 000 kg
inline constexpr double kMostPrice = 1e9;

// Members that came after the first program of schema 1 may be absent when read, and are written only where
// they say more than their absence: a batch without "begun_on" began on the day it was hung, one without "hung"
// hangs. What was weighed in stands once a line; steps and stages done once an instant.
void encode(const recipe::Recipe& recipe, Node& onto);
void encode(const plan::Batch& batch, Node& onto);
void encode(const Settings& settings, Node& onto);
void encode(const recipe::Supply& supply, Node& onto);  // without its key, which is the record's id
void encode(const plan::Chamber& chamber, Node& onto);
// The earlier states of a recipe: member "revisions" beside the recipe's own, each with its recipe under "was".
void encode(const std::vector<recipe::Revision>& revisions, Node& onto);

// `path` comes before the field in errors; empty for a record of its own.
Result<recipe::Recipe> decode_recipe(const Node& node, const std::string& path = {});
Result<plan::Batch> decode_batch(const Node& node, const std::string& path = {});
Result<Settings> decode_settings(const Node& node, const std::string& path = {});
Result<recipe::Supply> decode_supply(const Node& node, const std::string& path = {});
Result<plan::Chamber> decode_chamber(const Node& node, const std::string& path = {});
Result<std::vector<recipe::Revision>> decode_revisions(const Node& node, const std::string& path = {});

}  // namespace saltrafter::book
