// A chart that can be moved, read and had as a table.
//
// A level drag moves it once it shows less than all, and reads it before; two fingers make it closer; a tap
// or the arrow keys (with Shift by weeks, Home, End) read a day, which is said beneath. Upright drags scroll
// the page.
#pragma once

#include <functional>
#include <vector>

#include "core/desk/parts/page.h"
#include "core/desk/parts/table.h"
#include "core/figure/figure.h"

namespace saltrafter::parts {

struct ChartView {
  Key key;
  words::Text name;                           // what it shows
  figure::Chart chart;                        // over its whole time
  std::function<words::Text(int day)> reads;  // what is so on a day, counted from the chart's day 0

  // The same data as a table; asked for only while it is open.
  std::vector<Column> columns;
  std::function<std::vector<TableRow>()> rows;
  words::Text order;  // "by date"
};

// The day that is read: the one last tapped or stepped to, else today, or the last.
int chart(Page& page, ChartView view);

}  // namespace saltrafter::parts
