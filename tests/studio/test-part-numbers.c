/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The lines about a part, held against the study they are taken from. Needs no display. */
#include <string.h>

#include "file/file.h"
#include "studio/parts/part-numbers.h"

static NappeOutcome *
outcome_of (const char *demo, NappeUnitSystem units)
{
  g_autofree char *path = g_build_filename (g_getenv ("NAPPE_DATA_DIR"), "demos", demo, NULL);
  g_autoptr (GFile) file = g_file_new_for_path (path);
  g_autoptr (GError) error = NULL;
  NappeBuild *build = nappe_file_read (file, NULL, &error);
  g_autoptr (NappeCatalogue) catalogue = NULL;

  g_assert_no_error (error);
  catalogue = nappe_catalogue_load_default (NULL, &error);
  g_assert_no_error (error);
  return nappe_outcome_new (build, catalogue, units, NULL);
}

static const NappePartNumber *
find (const GPtrArray *lines, const char *key)
{
  for (guint i = 0; i < lines->len; i++)
    if (g_str_equal (((const NappePartNumber *) g_ptr_array_index (lines, i))->key, key))
      return g_ptr_array_index (lines, i);
  return NULL;
}

/* Whether the line with a key shows a number, in whatever digits its band allows. */
static gboolean
has_value (const GPtrArray *lines, const char *key, NappeQuantity quantity, double si, NappeUnitSystem units)
{
  const NappePartNumber *line = find (lines, key);
  g_autofree char *usual = nappe_rounded_text (quantity, si, units);

  g_assert_nonnull (line);
  g_assert_cmpstr (line->working, !=, "");
  if (g_str_has_prefix (line->value, usual))
    return TRUE;
  for (int digits = 1; digits <= 3; digits++)
    {
      g_autofree char *text = nappe_quantity_format (quantity, si, units, digits);

      if (g_str_has_prefix (line->value, text))
        return TRUE;
    }
  return FALSE;
}

static void
test_drains (void)
{
  for (int units = NAPPE_UNITS_METRIC; units <= NAPPE_UNITS_US; units++)
    {
      g_autoptr (NappeOutcome) outcome = outcome_of ("three-drain.nappe", (NappeUnitSystem) units);

      g_assert_cmpuint (outcome->study->n_drains, ==, 3);
      for (guint i = 0; i < outcome->study->n_drains; i++)
        {
          const NappeDrainReport *drain = &outcome->study->drains[i];
          g_autoptr (GPtrArray) lines = nappe_part_numbers (outcome, drain->id);

          g_assert_true (has_value (lines, "flow", NAPPE_QUANTITY_FLOW, drain->flow, outcome->units));
          g_assert_true (has_value (lines, "capacity_full", NAPPE_QUANTITY_FLOW, drain->capacity_full,
                                    outcome->units));
        }
    }
}

static void
test_vessels (void)
{
  g_autoptr (NappeOutcome) outcome = outcome_of ("single-drain.nappe", NAPPE_UNITS_METRIC);
  const NappeNetwork *network = outcome->study->network;

  for (guint i = 0; i < network->n_nodes; i++)
    if (network->nodes[i].kind <= NAPPE_NODE_CHAMBER)
      {
        g_autoptr (GPtrArray) lines = nappe_part_numbers (outcome, network->nodes[i].id);

        g_assert_true (has_value (lines, "running_level", NAPPE_QUANTITY_LENGTH, outcome->study->running.level[i],
                                  outcome->units));
        g_assert_true (has_value (lines, "power_cut_level", NAPPE_QUANTITY_LENGTH,
                                  outcome->study->cut_check_failed.state.level[i], outcome->units));
      }
}

static void
test_whole_build (void)
{
  g_autoptr (NappeOutcome) outcome = outcome_of ("single-drain.nappe", NAPPE_UNITS_METRIC);
  const char *const names[] = { NULL, "", "nobody" };

  for (gsize i = 0; i < G_N_ELEMENTS (names); i++)
    {
      g_autoptr (GPtrArray) lines = nappe_part_numbers (outcome, names[i]);

      g_assert_true (has_value (lines, "on_the_floor", NAPPE_QUANTITY_VOLUME,
                                outcome->study->cut_check_failed.state.spilled, outcome->units));
    }
}

/* An empty build cannot run: there is nothing to say, and nothing false is said. */
static void
test_not_runnable (void)
{
  g_autoptr (NappeCatalogue) catalogue = nappe_catalogue_load_default (NULL, NULL);
  g_autoptr (NappeOutcome) outcome = nappe_outcome_new (nappe_build_new (), catalogue, NAPPE_UNITS_METRIC, NULL);
  g_autoptr (GPtrArray) lines = NULL;

  g_assert_nonnull (outcome);
  lines = nappe_part_numbers (outcome, nappe_part_get_id (outcome->build->tank));
  g_assert_cmpuint (lines->len, ==, 0);
}

/* The bands and what cases played in time tell come later, in an outcome of their own that shares all else and outlives the
 * first. */
static void
test_refined (void)
{
  NappeOutcome *outcome = outcome_of ("three-drain.nappe", NAPPE_UNITS_METRIC);
  g_autoptr (NappeOutcome) refined = nappe_outcome_refine (outcome, NULL);
  const char *pump = outcome->study->pumps[0].id;
  g_autoptr (GPtrArray) plain = nappe_part_numbers (outcome, pump), banded = NULL;

  g_assert_nonnull (refined);
  g_assert_true (refined->study == outcome->study && refined->heat == outcome->heat);
  g_assert_cmpuint (refined->verdict->fine->len, >, outcome->verdict->fine->len);
  g_assert_null (outcome->spread);
  nappe_outcome_unref (outcome);
  banded = nappe_part_numbers (refined, pump);
  g_assert_null (strchr (find (plain, "flow")->value, '('));
  g_assert_nonnull (strchr (find (banded, "flow")->value, '('));
}

static void
test_refinement_cancelled (void)
{
  g_autoptr (NappeOutcome) outcome = outcome_of ("single-drain.nappe", NAPPE_UNITS_METRIC);
  g_autoptr (GCancellable) cancellable = g_cancellable_new ();

  g_cancellable_cancel (cancellable);
  g_assert_null (nappe_outcome_refine (outcome, cancellable));
}

static void
test_cancelled (void)
{
  g_autoptr (GCancellable) cancellable = g_cancellable_new ();
  g_autoptr (NappeCatalogue) catalogue = nappe_catalogue_load_default (NULL, NULL);

  g_cancellable_cancel (cancellable);
  g_assert_null (nappe_outcome_new (nappe_build_new (), catalogue, NAPPE_UNITS_METRIC, cancellable));
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_set_nonfatal_assertions ();
  g_test_add_func ("/studio/part-numbers/drains", test_drains);
  g_test_add_func ("/studio/part-numbers/vessels", test_vessels);
  g_test_add_func ("/studio/part-numbers/whole-build", test_whole_build);
  g_test_add_func ("/studio/part-numbers/not-runnable", test_not_runnable);
  g_test_add_func ("/studio/outcome/refined", test_refined);
  g_test_add_func ("/studio/outcome/refinement-cancelled", test_refinement_cancelled);
  g_test_add_func ("/studio/outcome/cancelled", test_cancelled);
  return g_test_run ();
}
