#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Counts what the tests said and prints the closing line "N passed, N failed".

    summary.py [--broken FILE] TESTLOG...    meson's testlog.json of each build
    summary.py --benchmarks FOLDER           prints what the benchmarks of a build measured

Every subtest of a TAP program counts as one; a program without a TAP plan counts as one. A
program that crashed, ran out of time or stopped short of its plan counts as one failure more.
Each line of the --broken file counts as one failure that no test could report, such as a build
that did not compile. The exit status is 1 when anything failed.
"""
import json
import os
import re
import sys

# How many lines of one failed program are shown; its whole output is in meson's log.
MOST_LINES = 40


def read_log(path):
    with open(path, encoding='utf-8') as lines:
        return [json.loads(line) for line in lines if line.strip()]


def count(test):
    """Returns (passed, failed, skipped) of one program of a meson test log."""
    out = test.get('stdout') or ''
    result = test['result']
    plan = re.search(r'^1\.\.(\d+)', out, re.M)
    if plan is None:
        skipped = result == 'SKIP'
        passed = result in ('OK', 'EXPECTEDFAIL')
        return int(passed), int(not passed and not skipped), int(skipped)
    good = len(re.findall(r'^ok\b', out, re.M))
    skipped = len(re.findall(r'^ok\b.*# SKIP', out, re.M | re.I))
    bad = len(re.findall(r'^not ok\b', out, re.M))
    short = good + bad < int(plan[1])
    if bad == 0 and (short or result not in ('OK', 'SKIP', 'EXPECTEDFAIL')):
        bad = 1
    elif short:
        bad += 1
    return good - skipped, bad, skipped


def breaches(test):
    """The subtests of a program that failed, with the comments below each, for a person to read."""
    shown, following = [], False
    for line in (test.get('stdout') or '').splitlines():
        following = line.startswith('not ok') or (following and line.startswith('#'))
        if following:
            shown.append(f'  {line}')
    return shown[:MOST_LINES] + (['  ...'] if len(shown) > MOST_LINES else [])


def summarise(logs, broken):
    passed, failed, skipped = 0, len(broken), 0
    for line in broken:
        print(f'failed: {line}')
    for log in logs:
        try:
            tests = read_log(log)
        except (OSError, ValueError) as error:
            print(f'failed: no test results in {log}: {error}')
            failed += 1
            continue
        for test in tests:
            good, bad, skips = count(test)
            passed, failed, skipped = passed + good, failed + bad, skipped + skips
            if bad:
                print(f'failed: {bad} in {test["name"]} ({log.split("/meson-logs")[0]})')
                print('\n'.join(breaches(test) or [f'  {test["result"]}, see {log[:-5]}.txt']))
            if skips:
                print(f'skipped: {skips} in {test["name"]} ({log.split("/meson-logs")[0]})')
    if passed == 0 and failed == 0:
        print('failed: not one test ran')
        failed = 1
    print(f'{passed} passed, {failed} failed')
    return 1 if failed else 0


def print_benchmarks(folder):
    """Prints what each benchmark printed; returns 1 only when one of them crashed."""
    path = os.path.join(folder, 'benchmarklog.json')
    if not os.path.exists(path):
        print('There are no benchmarks.')
        return 0
    crashed = 0
    for test in read_log(path):
        print((test.get('stdout') or '').rstrip() or f'{test["name"]}: printed nothing')
        code = test.get('returncode')
        if test['result'] == 'TIMEOUT' or code is None or code < 0 or code >= 128:
            print(f'{test["name"]}: {test["result"]}\n{(test.get("stderr") or "").rstrip()}')
            crashed = 1
    return crashed


def main(arguments):
    if arguments[:1] == ['--benchmarks']:
        return print_benchmarks(arguments[1])
    broken = []
    if arguments[:1] == ['--broken']:
        with open(arguments[1], encoding='utf-8') as lines:
            broken = [line.strip() for line in lines if line.strip()]
        arguments = arguments[2:]
    return summarise(arguments, broken)


if __name__ == '__main__':
    sys.exit(main(sys.argv[1:]))
