#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""The manual page and the program's own help speak of the same commands and options.

    manual.py NAPPE    NAPPE is the command that was built
"""
import re
import subprocess
import sys

import house

PAGE = 'data/man/nappe.1'
LONG = re.compile(r'--[a-z][a-z-]*')


def said_by(command, *words):
    return subprocess.run([command, *words], stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True,
                          check=True).stdout


def page_text():
    """The source of the page without roff's dashes and fonts."""
    return re.sub(r'\\f[BIRP]', '', house.text_of(house.TOP, PAGE)).replace('\\-', '-')


def section(page, title):
    match = re.search(rf'^\.SH {title}\n(.*?)(?=^\.SH |\Z)', page, re.M | re.S)
    return match[1] if match else ''


def options(command, name):
    return set(LONG.findall(said_by(command, 'help', name))) - {'--help', '--help-all'}


def main():
    command, page, report = sys.argv[1], page_text(), house.Report()
    names = re.findall(r'^  ([a-z-]+)  ', said_by(command, 'help'), re.M)
    report.rule('the help names the commands', [] if {'check', 'export', 'help'} <= set(names) else [str(names)])
    report.rule('the page names every command', [name for name in names if f'nappe {name}' not in page])
    for name in names:
        part = section(page, name.upper())
        if name == 'help' or not options(command, name):
            continue
        told, described = options(command, name), set(LONG.findall(part))
        report.rule(f'the page describes the options of {name}',
                    [f'not on the page: {option}' for option in sorted(told - described)]
                    + [f'not an option: {option}' for option in sorted(described - told)])
    return report.end()


if __name__ == '__main__':
    sys.exit(main())
