#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Installs what Debian 12 lacks, builds, runs every test, and closes on "N passed, N failed".
#   sh tests/run.sh                 everything
#   sh tests/run.sh quick           everything but the sanitizers
#   sh tests/run.sh STEP...         any of: full demo sanitize plain benchmark
# full: every test, warnings are errors. demo: src/run.sh where there is no display. sanitize: the
# C tests again with the address and undefined-behaviour sanitizers. plain: built without GTK.
# benchmark: figures, never a failure.
set -u

top=$(cd "$(dirname "$0")/.." && pwd -P)
cd "$top" || exit 1
builds=build
. src/packages.sh

steps=
for word in "${@:-all}"; do
  case $word in
    all) steps="$steps full demo sanitize plain benchmark" ;;
    quick) steps="$steps full demo plain benchmark" ;;
    full | demo | sanitize | plain | benchmark) steps="$steps $word" ;;
    *)
      sed -n '3,9s/^# //p' tests/run.sh >&2
      exit 2 ;;
  esac
done

if ! { mkdir -p "$builds" && [ -w "$builds" ]; } 2>/dev/null; then
  echo "Cannot write in $top/$builds, where everything is to be built." >&2
  echo "0 passed, 1 failed"
  exit 1
fi

# shellcheck disable=SC2086  # lists of plain words
if ! install_packages $build_packages $show_packages $test_packages; then
  echo "0 passed, 1 failed"
  exit 1
fi
python=/usr/bin/python3    # Debian's own: only it sees Debian's modules
[ -x "$python" ] || python=python3

# Tests see neither the person's files nor their screen, language or session, and leave nothing.
scratch=$(mktemp -d "${TMPDIR:-/tmp}/nappe-XXXXXX") || exit 1
trap 'rm -rf "$scratch"' EXIT
trap 'exit 130' HUP INT TERM
mkdir "$scratch/home" "$scratch/tmp"
mkdir -m 700 "$scratch/run"
export HOME="$scratch/home" TMPDIR="$scratch/tmp" XDG_RUNTIME_DIR="$scratch/run" LC_ALL=C.UTF-8
export DBUS_SESSION_BUS_ADDRESS=disabled:
unset DISPLAY WAYLAND_DISPLAY LANGUAGE NAPPE_DATA_DIR NAPPE_LOCALE_DIR GSETTINGS_SCHEMA_DIR
unset XDG_CONFIG_HOME XDG_DATA_HOME XDG_CACHE_HOME XDG_STATE_HOME
broken=$scratch/broken
: >"$broken"
logs=

say () { printf '\n== %s\n' "$*"; }

# What went wrong outside any test counts as one failure each.
fails () {
  echo "$*" >>"$broken"
  echo "FAILED: $*"
}

# Configures and compiles the build named first with the meson options that follow.
build () {
  folder=$builds/$1
  shift
  rm -f "$folder/meson-logs/testlog.json"
  if [ -f "$folder/build.ninja" ]; then
    meson setup --reconfigure "$@" "$folder" >"$folder.log" 2>&1 || rm -rf "$folder"
  fi
  if [ ! -f "$folder/build.ninja" ]; then
    meson setup "$@" "$folder" >"$folder.log" 2>&1 || { tail -n 30 "$folder.log"; return 1; }
  fi
  ninja --quiet -k 0 -C "$folder"
}

# Runs the tests of the build named first; further arguments go to meson.
run_tests () {
  folder=$builds/$1
  shift
  # Which tests failed is read from the log; that there is none is a failure by itself.
  meson test -C "$folder" --no-rebuild --print-errorlogs "$@"
  [ -f "$folder/meson-logs/testlog.json" ] || return 1
  logs="$logs $folder/meson-logs/testlog.json"
}

full () {
  say "Everything, warnings as errors"
  build test -Dwerror=true -Dauto_features=enabled || { fails "the build"; return; }
  run_tests test || fails "running the tests"
}

demo () {
  say "The first command, without a display"
  sheet=$builds/three-drain.pdf
  rm -f "$sheet"
  NAPPE_BUILD_DIR=$top/$builds/test sh src/run.sh || { fails "src/run.sh"; return; }
  pdfinfo "$sheet" >/dev/null || fails "the specification sheet src/run.sh wrote"
}

sanitize () {
  say "Again with the address and undefined-behaviour sanitizers"
  build sanitize -Dwerror=true -Dauto_features=enabled -Doptimization=1 \
    -Db_sanitize=address,undefined || { fails "the build with sanitizers"; return; }
  # Outside references and rules on the sources come out the same under a sanitizer.
  # Walks through the whole program would take a quarter of an hour each.
  run_tests sanitize --no-suite outside --no-suite house --no-suite walks --timeout-multiplier 5 ||
    fails "running the tests with sanitizers"
}

plain () {
  say "Again without GTK"
  build plain -Dwerror=true -Dauto_features=disabled || { fails "the build without GTK"; return; }
  run_tests plain --no-suite outside --no-suite house || fails "running the tests without GTK"
  command=$builds/plain/src/command/nappe
  if [ -x "$command" ] && ldd "$command" | grep -qE 'libgtk|libgdk-|libadwaita'; then
    fails "the command is linked with GTK"
  fi
}

benchmark () {
  say "Benchmarks"
  if [ ! -f "$builds/test/build.ninja" ]; then
    build test -Dwerror=true -Dauto_features=enabled || { fails "the build"; return; }
  fi
  # A log of its own: by itself meson writes over that of the tests.
  rm -f "$builds/test/meson-logs/benchmarklog.json"
  meson test -C "$builds/test" --no-rebuild --benchmark --num-processes 1 --logbase benchmarklog \
    >"$builds/benchmark.log" 2>&1
  "$python" tests/summary.py --benchmarks "$builds/test/meson-logs" ||
    fails "a benchmark crashed"
}

for step in $steps; do
  "$step"
done

say "All together"
# shellcheck disable=SC2086  # plain words
"$python" tests/summary.py --broken "$broken" $logs
