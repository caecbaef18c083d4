// The canvas of the page: its WebGL 2 context, Dear ImGui's renderer, and the loss of either.
//
// canvas.cpp is the one file of the page that includes Dear ImGui. The page has no window library: the browser
// gives the canvas, and the scripts beside it its input (input.js).
#pragma once

#include <string>

namespace saltrafter::web {

// Takes the canvas with the id "canvas" for the current Dear ImGui context. Returns what went wrong, or nothing.
std::string open_canvas();

// False while the browser has taken the context away.
bool canvas_ready();

// Around one frame: before it begins, and to put it on the canvas, whose size is in device pixels.
void before_frame();
void show_frame(int width_px, int height_px);

// Frames shown since the start.
int frames_drawn();

}  // namespace saltrafter::web
