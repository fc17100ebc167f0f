# SPDX-License-Identifier: GPL-3.0-or-later
"""Compares the table printed by physics-table with fluids, gsw, iapws and scipy, law by law.

Usage: compare_physics.py PATH-OF-PHYSICS-TABLE.  Prints TAP; a law passes when every row
lies within the tolerance stated beside it.
"""

import functools
import math
import subprocess
import sys

try:
    import fluids
    import gsw
    import iapws
    import numpy
    import scipy.interpolate
    import scipy.optimize
except ImportError as missing:
    print(f"1..0 # SKIP {missing.name} is not installed")
    sys.exit(0)

G = 9.80665
GPM = 231 * 0.0254**3 / 60


def absolute_salinity(salinity):
    """The program takes g/kg as practical salinity; TEOS-10 asks for its own scale."""
    return salinity * 35.16504 / 35


def density(t, s):
    return gsw.rho_t_exact(absolute_salinity(s), t, 0)


def specific_heat(t, s):
    return gsw.cp_t_exact(absolute_salinity(s), t, 0)


def fresh_viscosity(t, s):
    """IAPWS viscosity for fresh water; for salt the published Sharqawy form, spelled out anew."""
    fresh = iapws.IAPWS95(T=t + 273.15, P=0.101325).mu
    share = s / 1000
    a = 1.541 + 1.998e-2 * t - 9.52e-5 * t**2
    b = 7.974 - 7.561e-2 * t + 4.724e-4 * t**2
    return fresh * (1 + a * share + b * share**2)


def saturation(t):
    return iapws.IAPWS97(T=t + 273.15, x=0).P * 1e6


def latent_heat(t):
    vapour = iapws.IAPWS97(T=t + 273.15, x=1)
    water = iapws.IAPWS97(T=t + 273.15, x=0)
    return (vapour.h - water.h) * 1000


def vapour_pressure(t, s):
    """Raoult's law by moles: 18.015 g of water, 31.404 g a mole of dissolved sea salt (TEOS-10)."""
    water = (1000 - s) / 18.015268
    salt = s / 31.4038218
    if t == 0:
        pure = 611.213  # IAPWS97 starts at 273.15 K; value of its saturation equation there
    else:
        pure = saturation(t)
    return pure * water / (water + salt)


def full_drain(head, bore, k):
    water = sea_viscosity()

    def excess(flow):
        speed = flow / (math.pi / 4 * bore**2)
        reynolds = speed * bore / water
        f = fluids.friction.Colebrook(reynolds, 1.5e-6 / bore) if reynolds > 4000 else 64 / reynolds
        return (f / bore + k) * speed**2 / (2 * G) - head

    return scipy.optimize.brentq(excess, 1e-9, 1, xtol=1e-16)


def sea_viscosity():
    """Kinematic, 25 degrees and 35 g/kg: Sharqawy 2010 over EOS-80, as printed in the papers [m2/s]."""
    return 9.588283e-4 / 1023.343


def manning(bore, depth, fall, n):
    angle = 2 * math.acos(1 - 2 * depth / bore)
    area = bore**2 / 8 * (angle - math.sin(angle))
    radius = area / (angle * bore / 2)
    return area * fluids.V_Manning(radius, fall, n)


PUMP = scipy.interpolate.PchipInterpolator([0, 2e-4, 5e-4, 8e-4, 1.1e-3], [3.6, 3.4, 2.8, 1.7, 0])


def operating_point(speed, wear, lift):
    bore = 0.0266

    def excess(flow):
        rate = flow / (math.pi / 4 * bore**2)
        f = fluids.friction.Colebrook(rate * bore / sea_viscosity(), 1.5e-6 / bore)
        loss = (f * 3 / bore + 4.5) * rate**2 / (2 * G)
        return wear * speed**2 * PUMP(flow / speed) - lift - loss

    return scipy.optimize.brentq(excess, 1e-5, 1.1e-3 * speed, xtol=1e-15)


ATMOSPHERE = 101325


def carrier(t, room, humidity):
    drop = vapour_pressure(t, 35) - humidity * saturation(room)
    return drop * (0.089 + 0.0782 * 0.1) / latent_heat(t)


