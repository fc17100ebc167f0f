#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""The handbook points only at code and tests that are there."""
import os
import re
import sys

import house

HANDBOOK = os.path.join('data', 'handbook')
TRAPS = os.path.join(HANDBOOK, 'traps.md')
POINTS = 36
HEADING = re.compile(r'^## (\d+)\. \S', re.M)
QUOTED = re.compile(r'`([^`]+)`')


def pages(top):
    return house.files(top, HANDBOOK, endings=('.md',))


def missing_files(top):
    """What is written like a path of the checkout must be one."""
    path = re.compile(r'`((?:src|tests|data)/[^`]*)`')
    return [f'{page}: {name}' for page in pages(top) for name in path.findall(house.text_of(top, page))
            if not os.path.exists(os.path.join(top, name))]


def missing_tests(top):
    """Each name after a test's file, up to the next file, stands in that file."""
    breaches = []
    for page in pages(top):
        for line in house.lines_of(top, page):
            if not line.startswith('Test: '):
                continue
            text = ''
            for name in QUOTED.findall(line):
                if name.startswith('tests/'):
                    full = os.path.join(top, name)
                    text = house.text_of(top, name) if os.path.isfile(full) else ''
                elif name not in text:
                    breaches.append(f'{page}: no {name} in the test before it')
    return breaches


def incomplete_points(top):
    """Every point once, in order, with code and a test by name."""
    if not os.path.exists(os.path.join(top, TRAPS)):
        return [f'{TRAPS} is missing']
    text = house.text_of(top, TRAPS)
    numbers = [int(number) for number in HEADING.findall(text)]
    breaches = [] if numbers == list(range(1, POINTS + 1)) else [f'points are {numbers}']
    for part in re.split(r'^## ', text, flags=re.M)[1:]:
        title = part.splitlines()[0]
        code = re.search(r'^Code: .*`(src|data)/', part, re.M)
        test = re.search(r'^Test: `tests/[^`]+` `[^`]+`', part, re.M)
        if not code or not test:
            breaches.append(f'{title}: no code or no test')
    return breaches


def dead_links(top):
    link = re.compile(r'\]\((?![a-z]+:|#)([^)#]+)')
    return [f'{page}: {target}' for page in pages(top) for target in link.findall(house.text_of(top, page))
            if not os.path.exists(os.path.join(top, os.path.dirname(page), target))]


RULES = [
    ('the handbook names files that are there', missing_files),
    ('the handbook names tests that are there', missing_tests),
    (f'each of the {POINTS} traps has code and a test', incomplete_points),
    ('the handbook has no dead links', dead_links),
]


def main():
    report = house.Report()
    for name, check in RULES:
        report.rule(name, check(house.TOP))
    return report.end()


if __name__ == '__main__':
    sys.exit(main())
