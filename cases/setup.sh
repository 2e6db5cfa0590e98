# shellcheck shell=sh disable=SC2034,SC2154
# Shared by cases/demo.sh and tests/run.sh, read with "."; POSIX sh. Expects $top, the folder of the project.
# Gets Debian 12 ready (only what is missing, with apt-get), configures and builds into build/.

OMP_WAIT_POLICY=passive # threads that wait must not hold the cores of other tests or members
export OMP_WAIT_POLICY

# What the program is built from. Beside each: how to see that it is there where no Debian package list is kept.
program_packages='
g++                     command c++
cmake                   command cmake
ninja-build             command ninja
pkg-config              command pkg-config
libeigen3-dev           header eigen3/Eigen/Core
libvtk9-dev             header vtk-9.1/vtkVersion.h
libhdf5-dev             command h5c++
libcairo2-dev           module cairo-pdf
libpango1.0-dev         module pangocairo
libpugixml-dev          header pugixml.hpp
libtomlplusplus-dev     header toml++/toml.h
libcli11-dev            header CLI/CLI.hpp
libfmt-dev              header fmt/format.h
nlohmann-json3-dev      header nlohmann/json.hpp
libudunits2-dev         header udunits2.h
libgsl-dev              header gsl/gsl_qrng.h
fonts-dejavu-core       file /usr/share/fonts/truetype/dejavu/DejaVuSans.ttf
'
test_packages='
libgtest-dev            header gtest/gtest.h
python3                 command python3
python3-h5py            python h5py
hdf5-tools              command h5dump
'
# Only for "sh tests/run.sh all".
all_packages='
clang-14                command clang++-14
libclang-rt-14-dev      file /usr/lib/llvm-14/lib/clang/14.0.6/include/sanitizer/tsan_interface.h
libomp-14-dev           file /usr/lib/llvm-14/lib/libarcher.so
clang-tidy-14           command clang-tidy-14
clang-format-14         command clang-format-14
'

# One line of the lists above: is it there? Debian's own list is asked first.
is_there() { # package kind what
  if command -v dpkg-query >/dev/null 2>&1; then
    # shellcheck disable=SC2016
    [ "$(dpkg-query -W -f='${db:Status-Status}' "$1" 2>/dev/null)" = installed ]
    return
  fi
  case $2 in
  command) command -v "$3" >/dev/null 2>&1 ;;
  header) printf '#include <%s>\n' "$3" | c++ -std=c++20 -E -x c++ - >/dev/null 2>&1 ;;
  module) pkg-config --exists "$3" 2>/dev/null ;;
  python) python3 -c "import $3" >/dev/null 2>&1 ;;
  file) [ -e "$3" ] ;;
  esac
}

missing_of() { # list of packages as above
  printf '%s\n' "$1" | while read -r package kind what; do
    [ -n "$package" ] || continue
    is_there "$package" "$kind" "$what" || printf '%s ' "$package"
  done
}

as_root() {
  if [ "$(id -u)" -eq 0 ]; then
    "$@"
  else
    sudo "$@"
  fi
}

# Installs what is missing of a list, or names it and stops.
need_packages() { # list of packages as above
  missing=$(missing_of "$1")
  [ -n "$missing" ] || return 0
  if ! command -v apt-get >/dev/null 2>&1; then
    echo "These are missing and there is no apt-get here to install them (Debian's package names):" >&2
    echo "  $missing" >&2
    echo "Install them by hand, then run this command again." >&2
    exit 1
  fi
  if [ "$(id -u)" -ne 0 ] && ! command -v sudo >/dev/null 2>&1; then
    echo "These packages are missing and only the administrator (root) may install them:" >&2
    echo "  $missing" >&2
    echo "Ask for them, or run this command as root." >&2
    exit 1
  fi
  echo "Installing: $missing"
  as_root apt-get -q update || echo "The list of packages could not be brought up to date; trying with the old one." >&2
  # shellcheck disable=SC2086
  as_root env DEBIAN_FRONTEND=noninteractive apt-get -q -y -o DPkg::Lock::Timeout=300 \
    install --no-install-recommends $missing || {
    echo "Installing failed; see the lines above." >&2
    exit 1
  }
}

# Configures a build folder; one that is there already keeps its generator.
configure() { # folder, further options of cmake
  folder=$1
  shift
  [ -f "$folder/CMakeCache.txt" ] || set -- -G Ninja "$@"
  cmake -S "$top" -B "$folder" "$@"
}

build() { # folder, further options of cmake --build
  folder=$1
  shift
  cmake --build "$folder" -j "$(nproc)" "$@"
}
