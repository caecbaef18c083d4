#!/bin/sh
# Builds the desktop program, build/native/saltrafter, and opens it.
#
#   sh native/start.sh [--build-only] [words for the program ...]
set -eu
cd "$(dirname "$0")/.."
open=yes
[ "${1:-}" = --build-only ] && open=no && shift

. web/setup.sh
: "${step_total:=4}"
saltrafter_setup native

step "The desktop program: configuring"
quiet "$logs/native-configure.log" cmake -S . -B build/native -G Ninja \
  -DSALTRAFTER_IMGUI_DIR="$SALTRAFTER_IMGUI_DIR" -DSALTRAFTER_PYTHON="$SALTRAFTER_PYTHON"
step "The desktop program: compiling, up to 5 minutes the first time"
quiet "$logs/native-build.log" cmake --build build/native --target saltrafter_program
echo "The program is build/native/saltrafter."
[ "$open" = no ] || exec build/native/saltrafter "$@"
