/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Balance of heat, evaporation, electricity: against reckoning by hand, and in the directions that physics gives. */
#include "study-fixture.h"

#include "study/heat.h"

#include "physics/evaporation.h"
#include "physics/surface-heat.h"

#include <math.h>

#define DAY 86400.0

static NappeHeat *
heat_of (StudyFixture *fixture)
{
  study_fixture_again (fixture);
  return nappe_heat_new (fixture->build, fixture->catalogue, fixture->study);
}

/* Heat after one number was changed; the change stays. */
static NappeHeat *
heat_with (StudyFixture *fixture, const char *id, const char *field, double value)
{
  study_fixture_set (fixture, id, field, value);
  return heat_of (fixture);
}

static const NappePowerLine *
line_of (const NappeHeat *heat, const char *part)
{
  for (guint i = 0; i < heat->n_power; i++)
    if (g_str_equal (heat->lines[i].part, part))
      return &heat->lines[i];
  g_error ("no power line of %s", part);
}

/* Sums, signs and order for every demo. */
static void
test_balance_adds_up (void)
{
  for (guint i = 0; i < G_N_ELEMENTS (demo_names); i++)
    {
      StudyFixture fixture;
      double mean = 0;

      study_fixture_load (&fixture, demo_names[i]);
      g_autoptr (NappeHeat) heat = heat_of (&fixture);
      g_assert_true (heat->known);
      g_assert_cmpuint (heat->n_power_unknown, ==, 0);
      double lost = heat->heat_evaporation + heat->heat_convection_radiation + heat->heat_walls;
      double put_in = heat->heat_pumps + heat->heat_lights + heat->heat_other;
      g_assert_cmpfloat_with_epsilon (heat->heat_wanted, lost - put_in, 1e-9);
      g_assert_true (0 < heat->evaporation_low && heat->evaporation_low < heat->evaporation
                     && heat->evaporation < heat->evaporation_high);
      for (guint l = 0; l < heat->n_power; l++)
        {
          mean += heat->lines[l].power * heat->lines[l].duty;
          if (l > 0)
            g_assert_cmpfloat (heat->lines[l - 1].power * heat->lines[l - 1].duty, >=,
                               heat->lines[l].power * heat->lines[l].duty);
        }
      g_assert_cmpfloat_with_epsilon (heat->power, mean, 1e-9);
      g_assert_cmpfloat_with_epsilon (heat->energy_year, mean * 365 * DAY, 1);
      g_assert_true (isnan (heat->cost_year));
      study_fixture_clear (&fixture);
    }
}

/* The three-drain demo: 1.2 m by 0.6 m of tank, seven chambers of 0.964 m by 0.45 m in all, 25 °C in a room of 21 °C, 50 %. */
static void
test_by_hand (void)
{
  StudyFixture fixture;
  NappeWater water, fresh;
  const NappeAir air = { 21, 0.5, 0.1 };

  study_fixture_load (&fixture, "three-drain");
  g_autoptr (NappeHeat) heat = heat_of (&fixture);
  double surface = 1.2 * 0.6 + 0.964 * 0.45;
  nappe_water_init (&water, 25, 35);
  nappe_water_init (&fresh, 21, 0);
  double litre_rate = 0.74 * surface * nappe_evaporation_carrier (&water, &air) / fresh.density;
  g_assert_cmpfloat_with_epsilon (heat->surface, surface, 1e-9);
  g_assert_cmpfloat_with_epsilon (heat->evaporation, litre_rate, 1e-9 * litre_rate);
  g_assert_cmpfloat_with_epsilon (heat->heat_evaporation, litre_rate * fresh.density * nappe_latent_heat (25), 1e-6);
  g_assert_cmpfloat_with_epsilon (heat->heat_convection_radiation, surface * nappe_open_surface_heat (25, 21), 1e-9);

  /* 65 W at 83 % of the speed, 22 W, 200 W and 30 W of light of which two fifths reach the water, two heaters of 200 W. */
  g_assert_cmpfloat_with_epsilon (heat->heat_pumps, 65 * pow (0.83, 3), 1e-9);
  g_assert_cmpfloat_with_epsilon (heat->heat_other, 22, 1e-9);
  g_assert_cmpfloat_with_epsilon (heat->heat_lights, 0.4 * 230, 1e-9);
  g_assert_cmpfloat (heat->heater_power, ==, 400);
  g_assert_cmpfloat (heat->heater_power_one_failed, ==, 200);

  /* Panels of 12 mm and 8 mm of glass, wet to each level. */
  const char *const chambers[] = { "refugium", "return-chamber", "trap-rise", "trap-fall", "skimmer-chamber", "sock-chamber",
                                   "drain-chamber" };
  const double lengths[] = { 0.18, 0.19, 0.03, 0.03, 0.245, 0.109, 0.18 };
  const NappeState *running = &fixture.study->running;
  double walls = 3.6 * (nappe_study_level (fixture.study, running, "tank") - 0.862) * nappe_panel_transmittance (0.012, 1);
  for (guint i = 0; i < G_N_ELEMENTS (chambers); i++)
    walls += (2 * lengths[i] + (i == 0 || i == 6 ? 0.45 : 0))
             * (nappe_study_level (fixture.study, running, chambers[i]) - 0.038) * nappe_panel_transmittance (0.008, 1);
  g_assert_cmpfloat_with_epsilon (heat->heat_walls, 4 * walls, 1e-6);
  g_assert_cmpfloat_with_epsilon (heat->volume, running->vessels + running->pipes, 1e-12);
  double lost = heat->heat_evaporation + heat->heat_convection_radiation + heat->heat_walls;
  g_assert_cmpfloat_with_epsilon (heat->cooling_rate, lost / (heat->volume * water.density * water.specific_heat), 1e-12);
  study_fixture_clear (&fixture);
}

