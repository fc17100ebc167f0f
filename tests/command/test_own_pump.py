#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Pumps put into a person's own catalogue by the command.

    test_own_pump.py NAPPE DEMO     DEMO is a build file with a pump
"""
import json
import os
import subprocess
import sys
import tempfile

COMMAND, DEMO = (os.path.abspath(path) for path in sys.argv[1:3])
FINE, FILE, USAGE = 0, 3, 64
CURVE = 'flow gal/h;head ft\n0;13,1\n400;11\n800;7,5\n1200;0\n'


class Home:
    """A home with a table in it."""

    def __enter__(self):
        self.folder = tempfile.TemporaryDirectory()
        self.path = os.path.join(self.folder.name, 'reef pump.csv')
        self.catalogue = os.path.join(self.folder.name, 'nappe/catalogue/own-pumps.json')
        self.write(CURVE)
        return self

    def __exit__(self, *_error):
        self.folder.cleanup()

    def write(self, text):
        with open(self.path, 'wb') as file:
            file.write(text if isinstance(text, bytes) else text.encode())

    def run(self, *arguments, **more):
        return subprocess.run([COMMAND, *arguments], stdout=subprocess.PIPE, stderr=subprocess.PIPE, check=False, timeout=60,
                              env={**os.environ, 'XDG_DATA_HOME': self.folder.name}, **more)

    def add(self, *options):
        return self.run('own-pump', *options, self.path)

    def rows(self):
        if not os.path.exists(self.catalogue):
            return []
        with open(self.catalogue, encoding='utf-8') as file:
            return json.load(file)['items']


def equal(got, wanted):
    assert got == wanted, f'{got!r} is not {wanted!r}'


def complains(done, status, *words):
    text = done.stderr.decode()
    equal(done.returncode, status)
    equal(done.stdout, b'')
    assert text.startswith('nappe: ') and text.count('\n') == 1, repr(text)
    for word in words:
        assert word in text, f'{word!r} is not in {text!r}'


def puts_in_a_pump():
    with Home() as home:
        done = home.add('--power', '60 W', '--variable-speed', '--outlet', '1 in')
        equal((done.returncode, done.stderr), (FINE, b''))
        assert 'reef pump' in done.stdout.decode() and 'own-reef-pump' in done.stdout.decode(), done.stdout
        row, = home.rows()
        equal((row['id'], row['name'], row['power_watts'], row['outlet_bore_mm']), ('own-reef-pump', 'reef pump', 60, 25.4))
        assert row['variable_speed'] and 'reef pump.csv' in row['source'], row
        # 231 cubic inches of 25.4 mm to the US gallon, 304.8 mm to the foot (NIST SP 811)
        for got, wanted in zip(row['curve_flow_litres_per_hour'], [0, 400, 800, 1200]):
            assert abs(got - wanted * 3.785411784) < 1e-9, got
        for got, wanted in zip(row['curve_head_metres'], [13.1, 11, 7.5, 0]):
            assert abs(got - wanted * 0.3048) < 1e-9, got


def builds_can_use_it():
    with Home() as home:
        home.add('--power=60')
        with open(DEMO, encoding='utf-8') as file:
            build = json.load(file)
        build['returns'][0]['pump']['item'] = 'own-reef-pump'
        build['returns'][0]['pump'].pop('speed_percent', None)
        done = home.run('check', '--json', '--quick', '-', input=json.dumps(build).encode())
        pump, = json.loads(done.stdout)['pumps']
        assert 0 < pump['flow_litres_per_hour'] < 1200 * 3.7855, pump
        equal(done.stderr, b'')


def names_and_second_pumps():
    with Home() as home:
        for _time in range(2):
            equal(home.add('--power=60', '--name=Süd-Pumpe', '--source=measured, bucket').returncode, FINE)
        equal([(row['id'], row['name'], row['source']) for row in home.rows()],
              [('own-sud-pumpe', 'Süd-Pumpe', 'measured, bucket'), ('own-sud-pumpe-2', 'Süd-Pumpe', 'measured, bucket')])


def dry_run_writes_nothing():
    with Home() as home:
        done = home.add('--dry-run', '--units=us')
        equal((done.returncode, done.stderr, home.rows()), (FINE, b'', []))
        text = done.stdout.decode()
        assert text.count('gal/h') == 4 and '13.1' in text, text


def units_are_never_guessed():
    with Home() as home:
        home.write('0,4\n3000,1\n')
        complains(home.add('--power=60'), USAGE, '--flow-unit')
        complains(home.add('--power=60', '--flow-unit=L/h'), USAGE, '--head-unit')
        equal(home.rows(), [])
        equal(home.add('--power=60', '--flow-unit=L/h', '--head-unit=m').returncode, FINE)
        equal(home.rows()[0]['curve_flow_litres_per_hour'], [0, 3000])
        home.write('4,0\n1,3000\n')
        equal(home.add('--power=60', '--flow-unit=lph', '--head-unit=metres', '--head-first').returncode, FINE)
        equal(home.rows()[1]['curve_flow_litres_per_hour'], [0, 3000])


def other_units_than_the_table_says():
    with Home() as home:
        equal(home.add('--power=60', '--flow-unit=L/h').returncode, FINE)
        equal(home.rows()[0]['curve_flow_litres_per_hour'], [0, 400, 800, 1200])


def reads_standard_input():
    with Home() as home:
        done = home.run('own-pump', '--power=60', '--name=Piped', '-', input=CURVE.encode())
        equal((done.returncode, home.rows()[0]['name']), (FINE, 'Piped'))


def wrong_tables():
    tables = {b'': 'no numbers', b'flow l/h,head m\n0,4\n100,5\n': 'line 3', b'l/h;m\n0;4\n100;-1\n': 'line 3', b'\x7fELF\0\1': 'no table',
              b'l/h;m\n0;4\n': 'line 2', b'l/h;m\n0;4\nnan;1\n': 'line 3', b'l/h;m\n0;4\n1e999;1\n': 'line 3',
              b'7' * 10_000_000: '256 KiB'}
    with Home() as home:
        for text, word in tables.items():
            home.write(text)
            complains(home.add('--power=60'), FILE, 'reef pump.csv', word)
        complains(home.run('own-pump', '--power=60', home.folder.name), FILE)
        complains(home.run('own-pump', '--power=60', '/dev/zero'), FILE)
        complains(home.run('own-pump', '--power=60', os.path.join(home.folder.name, 'none')), FILE)
        equal(home.rows(), [])


def wrong_command_lines():
    with Home() as home:
        for options in ([], ['--power=-5'], ['--power=much'], ['--power=60 L'], ['--power=60', '--name='],
                        ['--power=60', '--outlet=2 gal'], ['--power=60', '--units=both']):
            complains(home.add(*options), USAGE)
        complains(home.run('own-pump', '--power=60'), USAGE)
        complains(home.run('own-pump', '--power=60', home.path, home.path), USAGE)
        complains(home.add('--power=60', '--flow-unit=bushels'), FILE, 'bushels')
        equal(home.rows(), [])


def broken_catalogue_stays():
    with Home() as home:
        os.makedirs(os.path.dirname(home.catalogue))
        with open(home.catalogue, 'w', encoding='utf-8') as file:
            file.write('{"format": "nappe-catalogue",\n "version": 1, "items": [')
        complains(home.add('--power=60'), FILE, 'own-pumps.json', 'line 2')
        with open(home.catalogue, encoding='utf-8') as file:
            equal(file.read(), '{"format": "nappe-catalogue",\n "version": 1, "items": [')


def many_at_once():
    with Home() as home:
        environment = {**os.environ, 'XDG_DATA_HOME': home.folder.name}
        running = [subprocess.Popen([COMMAND, 'own-pump', '--power=60', f'--name=Pump {i}', home.path], env=environment,
                                    stdout=subprocess.DEVNULL) for i in range(8)]
        equal([program.wait(60) for program in running], [FINE] * 8)
        equal(sorted(row['name'] for row in home.rows()), [f'Pump {i}' for i in range(8)])


TESTS = [puts_in_a_pump, builds_can_use_it, names_and_second_pumps, dry_run_writes_nothing, units_are_never_guessed,
         other_units_than_the_table_says, reads_standard_input, wrong_tables, wrong_command_lines, broken_catalogue_stays,
         many_at_once]


def main():
    failed = False
    print(f'1..{len(TESTS)}')
    for number, test in enumerate(TESTS, 1):
        try:
            test()
            print(f'ok {number} - {test.__name__.replace("_", " ")}', flush=True)
        except (AssertionError, OSError, ValueError, KeyError, IndexError, subprocess.SubprocessError) as error:
            failed = True
            print(f'not ok {number} - {test.__name__.replace("_", " ")}')
            print('\n'.join(f'# {line}' for line in f'{type(error).__name__}: {error}'.splitlines()[:20]), flush=True)
    return 1 if failed else 0


if __name__ == '__main__':
    sys.exit(main())
