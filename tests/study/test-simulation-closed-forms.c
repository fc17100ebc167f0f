/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The time simulation against closed forms, on networks built by hand. */
#include "study/simulation.h"

#include "physics/gravity.h"
#include "physics/orifice.h"

#include <math.h>

/* Levels are to be right to a tenth of a millimetre. */
#define LEVEL 1e-4

typedef struct
{
  NappeNetwork network;
  NappeNode nodes[4];
  NappeLink links[4];
  NappeStretch stretches[2];
  double level[4];
  double flow[4];
  gboolean primed[4];
} Model;

/* Node 0 is the floor of the room, node 1 the first vessel. */
static void
begin (Model *self)
{
  *self = (Model){ .network = { .return_chamber = G_MAXUINT, .reservoir = G_MAXUINT, .display = 1, .n_nodes = 1 } };
  nappe_water_init (&self->network.water, 25, 35);
  /* The closed forms know no friction. */
  self->network.water.kinematic = 1e-13;
  self->network.nodes = self->nodes;
  self->network.links = self->links;
  self->network.stretches = self->stretches;
  self->nodes[0] = (NappeNode){ .kind = NAPPE_NODE_FLOOR, .chamber_role = -1, .floor = 0, .rim = INFINITY, .step = -INFINITY };
}

static guint
add_vessel (Model *self, const char *id, NappeNodeKind kind, double area, double level)
{
  guint index = self->network.n_nodes++;
  NappeNode *node = &self->nodes[index];

  *node = (NappeNode){
    .kind = kind, .chamber_role = -1, .floor = 0, .rim = 1e3, .area = area, .area_low = area, .step = -INFINITY
  };
  g_strlcpy (node->id, id, sizeof node->id);
  self->level[index] = level;
  return index;
}

static NappeLink *
add_link (Model *self, NappeLinkKind kind, guint from, guint to)
{
  NappeLink *link = &self->links[self->network.n_links++];

  *link = (NappeLink){ .kind = kind,
                       .from = from,
                       .to = to,
                       .drain = -1,
                       .pump = -1,
                       .open_share = 1,
                       .count = 1,
                       .sill = -INFINITY,
                       .siphon_break = -INFINITY,
                       .highest = -INFINITY };
  return link;
}

static NappeLink *
add_pipe (Model *self, guint from, guint to, double bore, double length, double k)
{
  NappeLink *link = add_link (self, NAPPE_LINK_PIPE, from, to);

  link->first_stretch = self->network.n_stretches++;
  link->n_stretches = 1;
  self->stretches[link->first_stretch] = (NappeStretch){ .bore = bore, .length = length, .k = k };
  return link;
}

static NappeSimulation *
simulate_evaporating (Model *self, double length, const NappeHappening *happening, double evaporation)
{
  NappeHappening one = { 0 };
  g_autoptr (GError) error = NULL;
  char name[] = "closed form";
  NappePlan plan = { .id = name, .title = name, .length = length, .n = happening != NULL, .happenings = &one };
  NappeStudy study = { .network = &self->network };

  if (happening != NULL)
    one = *happening;
  study.running = (NappeState){ .rest = NAPPE_REST_FOUND, .level = self->level, .flow = self->flow, .primed = self->primed };
  NappeSimulation *result = nappe_simulation_new (&study, &plan, evaporation, NULL, NULL, NULL, &error);
  g_assert_no_error (error);
  g_assert_cmpint (result->end, ==, NAPPE_END_REACHED);
  g_assert_cmpfloat (fabs (result->balance_error), <, 1e-9);
  return result;
}

static NappeSimulation *
simulate (Model *self, double length, const NappeHappening *happening)
{
  return simulate_evaporating (self, length, happening, 0);
}

/* 1 m2, hole of 0.01 m2, from 2 m: sqrt h falls evenly with time. With a coefficient of 0.62 it is empty after 103.0 s
 * (Torricelli; textbooks of fluid mechanics). */
