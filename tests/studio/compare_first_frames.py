#!/usr/bin/python3
# SPDX-License-Identifier: GPL-3.0-or-later
"""Prints how long the studio takes to its first frame, against an empty window of the toolkit.

    compare_first_frames.py FIRST-FRAME DEMO

Both are started in turn, so that a busy machine slows both. The aim is a ratio of 1.3 at most.
"""
import statistics
import subprocess
import sys
import time

ROUNDS = 15


def milliseconds(*command):
    start = time.perf_counter()
    subprocess.run(command, check=True, stdout=subprocess.DEVNULL)
    return (time.perf_counter() - start) * 1e3


def main():
    program, demo = sys.argv[1:3]
    empty, studio = [], []
    for _round in range(ROUNDS):
        empty.append(milliseconds(program, 'empty'))
        studio.append(milliseconds(program, 'studio', demo))
    # The first of each also fills the caches of the disk.
    empty, studio = statistics.median(empty[1:]), statistics.median(studio[1:])
    print(f'first frame: studio {studio:.0f} ms, empty window {empty:.0f} ms, ratio {studio / empty:.2f} (at most 1.3)')


if __name__ == '__main__':
    main()
