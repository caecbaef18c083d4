#!/bin/sh
# Builds the desk and times a frame of it beside one of Dear ImGui's demo window.   sh tests/bench/frame.sh
set -eu
cd "$(dirname "$0")/../.."
step_total=3
. web/setup.sh
saltrafter_setup native
step "The desk: compiling, up to 8 minutes the first time"
quiet "$logs/native-configure.log" cmake -S . -B build/native -G Ninja -DSALTRAFTER_TESTS=ON \
  -DSALTRAFTER_IMGUI_DIR="$SALTRAFTER_IMGUI_DIR" -DSALTRAFTER_PYTHON="$SALTRAFTER_PYTHON"
quiet "$logs/frame-build.log" cmake --build build/native --target bench_frame
build/native/frame_bench