static void
test_tank_through_orifice (void)
{
  Model model;
  begin (&model);
  guint tank = add_vessel (&model, "tank", NAPPE_NODE_DISPLAY, 1, 2);
  NappeHappening hole = { .kind = NAPPE_HAPPEN_LEAK, .change = { .part = "tank", .value = 1 }, .bore = sqrt (0.04 / G_PI) };
  double empty = 103.0 * 0.62 / NAPPE_ORIFICE_COEFFICIENT;
  g_autoptr (NappeSimulation) result = simulate (&model, empty, &hole);

  for (double share = 0.1; share < 0.95; share += 0.1)
    g_assert_cmpfloat_with_epsilon (nappe_simulation_level (result, tank, share * empty), 2 * pow (1 - share, 2), 1e-3);
  double fall = NAPPE_ORIFICE_COEFFICIENT * 0.01 * sqrt (2 * NAPPE_GRAVITY) / 2;
  g_assert_cmpfloat_with_epsilon (nappe_simulation_level (result, tank, 60), pow (sqrt (2) - 60 * fall, 2), LEVEL);
  g_assert_cmpfloat_with_epsilon (result->first_drop, 0, 1e-9);
}

/* 0.6 m2 through a pipe of 40.9 mm whose losses with entrance and exit are 3.5 heads of speed: 0.5 to 0.4 m in 28.80 s. */
static void
test_tank_through_pipe (void)
{
  Model model;
  begin (&model);
  guint tank = add_vessel (&model, "tank", NAPPE_NODE_DISPLAY, 0.6, 0.5);
  add_pipe (&model, tank, 0, 0.0409, 0, 3.5)->sill = 0;
  double area = G_PI_4 * 0.0409 * 0.0409;
  model.flow[0] = area * sqrt (2 * NAPPE_GRAVITY * 0.5 / 3.5);
  g_autoptr (NappeSimulation) result = simulate (&model, 60, NULL);

  g_assert_cmpfloat_with_epsilon (nappe_simulation_level (result, tank, 28.80), 0.4, LEVEL);
}

/* Time in which the level of a vessel crosses a height for the nth time. */
static double
crossing (const NappeSimulation *self, guint node, double height, guint nth)
{
  guint n_nodes = self->network->n_nodes;

  for (guint f = 1; f < self->n_frames; f++)
    {
      double before = self->level[(f - 1) * n_nodes + node] - height, now = self->level[f * n_nodes + node] - height;

      if ((before < 0) != (now < 0) && nth-- == 1)
        return self->time[f - 1] + before / (before - now) * (self->time[f] - self->time[f - 1]);
    }
  return NAN;
}

/* Difference of level to start from [m]: so small that the friction of a smooth pipe, which goes by its square, is nothing. */
#define SWING 0.004

/* Two vessels and the pipe between them swing with T = 2 pi sqrt (l / (g a (1/A1 + 1/A2))): 0.6 and 0.3 m2, 8.04e-4 m2, 3 m:
 * 54.81 s; with arms as wide as the pipe, 2 m: 2.006 s. */
static void
check_swing (double area_a, double area_b, double bore, double length, double period)
{
  Model model;
  begin (&model);
  guint a = add_vessel (&model, "a", NAPPE_NODE_DISPLAY, area_a, 1 + SWING),
        b = add_vessel (&model, "b", NAPPE_NODE_CHAMBER, area_b, 1);
  double rest = ((1 + SWING) * area_a + 1 * area_b) / (area_a + area_b);
  add_pipe (&model, a, b, bore, length, 0);
  g_autoptr (NappeSimulation) result = simulate (&model, 3 * period, NULL);
  double first = crossing (result, b, rest, 1), third = crossing (result, b, rest, 3);

  g_assert_cmpfloat_with_epsilon (third - first, period, 0.005 * period);
}

static void
test_u_tube (void)
{
  double area = G_PI_4 * 0.05 * 0.05;

  check_swing (area, area, 0.05, 2, 2.006);
}

static void
test_two_tanks_swing (void)
{
  check_swing (0.6, 0.3, sqrt (8.04e-4 / G_PI_4), 3, 54.81);
}

/* Surge tank without friction: rise V0 sqrt (L A / (g As)), period 2 pi sqrt (L As / (g A)): 1 m/s, 100 m, 1 and 10 m2 give
 * 1.0098 m and 63.45 s. Here at a hundredth of the speed, so that the friction left is nothing. */
