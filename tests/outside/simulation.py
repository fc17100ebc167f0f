# SPDX-License-Identifier: GPL-3.0-or-later
"""Plays cases of builds a second time: the equations of motion spelled out anew in Python, with the laws of
steady_state.py, integrated by scipy's Radau from the running state that steady_state.py finds.

    simulation.py NETWORK-TABLE BUILD CASE [BUILD CASE…]   TAP: every level at every second within 0.5 mm, events within 0.5 %
    simulation.py --time NETWORK-TABLE BUILD CASE          how long both programs take

It knows return lines and drains without tees, and no top-off. Which pieces a line has is read from the network.
"""

import bisect
import math
import subprocess
import sys
import time

from steady_state import (CHAMBER, DRAIN, FLOOR, G, GAP, JUNCTION, PIPE, PUMP, RIM, WEIR, Network, Solver, inlet_flow,
                          run_flow, run_loss, smoothstep)

import numpy
import scipy.integrate
import scipy.optimize

LEVEL_TOLERANCE = 5e-4
EVENT_TOLERANCE = 5e-3  # of the time since the last happening
# An edge runs dry so slowly that the time of it means nothing: there the level at that time is compared.
DRY_TOLERANCE = 5e-5
FLOOR_TOLERANCE = 1e-5  # [m3]
POWER_OFF, POWER_ON, CHANGE, BLOCK_HOLE, CHECK_STICKS = range(5)
SPIN = 1.0          # a pump's speed nears where it goes by e in this time [s] (common practice)
PUMP_FADE = 0.010   # depth over its inlet within which a pump sputters, and air is reported [m]
TAIL_TIME = 0.3     # in which rising water fills the end of a drain [s]
SWEPT_SHARE = 0.5   # of what comes into a filling drain that goes on through it
BACKED_UP, GIVES_UP = 0.999, 0.97  # of the full bore: backs up; gives up again
BACKFLOW = 0.01     # of the pump's flow counts as flowing back
FILM = 3e-4         # of water over an edge that counts as wet [m]
NEAR = 1e-4         # levels nearer than this exchange water by a straight law, which has a slope where they meet [m]
LEAST_LENGTH = 0.02  # of the water that a fitting moves with it [m]
DREGS = 0.02        # share of a line's water that suction holds back
GALLON_A_MINUTE, INCH = 231 * 0.0254**3 / 60, 0.0254


class Course(Network):
    """What network-table prints with --case."""

    def __init__(self, text):
        self.happenings, self.events, self.moments = [], [], []
        super().__init__(text)

    def read_vessel(self, rest):
        self.nodes[int(rest[0])].update(zip(("area", "area_low", "step"), map(float, rest[1:])))

    def read_air(self, rest):
        self.links[int(rest[0])].update(air=float(rest[1]), contents=[])

    def read_content(self, rest):
        self.links[int(rest[0])]["contents"].append(tuple(map(float, rest[1:])))

    def read_happening(self, rest):
        self.happenings.append((float(rest[0]), int(rest[1]), rest[2], float(rest[3])))

    def read_event(self, rest):
        self.events.append((float(rest[0]), rest[1], int(rest[2])))

    def read_moment(self, rest):
        self.moments.append(tuple(map(float, rest)))


def volume_of(node, level):
    low = min(level, node["step"]) - node["floor"]
    high = level - max(node["step"], node["floor"])
    return max(low, 0) * node["area_low"] + max(high, 0) * node["area"]


def level_of(node, volume):
    low = max(0.0, node["step"] - node["floor"])
    if volume <= low * node["area_low"]:
        return node["floor"] + volume / node["area_low"]
    return node["floor"] + low + (volume - low * node["area_low"]) / node["area"]


def root(head):
    """Of a head, with its sign; smooth within a hundredth of a millimetre."""
    return head / (head**2 + 1e-10) ** 0.25


