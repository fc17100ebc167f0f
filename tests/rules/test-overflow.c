/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The film over the weir and the noise of standpipes. */
#include "rule-fixture.h"

/* Quiet to Fr 0.3, surging above 1 (Hills, Chemical Engineering, 5 September 1983). */
static void
test_standpipe (void)
{
  static const struct
  {
    double froude;
    NappeSeverity severity;
    const char *text;
  } cases[] = {
    { 0.3 - HAIR, NAPPE_SEVERITY_FINE, "" },
    { 0.3 + HAIR, NAPPE_SEVERITY_ADVICE, "draws air down, surges and gurgles" },
    { 1.0 - HAIR, NAPPE_SEVERITY_ADVICE, "draws air down, surges and gurgles" },
    { 1.0 + HAIR, NAPPE_SEVERITY_PROBLEM, "fills, gulps and empties by turns" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (Fixture) fixture = fixture_new ();
      fixture->channel->froude = cases[i].froude;
      fixture->channel->flow = 900 * LITRE_PER_HOUR;
      fixture_run (fixture);
      if (cases[i].severity == NAPPE_SEVERITY_FINE)
        fixture_expect_fine (fixture, "standpipe-quiet");
      else
        fixture_expect_text (fixture_expect (fixture, "standpipe-quiet", "channel", cases[i].severity), cases[i].text,
                             "“Channel” carries 900 L/h; it is quiet up to about 870 L/h", "Open the siphon’s valve",
                             NULL);
    }
}

/* A vented standpipe: the bore that would be quiet grows with Fr^0.4: 26.6 mm × (0.96 / 0.3)^0.4 = 42 mm. */
static void
test_vented_standpipe (void)
{
  g_autoptr (Fixture) fixture = fixture_new ();

  fixture_set (fixture, "channel", "role", NAPPE_DRAIN_STANDPIPE);
  fixture_link (fixture, NAPPE_LINK_DRAIN, "channel")->inlet.bore = 0.0266;
  fixture->channel->role = NAPPE_DRAIN_STANDPIPE;
  fixture->channel->froude = 0.96;
  fixture->channel->quiet_flow = 306 * LITRE_PER_HOUR;
  fixture_run (fixture);
  fixture_expect_text (fixture_expect (fixture, "standpipe-quiet", "channel", NAPPE_SEVERITY_ADVICE),
                       "Give it a bore of 42 mm", "down to 306 L/h", NULL);
  fixture->channel->froude = 0.2;
  fixture->channel->state = NAPPE_DRAIN_FULL;
  fixture_run (fixture);
  fixture_expect (fixture, "standpipe-quiet", "channel", NAPPE_SEVERITY_PROBLEM);
}

/* The siphon's Froude number is none of this rule's business. */
static void
test_siphon_is_no_standpipe (void)
{
  g_autoptr (Fixture) fixture = fixture_new ();

  fixture_remove (fixture, "channel");
  fixture_restudy (fixture);
  fixture->siphon->froude = 2.5;
  fixture_run (fixture);
  fixture_expect_unchecked (fixture, "standpipe-quiet");
}

/* 3 mm to 20 mm by common practice. */
static void
test_film (void)
{
  static const struct
  {
    double film;
    NappeSeverity severity;
    const char *text;
  } cases[] = {
    { 0.003 + HAIR, NAPPE_SEVERITY_FINE, "" },
    { 0.003 - HAIR, NAPPE_SEVERITY_ADVICE, "Below 3 mm it clings" },
    { 0.020 - HAIR, NAPPE_SEVERITY_FINE, "" },
    { 0.020 + HAIR, NAPPE_SEVERITY_ADVICE, "Above 20 mm it roars" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (Fixture) fixture = fixture_new ();
      fixture->weir->film = cases[i].film;
      fixture_run (fixture);
      if (cases[i].severity == NAPPE_SEVERITY_FINE)
        fixture_expect_fine (fixture, "weir-film");
      else
        fixture_expect_text (fixture_expect (fixture, "weir-film", "box", cases[i].severity), cases[i].text,
                             "over the weir of “Box”", "(7 mm to 9 mm", NULL);
    }
}

/* Length for the same flow at another head: 350 mm × (24 / 20)^1.5 = 460 mm; 350 mm × (2 / 3)^1.5 = 191 mm. Of slots
 * of 6 mm, 30 × 6 × (24 / 20)^1.5 / 6 = 39. */
static void
test_film_cure (void)
{
  g_autoptr (Fixture) fixture = fixture_new ();

  fixture->weir->film = 0.024;
  fixture_run (fixture);
  fixture_expect_text (fixture_expect (fixture, "weir-film", "box", NAPPE_SEVERITY_ADVICE), "about 24 mm deep",
                       "about 460 mm long", NULL);
  fixture->weir->film = 0.002;
  fixture_run (fixture);
  fixture_expect_text (fixture_expect (fixture, "weir-film", "box", NAPPE_SEVERITY_ADVICE), "about 191 mm long", NULL);
  fixture_set (fixture, "box", "slot_count", 30);
  fixture_set (fixture, "box", "slot_width", 0.006);
  fixture_set (fixture, "box", "slot_depth", 0.023);
  fixture->weir->film = 0.024;
  fixture_run (fixture);
  fixture_expect_text (fixture_expect (fixture, "weir-film", "box", NAPPE_SEVERITY_ADVICE), "About 39 slots", NULL);
  fixture_expect_text (fixture_expect (fixture, "weir-slots", "box", NAPPE_SEVERITY_ADVICE), "over the teeth",
                       "24 mm over the bottom of the slots", "only 23 mm deep", NULL);
}

/* A box that stands over the crest. */
static void
test_drowned (void)
{
  g_autoptr (Fixture) fixture = fixture_new ();

  fixture->weir->fall = HAIR;
  fixture_run (fixture);
  fixture_expect_fine (fixture, "weir-film");
  fixture->weir->fall = -0.012;
  fixture->weir->film = 0.045;
  fixture_run (fixture);
  fixture_expect_text (fixture_expect (fixture, "weir-film", "box", NAPPE_SEVERITY_PROBLEM), "“Box” backs up to 12 mm",
                       NULL);
}

/* A crest above the water. */
static void
test_dry_weir (void)
{
  g_autoptr (Fixture) fixture = fixture_new ();

  fixture->weir->film = -0.014;
  fixture->weir->flow = 0;
  fixture_run (fixture);
  fixture_expect_text (fixture_expect (fixture, "weir-film", "box", NAPPE_SEVERITY_PROBLEM), "“Box”",
                       "crest stands 14 mm above", NULL);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/rules/standpipe/quiet", test_standpipe);
  g_test_add_func ("/rules/standpipe/vented", test_vented_standpipe);
  g_test_add_func ("/rules/standpipe/not-the-siphon", test_siphon_is_no_standpipe);
  g_test_add_func ("/rules/film/limits", test_film);
  g_test_add_func ("/rules/film/cure", test_film_cure);
  g_test_add_func ("/rules/film/drowned", test_drowned);
  g_test_add_func ("/rules/film/dry", test_dry_weir);
  return g_test_run ();
}
