# SPDX-License-Identifier: GPL-3.0-or-later
"""The running studio as its accessible tree shows it, with a pointer and keys; for the programs beside this one.

A step of a test waits for what it expects and never for a time; see wait_for. Needs a display, a session bus, xdotool and
Debian's python3-gi.
"""
import contextlib
import re
import subprocess
import sys
import tempfile
import time

import gi

gi.require_version('Atspi', '2.0')
from gi.repository import Atspi  # noqa: E402  the version comes first

FRAME = 5          # of a window without a window manager [px]
STRIDES = 4        # of the pointer from one place to another
PATIENCE = 30.0    # seconds; a busy machine under a sanitizer is slow


def xdotool(*arguments):
    return subprocess.run(['xdotool', *arguments], stdout=subprocess.PIPE, check=True, text=True, timeout=PATIENCE).stdout


def children(node):
    for index in range(node.get_child_count()):
        child = node.get_child_at_index(index)
        if child is not None:
            yield child


def walk(node):
    yield node
    for child in children(node):
        yield from walk(child)


def wait_for(what, condition):
    """The first true value of the condition; tries again while the program is at work."""
    end = time.monotonic() + PATIENCE
    while time.monotonic() < end:
        try:
            value = condition()
        except gi.repository.GLib.Error:    # the part of the tree that was walked has gone
            value = None
        if value:
            return value
        time.sleep(0.05)
    raise AssertionError(f'waited in vain for {what}')


def point_at(x, y):
    """Moves the pointer as a hand does, through the places between: one that jumps can land on a tooltip of where it was."""
    place = dict(line.split('=') for line in xdotool('getmouselocation', '--shell').splitlines())
    from_x, from_y = int(place['X']), int(place['Y'])
    for step in range(1, STRIDES + 1):
        xdotool('mousemove', str(from_x + (x - from_x) * step // STRIDES), str(from_y + (y - from_y) * step // STRIDES))


class Studio:
    """The running program as its accessible tree shows it."""

    def __init__(self, program, path):
        Atspi.set_timeout(int(PATIENCE * 1e3), int(PATIENCE * 1e3))    # milliseconds
        self.process = subprocess.Popen([program, path])
        self.application = wait_for('the program on the bus', self.on_the_bus)

    def on_the_bus(self):
        for node in children(Atspi.get_desktop(0)):
            if node.get_process_id() == self.process.pid:
                return node
        return None

    def find(self, role, name=None, below=None):
        """The first node of a role whose name matches the pattern, or None."""
        for node in walk(below or self.application):
            if node.get_role_name() == role and (name is None or re.search(name, node.get_name() or '')):
                return node
        return None

    def need(self, role, name=None, below=None):
        return wait_for(f'a {role} named {name}', lambda: self.find(role, name, below))

    def frame(self):
        return self.need('frame')

    def act(self, action):
        """Runs an action of the window by its name."""
        frame = self.frame()
        names = [frame.get_action_name(index) for index in range(frame.get_n_actions())]
        assert action in names, f'{action} is not among {names}'
        frame.do_action(names.index(action))

    def press(self, role, name):
        self.need(role, name).do_action(0)

    def press_below(self, node, name):
        self.need('push button', name, node).do_action(0)

    def picture_items(self, picture):
        """{name: description} of the parts of a picture."""
        canvas = self.find('panel', picture)
        if canvas is None:
            return {}
        return {node.get_name(): node.get_description() for node in children(canvas)}

    @staticmethod
    def row_of(node):
        while node.get_role_name() != 'list item':
            node = node.get_parent()
        return node

    def labels(self):
        return [node.get_name() for node in walk(self.application) if node.get_role_name() == 'label']

    def is_modified(self):
        return self.frame().get_name().startswith('•')

    def is_played(self):
        """Whether every finding is there, also those that take playing cases in time."""
        return 'Playing cases in time …' not in self.labels()

    def handle(self, name):
        """A handle of the part that is picked."""
        canvas = self.need('panel', 'Side elevation')
        return wait_for(f'a handle named {name}', lambda: self.find('spin button', name, canvas))

    def visible_windows(self, title):
        """xdotool says by its exit status that there is none."""
        with contextlib.suppress(subprocess.CalledProcessError):
            return xdotool('search', '--all', '--pid', str(self.process.pid), '--onlyvisible', '--name', title).split()
        return []

    @staticmethod
    def box_of(number):
        geometry = xdotool('getwindowgeometry', '--shell', number)
        window = dict(line.split('=') for line in geometry.splitlines())
        return [int(window[name]) for name in ('X', 'Y', 'WIDTH', 'HEIGHT')]

    def window_number(self, title):
        """Of the display's largest window with a title like that."""
        numbers = wait_for(f'a window named {title}', lambda: self.visible_windows(title))
        return max(numbers, key=lambda number: self.box_of(number)[2])

    def window_box(self, title='reef'):
        """x, y, width, height of a window on the display [px]."""
        return self.box_of(self.window_number(title))

    def place_on_screen(self, node, title='reef'):
        """The middle of a widget [px]; no window manager: the window's shadow is a frame of five."""
        x, y, _, _ = self.window_box(title)
        box = node.get_extents(Atspi.CoordType.WINDOW)
        return (x + FRAME + box.x + box.width // 2, y + FRAME + box.y + box.height // 2)

    def standing_place(self, find, title='reef'):
        """Where the widget that find() gives is, once it has stayed there for a while."""
        def standing():
            place = self.place_on_screen(find(), title)
            time.sleep(0.3)
            return place if self.place_on_screen(find(), title) == place else None
        return wait_for('a picture that stands still', standing)

    def click(self, find, title='reef'):
        point_at(*self.standing_place(find, title))
        xdotool('click', '1')

    def take_keys(self, title='reef'):
        """Keys go to this window from now on: there is no window manager to see to it."""
        xdotool('windowfocus', '--sync', self.window_number(title))

    @staticmethod
    def key(*names):
        xdotool('key', *names)

    def kill(self):
        self.process.kill()
        self.process.wait(PATIENCE)

    def stop(self):
        self.process.terminate()
        return self.process.wait(PATIENCE)


def run_steps(test):
    """Each step needs those before it, so the first failure ends the test."""
    print(f'1..{len(test.STEPS)}')
    for number, step in enumerate(test.STEPS, 1):
        name = step.__name__.replace('_', ' ')
        try:
            step(test)
        except (AssertionError, subprocess.SubprocessError, OSError, gi.repository.GLib.Error) as error:
            print(f'not ok {number} - {name}')
            print('\n'.join(f'# {line}' for line in str(error).splitlines()))
            return 1
        print(f'ok {number} - {name}', flush=True)
    return 0


def run_in_folder(kind):
    """A test with the arguments of this program and a folder of its own. Its exit status."""
    with tempfile.TemporaryDirectory() as folder:
        test = kind(*sys.argv[1:], folder)
        try:
            return run_steps(test)
        finally:
            if test.studio.process.poll() is None:
                test.studio.stop()
