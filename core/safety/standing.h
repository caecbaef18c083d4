// Where a batch or a piece stands: in work, held, released, discarded. Acts of the maker, save that an open stop
// or a missed check holds by itself.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "core/base/base.h"
#include "core/safety/evidence.h"
#include "core/safety/finding.h"

namespace saltrafter::safety {

struct Stands {
  Standing standing = Standing::in_work;
  bool by_itself = false;                // held by an open stop, and not by an act
  std::vector<std::string> open_stops;   // name_of, not acknowledged
  const StandingAct* act = nullptr;      // that made it so
};

// Of a piece, or of the batch where `piece` is empty. A discarded batch discards its pieces; a held batch holds
// them; an open stop holds what is not discarded. An act on a piece stands over an earlier one on the batch.
Stands stands(const Evidence& evidence, const std::vector<Finding>& findings, const Id& piece);

// Key for the report: "held".
std::string_view key_of(Standing standing);

// Whether the act may be done: a reason; for a release evidence, no open stop, and nothing discarded.
// Errors: missing "reason", "evidence"; refused "open_stop" (found: name), "discarded".
Result<Done> check_act(const Evidence& evidence, const std::vector<Finding>& findings, const StandingAct& act);

// The same of an acknowledgement: error missing "reason"; refused "outright"; not_found "finding".
Result<Done> check_acknowledgement(const std::vector<Finding>& findings, const Acknowledged& said);

}  // namespace saltrafter::safety
