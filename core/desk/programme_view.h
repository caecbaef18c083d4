// The air of a batch from its hanging on, as steps and in words, and where it is too damp for a piece to dry.
#pragma once

#include "core/desk/screens.h"

namespace saltrafter::desk {

// `forecast`: nullptr while there is none; the steps are drawn up to `to_day` since hanging.
void draw_programme(Screen& screen, const plan::Batch& batch, const drying::Forecast* forecast,
                    double to_day);

// Whether other air for what is to come is as damp as a middling piece or damper; nothing where it is not.
void say_damp_if(Screen& screen, const plan::Batch& batch, const drying::Forecast& as_planned,
                 RelativeHumidity humidity);

}  // namespace saltrafter::desk
