#!/bin/sh
# Times the 60-day forecast in WebAssembly beside the native one.   sh tests/bench/forecast.sh
set -eu
cd "$(dirname "$0")/../.."
step_total=4
. web/setup.sh
saltrafter_setup native
step "The native program"
quiet "$logs/native-configure.log" cmake -S . -B build/native -G Ninja -DSALTRAFTER_TESTS=ON \
  -DSALTRAFTER_IMGUI_DIR="$SALTRAFTER_IMGUI_DIR" -DSALTRAFTER_PYTHON="$SALTRAFTER_PYTHON"
quiet "$logs/forecast-build.log" cmake --build build/native --target bench_forecast
step "The same for WebAssembly, with the flags that the page has for its numbers"
sh tests/bench/forecast_wasm.sh build/native
node tests/bench/forecast.mjs build/native/forecast_bench build/bench/forecast.js
