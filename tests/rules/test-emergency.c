/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The emergency drain: there, free, at the right height, large enough. */
#include "rule-fixture.h"

static void
test_none (void)
{
  g_autoptr (Fixture) fixture = fixture_new ();

  fixture_remove (fixture, "emergency");
  fixture_restudy (fixture);
  fixture_run (fixture);
  fixture_expect_text (fixture_expect (fixture, "no-emergency", "box", NAPPE_SEVERITY_ADVICE), "2 000 L/h", NULL);
  fixture_expect_unchecked (fixture, "emergency-valved");
  fixture_expect_unchecked (fixture, "emergency-misplaced");
  fixture_expect_unchecked (fixture, "emergency-too-small");
  fixture_blockage (fixture, "siphon", NULL)->floods = TRUE;
  fixture_run (fixture);
  fixture_expect (fixture, "no-emergency", "box", NAPPE_SEVERITY_PROBLEM);
}

static void
test_valved (void)
{
  g_autoptr (Fixture) fixture = fixture_new ();

  fixture_set_text (fixture, "emergency-pipe-1", "item", "pvc40-ball-valve-1.5");
  fixture_set (fixture, "emergency-pipe-1", "opening", 0.7);
  fixture_run (fixture);
  fixture_expect_text (fixture_expect (fixture, "emergency-valved", "emergency", NAPPE_SEVERITY_PROBLEM),
                       "A valve stands in “Emergency”, drawn 70% open", NULL);
  fixture_set_text (fixture, "emergency-pipe-1", "item", "pvc40-union-1.5");
  fixture_run (fixture);
  fixture_expect_fine (fixture, "emergency-valved");
}

/* The inlet against the running level: 5 mm are how well a level is known. */
static void
test_too_low (void)
{
  static const struct
  {
    double head; /* of the box over the inlet [m] */
    NappeSeverity severity;
  } cases[] = {
    { -0.005 - HAIR, NAPPE_SEVERITY_FINE },
    { -0.005 + HAIR, NAPPE_SEVERITY_ADVICE },
    { -HAIR, NAPPE_SEVERITY_ADVICE },
    { HAIR, NAPPE_SEVERITY_PROBLEM },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (Fixture) fixture = fixture_new ();
      fixture->emergency->head_over_inlet = cases[i].head;
      fixture_run (fixture);
      if (cases[i].severity == NAPPE_SEVERITY_FINE)
        fixture_expect_fine (fixture, "emergency-misplaced");
      else
        fixture_expect_text (fixture_expect (fixture, "emergency-misplaced", "emergency", cases[i].severity),
                             "“Emergency”", NULL);
    }
  g_autoptr (Fixture) fixture = fixture_new ();
  fixture->emergency->head_over_inlet = 0.004;
  fixture->emergency->flow = 150 * LITRE_PER_HOUR;
  fixture_run (fixture);
  fixture_expect_text (fixture_expect (fixture, "emergency-misplaced", "emergency", NAPPE_SEVERITY_PROBLEM),
                       "carries 150 L/h while all is well", "Raise its inlet by 9 mm", NULL);
}

/* The inlet against the tank's rim, 500 mm over the floor of tank and box. */
static void
test_too_high (void)
{
  g_autoptr (Fixture) fixture = fixture_new ();
  NappeLink *link = fixture_link (fixture, NAPPE_LINK_DRAIN, "emergency");

  link->inlet.crest = 1.310 - HAIR;
  fixture->emergency->head_over_inlet = 1.140 - link->inlet.crest;
  fixture_run (fixture);
  fixture_expect_fine (fixture, "emergency-misplaced");
  link->inlet.crest = 1.310 + HAIR;
  fixture_run (fixture);
  fixture_expect_text (fixture_expect (fixture, "emergency-misplaced", "emergency", NAPPE_SEVERITY_DANGER),
                       "“Emergency” lies at the level", NULL);
  link->inlet.crest = 1.330;
  fixture->emergency->head_over_inlet = -0.190;
  fixture->emergency->capacity_full = fixture->emergency->capacity_inlet = 0;
  fixture_run (fixture);
  /* 190 mm less the 5 mm to stay above the water. */
  fixture_expect_text (fixture_expect (fixture, "emergency-misplaced", "emergency", NAPPE_SEVERITY_DANGER),
                       "lies 20 mm above the level", "by up to 185 mm", NULL);
  fixture_expect_unchecked (fixture, "emergency-too-small");
}

/* A box outside the tank spills over its own rim first. */
static void
test_box_outside (void)
{
  g_autoptr (Fixture) fixture = fixture_new ();

  fixture_set (fixture, "box", "style", NAPPE_OVERFLOW_EXTERNAL);
  fixture_set (fixture, "box", "rim_height", 0.345);
  fixture_restudy (fixture);
  fixture_run (fixture);
  fixture_expect (fixture, "emergency-misplaced", "emergency", NAPPE_SEVERITY_DANGER);
  fixture_set (fixture, "box", "rim_height", 0.346);
  fixture_restudy (fixture);
  fixture_run (fixture);
  fixture_expect_fine (fixture, "emergency-misplaced");
}

