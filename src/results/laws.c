/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "results/laws.h"

#include <glib/gi18n-lib.h>

/* Sources that several laws share. */
#define DEFINITION N_("definition")
#define GEOMETRY N_("geometry")
#define DROP_INLET N_("EPA SWMM Reference Manual II, chapter 6; drop-inlet spillway practice")
#define HILLS N_("Hills, Chemical Engineering, 5 September 1983; Simpson 1968")
#define PLATES N_("Timoshenko and Woinowsky-Krieger, Theory of Plates and Shells, 1959")
#define PROGRAM N_("the program’s own search with the laws above")

static const NappeLaw laws[NAPPE_LAW_N] = {
  [NAPPE_LAW_BALANCE] = { "balance", N_("Balance of flows"), N_("sum of all flows = 0 at every vessel and joint"),
                          N_("conservation of mass"), 0.0 },
  [NAPPE_LAW_STILL_WATER]
  = { "still-water", N_("Still water"), N_("all water before = all water after, over the lowest edges"),
      N_("conservation of mass; geometry"), 0.0 },
  [NAPPE_LAW_SUM] = { "sum", N_("Sum"), N_("sum of the parts"), DEFINITION, 0.0 },
  [NAPPE_LAW_HEIGHT] = { "height", N_("Difference of heights"), "h = z1 − z2", GEOMETRY, 0.0 },
  [NAPPE_LAW_VOLUME] = { "volume", N_("Volume of a vessel"), "V = A (z − z0)", GEOMETRY, 0.0 },
  [NAPPE_LAW_TURNOVER] = { "turnover", N_("Turnover"), "n = Q/V", DEFINITION, 0.0 },
  [NAPPE_LAW_RESIDENCE] = { "residence", N_("Mean time of stay"), "t = V/Q", DEFINITION, 0.0 },
  [NAPPE_LAW_MEAN_SPEED] = { "mean-speed", N_("Mean speed"), "V = Q/A", DEFINITION, 0.0 },
  [NAPPE_LAW_TIME_TO_FILL] = { "time-to-fill", N_("Time to fill, at the earliest"), "t = V/Q", DEFINITION, 0.0 },
  [NAPPE_LAW_GIVEN] = { "given", N_("As given in the build"), "", N_("the build file or the catalogue"), 0.0 },
  [NAPPE_LAW_SAMPLED_SHARE]
  = { "sampled-share", N_("Share of the samples"), N_("samples in which it happens / all samples"),
      N_("sampling of the spreads of parts, laws and hands"), 0.0 },

  [NAPPE_LAW_WEIR] = { "weir", N_("Smooth weir"), "Q = 2/3 Ce √(2g) (b + kb) (h + kh)^1.5 · (1 − (h2/h)^1.5)^0.385",
                       N_("Kindsvater and Carter 1957 with the tables of the USBR Water Measurement Manual; thick "
                          "crest: Hager and Schwalt 1994, from memory; drowned: Villemonte 1947"),
                       0.2 },
  [NAPPE_LAW_SLOT_WEIR]
  = { "slot-weir", N_("Slotted weir"),
      N_("each slot a contracted weir; above its top an orifice, and the wall’s top a weir besides"),
      N_("Kindsvater and Carter 1957, width correction cut down in proportion below 150 mm"), 0.2 },
  [NAPPE_LAW_GAP] = { "gap", N_("Gap or hole"), "Q = 0.6 A √(2 g h)",
                      N_("Torricelli with contraction; 0.59 to 0.62 in print (EPA SWMM 0.6)"), 0.05 },
  [NAPPE_LAW_SOCK] = { "sock", N_("Cloth of a filter sock"), N_("Q = c (1 − load) ∫ h dA over the wetted cloth"),
                       N_("Darcy’s law for a thin layer; the cloth’s conductance is common practice"), 1.0 },

  [NAPPE_LAW_FULL_PIPE] = { "full-pipe", N_("Full pipe"), "h = Σ (f L/D + K + K1/Re) V²/2g",
                            N_("Darcy and Weisbach; f: Hagen and Poiseuille, Colebrook 1939"), 0.1 },
  [NAPPE_LAW_FRICTION]
  = { "friction", N_("Pipe friction"), "h = f (L/D) V²/2g",
      N_("Darcy and Weisbach; f = 64/Re below Re 2000, Colebrook 1939 above 4000, joined smoothly between"), 0.05 },
  [NAPPE_LAW_FITTING] = { "fitting", N_("Loss of a fitting"), "h = (K + K1/Re) V²/2g",
                          N_("by row of the catalogue: Darby 2001, Hooper 1981 or Crane TP-410"), 0.2 },
  [NAPPE_LAW_VALVE]
  = { "valve", N_("Loss of a valve"), N_("h = K V²/2g, K by opening"),
      N_("table of the valve’s row in the catalogue; tables in print differ by a factor of two"), 1.0 },
  [NAPPE_LAW_ENTRANCE] = { "entrance", N_("Loss of an entrance"), "h = K V²/2g",
                           N_("Crane TP-410; Idelchik; Munson. A partly blocked one: thin plate, Idelchik"), 0.2 },
  [NAPPE_LAW_EXIT]
  = { "exit", N_("Loss of an exit"), "h = V²/2g", N_("the whole velocity head; any text on hydraulics"), 0.05 },
  [NAPPE_LAW_BORE]
  = { "bore", N_("Change of bore"), "K = 0.5 (1 − β²), K = (1 − β²)²", N_("Crane TP-410; Borda and Carnot"), 0.2 },
  [NAPPE_LAW_BEND] = { "bend", N_("Bend of a hose"), "h = K V²/2g", N_("Rennels and Hudson, Pipe Flow, 2012"), 0.2 },
  [NAPPE_LAW_BRANCH] = { "branch", N_("From a tee’s run into its branch"), "h = (K + K1/Re) V²/2g",
                         N_("by row of the catalogue: Darby 2001 or Hooper 1981"), 0.2 },
  [NAPPE_LAW_MANNING] = { "manning", N_("Partly full pipe"), "Q = A R^(2/3) √S / n",
                          N_("Manning; n of smooth plastic 0.009 to 0.011, texts on open channels"), 0.1 },

  [NAPPE_LAW_INLET_CREST] = { "inlet-crest", N_("Round crest of a drain"), "Q = 1.84 π D h^1.5", DROP_INLET, 0.2 },
  [NAPPE_LAW_INLET_ORIFICE]
  = { "inlet-orifice", N_("Drowned mouth of a drain"), "Q = 0.6 A √(2 g h)", DROP_INLET, 0.1 },
  [NAPPE_LAW_INLET_LEAST] = { "inlet-least", N_("Inlet of a drain that does not run full"),
                              N_("Q = least of 1.84 π D h^1.5 and 0.6 A √(2 g h)"), DROP_INLET, 0.1 },
  [NAPPE_LAW_FROUDE] = { "froude", N_("Froude number of the full bore"), "Fr = V/√(g D)", HILLS, 0.0 },
  [NAPPE_LAW_QUIET] = { "quiet", N_("Self-venting flow"), "Q = 0.3 A √(g D)", HILLS, 0.2 },
  [NAPPE_LAW_STACK] = { "stack", N_("Wetted share of a tall stack, an index of noise"),
                        N_("Q = 27.8 r^(5/3) D^(8/3), gal/min and inches"),
                        N_("Wyly and Eaton, NBS Monograph 31, 1961; made for stacks of 2 inches and more"), 0.5 },
  [NAPPE_LAW_RESERVE] = { "reserve", N_("Capacity left"), N_("Q = capacity that is sure − flow"), DEFINITION, 0.0 },
  [NAPPE_LAW_VALVE_TUNING] = { "valve-tuning", N_("Opening that leaves a trickle"),
                               N_("opening at which the siphon carries all but the trickle"),
                               N_("the valve’s table; tables in print differ by a quarter in opening"), 0.25 },
  [NAPPE_LAW_WINDOW]
  = { "window", N_("Tuning window"),
      N_("change of the flow into the box at which a bound is met, pipes and valve as they are"), PROGRAM, 0.2 },
  [NAPPE_LAW_PRIMING]
  = { "priming", N_("Margin of priming"), N_("greatest of Fr and inlet flow over full-bore flow while the box fills"),
      N_("Hills 1983; what sweeps the air lies between 0.6 and 1.5 in print"), 0.5 },
  [NAPPE_LAW_CYCLE] = { "cycle", N_("Siphon that finds no rest"), "t = ∫ A dz / (Qin − Qout)",
                        N_("conservation of mass between the two levels"), 0.2 },

  [NAPPE_LAW_PUMP]
  = { "pump", N_("Pump curve"), N_("H = w s² C(Q/s)"),
      N_("maker’s points joined by a monotone cubic (Fritsch and Carlson 1980); affinity laws; curves within 10 %"),
      0.1 },
  [NAPPE_LAW_SUBMERGENCE] = { "submergence", N_("Water over a pump’s inlet"), "S = D (1 + 2.3 Fr)",
                              N_("ANSI/HI 9.8; advice, made for large intakes"), 0.2 },
  [NAPPE_LAW_BUBBLE] = { "bubble", N_("Bubble that rises against the water"), "Cd = 24/Re (1 + 0.15 Re^0.687)",
                         N_("Schiller and Naumann 1935, bubbles skinned as rigid balls; to about 2 mm"), 0.1 },

  [NAPPE_LAW_DENSITY]
  = { "density", N_("Density of the water"), "ρ(t, S)", N_("EOS-80, UNESCO technical paper 44, 1983"), 1e-4 },
  [NAPPE_LAW_VISCOSITY]
  = { "viscosity", N_("Viscosity of the water"), "μ(t, S)", N_("Sharqawy, Lienhard and Zubair 2010"), 0.015 },
  [NAPPE_LAW_VAPOUR] = { "vapour", N_("Vapour pressure over the water"), "p(t) / (1 + 0.57357 S/(1000 − S))",
                         N_("IAPWS-IF97; Raoult’s law"), 0.005 },
  [NAPPE_LAW_SPECIFIC_HEAT] = { "specific-heat", N_("Specific heat of the water"), "c(t, S)",
                                N_("Millero, in UNESCO technical paper 44, 1983"), 0.002 },

  [NAPPE_LAW_EVAPORATION]
  = { "evaporation", N_("Evaporation"), N_("E = A (p_w − p_a) · k / L"),
      N_("vapour-pressure difference forms: ASHRAE (Carrier), undisturbed water, Shah; they differ by 2.5"), 0.6 },
  [NAPPE_LAW_HEAT_OF_EVAPORATION] = { "heat-of-evaporation", N_("Heat that evaporation takes"), "P = E ρ L",
                                      N_("Sharqawy, Lienhard and Zubair 2010 (L)"), 0.6 },
  [NAPPE_LAW_SURFACE_HEAT] = { "surface-heat", N_("Convection and radiation"), "P = A h (t_w − t_a)",
                               N_("EN ISO 6946, surface coefficients"), 0.3 },
  [NAPPE_LAW_WALL_HEAT] = { "wall-heat", N_("Heat through the panels"), "P = A (t_w − t_a) / (1/h_i + d/λ + 1/h_e)",
                            N_("EN ISO 6946"), 0.2 },
  [NAPPE_LAW_HEAT_PUT_IN]
  = { "heat-put-in", N_("Heat from equipment"), N_("P = Σ n · power · share of the day · share into the water"),
      N_("conservation of energy; shares into the water are common practice"), 0.3 },
  [NAPPE_LAW_HEAT_BALANCE]
  = { "heat-balance", N_("Balance of heat"), N_("heat lost = heat put in"), N_("conservation of energy"), 0.4 },
  [NAPPE_LAW_COOLING]
  = { "cooling", N_("Cooling without heat"), "dt/dτ = P / (ρ c V)", N_("conservation of energy"), 0.4 },
  [NAPPE_LAW_LEVEL_FALL] = { "level-fall", N_("Fall of the level by evaporation"), "dz/dτ = E/A",
                             N_("conservation of mass; the return chamber alone gives way"), 0.6 },
  [NAPPE_LAW_POWER]
  = { "power", N_("Mean electric power"), N_("P = Σ n · power · share of the day"), DEFINITION, 0.1 },
  [NAPPE_LAW_ENERGY] = { "energy", N_("Energy in a year"), N_("W = P · 8760 h"), DEFINITION, 0.1 },
  [NAPPE_LAW_COST] = { "cost", N_("Cost in a year"), N_("W · price"), DEFINITION, 0.1 },

  [NAPPE_LAW_MASS]
  = { "mass", N_("Mass"), N_("Σ density · volume"),
      N_("density of the water by EOS-80; of glass, acrylic and rock as common practice has them"), 0.1 },
  [NAPPE_LAW_FLOOR_PRESSURE] = { "floor-pressure", N_("Load on the floor"), "p = m g / A", DEFINITION, 0.1 },
  [NAPPE_LAW_PLATE_STRESS] = { "plate-stress", N_("Bending stress of a panel"), "σ = 6 M / t²", PLATES, 0.1 },
  [NAPPE_LAW_PLATE_DEFLECTION] = { "plate-deflection", N_("Bending of a panel"), "w = α q a⁴ / D", PLATES, 0.1 },
  [NAPPE_LAW_PLATE_SAFETY] = { "plate-safety", N_("Strength over stress"), N_("n = strength / σ"),
                               N_("strength for years under load: EN 16612 for glass, common practice for acrylic. A "
                                   "caution for a person to have checked"),
                               0.2 },
};

const NappeLaw *
nappe_law (NappeLawName name)
{
  g_return_val_if_fail ((guint) name < NAPPE_LAW_N, &laws[NAPPE_LAW_SUM]);
  return &laws[name];
}
