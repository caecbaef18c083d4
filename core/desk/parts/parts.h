// desk/parts: what screens are written in. The only folder that knows the library which sets letters and
// fills areas.
//
//   host.begin_frame(now);
//   {
//     Page page(host, language, {.key = Key("bench"), .places = ...});
//     heading(page, words::text(language, words::Id::...));
//     const Typed mass = number_field(page, {.key = Key("bench") / "mass", .label = ..., .judge = ...});
//     if (mass.committed) ...
//     if (act(page, {.key = Key("bench") / "hang", .name = ..., .kind = ActKind::main})) ...
//   }
//   host.end_frame();
#pragma once

#include "core/desk/parts/acts.h"         // the main act, others, bare words
#include "core/desk/parts/chart.h"        // charts that are moved and read
#include "core/desk/parts/chips.h"        // several of few
#include "core/desk/parts/choices.h"      // one of few, a box to tick
#include "core/desk/parts/composition.h"  // what it is made of
#include "core/desk/parts/field.h"        // number, words, day
#include "core/desk/parts/figure_view.h"  // pictures
#include "core/desk/parts/finding.h"      // a word and a bar
#include "core/desk/parts/font_notice.h"  // the letters' own licences
#include "core/desk/parts/gallery.h"      // all of them on one hidden screen
#include "core/desk/parts/host.h"         // input, frames, focus, acting by node
#include "core/desk/parts/key.h"          // identity of controls
#include "core/desk/parts/list.h"         // many things, looked through by a word
#include "core/desk/parts/nodes.h"        // what stands on the screen, as data
#include "core/desk/parts/notice.h"       // notice, trouble, progress, nothing here yet
#include "core/desk/parts/page.h"         // rail or bar, columns, scroll
#include "core/desk/parts/prose.h"        // headings and sentences
#include "core/desk/parts/rows.h"         // rows, recipe lines, tasks
#include "core/desk/parts/table.h"        // tables that become rows when narrow
#include "core/desk/parts/theme.h"        // paper and cellar
#include "core/desk/parts/working.h"      // a figure, opened