/* Both capacities against the pump's 2000 L/h. */
static void
test_too_small (void)
{
  static const struct
  {
    double unprimed, full; /* [L/h] */
    NappeSeverity severity;
    const char *text;
  } cases[] = {
    { 2000.001, 5000, NAPPE_SEVERITY_FINE, "" },
    { 1999.999, 5000, NAPPE_SEVERITY_ADVICE, "carries 2 000 L/h while air goes down with it, and 5 000 L/h once" },
    { 1190, 2000.001, NAPPE_SEVERITY_ADVICE, "carries 1 190 L/h while" },
    { 1190, 1999.999, NAPPE_SEVERITY_DANGER, "the pump brings 2 000 L/h" },
    { 400, 500, NAPPE_SEVERITY_DANGER, "carries 400 L/h while air goes down with it, and 500 L/h once" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (Fixture) fixture = fixture_new ();
      fixture->emergency->capacity_inlet = cases[i].unprimed * LITRE_PER_HOUR;
      fixture->emergency->capacity_full = cases[i].full * LITRE_PER_HOUR;
      fixture_run (fixture);
      if (cases[i].severity == NAPPE_SEVERITY_FINE)
        fixture_expect_fine (fixture, "emergency-too-small");
      else
        fixture_expect_text (fixture_expect (fixture, "emergency-too-small", "emergency", cases[i].severity),
                             cases[i].text, NULL);
    }
}

/* Four times the flow takes 4^0.4 = 1.741 times the bore: 1-1/2 in schedule 40 has 40.9 mm (ASTM D1785), so 71 mm. */
static void
test_wanted_bore (void)
{
  g_autoptr (Fixture) fixture = fixture_new ();

  fixture_link (fixture, NAPPE_LINK_DRAIN, "emergency")->inlet.bore = 0.0409;
  fixture->emergency->capacity_inlet = fixture->emergency->capacity_full = 500 * LITRE_PER_HOUR;
  fixture_run (fixture);
  fixture_expect_text (fixture_expect (fixture, "emergency-too-small", "emergency", NAPPE_SEVERITY_DANGER),
                       "A bore of about 71 mm", NULL);
  /* Wider than 200 mm = 4^0.4 × 114.87 mm none is proposed. */
  fixture_link (fixture, NAPPE_LINK_DRAIN, "emergency")->inlet.bore = 0.1148;
  fixture_run (fixture);
  fixture_expect_text (fixture_expect (fixture, "emergency-too-small", "emergency", NAPPE_SEVERITY_DANGER),
                       "A bore of about 200 mm", NULL);
  fixture_link (fixture, NAPPE_LINK_DRAIN, "emergency")->inlet.bore = 0.1149;
  fixture_run (fixture);
  fixture_expect_text (fixture_expect (fixture, "emergency-too-small", "emergency", NAPPE_SEVERITY_DANGER),
                       "Lower its inlet, or add", NULL);
  fixture->emergency->opening = 0;
  fixture_run (fixture);
  fixture_expect_text (fixture_expect (fixture, "emergency-too-small", "emergency", NAPPE_SEVERITY_DANGER),
                       "Open its valve", NULL);
}

/* Two emergency drains help each other. */
static void
test_two_emergencies (void)
{
  g_autoptr (Fixture) fixture = fixture_new ();

  fixture_set (fixture, "channel", "role", NAPPE_DRAIN_EMERGENCY);
  fixture->channel->role = NAPPE_DRAIN_EMERGENCY;
  fixture->channel->head_over_inlet = -0.010;
  fixture->channel->flow = 0;
  fixture->channel->state = NAPPE_DRAIN_DRY;
  fixture->channel->capacity_full = fixture->channel->capacity_inlet = 1200 * LITRE_PER_HOUR;
  fixture->emergency->capacity_full = fixture->emergency->capacity_inlet = 1200 * LITRE_PER_HOUR;
  fixture_run (fixture);
  fixture_expect_fine (fixture, "emergency-too-small");
  fixture_expect_fine (fixture, "no-emergency");
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/rules/emergency/none", test_none);
  g_test_add_func ("/rules/emergency/valved", test_valved);
  g_test_add_func ("/rules/emergency/too-low", test_too_low);
  g_test_add_func ("/rules/emergency/too-high", test_too_high);
  g_test_add_func ("/rules/emergency/box-outside", test_box_outside);
  g_test_add_func ("/rules/emergency/too-small", test_too_small);
  g_test_add_func ("/rules/emergency/wanted-bore", test_wanted_bore);
  g_test_add_func ("/rules/emergency/two", test_two_emergencies);
  return g_test_run ();
}
