#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Uses the studio as a person with an assistive technology would: through AT-SPI, and a pointer.

    drive_studio.py STUDIO DEMO

It opens a copy of a build, reads the picture's parts, drags one with the pointer of the display, selects a finding,
answers it, reads the handbook on another, tries and takes its cure, changes a limit, shows the water after a power
cut, plays a case, switches units, changes a number, undoes, saves, and exports the specification sheet, which poppler
reads back. Needs a display, a session bus, xdotool and Debian's python3-gi.
"""
import os
import re
import shutil
import subprocess
import sys

import gi

gi.require_version('Atspi', '2.0')
from gi.repository import Atspi  # noqa: E402  the version comes first

from driven_studio import PATIENCE, Studio, children, run_in_folder, wait_for, walk, xdotool  # noqa: E402


class Test:
    def __init__(self, program, demo, folder):
        self.folder = folder
        self.path = os.path.join(folder, 'reef.nappe')
        shutil.copy(demo, self.path)
        self.studio = Studio(program, self.path)

    def opens_a_file(self):
        studio = self.studio
        wait_for('the name of the file in the title', lambda: 'reef.nappe' in studio.frame().get_name())
        items = wait_for('the parts of the picture', lambda: studio.picture_items('Side elevation'))
        assert len(items) > 5, items
        assert all(items), 'a part of the picture has no name'
        assert all(items.values()), 'a part of the picture has no description'
        assert any('L/h' in text for text in items.values()), items

    def lists_findings(self):
        wait_for('the cases to be played in time', lambda: 'Playing cases in time …' not in self.studio.labels())
        findings = self.studio.need('list', '^Findings$')
        names = [node.get_name() for node in children(findings)]
        assert names and names[0].startswith('Danger: '), names

    def selects_a_finding(self):
        studio = self.studio
        findings = studio.need('list', '^Findings$')
        assert findings.select_child(0)
        row = findings.get_child_at_index(0)
        wait_for('the selected row', lambda: row.get_state_set().contains(Atspi.StateType.SELECTED))
        row.do_action(0)    # opens it
        wait_for('the remedy', lambda: 'Remedy' in studio.labels())
        wait_for('the working', lambda: 'Working' in studio.labels())

    def answers_a_finding(self):
        studio = self.studio
        studio.press('push button', '^Answer…$')
        reason = studio.need('text', '^Why may it stand')
        save = studio.need('push button', '^Answer$')
        assert not save.get_state_set().contains(Atspi.StateType.SENSITIVE), 'answered without a reason'
        assert any('stays among the findings' in label for label in studio.labels()), 'a danger is not told'
        reason.set_text_contents('The room has a floor drain.')
        wait_for('the button', lambda: save.get_state_set().contains(Atspi.StateType.SENSITIVE))
        save.do_action(0)
        wait_for('the answer in the list', lambda: any('The room has a floor drain.' in label
                                                       for label in studio.labels()))
        studio.press('push button', '^Take Back$')
        wait_for('the answer to go', lambda: not any('The room has a floor drain.' in label
                                                     for label in studio.labels()))
        studio.act('win.undo')
        wait_for('the answer again', lambda: any('The room has a floor drain.' in label for label in studio.labels()))
        studio.act('win.undo')
        wait_for('a title without the sign', lambda: not studio.frame().get_name().startswith('•'))
        wait_for('the cases to be played in time', lambda: 'Playing cases in time …' not in studio.labels())

    def finding_rows(self):
        return list(children(self.studio.need('list', '^Findings$')))

    def opens(self, row):
        studio = self.studio
        if studio.find('push button', '^About…$', row) is None:
            row.do_action(0)
        wait_for('the open finding', lambda: studio.find('push button', '^About…$', row))

    def reads_about_the_rule(self):
        studio = self.studio
        row = studio.need('list item', ': Standpipe surges$')
        self.opens(row)
        studio.press_below(row, '^About…$')
        window = studio.need('frame', '^About This Rule$')
        wait_for('the page', lambda: any('Where the limit comes from' in (node.get_name() or '')
                                         for node in walk(window)))
        studio.press_below(window, 'Close')

    def finds_a_cure(self):
        """The row of the first finding that has one; others say that they have none."""
        studio = self.studio
        for row in self.finding_rows():
            self.opens(row)
            if studio.find('push button', '^Look for Cures$', row) is None:
                continue
            studio.press_below(row, '^Look for Cures$')
            wait_for('the end of the search', lambda: studio.find('push button', '^Preview$', row)
                     or studio.find('label', '^No change of one or two values', row))
            if studio.find('push button', '^Preview$', row):
                return row
        raise AssertionError('no finding has a cure')

    def tries_a_cure(self):
        studio = self.studio
        before = studio.picture_items('Side elevation')
        row = self.finds_a_cure()
        name = f'^{re.escape(row.get_name())}$'
        studio.press_below(row, '^Preview$')
        wait_for('the banner', lambda: any(label.startswith('Preview: ') for label in studio.labels()))
        wait_for('another picture', lambda: studio.picture_items('Side elevation') not in ({}, before))
        assert not studio.frame().get_name().startswith('•'), 'looking has changed the build'
        studio.press('push button', '^Back$')
        wait_for('the first picture', lambda: studio.picture_items('Side elevation') == before)
        studio.press_below(row, '^Apply$')
        wait_for('the sign of a change in the title', lambda: studio.frame().get_name().startswith('•'))
        wait_for('the finding to go', lambda: self.finding_rows() and studio.find('list item', name) is None)
        studio.act('win.undo')
        wait_for('a title without the sign', lambda: not studio.frame().get_name().startswith('•'))
        wait_for('the first picture', lambda: studio.picture_items('Side elevation') == before)
        wait_for('the cases to be played in time', lambda: 'Playing cases in time …' not in studio.labels())

    def changes_a_limit(self):
        studio = self.studio
        studio.act('win.limits')
        entry = studio.need('text', '^Thickest film over the weir$')
        entry.set_text_contents('1 mm')
        studio.row_of(entry).do_action(0)    # applies it
        wait_for('the changed limit', lambda: any('changed limit' in label for label in studio.labels()))
        window = studio.need('frame', '^Limits and Weights$')
        studio.press_below(window, 'Close')
        studio.act('win.undo')
        wait_for('a title without the sign', lambda: not studio.frame().get_name().startswith('•'))
        wait_for('the cases to be played in time', lambda: 'Playing cases in time …' not in studio.labels())

    def shows_the_power_cut(self):
        studio = self.studio
        before = studio.picture_items('Side elevation')
        toggle = studio.need('push button', 'After a Power Cut')
        toggle.do_action(0)
        wait_for('the toggle to be pressed', lambda: toggle.get_state_set().contains(Atspi.StateType.PRESSED))
        wait_for('another picture', lambda: studio.picture_items('Side elevation') not in ({}, before))
        studio.press('push button', '^Running$')
        wait_for('the first picture', lambda: studio.picture_items('Side elevation') == before)

    def shows_the_flow_diagram(self):
        studio = self.studio
        studio.press('page tab', 'Flow')
        items = wait_for('the parts of the diagram', lambda: studio.picture_items('Flow diagram'))
        assert len(items) > 5, items
        studio.press('page tab', 'Elevation')

    def plays_a_case(self):
        studio = self.studio
        studio.press('page tab', 'Time')
        studio.need('panel', '^Moving water$')
        at_rest = wait_for('the parts of the picture', lambda: studio.picture_items('^Moving water$'))
        studio.press('push button', 'Run$')
        curves = wait_for('the curves', lambda: studio.picture_items('^Curves$'))
        assert all(curves) and all(curves.values()), curves
        events = studio.need('list', '^Events$')
        wait_for('the events', lambda: events.get_child_count() > 2)
        slider = studio.need('slider', '^Moment$')
        value = slider.get_value_iface()
        assert value.get_current_value() == 0.0, value.get_current_value()
        wait_for('the action to be enabled', lambda: studio.act('win.next-event') or value.get_current_value() > 0.0)
        value.set_current_value(value.get_maximum_value() / 2)
        wait_for('another picture', lambda: studio.picture_items('^Moving water$') not in ({}, at_rest))
        # The same moment in the flow diagram, which alone says where lines lead.
        studio.press('push button', '^Flow$')
        wait_for('the flow diagram', lambda: any(', into ' in text for text in studio.picture_items('^Moving water$').values()))
        studio.press('push button', '^Elevation$')
        studio.press('page tab', 'Elevation')

    def switches_units(self):
        studio = self.studio
        studio.press('push button', 'Inches and US gallons')
        wait_for('US gallons', lambda: any('gal/h' in text for text
                                           in studio.picture_items('Side elevation').values()))
        studio.press('push button', 'Millimetres and litres')
        wait_for('litres', lambda: any('L/h' in text for text in studio.picture_items('Side elevation').values()))

    def drags_a_handle(self):
        studio = self.studio
        canvas = studio.need('panel', 'Side elevation')
        next(node for node in children(canvas) if 'baffle' in node.get_name().lower()).do_action(0)
        name = ': Top over the sump’s floor$'
        # The picture stands still when the panel of the part has come.
        studio.need('text', '^Top over the sump’s floor$')
        settled = studio.standing_place(lambda: studio.handle(name))
        before = self.studio.handle(name).get_description()
        x, y = settled
        xdotool('mousemove', str(x), str(y), 'mousedown', '1')
        for step in range(1, 13):
            xdotool('mousemove', str(x), str(y + step))
        wait_for('another number at the handle', lambda: self.studio.handle(name).get_description() != before)
        assert not studio.frame().get_name().startswith('•'), 'the build changed before the button was let go'
        xdotool('key', 'Escape', 'mouseup', '1')
        wait_for('the number to be taken back', lambda: self.studio.handle(name).get_description() == before)
        assert not studio.frame().get_name().startswith('•'), 'Escape left a change'
        x, y = studio.standing_place(lambda: studio.handle(name))
        xdotool('mousemove', str(x), str(y), 'mousedown', '1')
        for step in range(1, 13):
            xdotool('mousemove', str(x), str(y + step))
        xdotool('mouseup', '1')
        wait_for('the sign of a change in the title', lambda: studio.frame().get_name().startswith('•'))
        after = self.studio.handle(name).get_description()
        assert after != before, after
        studio.act('win.undo')
        wait_for('one step to take it back', lambda: not studio.frame().get_name().startswith('•'))
        wait_for('the number as it was', lambda: self.studio.handle(name).get_description() == before)

    def moves_a_handle_by_action(self):
        name = ': Top over the sump’s floor$'
        before = self.studio.handle(name).get_description()
        handle = self.studio.handle(name)
        actions = [handle.get_action_name(index) for index in range(handle.get_n_actions())]
        handle.do_action(actions.index('handle.more'))
        wait_for('a number one step higher', lambda: self.studio.handle(name).get_description() != before)
        self.studio.act('win.undo')
        wait_for('the number as it was', lambda: self.studio.handle(name).get_description() == before)

    def changes_a_number(self):
        studio = self.studio
        canvas = studio.need('panel', 'Side elevation')
        tank = next(node for node in children(canvas) if 'tank' in node.get_name().lower())
        tank.do_action(0)
        entry = studio.need('text', '^Inside length$')
        length = entry.get_text(0, entry.get_character_count())
        assert 'mm' in length, length
        entry.set_text_contents('nonsense')
        wait_for('a complaint beside the field', lambda: any('nonsense' in label for label in studio.labels()))
        entry.set_text_contents('26 in')
        studio.row_of(entry).do_action(0)    # applies it
        wait_for('the sign of a change in the title', lambda: studio.frame().get_name().startswith('•'))
        studio.act('win.undo')
        wait_for('the change to be taken back', lambda: entry.get_text(0, entry.get_character_count()) == length)
        wait_for('a title without the sign', lambda: not studio.frame().get_name().startswith('•'))
        studio.act('win.redo')
        wait_for('the change again', lambda: studio.frame().get_name().startswith('•'))

    def saves(self):
        self.studio.act('win.save')
        wait_for('the saved file', lambda: not self.studio.frame().get_name().startswith('•'))
        with open(self.path, encoding='utf-8') as file:
            text = file.read()
        assert re.search(r'"length_mm": 660\.4\b', text), text[:400]    # 26 in of 25.4 mm

    def exports_the_sheet(self):
        path = os.path.join(self.folder, 'reef.pdf')
        self.studio.act('win.export-sheet')
        button = self.studio.need('push button', 'Export$')
        dialog = button
        while dialog.get_parent() is not None and dialog.get_parent().get_role_name() != 'application':
            dialog = dialog.get_parent()
        self.studio.need('text', None, dialog).set_text_contents(path)
        button.do_action(0)
        wait_for('the sheet', lambda: os.path.exists(path) and os.path.getsize(path) > 0)
        text = subprocess.run(['pdftotext', '-layout', path, '-'], stdout=subprocess.PIPE, check=True,
                              text=True).stdout
        title = re.search(r'"title": "([^"]+)"', open(self.path, encoding='utf-8').read())[1]
        assert title in text, text[:400]
        assert 'reef.nappe' in text, text[:400]
        assert 'Findings' in text, text[:400]

    def closes(self):
        try:
            self.studio.act('win.close')
        except gi.repository.GLib.Error:    # gone before it could answer; how it ended is what counts
            pass
        assert self.studio.process.wait(PATIENCE) == 0

    STEPS = [opens_a_file, lists_findings, selects_a_finding, answers_a_finding,
             reads_about_the_rule, tries_a_cure, changes_a_limit, shows_the_power_cut, shows_the_flow_diagram, plays_a_case,
             switches_units, drags_a_handle, moves_a_handle_by_action, changes_a_number, saves, exports_the_sheet, closes]


if __name__ == '__main__':
    sys.exit(run_in_folder(Test))
