#!/bin/sh
# Feeds the reader, its tables, the store and the command line with made-up input, under the address and
# undefined-behaviour sanitizers. What ends a target is kept under build/fuzz/found/ and can be given to the target again.
#   sh tests/fuzz/run.sh             20 seconds for each target
#   sh tests/fuzz/run.sh 3600        an hour for each
#   sh tests/fuzz/run.sh 60 case     one target alone: case, table, store or words
set -eu
top=$(cd "$(dirname "$0")/../.." && pwd)
# shellcheck source=cases/setup.sh
. "$top/cases/setup.sh"
seconds=${1-20}
targets=${2-case table store words}
folder=$top/build/fuzz

need_packages "$program_packages$test_packages$all_packages"
configure "$folder" -DCMAKE_BUILD_TYPE=RelWithDebInfo -DUPDRAUGHT_FUZZ=ON \
  -DCMAKE_C_COMPILER=clang-14 -DCMAKE_CXX_COMPILER=clang++-14 >/dev/null
for target in $targets; do
  build "$folder" --target "fuzz_$target"
done

# The ready-made cases and the textbook ones; the other targets begin from what they make themselves.
starts=$folder/starts
mkdir -p "$starts/case" "$starts/table" "$starts/store" "$starts/words" "$folder/found"
cp "$top"/cases/*.toml "$top"/cases/textbook/*.toml "$starts/case"
printf '\0000 d,8 degC\n1 d,11 degC\n' >"$starts/table/weather"
printf '\0011 cm,8 degC\n0.5 m,30 degC\n' >"$starts/table/initial"
printf '\0020 m,1e-8 m2\n0.5 m,1e-9 m2\n' >"$starts/table/permeability"
printf '\0030 m,0 W/m3\n0.5 m,100 W/m3\n' >"$starts/table/heat"
printf 'mix\n3 buckets kitchen-waste, 1 bucket grass\n--json\n' >"$starts/words/mix"
printf 'run\nwrong.toml\n--days=0.5\n' >"$starts/words/run"
printf 'start\nnew.toml\n--like\nschool-round\n' >"$starts/words/start"
printf '\001wholebits' >"$starts/store/whole"
printf '\002partsbits' >"$starts/store/parts"

# The library of the store keeps lists of free memory, and other libraries never give back a little (tests/leaks.txt).
export LSAN_OPTIONS="suppressions=$top/tests/leaks.txt:print_suppressions=0"
export UBSAN_OPTIONS=print_stacktrace=1
export OMP_NUM_THREADS=1
failed=0
for target in $targets; do
  corpus=$folder/corpus/$target
  place=$folder/place/$target
  rm -rf "$place"
  mkdir -p "$corpus" "$place"
  echo "-- $target, $seconds s"
  # Five seconds for one input count as hanging, which are some 25 under sanitizers.
  (cd "$place" && "$folder/tests/fuzz/fuzz_$target" -max_total_time="$seconds" -timeout=25 -rss_limit_mb=4096 -max_len=8192 \
    -print_final_stats=1 -verbosity=0 -artifact_prefix="$folder/found/$target-" "$corpus" "$starts/$target") || failed=1
  rm -rf "$place"
done
exit "$failed"
