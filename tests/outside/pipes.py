# SPDX-License-Identifier: GPL-3.0-or-later
"""Pipes that branch, for simulation.py: their water, its inertia, and how it is shared among their ends."""

import bisect
import math

from steady_state import G, JUNCTION, PIPE, PUMP, run_loss

import numpy
import scipy.interpolate
import scipy.optimize

LEAST_LENGTH = 0.02  # of the water that a fitting moves with it [m]


class Table:
    """A smooth function as cubics between even points."""

    def __init__(self, x, y):
        x_even = numpy.linspace(x[0], x[-1], len(x))
        spline = scipy.interpolate.CubicSpline(x_even, scipy.interpolate.CubicSpline(x, y)(x_even))
        self.first, self.step, self.pieces = x_even[0], x_even[1] - x_even[0], spline.c.T.tolist()

    def __call__(self, x):
        piece = min(max(int((x - self.first) / self.step), 0), len(self.pieces) - 1)
        cube, square, slope, value = self.pieces[piece]
        part = x - self.first - piece * self.step
        return value + part * (slope + part * (square + part * cube))


class Run:
    """Loss of a run of pipe against its flow, both ways round: in a table, as friction takes its time."""

    def __init__(self, stretches, viscosity):
        self.shut = any(math.isinf(stretch[3]) for stretch in stretches)
        if stretches and not self.shut:
            flows = numpy.logspace(-9, -1.5, 1500)
            losses = numpy.log([run_loss(stretches, flow, viscosity) for flow in flows])
            self.of_flow, self.of_loss = Table(numpy.log(flows), losses), Table(losses, numpy.log(flows))
            self.least_flow, self.least_loss = flows[0], math.exp(losses[0])
        self.empty = not stretches

    def loss(self, flow):
        size = abs(flow)
        if self.empty or self.shut:
            return 0.0
        if size <= self.least_flow:
            return flow / self.least_flow * self.least_loss
        return math.copysign(math.exp(self.of_flow(math.log(size))), flow)

    def flow(self, head):
        if head <= 0 or self.shut:
            return 0.0
        if head <= self.least_loss:
            return head / self.least_loss * self.least_flow
        return math.exp(self.of_loss(math.log(head)))


class Line:
    """A tree of pipes from one vessel to others: a rigid column when full, else a volume of water in it. Of its flows
    those of its ends are free; that of every other section is the sum of the ends behind it."""

    def __init__(self, net, root):
        self.link, self.root, self.start = net.links[root], root, net.links[root]["from"]
        self.pump = root if self.link["kind"] == PUMP else None
        self.ends, self.ways, pending = [], [], [[root]]
        while pending:
            way = pending.pop(0)
            to = net.links[way[-1]]["to"]
            if net.nodes[to]["kind"] != JUNCTION:
                self.ends.append(net.links[way[-1]])
                self.ways.append(way)
            pending += [way + [i] for i, link in enumerate(net.links) if link["kind"] == PIPE and link["from"] == to
                        and net.nodes[to]["kind"] == JUNCTION]
        self.sections = sorted({index for way in self.ways for index in way})
        self.n = len(self.ends)
        self.runs = {index: Run(net.links[index]["stretches"], net.water) for index in self.sections}
        self.behind = {index: [e for e, way in enumerate(self.ways) if index in way] for index in self.sections}
        self.contents = [(*content, net.links[index]["to"]) for index in self.sections
                         for content in net.links[index]["contents"]]
        self.whole = sum(content[2] for content in self.contents)
        heights = sorted(z for low, high, *_ in self.contents for z in (low, high))
        self.heights = [z for z, before in zip(heights, [-math.inf] + heights) if z > before + 1e-6]
        self.volumes = [self.below(z) for z in self.heights]
        inertia = {index: self.inertia_of(net.links[index]["stretches"]) for index in self.sections}
        shared = [[sum(inertia[i] for i in set(one) & set(other)) for other in self.ways] for one in self.ways]
        self.per_inertia = numpy.linalg.inv(numpy.array(shared))
        self.mode, self.shut = "full", False

    @staticmethod
    def inertia_of(stretches):
        area = lambda bore: math.pi / 4 * bore**2
        length = sum(length / area(bore) for bore, length, *_ in stretches)
        return max(length, LEAST_LENGTH / area(stretches[-1][0])) / G if stretches else 0.0

    def below(self, level, at=None):
        """Water under a level, or under levels by the node that a section leads to."""
        return sum(volume * min(max(((level if at is None else at[to]) - low) / (high - low), 0), 1)
                   for low, high, volume, to in self.contents)

    def tail(self, level):
        """Water of a drain that stands under the surfaces it ends in; up to a tee under the highest of them."""
        highest = max(level[end["to"]] for end in self.ends)
        return self.below(None, {to: highest if to not in {end["to"] for end in self.ends} else level[to]
                                 for *_, to in self.contents})

    def stands(self, content):
        """Level of so much water in the pipes, straight on past both ends."""
        i = min(max(bisect.bisect(self.volumes, content), 1), len(self.volumes) - 1)
        rise = (self.heights[i] - self.heights[i - 1]) / (self.volumes[i] - self.volumes[i - 1])
        return self.heights[i - 1] + rise * (content - self.volumes[i - 1])

    def branches(self, level, head):
        """Flows out of a tee with that head."""
        return [self.runs[way[-1]].flow(head - low) for way, low in zip(self.ways, self.lows(level))]

    def lows(self, level):
        return [max(level[end["to"]], end["sill"]) for end in self.ends]

    def share(self, level, flow):
        """How a flow is shared among the ends: as full pipes under one head would."""
        lows = self.lows(level)
        if self.n == 1:
            return [1.0]
        short = lambda head: sum(self.branches(level, head)) - flow
        flows = self.branches(level, scipy.optimize.brentq(short, min(lows), min(lows) + 20, xtol=1e-15))
        return [one / sum(flows) for one in flows]

    def carries(self, level):
        """What a drain's pipes carry full."""
        lows, top = self.lows(level), level[self.start]
        if top <= min(lows):
            return 0.0
        if self.n == 1:
            return self.runs[self.root].flow(top - lows[0])
        short = lambda head: self.runs[self.root].flow(top - head) - sum(self.branches(level, head))
        return sum(self.branches(level, scipy.optimize.brentq(short, min(lows), top, xtol=1e-15)))