class Line:
    """A pipe from one vessel to another: a rigid column when full, else a volume of water in it."""

    def __init__(self, net, index, pump=None):
        self.index, self.pump, self.link = index, pump, net.links[index]
        self.start = net.links[pump if pump is not None else index]["from"]
        self.end = self.link["to"]
        self.stretches, self.contents = self.link["stretches"], self.link["contents"]
        self.whole = sum(volume for low, high, volume in self.contents)
        self.heights = sorted({z for low, high, volume in self.contents for z in (low, high)})
        self.volumes = [self.below(z) for z in self.heights]
        area = lambda bore: math.pi / 4 * bore**2
        length = sum(length / area(bore) for bore, length, *_ in self.stretches)
        self.inertia = max(length, LEAST_LENGTH / area(self.stretches[-1][0])) / G
        self.mode, self.shut = "full", False

    def below(self, level):
        return sum(volume * min(max((level - low) / (high - low), 0), 1) for low, high, volume in self.contents)

    def stands(self, content):
        """Level of so much water in the pipes, straight on past both ends."""
        i = min(max(bisect.bisect(self.volumes, content), 1), len(self.volumes) - 1)
        rise = (self.heights[i] - self.heights[i - 1]) / (self.volumes[i] - self.volumes[i - 1])
        return self.heights[i - 1] + rise * (content - self.volumes[i - 1])