static void
test_surge_tank (void)
{
  Model model;
  begin (&model);
  guint lake = add_vessel (&model, "lake", NAPPE_NODE_DISPLAY, 1e8, 5),
        tank = add_vessel (&model, "tank", NAPPE_NODE_CHAMBER, 10, 5);
  add_pipe (&model, lake, tank, sqrt (1 / G_PI_4), 100, 0);
  model.flow[0] = 0.01;
  g_autoptr (NappeSimulation) result = simulate (&model, 130, NULL);

  g_assert_cmpfloat_with_epsilon (result->peak[tank] - 5, 0.010098, LEVEL);
  g_assert_cmpfloat_with_epsilon (result->peak_time[tank], 0.25 * 63.45, 0.4);
  /* It starts at its rest, so it passes it again after half a period, and after a whole one. */
  g_assert_cmpfloat_with_epsilon (crossing (result, tank, 5, 2) - crossing (result, tank, 5, 1), 0.5 * 63.45, 0.005 * 63.45);
}

/* Through an opening of 8e-4 m2, coefficient 0.6, two tanks of 0.6 and 0.3 m2 with 0.3 m between their levels are at one after
 * 103.06 s; the root of the difference falls evenly. */
static void
test_two_tanks_equalise (void)
{
  Model model;
  begin (&model);
  guint a = add_vessel (&model, "a", NAPPE_NODE_DISPLAY, 0.6, 1.3), b = add_vessel (&model, "b", NAPPE_NODE_CHAMBER, 0.3, 1.0);
  NappeLink *gap = add_link (&model, NAPPE_LINK_GAP, a, b);
  gap->gap_area = 8e-4;
  gap->weir.length = 0.1;
  gap->gap_floor = gap->sill = 0.1;
  g_autoptr (NappeSimulation) result = simulate (&model, 150, NULL);

  for (double t = 10; t < 100; t += 10)
    {
      double apart = nappe_simulation_level (result, a, t) - nappe_simulation_level (result, b, t);
      g_assert_cmpfloat_with_epsilon (apart, 0.3 * pow (1 - t / 103.06, 2), LEVEL);
    }
  g_assert_cmpfloat_with_epsilon (nappe_simulation_level (result, a, 150), 1.2, LEVEL);
  g_assert_true (result->settles);
}

/* A box that runs out over a weir: the time is the integral of A dh / Q, here by Simpson's rule in the root of the head,
 * of the same law. */
static void
test_weir_drained_box (void)
{
  const double area = 0.6, high = 0.020, low = 0.002;
  const guint panels = 400;
  Model model;
  begin (&model);
  guint box = add_vessel (&model, "box", NAPPE_NODE_DISPLAY, area, 0.5 + high);
  NappeLink *weir = add_link (&model, NAPPE_LINK_WEIR, box, 0);
  weir->sill = 0.5;
  weir->weir = (NappeWeir){ .length = 0.3, .height = 0.5, .thickness = 0.008, .open_share = 1 };
  double time = 0, step = (sqrt (high) - sqrt (low)) / panels;
  for (guint i = 0; i <= panels; i++)
    {
      double root = sqrt (low) + i * step;
      double flow = nappe_weir_flow (&weir->weir, root * root, -1, NULL, NULL);

      time += step / 3 * (i == 0 || i == panels ? 1 : i % 2 ? 4 : 2) * area * 2 * root / flow;
    }
  g_autoptr (NappeSimulation) result = simulate (&model, 2 * time, NULL);

  /* With a coefficient of 1.84 it would be 33.24 s; the law's runs from 1.6 to 2.3 between these heads. */
  g_assert_cmpfloat (time, >, 22);
  g_assert_cmpfloat (time, <, 45);
  g_assert_cmpfloat_with_epsilon (nappe_simulation_level (result, box, time), 0.5 + low, LEVEL);
}

static guint
count_events (const NappeSimulation *self, NappeEventKind kind)
{
  guint n = 0;

  for (guint e = 0; e < self->n_events; e++)
    n += self->events[e].kind == kind;
  return n;
}

