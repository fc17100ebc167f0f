#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Runs a test program in a language whose words are half as long again as the English ones.

    long_words.py SOURCES PROGRAM ARGUMENT...

Many languages need so much more room than English. The texts are those that translators get, each with more letters;
what is between letters, such as formats and marks for keys, stays.
"""
import os
import re
import subprocess
import sys
import tempfile

LANGUAGE = 'de'    # any that the toolkit knows, for its own words are long then too
LONGER = 1.5
HEADER = 'msgid ""\nmsgstr "Content-Type: text/plain; charset=UTF-8\\nPlural-Forms: nplurals=2; plural=(n != 1);\\n"\n\n'
KEPT = re.compile(r'(%[-+ 0#]*[0-9*]*(?:\.[0-9*]+)?[a-z]*|\\.|<[^>]*>)')


def lengthen(text):
    """The words of a text, each with as many more of its letters; what is no word stays."""
    def longer(word):
        letters = word.group(0)
        return letters + letters[-1] * round(len(letters) * (LONGER - 1))

    return ''.join(part if KEPT.fullmatch(part) else re.sub(r'[A-Za-z]{3,}', longer, part)
                   for part in KEPT.split(text) if part)


def translate(catalogue):
    """A catalogue whose translations repeat the English texts, with longer ones."""
    lines, translation = [], False
    for line in catalogue.split('\n\n', 1)[1].splitlines():
        translation = line.startswith('msgstr') or translation and line.startswith('"')
        start, quote, text = line.partition('"')
        lines.append(start + quote + lengthen(text) if translation else line)
    return HEADER + '\n'.join(lines) + '\n'


def main(sources, *command):
    with tempfile.TemporaryDirectory() as folder:
        words = os.path.join(folder, 'words.po')
        place = os.path.join(folder, LANGUAGE, 'LC_MESSAGES')
        subprocess.run(['xgettext', '--from-code=UTF-8', '--keyword=_', '--keyword=N_', '--keyword=C_:1c,2',
                        '--output', words, '--files-from=po/POTFILES.in'], cwd=sources, check=True)
        repeated = subprocess.run(['msgen', words], stdout=subprocess.PIPE, check=True, text=True).stdout
        with open(words, 'w', encoding='utf-8') as file:
            file.write(translate(repeated))
        os.makedirs(place)
        subprocess.run(['msgfmt', '--output-file', os.path.join(place, 'nappe.mo'), words], check=True)
        environment = dict(os.environ, LANGUAGE=LANGUAGE, NAPPE_LOCALE_DIR=folder)
        return subprocess.run(command, env=environment, check=False).returncode


if __name__ == '__main__':
    sys.exit(main(*sys.argv[1:]))
