/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rules/rule-limits.h"

#include "catalogue/item-ends.h"
#include "physics/drop-inlet.h"

#include <glib/gi18n-lib.h>
#include <math.h>

static const NappeLimit limits[NAPPE_LIMIT_N] = {
  [NAPPE_LIMIT_SPILL] = { "spill", 1e-6, NAPPE_QUANTITY_VOLUME, N_ ("accuracy of the water balance"),
                          N_ ("A millilitre or less is rounding, no water on the floor.") },
  [NAPPE_LIMIT_TRICKLE] = { "trickle", 1.0 / 3.6e6, NAPPE_QUANTITY_FLOW, N_ ("accuracy of the steady state"),
                            N_ ("A litre an hour or less is rounding, no flow.") },
  [NAPPE_LIMIT_BARE_MARGIN]
  = { "bare-margin", 0.010, NAPPE_QUANTITY_LENGTH, N_ ("common practice"),
      N_ ("A level that a person keeps and one that is computed are each good to about 5 mm.") },
  [NAPPE_LIMIT_NOZZLE_DEPTH]
  = { "nozzle-depth", 0.025, NAPPE_QUANTITY_LENGTH, N_ ("common practice"),
      N_ ("Water below the weir that siphons back buys nothing; an inch is enough to keep air out.") },
  [NAPPE_LIMIT_EMERGENCY_CLEAR]
  = { "emergency-clear", 0.005, NAPPE_QUANTITY_LENGTH, N_ ("common practice"),
      N_ ("Levels are good to about 5 mm; nearer than that the emergency drain may run.") },
  [NAPPE_LIMIT_FROUDE_QUIET] = { "froude-quiet", NAPPE_FROUDE_QUIET, NAPPE_QUANTITY_NUMBER,
                                 N_ ("Hills, Chemical Engineering, 5 September 1983; Simpson 1968"),
                                 N_ ("Up to here air rises against the water and the pipe vents itself.") },
  [NAPPE_LIMIT_FROUDE_PRIME] = { "froude-prime", NAPPE_FROUDE_PRIME, NAPPE_QUANTITY_NUMBER,
                                 N_ ("Hills, Chemical Engineering, 5 September 1983; Simpson 1968"),
                                 N_ ("From here on air is swept down and the pipe runs full by turns.") },
  [NAPPE_LIMIT_VALVE_LEAST] = { "valve-least", 0.15, NAPPE_QUANTITY_SHARE, N_ ("common practice"),
                                N_ ("Nearly shut, a hair of the handle changes the flow and a snail blocks it.") },
  [NAPPE_LIMIT_VALVE_MOST] = { "valve-most", 0.85, NAPPE_QUANTITY_SHARE, N_ ("common practice"),
                               N_ ("Nearly open, the valve has no reserve left for growth in the pipe.") },
  [NAPPE_LIMIT_VALVE_DRAWN]
  = { "valve-drawn", 0.10, NAPPE_QUANTITY_SHARE, N_ ("common practice"),
      N_ ("Published tables of one kind of valve differ by about a quarter in the opening.") },
  [NAPPE_LIMIT_FILM_THIN] = { "film-thin", 0.003, NAPPE_QUANTITY_LENGTH, N_ ("common practice"),
                              N_ ("Below it the film clings to the glass, skims unevenly, and no weir law holds.") },
  [NAPPE_LIMIT_FILM_THICK] = { "film-thick", 0.020, NAPPE_QUANTITY_LENGTH, N_ ("common practice"),
                               N_ ("Above it the fall roars and small fish go over.") },
  [NAPPE_LIMIT_PUMP_LEAST] = { "pump-least", 0.02, NAPPE_QUANTITY_SHARE, N_ ("common practice"),
                               N_ ("Less is within the spread of a pump's curve: it may as well be nothing.") },
  [NAPPE_LIMIT_PUMP_MOST] = { "pump-most", 0.95, NAPPE_QUANTITY_SHARE, N_ ("common practice"),
                              N_ ("At the end of its curve a pump has no head left to give and wears itself out.") },
  [NAPPE_LIMIT_PUMP_COVER] = { "pump-cover", 0.010, NAPPE_QUANTITY_LENGTH, N_ ("common practice"),
                               N_ ("With less water over its inlet a pump draws air with it.") },
  [NAPPE_LIMIT_MISFIT]
  = { "misfit", 0.001, NAPPE_QUANTITY_LENGTH, N_ ("common practice"), N_ ("Glass is cut to about a millimetre.") },
  [NAPPE_LIMIT_PIPE_END] = { "pipe-end", 0.005, NAPPE_QUANTITY_LENGTH, N_ ("common practice"),
                             N_ ("Pipe is cut and pushed home to about 5 mm.") },
  [NAPPE_LIMIT_BORE] = { "bore", 0.2, NAPPE_QUANTITY_LENGTH, N_ ("common practice"),
                         N_ ("No aquarium has room for a wider pipe: none is proposed.") },
  [NAPPE_LIMIT_DILUTION] = { "dilution", 2, NAPPE_QUANTITY_SALINITY, N_ ("common practice"),
                             N_ ("More than this within a day is a strain on corals and other invertebrates.") },
  [NAPPE_LIMIT_DILUTION_HARM] = { "dilution-harm", 5, NAPPE_QUANTITY_SALINITY, N_ ("common practice"),
                                  N_ ("So sudden a fall makes cells swell; invertebrates die of it.") },
  [NAPPE_LIMIT_DRY_TIME] = { "dry-time", 86400, NAPPE_QUANTITY_DURATION, N_ ("common practice"),
                             N_ ("Somebody looks after a tank once a day; sooner the pump must not run dry.") },
  [NAPPE_LIMIT_OUTLET_DEPTH] = { "outlet-depth", 0.025, NAPPE_QUANTITY_LENGTH, N_ ("common practice"),
                                 N_ ("Deeper, the water over the end holds the air in when the siphon starts.") },
  [NAPPE_LIMIT_OUTLET_DROP] = { "outlet-drop", 0.010, NAPPE_QUANTITY_LENGTH, N_ ("common practice"),
                                N_ ("From higher up the water splashes and takes air along.") },
  [NAPPE_LIMIT_LEVEL_RUN] = { "level-run", 0.25, NAPPE_QUANTITY_LENGTH, N_ ("common practice"),
                              N_ ("In more level pipe than that air stays behind when the siphon starts.") },
  [NAPPE_LIMIT_SHORT_RUN] = { "short-run", 0.20, NAPPE_QUANTITY_LENGTH, N_ ("common practice"),
                              N_ ("The water shoots through a shorter pipe between two bends.") },
  [NAPPE_LIMIT_RUN_FALL]
  = { "run-fall", 1.0 / 48, NAPPE_QUANTITY_SHARE, N_ ("International Plumbing Code, table 704.1 (from memory)"),
      N_ ("A quarter inch in a foot keeps a drain of up to 2 1/2 in running and clean.") },
  [NAPPE_LIMIT_MOUTH_COVER]
  = { "mouth-cover", 1.5, NAPPE_QUANTITY_NUMBER,
      N_ ("Prosser, The Hydraulic Design of Pump Sumps and Intakes, BHRA 1977 (from memory)"),
      N_ ("With less water over it than one and a half bores an inlet draws air through a whirl.") },
  [NAPPE_LIMIT_SLOT_LEAST] = { "slot-least", 0.004, NAPPE_QUANTITY_LENGTH, N_ ("common practice"),
                               N_ ("The film bridges narrower slots, and weed and snails close them.") },
  [NAPPE_LIMIT_WEIR_DROP]
  = { "weir-drop", 0.150, NAPPE_QUANTITY_LENGTH, N_ ("common practice"),
      N_ ("From higher up the fall is heard through the room and fills the box with bubbles.") },
  [NAPPE_LIMIT_SPEED_PRESSURE] = { "speed-pressure", 1.83, NAPPE_QUANTITY_SPEED, N_ ("common practice"),
                                   N_ ("Six feet a second: faster, a plastic pipe is loud and eats the pump’s head.") },
  [NAPPE_LIMIT_SPEED_SUCTION] = { "speed-suction", 1.7, NAPPE_QUANTITY_SPEED, N_ ("ANSI/HI 9.8 (from memory)"),
                                  N_ ("Faster, an inlet whirls, draws air and starves the pump.") },
  [NAPPE_LIMIT_SPEED_DRAIN] = { "speed-drain", 1.83, NAPPE_QUANTITY_SPEED, N_ ("common practice"),
                                N_ ("Six feet a second: faster, even a full pipe hisses.") },
  [NAPPE_LIMIT_PUMP_NEAR_SHUT] = { "pump-near-shut", 0.2, NAPPE_QUANTITY_SHARE, N_ ("common practice"),
                                   N_ ("Held back further, a pump churns its water, warms it and wears its bearing.") },
  [NAPPE_LIMIT_PUMP_SLOW] = { "pump-slow", 0.4, NAPPE_QUANTITY_SHARE, N_ ("common practice"),
                              N_ ("At less of its speed a pump has hardly any head left, and may fail to start.") },
  [NAPPE_LIMIT_HIGH_SPOT] = { "high-spot", 0.020, NAPPE_QUANTITY_LENGTH, N_ ("common practice"),
                              N_ ("About a bore: air gathers in a higher one and stays.") },
  [NAPPE_LIMIT_HOSE_PLAY] = { "hose-play", NAPPE_HOSE_PLAY, NAPPE_QUANTITY_LENGTH, N_ ("common practice"),
                              N_ ("Soft hose stretches or shrinks under a clamp by about a millimetre in bore.") },
  [NAPPE_LIMIT_HOSE_BEND]
  = { "hose-bend", 3, NAPPE_QUANTITY_NUMBER, N_ ("common practice"),
      N_ ("Plain soft hose folds when its axis turns more tightly than some three diameters.") },
  [NAPPE_LIMIT_HOSE_SUCTION]
  = { "hose-suction", 3, NAPPE_QUANTITY_NUMBER, N_ ("common practice"),
      N_ ("A bent, oval or warm hose flattens at a fraction of what a straight round one stands.") },
  [NAPPE_LIMIT_VALVE_REACH] = { "valve-reach", 0.65, NAPPE_QUANTITY_LENGTH, N_ ("common practice"),
                                N_ ("An arm reaches about so far into a cabinet.") },
  [NAPPE_LIMIT_HOLE_CLEAR] = { "hole-clear", 1, NAPPE_QUANTITY_NUMBER, N_ ("common practice"),
                               N_ ("As much glass as the hole is wide keeps the pane strong.") },
  [NAPPE_LIMIT_HOLE_GLASS] = { "hole-glass", 2, NAPPE_QUANTITY_NUMBER, N_ ("EN 12150-1, from memory"),
                               N_ ("With less glass than twice its thickness beside a hole a pane cracks.") },
  [NAPPE_LIMIT_CEMENT_COLD]
  = { "cement-cold", 4.4, NAPPE_QUANTITY_TEMPERATURE, N_ ("tables that go with ASTM D2564, from memory"),
      N_ ("Below 40 °F solvent leaves a joint too slowly to rely on.") },
  [NAPPE_LIMIT_CEMENT_HOT]
  = { "cement-hot", 37.8, NAPPE_QUANTITY_TEMPERATURE, N_ ("tables that go with ASTM D2564, from memory"),
      N_ ("Above 100 °F the cement dries before the pipe is pushed home.") },
  [NAPPE_LIMIT_CEMENT_WAIT] = { "cement-wait", 86400, NAPPE_QUANTITY_DURATION, N_ ("common practice"),
                                N_ ("A day lets solvent leave that animals should not breathe or swallow.") },
  [NAPPE_LIMIT_TRAP_SHARE] = { "trap-share", 0.5, NAPPE_QUANTITY_SHARE, N_ ("the way of the water itself"),
                               N_ ("Less than half through the trap, and it may as well not be there.") },
  [NAPPE_LIMIT_BUBBLE_MISSED] = { "bubble-missed", 2, NAPPE_QUANTITY_NUMBER, N_ ("common practice"),
                                  N_ ("Bubbles of twice the size are plain to see in the display.") },
  [NAPPE_LIMIT_GAP_SPEED]
  = { "gap-speed", 0.15, NAPPE_QUANTITY_SPEED, N_ ("common practice"),
      N_ ("A faster stream under a baffle carries bubbles along and is easily choked by dirt.") },
  [NAPPE_LIMIT_GAP_SHARE] = { "gap-share", 0.5, NAPPE_QUANTITY_SHARE, N_ ("common practice"),
                              N_ ("Above half the depth the water no longer turns back, and bubbles cut the corner.") },
  [NAPPE_LIMIT_PROBE_COVER] = { "probe-cover", 0.01, NAPPE_QUANTITY_LENGTH, N_ ("common practice"),
                                N_ ("A centimetre of water keeps a probe wet through ripples.") },
  [NAPPE_LIMIT_CUP_CLEARANCE]
  = { "cup-clearance", 0.1, NAPPE_QUANTITY_LENGTH, N_ ("common practice"),
      N_ ("About what a skimmer’s cup has to be lifted before its neck is free; makers differ.") },
  [NAPPE_LIMIT_SERVICE_HEIGHT] = { "service-height", 0.15, NAPPE_QUANTITY_LENGTH, N_ ("common practice"),
                                   N_ ("A hand with a filter sock or a pump in it.") },
  [NAPPE_LIMIT_REFUGIUM_TURNOVER] = { "refugium-turnover", 20 / 3600.0, NAPPE_QUANTITY_RATE, N_ ("common practice"),
                                      N_ ("A slow stream; figures from three to twenty an hour are in use.") },
  [NAPPE_LIMIT_REFUGIUM_WET] = { "refugium-wet", 0.5, NAPPE_QUANTITY_SHARE, N_ ("common practice"),
                                 N_ ("Weed and sand in the lower half stay alive for a day.") },
  [NAPPE_LIMIT_WATER_COLD] = { "water-cold", 22, NAPPE_QUANTITY_TEMPERATURE, N_ ("common practice"),
                               N_ ("Reef animals of warm seas bear this for days, and suffer below.") },
  [NAPPE_LIMIT_WATER_WARM] = { "water-warm", 28, NAPPE_QUANTITY_TEMPERATURE, N_ ("common practice"),
                               N_ ("The upper end of what reef tanks are kept at.") },
  [NAPPE_LIMIT_WATER_HOT] = { "water-hot", 31, NAPPE_QUANTITY_TEMPERATURE, N_ ("common practice"),
                              N_ ("Corals of warm seas bleach within days of such water.") },
  [NAPPE_LIMIT_CIRCUIT_SHARE]
  = { "circuit-share", 0.8, NAPPE_QUANTITY_SHARE, N_ ("NFPA 70 (National Electrical Code), 210.20(A), from memory"),
      N_ ("A circuit that is loaded for three hours or more is chosen for a quarter more than its load.") },
  [NAPPE_LIMIT_FLOOR_USUAL]
  = { "floor-usual", 2000, NAPPE_QUANTITY_PRESSURE, N_ ("EN 1991-1-1, table 6.2, floors of homes, from memory"),
      N_ ("Floors of homes are reckoned for 1.5 to 2 kPa; what one floor bears in one place is for a licensed person "
          "to say.") },
  [NAPPE_LIMIT_PANEL_SAFETY] = { "panel-safety", 1, NAPPE_QUANTITY_NUMBER, N_ ("EN 16612, from memory"),
                                 N_ ("The strength that is assumed has its safety factors in it already.") },
  [NAPPE_LIMIT_PANEL_BREAKS] = { "panel-breaks", 1 / 1.8, NAPPE_QUANTITY_NUMBER, N_ ("EN 16612, from memory"),
                                 N_ ("Here the safety factor of 1.8 for the glass itself is used up.") },
};

