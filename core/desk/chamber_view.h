// What screens share that speak of all that hangs in the chamber, and of forecasts under way.
#pragma once

#include "core/desk/screens.h"

namespace saltrafter::desk {

// "Caraway salami, piece 2", of one that hangs; with the day it was hung where another batch has that name.
words::Text piece_and_batch(const Screen& screen, const HangsTogether& all, const Id& piece);

// What is under way, with its Stop; or that it was stopped, with a way to go on. True: neither.
bool draw_under_way(Screen& screen, parts::Key here, bool stopped, const Progress& progress,
                      const words::Text& what);

// Before new pieces are hung: how much water all give off then, and what becomes of those that hang. Nothing
// of a day that is past.
void draw_beside(Screen& screen, parts::Key here, const plan::Batch& fresh, const plan::Air& air);

}  // namespace saltrafter::desk
