/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "published-laws.h"

#include "physics/pipe-strength.h"
#include "physics/bend.h"
#include "physics/fitting.h"
#include "physics/friction.h"
#include "physics/gravity.h"
#include "physics/stretch.h"
#include "physics/valve.h"

#include <math.h>

static double
friction_factor (const PublishedRow *row)
{
  return nappe_friction_factor (IN ("Re"), IN ("eD"));
}

static double
hagen_poiseuille (const PublishedRow *row)
{
  NappeWater water = published_water_of_kinematic (1e-6);
  NappeStretch pipe = { .bore = IN ("D"), .length = IN ("L") };

  water.viscosity = IN ("mu");
  water.kinematic = water.viscosity / water.density;
  return nappe_stretch_head (&pipe, IN ("Q"), &water) * water.density * NAPPE_GRAVITY;
}

static double
main_reynolds (const PublishedRow *row)
{
  return IN ("Q") / published_area (IN ("D")) * IN ("D") / IN ("nu");
}

static double
main_friction (const PublishedRow *row)
{
  return nappe_friction_factor (main_reynolds (row), IN ("ks") / IN ("D"));
}

static double
main_head (const PublishedRow *row)
{
  NappeWater water = published_water_of_kinematic (IN ("nu"));
  NappeStretch pipe = { .bore = IN ("D"), .length = IN ("L"), .roughness = IN ("ks") };

  return nappe_stretch_head (&pipe, IN ("Q"), &water);
}

static double
feet_in_hundred (const PublishedRow *row)
{
  NappeWater water;
  NappeStretch pipe = { .bore = IN ("bore_in") * INCH, .length = 100.0, .roughness = 1.5e-6 };

  nappe_water_init (&water, 15.0, 0.0);
  return nappe_stretch_head (&pipe, IN ("gpm") * GPM, &water);
}

static double
parallel_flow (double head,
               double bore,
               double length,
               double nu)
{
  NappeWater water = published_water_of_kinematic (nu);
  NappeStretch pipe = { .bore = bore, .length = length, .roughness = 0.025e-3 };

  return nappe_run_flow (&pipe, 1, head, &water, 0.0, NULL);
}

static double
parallel_lack (double              head,
               const PublishedRow *row)
{
  return IN ("Q") - parallel_flow (head, 0.2, 400.0, IN ("nu")) - parallel_flow (head, 0.3, 600.0, IN ("nu"));
}

static double
parallel_first (const PublishedRow *row)
{
  return parallel_flow (published_falling_root (parallel_lack, row, 0.0, 1000.0), 0.2, 400.0, IN ("nu"));
}

static double
parallel_second (const PublishedRow *row)
{
  return IN ("Q") - parallel_first (row);
}

static double
siphon_flow (const PublishedRow *row)
{
  NappeWater water = published_usual_seawater ();
  NappeStretch pipe = { .bore = IN ("D"), .k = IN ("K") };

  return nappe_run_flow (&pipe, 1, IN ("H"), &water, 0.0, NULL);
}

static double
siphon_speed (const PublishedRow *row)
{
  return siphon_flow (row) / published_area (IN ("D"));
}

static double
hooper (const PublishedRow *row)
{
  return nappe_k_hooper (IN ("K1"), IN ("Kinf"), IN ("d_in"), IN ("Re"));
}

static double
darby (const PublishedRow *row)
{
  return nappe_k_darby (IN ("K1"), IN ("Ki"), IN ("Kd"), IN ("n_in"), IN ("Re"));
}

static double
flush_entrance (const PublishedRow *row)
{
  return nappe_k_entrance (NAPPE_ENTRANCE_FLUSH);
}

static double
pipe_exit (const PublishedRow *row)
{
  return nappe_k_exit ();
}

static double
expansion (const PublishedRow *row)
{
  return nappe_k_expansion (1.0, IN ("beta"));
}

