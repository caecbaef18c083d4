// desk: the screens. Written in parts, never in Dear ImGui; no formula and no sentence stands here.
#pragma once

#include "core/desk/journey.h"  // what a person does, as steps that every host can play
#include "core/desk/program.h"  // the program as a shell sees it
#include "core/desk/shell.h"    // what a shell does for the screens
