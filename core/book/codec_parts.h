// Parts that stand in records of several kinds. Internal to book.
#pragma once

#include <array>
#include <optional>
#include <string>

#include "core/book/fields.h"
#include "core/book/tree.h"
#include "core/plan/plan.h"
#include "core/recipe/recipe.h"
#include "core/safety/safety.h"

namespace saltrafter::book {

inline constexpr WordTable<tables::Species, 8> kSpecies{{
    {tables::Species::pork, "pork"},
    {tables::Species::beef, "beef"},
    {tables::Species::veal, "veal"},
    {tables::Species::lamb, "lamb"},
    {tables::Species::goat, "goat"},
    {tables::Species::horse, "horse"},
    {tables::Species::game, "game"},
    {tables::Species::poultry, "poultry"},
}};

// A curing mix under "curing_mix", laid over the earlier one.
void encode_mix(const recipe::CuringMix& mix, Node& onto);
recipe::CuringMix decode_mix(const Node& node, const std::string& path, std::optional<Error>& fault);

// Parts of 1 g under "parts": mass shares, what they leave open to 1 being rest where "rest_share" is absent;
// sugar is of the rest. Nothing: the member is absent.
void encode_parts(const std::optional<recipe::Composition>& parts, Node& onto);
std::optional<recipe::Composition> decode_parts(Fields& fields, std::optional<Error>& fault);

// A packet of culture under "packet". Nothing: the member is absent.
void encode_packet(const std::optional<recipe::Packet>& packet, Node& onto);
std::optional<recipe::Packet> decode_packet(Fields& fields, std::optional<Error>& fault);

// What is recorded of a batch.
void encode(const safety::Evidence& evidence, Node& onto);
safety::Evidence decode_evidence(const Node& node, const std::string& path, std::optional<Error>& fault);

// The pieces of a batch and what was weighed, done and found of them: members "pieces", "weighings", "events"
// and "taken_down" of the batch.
void encode_pieces(const plan::Batch& batch, Node& onto);
void decode_pieces(Fields& fields, plan::Batch& batch, std::optional<Error>& fault);

// The maker's own limits, a list.
void encode_own_limits(const std::vector<safety::OwnLimit>& limits, Node& onto);
std::vector<safety::OwnLimit> decode_own_limits(Fields& fields, std::optional<Error>& fault);

}  // namespace saltrafter::book