/* Damper, hotter, colder, under a lid. */
static void
test_directions (void)
{
  StudyFixture fixture;

  study_fixture_load (&fixture, "three-drain");
  g_autoptr (NappeHeat) last = heat_with (&fixture, "room", "humidity", 0);
  for (double humidity = 0.1; humidity < 1.05; humidity += 0.1)
    {
      NappeHeat *next = heat_with (&fixture, "room", "humidity", fmin (humidity, 1));

      g_assert_cmpfloat (next->evaporation, <, last->evaporation);
      g_assert_cmpfloat (next->evaporation_high, <, last->evaporation_high);
      g_assert_cmpfloat (next->heat_wanted, <, last->heat_wanted);
      g_assert_cmpfloat (next->equilibrium, >, last->equilibrium);
      g_assert_cmpfloat (next->time_to_air, >, last->time_to_air);
      nappe_heat_free (last);
      last = next;
    }
  for (double temperature = 15; temperature < 35; temperature += 2.5)
    {
      g_autoptr (NappeHeat) here = heat_with (&fixture, "water", "temperature", temperature);
      g_autoptr (NappeHeat) hotter = heat_with (&fixture, "water", "temperature", temperature + 2.5);

      g_assert_cmpfloat (hotter->evaporation, >=, here->evaporation);
      g_assert_cmpfloat (hotter->heat_wanted, >, here->heat_wanted);
      g_assert_cmpfloat (hotter->cooling_rate, >, here->cooling_rate);
      /* What the water comes to by itself has nothing to do with what is wanted. */
      g_assert_cmpfloat_with_epsilon (hotter->equilibrium, here->equilibrium, 0.05);
    }
  study_fixture_set (&fixture, "water", "temperature", 25);
  study_fixture_set (&fixture, "room", "humidity", 0.5);
  g_autoptr (NappeHeat) open = heat_of (&fixture);
  g_autoptr (NappeHeat) covered = heat_with (&fixture, "tank", "cover", 1);
  g_assert_cmpfloat_with_epsilon (open->surface - covered->surface, 0.72, 1e-9);
  g_assert_cmpfloat (covered->heat_convection_radiation, <, open->heat_convection_radiation);
  g_assert_cmpfloat (covered->heat_wanted, <, open->heat_wanted);
  study_fixture_clear (&fixture);
}

/* Cold water in a warm damp room: nothing evaporates, nothing has to be added, vapour warms the water. */
static void
test_condensation (void)
{
  StudyFixture fixture;

  study_fixture_load (&fixture, "three-drain");
  study_fixture_set (&fixture, "water", "temperature", 10);
  study_fixture_set (&fixture, "room", "temperature", 30);
  g_autoptr (NappeHeat) heat = heat_with (&fixture, "room", "humidity", 0.9);
  g_assert_true (heat->evaporation == 0 && heat->evaporation_low == 0 && heat->evaporation_high == 0);
  g_assert_cmpfloat (heat->heat_evaporation, <, 0);
  g_assert_cmpfloat (heat->heat_walls, <, 0);
  g_assert_true (heat->level_fall_rate == 0 && isinf (heat->time_to_air));
  g_assert_cmpfloat (heat->heat_wanted, <, 0);
  /* Heaters are off. */
  g_assert_true (line_of (heat, "heater-left")->duty == 0);
  study_fixture_clear (&fixture);
}