static double
contraction (const PublishedRow *row)
{
  return nappe_k_contraction (1.0, IN ("beta"));
}

static double
bend (const PublishedRow *row)
{
  return nappe_bend_k (IN ("angle") * G_PI / 180.0, IN ("ratio"), IN ("f"));
}

static double
plate (const PublishedRow *row)
{
  return nappe_k_plate (IN ("open"));
}

static double
munson_gate (const PublishedRow *row)
{
  const NappeValvePoint table[] = { { 0.25, 17 }, { 0.5, 2.1 }, { 0.75, 0.26 }, { 1, 0.15 } };

  return nappe_valve_k (table, G_N_ELEMENTS (table), IN ("opening"));
}

static double
munson_ball (const PublishedRow *row)
{
  const NappeValvePoint table[] = { { 1.0 / 3.0, 210 }, { 2.0 / 3.0, 5.5 }, { 1, 0.05 } };

  return nappe_valve_k (table, G_N_ELEMENTS (table), IN ("opening"));
}

static double
perry_gate (const PublishedRow *row)
{
  const NappeValvePoint table[] = { { 0.25, 24 }, { 0.5, 4.5 }, { 0.75, 0.9 }, { 1, 0.17 } };

  return nappe_valve_k (table, G_N_ELEMENTS (table), IN ("opening"));
}

/* Every other row of Weisbach's table for cocks; the rows between are what is checked. Shut at 82 degrees. */
static double
weisbach_cock (const PublishedRow *row)
{
  const NappeValvePoint table[] = {
    { 1 - 60 / 82.0, 206 }, { 1 - 40 / 82.0, 17.3 }, { 1 - 30 / 82.0, 5.47 },
    { 1 - 20 / 82.0, 1.56 }, { 1 - 10 / 82.0, 0.29 }, { 1 - 5 / 82.0, 0.05 },
  };

  return nappe_valve_k (table, G_N_ELEMENTS (table), 1 - IN ("angle") / 82.0);
}

static double
weisbach_gate (const PublishedRow *row)
{
  const NappeValvePoint table[] = {
    { 0.125, 97.8 }, { 0.25, 17.0 }, { 0.375, 5.52 }, { 0.5, 2.06 }, { 0.625, 0.81 }, { 0.75, 0.26 }, { 0.875, 0.07 },
  };

  return nappe_valve_k (table, G_N_ELEMENTS (table), 1 - IN ("closed"));
}

/* In inches and pounds a square inch, as the rows are. */
static double
pipe_pressure (const PublishedRow *row)
{
  return nappe_pipe_pressure (IN ("S"), IN ("D"), IN ("t"));
}

const PublishedLaw published_pipe_laws[] = {
  { "FRIC-DW-2-f", main_friction },
  { "FRIC-DW-2-Re", main_reynolds },
  { "FRIC-DW-2-h", main_head },
  { "FRIC-HP", hagen_poiseuille },
  { "FRIC-", friction_factor },
  { "HW-", feet_in_hundred },
  { "K-HOOP-", hooper },
  { "K-DARB-", darby },
  { "K-ENT-SQ", flush_entrance },
  { "K-EXIT", pipe_exit },
  { "K-EXP-", expansion },
  { "K-CON-", contraction },
  { "BEND-", bend },
  { "K-SCR-1", plate },
  { "K-MU-15", munson_ball },
  { "K-MU-16", munson_ball },
  { "K-MU-17", munson_ball },
  { "K-MU-", munson_gate },
  { "K-PE-0", perry_gate },
  { "K-PE-1", weisbach_cock },
  { "K-WB-COCK-", weisbach_cock },
  { "K-WB-GATE-", weisbach_gate },
  { "SIPH-2", siphon_speed },
  { "SIPH-", siphon_flow },
  { "NET-PAR-Q1", parallel_first },
  { "NET-PAR-Q2", parallel_second },
  { "STR-D1785-", pipe_pressure },
  { NULL, NULL },
};