class Player:
    """States: volume of every node (the floor is one), then flow and content of every line."""

    def __init__(self, course):
        self.net, self.laws = course, Solver(course)
        links = course.links
        self.plain = [i for i, link in enumerate(links) if link["kind"] in (WEIR, GAP, RIM)]
        self.lines = [Line(course, i) for i, link in enumerate(links) if link["kind"] == DRAIN]
        self.pump = next(i for i, link in enumerate(links) if link["kind"] == PUMP)
        pipe = next(i for i, link in enumerate(links) if link["kind"] == PIPE)
        self.lines.append(Line(course, pipe, self.pump))
        if len(links) != len(self.plain) + len(self.lines) + 1 or links[self.pump]["pump"]["count"] != 1:
            raise ArithmeticError("this build has parts that are not known here")
        self.drains, self.feed = self.lines[:-1], self.lines[-1]
        self.own = links[self.pump]["pump"]["speed"]
        self.power, self.since, self.from_speed = True, -math.inf, self.own
        self.reports, self.pieces = {}, []

    # The states.

    def begin(self):
        level = self.laws.solve()
        y = [0.0 if node["kind"] in (FLOOR, JUNCTION) else volume_of(node, level[i]) for i, node in enumerate(self.net.nodes)]
        for line in self.lines:
            flow = self.laws.flow(line.index, level)
            line.at = len(y)
            content = line.whole
            if line in self.drains and line.index not in self.laws.primed:
                line.mode, tail = "open", line.below(level[line.end])
                rated = self.stack(line, 1)
                content, flow = tail + (flow / rated) ** 0.6 * (line.whole - tail), 0
            y += [flow, content]
        self.pumped = self.laws.flow(self.pump, level)
        return numpy.array(y)

    def levels(self, y):
        return [0.0 if node["kind"] in (FLOOR, JUNCTION) else level_of(node, y[i]) for i, node in enumerate(self.net.nodes)]

    # The pump: affinity laws; standing still, a passage that loses the head of no flow at the end of its curve.

    def speed(self, t):
        left = math.exp(-max(t - self.since, 0) / SPIN)
        target = self.own if self.power else 0.0
        return target + (self.from_speed - target) * left, 0.0 if self.power else 1 - left

    def curve(self, flow):
        curve, last = self.laws.curves[self.pump], self.net.links[self.pump]["points"][-1]
        return float(curve(flow)) if flow <= last[0] else last[1] + float(curve(last[0], 1)) * (flow - last[0])

    def wear(self, speed):
        return self.net.links[self.pump]["pump"]["wear"] * speed**2

    def passage(self):
        """Flow for a root of head."""
        return self.net.links[self.pump]["points"][-1][0] / math.sqrt(self.curve(0))

    def drive(self, t, level, flow):
        """Head that the pump adds to a flow: it sputters as its inlet comes out of the water."""
        speed, standing = self.speed(t)
        wet = max(smoothstep((level - self.net.links[self.pump]["pump"]["inlet"]) / PUMP_FADE), 1e-5)
        if flow <= 0:
            wet += (1 - wet) * standing
            lost, head = (flow / wet / self.passage()) ** 2, self.wear(speed) * self.curve(0)
            return head + lost
        one = flow / wet
        head = self.wear(speed) * self.curve(one / speed) if speed > 1e-9 else 0.0
        return head - standing * (one / self.passage()) ** 2

    def lifts(self, t, level, height):
        """Flow of the pump into a column that stands so high, or back."""
        speed, _ = self.speed(t)
        over = height - level - self.wear(speed) * self.curve(0)
        if over >= 0:
            return -self.passage() * root(over)
        wet = smoothstep((level - self.net.links[self.pump]["pump"]["inlet"]) / PUMP_FADE)
        if speed < 1e-4:
            return -wet * self.passage() * root(over)
        excess = lambda flow: self.wear(speed) * self.curve(flow) - (height - level)
        most = self.net.links[self.pump]["points"][-1][0]
        while excess(most) > 0:
            most *= 2
        return wet * speed * scipy.optimize.brentq(excess, 0, most, xtol=1e-16)

    # The lines.

    def stack(self, line, wetted):
        """Wyly and Eaton, NBS Monograph 31: 27.8 r^(5/3) D^(8/3) US gallons a minute, D in inches."""
        return GALLON_A_MINUTE * 27.8 * max(wetted, 0) ** (5 / 3) * (line.link["inlet"]["bore"] / INCH) ** (8 / 3)

    def drain_flows(self, line, level):
        """What an open drain's inlet lets in, and what its pipe carries full."""
        inlet = inlet_flow(line.link, level[line.start])
        head = level[line.start] - max(level[line.end], line.link["sill"])
        return inlet, run_flow(line.stretches, head, self.net.water) if inlet > 0 and head > 0 else 0.0

    def open_drain(self, line, level, content):
        """Into it and out of it."""
        into = min(self.drain_flows(line, level))
        if line.mode == "swept":
            return into, SWEPT_SHARE * into
        tail = line.below(level[line.end])
        moving = content - tail
        if moving <= 0:
            return into, moving / TAIL_TIME
        return into, self.stack(line, moving / max(line.whole - tail, 0.01 * line.whole))

    def urge(self, line, inlet, full, flow):
        """1: the water closes the pipe, as it backs up or sweeps the air away (Froude number 1; Hills 1983)."""
        if min(inlet, full, flow) <= 0:
            return 0.0
        bore = line.link["inlet"]["bore"]
        froude = min(inlet, flow) / (math.pi / 4 * bore**2 * math.sqrt(G * bore))
        return max(froude, inlet / (BACKED_UP * full))

    def push(self, line, t, level, flow):
        """Head that speeds a full column up."""
        head = level[line.start] - max(level[line.end], line.link["sill"])
        if line.pump is not None:
            head += self.drive(t, level[line.start], flow)
        lost = run_loss(line.stretches, abs(flow), self.net.water) if abs(flow) > 1e-15 else 0.0
        return head - math.copysign(lost, flow)

    def exchange(self, index, level):
        """Flow over an edge or through a gap."""
        link = self.net.links[index]
        over = level[link["from"]] - level[link["to"]]
        if link["kind"] == RIM or abs(over) >= NEAR:
            return self.laws.flow(index, level)
        middle = (level[link["from"]] + level[link["to"]]) / 2
        return over / NEAR * self.laws.flow(index, {link["from"]: middle + NEAR / 2, link["to"]: middle - NEAR / 2})

    def rates(self, t, y):
        level, rate = self.levels(y), numpy.zeros(len(y))

        def move(start, end, flow):
            rate[start] -= flow
            rate[end] += flow

        for index in self.plain:
            link = self.net.links[index]
            move(link["from"], link["to"], self.exchange(index, level))
        for line in self.lines:
            flow, content = y[line.at], y[line.at + 1]
            if line.shut:
                continue
            if line.mode == "full":
                move(line.start, line.end, flow)
                rate[line.at] = self.push(line, t, level, flow) / line.inertia
            elif line is self.feed:
                flow = self.lifts(t, level[line.start], line.stands(content))
                move(line.start, line.at + 1, flow * (min(max(content / (DREGS * line.whole), 0), 1) if flow < 0 else 1))
            else:
                into, out = self.open_drain(line, level, content)
                move(line.start, line.at + 1, into)
                move(line.at + 1, line.end, out)
        return rate

    # The events: each a value that falls through 0, and what happens then. Returned with a name, or None when it has none.

    def watch_drain(self, line):
        def value(t, y):
            level, flow = self.levels(y), y[line.at]
            if line.mode == "full":
                over = (level[line.start] - line.link["inlet"]["brink"]) / 1e-3
                return max(over, self.urge(line, inlet_flow(line.link, level[line.start]), flow, flow) - GIVES_UP)
            inlet, full = self.drain_flows(line, level)
            urge = self.urge(line, inlet, full, min(inlet, full))
            if line.mode == "swept":
                return min(1 - y[line.at + 1] / line.whole, urge - GIVES_UP)
            return 1 - urge

        def act(t, y):
            if line.mode == "full":
                line.mode, y[line.at] = "open", 0.0
                return "breaks"
            if line.mode == "open" and y[line.at + 1] < line.whole:
                line.mode = "swept"
            elif y[line.at + 1] >= line.whole * (1 - 1e-6):
                line.mode, y[line.at] = "full", min(self.drain_flows(line, self.levels(y)))
                return "primes"
            else:
                line.mode = "open"
            return None

        return value, act, line.index

    def watch_feed(self):
        line = self.feed

        def value(t, y):
            if line.mode == "open":
                return 1 - y[line.at + 1] / line.whole
            over = self.levels(y)[line.end] - max(line.link["sill"], line.link["air"])
            back = BACKFLOW * self.pumped * min(max(1 + over / 1e-3, 0.1), 1)
            return max(1 + y[line.at] / back, over / 1e-3)

        def act(t, y):
            if line.mode == "full":
                line.mode, y[line.at] = "open", 0.0
                return "air-in-return"
            level = self.levels(y)
            line.mode, y[line.at] = "full", self.lifts(t, level[line.start], line.stands(y[line.at + 1]))
            return "return-full"

        return value, act, line.index

    def watch_check(self):
        line = self.feed

        def value(t, y):
            if not line.shut:
                return 1 + y[line.at] / (BACKFLOW * self.pumped)
            level = self.levels(y)
            return 1 + (level[line.end] - level[line.start] - self.drive(t, level[line.start], 0.0)) / 1e-3

        def act(t, y):
            line.shut, y[line.at] = not line.shut, 0.0

        return value, act, line.index

    def watch_level(self, node, index, over, under, on, off, last=False):
        """Reports `on` when the level rises over a height, and `off` when it falls under another."""
        is_on = self.reports.setdefault(on + str(index), [None])

        def value(t, y):
            level = self.levels(y)[node]
            if is_on[0] is None:
                is_on[0] = level > over
            return (level - under if is_on[0] else over - level) / 1e-3 if not (last and is_on[0]) else 1.0

        def act(t, y):
            is_on[0] = not is_on[0]
            return on if is_on[0] else off

        return value, act, index

    def watches(self):
        found = [self.watch_feed()]
        found += [self.watch_drain(line) for line in self.drains if not line.link["inlet"]["vented"] and not line.shut]
        if self.feed.link["one_way"]:
            found.append(self.watch_check())
        for index, link in enumerate(self.net.links):
            start, sill = link["from"], link["sill"]
            if link["kind"] == DRAIN:
                crest = link["inlet"]["crest"]
                found.append(self.watch_level(start, index, crest + FILM, crest + FILM / 2, "inlet-wet", "inlet-dry"))
            elif link["kind"] == RIM:
                found.append(self.watch_level(start, start, sill, sill, "over-rim", None, last=True))
            elif link["kind"] == WEIR and start == int(self.net.display):
                found.append(self.watch_level(start, index, sill + FILM, sill + FILM / 2, "weir-wet", "weir-dry"))
            elif link["kind"] == PUMP and self.power:
                low = link["pump"]["inlet"] + PUMP_FADE
                found.append(self.watch_level(start, index, low + 0.002, low, "pump-covered", "pump-air"))
        return found

    # Time.

    def happen(self, t, kind, part, value):
        """Returns what it leads to at once."""
        if kind in (POWER_OFF, POWER_ON):
            now = self.speed(t)[0]
            self.power, self.since, self.from_speed = kind == POWER_ON, t, now
            return []
        if kind == CHECK_STICKS:
            self.feed.link["one_way"] = False
            return []
        line = next(line for line in self.drains if line.link["id"] == part)
        if kind != CHANGE or value != 1:
            raise ArithmeticError("only a drain that is blocked altogether is known here")
        line.shut = True
        if line.mode != "full":
            return []
        line.mode, self.now[line.at] = "open", 0.0
        return [(t, "breaks", line.index)]

    def integrate(self, t, y, stop):
        """From one happening to the next, event by event."""
        scale = numpy.full(len(y), 1e-9)
        while t < stop:
            watches = self.watches()
            values = []
            for value, act, index in watches:
                event = lambda t, y, value=value: value(t, y)
                event.terminal, event.direction = True, -1
                values.append(event)
            with numpy.errstate(over="ignore"):  # scipy's steps for states that change nothing
                done = scipy.integrate.solve_ivp(self.rates, (t, stop), y, method="Radau", rtol=1e-8, atol=scale,
                                                 events=values, dense_output=True)
            if not done.success:
                raise ArithmeticError(f"scipy stops at {done.t[-1]:.3f} s: {done.message}")
            self.pieces.append((t, done.sol))
            t, y = done.t[-1], done.y[:, -1].copy()
            for found, (value, act, index) in zip(done.t_events, watches):
                name = act(t, y) if len(found) else None
                if name:
                    yield t, name, index
        self.now = y

    def play(self):
        """All events."""
        self.now, t, events = self.begin(), 0.0, []
        for i, (at, *happening) in enumerate([*self.net.happenings, (self.net.length,)]):
            events += self.integrate(t, self.now, at)
            t = at
            if happening:
                events.append((at, "happening", i))
                events += self.happen(at, *happening)
        return events

    def state(self, t):
        """Levels by node, and the water on the floor."""
        piece = max(bisect.bisect([begin for begin, _ in self.pieces], t) - 1, 0)
        y = self.pieces[piece][1](t)
        return self.levels(y), y[int(self.net.floor)]


