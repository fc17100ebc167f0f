/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The demo builds give exactly the findings that they were drawn for, with numbers that agree with the study. */
#include "file/file.h"
#include "rules/rules.h"

#include <math.h>
#include <string.h>

typedef struct
{
  const char *file;
  NappeSeverity worst;
  const char *findings[16]; /* "rule about part", in order */
} Demo;

static const Demo demos[] = {
  { "three-drain.nappe", NAPPE_SEVERITY_FINE, { NULL } },
  { "two-drain.nappe",
    NAPPE_SEVERITY_PROBLEM,
    { "nozzle-siphon about nozzle", "all-drains-blocked about tank", "emergency-misplaced about emergency",
      "tuning-window about siphon", "power-cut-fits about drain-chamber", "valve-coarse about siphon",
      "open-run-level about emergency-pipe-3", "no-union about siphon", "no-union about emergency",
      "heater-alone about heater" } },
  { "single-drain.nappe",
    NAPPE_SEVERITY_DANGER,
    { "power-cut-fits about sump", "single-drain about standpipe", "nozzle-siphon about nozzle",
      "standpipe-quiet about standpipe", "no-union about standpipe", "hole-near-edge about standpipe-bulkhead",
      "heater-alone about heater" } },
};

typedef struct
{
  NappeCatalogue *catalogue;
  NappeBuild *build;
  NappeStudy *study;
} Case;

static void
open_demo (Case *self, const char *name)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *folder = g_build_filename (g_getenv ("NAPPE_DATA_DIR"), "catalogue", NULL);
  g_autofree char *path = g_build_filename (g_getenv ("NAPPE_DATA_DIR"), "demos", name, NULL);
  g_autoptr (GFile) file = g_file_new_for_path (path);

  self->catalogue = nappe_catalogue_load (folder, NULL, NULL, &error);
  g_assert_no_error (error);
  self->build = nappe_file_read (file, NULL, &error);
  g_assert_no_error (error);
  self->study = nappe_study_build (self->build, self->catalogue);
}

static void
close_demo (Case *self)
{
  nappe_study_unref (self->study);
  g_object_unref (self->build);
  nappe_catalogue_unref (self->catalogue);
}

static void
test_expected (gconstpointer data)
{
  const Demo *demo = data;
  Case self;
  open_demo (&self, demo->file);
  g_autoptr (NappeVerdict) verdict = nappe_rules_run (self.build, self.study, NAPPE_UNITS_METRIC);
  guint expected = 0;

  while (expected < G_N_ELEMENTS (demo->findings) && demo->findings[expected] != NULL)
    expected++;
  for (guint i = 0; i < verdict->findings->len; i++)
    {
      NappeFinding *finding = verdict->findings->pdata[i];
      g_autofree char *said
          = g_strdup_printf ("%s about %s", nappe_finding_get_rule (finding), nappe_finding_get_part (finding));
      g_test_message ("%s: %s", said, nappe_finding_get_text (finding));
      g_assert_cmpstr (said, ==, i < expected ? demo->findings[i] : "nothing");
    }
  g_assert_cmpuint (verdict->findings->len, ==, expected);
  g_assert_cmpuint (nappe_verdict_worst (verdict), ==, demo->worst);
  close_demo (&self);
}

/* Both unit systems see the same findings, no text holds an unknown number, and nothing is said twice. */
static void
test_texts (gconstpointer data)
{
  const Demo *demo = data;
  Case self;
  open_demo (&self, demo->file);
  g_autoptr (NappeVerdict) metric = nappe_rules_run (self.build, self.study, NAPPE_UNITS_METRIC);
  g_autoptr (NappeVerdict) us = nappe_rules_run (self.build, self.study, NAPPE_UNITS_US);

  g_assert_cmpuint (metric->findings->len, ==, us->findings->len);
  g_assert_cmpuint (metric->fine->len, ==, us->fine->len);
  for (guint i = 0; i < metric->findings->len; i++)
    {
      NappeFinding *one = metric->findings->pdata[i], *other = us->findings->pdata[i];
      g_autofree char *working = nappe_finding_working_text (one, NAPPE_UNITS_METRIC);
      const char *texts[] = { nappe_finding_get_text (one), nappe_finding_get_remedy (one), working };

      g_assert_cmpstr (nappe_finding_get_rule (one), ==, nappe_finding_get_rule (other));
      g_assert_cmpstr (nappe_finding_get_part (one), ==, nappe_finding_get_part (other));
      for (gsize text = 0; text < G_N_ELEMENTS (texts); text++)
        {
          /* What the unit system writes for not-a-number and for infinity. */
          g_assert_null (strstr (texts[text], "\342\200\224"));
          g_assert_null (strstr (texts[text], "\342\210\236"));
        }
      for (guint j = 0; j < i; j++)
        g_assert_cmpstr (nappe_finding_get_text (one), !=, nappe_finding_get_text (metric->findings->pdata[j]));
    }
  close_demo (&self);
}

/* The power cut of the single-drain demo, followed by hand: room and spill add up to what runs down. */
static void
test_single_drain_by_hand (void)
{
  Case self;
  open_demo (&self, "single-drain.nappe");
  g_autoptr (NappeVerdict) verdict = nappe_rules_run (self.build, self.study, NAPPE_UNITS_METRIC);
  NappeFinding *finding = verdict->findings->pdata[0];
  const NappePowerCut *cut = &self.study->cut_check_failed;

  g_assert_cmpstr (nappe_finding_get_rule (finding), ==, "power-cut-fits");
  g_assert_cmpfloat_with_epsilon (nappe_finding_get_value (finding), cut->run_back, 1e-12);
  g_assert_cmpfloat_with_epsilon (nappe_finding_get_value (finding) - nappe_finding_get_limit (finding),
                                  cut->state.spilled, 5e-5);
  close_demo (&self);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, NULL);
  for (gsize i = 0; i < G_N_ELEMENTS (demos); i++)
    {
      g_autofree char *expected = g_strconcat ("/rules/demos/expected/", demos[i].file, NULL);
      g_autofree char *texts = g_strconcat ("/rules/demos/texts/", demos[i].file, NULL);
      g_test_add_data_func (expected, &demos[i], test_expected);
      g_test_add_data_func (texts, &demos[i], test_texts);
    }
  g_test_add_func ("/rules/demos/by-hand", test_single_drain_by_hand);
  return g_test_run ();
}
