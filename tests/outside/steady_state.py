# SPDX-License-Identifier: GPL-3.0-or-later
"""Solves the running state of builds a second time: the published laws spelled out anew in Python, friction by
fluids, roots by scipy.

    steady_state.py NETWORK-TABLE BUILD…           TAP: levels within 0.1 mm, flows within 0.1 %
    steady_state.py --time NETWORK-TABLE BUILD     how long both programs take

What pieces a line has, and the K of each, is read from the network; everything that happens to the water is not.
"""

import math
import statistics
import subprocess
import sys
import time

try:
    import fluids
    import numpy
    import scipy.optimize
except ImportError as missing:
    print(f"1..0 # SKIP {missing.name} is not installed")
    sys.exit(0)

G = 9.80665
ORIFICE = 0.6  # sharp-edged hole
JUNCTION, FLOOR = 6, 5
BOX, CHAMBER, SOCK_INSIDE, VESSEL = 1, 2, 3, 4
WEIR, GAP, DRAIN, PIPE, PUMP, RIM, JOINT, SOCK = range(8)
SIPHON = 1
LEVEL_TOLERANCE = 1e-4
FLOW_TOLERANCE = 1e-3


class Network:
    """The numbers that network-table prints."""

    def __init__(self, text):
        self.nodes, self.links = [], []
        for line in text.splitlines():
            word, *rest = line.split(",")
            read = getattr(self, "read_" + word, None)
            if read:
                read(rest)
            else:
                setattr(self, word, float(rest[0]))

    def read_node(self, rest):
        kind, name, *numbers = rest
        floor, rim, level = map(float, numbers)
        self.nodes.append({"kind": int(kind), "id": name, "floor": floor, "rim": rim, "level": level})

    def read_link(self, rest):
        kind, name, start, end, share, sill, shut, one_way, flow = rest
        self.links.append({"kind": int(kind), "id": name, "from": int(start), "to": int(end), "share": float(share),
                           "sill": float(sill), "shut": shut == "1", "one_way": one_way == "1", "flow": float(flow),
                           "stretches": [], "points": []})

    def read_weir(self, rest):
        names = ("length", "height", "thickness", "slots", "slot_width", "slot_depth", "open")
        self.links[-1]["weir"] = dict(zip(names, map(float, rest)))

    def read_gap(self, rest):
        self.links[-1]["gap"] = dict(zip(("area", "floor"), map(float, rest)))

    def read_inlet(self, rest):
        names = ("role", "vented", "crest", "brink", "bore", "rim")
        self.links[-1]["inlet"] = dict(zip(names, map(float, rest)))

    def read_joint(self, rest):
        self.links[-1]["joint"] = dict(zip(("count", "bore", "siphon"), map(float, rest)))

    def read_sock(self, rest):
        names = ("perimeter", "bottom", "top", "bottom_area", "conductance", "load")
        self.links[-1]["sock"] = dict(zip(names, map(float, rest)))

    def read_pump(self, rest):
        self.links[-1]["pump"] = dict(zip(("count", "speed", "wear", "inlet"), map(float, rest)))

    def read_point(self, rest):
        self.links[-1]["points"].append(tuple(map(float, rest)))

    def read_stretch(self, rest):
        self.links[-1]["stretches"].append(tuple(map(float, rest)))


# Weirs: Kindsvater and Carter 1957, coefficients as the USBR Water Measurement Manual rounds them. The extra millimetre of
# head comes in over the first three.
CONTRACTION = numpy.array([
    # crest over channel width, Ce at no approach, its rise with h/p, extra width
    [0.0, 0.587, -0.0023, 0.0024], [0.2, 0.589, -0.0018, 0.0024], [0.4, 0.591, 0.0058, 0.0027],
    [0.5, 0.592, 0.0110, 0.0030], [0.6, 0.593, 0.0180, 0.0036], [0.7, 0.595, 0.0300, 0.0041],
    [0.8, 0.596, 0.0450, 0.0042], [0.9, 0.598, 0.0640, 0.0035], [1.0, 0.602, 0.0750, -0.0009]])


def smoothstep(x):
    x = min(max(x, 0.0), 1.0)
    return x * x * (3 - 2 * x)