def read(table, build, case):
    done = subprocess.run([table, build, "--case", case], check=True, capture_output=True, text=True)
    return Course(done.stdout)


def miss_of_levels(course, player):
    """Greatest miss of a level [m], its vessel and second; greatest miss of the water on the floor [m3]."""
    worst, spilt = (0.0, "", 0), 0.0
    for second, on_floor, *theirs in course.moments:
        level, floor = player.state(second)
        spilt = max(spilt, abs(floor - on_floor))
        for i, node in enumerate(course.nodes):
            if node["kind"] not in (FLOOR, JUNCTION):
                worst = max(worst, (abs(level[i] - theirs[i]), node["id"], int(second)))
    return worst, spilt


def by_kind(events, dry):
    return sorted((name, index, at) for at, name, index in events if name.endswith("-dry") == dry)


def miss_of_events(course, events):
    """Greatest miss of an event's time as a share of the time since the last happening; infinite where one is missing."""
    ours, theirs = by_kind(events, False), by_kind(course.events, False)
    if [event[:2] for event in ours] != [event[:2] for event in theirs]:
        return math.inf, f"events are {ours} against {theirs}"
    worst = (0.0, "no event")
    for (name, index, at), (*_, other) in zip(ours, theirs):
        since = at - max((happening[0] for happening in course.happenings if happening[0] < at), default=0.0)
        worst = max(worst, (abs(at - other) / max(since, 1e-9), f"{name} at {at:.2f} s"))
    return worst


