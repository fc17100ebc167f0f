# SPDX-License-Identifier: GPL-3.0-or-later
# Sourced by src/run.sh and tests/run.sh: which Debian packages the project needs, and how they
# get onto the machine. Nothing happens until install_packages is called.

# shellcheck shell=sh
# shellcheck disable=SC2034  # the lists are read by the scripts that source this file

# To compile. libsundials-dev brings much that is never linked; --no-install-recommends keeps
# the rest small.
build_packages='gcc libc6-dev meson ninja-build pkg-config gettext shared-mime-info
  libglib2.0-dev libjson-glib-dev libcairo2-dev libpango1.0-dev libsundials-dev
  libgtk-4-dev libgtk-4-bin libadwaita-1-dev desktop-file-utils'

# To look right on the screen and on paper, and to remember settings.
show_packages='adwaita-icon-theme librsvg2-common fonts-inter dconf-gsettings-backend'

# To test: a screen without a monitor, a hand that clicks, readers of what is written, and
# outside references for the physics.
test_packages='xvfb xauth dbus at-spi2-core python3-gi gir1.2-atspi-2.0 xdotool
  poppler-utils qpdf appstream libxml2-utils groff-base units
  python3-fluids python3-gsw python3-iapws python3-scipy python3-jsonschema'

# Prints those of the packages named that are not installed.
missing_packages () {
  for package in "$@"; do
    dpkg-query -W -f='${db:Status-Status}\n' "$package" 2>/dev/null | grep -qx installed ||
      printf '%s ' "$package"
  done
}

# Sets as_root to what must stand before a command to run it as root; fails when nothing does.
find_root () {
  as_root=
  [ "$(id -u)" -ne 0 ] || return 0
  command -v sudo >/dev/null 2>&1 || return 1
  as_root=sudo
  sudo -n true 2>/dev/null && return 0
  # A password can be asked only where somebody can type it.
  [ -t 0 ] && sudo -v
}

# Runs apt-get with the arguments given. Shows a line now and then, and everything if it fails.
apt_get () {
  apt_log=$(mktemp)
  apt_status=0
  {
    $as_root env LC_ALL=C DEBIAN_FRONTEND=noninteractive apt-get -q -y \
      -o Dpkg::Use-Pty=0 -o Acquire::Retries=3 -o DPkg::Lock::Timeout=300 "$@" </dev/null 2>&1
    echo "apt-get ended with $?"
  } | apt_progress || apt_status=$?
  if [ "$apt_status" -ne 0 ]; then
    echo "apt-get $1 failed; its last lines:" >&2
    tail -n 20 "$apt_log" >&2
  fi
  rm -f "$apt_log"
  return "$apt_status"
}

# Reads what apt-get prints, keeps it in $apt_log, and reports every hundredth package.
apt_progress () {
  fetched=0 unpacked=0 ready=0 last=
  while read -r line; do
    printf '%s\n' "$line" >>"$apt_log"
    last=$line
    case $line in
      'Need to get '*) echo "  ${line% of archives.}" ;;
      'Get:'*)
        fetched=$((fetched + 1))
        [ $((fetched % 100)) -ne 0 ] || echo "  $fetched fetched" ;;
      'Unpacking '*)
        unpacked=$((unpacked + 1))
        [ $((unpacked % 100)) -ne 0 ] || echo "  $unpacked unpacked" ;;
      'Setting up '*)
        ready=$((ready + 1))
        [ $((ready % 100)) -ne 0 ] || echo "  $ready set up" ;;
    esac
  done
  [ "$last" = 'apt-get ended with 0' ]
}

# Installs those of the packages named that are missing. Fails, saying what to do, when it cannot.
install_packages () {
  if ! command -v dpkg-query >/dev/null 2>&1; then
    echo "This is not a Debian system. What the build needs is, in Debian's names:" >&2
    echo "  $*" >&2
    echo "Going on in the hope that it is all here." >&2
    return 0
  fi
  missing=$(missing_packages "$@")
  missing=${missing% }
  [ -n "$missing" ] || return 0
  if ! find_root; then
    {
      echo "Missing Debian packages: $missing"
      echo "Installing them needs root or sudo. As root, run"
      echo "  apt-get update && apt-get install -y --no-install-recommends $missing"
      echo "and start this again."
    } >&2
    return 1
  fi
  # The names are plain words, so splitting them is what is wanted.
  # shellcheck disable=SC2086
  set -- $missing
  echo "Installing $# missing Debian packages and what they stand on: $missing"
  apt_get update || { sleep 5; apt_get update; } || echo "Going on with the package lists at hand." >&2
  apt_get install --no-install-recommends "$@" ||
    { apt_get update && apt_get install --no-install-recommends "$@"; }
}