/* A chamber of 0.1 m2 from which 5 L a day evaporate falls 2 mm in 3456 s, and a litre a minute fills them again in 12 s:
 * 25 times a day the float calls. A reservoir of 2 L is empty after ten of them; with none it falls 50 mm. */
static void
test_top_off (void)
{
  const double day = 86400, evaporation = 5e-3 / day;
  Model model;
  begin (&model);
  add_vessel (&model, "display", NAPPE_NODE_DISPLAY, 1, 1);
  guint chamber = add_vessel (&model, "return", NAPPE_NODE_CHAMBER, 0.1, 0.2);
  guint reservoir = add_vessel (&model, "reservoir", NAPPE_NODE_CHAMBER, 0.1, 0.4);
  model.network.return_chamber = chamber;
  model.network.reservoir = reservoir;
  model.network.reservoir_volume = 0.04;
  model.network.top_off_flow = 1e-3 / 60;
  g_autoptr (NappeSimulation) topped = simulate_evaporating (&model, day, NULL, evaporation);

  g_assert_cmpfloat_with_epsilon (topped->evaporated, 5e-3, 1e-7);
  /* The last call may lie on either side of midnight. */
  g_assert_cmpuint (count_events (topped, NAPPE_EVENT_FLOAT_CALLS), >=, 24);
  g_assert_cmpuint (count_events (topped, NAPPE_EVENT_FLOAT_CALLS), <=, 25);
  g_assert_cmpfloat_with_epsilon (topped->lowest[chamber], 0.198, LEVEL);
  g_assert_cmpfloat_with_epsilon (topped->added, 5e-3, 2.5e-4);
  model.level[reservoir] = 0.025; /* 2 L over the depth at which it counts as empty */
  g_autoptr (NappeSimulation) emptied = simulate_evaporating (&model, day, NULL, evaporation);
  g_assert_cmpuint (count_events (emptied, NAPPE_EVENT_RESERVOIR_EMPTY), ==, 1);
  g_assert_cmpfloat (emptied->added, >, 1.8e-3);
  g_assert_cmpfloat (emptied->added, <=, 2.5e-3 + 1e-6);
  NappeHappening none = { .kind = NAPPE_HAPPEN_NO_TOP_OFF, .change = { .value = 1 } };
  g_autoptr (NappeSimulation) dry = simulate_evaporating (&model, day, &none, evaporation);
  g_assert_cmpuint (count_events (dry, NAPPE_EVENT_FLOAT_CALLS), ==, 0);
  g_assert_cmpfloat_with_epsilon (nappe_simulation_level (dry, chamber, day), 0.15, LEVEL);
  model.level[reservoir] = 0.4;
  NappeHappening sticks = { .kind = NAPPE_HAPPEN_TOP_OFF_STICKS, .change = { .value = 1 } };
  g_autoptr (NappeSimulation) stuck = simulate_evaporating (&model, 600, &sticks, 0);
  g_assert_cmpfloat_with_epsilon (stuck->added, 10e-3, 1e-6);
  NappeHappening off = { .kind = NAPPE_HAPPEN_POWER_OFF };
  g_autoptr (NappeSimulation) cut = simulate_evaporating (&model, day, &off, evaporation);
  g_assert_cmpfloat (cut->added, ==, 0);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/simulation/closed-forms/tank-through-orifice", test_tank_through_orifice);
  g_test_add_func ("/simulation/closed-forms/tank-through-pipe", test_tank_through_pipe);
  g_test_add_func ("/simulation/closed-forms/u-tube", test_u_tube);
  g_test_add_func ("/simulation/closed-forms/two-tanks-swing", test_two_tanks_swing);
  g_test_add_func ("/simulation/closed-forms/surge-tank", test_surge_tank);
  g_test_add_func ("/simulation/closed-forms/two-tanks-equalise", test_two_tanks_equalise);
  g_test_add_func ("/simulation/closed-forms/weir-drained-box", test_weir_drained_box);
  g_test_add_func ("/simulation/closed-forms/top-off", test_top_off);
  return g_test_run ();
}
