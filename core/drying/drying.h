// drying: how a piece loses water, what it will weigh, and when it will have lost what its maker wants.
//
// Model and forecast; air comes as stages, saturation pressure as a function. What is safe to eat is not
// decided here: water activities are estimates.
#pragma once

#include "core/drying/advice.h"         // what is seen while a batch dries, and what to do
#include "core/drying/batch_odds.h"     // when all pieces are there
#include "core/drying/body.h"           // a piece, its defaults, the stages it hangs through
#include "core/drying/film.h"           // heat and vapour between a surface and moving air
#include "core/drying/fit.h"            // what weighings say about the two factors
#include "core/drying/forecast.h"       // the expected window and curve of a batch, as a task
#include "core/drying/hang_together.h"  // one set point for all, and new ones beside half-dry ones
#include "core/drying/hanging.h"        // a piece as its forecast has it, to be run on in other air
#include "core/drying/levers.h"         // what would bring it sooner or more gently
#include "core/drying/offsets.h"        // water and isotherm, learnt from readings
#include "core/drying/pace.h"           // how fast a piece may dry
#include "core/drying/prior.h"          // what a chamber's finished batches teach
#include "core/drying/run.h"            // one run of the model, a state a day
#include "core/drying/scale.h"          // how far a reading of the scale may be off
#include "core/drying/trials.h"         // runs one after another, as a task
#include "core/drying/weigh_which.h"    // the few pieces worth weighing today
#include "core/drying/weighing.h"       // one reading of the scale
#include "core/drying/wish.h"           // what is wanted, as a loss
