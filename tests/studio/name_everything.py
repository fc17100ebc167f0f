#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Nothing that a person can act on is without a name for assistive technologies, in any view or window of the studio.

    name_everything.py STUDIO DEMO

Needs a display, a session bus, xdotool and Debian's python3-gi.
"""
import re
import sys
import time

import drive_studio as drive
from gi.repository import Atspi

ACTED_ON = {'push button', 'toggle button', 'check box', 'radio button', 'combo box', 'text', 'entry', 'password text', 'slider',
            'spin button', 'menu item', 'list item', 'link', 'switch', 'page tab'}
CLASS = re.compile('(Gtk|Adw|Nappe)[A-Z][A-Za-z]*$')
# Keys that show each view and page, and what then has parts that can be picked.
VIEWS = {'alt+1': 'Side elevation', 'alt+2': 'Flow diagram', 'alt+3': 'Moving water', 'alt+4': None, 'alt+5': 'Sump from above',
         'alt+6': 'Drilled panes', 'alt+7': None, 'alt+8': None, 'alt+9': None}
# And what opens over the window; the list of keys is the toolkit's own.
WINDOWS = ('ctrl+l', 'Insert', 'F10')


def way_to(node):
    steps = []
    while node is not None and node.get_role_name() != 'application':
        steps.append(f'{node.get_role_name()} “{node.get_name()}”')
        node = node.get_parent()
    return ' in '.join(steps[:6])


def has_words(node):
    """The toolkit calls what has no name by its class."""
    return bool(node.get_name()) and not CLASS.match(node.get_name())


def is_named(node):
    """By itself, as a row that is read out with the labels in it, or as the button of a list that folds out."""
    parent = node.get_parent()
    if parent is not None and parent.get_role_name() == 'combo box':
        node = parent
    return has_words(node) or node.get_role_name() == 'list item' and any(has_words(inner) for inner in drive.walk(node))


def nameless(root):
    return sorted({way_to(node) for node in drive.walk(root)
                   if node.get_role_name() in ACTED_ON and node.get_state_set().contains(Atspi.StateType.VISIBLE)
                   and not is_named(node)})


class Test(drive.Test):
    def windows(self):
        return drive.xdotool('search', '--pid', str(self.studio.process.pid), '--onlyvisible').split()

    def press(self, key, window):
        drive.xdotool('windowfocus', '--sync', window)
        drive.xdotool('key', key)
        time.sleep(0.5)

    def check(self, what):
        found = nameless(self.studio.application)
        assert not found, f'{what}: nameless: ' + '; '.join(found)

    def names_views_and_pictures(self):
        """A picture is named, and so are its parts, each with its numbers."""
        drive.wait_for('the parts of the picture', lambda: self.studio.picture_items('Side elevation'))
        window = self.windows()[-1]
        for key, picture in VIEWS.items():
            self.press(key, window)
            if picture is not None:
                items = drive.wait_for(f'the parts of {picture}', lambda: self.studio.picture_items(picture))
                assert all(items) and all(items.values()), f'{picture}: {items}'
            self.check(key)

    def names_windows(self):
        for key in WINDOWS:
            before = self.windows()
            self.press(key, before[-1])
            opened = drive.wait_for(f'what {key} opens', lambda: [window for window in self.windows() if window not in before])
            self.check(key)
            self.press('Escape', opened[-1])
            drive.wait_for(f'the end of what {key} opens', lambda: len(self.windows()) == len(before))

    STEPS = [names_views_and_pictures, names_windows]


if __name__ == '__main__':
    sys.exit(drive.run_in_folder(Test))
