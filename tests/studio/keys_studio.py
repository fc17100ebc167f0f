#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Works with the studio by keys alone: no pointer is moved and nothing is done through the accessible tree but looking.

    keys_studio.py STUDIO COMMAND DEMO

On a copy of a demo with two drains: goes once round everything that takes the focus, picks a part in the picture and types a
measure of it, adds a drain and takes it back, opens a finding and puts a cure in, saves. Needs what driven_studio.py needs.
"""
import json
import os
import re
import shutil
import subprocess
import sys
import time

import gi

gi.require_version('Atspi', '2.0')
from gi.repository import Atspi  # noqa: E402  the version comes first

from driven_studio import PATIENCE, Studio, run_in_folder, wait_for, walk, xdotool  # noqa: E402

MOST_STOPS = 150    # of the focus on its way round
SETTLING = 5.0      # seconds in which the focus must have moved


class Test:
    def __init__(self, program, command, demo, folder):
        self.command = command
        self.path = os.path.join(folder, 'reef.nappe')
        shutil.copy(demo, self.path)
        self.studio = Studio(program, self.path)
        studio = self.studio
        wait_for('the name of the file in the title', lambda: 'reef.nappe' in studio.frame().get_name())
        wait_for('the parts of the picture', lambda: studio.picture_items('Side elevation'))
        wait_for('all findings', studio.is_played)
        studio.take_keys()

    def focus(self):
        """The node that has the focus, or None."""
        return next((node for node in walk(self.studio.application)
                     if node.get_state_set().contains(Atspi.StateType.FOCUSED)), None)

    def all_findings(self):
        """Those of a build that is not just about to be studied anew."""
        def standing():
            names = self.findings()
            time.sleep(1.0)
            return names if self.studio.is_played() and self.findings() == names else None
        return wait_for('findings that stand', standing)

    @staticmethod
    def words_of(node):
        return node.get_role_name(), node.get_name() or '', node.get_description() or ''

    def tab(self, key='Tab'):
        """Moves the focus on and says where it is then. Neighbours may have the same words."""
        before = self.focus()
        self.studio.key(key)
        end = time.monotonic() + SETTLING
        while time.monotonic() < end:
            after = wait_for('a focus', self.focus)
            if after != before:
                return self.words_of(after)
        raise AssertionError(f'the focus stays on {self.words_of(before)}')

    def tab_to(self, role, name, key='Tab'):
        stops = []
        for _ in range(MOST_STOPS):
            stops.append(self.tab(key))
            if stops[-1][0] == role and re.search(name, stops[-1][1]):
                return
        raise AssertionError(f'no way to a {role} named {name}; the focus went {stops}')

    def build(self):
        with open(self.path, encoding='utf-8') as file:
            return json.load(file)

    # ---- steps ----

    def goes_once_round(self):
        """Nothing holds the focus, nothing that takes it is nameless, and it comes back to where it was."""
        stops = [self.tab()]
        for _ in range(MOST_STOPS):
            stops.append(self.tab())
            if stops[-1] == stops[0]:
                break
        else:
            raise AssertionError(f'the focus does not come round: {stops}')
        nameless = [stop for stop in stops if not stop[1] and not stop[2]]
        assert not nameless, f'nameless: {nameless} among {stops}'
        names = [stop[1] for stop in stops]
        for part in ('^Sump$', '^Siphon$', '^Return pump$'):
            assert any(re.search(part, name) for name in names), f'{part} is not among {names}'

    def types_a_measure(self):
        studio = self.studio
        before = self.build()['sump']['height_mm']
        self.tab_to('push button', '^Sump$')
        studio.key('Return')
        studio.need('text', '^Inside height$')
        studio.key('F6')
        self.tab_to('text', '^Inside height$')
        studio.key('ctrl+a')
        xdotool('type', f'{before / 10 + 2} cm')
        studio.key('Return')
        wait_for('the sign of a change', studio.is_modified)
        studio.key('ctrl+s')
        wait_for('the saved file', lambda: not studio.is_modified())
        assert abs(self.build()['sump']['height_mm'] - before - 20) < 1e-6, self.build()['sump']

    def adds_a_drain_and_takes_it_back(self):
        studio = self.studio
        studio.key('F6')
        self.tab_to('push button', '^Siphon$')
        studio.key('Return')
        studio.need('text', '^Crest over the box’s floor$')
        studio.key('Insert')
        window = studio.need('filler', '^Add a Part$')
        parts = studio.need('list', '^Parts to add$', window)
        studio.take_keys('Add a Part')
        xdotool('type', 'open channel drain')
        wait_for('the drain at the top of the list', lambda: (studio.find('label', None, parts) or window).get_name() == 'Open channel')
        studio.key('Return')
        wait_for('the window to close', lambda: studio.find('filler', '^Add a Part$') is None)
        studio.take_keys()
        wait_for('the drain in the picture', lambda: 'Open channel' in studio.picture_items('Side elevation'))
        studio.key('ctrl+z')
        wait_for('the drain to go', lambda: 'Open channel' not in studio.picture_items('Side elevation'))

    def puts_a_cure_in(self):
        studio = self.studio
        before = self.all_findings()
        studio.key('alt+7')
        studio.key('F8')
        self.tab_to('push button', '^Look for Cures$')
        studio.key('space')
        wait_for('a cure', lambda: studio.find('push button', '^Apply$'))
        self.tab_to('push button', '^Apply$')
        studio.key('space')
        wait_for('the sign of a change', studio.is_modified)
        wait_for(f'other findings than {before}', lambda: self.all_findings() != before)

    def findings(self):
        node = self.studio.find('list', '^Findings$')
        return [] if node is None else [node.get_child_at_index(i).get_name() for i in range(node.get_child_count())]

    def saves(self):
        studio = self.studio
        studio.key('ctrl+s')
        wait_for('the saved file', lambda: not studio.is_modified())
        done = subprocess.run([self.command, 'check', '--json', self.path], stdout=subprocess.PIPE, text=True, timeout=PATIENCE,
                              check=False)
        assert len(json.loads(done.stdout)['findings']) == len(self.findings()), self.findings()
        studio.key('ctrl+w')
        assert studio.process.wait(PATIENCE) == 0

    STEPS = [goes_once_round, types_a_measure, adds_a_drain_and_takes_it_back, puts_a_cure_in, saves]


if __name__ == '__main__':
    sys.exit(run_in_folder(Test))
