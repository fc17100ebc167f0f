#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Runs the built command as a person, a script and a shop would.

    test_command.py NAPPE DEMOS
"""
import csv
import functools
import json
import os
import re
import shutil
import struct
import subprocess
import sys
import tempfile
import xml.etree.ElementTree

COMMAND, DEMOS = (os.path.abspath(path) for path in sys.argv[1:3])
FINE, PROBLEM, DANGER, FILE, USAGE = 0, 1, 2, 3, 64
SEVERITY_EXIT = {'fine': FINE, 'advice': FINE, 'problem': PROBLEM, 'danger': DANGER}
DEMO_NAMES = ['three-drain', 'two-drain', 'single-drain']


def demo(name):
    return os.path.join(DEMOS, name + '.nappe')


def run(*arguments, **more):
    return subprocess.run([COMMAND, *arguments], stdout=subprocess.PIPE, stderr=subprocess.PIPE, check=False,
                          timeout=60, **more)


@functools.lru_cache(maxsize=None)
def report(name, *options):
    """What is said of a demo; asked for once, and not to be changed."""
    done = run('check', '--json', *options, demo(name))
    return json.loads(done.stdout), done


def equal(got, wanted):
    assert got == wanted, f'{got!r} is not {wanted!r}'


def one_complaint(done, status):
    """One line on standard error that names the program, nothing on standard output."""
    text = done.stderr.decode()
    assert done.returncode == status, f'status {done.returncode} instead of {status}: {text}'
    assert text.startswith('nappe: ') and text.count('\n') == 1 and text.endswith('\n'), repr(text)
    equal(done.stdout, b'')
    return text


def no_infinities(name):
    raise AssertionError(f'{name} is no JSON')


# What it finds.

def verdicts_of_the_demos():
    for name, worst in zip(DEMO_NAMES, [('fine', 'advice'), ('problem', 'danger'), ('danger',)]):
        found, done = report(name)
        got = found['verdict']['worst']
        assert got in worst, f'{name} is {got}, not one of {worst}'
        equal(done.returncode, SEVERITY_EXIT[got])
        equal(done.stderr, b'')


def status_is_that_of_the_worst_finding():
    for name in DEMO_NAMES:
        found, done = report(name)
        worst = max((finding['severity'] for finding in found['findings']), default='fine',
                    key=['fine', 'advice', 'problem', 'danger'].index)
        equal(found['verdict']['worst'], worst)
        equal(done.returncode, SEVERITY_EXIT[worst])
        equal(run('check', demo(name)).returncode, done.returncode)


def findings_are_numbered_and_complete():
    for name in DEMO_NAMES:
        found, _done = report(name, '--all')
        equal([finding['number'] for finding in found['findings']], list(range(1, len(found['findings']) + 1)))
        for finding in found['findings']:
            for member in ('rule', 'title', 'text', 'remedy', 'source'):
                assert finding[member], f'{name}: {finding["rule"]} has no {member}'
        assert found['fine'], 'nothing was checked and fine'
        assert 'fine' not in report(name)[0]


def json_is_strict():
    for name in DEMO_NAMES:
        text = run('check', '--json', '--all', demo(name)).stdout.decode('utf-8')
        json.loads(text, parse_constant=no_infinities)


def json_and_text_agree():
    for name in DEMO_NAMES:
        found, _done = report(name)
        text = run('check', '--units', 'metric', demo(name)).stdout.decode()
        plain = re.sub('[\u2009\u202f\u00a0]', '', text)
        assert found['title'] in text
        for finding in found['findings']:
            assert finding['title'] in text, finding['title']
        for vessel in found['vessels']:
            assert vessel['name'] in text, vessel['name']
            level = vessel['running_level_mm']
            if level is not None:
                assert f'{level:.0f}mm' in plain, f'{name}: {vessel["name"]} at {level} is not in the text'
        for drain in found['drains']:
            assert drain['name'] in text


def water_of_the_power_cut_adds_up():
    """What leaves the upper vessels and pipes is what comes down, and spills what has no room."""
    for name in DEMO_NAMES:
        for cut in report(name)[0]['power_cuts']:
            down = sum(line['volume_litres'] for line in cut['ledger'] if line['kind'] != 'chamber')
            assert abs(down - cut['run_back_litres']) < 1e-3, f'{name}: {down} and {cut["run_back_litres"]}'
            assert cut['on_the_floor_litres'] >= 0


def pump_meets_weir_and_drains():
    found, _done = report('three-drain')
    pumped = found['running']['pump_flow_litres_per_hour']
    drained = sum(drain['flow_litres_per_hour'] for drain in found['drains'])
    over_weirs = sum(weir['flow_litres_per_hour'] for weir in found['weirs'])
    assert abs(drained / over_weirs - 1) < 1e-4, f'{drained} and {over_weirs}'
    assert over_weirs <= pumped * (1 + 1e-4), f'{over_weirs} and {pumped}'


def working_is_shown_on_demand():
    plain = run('check', demo('single-drain')).stdout.decode()
    working = run('check', '--working', demo('single-drain')).stdout.decode()
    assert 'Source:' not in plain and 'Remedy:' in plain
    assert 'Working:' in working and 'Source:' in working


def working_of_a_part():
    """Every number of a part, however the part is asked for; the JSON holds the same numbers."""
    file = demo('three-drain')
    text = run('check', '--working=siphon', file).stdout.decode()
    assert text.startswith('Main siphon\n') and 'Froude number' in text and 'Source: ' in text, text
    for arguments in (['--working', 'siphon', file], [file, '--working', 'siphon'], ['-w', 'siphon', file]):
        equal(run('check', *arguments).stdout.decode(), text)
    found = json.loads(run('check', '--json', '--working=siphon', file).stdout)
    equal((found['format'], found['part'], found['name']), ('nappe-working', 'siphon', 'Main siphon'))
    drain = next(drain for drain in report('three-drain')[0]['drains'] if drain['id'] == 'siphon')
    flow = next(result for result in found['results'] if result['key'] == 'flow')
    equal(flow['value_litres_per_hour'], drain['flow_litres_per_hour'])
    equal(flow['value_low_litres_per_hour'], drain['flow_low_litres_per_hour'])
    for result in found['results']:
        for member in ('key', 'label', 'law', 'name', 'source'):
            assert result[member], f'{result["key"]} has no {member}'
    assert 'Flow of the pumps' in run('check', '--working=build', file).stdout.decode()
    one_complaint(run('check', '--working=nobody', file), USAGE)
    one_complaint(run('check', '--working=siphon'), USAGE)
    one_complaint(run('check', 'siphon', file), USAGE)


def bands_hold_their_numbers():
    """Low and high lie either side of the value, and each band says where it is from."""
    def walk(member):
        if isinstance(member, list):
            return sum(walk(entry) for entry in member)
        if not isinstance(member, dict):
            return 0
        count = 0
        for key, method in member.items():
            if not key.endswith('_band'):
                count += walk(method)
                continue
            assert method in ('sampling', 'first-order'), method
            name = key[:-len('_band')]
            low = next(k for k in member if re.fullmatch(name + '_low(_[a-z0-9_]+)?', k))
            high, value = low.replace('_low', '_high'), low.replace('_low', '')
            assert member[low] <= member[high], f'{low}: {member}'
            if method == 'first-order':
                assert member[low] <= member[value] <= member[high], f'{value}: {member}'
            count += 1
        return count
    for name in DEMO_NAMES:
        assert walk(report(name)[0]) > 60


def losses_add_up_to_the_height():
    """The ledger of a siphon that is a single full pipe: what is lost is the height it falls through."""
    found, _done = report('two-drain')
    ledger = next(ledger for ledger in found['head_ledgers'] if ledger['line'] == 'siphon')
    drain = next(drain for drain in found['drains'] if drain['id'] == 'siphon')
    lost = sum(loss['head_metres'] for loss in ledger['losses'])
    assert ledger['full'] and abs(lost - drain['head_used_mm'] / 1000) < 1e-6, f'{lost} and {drain["head_used_mm"]}'


def what_if(*arguments):
    done = run('what-if', '--json', *arguments)
    return json.loads(done.stdout), done


def what_if_says_where_the_water_goes():
    found, done = what_if('--block', 'standpipe=100%', demo('single-drain'))
    equal((done.returncode, found['floods']), (DANGER, True))
    assert found['on_the_floor_litres'] > 0
    blocked = next(entry for entry in report('single-drain')[0]['blockages'] if entry['blocked'] == ['standpipe'])
    assert abs(found['on_the_floor_litres'] - blocked['on_the_floor_litres']) < 1e-3, (found, blocked)
    found, done = what_if('--block', 'siphon=50 %', demo('three-drain'))
    equal((done.returncode, found['floods']), (FINE, False))
    equal(found['changes'], [{'kind': 'block', 'part': 'siphon', 'share_percent': 50}])
    flows = {drain['id']: drain for drain in found['drains']}
    assert flows['siphon']['flow_litres_per_hour'] < flows['siphon']['flow_before_litres_per_hour']
    assert flows['channel']['flow_litres_per_hour'] > flows['channel']['flow_before_litres_per_hour']
    text = run('what-if', '--block=siphon=50%', demo('three-drain'))
    equal((text.returncode, text.stderr), (FINE, b''))
    assert 'Main siphon: 50% blocked' in text.stdout.decode()


def what_if_of_pumps():
    file = demo('three-drain')
    flows = []
    for change in ('--speed=return-pump=100%', '--wear=return-pump=10%', '--speed=return-pump=80%'):
        flows.append(what_if(change, file)[0]['pumps'][0]['flow_litres_per_hour'])
    assert flows[0] > flows[1] > flows[2] > 0, flows
    found, _done = what_if('--speed', 'return-pump=0%', file)
    cut = report('three-drain')[0]['vessels'][0]['power_cut_level_mm']
    assert abs(found['vessels'][0]['level_mm'] - cut) < 0.01, (found['vessels'][0], cut)
    # No pump lifts: which case that is, is said; the check valve is spoken of where there is one.
    equal(found['runs_down'], True)
    equal(what_if('--speed', 'return-pump=100%', file)[0]['runs_down'], False)
    for name, spoken_of in (('three-drain', False), ('two-drain', True)):
        text = run('what-if', '--speed=return=0%', demo(name)).stdout.decode()
        assert 'No pump lifts any more' in text
        equal('check valve counted as failed' in text, spoken_of)


def what_if_of_a_system_that_runs_over():
    """A box whose emergency is too high and whose siphon is nearly shut runs over: a cure comes too late for some litres."""
    with open(demo('two-drain'), encoding='utf-8') as original:
        build = json.load(original)
    drains = {drain['id']: drain for drain in build['drains']}
    next(piece for piece in drains['siphon']['run'] if piece['id'] == 'siphon-valve')['opening_percent'] = 20
    drains['emergency']['crest_height_mm'] = 198
    drains['emergency']['run'][0]['length_mm'] = 198
    text = json.dumps(build).encode()
    equal(run('check', '--quick', '-', input=text).returncode, DANGER)
    done = run('what-if', '--json', '--opening', 'siphon=41%', '-', input=text)
    found = json.loads(done.stdout)
    equal((done.returncode, found['floods'], found['time_to_rim_seconds']), (DANGER, True, 0))
    assert found['on_the_floor_litres'] > 0.1, found
    said = run('what-if', '--opening=siphon=41%', '-', input=text).stdout.decode()
    assert re.search(r'Before the change .*L/h run over a rim', said), said


def simulate(*arguments):
    done = run('simulate', '--json', *arguments)
    return json.loads(done.stdout), done


def simulate_plays_a_case():
    found, done = simulate('--case', 'block-standpipe', demo('single-drain'))
    equal((done.returncode, done.stderr, found['ends'], found['simulated']), (DANGER, b'', 'floods', 'reached'))
    assert found['on_the_floor_litres'] > 0 and 10 < found['first_drop_seconds'] < 60, found
    tank = next(vessel for vessel in found['vessels'] if vessel['id'] == 'tank')
    assert tank['peak_mm'] > tank['rim_mm'] > tank['level_before_mm'], tank
    kinds = [event['kind'] for event in found['events']]
    equal(kinds[0], 'happening')
    assert 'over-rim' in kinds, kinds
    times = [event['time_seconds'] for event in found['events']]
    equal(times, sorted(times))
    text = run('simulate', '--case=block-standpipe', demo('single-drain'))
    equal((text.returncode, text.stderr), (DANGER, b''))
    assert 'Standpipe: 100% blocked' in text.stdout.decode() and 'runs over its rim' in text.stdout.decode()


def simulate_a_restart():
    found, done = simulate('--case', 'restart', demo('three-drain'))
    equal((done.returncode, found['ends'], found['returns']), (FINE, 'returns', True))
    equal(found['first_drop_seconds'], None)
    primed = [event for event in found['events'] if (event['kind'], event['part']) == ('primes', 'siphon')]
    assert primed and primed[-1]['time_seconds'] > 610, found['events']


def simulate_writes_a_table():
    file = demo('single-drain')
    done = run('simulate', '--case', 'block-standpipe', '--csv', '-', '--every', '60', file)
    equal((done.returncode, done.stderr), (DANGER, b''))
    rows = list(csv.DictReader(done.stdout.decode().splitlines()))
    equal([float(row['time_seconds']) for row in rows], [60.0 * i for i in range(31)])
    floor = [float(row['on_the_floor_litres']) for row in rows]
    equal(floor[0], 0.0)
    # The integrator keeps volumes to a fraction of a millilitre, so the last digit may waver.
    for before, after in zip(floor, floor[1:]):
        equal(after >= before - 0.0015, True)
    assert all(re.fullmatch('[a-z0-9][a-z0-9._/-]*', heading) for heading in rows[0]), rows[0]
    with tempfile.TemporaryDirectory() as folder:
        table = os.path.join(folder, 'x.csv')
        found = json.loads(run('simulate', '--case', 'block-standpipe', '--json', '--csv', table, file).stdout)
        with open(table, encoding='ascii') as lines:
            rows = list(csv.DictReader(lines))
        assert abs(float(rows[-1]['on_the_floor_litres']) - found['on_the_floor_litres']) < 1e-3
        one_complaint(run('simulate', '--case', 'power-cut', '--csv', os.path.join(folder, 'no', 'x.csv'), file), FILE)


def simulate_lists_cases():
    found, done = simulate('--list-cases', demo('three-drain'))
    equal((done.returncode, done.stderr), (FINE, b''))
    ids = [case['case'] for case in found['cases']]
    equal(len(set(ids)), len(ids))
    for wanted in ('power-cut', 'restart', 'block-siphon', 'block-slowly-channel', 'block-all', 'valve-shut-siphon', 'leak',
                   'snail-and-power-cut'):
        assert wanted in ids, ids
    text = run('simulate', '-l', demo('three-drain')).stdout.decode()
    equal([line.split()[0] for line in text.splitlines()], ids)


def trial(happenings, length=60):
    with open(demo('single-drain'), encoding='utf-8') as file:
        build = json.load(file)
    for number, happening in enumerate(happenings):
        happening['id'] = f'h-{number}'
    build['trials'] = [{'id': 'night', 'name': 'Night', 'length_seconds': length, 'happenings': happenings}]
    return json.dumps(build).encode()


def simulate_a_trial():
    leak = {'what': 'leak', 'at_seconds': 20, 'part': 'tank', 'bore_mm': 10}
    done = run('simulate', '--json', '--case', 'night', '-', input=trial([leak, {'what': 'power-off', 'at_seconds': 5}]))
    found = json.loads(done.stdout)
    equal((done.returncode, found['name'], done.stderr), (DANGER, 'Night', b''))
    equal([event['time_seconds'] for event in found['events'] if event['kind'] == 'happening'], [5, 20])
    assert abs(found['first_drop_seconds'] - 20) < 0.5, found
    for wrong, said in (({'what': 'block', 'at_seconds': 1, 'part': 'tank'}, 'happening 1'),
                        ({'what': 'leak', 'at_seconds': 1}, 'happening 1'),
                        ({'what': 'top-off-sticks', 'at_seconds': 1}, 'reservoir'),
                        ({'what': 'check-sticks', 'at_seconds': 1}, 'check valve')):
        assert said in one_complaint(run('simulate', '--case', 'night', '-', input=trial([wrong])), USAGE)
    for wrong in ({'what': 'power-off', 'at_seconds': -1}, {'what': 'explode', 'at_seconds': 1},
                  {'what': 'block', 'at_seconds': 1, 'part': 'nobody'}, {'what': 'power-off'}):
        one_complaint(run('simulate', '--case', 'night', '-', input=trial([wrong])), FILE)
    one_complaint(run('simulate', '--case', 'night', '-', input=trial([], 1e9)), FILE)


def check_plays_in_time_unless_quick():
    rules = {'power-cut-peaks', 'self-restart', 'restart-dry', 'blocked-peaks'}
    for name in DEMO_NAMES:
        full, quick = report(name, '--all')[0], report(name, '--all', '--quick')[0]
        spoken = {finding['rule'] for finding in full['findings'] + full['fine']}
        hurried = {finding['rule'] for finding in quick['findings'] + quick['fine']}
        equal(spoken - hurried, rules)
    found = report('two-drain')[0]
    restart = next(finding for finding in found['findings'] if finding['rule'] == 'self-restart')
    equal((restart['part'], restart['severity']), ('siphon', 'problem'))


def units_are_as_asked():
    metric = run('check', '--units', 'metric', demo('three-drain')).stdout.decode()
    us = run('check', '--units=us', demo('three-drain')).stdout.decode()
    assert 'L/h' in metric and 'gal/h' not in metric
    assert 'gal/h' in us and 'L/h' not in us


def output_does_not_depend_on_the_locale():
    usual = run('check', '--json', demo('two-drain')).stdout
    for locale in ('C', 'POSIX', 'C.UTF-8'):
        equal(run('check', '--json', demo('two-drain'), env={**os.environ, 'LC_ALL': locale}).stdout, usual)


def reads_standard_input():
    with open(demo('three-drain'), 'rb') as file:
        done = run('check', '--json', '-', stdin=file)
    found = json.loads(done.stdout)
    equal(found['verdict'], report('three-drain')[0]['verdict'])
    one_complaint(run('check', '-', input=b''), FILE)
    one_complaint(run('check', '-', input=b'\xff\xfe'), FILE)
    one_complaint(run('check', '-', input=b'[' * 1000000), FILE)


def file_named_like_an_option():
    with tempfile.TemporaryDirectory() as folder:
        shutil.copy(demo('three-drain'), os.path.join(folder, '--json'))
        equal(run('check', '--', '--json', cwd=folder).returncode, FINE)


# What it refuses.

def wrong_command_lines():
    file = demo('three-drain')
    for arguments in ([], ['paint'], ['check'], ['check', file, file], ['check', '--shout', file],
                      ['check', '--units', 'furlong', file], ['check', '--units'], ['rules', 'extra'],
                      ['help', 'paint'], ['export', file], ['export', '--sheet', '--flow', file], ['export', '--plan', '--panels', file],
                      ['export', '--sheet'], ['export', '--flow', '--dark', '--print', file],
                      ['export', '--flow', '--size', '10x10', file], ['export', '--flow', '--size', 'x', file],
                      ['export', '--flow', '--size', '-900x900', file],
                      ['export', '--flow', '--size', '99999x99999', file],
                      ['export', '--flow', '--state', 'flooded', file], ['export', '--sheet', '--paper', 'a5', file],
                      ['export', '--sheet', '--date', '2026-02-30', file],
                      ['export', '--sheet', '--date', 'today', file], ['export', '--sheet', '-o', '-', file],
                      ['what-if', file], ['what-if', '--block', 'siphon=50%'], ['what-if', '--block', 'siphon', file],
                      ['what-if', '--block', 'siphon=0.5', file], ['what-if', '--block', 'siphon=101%', file],
                      ['what-if', '--block', '=5%', file], ['what-if', '--block', 'nobody=5%', file],
                      ['what-if', '--load', 'siphon=5%', file], ['what-if', '--speed', 'return-pump=-1%', file],
                      ['simulate'], ['simulate', '--case', 'nix', file], ['simulate', '--csv', 'x.csv', file],
                      ['simulate', '--list-cases', '--case', 'restart', file], ['simulate', '--every', '1', file],
                      ['simulate', '--case', 'restart', '--csv', '-', '--json', file],
                      ['simulate', '--case', 'restart', '--csv', '-', '--every', '0', file],
                      ['simulate', '--case', 'power-cut', '--csv', '-', '--every', '1 us', file],
                      ['export', '--chart', 'pie', file], ['export', '--chart', 'pump', '--flow', file],
                      ['export', '--chart', 'pump', '--part', 'nobody', file], ['export', '--chart', file],
                      ['export', '--flow', '--part', 'return-pump', file],
                      ['export', '--chart', 'power-cut', '--state', 'running', file],
                      ['export', '--chart', 'tuning', demo('single-drain')],
                      ['export', '--chart', 'head', '-o', 'x.gif', file],
                      ['export', '--sheet', '-o', 'x.svg', file], ['export', '--flow', '-o', 'x.gif', file]):
        one_complaint(run(*arguments), USAGE)


def unreadable_files():
    with tempfile.TemporaryDirectory() as folder:
        broken = os.path.join(folder, 'broken.nappe')
        with open(demo('three-drain'), encoding='utf-8') as file:
            text = file.read()
        contents = {
            'empty': b'', 'no JSON': b'hello', 'cut short': text[:len(text) // 2].encode(),
            'a list': b'[]', 'NUL': b'\0' * 100, 'not UTF-8': b'{"format": "\xff"}',
            'deep': b'[' * 1000000, 'newer': text.replace('"version": 1', '"version": 99').encode(),
            'not finite': re.sub(r'"length_mm": [0-9.]+', '"length_mm": 1e999', text, count=1).encode(),
        }
        for name, content in contents.items():
            with open(broken, 'wb') as file:
                file.write(content)
            said = one_complaint(run('check', broken), FILE)
            assert 'broken.nappe' in said, f'{name}: {said}'
            one_complaint(run('export', '--flow', '-o', os.path.join(folder, 'x.svg'), broken), FILE)
            assert not os.path.exists(os.path.join(folder, 'x.svg'))
        one_complaint(run('check', folder), FILE)
        one_complaint(run('check', os.path.join(folder, 'missing.nappe')), FILE)
        one_complaint(run('check', '/dev/zero'), FILE)


def full_standard_output():
    with open('/dev/full', 'wb') as full:
        done = subprocess.run([COMMAND, 'check', demo('three-drain')], stdout=full, stderr=subprocess.PIPE,
                              check=False)
    equal(done.returncode, FILE)
    assert done.stderr.startswith(b'nappe: ')


def missing_catalogue():
    with tempfile.TemporaryDirectory() as folder:
        one_complaint(run('check', demo('three-drain'), env={**os.environ, 'NAPPE_DATA_DIR': folder}), FILE)


def own_catalogue_with_a_fault():
    with tempfile.TemporaryDirectory() as folder:
        own = os.path.join(folder, 'nappe', 'catalogue')
        os.makedirs(own)
        with open(os.path.join(own, 'mine.json'), 'w', encoding='utf-8') as file:
            file.write('{ "broken": ')
        done = run('check', '--json', demo('three-drain'), env={**os.environ, 'XDG_DATA_HOME': folder})
        equal(done.returncode, report('three-drain')[1].returncode)
        assert b'mine.json' in done.stderr, done.stderr
        json.loads(done.stdout)


# What it writes.

def png_size(path):
    with open(path, 'rb') as file:
        head = file.read(24)
    equal(head[:8], b'\x89PNG\r\n\x1a\n')
    return struct.unpack('>II', head[16:24])


def pictures():
    with tempfile.TemporaryDirectory() as folder:
        for name in DEMO_NAMES:
            for kind in ('elevation', 'flow'):
                for state in ('running', 'power-cut'):
                    path = os.path.join(folder, f'{name}-{kind}-{state}')
                    wanted = ['export', f'--{kind}', '--state', state, demo(name), '-o']
                    equal(run(*wanted, path + '.svg').returncode, FINE)
                    root = xml.etree.ElementTree.parse(path + '.svg').getroot()
                    equal(root.tag, '{http://www.w3.org/2000/svg}svg')
                    equal(run(*wanted, path + '.png', '--size', '800x600', '--dark').returncode, FINE)
                    equal(png_size(path + '.png'), (800, 600))
        equal(run('export', '--flow', '--print', demo('three-drain'), '-o', folder + '/x.pdf').returncode, FINE)
        with open(folder + '/x.pdf', 'rb') as file:
            equal(file.read(5), b'%PDF-')


def charts():
    with tempfile.TemporaryDirectory() as folder:
        for kind in ('pump', 'head', 'power-cut', 'tuning'):
            path = os.path.join(folder, kind)
            equal(run('export', '--chart', kind, demo('three-drain'), '-o', path + '.svg').returncode, FINE)
            equal(xml.etree.ElementTree.parse(path + '.svg').getroot().tag, '{http://www.w3.org/2000/svg}svg')
            equal(run('export', '-c', kind, demo('three-drain'), '-o', path + '.png', '--size', '360x240').returncode, FINE)
            equal(png_size(path + '.png'), (360, 240))
            done = run('export', '--chart', kind, demo('three-drain'), cwd=folder)
            assert f'three-drain-{kind}.svg' in done.stdout.decode()
        drains = []
        for part in ('return', 'siphon', 'channel'):
            path = os.path.join(folder, part + '.svg')
            equal(run('export', '--chart', 'head', '--part', part, demo('three-drain'), '-o', path).returncode, FINE)
            drains.append(open(path, 'rb').read())
        assert len(set(drains)) == 3, 'the charts of three lines are the same'


def sheet():
    with tempfile.TemporaryDirectory() as folder:
        paths = [os.path.join(folder, name) for name in ('a.pdf', 'b.pdf')]
        for path in paths:
            done = run('export', '--sheet', '--paper', 'letter', '--date', '2026-03-31', demo('two-drain'), '-o', path)
            equal((done.returncode, done.stderr), (FINE, b''))
        first, second = (open(path, 'rb').read() for path in paths)
        assert first[:5] == b'%PDF-' and first == second, 'the sheet is not the same twice'


def default_names():
    with tempfile.TemporaryDirectory() as folder:
        for option, name in (('--sheet', 'three-drain-sheet.pdf'), ('--flow', 'three-drain-flow.svg'),
                             ('--elevation', 'three-drain-elevation.svg'), ('--plan', 'three-drain-plan.svg'),
                             ('--panels', 'three-drain-panels.svg')):
            done = run('export', option, demo('three-drain'), cwd=folder)
            equal(done.returncode, FINE)
            assert name in done.stdout.decode() and os.path.getsize(os.path.join(folder, name)) > 1000


def places_that_cannot_be_written():
    with tempfile.TemporaryDirectory() as folder:
        for ending, option in (('svg', '--elevation'), ('png', '--flow'), ('pdf', '--flow'), ('pdf', '--sheet')):
            one_complaint(run('export', option, demo('three-drain'), '-o', f'{folder}/none/x.{ending}'), FILE)
            one_complaint(run('export', option, demo('three-drain'), '-o', f'/proc/x.{ending}'), FILE)
            taken = os.path.join(folder, f'taken.{ending}')
            os.makedirs(taken, exist_ok=True)
            one_complaint(run('export', option, demo('three-drain'), '-o', taken), FILE)
        equal(sorted(os.listdir(folder)), ['taken.pdf', 'taken.png', 'taken.svg'])


# What it says about itself.

def help_and_version():
    for arguments in (['help'], ['--help'], ['-h']):
        done = run(*arguments)
        equal((done.returncode, done.stderr), (FINE, b''))
        for word in (b'check', b'export', b'what-if', b'simulate', b'rules'):
            assert word in done.stdout
    for name, option in (('check', b'--working'), ('export', b'--paper'), ('rules', b'--help'),
                         ('what-if', b'--block'), ('simulate', b'--list-cases')):
        for arguments in (['help', name], [name, '--help']):
            done = run(*arguments)
            equal((done.returncode, done.stderr), (FINE, b''))
            assert option in done.stdout, done.stdout
            assert b'nappe ' + name.encode() in done.stdout
    assert re.fullmatch(rb'nappe [0-9]+\.[0-9]+\.[0-9]+\n', run('--version').stdout)


def rules_are_listed():
    done = run('rules')
    equal((done.returncode, done.stderr), (FINE, b''))
    listed = re.findall(r'^([a-z-]+)$', done.stdout.decode(), re.M)
    assert len(listed) >= 15 and len(set(listed)) == len(listed), listed
    for name in DEMO_NAMES:
        found, _done = report(name, '--all')
        for finding in found['findings'] + found['fine']:
            assert finding['rule'] in listed, finding['rule']


TESTS = [verdicts_of_the_demos, status_is_that_of_the_worst_finding, findings_are_numbered_and_complete,
         json_is_strict, json_and_text_agree, water_of_the_power_cut_adds_up, pump_meets_weir_and_drains,
         working_is_shown_on_demand, working_of_a_part, bands_hold_their_numbers, losses_add_up_to_the_height,
         what_if_says_where_the_water_goes, what_if_of_pumps,
         what_if_of_a_system_that_runs_over,
         simulate_plays_a_case, simulate_a_restart, simulate_writes_a_table, simulate_lists_cases, simulate_a_trial,
         check_plays_in_time_unless_quick,
         units_are_as_asked, output_does_not_depend_on_the_locale, reads_standard_input,
         file_named_like_an_option, wrong_command_lines, unreadable_files, full_standard_output, missing_catalogue,
         own_catalogue_with_a_fault, pictures, charts, sheet, default_names, places_that_cannot_be_written,
         help_and_version, rules_are_listed]


def main():
    failed = False
    print(f'1..{len(TESTS)}')
    for number, test in enumerate(TESTS, 1):
        try:
            test()
            print(f'ok {number} - {test.__name__.replace("_", " ")}', flush=True)
        except (AssertionError, OSError, ValueError, KeyError, subprocess.SubprocessError,
                xml.etree.ElementTree.ParseError) as error:
            failed = True
            print(f'not ok {number} - {test.__name__.replace("_", " ")}')
            print('\n'.join(f'# {line}' for line in f'{type(error).__name__}: {error}'.splitlines()[:20]), flush=True)
    return 1 if failed else 0


if __name__ == '__main__':
    sys.exit(main())