/* At the temperature that it comes to by itself the water wants neither heat nor cold. */
static void
test_equilibrium (void)
{
  for (guint i = 0; i < G_N_ELEMENTS (demo_names); i++)
    {
      StudyFixture fixture;

      study_fixture_load (&fixture, demo_names[i]);
      for (int round = 0; round < 3; round++)
        {
          /* Levels shift a little with the water, and with them the wet walls. */
          g_autoptr (NappeHeat) heat = heat_of (&fixture);
          study_fixture_set (&fixture, "water", "temperature", heat->equilibrium);
        }
      g_autoptr (NappeHeat) heat = heat_of (&fixture);
      g_assert_cmpfloat (fabs (heat->heat_wanted), <, 0.05);
      /* Evaporation may take it below the room's, though not below what a wet thermometer shows, 6 K lower at 50 %. */
      g_assert_cmpfloat (heat->equilibrium, >, NAPPE_BUILD_ROOM (fixture.build)->temperature - 6);
      study_fixture_clear (&fixture);
    }
}

/* More heat than water at 60 °C can lose, and frost. */
static void
test_no_equilibrium (void)
{
  StudyFixture fixture;

  study_fixture_load (&fixture, "three-drain");
  g_autoptr (NappeHeat) boiling = heat_with (&fixture, "skimmer", "power", 20000);
  g_assert_true (boiling->known && isnan (boiling->equilibrium));
  study_fixture_set (&fixture, "skimmer", "power", 0);
  study_fixture_set (&fixture, "tank-light", "power", 0);
  study_fixture_set (&fixture, "refugium-light", "power", 0);
  study_fixture_set (&fixture, nappe_part_get_id (NAPPE_RETURN_LINE (fixture.build->returns->pdata[0])->pump), "power", 0);
  study_fixture_set (&fixture, "room", "humidity", 0);
  g_autoptr (NappeHeat) frost = heat_with (&fixture, "room", "temperature", 0);
  g_assert_true (frost->known && isnan (frost->equilibrium));
  g_assert_cmpfloat (frost->heat_wanted, >, 0);
  /* A power of 0 is given, not unknown. */
  g_assert_cmpuint (frost->n_power_unknown, ==, 0);
  study_fixture_clear (&fixture);
}

/* Heaters together give what is wanted, and when they cannot, all they have. */
static void
test_heaters (void)
{
  StudyFixture fixture;

  study_fixture_load (&fixture, "three-drain");
  g_autoptr (NappeHeat) heat = heat_with (&fixture, "water", "temperature", 26);
  double duty = CLAMP (heat->heat_wanted / 400, 0, 1);
  g_assert_cmpfloat_with_epsilon (line_of (heat, "heater-left")->duty, duty, 1e-12);
  g_assert_cmpfloat_with_epsilon (line_of (heat, "heater-right")->duty, duty, 1e-12);
  study_fixture_set (&fixture, "heater-left", "count", 3);
  g_autoptr (NappeHeat) four = heat_with (&fixture, "heater-right", "power", 100);
  g_assert_cmpfloat (four->heater_power, ==, 700);
  g_assert_cmpfloat (four->heater_power_one_failed, ==, 500);
  study_fixture_set (&fixture, "heater-left", "heat_share", 0.5);
  g_autoptr (NappeHeat) halved = heat_of (&fixture);
  g_assert_cmpfloat (halved->heater_power, ==, 400);
  g_assert_cmpfloat (halved->heater_power_one_failed, ==, 300);
  g_autoptr (NappeHeat) icy = heat_with (&fixture, "room", "temperature", 0);
  g_assert_cmpfloat (icy->heat_wanted, >, 400);
  g_assert_cmpfloat (line_of (icy, "heater-left")->duty, ==, 1);
  study_fixture_clear (&fixture);
}