def free_weir(width, share, crest_height, thickness, head):
    if head <= 0:
        return 0.0
    base, rise, extra = (numpy.interp(share, CONTRACTION[:, 0], CONTRACTION[:, i]) for i in (1, 2, 3))
    extra *= min(1.0, width / 0.15)
    ratio = head / crest_height if crest_height > 0 else 0.0
    ratio /= (1 + (ratio / 2) ** 4) ** 0.25  # the tests end at 2
    thick = 1 - 2 / 9 / (1 + (head / thickness) ** 4) if thickness > 0 else 1.0
    effective = head + 0.001 * smoothstep(head / 0.003)
    return 2 / 3 * (base + rise * ratio) * math.sqrt(2 * G) * (width + extra) * effective**1.5 * thick


def drowned_weir(up, down, free):
    """Villemonte 1947, both ways."""
    if up < down:
        return -drowned_weir(down, up, free)
    if up <= 0:
        return 0.0
    gone = 1 - (max(down, 0.0) / up) ** 1.5
    # Where the levels meet the published law has no slope: a straight line over the last thousandth, near enough here.
    share = gone**0.385 if gone > 1e-3 else gone * 1e-3 ** (0.385 - 1)
    return free(up) * share


def weir_flow(weir, up, down):
    if weir["slots"] == 0:
        return drowned_weir(up, down, lambda h: free_weir(weir["length"] * weir["open"], 1, weir["height"],
                                                          weir["thickness"], h))
    pitch = weir["length"] / weir["slots"]
    width, depth, count = min(weir["slot_width"], pitch), weir["slot_depth"], weir["slots"] * weir["open"]
    slot = lambda h: count * free_weir(width, width / pitch, weir["height"], weir["thickness"], h)
    top = lambda h: free_weir(weir["length"], 1, weir["height"] + depth, weir["thickness"], h)
    return (drowned_weir(up, down, slot) - drowned_weir(up - depth, down - depth, slot)
            + drowned_weir(up - depth, down - depth, top))


def gap_flow(link, up, down):
    low = link["gap"]["floor"]
    up, down = max(up, low), max(down, low)
    height = link["gap"]["area"] / link["weir"]["length"]
    share = min(1.0, (max(up, down) - low) / height)
    return share * ORIFICE * link["gap"]["area"] * math.copysign(math.sqrt(2 * G * abs(up - down)), up - down)


def friction_group(reynolds, roughness):
    """f Re^2: laminar, Colebrook, and a cubic between them with the slopes of both."""
    turbulent = lambda re: fluids.friction.Colebrook(re, roughness) * re**2
    if reynolds <= 2000:
        return 64 * reynolds
    if reynolds >= 4000:
        return turbulent(reynolds)
    low, high, step = 64 * 2000, turbulent(4000), 0.5
    rise = (turbulent(4000 + step) - turbulent(4000 - step)) / (2 * step)
    x = (reynolds - 2000) / 2000
    return ((2 * x**3 - 3 * x**2 + 1) * low + (x**3 - 2 * x**2 + x) * 2000 * 64
            + (3 * x**2 - 2 * x**3) * high + (x**3 - x**2) * 2000 * rise)


def run_loss(stretches, flow, viscosity):
    """Darcy and Weisbach, K and K1/Re, for a flow above 0."""
    loss = 0.0
    for bore, length, roughness, k, k1 in stretches:
        speed = flow / (math.pi / 4 * bore**2)
        reynolds = speed * bore / viscosity
        f = friction_group(reynolds, roughness / bore) / reynolds**2 if length > 0 else 0.0
        loss += (f * length / bore + max(k, 0.0) + k1 / reynolds) * speed**2 / (2 * G)
    return loss


def run_flow(stretches, head, viscosity):
    if head == 0 or any(math.isinf(stretch[3]) for stretch in stretches):
        return 0.0
    least, most = 1e-12, 1e-3
    excess = lambda q: run_loss(stretches, q, viscosity) - abs(head)
    if excess(least) >= 0:
        return head / run_loss(stretches, least, viscosity) * least
    while excess(most) < 0:
        most *= 10
    flow = scipy.optimize.brentq(excess, least, most, xtol=1e-15)
    return math.copysign(flow, head)


def inlet_flow(link, level):
    """The lesser of crest and orifice; the corner between them rounded over a third of the head either side."""
    head, inlet = level - link["inlet"]["crest"], link["inlet"]
    if head <= 0:
        return 0.0
    crest = 1.84 * math.pi * max(inlet["rim"], inlet["bore"])
    orifice = ORIFICE * math.pi / 4 * inlet["bore"] ** 2 * math.sqrt(2 * G)
    place, band = math.log(head * crest / orifice), math.log(1.3)
    if abs(place) >= band:
        return link["share"] * min(crest * head**1.5, orifice * head**0.5)
    return link["share"] * crest * head**1.5 * math.exp(-((place + band) ** 2) / (4 * band))


