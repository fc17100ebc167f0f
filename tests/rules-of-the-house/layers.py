#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""The house stands: no floor looks at a higher one, and GTK lives in the studio alone."""
import os
import re
import sys

import house

FLOORS = {
    'units': 1, 'physics': 1,
    'build': 2, 'catalogue': 2,
    'file': 3, 'network': 3,
    'study': 4,
    'results': 5, 'assembly': 5,
    'rules': 6,
    'cures': 7, 'picture': 7,
    'sheet': 8, 'handbook': 8,
    'studio': 9, 'command': 9,
}
OWN = re.compile(r'^\s*#\s*include\s*"([^"]+)"')
SYSTEM = re.compile(r'^\s*#\s*include\s*<([^>]+)>')
TOOLKIT = re.compile(r'^(gtk|gdk|gsk|adwaita)(/|\.h$)')
# The name of a function at the start of a line, below its type.
DEFINITION = re.compile(r'^(nappe_\w+) \(')
# Made by the build, below no room.
GENERATED = {'config.h'}


def sources(top):
    return house.files(top, 'src', endings=('.c', '.h'))


def room_of(path):
    """The room a path like src/units/quantity.c lies in; None for a file in no room."""
    pieces = path.split('/')
    return pieces[1] if len(pieces) > 2 else None


def unknown_rooms(top):
    """Folders of src that are no room, and sources that lie in none."""
    src = os.path.join(top, 'src')
    odd = [f'src/{name}' for name in sorted(os.listdir(src))
           if os.path.isdir(os.path.join(src, name)) and name not in FLOORS]
    return odd + [path for path in sources(top) if room_of(path) is None]


def includes(top, pattern):
    """Yields (path, line number, what is included)."""
    for path in sources(top):
        for number, line in enumerate(house.lines_of(top, path), 1):
            match = pattern.match(line)
            if match:
                yield path, number, match[1]


def upward_includes(top):
    breaches = []
    for path, number, target in includes(top, OWN):
        here, there = room_of(path), target.split('/')[0]
        if here in FLOORS and FLOORS.get(there, 0) > FLOORS[here]:
            breaches.append(f'{path}:{number}: {here} (floor {FLOORS[here]}) includes {target} '
                            f'(floor {FLOORS[there]})')
    return breaches


def odd_includes(top):
    """Includes that do not name an existing file of a room as "room/file.h"."""
    breaches = []
    for path, number, target in includes(top, OWN):
        room = target.split('/')[0]
        if target in GENERATED:
            continue
        if room not in FLOORS or '..' in target:
            breaches.append(f'{path}:{number}: "{target}" is not written from src as "room/file.h"')
        elif not os.path.exists(os.path.join(top, 'src', target)) and not target.endswith('-resources.h'):
            breaches.append(f'{path}:{number}: there is no src/{target}')
    return breaches


def faces_including_each_other(top):
    return [f'{path}:{number}: {target}' for path, number, target in includes(top, OWN)
            if {room_of(path), target.split('/')[0]} == {'studio', 'command'}]


def toolkit_below_studio(top):
    return [f'{path}:{number}: <{target}>' for path, number, target in includes(top, SYSTEM)
            if TOOLKIT.match(target) and room_of(path) != 'studio']


def physics_io(top):
    """The physics are pure functions: no objects, files or streams."""
    pure = re.compile(r'^(stdio|gio/.*|glib-object|json-glib/.*|cairo.*|pango/.*)(\.h)?$')
    return [f'{path}:{number}: <{target}>' for path, number, target in includes(top, SYSTEM)
            if room_of(path) == 'physics' and pure.match(target)]


def functions_defined_twice(top):
    """The linker takes the first of two functions of one name in two libraries without a word."""
    homes = {}
    for path in sources(top):
        if not path.endswith('.c'):
            continue
        before = ''
        for number, line in enumerate(house.lines_of(top, path), 1):
            match = DEFINITION.match(line)
            if match and not before.startswith('static'):
                homes.setdefault(match[1], []).append(f'{path}:{number}')
            before = line
    return [f'{name}: {", ".join(places)}' for name, places in sorted(homes.items()) if len(places) > 1]


RULES = [
    ('every source lies in a room', unknown_rooms),
    ('no room includes a higher floor', upward_includes),
    ('own headers are included as "room/file.h"', odd_includes),
    ('studio and command do not include each other', faces_including_each_other),
    ('GTK and libadwaita are included in the studio alone', toolkit_below_studio),
    ('no function is defined twice', functions_defined_twice),
    ('physics includes neither objects nor input and output', physics_io),
]


def main():
    report = house.Report()
    for name, check in RULES:
        report.rule(name, check(house.TOP))
    return report.end()


if __name__ == '__main__':
    sys.exit(main())
