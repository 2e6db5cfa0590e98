#!/bin/sh
# Builds (Release) and runs the bench of the linear solvers; prints one table.
#   sh tests/bench/run.sh [--quick] [--problems P1,P1b,P2,P3] [--sizes 64,128] [--repeats 3] [--json FILE]
# UPDRAUGHT_BENCH_BUILD names the build folder (default: build/bench beside the sources).
set -e
here=$(cd "$(dirname "$0")" && pwd)
top=$(cd "$here/../.." && pwd)
build=${UPDRAUGHT_BENCH_BUILD:-$top/build/bench}
cmake -S "$top" -B "$build" -DCMAKE_BUILD_TYPE=Release -DUPDRAUGHT_BENCH=ON -DUPDRAUGHT_TESTS=OFF >/dev/null
if [ -f "$build/build.ninja" ]; then grep -q bench_library "$build/build.ninja" && library=bench_library || library=
else grep -rq bench_library "$build/Makefile" && library=bench_library || library=; fi
cmake --build "$build" -j 2 --target bench_solvers $library >/dev/null
program=$(find "$build" -name bench_solvers -type f)
OMP_PROC_BIND=true
export OMP_PROC_BIND
if [ -n "$library" ]; then
  rows=$build/library_rows.tsv
  # One thread per rank; a container's root user may run it.
  OMP_NUM_THREADS=1 OMPI_ALLOW_RUN_AS_ROOT=1 OMPI_ALLOW_RUN_AS_ROOT_CONFIRM=1 \
    mpirun -np 2 --bind-to core "$(find "$build" -name bench_library -type f)" --rows "$rows" "$@"
  exec "$program" --rows "$rows" "$@"
fi
exec "$program" "$@"
