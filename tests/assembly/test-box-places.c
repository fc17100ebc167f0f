/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Drains that are added to a box stand where their bulkheads have room, are of a size that fits, or are refused with what the box
 * would have to measure. */
#include "assembly/assembly.h"

#include "../demo-build.h"

/* Bulkheads that do not fit, and holes with too little glass beside them: what must not come of how the program places drains. */
static guint
count_bad_holes (NappeBuild *build)
{
  g_autoptr (NappeStudy) study = nappe_study_build (build, demo_shared_catalogue ());
  g_autoptr (NappeVerdict) verdict = nappe_rules_run (build, study, NAPPE_UNITS_METRIC);
  static const char *const rules[] = { "bulkhead-wide", "holes-near", "hole-near-edge", NULL };
  guint n = 0;

  for (guint i = 0; i < verdict->findings->len; i++)
    if (g_strv_contains (rules, nappe_finding_get_rule (verdict->findings->pdata[i]))
        && nappe_finding_get_severity (verdict->findings->pdata[i]) > NAPPE_SEVERITY_ADVICE)
      {
        g_test_message ("%s", nappe_finding_get_text (verdict->findings->pdata[i]));
        n++;
      }
  return n;
}

static void
test_every_drain (void)
{
  guint refused = 0, done = 0;

  for (gsize d = 0; d < G_N_ELEMENTS (drawn_names); d++)
    for (int role = NAPPE_DRAIN_STANDPIPE; role <= NAPPE_DRAIN_EMERGENCY; role++)
      {
        g_autoptr (NappeBuild) build = demo_read (drawn_names[d]);
        g_autofree char *before = nappe_file_write_text (build, NULL);
        const char *box = nappe_part_get_id (build->overflows->pdata[0]);
        g_autoptr (GError) error = NULL;
        NappeDrain *drain = nappe_assembly_add_drain (build, demo_shared_catalogue (), box, role, NULL, NULL, &error);

        if (drain == NULL)
          {
            g_assert_error (error, NAPPE_ASSEMBLY_ERROR, NAPPE_ASSEMBLY_ERROR_ROOM);
            g_autofree char *after = nappe_file_write_text (build, NULL);
            g_assert_cmpstr (after, ==, before);
            refused++;
            continue;
          }
        g_test_message ("== %s, role %d: crest %.0f mm, x %.0f mm", drawn_names[d], role, 1000 * drain->crest_height,
                        1000 * drain->x);
        g_assert_cmpuint (count_bad_holes (build), ==, 0);
        nappe_build_undo (build);
        g_autofree char *again = nappe_file_write_text (build, NULL);
        g_assert_cmpstr (again, ==, before);
        done++;
      }
  g_assert_cmpuint (done, >, 0);
  g_assert_cmpuint (refused, >, 0);
}

/* What a box that is too small is said to need is what it needs: a millimetre less is too little. Where it is so narrow that a
 * smaller pipe fits, that is taken, for all that come alike. */
static void
test_small_box (void)
{
  const guint three = NAPPE_DRAIN_ROLE_BIT (NAPPE_DRAIN_SIPHON) | NAPPE_DRAIN_ROLE_BIT (NAPPE_DRAIN_OPEN_CHANNEL)
                      | NAPPE_DRAIN_ROLE_BIT (NAPPE_DRAIN_EMERGENCY);
  const struct
  {
    double length;
    const char *pipe; /* NULL: none has room */
  } cases[] = { { 0.110, NULL },
                { 0.180, NULL },
                { 0.190, "pvc40-pipe-0.75" },
                { 0.213, "pvc40-pipe-0.75" },
                { 0.214, "pvc40-pipe-1" } };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (NappeBuild) build = demo_read ("single-drain");
      g_autoptr (GError) error = NULL;

      g_assert_true (nappe_build_set_number (build, build->overflows->pdata[0], "length", cases[i].length, &error));
      gboolean done = nappe_assembly_set_drains (build, demo_shared_catalogue (), "box", three, &error);
      if (cases[i].pipe == NULL)
        {
          g_assert_error (error, NAPPE_ASSEMBLY_ERROR, NAPPE_ASSEMBLY_ERROR_ROOM);
          g_assert_nonnull (strstr (error->message,
                                    "For 3 more drains with “Pipe, 1 in” it has to be at least 214 mm long and 77 mm wide"));
          continue;
        }
      g_assert_no_error (error);
      g_assert_true (done);
      g_assert_cmpuint (build->drains->len, ==, 3);
      for (guint k = 0; k < 3; k++)
        g_assert_cmpstr (nappe_assembly_line_pipe (demo_shared_catalogue (), build->drains->pdata[k])->id, ==, cases[i].pipe);
      g_assert_cmpuint (count_bad_holes (build), ==, 0);
    }
}

/* A copy of a drain has room beside it, or is refused. */
static void
test_copied_drain (void)
{
  g_autoptr (NappeBuild) build = demo_read ("single-drain");
  g_autoptr (GError) error = NULL;

  g_assert_null (nappe_assembly_duplicate (build, demo_shared_catalogue (), build->drains->pdata[0], &error));
  g_assert_error (error, NAPPE_ASSEMBLY_ERROR, NAPPE_ASSEMBLY_ERROR_ROOM);
  g_clear_error (&error);
  g_assert_true (nappe_build_set_number (build, build->overflows->pdata[0], "length", 0.144, &error));
  g_assert_nonnull (nappe_assembly_duplicate (build, demo_shared_catalogue (), build->drains->pdata[0], &error));
  g_assert_no_error (error);
  g_assert_cmpuint (count_bad_holes (build), ==, 0);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/assembly/box-places/every-drain", test_every_drain);
  g_test_add_func ("/assembly/box-places/small-box", test_small_box);
  g_test_add_func ("/assembly/box-places/copied-drain", test_copied_drain);
  return g_test_run ();
}