def joint_flow(link, up, down, viscosity):
    """Full pipes side by side, each way; a bulkhead by the share of its circle that stands in water."""
    joint, sill = link["joint"], link["sill"]
    up, down = max(up, sill), max(down, sill)
    depth = min(max(up, down) - sill, joint["bore"])
    if depth <= 0 or link["shut"]:
        return 0.0
    half = math.acos(1 - 2 * depth / joint["bore"])
    share = smoothstep(depth / joint["bore"]) if joint["siphon"] else (half - math.sin(2 * half) / 2) / math.pi
    return share * joint["count"] * link["share"] * run_flow(link["stretches"], up - down, viscosity)


def sock_flow(sock, inside, outside):
    """Speed through the cloth in proportion to the head at each height (Darcy), from half a millimetre over its end on."""
    def reach(level):
        depth = max(level - sock["bottom"] - 0.0005, 0.0)
        wet = min(depth, sock["top"] - sock["bottom"])
        return sock["bottom_area"] * depth + sock["perimeter"] * (depth**2 - (depth - wet) ** 2) / 2

    return sock["conductance"] * (1 - sock["load"]) * (reach(inside) - reach(outside))


def pump_curve(points):
    return scipy.interpolate.PchipInterpolator(*map(numpy.array, zip(*points)))


class Solver:
    def __init__(self, network):
        self.net = network
        held = {int(network.floor), int(getattr(network, "return")), int(network.reservoir)}
        self.free = [i for i in range(len(network.nodes)) if i not in held]
        self.primed = {i for i, link in enumerate(network.links)
                       if link["kind"] == DRAIN and link["inlet"]["role"] == SIPHON}
        self.curves = {i: pump_curve(link["points"]) for i, link in enumerate(network.links) if link["kind"] == PUMP}

    def flow(self, index, level):
        link = self.net.links[index]
        up, down = level[link["from"]], level[link["to"]]
        kind, sill = link["kind"], link["sill"]
        if kind == WEIR:
            return weir_flow(link["weir"], up - sill, down - sill)
        if kind == RIM:
            return weir_flow(link["weir"], up - sill, -1)
        if kind == GAP:
            return gap_flow(link, up, down)
        if kind == JOINT:
            return joint_flow(link, up, down, self.net.water)
        if kind == SOCK:
            return sock_flow(link["sock"], up, down)
        if kind == PUMP:
            return self.pump_flow(index, link, down - up)
        head = up - max(down, sill)
        if link["shut"] or (head <= 0 and (kind == DRAIN or link["one_way"] or down <= sill)):
            return 0.0
        full = run_flow(link["stretches"], head, self.net.water)
        if kind == PIPE:
            return full * (1.0 if head > 0 else smoothstep((down - sill) / 0.010))
        return full if index in self.primed else min(full, inlet_flow(link, up))

    def pump_flow(self, index, link, head):
        """Affinity laws on scipy's monotone cubic; straight on behind the last point. Equal pumps share the flow."""
        speed, curve, last = link["pump"]["speed"], self.curves[index], link["points"][-1][0]
        wanted = head / (link["pump"]["wear"] * speed**2)
        end_slope = float(curve(last, 1))
        at = lambda q: float(curve(q)) if q <= last else link["points"][-1][1] + end_slope * (q - last)
        if wanted >= at(link["points"][0][0]):
            return 0.0
        flow = scipy.optimize.brentq(lambda q: at(q) - wanted, link["points"][0][0], 50 * last, xtol=1e-16)
        return link["pump"]["count"] * speed * flow

    def start(self):
        """Display and boxes a little over their edges, chambers over their baffles from the pump outwards."""
        nodes, links = self.net.nodes, self.net.links
        level = [node["floor"] if math.isfinite(node["floor"]) else 0.0 for node in nodes]
        centre = int(getattr(self.net, "return"))
        level[centre] = self.net.kept
        chambers = [i for i, node in enumerate(nodes) if node["kind"] == CHAMBER]
        place = chambers.index(centre)
        for outwards in (chambers[place::-1], chambers[place:]):
            for inner, outer in zip(outwards, outwards[1:]):
                wall = next((link["sill"] for link in links if link["kind"] == WEIR
                             and {link["from"], link["to"]} == {inner, outer}), 0.0)
                passage = any(link["kind"] == GAP and {link["from"], link["to"]} == {inner, outer} for link in links)
                level[outer] = level[inner] + 1e-3 if passage else max(level[inner] + 1e-3, wall + 0.015)
        if int(self.net.reservoir) < len(nodes):
            level[int(self.net.reservoir)] = nodes[int(self.net.reservoir)]["level"]  # the planner's; nothing flows there
        display = int(self.net.display)
        level[display] = min([link["sill"] for link in links if link["kind"] == WEIR and link["from"] == display]) + 0.02
        for link in links:
            if link["kind"] == DRAIN:
                level[link["from"]] = max(level[link["from"]], link["inlet"]["crest"] + 0.03)
        for link in links:
            if link["kind"] == JOINT:
                level[link["from"]] = max(level[link["to"]], link["sill"] + link["joint"]["bore"]) + 0.01
            if link["kind"] == SOCK:
                level[link["from"]] = level[link["to"]] + 0.02
            if link["kind"] == WEIR and nodes[link["from"]]["kind"] == VESSEL:
                level[link["from"]] = link["sill"] + 0.015
        for i, node in enumerate(nodes):
            if node["kind"] == JUNCTION:
                level[i] = level[display]
        return level

    def net_flow(self, x, level):
        for i, value in zip(self.free, x):
            level[i] = value
        total = [0.0] * len(level)
        for index, link in enumerate(self.net.links):
            flow = self.flow(index, level)
            total[link["from"]] -= flow
            total[link["to"]] += flow
        return [1e3 * total[i] for i in self.free]

    def solve_levels(self, level):
        """Steps in pseudo-time, each by scipy's hybrid Powell method, longer when it succeeds and shorter when not."""
        x, step = [level[i] for i in self.free], 1.0
        for _ in range(200):
            residual = lambda y: [net - 100 * (now - before) / step  # litres a second, 0.1 m2 for every unknown
                                  for net, now, before in zip(self.net_flow(y, level), y, x)]
            answer = scipy.optimize.root(residual, x, method="hybr", options={"xtol": 1e-13})
            if max(map(abs, residual(answer.x))) < 1e-7:
                x, step = list(answer.x), step * 10
            else:
                step /= 10
            worst = max(map(abs, self.net_flow(x, level))) * 1e-3
            if worst < 1e-11:
                return
        raise ArithmeticError(f"scipy leaves {worst:g} m3/s over: {answer.message}")

    def solve(self):
        level = self.start()
        while True:
            self.solve_levels(level)
            broken = {i for i in self.primed
                      if level[self.net.links[i]["from"]] < self.net.links[i]["inlet"]["brink"]}
            if not broken:
                return level
            self.primed -= broken