def miss_of_dry_edges(course, player, events):
    """How far off our level is where they say that an edge has run dry [m]; infinite where they miss one."""
    ours, theirs = by_kind(events, True), by_kind(course.events, True)
    if not {event[:2] for event in ours} <= {event[:2] for event in theirs}:
        return math.inf
    worst = 0.0
    for name, index, at in theirs:
        link = course.links[index]
        edge = link["inlet"]["crest"] if name == "inlet-dry" else link["sill"]
        worst = max(worst, abs(player.state(at)[0][link["from"]] - edge - FILM / 2))
    return worst


def compare(course):
    player = Player(course)
    events = player.play()
    (level, vessel, second), spilt = miss_of_levels(course, player)
    (share, event), dry = miss_of_events(course, events), miss_of_dry_edges(course, player, events)
    good = (level <= LEVEL_TOLERANCE and share <= EVENT_TOLERANCE and dry <= DRY_TOLERANCE
            and spilt <= FLOOR_TOLERANCE)
    return good, (f"levels within {level * 1e3:.2g} mm ({vessel}, {second} s), {len(events)} events within "
                  f"{share * 100:.2g} % ({event}), dry edges within {dry * 1e3:.2g} mm, floor within {spilt * 1e3:.2g} L")


def show_time(table, build, case):
    course = read(table, build, case)
    begin = time.perf_counter()
    Player(course).play()
    theirs = time.perf_counter() - begin
    print(f"{case} of {build.rsplit('/', 1)[-1]}: {course.seconds * 1e3:.1f} ms here, {theirs:.1f} s in Python with scipy's "
          f"Radau: {theirs / course.seconds:.0f} times as long")


def main():
    if sys.argv[1] == "--time":
        show_time(*sys.argv[2:5])
        return
    table, *rest = sys.argv[1:]
    cases = list(zip(rest[::2], rest[1::2]))
    print(f"1..{len(cases)}")
    for number, (build, case) in enumerate(cases, 1):
        try:
            good, said = compare(read(table, build, case))
        except ArithmeticError as error:
            good, said = False, str(error)
        print(f"{'ok' if good else 'not ok'} {number} - {build.rsplit('/', 1)[-1]} {case}: {said}", flush=True)


if __name__ == "__main__":
    main()
