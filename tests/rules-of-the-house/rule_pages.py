#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Every rule has its page, example and cases, and the table of all rules is what the sources say.

    rule_pages.py            TAP
    rule_pages.py --write    writes the table, data/handbook/rules/README.md, anew
"""
import json
import os
import re
import sys

import house

PAGES = os.path.join('data', 'handbook', 'rules')
CASES = os.path.join('tests', 'rules', 'cases')
TABLE = os.path.join(PAGES, 'README.md')
HEADINGS = ['What it means', 'Why it matters', 'Where the limit comes from', 'How to put it right']
STRING = r'"(?:[^"\\]|\\.)*"'
STRINGS = rf'{STRING}(?:\s*{STRING})*'
ROW = re.compile(rf'\{{\s*"([a-z0-9-]+)",\s*N_\s*\(({STRINGS})\),\s*N_\s*\(({STRINGS})\),\s*(nappe_rule_\w+)')
LIMIT = re.compile(rf'\[NAPPE_LIMIT_(\w+)\]\s*=\s*\{{\s*"([a-z0-9-]+)",\s*([^,]+),\s*NAPPE_QUANTITY_(\w+)')
FUNCTION = re.compile(r'^(\w+) \([^;{]*\)\n\{\n(.*?)^\}', re.M | re.S)
DEFINE = re.compile(r'^#define (\w+) \(?([-0-9.e /*+()]+)\)?\s*(?:/\*.*)?$', re.M)
# From SI to what people read.
SHOWN = {'LENGTH': (1000, ' mm'), 'SHARE': (100, ' %'), 'VOLUME': (1000, ' L'), 'FLOW': (3.6e6, ' L/h'),
         'SPEED': (1, ' m/s'), 'HEAD': (1, ' m'), 'TEMPERATURE': (1, ' °C'), 'SALINITY': (1, ' g/kg'), 'RATE': (3600, ' /h'),
         'DURATION': (1, ' s'), 'PRESSURE': (1e-3, ' kPa'), 'POWER': (1, ' W'), 'ANGLE': (1, '°'), 'VOLTAGE': (1, ' V'),
         'MASS': (1, ' kg')}


def joined(strings):
    """The text of C string literals that stand one after another."""
    return ''.join(json.loads(piece) for piece in re.findall(STRING, strings))


def rules(top):
    """(id, title, source, function) of every row of the table."""
    path = os.path.join('src', 'rules', 'rules.c')
    if not os.path.exists(os.path.join(top, path)):
        return []
    return [(row[0], joined(row[1]), joined(row[2]), row[3]) for row in ROW.findall(house.text_of(top, path))]


def limits(top):
    """Text of every limit by its name in C, "film-thin 3 mm"."""
    text = house.text_of(top, os.path.join('src', 'rules', 'rule-limits.c'))
    known = {}
    for path in house.files(top, *(os.path.join('src', room) for room in ('physics', 'catalogue', 'rules')), endings=('.h', '.c')):
        known.update(dict(DEFINE.findall(house.text_of(top, path))))
    found = {}
    for constant, name, value, quantity in LIMIT.findall(text):
        value = known.get(value.strip(), value)
        if not re.fullmatch(r'[-0-9.e /*+()]+', value):
            found[constant] = name
            continue
        factor, unit = SHOWN.get(quantity, (1, ''))
        found[constant] = f'{name} {eval(value) * factor:.5g}{unit}'  # digits and operators alone
    return found


def consulted(top):
    """The limits that each rule's function, and the functions of its file that it calls, look at."""
    uses = {}
    for path in house.files(top, os.path.join('src', 'rules'), endings=('.c',)):
        bodies = dict(FUNCTION.findall(house.text_of(top, path)))

        def gather(name, seen):
            if name in seen:
                return set()
            seen.add(name)
            found = set(re.findall(r'NAPPE_LIMIT_(\w+)', bodies[name]))
            # Called, or handed over to be called.
            for called in set(re.findall(r'\b[a-z]\w+\b', bodies[name])) & set(bodies):
                found |= gather(called, seen)
            return found
        for name in bodies:
            uses[name] = gather(name, set())
    return uses


