# SPDX-License-Identifier: GPL-3.0-or-later
"""Plays cases of builds a second time: the equations of motion spelled out anew in Python, with the laws of
steady_state.py, integrated by scipy's Radau from the running state that steady_state.py finds.

    simulation.py NETWORK-TABLE BUILD CASE [BUILD CASE…]   TAP: every level at every second within 0.1 mm, events within 0.5 %
    simulation.py --time NETWORK-TABLE BUILD CASE          how long both programs take

It knows one return line with nozzles that draw air together, drains with one tee at most, and a top-off. Which pieces a
line has is read from the network.
"""

import bisect
import math
import subprocess
import sys
import time

from steady_state import (DRAIN, FLOOR, G, GAP, JUNCTION, PUMP, RIM, WEIR, Network, Solver, inlet_flow,
                          smoothstep)
from pipes import Line

import numpy
import scipy.integrate
import scipy.optimize

LEVEL_TOLERANCE = 1e-4
EVENT_TOLERANCE = 5e-3  # of the time since the last happening
# An edge runs dry so slowly that the time of it means nothing: there the level at that time is compared.
DRY_TOLERANCE = 5e-5
FLOOR_TOLERANCE = 1e-5  # [m3]
POWER_OFF, POWER_ON, CHANGE, BLOCK_HOLE, CHECK_STICKS, TOP_OFF_STICKS = range(6)
SPIN = 1.0          # a pump's speed nears where it goes by e in this time [s] (common practice)
PUMP_FADE = 0.010   # depth over its inlet within which a pump sputters, and air is reported [m]
TAIL_TIME = 0.3     # in which rising water fills the end of a drain [s]
SWEPT_SHARE = 0.5   # of what comes into a filling drain that goes on through it
BACKED_UP, GIVES_UP = 0.999, 0.97  # of the full bore: backs up; gives up again
BACKFLOW = 0.01     # of the pump's flow counts as flowing back
FILM = 3e-4         # of water over an edge that counts as wet [m]
NEAR = 1e-4         # levels nearer than this exchange water by a straight law, which has a slope where they meet [m]
LEAST_SHARED = 1e-6  # with less the ends of a drain share as with this [m3/s]
SHALLOW = 0.005     # depth within which what is taken from a reservoir fades; it counts as empty from there on [m]
FLOAT_BAND = 0.002  # fall of the level at which the float calls (common practice) [m]
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


