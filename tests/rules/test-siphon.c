/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Full siphons: size, filling, valve and tuning window. */
#include "rule-fixture.h"

#include <math.h>

static Fixture *
make_without_siphon (void)
{
  Fixture *fixture = fixture_new ();

  fixture_remove (fixture, "siphon");
  fixture_restudy (fixture);
  return fixture;
}

static void
test_none (void)
{
  g_autoptr (Fixture) fixture = make_without_siphon ();

  fixture_run (fixture);
  fixture_expect_unchecked (fixture, "siphon-too-small");
  fixture_expect_unchecked (fixture, "siphon-not-full");
  fixture_expect_unchecked (fixture, "valve-opening");
  fixture_expect_unchecked (fixture, "valve-coarse");
  fixture_expect_unchecked (fixture, "tuning-window");
}

/* Wide open against the pump's 2000 L/h. */
static void
test_too_small (void)
{
  g_autoptr (Fixture) fixture = fixture_new ();

  fixture->siphon->flow_valve_open = 2000.001 * LITRE_PER_HOUR;
  fixture_run (fixture);
  fixture_expect_fine (fixture, "siphon-too-small");
  /* The rest goes down quietly by the open channel: it works. */
  fixture->siphon->flow_valve_open = 1999.999 * LITRE_PER_HOUR;
  fixture_run (fixture);
  fixture_expect (fixture, "siphon-too-small", "siphon", NAPPE_SEVERITY_ADVICE);
  fixture->channel->state = NAPPE_DRAIN_ENTRAINING;
  fixture_run (fixture);
  fixture_expect (fixture, "siphon-too-small", "siphon", NAPPE_SEVERITY_PROBLEM);
  fixture->channel->state = NAPPE_DRAIN_DRY;
  fixture->channel->flow = 0;
  fixture->siphon->flow_valve_open = 500 * LITRE_PER_HOUR;
  fixture_link (fixture, NAPPE_LINK_DRAIN, "siphon")->inlet.bore = 0.0266;
  fixture_run (fixture);
  /* Four times the flow takes 4^0.4 times the bore: 26.6 mm becomes 46 mm. */
  fixture_expect_text (fixture_expect (fixture, "siphon-too-small", "siphon", NAPPE_SEVERITY_PROBLEM),
                       "“Siphon” carries 500 L/h", "pump brings 2 000 L/h", "1 500 L/h must go another way",
                       "a bore over 46 mm (this one has 27 mm)", NULL);
}

/* Without a valve, what the bare pipe carries counts. */
static void
test_too_small_without_valve (void)
{
  g_autoptr (Fixture) fixture = fixture_new ();

  fixture->siphon->flow_valve_open = NAN;
  fixture->siphon->capacity_full = 1999 * LITRE_PER_HOUR;
  fixture_run (fixture);
  fixture_expect (fixture, "siphon-too-small", "siphon", NAPPE_SEVERITY_ADVICE);
  fixture->siphon->capacity_full = 2001 * LITRE_PER_HOUR;
  fixture_run (fixture);
  fixture_expect_fine (fixture, "siphon-too-small");
}

static void
test_cycles (void)
{
  g_autoptr (Fixture) fixture = fixture_new ();

  fixture->study->running.rest = NAPPE_REST_CYCLES;
  fixture->siphon->capacity_full = 4500 * LITRE_PER_HOUR;
  fixture->siphon->opening_wanted = 0.41;
  fixture_run (fixture);
  fixture_expect_text (fixture_expect (fixture, "siphon-cycles", "siphon", NAPPE_SEVERITY_PROBLEM), "4 500 L/h",
                       "only 2 000 L/h", "roughly at 41% open", NULL);
  fixture->siphon->opening = fixture->siphon->opening_wanted = NAN;
  fixture_run (fixture);
  fixture_expect_text (fixture_expect (fixture, "siphon-cycles", "siphon", NAPPE_SEVERITY_PROBLEM), "Fit a gate valve",
                       NULL);
  fixture->study->running.rest = NAPPE_REST_FOUND;
  fixture_run (fixture);
  fixture_expect_fine (fixture, "siphon-cycles");
}

