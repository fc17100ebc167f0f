#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Every text for people reaches the translators, and what they send back is sound.

    translations.py            the tests
    translations.py --write    writes po/POTFILES.in anew from the sources
"""
import os
import re
import sys
import tempfile

import house

HEADER = ['# SPDX-License-Identifier: GPL-3.0-or-later',
          '# Every file with text to translate; rewritten by',
          '#   python3 tests/rules-of-the-house/translations.py --write']
MARKED = re.compile(r'(?<![A-Za-z0-9_])(_|N_|C_|NC_|Q_|ngettext|g_dngettext|g_dpgettext2?|gettext)\s*\(')
COMMENT_OR_DEFINE = re.compile(r'/\*.*?\*/|//[^\n]*|^\s*#\s*define[^\n]*', re.S | re.M)
KEYWORDS = ['--keyword=_', '--keyword=N_', '--keyword=C_:1c,2', '--keyword=NC_:1c,2',
            '--keyword=ngettext:1,2', '--keyword=g_dngettext:2,3', '--keyword=g_dpgettext2:2c,3']


def has_text(top, path):
    text = house.text_of(top, path)
    if path.endswith('.ui'):
        return 'translatable="yes"' in text
    if path.endswith('.in'):
        return True
    return MARKED.search(COMMENT_OR_DEFINE.sub('', text)) is not None


def with_text(top):
    """The files that hold text to translate, in the order of po/POTFILES.in."""
    candidates = house.files(top, 'src', 'ui', endings=('.c', '.h', '.ui'))
    candidates += [path for path in house.files(top, 'data', endings=('.desktop.in', '.xml.in'))]
    return sorted(path for path in candidates if has_text(top, path))


def listed(top):
    return [line for line in house.lines_of(top, 'po/POTFILES.in') if line and not line.startswith('#')]


def potfiles(top):
    wanted, present = with_text(top), listed(top)
    breaches = [f'missing from po/POTFILES.in: {path}' for path in wanted if path not in present]
    breaches += [f'no text to translate in: {path}' for path in present if path not in wanted]
    if not breaches and wanted != present:
        breaches.append('po/POTFILES.in is not in alphabetical order')
    return breaches + (['translations.py --write mends it'] if breaches else [])


def write_potfiles(top):
    with open(os.path.join(top, 'po/POTFILES.in'), 'w', encoding='utf-8') as file:
        file.write('\n'.join(HEADER + with_text(top)) + '\n')


def languages(top):
    words = []
    for line in house.lines_of(top, 'po/LINGUAS'):
        words += line.split('#')[0].split()
    return words


def linguas(top):
    named = languages(top)
    there = [os.path.basename(path)[:-3] for path in house.files(top, 'po', endings=('.po',))]
    breaches = [f'po/{name}.po is missing' for name in named if name not in there]
    breaches += [f'po/LINGUAS does not name {name}' for name in there if name not in named]
    return breaches + ([] if named == sorted(named) else ['po/LINGUAS is not in alphabetical order'])


def xgettext(top):
    """Extracting the texts gives no warning, such as a format translators cannot reorder."""
    with tempfile.TemporaryDirectory() as folder:
        return house.complaint(['xgettext', '--from-code=UTF-8', '--add-comments=Translators:',
                                '--output', os.path.join(folder, 'nappe.pot'),
                                '--files-from=po/POTFILES.in'] + KEYWORDS, silent=True, cwd=top)


def msgfmt(top):
    breaches = []
    for name in languages(top):
        breaches += house.complaint(['msgfmt', '--check', '--output-file=/dev/null', f'po/{name}.po'],
                                    silent=True, cwd=top)
    return breaches


def code_in_texts(top):
    """A name of the code in a text comes from replacing too much."""
    text = re.compile(r'\bN?_ ?\(\s*((?:"(?:[^"\\]|\\.)*"\s*)+)')
    name = re.compile(r'\b(?:Nappe[A-Z]|nappe_[a-z]|NAPPE_[A-Z])\w*')
    return [f'{path}: {found[0]}' for path in house.files(top, 'src', endings=('.c', '.h'))
            for piece in text.findall(house.text_of(top, path)) for found in [name.search(piece)]
            if found]


RULES = [
    ('po/POTFILES.in lists every file with text to translate', potfiles),
    ('po/LINGUAS names every translation', linguas),
    ('the texts can be extracted without a warning', xgettext),
    ('every translation passes msgfmt --check', msgfmt),
    ('no text for people holds a name of the code', code_in_texts),
]


def main():
    if sys.argv[1:] == ['--write']:
        write_potfiles(house.TOP)
        return 0
    report = house.Report()
    for name, check in RULES:
        report.rule(name, check(house.TOP))
    return report.end()


if __name__ == '__main__':
    sys.exit(main())