def vapour_content(pressure):
    return 18.015268 / 28.9647 * pressure / (ATMOSPHERE - pressure)


def shah(t, room, humidity):
    """By partial pressures: the density of dry air is its own pressure over its own gas constant."""
    wet, dry = vapour_pressure(t, 35), humidity * saturation(room)
    gas = 8.314462618 / 28.9647e-3
    at_surface = (ATMOSPHERE - wet) / (gas * (t + 273.15))
    lift = (ATMOSPHERE - dry) / (gas * (room + 273.15)) - at_surface
    draught = 5e-5 * (wet - dry)
    if draught <= 0 or lift <= 0:
        return draught / 3600
    rising = 35 * at_surface * lift ** (1 / 3) * (vapour_content(wet) - vapour_content(dry))
    return max(draught, rising) / 3600


@functools.cache
def ritz_plate(length, top_free, even, poisson=0.23, degree=16, waves=24):
    """Least energy among sines along the length times polynomials up the height; a free edge needs no condition then.

    Gives the greatest stress on the upright middle line, the greatest principal stress, and the greatest deflection, all for
    a height, thickness, stiffness and bottom load of 1."""
    nodes, weights = numpy.polynomial.legendre.leggauss(60)
    places, weights = (nodes + 1) / 2, weights / 2
    up = numpy.concatenate([places, numpy.linspace(0, 1, 121)])
    held = numpy.polynomial.Polynomial([0, 1] if top_free else [0, 1, -1])
    shapes = [held * numpy.polynomial.Legendre.basis(n, [0, 1]).convert(kind=numpy.polynomial.Polynomial)
              for n in range(degree)]
    value, first, second = (numpy.array([shape.deriv(d)(up) for shape in shapes]) for d in (0, 1, 2))
    inner = slice(0, len(places))
    load = 1 if even else 1 - places
    along = numpy.concatenate([numpy.linspace(0, length / 2, 61), numpy.linspace(0, min(1, length / 2), 61)])
    shape = (121, len(along))
    lengthwise, upward, twist, sag = (numpy.zeros(shape) for _ in range(4))
    for m in range(1, 2 * waves, 2):
        alpha = m * math.pi / length
        f, g, h = value[:, inner], first[:, inner], second[:, inner]
        energy = ((h * weights) @ h.T - poisson * alpha**2 * ((h * weights) @ f.T + (f * weights) @ h.T)
                  + 2 * (1 - poisson) * alpha**2 * (g * weights) @ g.T + alpha**4 * (f * weights) @ f.T)
        factors = numpy.linalg.solve(energy, 4 / (m * math.pi) * (f * weights * load).sum(axis=1))
        y, slope, bend = (factors @ part[:, len(places):] for part in (value, first, second))
        sine, cosine = numpy.sin(alpha * along), numpy.cos(alpha * along)
        lengthwise += numpy.outer(alpha**2 * y - poisson * bend, sine)
        upward += numpy.outer(poisson * alpha**2 * y - bend, sine)
        twist += (1 - poisson) * alpha * numpy.outer(slope, cosine)
        sag += numpy.outer(y, sine)
    middle = 60
    principal = abs(lengthwise + upward) / 2 + numpy.hypot((lengthwise - upward) / 2, twist)
    return (6 * max(abs(lengthwise[:, middle]).max(), abs(upward[:, middle]).max()), 6 * principal.max(),
            12 * (1 - poisson**2) * abs(sag).max())


def transition(reynolds, roughness):
    """No law holds here; the value must lie between the two that hold on either side."""
    return 64 / reynolds, fluids.friction.Colebrook(reynolds, roughness)


