#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""`nappe cure` and `nappe rules` as built, on real files. Argument: the command. Speaks TAP."""
import json
import os
import re
import subprocess
import sys
import tempfile

COMMAND = os.path.abspath(sys.argv[1]) if len(sys.argv) > 1 else ''
DEMOS = os.path.join(os.environ.get('NAPPE_DATA_DIR', ''), 'demos')
FINE, PROBLEM, DANGER, FILE, USAGE = 0, 1, 2, 3, 64


def demo(name):
    return os.path.join(DEMOS, name + '.nappe')


def run(*arguments):
    return subprocess.run([COMMAND, *arguments], stdout=subprocess.PIPE, stderr=subprocess.PIPE, check=False, timeout=300)


def cures(name, *options):
    return json.loads(run('cure', '--json', *options, demo(name)).stdout)


def findings(path, *options):
    return json.loads(run('check', '--json', *options, path).stdout)['findings']


def members(node, key='', owner=None):
    """(id, member, value) of everything in a build file that has an id."""
    if isinstance(node, dict):
        owner = node.get('id', key)
        for name, value in node.items():
            if isinstance(value, (dict, list)):
                yield from members(value, name, owner)
            else:
                yield owner, name, value
    elif isinstance(node, list):
        for part in node:
            yield from members(part, '', owner)


def every_cure_of_the_flooding_demo():
    """One after another, the cures offered end in a build with no danger, and are all told."""
    with tempfile.TemporaryDirectory() as folder:
        cured = os.path.join(folder, 'cured.nappe')
        done = run('cure', '--every', '--output', cured, demo('single-drain'))
        assert done.returncode in (FINE, PROBLEM), done
        assert not [finding for finding in findings(cured) if finding['severity'] == 'danger']
        assert done.stdout.decode().count('The whole build before:') >= 2
    assert [finding for finding in findings(demo('single-drain')) if finding['severity'] == 'danger']


def a_cure_changes_what_it_says():
    """The file written differs from the one read in the values told, and in no other."""
    listed = cures('two-drain', '--quick')
    offered = next(finding for finding in listed if finding['cures'])
    changes = offered['cures'][0]['changes']
    with tempfile.TemporaryDirectory() as folder:
        cured = os.path.join(folder, 'cured.nappe')
        done = run('cure', '--quick', '--apply', f'{offered["number"]}.1', '--output', cured, demo('two-drain'))
        assert done.stderr == b'', done.stderr
        with open(cured, encoding='utf-8') as after, open(demo('two-drain'), encoding='utf-8') as before:
            different = set(members(json.load(after))) ^ set(members(json.load(before)))
        assert {part for part, *_ in different} == {change['part'] for change in changes}, (different, changes)
        left = [finding for finding in findings(cured, '--quick')
                if (finding['rule'], finding['part']) == (offered['rule'], offered['part'])]
        assert not left, left


def cures_are_listed():
    listed = cures('single-drain', '--quick')
    assert [finding['number'] for finding in listed] == list(range(1, len(listed) + 1))
    assert len(cures('single-drain', '--quick', '--finding', '1')) == 1
    text = run('cure', '--quick', demo('single-drain')).stdout.decode()
    for finding in listed:
        for number, cure in enumerate(finding['cures'], 1):
            assert f'{finding["number"]}.{number}  ' in text
            assert cure['label'].split()[0] in text and cure['changes'], cure


def nothing_to_cure():
    done = run('cure', '--quick', demo('three-drain'))
    assert (done.returncode, done.stderr) == (FINE, b''), done
    assert cures('three-drain', '--quick') == []


def wrong_command_lines():
    path = demo('single-drain')
    for arguments in ([], [path, path], ['--apply', '1.1', path], ['--output', 'x', path], ['--apply', 'one', '-o', 'x', path],
                      ['--apply', '0.1', '-o', 'x', path], ['--apply', '1.1', '--every', '-o', 'x', path],
                      ['--every', '--json', '-o', 'x', path], ['--finding', '-1', path], ['--quick', '--apply', '99.1', '-o', 'x', path]):
        done = run('cure', *arguments)
        assert done.returncode == USAGE, (arguments, done)
        assert done.stderr.startswith(b'nappe: ') and done.stderr.count(b'\n') == 1, done.stderr
    assert run('cure', '/no/such/file.nappe').returncode == FILE
    assert run('cure', '--quick', '--every', '-o', '/no/such/folder/x.nappe', path).returncode == FILE


def a_rule_is_explained():
    done = run('rules', 'emergency-misplaced')
    text = done.stdout.decode()
    assert (done.returncode, done.stderr) == (FINE, b'')
    for heading in ('## What it means', '## Why it matters', '## Where the limit comes from', '## How to put it right',
                    '## Example'):
        assert heading in text, heading
    assert 'gal/h' in run('rules', '--units', 'us', 'emergency-misplaced').stdout.decode()
    assert run('rules', 'no-such-rule').returncode == USAGE
    assert run('rules', 'emergency-misplaced', 'more').returncode == USAGE


def the_handbook_is_whole():
    """A page and a figure for every rule, each linked from the list."""
    listed = re.findall(r'^([a-z0-9-]+)$', run('rules').stdout.decode(), re.M)
    with tempfile.TemporaryDirectory() as folder:
        done = run('rules', '--handbook', folder)
        assert (done.returncode, done.stderr) == (FINE, b''), done
        with open(os.path.join(folder, 'README.md'), encoding='utf-8') as file:
            index = file.read()
        for rule in listed:
            assert f'({rule}.md)' in index, rule
            with open(os.path.join(folder, rule + '.md'), encoding='utf-8') as file:
                assert f'({rule}.svg)' in file.read(), rule
            assert os.path.getsize(os.path.join(folder, rule + '.svg')) > 5000, rule


TESTS = [every_cure_of_the_flooding_demo, a_cure_changes_what_it_says, cures_are_listed, nothing_to_cure,
         wrong_command_lines, a_rule_is_explained, the_handbook_is_whole]


def main():
    failed = False
    print(f'1..{len(TESTS)}')
    for number, test in enumerate(TESTS, 1):
        name = test.__name__.replace('_', ' ')
        try:
            test()
            print(f'ok {number} - {name}', flush=True)
        except (AssertionError, OSError, ValueError, KeyError, StopIteration, subprocess.SubprocessError) as error:
            failed = True
            print(f'not ok {number} - {name}')
            print('\n'.join(f'# {line}' for line in f'{type(error).__name__}: {error}'.splitlines()[:20]), flush=True)
    return 1 if failed else 0


if __name__ == '__main__':
    sys.exit(main())