def cases_of(top, rule):
    path = os.path.join(top, CASES, f'{rule}.json')
    if not os.path.exists(path):
        return {}
    with open(path, encoding='utf-8') as file:
        return json.load(file)


def tests_of(top, rule):
    cases = cases_of(top, rule)
    counts = [f'{len(cases[kind])} {word}' for kind, word in
              [('trips', 'trip'), ('keeps', 'keep'), ('idle', 'idle'), ('reads', 'read')] if cases.get(kind)]
    others = [os.path.basename(path) for path in house.files(top, os.path.join('tests', 'rules'), endings=('.c',))
              if not path.endswith('test-engine.c') and f'"{rule}"' in house.text_of(top, path)]
    return '; '.join(filter(None, [', '.join(counts), ', '.join(others)]))


def table_text(top):
    shown, uses = limits(top), consulted(top)
    lines = ['# The rules', '',
             'What every build is checked against: each rule with its page, its basis, its limits as they stand',
             'without a change in the build, and its tests. Cases are variations of a sound build that trip the rule,',
             'that just keep it, that give it nothing to look at, and that prove what it reads; the rest are the',
             'files of `tests/rules/` that name it alone. The house rule `rule_pages.py` writes this table.',
             '',
             '| rule | holds when all is fine | basis | limits | tests |', '| --- | --- | --- | --- | --- |']
    for rule, title, source, function in rules(top):
        held = ', '.join(sorted(shown[name] for name in uses.get(function, ()) if name in shown))
        lines.append(f'| [{rule}]({rule}.md) | {title} | {source} | {held} | {tests_of(top, rule)} |')
    return '\n'.join(lines) + '\n'


def missing_pages(top):
    breaches = []
    for rule, title, _, _ in rules(top):
        for path in [f'{PAGES}/{rule}.md', f'{PAGES}/{rule}.json', f'{CASES}/{rule}.json']:
            if not os.path.exists(os.path.join(top, path)):
                breaches.append(f'{path} is missing')
        page = os.path.join(PAGES, f'{rule}.md')
        if not os.path.exists(os.path.join(top, page)):
            continue
        lines = house.lines_of(top, page)
        if not lines or lines[0] != f'# {title}':
            breaches.append(f'{page}: its title is not “{title}”')
        headings = [line[3:] for line in lines if line.startswith('## ')]
        if headings != HEADINGS:
            breaches.append(f'{page}: sections are {headings}')
    return breaches


def strayed_pages(top):
    """Pages, examples and cases of no rule."""
    known = {rule for rule, *_ in rules(top)} | {'README'}
    return [path for path in house.files(top, PAGES, CASES, endings=('.md', '.json'))
            if os.path.splitext(os.path.basename(path))[0] not in known]


def untested_rules(top):
    """What is always said has no case that keeps it, and says so."""
    breaches = []
    for rule, *_ in rules(top):
        cases = cases_of(top, rule)
        breaches += [f'{rule}: no case that {kind}' for kind in ['trips', 'keeps', 'reads']
                     if not cases.get(kind) and not (kind == 'keeps' and cases.get('always'))]
    return breaches


def stale_table(top):
    if not rules(top):
        return []
    if os.path.exists(os.path.join(top, TABLE)) and house.text_of(top, TABLE) == table_text(top):
        return []
    return [f'{TABLE} is not what the sources say; rule_pages.py --write mends it']


RULES = [
    ('every rule has a page, an example and cases', missing_pages),
    ('every page is of a rule', strayed_pages),
    ('every rule has cases that trip it, keep it and show what it reads', untested_rules),
    ('the table of rules is what the sources say', stale_table),
]


def main():
    if sys.argv[1:] == ['--write']:
        with open(os.path.join(house.TOP, TABLE), 'w', encoding='utf-8') as file:
            file.write(table_text(house.TOP))
        return 0
    report = house.Report()
    for name, check in RULES:
        report.rule(name, check(house.TOP))
    return report.end()


if __name__ == '__main__':
    sys.exit(main())
