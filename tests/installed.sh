#!/bin/sh
# Installs a build into a folder of its own, asks the installed program, and builds docs/example against its library.
#   sh tests/installed.sh BUILD_FOLDER
set -eu
top=$(cd "$(dirname "$0")/.." && pwd)
place=$(mktemp -d)
trap 'rm -rf "$place"' EXIT
cmake --install "$1" --prefix "$place/here" >"$place/log" || { cat "$place/log"; exit 1; }
cd "$place"
here/bin/updraught check here/share/updraught/allotment-box.toml
# Its own feedstocks, not those of the source tree: without them it must fail.
here/bin/updraught feedstocks >listed
grep -q "kitchen waste" listed
sed -i 's/^\["kitchen waste"\]/["renamed waste"]/; s/kitchen waste/renamed waste/' here/share/updraught/feedstocks.toml
here/bin/updraught feedstocks >listed
grep -q "renamed waste" listed
cmake -S "$top/docs/example" -B example -DCMAKE_PREFIX_PATH="$place/here" >"$place/log" || { cat "$place/log"; exit 1; }
cmake --build example >"$place/log" || { cat "$place/log"; exit 1; }
example/warm_column
