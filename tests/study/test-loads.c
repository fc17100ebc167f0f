/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Weight, load on the floor and panels: against reckoning by hand. */
#include "study-fixture.h"

#include "study/loads.h"

#include "physics/gravity.h"

#include <math.h>

static NappeLoads *
loads_of (StudyFixture *fixture)
{
  study_fixture_again (fixture);
  return nappe_loads_new (fixture->build, fixture->catalogue, fixture->study);
}

static const NappePanel *
panel_of (const NappeLoads *loads, const char *part, int side)
{
  for (guint i = 0; i < loads->n_panels; i++)
    if (g_str_equal (loads->panels[i].part, part) && loads->panels[i].side == side)
      return &loads->panels[i];
  g_error ("no panel %d of %s", side, part);
}

static void
test_masses_by_hand (void)
{
  StudyFixture fixture;

  study_fixture_load (&fixture, "three-drain");
  g_autoptr (NappeLoads) loads = loads_of (&fixture);
  const NappeState *running = &fixture.study->running;
  g_assert_true (loads->known);
  g_assert_cmpfloat_with_epsilon (loads->mass_water, 1023.343 * (running->vessels + running->pipes), 0.01);
  /* Tank 1.2 x 0.6 x 0.55 of 12 mm, sump 1.0 x 0.45 x 0.4 of 8 mm, box of 0.32 x 0.13 x 0.515 of 6 mm against two of the
     tank's walls, six baffles of 6 mm and 0.45 m, heights 250, 180, 300 - 40, 200, 230, 250 mm. */
  double tank = (1.224 * 0.624 - 0.72) * 0.55 + 1.224 * 0.624 * 0.012;
  double sump = (1.016 * 0.466 - 0.45) * 0.4 + 1.016 * 0.466 * 0.008;
  double box = 0.45 * 0.006 * 0.515, baffles = (0.25 + 0.18 + 0.26 + 0.2 + 0.23 + 0.25) * 0.006 * 0.45;
  g_assert_cmpfloat_with_epsilon (loads->mass_glass, 2500 * (tank + sump + box + baffles), 1e-6);
  /* A tenth of the water body under the crest at 490 mm, and 15 % of the refugium's. */
  double refugium = 0.15 * 0.18 * 0.45 * (nappe_study_level (fixture.study, running, "refugium") - 0.038);
  g_assert_cmpfloat_with_epsilon (loads->mass_rock, 2700 * (0.1 * 0.72 * 0.49 + refugium), 1e-6);
  /* Nothing but pipes: about 10 m of one inch and one and a half, some 5 kg. */
  g_assert_cmpfloat (loads->mass_other, >, 3);
  g_assert_cmpfloat (loads->mass_other, <, 8);
  double mass = loads->mass_water + loads->mass_glass + loads->mass_rock + loads->mass_other;
  g_assert_cmpfloat_with_epsilon (loads->mass, mass, 1e-9);
  g_assert_cmpfloat_with_epsilon (loads->footprint, 1.3 * 0.65, 1e-12);
  g_assert_cmpfloat_with_epsilon (loads->floor_pressure, mass * NAPPE_GRAVITY / (1.3 * 0.65), 1e-6);
  g_autoptr (NappeLoads) weight = nappe_loads_new_weight (fixture.build, fixture.catalogue, fixture.study);
  g_assert_cmpfloat (weight->mass, ==, loads->mass);
  g_assert_cmpfloat (weight->floor_pressure, ==, loads->floor_pressure);
  g_assert_cmpuint (weight->n_panels, ==, 0);
  g_assert_cmpfloat (loads->floor_allowed, ==, 10000);
  study_fixture_set (&fixture, "room", "floor_load", 2000);
  g_autoptr (NappeLoads) limited = loads_of (&fixture);
  g_assert_cmpfloat (limited->floor_allowed, ==, 2000);
  study_fixture_clear (&fixture);
}

/* The published example, stress along the middle 6.46 MPa and deflection 2.86 mm (Levy series, trial in Python): 1.2 m by
 * 0.5 m of 10 mm glass under sea water. */
