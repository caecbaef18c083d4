#!/bin/sh
# Builds the states for WebAssembly and times them beside psychrolib.   sh tests/bench/psychrometrics/run.sh
set -eu
cd "$(dirname "$0")/../../.."
out=build/bench
mkdir -p "$out"
[ -d tests/reference/node_modules ] || npm ci --prefix tests/reference
# The linker's scripts want acorn, which Debian keeps where a Node from elsewhere does not look.
NODE_PATH=/usr/share/nodejs em++ -std=c++20 -O2 -flto -fno-exceptions -fno-rtti -ffp-contract=off -I. \
  core/base/result.cpp core/air/*.cpp tests/bench/psychrometrics/states.cpp -o "$out/states.js" \
  -sMODULARIZE=1 -sENVIRONMENT=node -sFILESYSTEM=0 -sMALLOC=emmalloc \
  -sEXPORTED_FUNCTIONS=_one_state,_all_states --no-entry
node --no-experimental-fetch tests/bench/psychrometrics/bench.mjs "$PWD/$out/states.js"
