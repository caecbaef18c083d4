// Every part on one hidden screen, with invented figures: for looking, photographing and measuring.
#pragma once

#include <vector>

#include "core/desk/parts/chart.h"
#include "core/desk/parts/host.h"

namespace saltrafter::parts {

// One frame of it, between begin_frame and end_frame.
void gallery(Host& host, const words::Language& language);

// The charts on it. They look into `language`.
std::vector<ChartView> gallery_charts(const words::Language& language);

}  // namespace saltrafter::parts
