#!/bin/sh
# Gets the machine ready, builds, and runs the tests.
#   sh tests/run.sh        every test but the long ones (names that begin with Long): at most 25 minutes on two cores
#   sh tests/run.sh changed   what is soon checked: formatting, clang-tidy of what changed since the branch's root (or since
#                          the revision in UPDRAUGHT_BASE), the unit tests with the address sanitizer: some 20 minutes
#   sh tests/run.sh all    also the long ones, sanitizers, made-up input, clang-tidy and clang-format: at most 80 minutes
set -eu
top=$(cd "$(dirname "$0")/.." && pwd)
# shellcheck source=cases/setup.sh
. "$top/cases/setup.sh"
cd "$top"

what=${1-}
case $what in
'' | changed | all) ;;
*)
  echo "usage: sh tests/run.sh [changed | all]" >&2
  exit 2
  ;;
esac

run_tests() { # build folder, further options of ctest
  folder=$1
  shift
  ctest --test-dir "$folder" --output-on-failure --no-tests=error -j 2 "$@"
}

need_packages "$program_packages$test_packages"
build_release() {
  configure build -DCMAKE_BUILD_TYPE=Release -DUPDRAUGHT_TESTS=ON -DCMAKE_EXPORT_COMPILE_COMMANDS=ON && build build
}

if [ -z "$what" ]; then
  build_release
  run_tests build -E '^Long'
  exit
fi

need_packages "$all_packages"
passed=0
failed=0
report=''
# Runs one check and goes on, whatever comes of it.
check() { # name, command
  name=$1
  shift
  echo
  echo "== $name"
  began=$(date +%s)
  if "$@"; then
    passed=$((passed + 1))
    outcome=passed
  else
    failed=$((failed + 1))
    outcome=FAILED
  fi
  report="$report$outcome  $name ($(($(date +%s) - began)) s)
"
}

ours() { find mesh solver post cases tests -name "*.$1"; }

format() {
  # shellcheck disable=SC2046
  clang-format-14 --dry-run --Werror $(ours cpp) $(ours h)
}

all_tests() { build_release && run_tests build; }

# The memory and arithmetic of every test but the long ones, about five times slower than without.
memory_and_arithmetic() {
  configure build/address -DCMAKE_BUILD_TYPE=RelWithDebInfo -DUPDRAUGHT_SANITIZE=address,undefined &&
    build build/address &&
    LSAN_OPTIONS=suppressions=$top/tests/leaks.txt:print_suppressions=0 \
      UBSAN_OPTIONS=halt_on_error=1:print_stacktrace=1 run_tests build/address -E '^Long' --timeout 900
}

# Races between threads: clang with its own OpenMP library and the tool that tells the sanitizer of its barriers; with
# the compiler's own library every barrier looks like a race. The box has enough cells for all loops to share them out.
races() (
  export OMP_TOOL_LIBRARIES=/usr/lib/llvm-14/lib/libarcher.so TSAN_OPTIONS=ignore_noninstrumented_modules=1:halt_on_error=1
  configure build/thread -DCMAKE_BUILD_TYPE=RelWithDebInfo -DUPDRAUGHT_SANITIZE=thread \
    -DCMAKE_C_COMPILER=clang-14 -DCMAKE_CXX_COMPILER=clang++-14 &&
    build build/thread --target updraught test_unit &&
    OMP_NUM_THREADS=2 run_tests build/thread -L unit -E '^Long' --timeout 900 &&
    build/thread/updraught run cases/allotment-box-side-holes.toml --detail usual --days 0.02 --threads 2 \
      --no-band --no-figures --quiet --force --out build/thread/box
)

# A moment of made-up input for each of its kinds; sh tests/fuzz/run.sh SECONDS goes on for longer.
fuzz() { sh "$top/tests/fuzz/run.sh" 20; }

tidy() { # reads file names
  grep -v '^tests/' | xargs -r -P 2 -n 4 clang-tidy-14 -p build --quiet
}

tidy_all() { ours cpp | tidy; }

# The sources that differ from where the branch began; at its root from the last commit. A tree without history does not know
# what changed, and says so.
changed_sources() {
  if ! git rev-parse -q --verify HEAD~1 >/dev/null 2>&1; then
    echo "There is no history here to tell what changed: clang-tidy reads nothing." >&2
    return
  fi
  base=${UPDRAUGHT_BASE:-$(git merge-base HEAD origin/main 2>/dev/null || true)}
  if [ -z "$base" ] || [ "$(git rev-parse "$base")" = "$(git rev-parse HEAD)" ]; then
    base=HEAD~1
  fi
  git diff --name-only --diff-filter=d "$base" -- mesh solver post cases | grep '\.cpp$' || true
}

tidy_changed() {
  configure build -DCMAKE_BUILD_TYPE=Release -DUPDRAUGHT_TESTS=ON -DCMAKE_EXPORT_COMPILE_COMMANDS=ON &&
    changed_sources | tidy
}

# Memory alone, in the tests that are over soon: a third of the compiler's work that both sanitizers ask.
memory_of_unit_tests() {
  configure build/memory -DCMAKE_BUILD_TYPE=RelWithDebInfo -DCMAKE_CXX_FLAGS_RELWITHDEBINFO='-O1 -g1' \
    -DUPDRAUGHT_SANITIZE=address &&
    build build/memory --target updraught test_unit &&
    LSAN_OPTIONS=suppressions=$top/tests/leaks.txt:print_suppressions=0 \
      run_tests build/memory -L unit -E '^Long' --timeout 900
}

summary() {
  echo
  printf '%s' "$report"
  echo "$passed passed, $failed failed"
  [ "$failed" -eq 0 ]
}

if [ "$what" = changed ]; then
  check "clang-format" format
  check "clang-tidy on what changed" tidy_changed
  check "unit tests with the address sanitizer" memory_of_unit_tests
  summary
  exit
fi

check "clang-format" format
check "tests, the long ones too" all_tests
check "tests with the address and undefined-behaviour sanitizers" memory_and_arithmetic
check "unit tests and a box with the thread sanitizer" races
check "fuzz, short" fuzz
check "clang-tidy" tidy_all
summary