def read(table, build, *more):
    done = subprocess.run([table, build, *more], check=True, capture_output=True, text=True)
    return Network(done.stdout)


def compare(network):
    """Greatest miss of a level and of a flow, and where."""
    solver = Solver(network)
    level = solver.solve()
    pumped = max(abs(link["flow"]) for link in network.links)
    levels = max((abs(level[i] - network.nodes[i]["level"]), network.nodes[i]["id"]) for i in solver.free)
    flows = max((abs(solver.flow(i, level) - link["flow"]) / pumped, link["id"]) for i, link in enumerate(network.links))
    return levels, flows


def show_time(table, build):
    network = read(table, build, "51")
    times = []
    for _ in range(5):
        begin = time.perf_counter()
        Solver(network).solve()
        times.append(time.perf_counter() - begin)
    theirs = statistics.median(times)
    print(f"steady state of {build.rsplit('/', 1)[-1]}, from nothing, median: {network.seconds * 1e6:.1f} us here, "
          f"{theirs * 1e3:.1f} ms in Python with scipy and fluids: {theirs / network.seconds:.0f} times as long")


def main():
    if sys.argv[1] == "--time":
        show_time(*sys.argv[2:4])
        return
    table, *builds = sys.argv[1:]
    print(f"1..{len(builds)}")
    for number, build in enumerate(builds, 1):
        name = build.rsplit("/", 1)[-1]
        try:
            (level, vessel), (flow, line) = compare(read(table, build))
            good = level <= LEVEL_TOLERANCE and flow <= FLOW_TOLERANCE
            said = f"levels within {level * 1e3:.2g} mm ({vessel}), flows within {flow:.2g} of the pump's ({line})"
        except ArithmeticError as error:
            good, said = False, str(error)
        print(f"{'ok' if good else 'not ok'} {number} - {name}: {said}")


if __name__ == "__main__":
    main()