static void
test_not_full (void)
{
  g_autoptr (Fixture) fixture = fixture_new ();

  fixture->study->running.primed[fixture->siphon->link] = FALSE;
  fixture->siphon->window.known = FALSE;
  fixture_run (fixture);
  fixture_expect_text (fixture_expect (fixture, "siphon-not-full", "siphon", NAPPE_SEVERITY_PROBLEM),
                       "“Siphon” is meant to run full", "1 900 L/h", "50% open", NULL);
  fixture_expect_unchecked (fixture, "tuning-window");
}

/* Where it must stand: 15 % to 85 % of its travel by common practice. */
static void
test_opening (void)
{
  static const struct
  {
    double wanted, drawn;
    NappeSeverity severity;
    const char *text;
  } cases[] = {
    { 0.15 + HAIR, 0.15, NAPPE_SEVERITY_FINE, "" },
    { 0.15 - HAIR, 0.15, NAPPE_SEVERITY_ADVICE, "only with its valve about 15% open: the pipe is much too large" },
    { 0.85 - HAIR, 0.85, NAPPE_SEVERITY_FINE, "" },
    { 0.85 + HAIR, 0.85, NAPPE_SEVERITY_ADVICE, "only with its valve about 85% open: nothing is left" },
    { 0.50, 0.60 - HAIR, NAPPE_SEVERITY_FINE, "" },
    { 0.50, 0.60 + HAIR, NAPPE_SEVERITY_ADVICE, "about 50% open" },
    { 0.50, 0.40 - HAIR, NAPPE_SEVERITY_ADVICE, "it is drawn 40% open" },
    { 0.50, 0.0, NAPPE_SEVERITY_PROBLEM, "Draw it 50% open" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (Fixture) fixture = fixture_new ();
      fixture->siphon->opening_wanted = cases[i].wanted;
      fixture->siphon->opening = cases[i].drawn;
      fixture_run (fixture);
      if (cases[i].severity == NAPPE_SEVERITY_FINE)
        fixture_expect_fine (fixture, "valve-opening");
      else
        fixture_expect_text (fixture_expect (fixture, "valve-opening", "siphon", cases[i].severity), "“Siphon” tunes",
                             cases[i].text, NULL);
    }
  g_autoptr (Fixture) fixture = fixture_new ();
  fixture->siphon->opening_wanted = NAN;
  fixture_run (fixture);
  fixture_expect_unchecked (fixture, "valve-opening");
}

static void
test_ball_valve (void)
{
  g_autoptr (Fixture) fixture = fixture_new ();

  g_strlcpy (fixture->siphon->valve_kind, "ball", sizeof fixture->siphon->valve_kind);
  fixture->siphon->window.rise_per_percent = 0.014;
  fixture_run (fixture);
  fixture_expect_text (fixture_expect (fixture, "valve-coarse", "siphon", NAPPE_SEVERITY_ADVICE), "“Siphon”",
                       "by about 14 mm", "gate valve", NULL);
}

/* Each of the four bounds a hair within the 10 % that the planner expects. */
static void
test_window (void)
{
  static const struct
  {
    gsize bound; /* offset in NappeTuningWindow */
    double share;
    NappeSeverity severity;
    const char *text;
  } cases[] = {
    { G_STRUCT_OFFSET (NappeTuningWindow, breaks), -0.10, NAPPE_SEVERITY_PROBLEM,
      "falls by 10%, the siphon draws air and breaks" },
    { G_STRUCT_OFFSET (NappeTuningWindow, emergency_wet), 0.10, NAPPE_SEVERITY_PROBLEM,
      "rises by 10%, water reaches the emergency inlet" },
    { G_STRUCT_OFFSET (NappeTuningWindow, channel_dry), -0.10, NAPPE_SEVERITY_ADVICE,
      "falls by 10%, the open channel runs dry" },
    { G_STRUCT_OFFSET (NappeTuningWindow, channel_loud), 0.10, NAPPE_SEVERITY_ADVICE,
      "rises by 10%, the open channel grows loud" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (Fixture) fixture = fixture_new ();
      double *bound = G_STRUCT_MEMBER_P (&fixture->siphon->window, cases[i].bound);
      *bound = cases[i].share * (1 + HAIR);
      fixture_run (fixture);
      fixture_expect_fine (fixture, "tuning-window");
      *bound = cases[i].share * (1 - HAIR);
      fixture_run (fixture);
      fixture_expect_text (fixture_expect (fixture, "tuning-window", "siphon", cases[i].severity), cases[i].text,
                           "You expect the flow to drift by 10%", NULL);
    }
}

/* A break is worse than a channel that runs dry before it, and is what is said. */
static void
test_worst_bound_is_said (void)
{
  g_autoptr (Fixture) fixture = fixture_new ();

  fixture->siphon->window.channel_dry = -0.05;
  fixture->siphon->window.breaks = -0.08;
  fixture_run (fixture);
  NappeFinding *finding = fixture_expect (fixture, "tuning-window", "siphon", NAPPE_SEVERITY_PROBLEM);
  fixture_expect_text (finding, "falls by 8.0%, the siphon draws air", NULL);
  /* All four bounds are in the working. */
  g_assert_cmpuint (nappe_finding_get_working (finding)->inputs->len, ==, 4);
}

/* A siphon without open channel: two bounds, and an open channel as the cure. */
static void
test_window_without_channel (void)
{
  g_autoptr (Fixture) fixture = fixture_new ();

  fixture_remove (fixture, "channel");
  fixture_restudy (fixture);
  fixture->siphon->window = (NappeTuningWindow){ TRUE, -0.02, NAN, NAN, 0.021, -0.02, 0.021, 0.004 };
  fixture_run (fixture);
  fixture_expect_text (fixture_expect (fixture, "tuning-window", "siphon", NAPPE_SEVERITY_PROBLEM), "falls by 2.0%",
                       "Add an open-channel drain", NULL);
}

/* Outside its band already. A wet emergency has a rule of its own and is not said twice. */
static void
test_window_left (void)
{
  g_autoptr (Fixture) fixture = fixture_new ();

  fixture->siphon->window.channel_dry = 0.02;
  fixture_run (fixture);
  fixture_expect_text (fixture_expect (fixture, "tuning-window", "siphon", NAPPE_SEVERITY_ADVICE),
                       "outside its band as drawn", "the open channel runs dry", NULL);
  fixture->siphon->window.channel_dry = -0.15;
  fixture->siphon->window.emergency_wet = -0.03;
  fixture_run (fixture);
  fixture_expect_unchecked (fixture, "tuning-window");
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/rules/siphon/none", test_none);
  g_test_add_func ("/rules/siphon/too-small", test_too_small);
  g_test_add_func ("/rules/siphon/too-small-without-valve", test_too_small_without_valve);
  g_test_add_func ("/rules/siphon/cycles", test_cycles);
  g_test_add_func ("/rules/siphon/not-full", test_not_full);
  g_test_add_func ("/rules/siphon/opening", test_opening);
  g_test_add_func ("/rules/siphon/ball-valve", test_ball_valve);
  g_test_add_func ("/rules/siphon/window", test_window);
  g_test_add_func ("/rules/siphon/worst-bound", test_worst_bound_is_said);
  g_test_add_func ("/rules/siphon/window-without-channel", test_window_without_channel);
  g_test_add_func ("/rules/siphon/window-left", test_window_left);
  return g_test_run ();
}
