#!/bin/sh
# Builds build/bench/forecast.js from forecast.cpp.   sh tests/bench/forecast_wasm.sh BUILD
# BUILD is a native build folder, for the tables it has compiled.
set -eu
cd "$(dirname "$0")/../.."
mkdir -p build/bench
# The linker's scripts want acorn, which Debian keeps where a Node from elsewhere does not look.
NODE_PATH=/usr/share/nodejs em++ -std=c++20 -O2 -flto -fno-exceptions -fno-rtti -ffp-contract=off -I. \
  core/base/*.cpp core/tables/*.cpp "$1"/tables/tables_data.cpp core/transport/*.cpp core/recipe/*.cpp core/air/*.cpp \
  core/safety/*.cpp core/drying/*.cpp tests/bench/forecast.cpp -o build/bench/forecast.js \
  -sENVIRONMENT=node -sFILESYSTEM=0 -sMALLOC=emmalloc -sALLOW_MEMORY_GROWTH=1 -sEXIT_RUNTIME=1