# law: (reference, relative tolerance, why)
LAWS = {
    "density": (density, 2e-5, "gsw.rho_t_exact (TEOS-10; the program has EOS-80)"),
    "specific-heat": (specific_heat, 2e-3, "gsw.cp_t_exact (the program has UNESCO 44)"),
    "viscosity": (fresh_viscosity, 2e-3, "iapws.IAPWS95 times the salt factor"),
    "saturation": (saturation, 1e-6, "iapws.IAPWS97"),
    "latent-heat": (latent_heat, 1e-3, "iapws.IAPWS97"),
    "vapour-pressure": (vapour_pressure, 1e-3, "iapws.IAPWS97 and Raoult's law by moles"),
    "friction-laminar": (lambda re, e: fluids.friction.friction_laminar(re), 1e-12, "fluids.friction.friction_laminar"),
    "friction-turbulent": (fluids.friction.Colebrook, 1e-9, "fluids.friction.Colebrook"),
    "friction-between": (transition, 1e-9, "the band between fluids' laminar and Colebrook"),
    "darby": (lambda k1, ki, kd, n, re: fluids.fittings.Darby3K(NPS=n, Re=re, K1=k1, Ki=ki, Kd=kd), 1e-12, "fluids.fittings.Darby3K"),
    "hooper": (lambda k1, k, d, re: fluids.fittings.Hooper2K(Di=d, Re=re, K1=k1, Kinfty=k), 1e-12, "fluids.fittings.Hooper2K"),
    "bend": (lambda d, angle, r, e, re: fluids.fittings.bend_rounded(Di=d, angle=angle, rc=r, Re=re, roughness=e,
                                                                     method="Rennels"),
             1e-9, "fluids.fittings.bend_rounded, Rennels"),
    "expansion": (lambda large, small: fluids.fittings.diffuser_sharp(Di1=small, Di2=large), 1e-12, "fluids.fittings.diffuser_sharp"),
    "plate": (lambda s: fluids.filters.square_edge_screen(s), 0.3,
              "Blevins' table by fluids.filters.square_edge_screen (the program has Idelchik)"),
    "weir": (lambda h, p, b: fluids.Q_weir_rectangular_full_Kindsvater_Carter(h, p, b), 0.012, "fluids' full-width Kindsvater-Carter"),
    "full-drain": (full_drain, 1e-6, "energy equation with fluids' Colebrook, scipy brentq"),
    "stack": (lambda d, r: 27.8 * r ** (5 / 3) * (d / 0.0254) ** (8 / 3) * GPM, 1e-12, "NBS Monograph 31 formula, spelled out anew"),
    "manning": (manning, 1e-9, "fluids.V_Manning on the wetted circle"),
    "pump": (lambda q: float(PUMP(q)), 1e-9, "scipy PchipInterpolator"),
    "carrier": (carrier, 2e-3, "the formula over pressures of iapws.IAPWS97"),
    "shah": (shah, 5e-3, "the formula over pressures of iapws.IAPWS97 and the ideal gas law"),
    "plate-middle": (lambda *plate: ritz_plate(*plate)[0], 2e-3, "least energy (Ritz) by numpy"),
    "plate-anywhere": (lambda *plate: ritz_plate(*plate)[1], 2e-3, "least energy (Ritz) by numpy"),
    "plate-deflection": (lambda *plate: ritz_plate(*plate)[2], 1e-3, "least energy (Ritz) by numpy"),
    "operating-point": (operating_point, 1e-6, "scipy and fluids' Colebrook"),
}


def worst_rows(lines):
    """Per law: number of rows, greatest relative deviation, and the row that has it."""
    worst = {law: (0, 0.0, "") for law in LAWS}
    for line in lines:
        law, *numbers = line.split(",")
        *arguments, ours = map(float, numbers)
        theirs = LAWS[law][0](*arguments)
        if isinstance(theirs, tuple):
            theirs = min(max(ours, theirs[0]), theirs[1])
        deviation = abs(ours - theirs) / (abs(theirs) if theirs else 1)
        if not math.isfinite(deviation):
            deviation = math.inf
        count, most, row = worst[law]
        if deviation >= most:
            most, row = deviation, f"{line} against {theirs:.12g}"
        worst[law] = (count + 1, most, row)
    return worst


def main():
    table = subprocess.run([sys.argv[1]], check=True, capture_output=True, text=True).stdout
    worst = worst_rows(table.splitlines())
    print(f"1..{len(LAWS)}")
    for number, (law, (_, tolerance, why)) in enumerate(LAWS.items(), 1):
        count, most, row = worst[law]
        verdict = "ok" if count > 0 and most <= tolerance else "not ok"
        print(f"{verdict} {number} - {law}: {count} rows within {most:.3g} (allowed {tolerance:g}) of {why}")
        if verdict != "ok":
            print(f"# worst: {row}")


main()
