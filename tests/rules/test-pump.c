/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The pump: lift, turnover, water over its inlet. */
#include "rule-fixture.h"

#include <math.h>

/* Next to nothing is 2 % of the last flow of the curve, 4000 L/h here. */
static void
test_no_lift (void)
{
  g_autoptr (Fixture) fixture = fixture_new ();

  fixture->pump->flow = 80.001 * LITRE_PER_HOUR;
  fixture_run (fixture);
  fixture_expect_fine (fixture, "pump-cannot-lift");
  fixture->pump->flow = 79.999 * LITRE_PER_HOUR;
  fixture->pump->shut_off_head = 1.0;
  fixture_run (fixture);
  fixture_expect_text (fixture_expect (fixture, "pump-cannot-lift", "pump", NAPPE_SEVERITY_PROBLEM),
                       "“Pump” moves next to no water", "at most 1.00 m", "asks for 1.13 m", "well over 1.13 m", NULL);
  /* Strong enough, yet no flow: something is shut. */
  fixture->pump->shut_off_head = 3.5;
  fixture_run (fixture);
  fixture_expect_text (fixture_expect (fixture, "pump-cannot-lift", "pump", NAPPE_SEVERITY_PROBLEM),
                       "Open what is shut", NULL);
  /* A pump that stands still. */
  fixture->pump->flow = fixture->pump->end_flow = fixture->pump->shut_off_head = 0;
  fixture_run (fixture);
  fixture_expect (fixture, "pump-cannot-lift", "pump", NAPPE_SEVERITY_PROBLEM);
}

/* The line's highest point against the head at no flow: a siphon may hold while it runs, but it never starts. */
static void
test_no_restart (void)
{
  g_autoptr (Fixture) fixture = fixture_new ();

  fixture->pump->shut_off_head = 1.13 + HAIR;
  fixture_run (fixture);
  fixture_expect_fine (fixture, "pump-cannot-lift");
  fixture->pump->shut_off_head = 1.13 - HAIR;
  fixture_run (fixture);
  fixture_expect_text (fixture_expect (fixture, "pump-cannot-lift", "pump", NAPPE_SEVERITY_PROBLEM),
                       "would not start again after a power cut", "1.13 m", NULL);
}

static void
test_end_of_curve (void)
{
  g_autoptr (Fixture) fixture = fixture_new ();

  fixture->pump->flow = 0.95 * (1 - HAIR) * fixture->pump->end_flow;
  fixture_run (fixture);
  fixture_expect_fine (fixture, "pump-cannot-lift");
  fixture->pump->flow = 0.95 * (1 + HAIR) * fixture->pump->end_flow;
  fixture_run (fixture);
  fixture_expect_text (fixture_expect (fixture, "pump-cannot-lift", "pump", NAPPE_SEVERITY_ADVICE), "3 800 L/h",
                       "95% of the most", NULL);
}

/* 5 to 10 an hour are the targets; the display holds 250 L. */
static void
test_turnover (void)
{
  static const struct
  {
    double turnover; /* [1/h] */
    NappeSeverity severity;
    const char *text;
  } cases[] = {
    { 5 + HAIR, NAPPE_SEVERITY_FINE, "" },
    { 5 - HAIR, NAPPE_SEVERITY_ADVICE, "It takes 1 250 L/h" },
    { 10 - HAIR, NAPPE_SEVERITY_FINE, "" },
    { 10 + HAIR, NAPPE_SEVERITY_ADVICE, "Turn the pump down to 2 500 L/h or less" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (Fixture) fixture = fixture_new ();
      fixture->study->display_turnover = cases[i].turnover * PER_HOUR;
      fixture_run (fixture);
      if (cases[i].severity == NAPPE_SEVERITY_FINE)
        fixture_expect_fine (fixture, "turnover");
      else
        fixture_expect_text (fixture_expect (fixture, "turnover", "tank", cases[i].severity), cases[i].text,
                             "you asked for 5.0 /h to 10 /h", NULL);
    }
}

static void
test_submergence (void)
{
  g_autoptr (Fixture) fixture = fixture_new ();

  fixture->pump->submergence = 0.120 + HAIR;
  fixture_run (fixture);
  fixture_expect_fine (fixture, "pump-inlet-submergence");
  fixture->pump->submergence = 0.120 - HAIR;
  fixture_run (fixture);
  fixture_expect (fixture, "pump-inlet-submergence", "pump", NAPPE_SEVERITY_ADVICE);
  fixture->pump->submergence = 0.080;
  fixture_run (fixture);
  fixture_expect_text (fixture_expect (fixture, "pump-inlet-submergence", "pump", NAPPE_SEVERITY_ADVICE),
                       "80 mm of water stand over the inlet of “Pump”", "120 mm are advised", "40 mm higher", NULL);
  fixture->pump->submergence = HAIR;
  fixture_run (fixture);
  fixture_expect (fixture, "pump-inlet-submergence", "pump", NAPPE_SEVERITY_ADVICE);
  fixture->pump->submergence = -HAIR;
  fixture_run (fixture);
  fixture_expect_text (fixture_expect (fixture, "pump-inlet-submergence", "pump", NAPPE_SEVERITY_PROBLEM), "draws air",
                       NULL);
}

static void
test_air_and_unknown_bore (void)
{
  g_autoptr (Fixture) fixture = fixture_new ();

  fixture->pump->submergence_wanted = NAN;
  fixture_run (fixture);
  fixture_expect_fine (fixture, "pump-inlet-submergence");
  fixture->study->running.draws_air = TRUE;
  fixture_run (fixture);
  fixture_expect_text (fixture_expect (fixture, "pump-inlet-submergence", "pump", NAPPE_SEVERITY_PROBLEM),
                       "“Pump” is not covered", NULL);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/rules/pump/no-lift", test_no_lift);
  g_test_add_func ("/rules/pump/no-restart", test_no_restart);
  g_test_add_func ("/rules/pump/end-of-curve", test_end_of_curve);
  g_test_add_func ("/rules/turnover", test_turnover);
  g_test_add_func ("/rules/submergence/limits", test_submergence);
  g_test_add_func ("/rules/submergence/air", test_air_and_unknown_bore);
  return g_test_run ();
}