const NappeLimit *
nappe_limit (NappeLimitName name)
{
  g_return_val_if_fail (name < NAPPE_LIMIT_N, &limits[0]);
  return &limits[name];
}

double
nappe_limit_value (NappeLimitName name)
{
  return nappe_limit (name)->value;
}

/* Looked up once: the rules ask some hundred times in a run, and fields are found by comparing names. */
static const NappeField *const *
limit_fields (NappePart *part)
{
  static const NappeField *fields[NAPPE_LIMIT_N];
  static gsize looked_up = 0;

  if (g_once_init_enter (&looked_up))
    {
      for (guint i = 0; i < NAPPE_LIMIT_N; i++)
        {
          g_autofree char *name = g_strdelimit (g_strdup (limits[i].name), "-", '_');
          fields[i] = nappe_part_find_field (part, name);
        }
      g_once_init_leave (&looked_up, 1);
    }
  return fields;
}

const NappeField *
nappe_limit_field (NappeLimitName name)
{
  g_autoptr (NappePart) any = g_object_new (NAPPE_TYPE_LIMITS, NULL);
  g_return_val_if_fail (name < NAPPE_LIMIT_N, NULL);
  return limit_fields (any)[name];
}

double
nappe_limit_in_build (NappeLimitName name, NappeBuild *build)
{
  const NappeField *field = limit_fields (build->limits)[name];
  double own = field != NULL ? nappe_part_number (build->limits, field) : NAN;
  return nappe_is_given (own) ? own : nappe_limit_value (name);
}
