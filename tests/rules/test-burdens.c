/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Limits of mains, floor and glass that somebody published, taken from there and met to a hair. */
#include "rule-fixture.h"

#include "study/loads.h"

#include <math.h>

/* What a rule found or checked about a part. */
static NappeFinding *
said_of (Fixture *fixture, const char *rule, const char *part)
{
  GPtrArray *lists[] = { fixture->verdict->findings, fixture->verdict->fine };

  for (gsize list = 0; list < G_N_ELEMENTS (lists); list++)
    for (guint i = 0; i < lists[list]->len; i++)
      if (g_str_equal (nappe_finding_get_rule (lists[list]->pdata[i]), rule)
          && g_str_equal (nappe_finding_get_part (lists[list]->pdata[i]), part))
        return lists[list]->pdata[i];
  g_error ("%s says nothing of “%s”", rule, part);
}

/* NFPA 70 (National Electrical Code), 210.20(A), from memory: a circuit bears 125 % of its load of three hours or more. */
static void
test_circuit (void)
{
  g_autoptr (Fixture) fixture = fixture_new ();

  fixture_run (fixture);
  double current = nappe_finding_get_value (said_of (fixture, "circuit-load", "room"));
  g_assert_cmpfloat (current, >, 1);
  fixture_set (fixture, "room", "circuit_amperes", 1.25 * current * (1 + HAIR));
  fixture_run (fixture);
  fixture_expect_fine (fixture, "circuit-load");
  fixture_set (fixture, "room", "circuit_amperes", 1.25 * current * (1 - HAIR));
  fixture_run (fixture);
  fixture_expect (fixture, "circuit-load", "room", NAPPE_SEVERITY_ADVICE);
  fixture_set (fixture, "room", "circuit_amperes", current * (1 - HAIR));
  fixture_run (fixture);
  fixture_expect (fixture, "circuit-load", "room", NAPPE_SEVERITY_PROBLEM);
}

/* EN 1991-1-1, table 6.2, from memory: floors of homes, category A, 1.5 to 2.0 kN/m2. */
static void
test_floor (void)
{
  g_autoptr (Fixture) fixture = fixture_new ();

  fixture_set (fixture, "room", "floor_load", NAN);
  fixture_run (fixture);
  NappeFinding *finding = fixture_expect (fixture, "floor-load", "stand", NAPPE_SEVERITY_ADVICE);
  g_assert_cmpfloat (nappe_finding_get_limit (finding), ==, 2000);
  g_assert_cmpfloat (nappe_finding_get_value (finding), >, 2000);
}

/* EN 16612, from memory: annealed glass under a load of years bears 0.29 of 45 MPa, over 1.8; without that factor it breaks. */
static void
test_glass (void)
{
  g_autoptr (Fixture) fixture = fixture_new ();
  const double years = 0.29 * 45e6;
  NappePanel panels[2];

  for (double thickness = 0.005; thickness < 0.014; thickness += 0.001)
    {
      fixture_set (fixture, "tank", "wall_thickness", thickness);
      fixture_restudy (fixture);
      g_assert_cmpuint (nappe_loads_weakest_upright (fixture->build, fixture->study, panels), ==, 2);
      fixture_run (fixture);
      int severity = nappe_finding_get_severity (said_of (fixture, "panel-stress", "tank"));
      g_assert_cmpint (severity, ==, panels[0].stress > years         ? NAPPE_SEVERITY_DANGER
                                     : panels[0].stress > years / 1.8 ? NAPPE_SEVERITY_PROBLEM
                                                                      : NAPPE_SEVERITY_FINE);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/rules/burdens/circuit", test_circuit);
  g_test_add_func ("/rules/burdens/floor", test_floor);
  g_test_add_func ("/rules/burdens/glass", test_glass);
  return g_test_run ();
}
