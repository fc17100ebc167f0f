#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Kills the studio in the middle of an edit and opens it again, through AT-SPI alone.

    recover_studio.py STUDIO DEMO

The changes must be offered with name and time and come back whole, the file must be as it was until it is saved, and
nothing may be left behind after saving, discarding and closing. Needs what drive_studio.py needs.
"""
import glob
import os
import re
import shutil
import sys
import time

import gi

gi.require_version('Atspi', '2.0')
from gi.repository import Atspi  # noqa: E402, F401  the version comes first

from driven_studio import PATIENCE, Studio, children, run_in_folder, wait_for, walk  # noqa: E402

KEPT = os.path.expanduser('~/.local/state/nappe/unsaved')


def kept():
    return sorted(os.path.basename(path) for path in glob.glob(KEPT + '/*'))


def kept_text():
    texts = [open(path, encoding='utf-8').read() for path in glob.glob(KEPT + '/*.nappe')]
    return texts[0] if texts else ''


class Test:
    def __init__(self, program, demo, folder):
        self.program = program
        self.path = os.path.join(folder, 'reef.nappe')
        shutil.copy(demo, self.path)
        with open(demo, 'rb') as file:
            self.original = file.read()
        self.start()

    def start(self):
        self.studio = Studio(self.program, self.path)
        wait_for('the name of the file in the title', lambda: 'reef.nappe' in self.studio.frame().get_name())
        wait_for('the parts of the picture', lambda: self.studio.picture_items('Side elevation'))

    def length_entry(self):
        canvas = self.studio.need('panel', 'Side elevation')
        tank = next(node for node in children(canvas) if 'tank' in node.get_name().lower())
        tank.do_action(0)
        return self.studio.need('text', '^Inside length$')

    def change(self, length):
        entry = self.length_entry()
        entry.set_text_contents(length)
        self.studio.row_of(entry).do_action(0)
        wait_for('the sign of a change', lambda: self.studio.frame().get_name().startswith('•'))

    def file_is_untouched(self):
        with open(self.path, 'rb') as file:
            return file.read() == self.original

    def dialog(self):
        """The first node of the question: whose label is its heading."""
        return wait_for('the question', lambda: next((node for node in walk(self.studio.application)
                                                      if node.get_name() == 'Restore unsaved changes?'), None))

    def keeps_a_copy_while_it_runs(self):
        assert kept() == [], kept()
        self.change('26 in')
        wait_for('the copy', lambda: re.search(r'"length_mm": 660\.4\b', kept_text()))
        assert self.file_is_untouched()

    def is_killed_in_an_edit(self):
        entry = self.length_entry()
        entry.set_text_contents('27')    # begun, and not entered
        self.studio.kill()
        assert len(kept()) == 2, kept()
        assert self.file_is_untouched()

    def asks_later_again(self):
        self.start()
        self.dialog()
        names = [node.get_name() for node in walk(self.studio.need('list', '^Unsaved builds$'))]
        assert 'reef.nappe' in names, names
        stamp = time.strftime('%x')
        assert any(stamp in (name or '') for name in names), names
        self.studio.press('push button', ' Later$')
        wait_for('the question to go', lambda: self.studio.find('push button', ' Later$') is None)
        assert len(kept()) == 2, kept()
        self.studio.kill()
        assert len(kept()) == 2, kept()

    def restores(self):
        self.start()
        self.dialog()
        self.studio.press('push button', ' Restore$')
        wait_for('the changes', lambda: self.studio.frame().get_name() == '• reef.nappe')
        frames = [node for node in children(self.studio.application) if node.get_role_name() == 'frame']
        assert len(frames) == 1, [node.get_name() for node in frames]
        wait_for('the parts of the picture', lambda: self.studio.picture_items('Side elevation'))
        entry = self.length_entry()
        wait_for('the length', lambda: '660.4' in entry.get_text(0, entry.get_character_count()))
        assert self.file_is_untouched()
        assert len(kept()) == 2, kept()

    def is_killed_again(self):
        self.studio.kill()
        assert re.search(r'"length_mm": 660\.4\b', kept_text())
        self.restores()

    def leaves_nothing_after_saving(self):
        self.studio.act('win.save')
        wait_for('the saved file', lambda: not self.studio.frame().get_name().startswith('•'))
        with open(self.path, encoding='utf-8') as file:
            assert re.search(r'"length_mm": 660\.4\b', file.read())
        wait_for('the copy to go', lambda: kept() == [])

    def leaves_nothing_after_discarding(self):
        self.change('610 mm')
        wait_for('the copy', lambda: '"length_mm": 610' in kept_text())
        self.studio.act('win.close')
        self.studio.press('push button', ' Discard$')
        status = self.studio.process.wait(PATIENCE)
        assert status == 0, f'the program ended with {status}'
        assert kept() == [], kept()
        with open(self.path, encoding='utf-8') as file:
            assert re.search(r'"length_mm": 660\.4\b', file.read())

    STEPS = [keeps_a_copy_while_it_runs, is_killed_in_an_edit, asks_later_again, restores, is_killed_again,
             leaves_nothing_after_saving, leaves_nothing_after_discarding]


if __name__ == '__main__':
    sys.exit(run_in_folder(Test))