class Player:
    """States: volume of every node (the floor is one), then the flows of every line's ends and its content."""

    def __init__(self, course):
        self.net, self.laws = course, Solver(course)
        links = course.links
        self.plain = [i for i, link in enumerate(links) if link["kind"] in (WEIR, GAP, RIM)]
        self.drains = [Line(course, i) for i, link in enumerate(links) if link["kind"] == DRAIN]
        self.pump = next(i for i, link in enumerate(links) if link["kind"] == PUMP)
        self.feed = Line(course, self.pump)
        self.lines = self.drains + [self.feed]
        known = len(self.plain) + sum(len(line.sections) for line in self.lines)
        if len(links) != known or links[self.pump]["pump"]["count"] != 1 or any(
                len(way) > 2 for line in self.drains for way in line.ways):
            raise ArithmeticError("this build has parts that are not known here")
        self.own = links[self.pump]["pump"]["speed"]
        self.power, self.since, self.from_speed = True, -math.inf, self.own
        self.chamber, self.reservoir = int(getattr(course, "return")), int(course.reservoir)
        self.topping = self.stuck = False
        self.reports, self.pieces = {}, []

    # The states.

    def begin(self):
        level = self.laws.solve()
        y = [0.0 if node["kind"] in (FLOOR, JUNCTION) else volume_of(node, level[i])
             for i, node in enumerate(self.net.nodes)]
        for line in self.lines:
            flows = [self.laws.flow(way[-1], level) for way in line.ways]
            line.at, line.shares = len(y), [flow / sum(flows) if sum(flows) else 1 / line.n for flow in flows]
            content = line.whole
            if line in self.drains and line.root not in self.laws.primed:
                line.mode, tail, flow = "open", line.tail(level), self.laws.flow(line.root, level)
                content = tail + (flow / self.stack(line, 1)) ** 0.6 * (line.whole - tail)
                flows = [0.0] * line.n
            y += [*flows, content]
        self.pumped, self.float = self.laws.flow(self.pump, level), level[self.chamber]
        return numpy.array(y)

    def levels(self, y):
        return [0.0 if node["kind"] in (FLOOR, JUNCTION) else level_of(node, y[i])
                for i, node in enumerate(self.net.nodes)]

    def flows(self, line, y):
        return y[line.at:line.at + line.n]

    def content(self, line, y):
        return y[line.at + line.n]

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

    def open_drain(self, line, level, content):
        """Into it, and out of each end. A blocked one only runs out."""
        inlet = 0.0 if line.shut else inlet_flow(line.link, level[line.start])
        into, out = min(inlet, line.carries(level)) if inlet > 0 else 0.0, 0.0
        if line.mode == "swept":
            out, sharing = SWEPT_SHARE * into, into
        else:
            tail = line.tail(level)
            moving = content - tail
            wetted = moving / max(line.whole - tail, 0.01 * line.whole)
            out = moving / TAIL_TIME if moving <= 0 else self.stack(line, wetted)
            sharing = max(into, out)
        return into, [share * out for share in line.share(level, max(sharing, LEAST_SHARED))]

    def urge(self, line, inlet, full, flow):
        """1: the water closes the pipe, as it backs up or sweeps the air away (Froude number 1; Hills 1983)."""
        if min(inlet, full, flow) <= 0:
            return 0.0
        bore = line.link["inlet"]["bore"]
        froude = min(inlet, flow) / (math.pi / 4 * bore**2 * math.sqrt(G * bore))
        return max(froude, inlet / (BACKED_UP * full))

    def push(self, line, t, level, flows):
        """How fast the flows of a full line's ends grow."""
        through = {index: sum(flows[e] for e in behind) for index, behind in line.behind.items()}
        lost = {index: line.runs[index].loss(flow) for index, flow in through.items()}
        head = level[line.start]
        if line.pump is not None:
            head += self.drive(t, level[line.start], through[line.pump])
        heads = [head - low - sum(lost[index] for index in way) for way, low in zip(line.ways, line.lows(level))]
        return line.per_inertia @ numpy.array(heads)

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
        if self.topping and self.power:
            depth = level[self.reservoir] - self.net.nodes[self.reservoir]["floor"]
            move(self.reservoir, self.chamber, self.net.top_off * smoothstep(depth / SHALLOW))
        for line in self.lines:
            flows, content, at = self.flows(line, y), self.content(line, y), line.at + line.n
            if line.shut and line is self.feed:
                continue
            if line.mode == "full":
                for end, flow in zip(line.ends, flows):
                    move(line.start, end["to"], flow)
                rate[line.at:at] = self.push(line, t, level, flows)
            elif line is self.feed:
                flow = self.lifts(t, level[line.start], line.stands(content))
                move(line.start, at, flow * (min(max(content / (DREGS * line.whole), 0), 1) if flow < 0 else 1))
            else:
                into, out = self.open_drain(line, level, content)
                move(line.start, at, into)
                for end, flow in zip(line.ends, out):
                    move(at, end["to"], flow)
        return rate

    # The events: each a value that falls through 0, and what happens then: names of events and what they befall.

    def settle(self, line, y, mode, flow=0.0):
        line.mode, y[line.at:line.at + line.n] = mode, [flow * share for share in line.shares]

    def watch_drain(self, line):
        def value(t, y):
            level, flow = self.levels(y), sum(self.flows(line, y))
            inlet = inlet_flow(line.link, level[line.start])
            if line.mode == "full":
                over = (level[line.start] - line.link["inlet"]["brink"]) / 1e-3
                return max(over, self.urge(line, inlet, flow, flow) - GIVES_UP)
            full = line.carries(level) if inlet > 0 else 0.0
            urge = self.urge(line, inlet, full, min(inlet, full))
            if line.mode == "swept":
                return min(1 - self.content(line, y) / line.whole, urge - GIVES_UP)
            return 1 - urge

        def act(t, y):
            content, level = self.content(line, y), self.levels(y)
            if line.mode == "full":
                self.settle(line, y, "open")
                return [("breaks", line.root)]
            if line.mode == "open" and content < line.whole:
                line.mode = "swept"
            elif content >= line.whole * (1 - 1e-6):
                into = min(inlet_flow(line.link, level[line.start]), line.carries(level))
                line.shares = line.share(level, max(into, LEAST_SHARED))
                self.settle(line, y, "full", into)
                return [("primes", line.root)]
            else:
                line.mode = "open"
            return []

        return value, act

    def watch_feed(self):
        line = self.feed

        def over(level, end):
            return level[end["to"]] - max(end["sill"], end["air"])

        def value(t, y):
            if line.mode == "open":
                return 1 - self.content(line, y) / line.whole
            level = self.levels(y)
            back = lambda end: BACKFLOW * self.pumped * min(max(1 + over(level, end) / 1e-3, 0.1), 1)
            return min(max(1 + flow / back(end), over(level, end) / 1e-3)
                       for flow, end in zip(self.flows(line, y), line.ends))

        def act(t, y):
            level, indices = self.levels(y), [way[-1] for way in line.ways]
            if line.mode == "full":
                if max(over(level, end) for end in line.ends) > 1e-6:
                    raise ArithmeticError("one nozzle that draws air before the others is not known here")
                self.settle(line, y, "open")
                return [("air-in-return", index) for index in indices]
            self.settle(line, y, "full", self.lifts(t, level[line.start], line.stands(self.content(line, y))))
            return [("return-full", index) for index in indices]

        return value, act

    def watch_check(self):
        line = self.feed

        def value(t, y):
            if not line.shut:
                return 1 + y[line.at] / (BACKFLOW * self.pumped)
            level = self.levels(y)
            return 1 + (line.lows(level)[0] - level[line.start] - self.drive(t, level[line.start], 0.0)) / 1e-3

        def act(t, y):
            line.shut, y[line.at] = not line.shut, 0.0
            return []

        return value, act

    def watch_float(self):
        def value(t, y):
            over = self.levels(y)[self.chamber] - self.float
            return (-over if self.topping else over + FLOAT_BAND) / 1e-3

        def act(t, y):
            self.topping = not self.topping
            return [("float-calls" if self.topping else "float-rests", self.chamber)]

        return value, act

    def watch_level(self, node, index, over, under, on, off, last=False):
        """Reports `on` when the level rises over a height, and `off` when it falls under another."""
        is_on = self.reports.setdefault((on, off, index), [None])

        def value(t, y):
            level = self.levels(y)[node]
            if is_on[0] is None:
                is_on[0] = level > over
            return (level - under if is_on[0] else over - level) / 1e-3 if not (last and is_on[0]) else 1.0

        def act(t, y):
            is_on[0] = not is_on[0]
            name = on if is_on[0] else off
            return [(name, index)] if name else []

        return value, act

    def watches(self):
        found = [self.watch_feed()]
        found += [self.watch_drain(line) for line in self.drains if not line.link["inlet"]["vented"] and not line.shut]
        if any(end["one_way"] for end in self.feed.ends):
            found.append(self.watch_check())
        if self.reservoir < len(self.net.nodes):
            low = self.net.nodes[self.reservoir]["floor"] + SHALLOW
            found.append(self.watch_level(self.reservoir, self.reservoir, low + 0.002, low, None, "reservoir-empty"))
            if self.power and not self.stuck:
                found.append(self.watch_float())
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
        if kind == TOP_OFF_STICKS:
            self.topping = self.stuck = True
            return []
        if kind in (CHECK_STICKS, BLOCK_HOLE):
            for end in self.feed.ends:
                end.update({"one_way": False} if kind == CHECK_STICKS else {"air": -math.inf})
            return []
        line = next(line for line in self.drains if line.link["id"] == part)
        if kind != CHANGE or value != 1:
            raise ArithmeticError("only a drain that is blocked altogether is known here")
        was, line.mode, line.shut = line.mode, "open", True
        if was != "full":
            return []
        self.settle(line, self.now, "open")
        return [(t, "breaks", line.root)]

    def integrate(self, t, y, stop):
        """From one happening to the next, event by event."""
        scale = numpy.full(len(y), 1e-9)
        while t < stop:
            watches = self.watches()
            values = []
            for value, act in watches:
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
            for found, (value, act) in zip(done.t_events, watches):
                for event in act(t, y) if len(found) else []:
                    yield t, *event
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
