#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Installs what Debian 12 lacks, builds, and opens the studio on a build file:
#   sh src/run.sh [FILE]
# Without FILE it opens the three-drain demo. Where there is no display, the command checks the
# file and writes its specification sheet instead.
set -eu

top=$(cd "$(dirname "$0")/.." && pwd -P)
build=${NAPPE_BUILD_DIR-$top/build/run}    # tests/run.sh lends the one it has
. "$top/src/packages.sh"

case ${1-} in
  -h | --help)
    echo "Usage: sh src/run.sh [FILE]"
    echo "Builds Nappe and opens FILE, or a demo build, in the studio."
    exit 0 ;;
esac
file=${1-$top/data/demos/three-drain.nappe}
if [ ! -r "$file" ]; then
  echo "Cannot read $file" >&2
  exit 1
fi
if ! { mkdir -p "${build%/*}" && [ -w "${build%/*}" ]; } 2>/dev/null; then
  echo "Cannot write in ${build%/*}, where the programs are to be built." >&2
  exit 1
fi

# shellcheck disable=SC2086  # lists of plain words
install_packages $build_packages $show_packages

configure () {
  if [ -f "$build/build.ninja" ]; then
    meson setup --reconfigure "$build" "$top" >"$build.log" 2>&1 && return 0
    rm -rf "$build"    # left by another place or another version
  fi
  meson setup -Dauto_features=enabled "$build" "$top" >"$build.log" 2>&1
}

echo "Building in $build"
if ! configure; then
  tail -n 30 "$build.log" >&2
  exit 1
fi
ninja --quiet -C "$build"

# The programs find their data in the checkout and in the build folder; nothing is installed.
export NAPPE_DATA_DIR="$top/data" NAPPE_LOCALE_DIR="$build/po" GSETTINGS_SCHEMA_DIR="$build/data"

if [ -n "${DISPLAY-}${WAYLAND_DISPLAY-}" ]; then
  exec "$build/src/studio/nappe-studio" "$file"
fi

name=${file##*/}
sheet=$top/build/${name%.nappe}.pdf
echo "There is no display, so the command checks $file instead of the studio showing it."
echo
# 1 and 2 say that there are problems or dangers in the build, which is no failure of this script.
verdict=0
"$build/src/command/nappe" check "$file" || verdict=$?
[ "$verdict" -le 2 ] || exit "$verdict"
echo
"$build/src/command/nappe" export --sheet --output "$sheet" "$file" >/dev/null
echo "Its specification sheet is in $sheet"
