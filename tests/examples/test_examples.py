#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Textbook examples entered as builds: `nappe check --json` gives the book's answer.

    test_examples.py NAPPE

The valves and tubes made for the examples are in nappe/catalogue/, where the command looks for a user's own parts.
"""
import json
import math
import os
import subprocess
import sys
import tempfile

COMMAND = os.path.abspath(sys.argv[1])
HERE = os.path.dirname(os.path.abspath(__file__))
G = 9.80665
GPM = 3.785411784e-3 / 60
FOOT = 0.3048


def check(path):
    environment = {**os.environ, 'XDG_DATA_HOME': HERE}
    done = subprocess.run([COMMAND, 'check', '--json', path], capture_output=True, check=False, timeout=60, env=environment)
    assert done.returncode < 3, done.stderr.decode()
    return json.loads(done.stdout)


def example(name):
    return check(os.path.join(HERE, name + '.nappe'))


def near(got, wanted, tolerance, what):
    assert abs(got - wanted) <= tolerance, f'{what}: {got:.6g} instead of {wanted:.6g} within {tolerance:.2g}'


def station_pump(found):
    pump, = found['pumps']
    return pump['flow_litres_per_hour'] / 3.6e6 / GPM, pump['head_metres'] / FOOT


def small_pump():
    """7.46 - 0.0453 Q^2 meets 3.52 + 0.0261 Q^2: Q = sqrt (3.94 / 0.0714) = 7.428 L/min, h = 4.960 m."""
    pump, = example('small-pump')['pumps']
    near(pump['flow_litres_per_hour'] / 60, 7.428, 0.0005, 'flow in L/min')
    near(pump['head_metres'], 4.960, 0.0005, 'head in m')
    near(pump['static_head_metres'], 3.52, 1e-6, 'lift in m')


def one_pump_of_a_station():
    """Between (110, 90) and (180, 80) the pump gives 105.714 - Q/7 ft, which meets 35 + 0.002 Q^2 at 155.7 gpm."""
    flow, head = station_pump(example('one-pump'))
    near(flow, 155.7, 0.05, 'flow in gpm')
    near(head, 105.714 - flow / 7, 0.005, 'head in ft')


def two_pumps_of_a_station():
    """Each gives half: between (0, 100) and (110, 90) the two give 100 - Q/22 ft, which meets the system at 169.3 gpm."""
    flow, head = station_pump(example('two-pumps'))
    near(flow, 169.3, 0.05, 'flow of both in gpm')
    near(head, 100 - flow / 22, 0.005, 'head in ft')


def two_unlike_pumps():
    """At one head h the flows of 7.46 - 0.0453 Q^2 and 6 - 0.02 Q^2 add up to that of the line, 3.52 + 0.0261 Q^2:
    6.074 and 3.250 L/min at 5.789 m, found by halving with nothing but these three formulas."""
    first = lambda h: math.sqrt((7.46 - h) / 0.0453)
    second = lambda h: math.sqrt((6 - h) / 0.02)
    low, high = 3.52, 6.0
    for _ in range(60):
        h = (low + high) / 2
        low, high = (low, h) if math.sqrt((h - 3.52) / 0.0261) > first(h) + second(h) else (h, high)
    pumps = {pump['line']: pump for pump in example('unlike-pumps')['pumps']}
    near(pumps['return']['flow_litres_per_hour'] / 60, first(h), 0.001, 'flow of the first pump in L/min')
    near(pumps['second']['flow_litres_per_hour'] / 60, second(h), 0.002, 'flow of the second pump in L/min')
    near(pumps['return']['head_metres'], h, 0.0005, 'head of the first pump in m')
    # Both lift to the same place, wherever their lines join.
    near(pumps['second']['static_head_metres'], pumps['return']['static_head_metres'], 1e-9, 'static head in m')


# The drop inlet of drop-inlet.nappe. Lengths in m; seawater of 25 degrees and 35 g/kg: Sharqawy 2010 over EOS-80.
RISER, RIM, BARREL, RISER_LENGTH, BARREL_LENGTH = 0.040894, 0.041094, 0.020447, 0.2, 0.6
ROUGHNESS, VISCOSITY = 1.5e-6, 9.588283e-4 / 1023.343
CREST = 900 + 200  # of the riser over the room's floor [mm]


def area(bore):
    return math.pi / 4 * bore**2


def colebrook(reynolds, roughness):
    root = 8.0  # 1/sqrt f
    for _ in range(50):
        root = -2 * math.log10(roughness / 3.7 + 2.51 / reynolds * root)
    return root**-2


def full_pipe(head):
    """Energy equation from the surface to the barrel's free end, square entrance 0.5, sudden contraction, exit 1."""
    flow = 1e-3
    for _ in range(100):
        loss = 0.0
        for bore, length, k in ((RISER, RISER_LENGTH, 0.5),
                                (BARREL, BARREL_LENGTH, 0.5 * (1 - (BARREL / RISER) ** 2) + 1)):
            f = colebrook(flow / area(bore) * bore / VISCOSITY, ROUGHNESS / bore)
            loss += (f * length / bore + k) / (2 * G * area(bore) ** 2)
        flow = math.sqrt((head + RISER_LENGTH + BARREL_LENGTH) / loss)
    return flow


