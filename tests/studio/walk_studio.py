#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Walks through the studio as somebody does who opens it for the first time, with the pointer first.

    walk_studio.py STUDIO COMMAND DEMO

From a copy of a demo with two drains: a third drain, a longer sump, another pump, every finding cleared by cures, by parts put
in and by reasons; saved, closed, opened again, the program killed while something is dragged, the work found again and saved.
What is saved is checked with the command. Needs what driven_studio.py needs.
"""
import glob
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

from driven_studio import PATIENCE, Studio, children, point_at, run_in_folder, wait_for, walk, xdotool  # noqa: E402

KEPT = os.path.expanduser('~/.local/state/nappe/unsaved')
NEW_PUMP = 'Variable-speed.*, 2.000.L/h'    # thin spaces
UNION = '^Union.*1-1/4 in'
LONG_SUMP = 0.74    # metres, and through the door of the demo's stand
CURES = 12          # more than the demo has findings


def metres(text):
    """What a handle reads: “1 020 mm”."""
    return float(re.sub(r'[^0-9.]', '', text.split('mm')[0])) / 1e3


class Test:
    def __init__(self, program, command, demo, folder):
        self.program, self.command = program, command
        self.path = os.path.join(folder, 'reef.nappe')
        shutil.copy(demo, self.path)
        self.start()

    def start(self):
        self.studio = Studio(self.program, self.path)
        studio = self.studio
        wait_for('the name of the file in the title', lambda: 'reef.nappe' in studio.frame().get_name())
        wait_for('the parts of the picture', lambda: studio.picture_items('Side elevation'))
        wait_for('all findings', studio.is_played)
        studio.take_keys()

    def saved(self):
        with open(self.path, encoding='utf-8') as file:
            return json.load(file)

    def check(self):
        """What the command says of the saved file: exit status and findings."""
        done = subprocess.run([self.command, 'check', '--json', self.path], stdout=subprocess.PIPE, text=True, timeout=PATIENCE,
                              check=False)
        return done.returncode, json.loads(done.stdout)

    # ---- the picture ----

    def part(self, name):
        """The part of that name in the picture."""
        canvas = self.studio.need('panel', 'Side elevation')
        return wait_for(f'{name} in the picture', lambda: self.studio.find('push button', name, canvas))

    def pick(self, name):
        """As a click on the part would; where no other part lies over it is not for a test to know."""
        self.part(name).do_action(0)

    def adds_a_third_drain(self):
        studio = self.studio
        self.pick('^Siphon$')
        self.add('^Add a part$', 'siphon open channel', '^Siphon, open channel and emergency$')
        wait_for('the drain in the picture', lambda: 'Open channel' in studio.picture_items('Side elevation'))

    def lengthens_the_sump(self):
        studio = self.studio
        name = '^Sump: Inside length$'
        self.pick('^Sump$')
        studio.need('text', '^Inside length$')    # the panel of the part has come
        before = metres(studio.handle(name).get_description())
        x, y = studio.standing_place(lambda: studio.handle(name))
        point_at(x, y)
        xdotool('mousedown', '1')
        for step in range(1, 400):
            xdotool('mousemove', str(x + step), str(y))
            told = wait_for('the number at the handle', lambda: metres(studio.handle(name).get_description()))
            if told >= LONG_SUMP:
                break
        xdotool('mouseup', '1')
        wait_for('a longer sump', lambda: LONG_SUMP <= metres(studio.handle(name).get_description()) <= LONG_SUMP + 0.03)
        assert before < LONG_SUMP, before

    def swaps_the_pump(self):
        studio = self.studio
        wait_for('all findings', studio.is_played)
        studio.click(lambda: self.part('^Return pump$'))
        self.add('^Choose Another Pump…$', 'variable-speed', NEW_PUMP)
        wait_for('the other pump', lambda: studio.find('label', NEW_PUMP, studio.find('combo box', '^Catalogue item$')))

    # ---- findings ----

    def show_findings(self):
        self.studio.click(lambda: self.studio.need('page tab', '^Findings$'))

    def rows(self):
        """{(name, text): row} of the findings that count."""
        findings = self.studio.find('list', '^Findings$')
        return {} if findings is None else {(node.get_name(), node.get_description()): node for node in children(findings)}

    def opens(self, key):
        """Opens a finding; None: it has gone."""
        studio = self.studio

        def is_open():
            row = self.rows().get(key)
            if row is not None and studio.find('push button', '^About…$', row) is None:
                row.do_action(0)
            return row is None or studio.find('push button', '^About…$', row)
        wait_for('the open finding', is_open)
        return self.rows().get(key)

    def looks_for_cures(self, key):
        """Whether a finding has a cure; presses again where the build was just being studied anew."""
        studio, idle = self.studio, 0

        def answer():
            nonlocal idle
            row = self.rows().get(key)
            if row is None:
                return 'gone'
            names = [node.get_name() or '' for node in walk(row) if node.get_role_name() in ('label', 'push button')]
            if 'Apply' in names:
                return 'cure'
            if any(name.startswith('No change of one or two values') for name in names):
                return 'none'
            look = studio.find('push button', '^Look for Cures$', row)
            if look is not None:    # it may have gone since
                look.do_action(0)
            # Some findings offer no search; one that is under way has a button that stops it.
            idle = 0 if 'Look for Cures' in names or 'Stop' in names else idle + 1
            return 'none' if idle == 5 else None
        return self.opens(key) is not None and wait_for('the end of the search', answer) == 'cure'

    def takes_a_cure(self):
        """Applies the first cure of the first finding that has one. False: none has."""
        studio = self.studio
        wait_for('all findings', studio.is_played)
        for key in list(self.rows()):
            if not self.looks_for_cures(key):
                continue
            studio.press_below(self.rows()[key], '^Apply$')
            wait_for('the cure to be put in', lambda: studio.find('push button', '^Apply$') is None)
            wait_for('all findings', studio.is_played)
            return True
        return False

    def clears_findings_by_cures(self):
        studio = self.studio
        self.show_findings()
        before = wait_for('findings', self.rows)
        for _ in range(CURES):
            if not self.takes_a_cure():
                break
        assert len(self.rows()) < len(before), list(self.rows())
        assert not any(name.startswith('Danger') for name, text in self.rows()), list(self.rows())

    def add(self, button, search, title):
        """Puts in what a search in the catalogue finds, at the part that is picked; the button opens the catalogue."""
        studio = self.studio
        studio.click(lambda: studio.need('push button', button))
        window = studio.need('filler', '^Add a Part$')
        studio.need('entry', '^Search names', window)
        parts = studio.need('list', '^Parts to add$', window)

        def is_found():
            """Types again where the window was not ready for keys."""
            studio.take_keys('Add a Part')
            studio.key('ctrl+a')
            xdotool('type', search)
            end = time.monotonic() + 2.0
            while time.monotonic() < end:
                first = studio.find('label', None, parts)
                if first is not None and re.search(title, first.get_name()):
                    return True
            return False
        wait_for(f'{title} at the top of the list', is_found)
        studio.click(lambda: studio.need('label', title, parts), 'Add a Part')
        studio.click(lambda: studio.need('push button', 'Add$', window), 'Add a Part')
        wait_for('the window to close', lambda: studio.find('filler', '^Add a Part$') is None)
        studio.take_keys()

    def puts_unions_in(self):
        studio = self.studio
        while True:
            wait_for('all findings', studio.is_played)
            key = next((key for key in self.rows() if key[0].endswith('Nothing in the line opens')), None)
            if key is None:
                return
            self.show_findings()
            studio.need('list', '^Findings$').select_child(list(self.rows()).index(key))
            self.add('^Add a part$', 'union 1-1/4', UNION)
            wait_for('the finding to go', lambda: key not in self.rows())

    def answers_what_may_stand(self):
        studio = self.studio
        self.show_findings()
        while self.rows():
            key = next(iter(self.rows()))
            assert key[0].startswith('Advice'), key
            studio.press_below(self.opens(key), '^Answer…$')
            reason = studio.need('text', '^Why may it stand')
            reason.set_text_contents('Somebody looks at it every day.')
            save = studio.need('push button', '^Answer$')
            wait_for('the button', lambda: save.get_state_set().contains(Atspi.StateType.SENSITIVE))
            save.do_action(0)
            wait_for('the answer', lambda: key not in self.rows())
            wait_for('all findings', studio.is_played)
        wait_for('nothing to say', lambda: 'Nothing to say against this build' in studio.labels())

    def saves(self):
        studio = self.studio
        studio.take_keys()
        studio.key('ctrl+s')
        wait_for('the saved file', lambda: not studio.is_modified())
        build = self.saved()
        drains = build['drains']
        assert sorted(drain['role'] for drain in drains) == ['emergency', 'open-channel', 'siphon'], drains
        assert LONG_SUMP <= build['sump']['length_mm'] / 1e3 <= LONG_SUMP + 0.03, build['sump']['length_mm']
        assert build['returns'][0]['pump']['item'] == 'dc-pump-2000', build['returns'][0]['pump']
        status, said = self.check()
        assert status == 0, said
        assert not said['findings'], said['findings']

    def closes(self):
        self.studio.key('ctrl+w')
        assert self.studio.process.wait(PATIENCE) == 0
        assert not glob.glob(KEPT + '/*'), 'a copy was left behind'

    def opens_again(self):
        self.start()
        assert 'Nothing to say against this build' in self.studio.labels(), self.studio.labels()

    def is_killed_while_it_drags(self):
        """One change is made and kept; the next is under way when the program goes."""
        studio = self.studio
        self.before = self.saved()
        name = '^Drain wall: Top over the sump’s floor$'
        self.pick('^Drain wall')
        x, y = studio.standing_place(lambda: studio.handle(name))
        self.drag(x, y, -4)
        xdotool('mouseup', '1')
        wait_for('the sign of a change', studio.is_modified)
        self.height = metres(studio.handle(name).get_description())
        wait_for('the copy', lambda: any(abs(self.height_in(path) - self.height) < 6e-4 for path in glob.glob(KEPT + '/*.nappe')))
        x, y = studio.standing_place(lambda: studio.handle(name))
        self.drag(x, y, -12)
        wait_for('another number', lambda: metres(studio.handle(name).get_description()) != self.height)
        studio.kill()
        xdotool('mouseup', '1')
        assert self.saved() == self.before, 'the file was written'

    def drag(self, x, y, steps):
        """Takes hold and moves upwards or downwards [px], and does not let go."""
        point_at(x, y)
        xdotool('mousedown', '1')
        for step in range(abs(steps) + 1):
            xdotool('mousemove', str(x), str(y + (step if steps > 0 else -step)))

    @staticmethod
    def height_in(path):
        """Of the drain chamber's wall [m]."""
        with open(path, encoding='utf-8') as file:
            walls = json.load(file)['sump']['baffles']
        return next(wall['top_height_mm'] for wall in walls if wall['id'] == 'drain-wall') / 1e3

    def finds_the_work_again(self):
        self.studio = Studio(self.program, self.path)
        studio = self.studio
        studio.press('push button', ' Restore$')
        wait_for('the changes', studio.is_modified)
        wait_for('the parts of the picture', lambda: studio.picture_items('Side elevation'))
        studio.take_keys()
        studio.key('ctrl+s')
        wait_for('the saved file', lambda: not studio.is_modified())
        after = self.saved()
        assert abs(self.height_in(self.path) - self.height) < 6e-4, (self.height_in(self.path), self.height)
        next(wall for wall in after['sump']['baffles'] if wall['id'] == 'drain-wall')['top_height_mm'] = next(
            wall for wall in self.before['sump']['baffles'] if wall['id'] == 'drain-wall')['top_height_mm']
        assert after == self.before, 'something else is another than it was'
        status, said = self.check()
        assert status in (0, 1), said
        self.closes()

    STEPS = [adds_a_third_drain, lengthens_the_sump, swaps_the_pump, clears_findings_by_cures, puts_unions_in,
             answers_what_may_stand, saves, closes,
             opens_again, is_killed_while_it_drags, finds_the_work_again]


if __name__ == '__main__':
    sys.exit(run_in_folder(Test))
