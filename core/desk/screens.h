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

// The screens, each in the file of its name.
void draw_round(Screen& screen);
void draw_recipes(Screen& screen);
void draw_recipe(Screen& screen);
void draw_offer(Screen& screen);
void draw_hang(Screen& screen);
void draw_batches(Screen& screen);
void draw_batch(Screen& screen);
void draw_weigh(Screen& screen);
void draw_air(Screen& screen);
void draw_shelf(Screen& screen);
void draw_files(Screen& screen);

// Shared by several screens.
parts::Key key(std::string_view name);
void draw_findings(Screen& screen, const std::vector<safety::Finding>& findings);
void draw_composition(Screen& screen, const recipe::Sheet& sheet, double wanted_loss);
void draw_notice(Screen& screen);
// A batch's drying as a chart: weighed, forecast and wanted.
parts::ChartView drying_view(Screen& screen, const plan::Batch& batch, const drying::Forecast& forecast);
// Undo, redo and what they would do; at the end of a screen that edits.
void draw_history(Screen& screen);

// A field's judge for a kind of number, with the answer beneath where arithmetic or another unit was typed.
std::function<parts::Judged(const std::string&)> judge_number(const words::Language& l, NumberRule rule);

}  // namespace saltrafter::desk
