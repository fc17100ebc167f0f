#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Every file says its licence, can be read in one sitting, and has a name and a place."""
import os
import re
import sys

import house

TOP_LEVEL = {'README.md', 'DEVELOPERS.md', 'LICENSE', 'meson.build', 'src', 'ui', 'data', 'po',
             'tests', 'flatpak'}
ROOMS_OF_FILES = ('src', 'ui', 'data', 'po', 'tests', 'flatpak', '.ci')
LICENCE = 'SPDX-License-Identifier: GPL-3.0-or-later'
# JSON, CSV, pictures, papers and build files have no place for a comment.
CARRY_LICENCE = ('.c', '.h', '.py', '.sh', '.ui', '.css', '.svg', '.xml', '.in', '.1', '.blp',
                 'meson.build', '.po', 'LINGUAS', 'POTFILES.in')
PROGRAM = ('.c', '.h', '.py', '.sh', '.ui', '.css', 'meson.build')
LONGEST = 600
WIDEST = 130
# Written in two halves so that this file does not find itself.
LEFT_OVER = re.compile(r'\b(' + '|'.join(['TO' + 'DO', 'FIX' + 'ME', 'XX' + 'X', 'HA' + 'CK']) + r')\b')
NAME = re.compile(r'^[a-z0-9]+([-.][a-z0-9]+)*\.[ch]$')


def top_level(top):
    """A name that starts with a point, or that git ignores (b* and build), is nobody's business."""
    ignored = re.compile(r'^(\..*|b.*)$')
    odd = [name for name in sorted(os.listdir(top)) if name not in TOP_LEVEL
           and not (ignored.match(name) and (name.startswith('.') or os.path.isdir(os.path.join(top, name))))]
    missing = [f'missing: {name}' for name in sorted(TOP_LEVEL - {'ui'})
               if not os.path.exists(os.path.join(top, name))]
    return odd + missing


def without_licence(top):
    breaches = []
    for path in house.files(top, *ROOMS_OF_FILES, endings=CARRY_LICENCE):
        lines = house.lines_of(top, path)
        if path.endswith(('.c', '.h')):
            if lines[:1] != [f'/* {LICENCE} */']:
                breaches.append(f'{path}: the first line is not the licence')
        elif not any(LICENCE in line for line in lines[:4]):
            breaches.append(f'{path}: no licence in the first lines')
    return breaches


def too_long(top):
    return [f'{path}: {count} lines' for path in house.files(top, 'src', 'ui', 'tests', endings=PROGRAM)
            if (count := len(house.lines_of(top, path))) > LONGEST]


def too_wide(top):
    return [f'{path}:{number}: {len(line)} columns' for path in house.files(top, 'src', 'tests', endings=('.c', '.h'))
            for number, line in enumerate(house.lines_of(top, path), 1) if len(line) > WIDEST]


def left_over_marks(top):
    breaches = []
    for path in house.files(top, 'src', 'ui', 'data', 'tests', 'flatpak', '.ci',
                            endings=CARRY_LICENCE + ('.json', '.csv', '.nappe')):
        breaches += [f'{path}:{number}: {line.strip()}'
                     for number, line in enumerate(house.lines_of(top, path), 1) if LEFT_OVER.search(line)]
    return breaches


def odd_names(top):
    return [path for path in house.files(top, 'src', 'tests', endings=('.c', '.h'))
            if not NAME.match(os.path.basename(path))]


def unguarded_headers(top):
    return [path for path in house.files(top, 'src', endings=('.h',))
            if not re.search(r'^\s*#\s*pragma once|^\s*#\s*ifndef NAPPE_', house.text_of(top, path), re.M)]


def not_clean_text(top):
    """Program text is UTF-8 with plain line ends, no blanks at line ends, and a last newline."""
    breaches = []
    for path in house.files(top, 'src', 'ui', 'tests', endings=PROGRAM):
        with open(os.path.join(top, path), 'rb') as file:
            raw = file.read()
        try:
            raw.decode('utf-8')
        except UnicodeDecodeError as error:
            breaches.append(f'{path}: {error}')
        if b'\r' in raw:
            breaches.append(f'{path}: carriage returns')
        if raw and not raw.endswith(b'\n'):
            breaches.append(f'{path}: no newline at the end')
        breaches += [f'{path}:{number}: blanks at the end of the line'
                     for number, line in enumerate(raw.split(b'\n'), 1) if line != line.rstrip(b' \t')]
    return breaches


def dead_links(top):
    """Papers point only at files that are there."""
    link = re.compile(r'\]\((?![a-z]+:|#)([^)#]+)')
    return [f'{path}: {target}' for path in ('README.md', 'DEVELOPERS.md')
            if os.path.exists(os.path.join(top, path))
            for target in link.findall(house.text_of(top, path))
            if not os.path.exists(os.path.join(top, target))]


RULES = [
    ('the top level holds what it should', top_level),
    ('every file that can says its licence', without_licence),
    (f'no file is longer than {LONGEST} lines', too_long),
    (f'no line is wider than {WIDEST} columns', too_wide),
    ('nothing is left over to be done', left_over_marks),
    ('file names are lower case with dashes', odd_names),
    ('headers guard against being included twice', unguarded_headers),
    ('program text is clean', not_clean_text),
    ('the papers have no dead links', dead_links),
]


def main():
    report = house.Report()
    for name, check in RULES:
        report.rule(name, check(house.TOP))
    return report.end()


if __name__ == '__main__':
    sys.exit(main())
