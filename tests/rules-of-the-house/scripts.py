#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""The scripts that install, build and count do what they say."""
import json
import os
import subprocess
import sys
import tempfile

import house

SCRIPTS = ['src/run.sh', 'src/packages.sh', 'tests/run.sh']


def syntax(top):
    breaches = []
    for path in SCRIPTS:
        breaches += house.complaint(['sh', '-n', os.path.join(top, path)])
    breaches += house.complaint(['bash', '-n', os.path.join(top, '.ci/run')])
    if not os.access(os.path.join(top, '.ci/run'), os.X_OK):
        breaches.append('.ci/run cannot be executed')
    return breaches


def shellcheck(top):
    breaches = []
    for path in SCRIPTS:
        breaches += house.complaint(['shellcheck', '-x', '-s', 'sh', path], cwd=top)
    return breaches + house.complaint(['shellcheck', '.ci/run'], cwd=top)


def with_stubs(top, stubs, script):
    """Runs a piece of shell, strict as in src/run.sh, with the commands in stubs replaced.

    Returns (exit status, output and errors together)."""
    with tempfile.TemporaryDirectory() as folder:
        for name, body in stubs.items():
            path = os.path.join(folder, name)
            with open(path, 'w', encoding='utf-8') as file:
                file.write('#!/bin/sh\n' + body + '\n')
            os.chmod(path, 0o755)
        done = subprocess.run(['sh', '-c', f'set -eu\n. "$1/src/packages.sh"\n{script}', 'sh', top],
                              env={'PATH': f'{folder}:/usr/bin:/bin', 'FOLDER': folder}, text=True,
                              stdin=subprocess.DEVNULL, stdout=subprocess.PIPE, stderr=subprocess.STDOUT,
                              check=False)
        return done.returncode, done.stdout


HAS_ONE = 'case "$*" in *" one") echo installed ;; *) echo not-installed; exit 1 ;; esac'


def nothing_missing(top):
    status, said = with_stubs(top, {'dpkg-query': 'echo installed', 'apt-get': 'echo called; exit 1'},
                              'install_packages one two')
    return [] if (status, said) == (0, '') else [f'status {status}: {said}']


def no_way_to_root(top):
    """Neither root nor sudo: the missing packages and the exact line are named, and it fails."""
    status, said = with_stubs(top, {'dpkg-query': HAS_ONE, 'id': 'echo 1000', 'sudo': 'exit 1',
                                    'apt-get': 'echo called'}, 'install_packages one two three')
    breaches = [] if status == 1 else [f'status {status}']
    if 'apt-get update && apt-get install -y --no-install-recommends two three\n' not in said:
        breaches.append(f'the line to type is missing from: {said}')
    if 'called' in said:
        breaches.append('apt-get was called')
    return breaches


def as_root(top):
    """As root, what is missing and only that is installed, without asking."""
    status, said = with_stubs(top, {'dpkg-query': HAS_ONE, 'id': 'echo 0',
                                    'apt-get': 'echo "$DEBIAN_FRONTEND $*" >>"$FOLDER/calls"'},
                              'install_packages one two three && cat "$FOLDER/calls"')
    calls = [line for line in said.splitlines() if line.startswith('noninteractive')]
    if status == 0 and len(calls) == 2 and calls[0].endswith(' update') and \
            calls[1].endswith(' install --no-install-recommends two three') and ' -y ' in calls[1]:
        return []
    return [f'status {status}: {said}']


def through_sudo(top):
    status, said = with_stubs(top, {'dpkg-query': HAS_ONE, 'id': 'echo 1000',
                                    'sudo': 'echo "sudo $*" >>"$FOLDER/calls"'},
                              'install_packages one two && cat "$FOLDER/calls"')
    return [] if status == 0 and said.count('apt-get') == 2 else [f'status {status}: {said}']


def failing_install(top):
    """A failing apt-get is tried again, its last words are shown each time, and it fails in the end."""
    breaches = []
    for works, tries in [('nothing', 4), ('update', 2)]:
        status, said = with_stubs(top, {'dpkg-query': HAS_ONE, 'id': 'echo 0', 'sleep': '',
                                        'apt-get': f'case "$*" in *" {works}") ;; *) echo "E: no network"; exit 9 ;; esac'},
                                  'install_packages one two')
        if status == 0 or said.count('E: no network') != tries:
            breaches.append(f'where {works} works: status {status}: {said}')
    return breaches


def tap(name, out, result='OK', code=0):
    return {'name': name, 'stdout': out, 'result': result, 'returncode': code}


CASES = [
    ('all pass', [tap('a', 'ok 1 x\nok 2 y\n1..2\n')], [], '2 passed, 0 failed', 0),
    ('one fails', [tap('a', 'ok 1 x\nnot ok 2 y\n1..2\n', 'ERROR', 1)], [], '1 passed, 1 failed', 1),
    ('skips count as neither', [tap('a', '1..2\nok 1 x # SKIP no\nok 2 y\n')], [], '1 passed, 0 failed', 0),
    ('crash before the plan is fulfilled', [tap('a', '1..3\nok 1 x\n', 'ERROR', -11)], [], '1 passed, 1 failed', 1),
    ('failure, then a crash', [tap('a', '1..4\nok 1 x\nnot ok 2 y\n', 'ERROR', -6)], [], '1 passed, 2 failed', 1),
    ('leak found after the last test', [tap('a', '1..1\nok 1 x\n', 'ERROR', 1)], [], '1 passed, 1 failed', 1),
    ('program without TAP', [tap('a', 'hello\n'), tap('b', '', 'FAIL', 1)], [], '1 passed, 1 failed', 1),
    ('out of time', [tap('a', '', 'TIMEOUT', -15)], [], '0 passed, 1 failed', 1),
    ('build broken', [tap('a', 'ok 1 x\n1..1\n')], ['the build'], '1 passed, 1 failed', 1),
    ('nothing ran', [], [], '0 passed, 1 failed', 1),
]


def counting(top):
    breaches = []
    for name, tests, broken, line, status in CASES:
        with tempfile.TemporaryDirectory() as folder:
            log, lines = os.path.join(folder, 'testlog.json'), os.path.join(folder, 'broken')
            with open(log, 'w', encoding='utf-8') as file:
                file.writelines(json.dumps(test) + '\n' for test in tests)
            with open(lines, 'w', encoding='utf-8') as file:
                file.writelines(text + '\n' for text in broken)
            done = subprocess.run([sys.executable, os.path.join(top, 'tests/summary.py'), '--broken', lines, log],
                                  stdout=subprocess.PIPE, text=True, check=False)
        if done.stdout.splitlines()[-1:] != [line] or done.returncode != status:
            breaches.append(f'{name}: wanted {line!r} and {status}, got {done.stdout!r} and {done.returncode}')
    return breaches


def main():
    top, report = house.TOP, house.Report()
    report.rule('the shell accepts the scripts', syntax(top))
    if house.have('shellcheck'):
        report.rule('shellcheck has nothing to say', shellcheck(top))
    else:
        report.skip('shellcheck has nothing to say', 'shellcheck is not installed')
    report.rule('apt-get stays untouched when nothing is missing', nothing_missing(top))
    report.rule('without root and sudo the line to type is shown', no_way_to_root(top))
    report.rule('root installs what is missing', as_root(top))
    report.rule('sudo is used where it works', through_sudo(top))
    report.rule('an install that fails is reported', failing_install(top))
    report.rule('the closing line counts right', counting(top))
    return report.end()


if __name__ == '__main__':
    sys.exit(main())
