#!/bin/sh
# SPDX-License-Identifier: GPL-3.0-or-later
# Runs a program that needs a display on a virtual one, apart from the person's own things:
#   run-apart.sh display PROGRAM ARGUMENT...    without a session bus or assistive technology
#   run-apart.sh session PROGRAM ARGUMENT...    with both
# Everything is drawn by cairo, so that no graphics driver is loaded.
set -eu

kind=$1
shift
scratch=$(mktemp -d "${TMPDIR:-/tmp}/nappe-studio-XXXXXX")
trap 'rm -rf "$scratch"' EXIT
trap 'exit 130' HUP INT TERM
mkdir "$scratch/home" "$scratch/tmp"
mkdir -m 700 "$scratch/run"
export HOME="$scratch/home" TMPDIR="$scratch/tmp" XDG_RUNTIME_DIR="$scratch/run"
export GSK_RENDERER=cairo GDK_DEBUG=gl-disable GDK_BACKEND=x11 GSETTINGS_BACKEND=memory ADW_DISABLE_PORTAL=1
unset WAYLAND_DISPLAY DISPLAY XDG_CONFIG_HOME XDG_DATA_HOME XDG_CACHE_HOME XDG_STATE_HOME

screen='-screen 0 1400x900x24'
if [ "$kind" = session ]; then
  unset GTK_A11Y DBUS_SESSION_BUS_ADDRESS
  # The bus starts services that speak on the standard output; the program alone has the caller's.
  dbus-run-session -- sh -c 'exec xvfb-run -a -s "$0" "$@" >&3 3>&-' "$screen" "$@" 3>&1 >&2
else
  export GTK_A11Y=test DBUS_SESSION_BUS_ADDRESS=disabled:
  xvfb-run -a -s "$screen" "$@"
fi
