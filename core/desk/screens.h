// One frame of the screen the maker is on. Internal to desk.
#pragma once

#include "core/desk/parts/parts.h"
#include "core/desk/say.h"
#include "core/desk/session.h"

namespace saltrafter::desk {

// What a screen draws on, and whom it asks.
struct Screen {
  Session& session;
  parts::Page& page;
  const words::Language& l;

  words::Text say(words::Id id, std::initializer_list<words::Arg> args = {}) const {
    return words::text(l, id, args);
  }
};

void draw_screen(Session& session, parts::Host& host);
// Something is being weighed: large targets, and a screen that stays lit.
bool hands_are_wet(const Session& session);

// The screens, each in the file of its name.
void draw_round(Screen& screen);
void draw_recipes(Screen& screen);
void draw_recipe(Screen& screen);
void draw_offer(Screen& screen);
void draw_hang(Screen& screen);
void draw_change(Screen& screen);
void draw_line(Screen& screen);
void draw_pick(Screen& screen);
void draw_mix(Screen& screen);
void draw_method(Screen& screen);
void draw_step(Screen& screen);
void draw_stage(Screen& screen);
void draw_revisions(Screen& screen);
void draw_blend(Screen& screen);
void draw_weigh_out(Screen& screen);
void draw_batches(Screen& screen);
void draw_batch(Screen& screen);
void draw_weigh(Screen& screen);
void draw_weigh_round(Screen& screen);
void draw_piece(Screen& screen);
void draw_take_down(Screen& screen);
void draw_yield(Screen& screen);
void draw_split(Screen& screen);
void draw_steps(Screen& screen);
void draw_lots(Screen& screen);
void draw_souring(Screen& screen);
void draw_stages(Screen& screen);
void draw_standing(Screen& screen);
void draw_hang_batch(Screen& screen);
void draw_wanted(Screen& screen);
void draw_air(Screen& screen);
void draw_shelf(Screen& screen);
void draw_tables(Screen& screen);
void draw_table(Screen& screen);
void draw_table_row(Screen& screen);
void draw_supplies(Screen& screen);
void draw_supply(Screen& screen);
void draw_replaces(Screen& screen);
void draw_rules(Screen& screen);
void draw_files(Screen& screen);

// Shared by several screens.
parts::Key key(std::string_view name);
void draw_findings(Screen& screen, const std::vector<safety::Finding>& findings);
// At `wanted_loss`, of the weight now; `other_loss` is looked at instead of it, the draft of whatever `here`
// belongs to.
void draw_composition(Screen& screen, parts::Key here, std::optional<double>& other_loss, double wanted_loss,
                      const recipe::Recipe& recipe, const recipe::Sheet& sheet);
// A finding in one sentence, for the line beneath what it is about.
words::Text finding_words(const Screen& screen, const safety::Finding& finding);
words::Text whose_rules(const Screen& screen);  // by whose limits the findings go, in a sentence
words::Text rule_name(const words::Language& l, const safety::Finding& finding);
// An instant by the wall clock: "07:42".
words::Text clock_time(const Screen& screen, std::int64_t utc_ms);
// An amount of the maker's money, with its sign.
words::Text money(const Screen& screen, double amount);
void draw_notice(Screen& screen);
// A batch's drying as a chart: weighed, forecast and wanted.
// `other`: its course in another air, or nullptr.
parts::ChartView drying_view(Screen& screen, const plan::Batch& batch, const drying::Forecast& forecast,
                             const drying::Forecast* other = nullptr);
// How a batch that hangs dries: forecast, pieces, programme, what if.
void draw_drying(Screen& screen, const Id& id, const std::shared_ptr<const plan::Batch>& batch);
// What its forecast asks for: too fast, hardened, stalled, uneven, with remedies, and which pieces to weigh; and what
// would bring it sooner. Nothing until they are worked out.
void draw_counsel(Screen& screen, const Id& id, const plan::Batch& batch);
void draw_levers_of(Screen& screen, const Id& id, const plan::Batch& batch);
// A line's amount as it is asked for: "25 %", "2.5 g/kg", "110 mg/kg".
words::Text asked(const words::Language& l, const recipe::Line& line);
// A step and a stage of the method in a few words.
words::Text step_name(const Screen& screen, const recipe::Step& step);
words::Text stage_name(const Screen& screen, const recipe::Stage& stage);
words::Text stage_fact(const Screen& screen, const recipe::Stage& stage);
words::Text step_fact(const Screen& screen, const recipe::Recipe& recipe, const recipe::Step& step);
// A fact of a batch, with where it stands before it unless it is simply in work.
words::Text with_standing(const Screen& screen, const Id& batch, words::Text fact);
// Why a batch is held, released or discarded; empty while it is simply in work.
words::Text standing_sentence(const Screen& screen, const safety::Stands& stands);
// Of the findings those about one line, step, stage, lot or piece, where they ask for something.
void draw_findings_about(Screen& screen, const std::vector<safety::Finding>& findings, const Id& about);
// "Cure 1: 6.25 % nitrite, 0 % nitrate, the rest salt".
words::Text mix_words(const words::Language& l, const recipe::CuringMix& mix);
// An own row in a list: what it is, marked as the maker's.
parts::Row supply_row(const Screen& screen, const recipe::Supply& supply, parts::Key at);
// The order number and name of a member by its id, or nothing where it is gone.
template <class Thing>
std::optional<std::size_t> place_of(const std::vector<Thing>& things, const Id& id) {
  for (std::size_t i = 0; i < things.size(); ++i) {
    if (things[i].id == id) return i;
  }
  return std::nullopt;
}
// Undo, redo and what they would do; at the end of a screen that edits.
void draw_history(Screen& screen);

// A field's judge for a kind of number, with the answer beneath where arithmetic or another unit was typed.
std::function<parts::Judged(const std::string&)> judge_number(const words::Language& l, NumberRule rule);

}  // namespace saltrafter::desk
