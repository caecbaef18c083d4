// The Rails: where a batch stands, and the acts that change it: hold, take up again, release, discard.
#include <algorithm>
#include <array>

#include "core/desk/batch_forms.h"

namespace saltrafter::desk {
namespace {

using Say = words::Id;
using safety::Standing;

constexpr std::array<Named<Standing>, 4> kActs = {
    {{Standing::held, Say::act_hold, Say::act_hold_what},
     {Standing::in_work, Say::act_take_up, Say::act_take_up_what},
     {Standing::released, Say::act_release, Say::act_release_what},
     {Standing::discarded, Say::act_discard, Say::act_discard_what}}};

words::Text why_not(const Screen& s, const Error& error) {
  if (error.field == "evidence") return s.say(Say::act_evidence_first);
  if (error.field == "open_stop") return s.say(Say::act_open_stop);
  if (error.field == "discarded") return s.say(Say::act_is_discarded);
  return s.say(Say::act_reason_first);
}

void draw_open_stops(Screen& s, const OpenBatch& open, const std::vector<safety::Finding>& findings) {
  parts::second_heading(s.page, s.say(Say::standing_open));
  std::vector<safety::Finding> stops;
  for (const safety::Finding& finding : findings) {
    if (!safety::stops(finding)) continue;
    const std::string name = safety::name_of(finding);
    const auto& said = open.batch->evidence.acknowledged;
    const auto given = std::find_if(said.begin(), said.end(),
                                    [&name](const safety::Acknowledged& one) { return one.finding == name; });
    if (given == said.end()) {
      stops.push_back(finding);
      continue;
    }
    parts::paragraph(s.page, finding_words(s, finding));
    parts::reason(s.page, s.say(Say::standing_said, {words::arg("date", words::day_month(s.l, given->on)),
                                                     words::arg("reason", given->reason)}));
  }
  if (stops.empty()) {
    parts::reason(s.page, s.say(Say::standing_none_open));
    return;
  }
  std::string& reason = s.session.drafts.batches[open.id].act.stop_reason;
  if (draw_stops(s, key("standing") / open.id, stops, Say::standing_acknowledge, reason)) {
    plan::Batch after = *open.batch;
    acknowledge(s, after, stops, reason);
    if (!s.session.change_batch(open.id, after, "edit_reason")) return;
    reason.clear();
    s.session.tell_edit(s.say(Say::reason_kept));
  }
}

}  // namespace

// The words of a standing with its reason, for the head of a batch; empty while it is simply in work.
words::Text standing_sentence(const Screen& s, const safety::Stands& stands) {
  if (stands.by_itself) {
    return s.say(Say::stands_held_itself, {words::count("n", static_cast<int>(stands.open_stops.size()))});
  }
  if (stands.act == nullptr) return {};
  const words::Arg reason = words::arg("reason", stands.act->reason);
  const words::Arg date = words::arg("date", words::day_month(s.l, stands.act->on));
  switch (stands.standing) {
    case Standing::held: return s.say(Say::stands_held_by, {reason});
    case Standing::released: return s.say(Say::stands_released_on, {date, reason});
    case Standing::discarded: return s.say(Say::stands_discarded_on, {date, reason});
    case Standing::in_work: break;
  }
  return {};
}

words::Text with_standing(const Screen& s, const Id& batch, words::Text fact) {
  const std::shared_ptr<const BatchJudged> judged = s.session.judged(batch);
  if (!judged || judged->stands.standing == Standing::in_work) return fact;
  return s.say(Say::stands_fact, {words::arg("standing", standing_word(s.l, judged->stands.standing)),
                                  words::arg("fact", std::move(fact))});
}

void draw_standing(Screen& s) {
  const auto open = open_batch(s, Say::standing_title);
  if (!open) return;
  Session& session = s.session;
  const safety::Stands& stands = open->judged->stands;
  parts::lead(s.page,
              s.say(Say::standing_now, {words::arg("standing", standing_word(s.l, stands.standing))}));
  if (const words::Text sentence = standing_sentence(s, stands); !sentence.empty())
    parts::paragraph(s.page, sentence);
  ActDraft& draft = session.drafts.batches[open->id].act;
  const Standing chosen = kActs[static_cast<std::size_t>(draft.act)].value;
  std::vector<safety::Finding> findings = open->judged->findings;
  if (chosen == Standing::released) {
    const std::vector<safety::Finding> more = plan::release_stops(*open->batch, {}, session.today());
    findings.insert(findings.end(), more.begin(), more.end());
  }
  draw_open_stops(s, *open, findings);

  const parts::Key here = key("standing") / open->id;
  if (const auto act = choose(s, here / "act", Say::standing_act, kActs, chosen)) {
    for (std::size_t i = 0; i < kActs.size(); ++i) {
      if (kActs[i].value == *act) draft.act = static_cast<int>(i);
    }
  }
  if (const auto reason = words_entry(s, here / "why", Say::act_reason, draft.reason)) draft.reason = *reason;
  if (chosen == Standing::released) {
    if (const auto evidence = words_entry(s, here / "evidence", Say::act_evidence, draft.evidence)) {
      draft.evidence = *evidence;
    }
  }
  safety::StandingAct act{
      make_id(session.book.ports()), {}, chosen, session.today(), draft.reason, draft.evidence};
  const Result<Done> may = safety::check_act(open->batch->evidence, findings, act);
  parts::gap(s.page, 24.0);
  if (parts::act(s.page,
                 {here / "do", s.say(kActs[static_cast<std::size_t>(draft.act)].name), parts::ActKind::main,
                  may.ok(), may.ok() ? words::Text() : why_not(s, may.error())})) {
    plan::Batch after = *open->batch;
    after.evidence.acts.push_back(act);
    if (session.change_batch(open->id, after, "edit_standing")) {
      draft = {0, {}, {}, draft.stop_reason};
      session.tell_edit(s.say(Say::act_done, {words::arg("name", open->batch->name),
                                              words::arg("standing", standing_word(s.l, act.to))}));
    }
  }
  if (!open->batch->evidence.acts.empty()) {
    parts::gap(s.page, 24.0);
    parts::second_heading(s.page, s.say(Say::standing_past));
    const auto& acts = open->batch->evidence.acts;
    for (auto past = acts.rbegin(); past != acts.rend(); ++past) {
      parts::Row row;
      row.name = s.say(Say::standing_past_row, {words::arg("date", words::day_month(s.l, past->on)),
                                                words::arg("standing", standing_word(s.l, past->to))});
      row.fact = s.say(Say::standing_past_fact,
                       {words::arg("reason", past->reason), words::arg("evidence", past->evidence)});
      parts::row(s.page, row);
    }
  }
  draw_history(s);
}

}  // namespace saltrafter::desk
