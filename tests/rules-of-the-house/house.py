# SPDX-License-Identifier: GPL-3.0-or-later
"""What the tests of this folder share: walking the checkout, running tools, and TAP output."""
import os
import shutil
import subprocess

TOP = os.path.dirname(os.path.dirname(os.path.dirname(os.path.abspath(__file__))))


class Report:
    """Prints one TAP line per rule, with every breach of it as a comment below."""

    def __init__(self):
        self.count = 0
        self.failed = False

    def rule(self, name, breaches):
        """One rule and the list of its breaches; an empty list means that it is kept."""
        self.count += 1
        print(f'{"not ok" if breaches else "ok"} {self.count} - {name}')
        for breach in breaches:
            print('\n'.join(f'#   {line}' for line in str(breach).splitlines()))
        self.failed = self.failed or bool(breaches)

    def skip(self, name, reason):
        self.count += 1
        print(f'ok {self.count} - {name} # SKIP {reason}')

    def end(self):
        """Prints the plan and returns the exit status."""
        print(f'1..{self.count}')
        return 1 if self.failed else 0


def files(top, *folders, endings=None):
    """Every file below the folders named, relative to top and sorted; what is built is left out."""
    found = []
    for folder in folders:
        for where, below, names in os.walk(os.path.join(top, folder)):
            below[:] = [name for name in below if name != '__pycache__']
            for name in names:
                if endings is None or name.endswith(endings):
                    found.append(os.path.relpath(os.path.join(where, name), top))
    return sorted(found)


def text_of(top, path):
    with open(os.path.join(top, path), encoding='utf-8') as file:
        return file.read()


def lines_of(top, path):
    return text_of(top, path).splitlines()


def have(tool):
    return shutil.which(tool) is not None


def complaint(command, silent=False, **more):
    """Runs a tool. Returns [] when it is content, else what it said in a list of one.

    With silent, anything at all on its error stream counts as a complaint."""
    done = subprocess.run(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
                          check=False, **more)
    if done.returncode == 0 and not (silent and done.stderr.strip()):
        return []
    said = (done.stdout + done.stderr).strip() or 'no message'
    return [f'{" ".join(command)}: exit status {done.returncode}\n{said}']
