#!/bin/sh
# Installs what is missing, builds everything, runs every suite of tests/suites.txt and counts.
#
#   sh tests/run.sh [--long]
#
# The last line is "N passed, N failed"; the exit code is 0 when none failed. Logs are in build/logs/.
set -eu
cd "$(dirname "$0")/.."
SALTRAFTER_LONG=
case ${1:-} in
  '') ;;
  --long) SALTRAFTER_LONG=1 ;;
  *) printf 'Unknown: %s. There is --long.\n' "$1" >&2 && exit 2 ;;
esac
export SALTRAFTER_LONG

# Set-up or a build that fails is one failure, said in the last line like any other.
counted_all=no
trap '[ "$counted_all" = yes ] || echo "0 passed, 1 failed"' EXIT

. web/setup.sh
step_total=6
saltrafter_setup tests

step "The desktop program and the test programs: compiling, about 8 minutes the first time"
quiet "$logs/native-configure.log" cmake -S . -B build/native -G Ninja -DSALTRAFTER_TESTS=ON \
  -DSALTRAFTER_IMGUI_DIR="$SALTRAFTER_IMGUI_DIR" -DSALTRAFTER_PYTHON="$SALTRAFTER_PYTHON"
quiet "$logs/native-build.log" cmake --build build/native
step "The page: compiling, about 8 minutes the first time"
quiet "$logs/page.log" sh web/start.sh --build-only --gallery
step "Packages of the page tests"
if ! cmp -s tests/page/package-lock.json tests/page/node_modules/.installed-lock.json; then
  quiet "$logs/npm.log" npm ci --prefix tests/page
  cp tests/page/package-lock.json tests/page/node_modules/.installed-lock.json
fi

# count KIND LOG: sets $passed and $failed.
count() {
  case $1 in
    # "[doctest] test cases:  3 |  3 passed | 0 failed | 0 skipped", one a program; ctest writes a test's number
    # before it, as before the last line of what is no doctest program
    ctest)
      counted=$(sed -n 's/.*\[doctest\] test cases:.*| *\([0-9]*\) passed *| *\([0-9]*\) failed.*/\1 \2/p
        s/^[0-9]\{1,\}: \([0-9]*\) passed, \([0-9]*\) failed$/\1 \2/p' "$2")
      ;;
    tap) counted=$(sed -n 's/^# pass \([0-9]*\)$/\1 0/p; s/^# \(fail\|cancelled\) \([0-9]*\)$/0 \2/p' "$2") ;;
    plain) counted=$(sed -n 's/^\([0-9]*\) passed, \([0-9]*\) failed$/\1 \2/p' "$2" | tail -n 1) ;;
  esac
  passed=$(printf '%s\n' "$counted" | awk '{n += $1} END {print n + 0}')
  failed=$(printf '%s\n' "$counted" | awk '{n += $2} END {print n + 0}')
}

# What went wrong, from a suite's log, to be read without opening it.
complain() {
  case $1 in
    tap) grep -A 12 '^not ok' "$2" | head -n 80 ;;
    *) grep -B 2 -A 8 -E 'ERROR:|FATAL|\*\*\*' "$2" | head -n 80 ;;
  esac
  tail -n 5 "$2"
}

step "Tests"
table=build/logs/tests.txt
: >"$table"
all_passed=0
all_failed=0
grep -v '^ *\(#\|$\)' tests/suites.txt >build/logs/suites.txt
# The table is read from a descriptor of its own: a suite may read its standard input.
while IFS='|' read -r engine kind when minutes command <&3; do
  engine=$(echo $engine) kind=$(echo $kind) when=$(echo $when) minutes=$(echo $minutes)
  if [ "$when" = long ] && [ -z "$SALTRAFTER_LONG" ]; then
    printf '%-10s left to --long\n' "$engine" | tee -a "$table"
    continue
  fi
  log=$logs/suite-$engine.log
  began=$(date +%s)
  code=0
  timeout -k 10 "${minutes}m" sh -c "$command" >"$log" 2>&1 </dev/null || code=$?
  count "$kind" "$log"
  [ "$code" = 0 ] || [ "$failed" -gt 0 ] || failed=1
  [ $((passed + failed)) -gt 0 ] || failed=1
  [ "$failed" = 0 ] || complain "$kind" "$log"
  printf '%-10s %5d ran: %d passed, %d failed (%d s)\n' \
    "$engine" $((passed + failed)) "$passed" "$failed" $(($(date +%s) - began)) | tee -a "$table"
  all_passed=$((all_passed + passed))
  all_failed=$((all_failed + failed))
done 3<build/logs/suites.txt

counted_all=yes
echo "$all_passed passed, $all_failed failed"
[ "$all_failed" = 0 ]
