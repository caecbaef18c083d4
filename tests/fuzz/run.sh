#!/bin/sh
# Builds the fuzz targets and runs both at once from the kept fixtures.   sh tests/fuzz/run.sh SECONDS
#
# What a target finds stays in build/fuzz/findings/; the last line counts the targets. A finding again:
# build/fuzz/build/tests/fuzz/fuzz_NAME FILE
set -eu
cd "$(dirname "$0")/../.."
seconds=${1:?how many seconds for each}
out=build/fuzz
findings=$out/findings
fixtures=tests/fixtures
targets='recipe_file slot'
mkdir -p "$findings"

cmake -S . -B "$out/build" -G Ninja -DCMAKE_CXX_COMPILER=clang++ -DCMAKE_C_COMPILER=clang \
  -DSALTRAFTER_FUZZ=ON -DSALTRAFTER_TESTS=OFF -DSALTRAFTER_DESK=OFF
cmake --build "$out/build" --target fuzz_recipe_file fuzz_slot

# Whole files to start from, and the words that they are made of.
for target in $targets; do mkdir -p "$out/$target/seeds" "$out/$target/corpus"; done
cp $fixtures/*.recipe.saltrafter.json "$out/recipe_file/seeds/"
for slot in $fixtures/*.slot; do
  cp "$slot" "$out/slot/seeds/"
  tail -n +2 "$slot" >"$out/slot/seeds/$(basename "$slot").payload"
done
cat $fixtures/*.json $fixtures/*.slot | grep -ao '"[A-Za-z0-9_. -]*"' | sort -u |
  sed 's/^"\(.*\)"$/"\\"\1\\""/' >"$out/words.dict"

# A log file each: two at once would mix their lines.
for target in $targets; do
  "$out/build/tests/fuzz/fuzz_$target" -max_total_time="$seconds" -timeout=10 -dict="$out/words.dict" \
    -artifact_prefix="$findings/$target-" "$out/$target/corpus" "$out/$target/seeds" \
    >"$out/$target.log" 2>&1 &
  echo $! >"$out/$target.pid"
done
passed=0
failed=0
for target in $targets; do
  code=0
  wait "$(cat "$out/$target.pid")" || code=$?
  runs=$(sed -n 's/^Done \([0-9]*\) runs.*/\1/p' "$out/$target.log")
  if [ "$code" = 0 ] && [ "${runs:-0}" -gt 0 ]; then
    passed=$((passed + 1))
    echo "$target: $runs inputs, nothing found"
  else
    failed=$((failed + 1))
    grep -v '^#[0-9]' "$out/$target.log" | tail -n 60
    # "Test unit written to PATH" stands among these lines; here again, last.
    found=$(sed -n 's/.*Test unit written to //p' "$out/$target.log" | tr '\n' ' ')
    echo "*** $target: found ${found}(code $code)"
  fi
done
echo "$passed passed, $failed failed"
[ "$failed" = 0 ]
