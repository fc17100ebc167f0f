#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""The handbook's hand calculation, worked out anew line by line and held against the command.

    test_hand_calculation.py HAND-CALCULATION NAPPE DEMO

Lines between fences are "name = number unit" or "name = formula = number unit". A formula sees the numbers as they
are printed above it, as a person with a calculator does. The table at the end names members of `nappe check --json`.
"""
import json
import math
import re
import subprocess
import sys

LINE = re.compile(r'^(\w+) = (?:(.+) = )?([-+.\de/]+)(?: [\w/]+)?$')
ROW = re.compile(r'^\| `([^`]+)` = ([-+.\d]+)(?: [\w/]+)? \| `([^`]+)` \|$')
FUNCTIONS = {'pi': math.pi, 'sqrt': math.sqrt, 'lg': math.log10}


def last_digit(printed):
    """What one in the last printed place is worth."""
    digits, _, power = printed.partition('e')
    places = len(digits.partition('.')[2])
    return 10.0 ** (int(power or 0) - places)


def value(formula, known):
    assert re.fullmatch(r'[\w\s.+\-*/^()]+', formula), formula
    return eval(formula.replace('^', '**'), {'__builtins__': {}}, {**FUNCTIONS, **known})


def lines_between_fences(text):
    inside = False
    for line in text.splitlines():
        if line.startswith('```'):
            inside = not inside
        elif inside:
            yield line


def work_out(text):
    """Every named number as printed, and the lines whose formula gives another one."""
    known, wrong = {}, []
    for line in lines_between_fences(text):
        match = LINE.match(line)
        if not match:
            wrong.append(f'cannot be read: {line}')
            continue
        name, formula, printed = match.groups()
        if formula is not None:
            found = value(formula, known)
            # A person rounds the last figure, and the last but one of long numbers ends in noughts that are left out.
            if abs(found - float(printed)) > 0.51 * max(last_digit(printed), 1e-7 * abs(found)):
                wrong.append(f'{line}: it is {found:.9g}')
        known[name] = float(printed)
    return known, wrong


def member(found, path):
    """Looks up "drains.standpipe.froude": a list's item by its id, or by its number."""
    for step in path.split('.'):
        if isinstance(found, list):
            found = found[int(step)] if step.isdigit() else next(item for item in found if item['id'] == step)
        else:
            found = found[step]
    return found


def compare(text, known, found):
    rows = [match.groups() for match in map(ROW.match, text.splitlines()) if match]
    wrong = [] if len(rows) >= 10 else [f'only {len(rows)} rows to compare']
    for formula, printed, path in rows:
        places = len(printed.partition('.')[2])
        by_hand, theirs = value(formula, known), member(found, path)
        if f'{by_hand:.{places}f}' != printed:
            wrong.append(f'{formula}: {by_hand:.9g} is printed as {printed}')
        if f'{theirs:.{places}f}' != printed:
            wrong.append(f'{path}: {theirs:.9g} instead of {printed}')
    return wrong


def agree(known, one, other, share):
    difference = abs(known[one] / known[other] - 1)
    return [] if difference <= share else [f'{one} and {other} differ by {difference:.2g}']


def main():
    paper, command, demo = sys.argv[1:4]
    with open(paper, encoding='utf-8') as file:
        text = file.read()
    done = subprocess.run([command, 'check', '--json', demo], capture_output=True, check=False, timeout=60)
    known, wrong = work_out(text)
    trials = (agree(known, 'zneeded', 'zdisplay', 2e-5) + agree(known, 'Qweir', 'Q', 2e-5)
              + agree(known, 'Q3', 'Q', 2e-5) + agree(known, 'Q1', 'Q', 2e-5))
    rules = [('each line is worked out right', wrong),
             ('each trial is met', trials),
             ('the command agrees to the last figure', compare(text, known, json.loads(done.stdout)))]
    print(f'1..{len(rules)}')
    for number, (name, breaches) in enumerate(rules, 1):
        print(f'{"not ok" if breaches else "ok"} {number} - {name}')
        for breach in breaches:
            print(f'# {breach}')
    return 1 if any(breaches for _, breaches in rules) else 0


if __name__ == '__main__':
    sys.exit(main())