static void
test_example_panel (void)
{
  StudyFixture fixture;

  study_fixture_load (&fixture, "three-drain");
  study_fixture_set (&fixture, "tank", "height", 0.5);
  study_fixture_set (&fixture, "tank", "wall_thickness", 0.01);
  g_autoptr (NappeLoads) loads = loads_of (&fixture);
  const NappePanel *front = panel_of (loads, "tank", NAPPE_PANEL_FRONT);
  g_assert_cmpfloat_with_epsilon (front->stress_middle, 6.4627e6, 0.01e6);
  g_assert_cmpfloat_with_epsilon (front->deflection, 2.862e-3, 0.01e-3);
  g_assert_true (front->small);
  g_assert_cmpfloat_with_epsilon (front->strength, 7.25e6, 1);
  g_assert_cmpfloat_with_epsilon (front->safety, front->strength / front->stress, 1e-12);
  g_assert_true (front->length == 1.2 && front->height == 0.5 && front->thickness == 0.01);
  /* Side 0.6 m, L/H 1.2: between the rows 1 and 1.25 of the published table, 0.198 and 0.278. */
  const NappePanel *side = panel_of (loads, "tank", NAPPE_PANEL_SIDE);
  double unit = 1023.343 * NAPPE_GRAVITY * 0.5 * 0.25 / 1e-4;
  g_assert_cmpfloat (side->stress, >, 0.198 * unit);
  g_assert_cmpfloat (side->stress, <, 0.278 * unit);
  /* Bottom 1.2 by 0.6 on four edges, 2:1: 0.610 q b^2 / t^2 (Roark, table 11.4 case 1a; nu 0.3, here 0.23: within 3 %). */
  const NappePanel *bottom = panel_of (loads, "tank", NAPPE_PANEL_BOTTOM);
  unit = 1023.343 * NAPPE_GRAVITY * 0.5 * 0.36 / (0.012 * 0.012);
  g_assert_cmpfloat_with_epsilon (bottom->stress, 0.61 * unit, 0.03 * 0.61 * unit);
  study_fixture_clear (&fixture);
}

static void
test_materials (void)
{
  StudyFixture fixture;
  g_autoptr (GError) error = NULL;

  study_fixture_load (&fixture, "three-drain");
  NappePart *tank = nappe_build_find (fixture.build, "tank");
  g_autoptr (NappeLoads) glass = loads_of (&fixture);
  g_assert_cmpuint (glass->n_panels, ==, 6);
  nappe_build_set_text (fixture.build, tank, "side_temper", "tempered", &error);
  g_assert_no_error (error);
  g_autoptr (NappeLoads) tempered = loads_of (&fixture);
  g_assert_cmpfloat_with_epsilon (panel_of (tempered, "tank", NAPPE_PANEL_SIDE)->strength, 69.75e6, 1);
  g_assert_cmpfloat (panel_of (tempered, "tank", NAPPE_PANEL_FRONT)->strength, ==,
                     panel_of (glass, "tank", NAPPE_PANEL_FRONT)->strength);
  nappe_build_set_text (fixture.build, tank, "material", "acrylic", &error);
  g_assert_no_error (error);
  g_autoptr (NappeLoads) acrylic = loads_of (&fixture);
  /* Temper is nothing to acrylic; it is softer and lighter. */
  g_assert_cmpfloat_with_epsilon (panel_of (acrylic, "tank", NAPPE_PANEL_SIDE)->strength, 5e6, 1);
  g_assert_cmpfloat (panel_of (acrylic, "tank", NAPPE_PANEL_FRONT)->deflection, >,
                     30 * panel_of (glass, "tank", NAPPE_PANEL_FRONT)->deflection);
  g_assert_false (panel_of (acrylic, "tank", NAPPE_PANEL_FRONT)->small);
  g_assert_cmpfloat (acrylic->mass_glass, <, glass->mass_glass);
  /* Nothing is said of panels that nothing is known of. */
  nappe_build_set_text (fixture.build, tank, "material", "other", &error);
  g_assert_no_error (error);
  study_fixture_set (&fixture, "sump", "bottom_thickness", 0);
  g_autoptr (NappeLoads) other = loads_of (&fixture);
  g_assert_cmpuint (other->n_panels, ==, 2);
  study_fixture_clear (&fixture);
}