def rating(head):
    """Flow and which of the three controls: SWMM Reference Manual II, equations 6-10 and 6-11, 3.33 ft^0.5/s and 0.6."""
    controls = {'crest': 3.33 * FOOT**0.5 * math.pi * RIM * head**1.5,
                'orifice': 0.6 * area(RISER) * math.sqrt(2 * G * head),
                'full-pipe': full_pipe(head)}
    name = min(controls, key=controls.get)
    return controls[name], name


def with_flow(build, flow):
    """The build with a pump that gives one flow [m3/s] at any head."""
    hour = flow * 3.6e6
    build['returns'][0]['pump']['curve'] = [{'flow_litres_per_hour': hour * (1 - 1e-6), 'head_metres': 50},
                                            {'flow_litres_per_hour': hour * (1 + 1e-6), 'head_metres': 0}]
    with tempfile.NamedTemporaryFile('w', suffix='.nappe', encoding='utf-8') as file:
        json.dump(build, file)
        file.flush()
        return check(file.name)


def rating_curve_of_a_drop_inlet():
    """Heads of the book's three equations against the level that the build comes to rest at, half a per cent. The corner
    between crest and orifice is rounded from 11 to 19 mm, so no head there is compared."""
    with open(os.path.join(HERE, 'drop-inlet.nappe'), encoding='utf-8') as file:
        build = json.load(file)
    seen = []
    print('#   head mm   L/min  control')
    for millimetres in (4, 7, 10, 22, 35, 50, 100, 150, 200):
        flow, control = rating(millimetres / 1e3)
        seen.append(control)
        print(f'# {millimetres:9} {flow * 6e4:7.2f}  {control}')
        found = with_flow(build, flow)
        drain, = found['drains']
        assert drain['control'] == control, f'{millimetres} mm: {drain["control"]} control, not {control}'
        level, = (vessel['running_level_mm'] for vessel in found['vessels'] if vessel['id'] == 'box')
        # Full pipe: the head moves a thousand times as fast as its share of the flow.
        tolerance = 0.005 * (millimetres if control != 'full-pipe' else millimetres + 800)
        near(level - CREST, millimetres, tolerance, f'head in mm under {control} control')
    assert seen == ['crest'] * 3 + ['orifice'] * 3 + ['full-pipe'] * 3, seen


TESTS = [small_pump, one_pump_of_a_station, two_pumps_of_a_station, two_unlike_pumps, rating_curve_of_a_drop_inlet]


def main():
    failed = False
    print(f'1..{len(TESTS)}')
    for number, test in enumerate(TESTS, 1):
        try:
            test()
            said = 'ok'
        except (AssertionError, KeyError, ValueError) as error:
            said, failed = 'not ok', True
            print('\n'.join(f'# {line}' for line in str(error).splitlines()))
        print(f'{said} {number} - {test.__name__.replace("_", " ")}')
    return 1 if failed else 0


if __name__ == '__main__':
    sys.exit(main())
