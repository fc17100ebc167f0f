/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "published-laws.h"

#include "physics/drop-inlet.h"
#include "physics/manning.h"
#include "physics/orifice.h"
#include "physics/stretch.h"
#include "physics/submergence.h"
#include "physics/weir.h"

#include <math.h>

static double
weir_flow (const PublishedRow *row)
{
  NappeWeir weir = { .length = IN ("b"), .height = IN ("p"), .open_share = 1.0 };

  return nappe_weir_flow (&weir, IN ("h"), -1.0, NULL, NULL);
}

static double
weir_litres_a_minute (const PublishedRow *row)
{
  return weir_flow (row) * 6e4;
}

static double
weir_cubic_feet (const PublishedRow *row)
{
  return weir_flow (row) / CUBIC_FOOT;
}

static double
drowned_share (const PublishedRow *row)
{
  NappeWeir weir = { .length = 1.0, .height = 1.0, .open_share = 1.0 };

  return nappe_weir_flow (&weir, 0.1, 0.1 * IN ("ratio"), NULL, NULL) / nappe_weir_flow (&weir, 0.1, -1.0, NULL, NULL);
}

static double
riser_change (const PublishedRow *row)
{
  NappeDropInlet inlet = { .bore = IN ("D") };

  return nappe_drop_inlet_change_head (&inlet) / IN ("D");
}

static double
riser_flow (const PublishedRow *row)
{
  NappeDropInlet inlet = { .bore = IN ("D") };

  return nappe_drop_inlet_flow (&inlet, IN ("H"), NULL) * 6e4;
}

static double
orifice_cubic_feet (const PublishedRow *row)
{
  return nappe_orifice_flow (IN ("area_ft2") * FOOT * FOOT, NAPPE_ORIFICE_COEFFICIENT, IN ("H_ft") * FOOT, NULL) / CUBIC_FOOT;
}

static double
stack_gpm (const PublishedRow *row)
{
  return nappe_stack_flow (IN ("D_in") * INCH, NAPPE_STACK_WETTED_SHARE) / GPM;
}

static double
stack_litres_an_hour (const PublishedRow *row)
{
  return nappe_stack_flow (IN ("D_in") * INCH, NAPPE_STACK_WETTED_SHARE) * 3.6e6;
}

static double
above_quiet (double              bore,
             const PublishedRow *row)
{
  return nappe_full_bore_froude (IN ("Q_m3h") / 3600.0, bore) - NAPPE_FROUDE_QUIET;
}

static double
self_venting_bore (const PublishedRow *row)
{
  return 1000.0 * published_falling_root (above_quiet, row, 0.001, 1.0);
}

static double
quiet_limit (const PublishedRow *row)
{
  return NAPPE_FROUDE_QUIET;
}

static double
prime_limit (const PublishedRow *row)
{
  return NAPPE_FROUDE_PRIME;
}

static double
manning_cubic_feet (const PublishedRow *row)
{
  return nappe_manning_full_flow (IN ("D"), IN ("S"), IN ("n")) / CUBIC_FOOT;
}

static double
manning_depth (const PublishedRow *row)
{
  return nappe_manning_depth (IN ("D"), IN ("Q"), IN ("S"), IN ("n"));
}

static double
manning_area (const PublishedRow *row)
{
  return nappe_part_full_area (IN ("D"), manning_depth (row));
}

static double
submergence_inches (const PublishedRow *row)
{
  return nappe_submergence_hi (IN ("D_in") * INCH, IN ("Q_gpm") * GPM) / INCH;
}

static double
submergence_metres (const PublishedRow *row)
{
  return nappe_submergence_hi (IN ("D"), IN ("V") * published_area (IN ("D")));
}

static double
submergence_constant (const PublishedRow *row)
{
  return (submergence_inches (row) - IN ("D_in")) * pow (IN ("D_in"), 1.5) / IN ("Q_gpm");
}

/* Time [s] for a difference of level to fall from start to end at rate (level), midpoint rule in the square root of the level,
 * in which Torricelli's fall is even. */
static double
draw_down_time (double (*fall_speed) (double level, const PublishedRow *row),
                const PublishedRow *row,
                double              start,
                double              end)
{
  const int steps = 2000;
  double from = sqrt (end), width = (sqrt (start) - from) / steps, time = 0.0;

  for (int i = 0; i < steps; i++)
    {
      double root = from + (i + 0.5) * width;

      time += 2.0 * root * width / fall_speed (root * root, row);
    }
  return time;
}

static double
tank_fall (double              level,
           const PublishedRow *row)
{
  return nappe_orifice_flow (IN ("a"), IN ("C"), level, NULL) / IN ("A");
}

static double
tank_time (const PublishedRow *row)
{
  return draw_down_time (tank_fall, row, IN ("H1"), IN ("H2"));
}

static double
pipe_fall (double              level,
           const PublishedRow *row)
{
  NappeWater water = published_usual_seawater ();
  NappeStretch pipe = { .bore = IN ("D"), .k = IN ("K") };

  return nappe_run_flow (&pipe, 1, level, &water, 0.0, NULL) / IN ("A");
}

static double
pipe_time (const PublishedRow *row)
{
  return draw_down_time (pipe_fall, row, IN ("H1"), IN ("H2"));
}

static double
two_tanks_fall (double              difference,
                const PublishedRow *row)
{
  return nappe_orifice_flow (IN ("a"), IN ("C"), difference, NULL) * (1.0 / IN ("A1") + 1.0 / IN ("A2"));
}

static double
two_tanks_time (const PublishedRow *row)
{
  return draw_down_time (two_tanks_fall, row, IN ("H1"), IN ("H2"));
}

const PublishedLaw published_open_laws[] = {
  { "WEIR-KC-h", weir_litres_a_minute },
  { "WEIR-KC-1", weir_flow },
  { "WEIR-REH-", weir_flow },
  { "WEIR-ACK-", weir_flow },
  { "WEIR-FR-2", weir_cubic_feet },
  { "WEIR-VIL-", drowned_share },
  { "RISER-H*", riser_change },
  { "RISER-", riser_flow },
  { "ORIF-", orifice_cubic_feet },
  { "STACK-S40-", stack_litres_an_hour },
  { "STACK-", stack_gpm },
  { "MAN-1", manning_cubic_feet },
  { "MAN-2", manning_depth },
  { "MAN-3", manning_area },
  { "SV-", self_venting_bore },
  { "FR-SELF", quiet_limit },
  { "FR-CLEAR", prime_limit },
  { "HI-3", submergence_metres },
  { "HI-4", submergence_constant },
  { "HI-", submergence_inches },
  { "UNS-DR-3", pipe_time },
  { "UNS-DR-", tank_time },
  { "UNS-EQ", two_tanks_time },
  { NULL, NULL },
};
