#!/bin/sh
# Builds the page and the floor page and puts one beside the other.   sh tests/bench/page.sh
set -eu
cd "$(dirname "$0")/../.."
sh web/start.sh --floor --build-only
[ -d tests/page/node_modules ] || npm ci --prefix tests/page
node tests/bench/page.mjs