/* A chiller runs as far as it must: two watts out for one watt drawn. */
static void
test_chiller (void)
{
  StudyFixture fixture;
  g_autoptr (GError) error = NULL;

  study_fixture_load (&fixture, "three-drain");
  nappe_build_set_text (fixture.build, nappe_build_find (fixture.build, "heater-left"), "kind", "chiller", &error);
  g_assert_no_error (error);
  study_fixture_set (&fixture, "room", "temperature", 30);
  g_autoptr (NappeHeat) heat = heat_of (&fixture);
  g_assert_cmpfloat (heat->heat_wanted, <, 0);
  g_assert_cmpfloat_with_epsilon (line_of (heat, "heater-left")->duty, fmin (1, -heat->heat_wanted / 400), 1e-12);
  g_assert_cmpfloat (line_of (heat, "heater-right")->duty, ==, 0);
  g_assert_cmpfloat (heat->heater_power, ==, 200);
  g_assert_cmpfloat (heat->chiller_power, ==, 400);
  study_fixture_clear (&fixture);
}

/* A heater that stays on is heat like any other: the same temperature as with a light that gives as much. */
static void
test_heaters_on_and_off (void)
{
  StudyFixture fixture;

  study_fixture_load (&fixture, "three-drain");
  study_fixture_set (&fixture, "heater-right", "power", 100);
  g_autoptr (NappeHeat) heat = heat_of (&fixture);
  g_assert_cmpfloat (heat->equilibrium, <, heat->equilibrium_one_failed);
  g_assert_cmpfloat (heat->equilibrium_one_failed, <, heat->equilibrium_stuck);
  g_assert_cmpfloat (heat->equilibrium_stuck, <, heat->equilibrium_heated);
  study_fixture_set (&fixture, "heater-left", "power", 0);
  study_fixture_set (&fixture, "heater-right", "power", 0);
  g_autoptr (NappeHeat) none = heat_of (&fixture);
  g_assert_cmpfloat (none->equilibrium_stuck, ==, none->equilibrium);
  const double lit[] = { heat->heater_power, heat->heater_power_one_failed, 200 };
  const double wanted[] = { heat->equilibrium_heated, heat->equilibrium_one_failed, heat->equilibrium_stuck };
  study_fixture_set (&fixture, "tank-light", "heat_share", 1);
  for (gsize i = 0; i < G_N_ELEMENTS (lit); i++)
    {
      /* It gave two fifths of its 200 W before. */
      g_autoptr (NappeHeat) warmer = heat_with (&fixture, "tank-light", "power", 80 + lit[i]);
      g_assert_cmpfloat_with_epsilon (warmer->equilibrium, wanted[i], 1e-6);
    }
  study_fixture_clear (&fixture);
}

/* The return chamber alone falls: 0.19 m by 0.45 m, from 170 mm to 10 mm over the inlet's 40 mm. */
static void
test_level_falls (void)
{
  StudyFixture fixture;

  study_fixture_load (&fixture, "three-drain");
  g_autoptr (NappeHeat) heat = heat_of (&fixture);
  double plan = 0.19 * 0.45;
  g_assert_cmpfloat_with_epsilon (heat->level_fall_rate, heat->evaporation / plan, 1e-6 * heat->level_fall_rate);
  g_assert_cmpfloat_with_epsilon (heat->time_to_air, 0.12 * plan / heat->evaporation, 1e-6 * heat->time_to_air);

  /* Over a drowned outlet baffle, and under the next one, both sides of the trap come along, at first. */
  study_fixture_set (&fixture, "trap-out", "top_height", 0.1);
  g_autoptr (NappeHeat) drowned = heat_of (&fixture);
  double tied = 0.25 * 0.45;
  g_assert_cmpfloat_with_epsilon (drowned->level_fall_rate, drowned->evaporation / tied, 1e-6 * drowned->level_fall_rate);
  /* They stop at the crest, with what was higher there still above the return chamber's. */
  g_assert_cmpfloat (drowned->time_to_air, >, (0.12 * plan + 0.06 * 0.06 * 0.45) / drowned->evaporation);
  g_assert_cmpfloat (drowned->time_to_air, <, 0.12 * tied / drowned->evaporation);
  study_fixture_clear (&fixture);
}

