/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Air lines, mouths, speeds and wanted flows: limits as they were published, and what is said. */
#include "rule-fixture.h"

#include "rules/rule-limits.h"

#include <math.h>

#define INCH 0.0254
#define FOOT 0.3048

/* International Plumbing Code, table 704.1: 1/4 in a foot for pipe of up to 2 1/2 in. Prosser, BHRA 1977: 1.5 diameters of
 * water over an intake. ANSI/HI 9.8: 1.7 m/s at an inlet bell. */
static void
test_published_limits (void)
{
  g_assert_cmpfloat_with_epsilon (nappe_limit_value (NAPPE_LIMIT_RUN_FALL), 0.25 * INCH / FOOT, 1e-12);
  g_assert_cmpfloat_with_epsilon (nappe_limit_value (NAPPE_LIMIT_MOUTH_COVER), 1.5, 1e-12);
  g_assert_cmpfloat_with_epsilon (nappe_limit_value (NAPPE_LIMIT_SPEED_SUCTION), 1.7, 1e-12);
}

/* The quiet flow that is named goes with the planner's limit: half the Froude number, half the 870 L/h. */
static void
test_quiet_flow_follows (void)
{
  g_autoptr (Fixture) fixture = fixture_new ();

  fixture->channel->froude = 0.20;
  fixture_set (fixture, "limits", "froude_quiet", 0.15);
  fixture_run (fixture);
  fixture_expect_text (fixture_expect (fixture, "standpipe-quiet", "channel", NAPPE_SEVERITY_ADVICE), "quiet up to about 435 L/h",
                       NULL);
}

/* A siphon with an air line is told to lose it, not to be throttled. */
static void
test_vented_siphon (void)
{
  g_autoptr (Fixture) fixture = fixture_new ();

  fixture->study->running.primed[fixture->siphon->link] = FALSE;
  fixture_link (fixture, NAPPE_LINK_DRAIN, "siphon")->inlet.vented = TRUE;
  fixture_run (fixture);
  fixture_expect_text (fixture_expect (fixture, "siphon-not-full", "siphon", NAPPE_SEVERITY_PROBLEM), "Take its air line away",
                       NULL);
}

/* 2000 L/h through 20 mm run at 1.77 m/s; two equal pumps share them. */
static void
test_suction (void)
{
  g_autoptr (Fixture) fixture = fixture_new ();
  NappeLink *pump = fixture_link (fixture, NAPPE_LINK_PUMP, "pump");

  pump->inlet_bore = 0.020;
  fixture_run (fixture);
  NappeFinding *fast = fixture_expect (fixture, "pipe-speed", "pump", NAPPE_SEVERITY_ADVICE);
  g_assert_cmpfloat_with_epsilon (nappe_finding_get_value (fast), 2000 * LITRE_PER_HOUR / (G_PI_4 * 0.020 * 0.020), 1e-9);
  /* 1.7 m/s take a bore of 20 √(1.768 / 1.7) mm. */
  fixture_expect_text (fast, "1.77 m/s", "of 21 mm or more", NULL);
  pump->count = 2;
  fixture_run (fixture);
  fixture_expect_fine (fixture, "pipe-speed");
}

/* The channel's 100 L/h are quiet; what weighs is whether more could turn it into a siphon. */
static void
test_unvented (void)
{
  g_autoptr (Fixture) fixture = fixture_new ();

  fixture_set (fixture, "channel", "vented", 0);
  fixture_run (fixture);
  fixture_expect (fixture, "drain-unvented", "channel", NAPPE_SEVERITY_ADVICE);
  fixture->channel->froude = 0.3 + HAIR;
  fixture_run (fixture);
  fixture_expect (fixture, "drain-unvented", "channel", NAPPE_SEVERITY_PROBLEM);
  fixture->channel->froude = 0.3 - HAIR;
  fixture_run (fixture);
  fixture_expect (fixture, "drain-unvented", "channel", NAPPE_SEVERITY_ADVICE);
}

/* A speed that cannot be set makes the remedy another pump. */
static void
test_turnover_of_fixed_pump (void)
{
  g_autoptr (Fixture) fixture = fixture_new ();

  fixture->study->display_turnover = 12 * PER_HOUR;
  fixture_run (fixture);
  fixture_expect_text (fixture_expect (fixture, "turnover", NULL, NAPPE_SEVERITY_ADVICE), "Turn the pump down", NULL);
  fixture_set_text (fixture, "pump", "item", "ac-pump-5000");
  fixture_run (fixture);
  fixture_expect_text (fixture_expect (fixture, "turnover", NULL, NAPPE_SEVERITY_ADVICE), "A smaller pump would do", NULL);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/rules/flow/published-limits", test_published_limits);
  g_test_add_func ("/rules/flow/quiet-flow-follows", test_quiet_flow_follows);
  g_test_add_func ("/rules/flow/vented-siphon", test_vented_siphon);
  g_test_add_func ("/rules/flow/suction", test_suction);
  g_test_add_func ("/rules/flow/unvented", test_unvented);
  g_test_add_func ("/rules/flow/turnover-of-fixed-pump", test_turnover_of_fixed_pump);
  return g_test_run ();
}
