#!/bin/sh
# Builds the page into build/page/ and serves it on this machine.
#
#   sh web/start.sh [--build-only] [--port N] [--floor] [--gallery]
#
# --gallery also builds the page that tests see all parts on, into build/page-gallery/.
# --floor also builds the bench's floor page, SDL2 and an empty window, into build/page-floor/.
set -eu
cd "$(dirname "$0")/.."
serve=yes
port=8420
kind=page
targets=saltrafter_page_files
step_total=5
while [ $# -gt 0 ]; do
  case $1 in
    --build-only) serve=no ;;
    --gallery) targets="$targets saltrafter_gallery_files" ;;
    --floor) kind=bench targets="$targets saltrafter_floor_page" step_total=6 ;;
    --port) port=${2:?a number is wanted after --port} && shift ;;
    *) printf 'Unknown: %s. There are --build-only, --port N, --floor and --gallery.\n' "$1" >&2 && exit 2 ;;
  esac
  shift
done

. web/setup.sh
saltrafter_setup "$kind"

step "Tools that run here while the page is built"
quiet "$logs/host-configure.log" cmake -S . -B build/host -G Ninja \
  -DSALTRAFTER_TESTS=OFF -DSALTRAFTER_DESK=OFF -DSALTRAFTER_PYTHON="$SALTRAFTER_PYTHON"
quiet "$logs/host-build.log" cmake --build build/host --target saltrafter_host_tools

step "The page: configuring"
quiet "$logs/page-configure.log" emcmake cmake -S . -B build/wasm -G Ninja \
  -DSALTRAFTER_IMGUI_DIR="$SALTRAFTER_IMGUI_DIR" -DSALTRAFTER_SDL2_PAGE="${SALTRAFTER_SDL2_PAGE:-}" \
  -DSALTRAFTER_PYTHON="$SALTRAFTER_PYTHON" \
  -DSALTRAFTER_TABLE_COMPILER="$PWD/build/host/saltrafter_table_compiler" \
  -DSALTRAFTER_PAGE_OUT="$PWD/build/page"
step "The page: compiling, up to 8 minutes the first time"
# shellcheck disable=SC2086
quiet "$logs/page-build.log" cmake --build build/wasm --target $targets
echo "The page is in build/page/."
[ "$serve" = no ] || exec node web/serve.mjs build/page "$port"