/* What is in the reservoir divided by what goes a day; its water is not the tank's. */
static void
test_reservoir (void)
{
  StudyFixture fixture;
  g_autoptr (GError) error = NULL;

  study_fixture_load (&fixture, "three-drain");
  g_autoptr (NappeHeat) without = heat_of (&fixture);
  g_assert_true (without->reservoir == 0 && without->reservoir_lasts == 0);
  nappe_build_set_text (fixture.build, nappe_build_find (fixture.build, "refugium"), "role", "reservoir", &error);
  g_assert_no_error (error);
  nappe_build_set_text (fixture.build, nappe_build_find (fixture.build, "sock-front"), "kind", "top-off", &error);
  g_assert_no_error (error);
  study_fixture_set (&fixture, "sock-front", "power", 5);
  study_fixture_set (&fixture, "refugium-valve", "opening", 0);
  study_fixture_set (&fixture, "refugium", "displaced", 0);
  g_autoptr (NappeHeat) heat = heat_with (&fixture, "refugium", "kept_level", 0.2);
  double water = 0.18 * 0.45 * 0.2;
  g_assert_true (heat->known);
  g_assert_cmpfloat_with_epsilon (heat->reservoir, water, 1e-9);
  g_assert_cmpfloat_with_epsilon (heat->reservoir_lasts, water / heat->evaporation, 1e-3);
  g_assert_cmpfloat_with_epsilon (without->surface - heat->surface, 0.18 * 0.45, 1e-9);
  g_assert_cmpfloat_with_epsilon (heat->volume, fixture.study->running.vessels + fixture.study->running.pipes - water, 1e-9);
  study_fixture_clear (&fixture);
}

static void
test_cost (void)
{
  StudyFixture fixture;

  study_fixture_load (&fixture, "three-drain");
  g_autoptr (NappeHeat) heat = heat_with (&fixture, "room", "electricity_price", 0.3);
  g_assert_cmpfloat_with_epsilon (heat->cost_year, heat->power / 1000 * 8760 * 0.3, 1e-6);
  /* Lights for half the day. */
  g_autoptr (NappeHeat) half = heat_with (&fixture, "tank-light", "duty", 0.5);
  g_assert_cmpfloat_with_epsilon (heat->heat_lights - half->heat_lights, 0.4 * 100, 1e-9);
  study_fixture_clear (&fixture);
}

static void
test_unknown_power (void)
{
  StudyFixture fixture;
  g_autoptr (GError) error = NULL;

  study_fixture_load (&fixture, "three-drain");
  nappe_build_set_text (fixture.build, nappe_build_find (fixture.build, "skimmer"), "item", "", &error);
  g_assert_no_error (error);
  g_autoptr (NappeHeat) heat = heat_of (&fixture);
  g_assert_cmpuint (heat->n_power_unknown, ==, 1);
  g_assert_cmpfloat (heat->heat_other, ==, 0);
  study_fixture_clear (&fixture);
}

/* Without a steady state there are users of power, and nothing else is made up. */
static void
test_not_known (void)
{
  StudyFixture fixture;

  study_fixture_load (&fixture, "three-drain");
  study_fixture_set (&fixture, nappe_part_get_id (NAPPE_RETURN_LINE (fixture.build->returns->pdata[0])->pump), "speed", 0);
  g_autoptr (NappeHeat) heat = heat_of (&fixture);
  g_assert_false (heat->known);
  g_assert_true (isnan (heat->surface) && isnan (heat->evaporation) && isnan (heat->heat_wanted) && isnan (heat->equilibrium)
                 && isnan (heat->power) && isnan (heat->time_to_air) && isnan (heat->reservoir_lasts));
  g_assert_cmpuint (heat->n_power, ==, 5);
  g_assert_true (isnan (line_of (heat, "heater-left")->duty));
  study_fixture_clear (&fixture);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/study/heat/balance-adds-up", test_balance_adds_up);
  g_test_add_func ("/study/heat/by-hand", test_by_hand);
  g_test_add_func ("/study/heat/directions", test_directions);
  g_test_add_func ("/study/heat/condensation", test_condensation);
  g_test_add_func ("/study/heat/equilibrium", test_equilibrium);
  g_test_add_func ("/study/heat/no-equilibrium", test_no_equilibrium);
  g_test_add_func ("/study/heat/heaters", test_heaters);
  g_test_add_func ("/study/heat/chiller", test_chiller);
  g_test_add_func ("/study/heat/heaters-on-and-off", test_heaters_on_and_off);
  g_test_add_func ("/study/heat/level-falls", test_level_falls);
  g_test_add_func ("/study/heat/reservoir", test_reservoir);
  g_test_add_func ("/study/heat/cost", test_cost);
  g_test_add_func ("/study/heat/unknown-power", test_unknown_power);
  g_test_add_func ("/study/heat/not-known", test_not_known);
  return g_test_run ();
}