/* Thicker is safer by the square, longer is worse. */
static void
test_directions (void)
{
  StudyFixture fixture;
  double last = INFINITY;

  study_fixture_load (&fixture, "three-drain");
  g_autoptr (NappeLoads) thin = loads_of (&fixture);
  study_fixture_set (&fixture, "tank", "wall_thickness", 0.024);
  g_autoptr (NappeLoads) thick = loads_of (&fixture);
  g_assert_cmpfloat_with_epsilon (panel_of (thick, "tank", NAPPE_PANEL_FRONT)->safety,
                                  4 * panel_of (thin, "tank", NAPPE_PANEL_FRONT)->safety, 1e-3);
  for (double length = 0.9; length < 4; length += 0.25)
    {
      study_fixture_set (&fixture, "tank", "length", length);
      g_autoptr (NappeLoads) loads = loads_of (&fixture);

      g_assert_cmpfloat (panel_of (loads, "tank", NAPPE_PANEL_FRONT)->safety, <, last);
      last = panel_of (loads, "tank", NAPPE_PANEL_FRONT)->safety;
    }
  study_fixture_clear (&fixture);
}

/* Panels ask for no steady state; masses do. No stand, no pressure. */
static void
test_not_known (void)
{
  StudyFixture fixture;

  study_fixture_load (&fixture, "three-drain");
  study_fixture_set (&fixture, "stand", "width", 0);
  g_autoptr (NappeLoads) standless = loads_of (&fixture);
  g_assert_true (standless->known && isnan (standless->floor_pressure));
  study_fixture_set (&fixture, nappe_part_get_id (NAPPE_RETURN_LINE (fixture.build->returns->pdata[0])->pump), "speed", 0);
  g_autoptr (NappeLoads) loads = loads_of (&fixture);
  g_assert_false (loads->known);
  g_assert_true (isnan (loads->mass) && isnan (loads->mass_water) && isnan (loads->floor_pressure));
  g_assert_cmpuint (loads->n_panels, ==, 6);
  study_fixture_clear (&fixture);
}

/* The weakest upright panel is the one with the least safety of all that are computed, whichever side is the longer. */
static void
test_weakest (void)
{
  StudyFixture fixture;
  NappePanel panels[2];

  study_fixture_load (&fixture, "three-drain");
  for (int turned = 0; turned < 2; turned++)
    {
      g_autoptr (NappeLoads) loads = loads_of (&fixture);
      g_assert_cmpuint (nappe_loads_weakest_upright (fixture.build, fixture.study, panels), ==, 2);
      for (guint i = 0; i < 2; i++)
        {
          double least = INFINITY;
          for (guint j = 0; j < loads->n_panels; j++)
            if (loads->panels[j].side != NAPPE_PANEL_BOTTOM && g_str_equal (loads->panels[j].part, panels[i].part))
              least = fmin (least, loads->panels[j].safety);
          g_assert_cmpfloat (panels[i].safety, ==, least);
        }
      study_fixture_set (&fixture, "tank", "length", 0.4);
    }
  g_assert_cmpint (panels[0].side, ==, NAPPE_PANEL_SIDE);
  study_fixture_set (&fixture, "tank", "wall_thickness", 0);
  study_fixture_again (&fixture);
  g_assert_cmpuint (nappe_loads_weakest_upright (fixture.build, fixture.study, panels), ==, 1);
  g_assert_cmpstr (panels[0].part, ==, "sump");
  study_fixture_clear (&fixture);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/study/loads/masses-by-hand", test_masses_by_hand);
  g_test_add_func ("/study/loads/example-panel", test_example_panel);
  g_test_add_func ("/study/loads/materials", test_materials);
  g_test_add_func ("/study/loads/directions", test_directions);
  g_test_add_func ("/study/loads/not-known", test_not_known);
  g_test_add_func ("/study/loads/weakest", test_weakest);
  return g_test_run ();
}
