#include "core/safety/standing.h"

#include <algorithm>

namespace saltrafter::safety {
namespace {

bool is_blank(const std::string& text) { return text.find_first_not_of(" \t\r\n") == std::string::npos; }

bool is_acknowledged(const Evidence& evidence, const Finding& finding, const std::string& name) {
  if (finding.stop == Stop::outright) return false;
  return std::any_of(
      evidence.acknowledged.begin(), evidence.acknowledged.end(),
      [&name](const Acknowledged& said) { return said.finding == name && !is_blank(said.reason); });
}

// Each name once, in the order of the findings.
std::vector<std::string> open_stops(const Evidence& evidence, const std::vector<Finding>& findings) {
  std::vector<std::string> open;
  for (const Finding& finding : findings) {
    if (!stops(finding)) continue;
    std::string name = name_of(finding);
    if (is_acknowledged(evidence, finding, name)) continue;
    if (std::find(open.begin(), open.end(), name) == open.end()) open.push_back(std::move(name));
  }
  return open;
}

// The act that counts: a discard for ever, else the last one. Acts on the batch are acts on each of its
// pieces.
const StandingAct* act_on(const Evidence& evidence, const Id& piece) {
  const StandingAct* last = nullptr;
  for (const StandingAct& act : evidence.acts) {
    if (!act.piece.empty() && act.piece != piece) continue;
    last = &act;
    if (act.to == Standing::discarded) break;
  }
  return last;
}

Error refused(std::string field, std::string found) {
  Error error;
  error.code = ErrorCode::refused;
  error.field = std::move(field);
  error.found = std::move(found);
  return error;
}

Error missing(std::string field) {
  Error error;
  error.code = ErrorCode::missing;
  error.field = std::move(field);
  return error;
}

}  // namespace

Stands stands(const Evidence& evidence, const std::vector<Finding>& findings, const Id& piece) {
  Stands now;
  now.open_stops = open_stops(evidence, findings);
  now.act = act_on(evidence, piece);
  if (now.act != nullptr) now.standing = now.act->to;
  const bool by_act = now.standing == Standing::discarded || now.standing == Standing::held;
  if (!by_act && !now.open_stops.empty()) {
    now.standing = Standing::held;
    now.by_itself = true;
    now.act = nullptr;
  }
  return now;
}

Result<Done> check_act(const Evidence& evidence, const std::vector<Finding>& findings,
                       const StandingAct& act) {
  if (is_blank(act.reason)) return missing("reason");
  const Stands now = stands(evidence, findings, act.piece);
  if (now.standing == Standing::discarded) return refused("discarded", now.act->id.text);
  if (act.to != Standing::released) return Done{};
  if (is_blank(act.evidence)) return missing("evidence");
  if (!now.open_stops.empty()) return refused("open_stop", now.open_stops.front());
  return Done{};
}

Result<Done> check_acknowledgement(const std::vector<Finding>& findings, const Acknowledged& said) {
  if (is_blank(said.reason)) return missing("reason");
  bool found = false;
  for (const Finding& finding : findings) {
    if (!stops(finding) || name_of(finding) != said.finding) continue;
    if (finding.stop == Stop::outright) return refused("outright", said.finding);
    found = true;
  }
  if (found) return Done{};
  Error error;
  error.code = ErrorCode::not_found;
  error.field = "finding";
  error.found = said.finding;
  return error;
}

std::string_view key_of(Standing standing) {
  switch (standing) {
    case Standing::in_work: break;
    case Standing::held: return "held";
    case Standing::released: return "released";
    case Standing::discarded: return "discarded";
  }
  return "in_work";
}

}  // namespace saltrafter::safety
