#!/bin/sh
# The main job from nothing: gets the machine ready, builds the program and compares two ready-made bins.
#   sh cases/demo.sh
set -eu
top=$(cd "$(dirname "$0")/.." && pwd)
# shellcheck source=cases/setup.sh
. "$top/cases/setup.sh"
cd "$top"

# Measured on two cores; more cores are faster.
if [ -x build/updraught ]; then
  echo "This takes about 3 minutes on a computer with two cores: it computes two bins, and 32 plausible beds of each."
  echo "The program is built already; changed parts of it are built first."
else
  echo "This takes about 5 minutes on a computer with two cores: some 2 minutes to build the program, the first time"
  echo "only, and about 3 to compute two bins, and 32 plausible beds of each."
fi
echo

need_packages "$program_packages"

echo "Building"
# A build folder that also holds the tests goes on holding them.
if [ -f build/CMakeCache.txt ]; then
  configure build >/dev/null
else
  configure build -DCMAKE_BUILD_TYPE=Release -DUPDRAUGHT_TESTS=OFF >/dev/null
fi
build build --target updraught

for one in allotment-box allotment-box-side-holes; do
  echo
  build/updraught check "cases/$one.toml"
done
echo
build/updraught compare cases/allotment-box.toml cases/allotment-box-side-holes.toml --out build/demo --force

echo
echo "Pictures: the sheet to look at first, then one sheet for each bin; more lie beside them"
find "$top/build/demo" -name compare.png -o -name sheet.png | sort -r | sed 's|^|  |'
