/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The results of every part of the demos, held against the study and against their own workings. */
#include <math.h>
#include <string.h>

#include "../demo-build.h"
#include "results/result.h"

/* Part of a value that the working may miss it by. */
#define HAIR 1e-9

static double
input_of (const NappeResult *result, const char *symbol)
{
  for (guint i = 0; i < result->working.inputs->len; i++)
    {
      const NappeWorkingInput *input = &g_array_index (result->working.inputs, NappeWorkingInput, i);

      if (g_str_equal (input->symbol, symbol))
        return input->value;
    }
  return NAN;
}

/* What the formula of a law gives from the inputs of the working; NaN where the formula wants more than a line. */
static double
reckoned (const NappeResult *result)
{
  const char *law = result->law->id;

  if (g_str_equal (law, "height"))
    return input_of (result, "z1") - input_of (result, "z2");
  if (g_str_equal (law, "mean-speed"))
    return input_of (result, "Q") / input_of (result, "A");
  if (g_str_equal (law, "turnover"))
    return input_of (result, "Q") / input_of (result, "V");
  if (g_str_equal (law, "residence") && result->quantity == NAPPE_QUANTITY_DURATION)
    return input_of (result, "V") / input_of (result, "Q");
  if (g_str_equal (law, "froude") && result->word == NULL)
    return input_of (result, "V") / sqrt (9.80665 * input_of (result, "D"));
  if (g_str_equal (law, "quiet"))
    return 0.3 * G_PI / 4.0 * pow (input_of (result, "D"), 2) * sqrt (9.80665 * input_of (result, "D"));
  if (g_str_equal (law, "fitting") || g_str_equal (law, "valve") || g_str_equal (law, "exit"))
    return input_of (result, "K") * pow (input_of (result, "V"), 2) / (2.0 * 9.80665);
  if (g_str_equal (law, "friction"))
    return input_of (result, "f L/D") * pow (input_of (result, "V"), 2) / (2.0 * 9.80665);
  return NAN;
}

typedef struct
{
  NappeResultSources sources;
  guint n_results, n_reckoned, n_parts;
  guint n_running; /* known numbers of the running state or of what follows from it */
} Walk;

/* What holds of any result. */
static void
check_result (Walk *walk, const NappeResult *result)
{
  double again = reckoned (result);

  g_assert_cmpuint (strlen (result->label), >, 0);
  g_assert_nonnull (result->law);
  g_assert_nonnull (result->working.formula);
  g_assert_cmpint (result->digits, >=, 0);
  g_assert_true ((result->method == NAPPE_BAND_NONE) == isnan (result->band.low));
  if (result->method != NAPPE_BAND_NONE)
    {
      g_assert_true (isfinite (result->band.low) && isfinite (result->band.high));
      g_assert_cmpfloat (result->band.low, <=, result->band.high);
    }
  if (result->law->formula[0] != '\0' && result->word == NULL && isfinite (result->value) && result->value != 0.0
      && result->working.inputs->len == 0)
    {
      g_test_message ("%s of %s has no inputs", result->key, result->law->id);
      g_test_fail ();
    }
  walk->n_results++;
  walk->n_running += !isnan (result->value) && (result->quantity == NAPPE_QUANTITY_FLOW
                                                || result->quantity == NAPPE_QUANTITY_VOLUME
                                                || result->quantity == NAPPE_QUANTITY_RATE
                                                || strstr (result->key, "level") != NULL);
  if (isnan (again) || isnan (result->value))
    return;
  walk->n_reckoned++;
  if (!(fabs (again - result->value) <= HAIR * fmax (1.0, fabs (again))))
    {
      g_test_message ("%s of %s: %.12g, by its working %.12g", result->key, result->law->id, result->value, again);
      g_test_fail ();
    }
}

static void
check_part (NappePart *part, gpointer user_data)
{
  Walk *walk = user_data;
  const char *id = NAPPE_IS_BUILD (part) ? "" : nappe_part_get_id (part);
  g_autoptr (GPtrArray) results = nappe_results_of_part (&walk->sources, id);
  g_autoptr (GHashTable) keys = g_hash_table_new (g_str_hash, g_str_equal);

  walk->n_parts++;
  for (guint i = 0; i < results->len; i++)
    {
      const NappeResult *result = g_ptr_array_index (results, i);

      if (!g_hash_table_add (keys, (gpointer) result->key) && !g_str_equal (result->key, "loss"))
        {
          g_test_message ("%s has %s twice", id, result->key);
          g_test_fail ();
        }
      check_result (walk, result);
    }
}

static void
test_every_part (void)
{
  for (gsize d = 0; d < G_N_ELEMENTS (demo_names); d++)
    {
      DemoBuild demo;
      Walk walk = { { NULL } };

      demo_load (&demo, demo_names[d], NAPPE_UNITS_METRIC);
      walk.sources = (NappeResultSources) { .build = demo.build, .study = demo.study };
      nappe_part_visit (NAPPE_PART (demo.build), check_part, &walk);
      g_assert_cmpuint (walk.n_parts, >, 20);
      g_assert_cmpuint (walk.n_results, >, 100);
      g_assert_cmpuint (walk.n_reckoned, >, 40);
      demo_clear (&demo);
    }
}

static void
same (const GPtrArray *results, const char *key, double value)
{
  const NappeResult *result = nappe_results_find (results, key);

  g_assert_nonnull (result);
  if (!isnan (value) || !isnan (result->value))
    g_assert_cmpfloat (result->value, ==, value);
}

static void
test_against_study (void)
{
  DemoBuild demo;
  NappeResultSources sources;

  demo_load (&demo, "three-drain", NAPPE_UNITS_METRIC);
  sources = (NappeResultSources) { .build = demo.build, .study = demo.study };
  for (guint i = 0; i < demo.study->n_drains; i++)
    {
      const NappeDrainReport *drain = &demo.study->drains[i];
      g_autoptr (GPtrArray) results = nappe_results_of_part (&sources, drain->id);

      same (results, "flow", drain->flow);
      same (results, "capacity_full", drain->capacity_full);
      same (results, "capacity_inlet", drain->capacity_inlet);
      same (results, "reserve", drain->reserve);
      same (results, "valve_opening_wanted", drain->opening_wanted);
    }
  for (guint i = 0; i < demo.study->network->n_nodes; i++)
    if (demo.study->network->nodes[i].kind <= NAPPE_NODE_VESSEL)
      {
        g_autoptr (GPtrArray) results = nappe_results_of_part (&sources, demo.study->network->nodes[i].id);

        same (results, "running_level", demo.study->running.level[i]);
        same (results, "power_cut_level", demo.study->cut_check_failed.state.level[i]);
      }
  for (guint i = 0; i < demo.study->n_pumps; i++)
    {
      g_autoptr (GPtrArray) results = nappe_results_of_part (&sources, demo.study->pumps[i].id);

      same (results, "flow", demo.study->pumps[i].flow);
      same (results, "head", demo.study->pumps[i].head);
    }
  demo_clear (&demo);
}

/* The lines of a full pipe's ledger add up to the friction that its pump works against. */
static void
test_ledger (void)
{
  DemoBuild demo;
  NappeResultSources sources;
  g_autoptr (GPtrArray) results = NULL;
  guint n = 0;

  demo_load (&demo, "three-drain", NAPPE_UNITS_METRIC);
  sources = (NappeResultSources) { .build = demo.build, .study = demo.study };
  results = nappe_results_of_part (&sources, demo.study->pumps[0].line);
  for (guint i = 0; i < results->len; i++)
    {
      const NappeResult *result = g_ptr_array_index (results, i);

      n += g_str_equal (result->key, "loss");
      g_assert_true (!g_str_equal (result->key, "loss") || result->value >= 0.0);
    }
  g_assert_cmpuint (n, >, 5);
  demo_clear (&demo);
}

static void
test_unknown (void)
{
  DemoBuild demo;
  NappeResultSources sources;
  g_autoptr (GPtrArray) results = NULL;

  demo_load (&demo, "single-drain", NAPPE_UNITS_METRIC);
  sources = (NappeResultSources) { .build = demo.build, .study = demo.study };
  results = nappe_results_of_part (&sources, "nobody");
  g_assert_cmpuint (results->len, ==, 0);
  demo_clear (&demo);
}

/* A build that cannot run says nothing false: every number is unknown or follows from geometry alone. */
static void
test_not_runnable (void)
{
  DemoBuild demo;
  Walk walk = { { NULL } };

  demo_compute (&demo, nappe_build_new (), NAPPE_UNITS_METRIC);
  walk.sources = (NappeResultSources) { .build = demo.build, .study = demo.study };
  nappe_part_visit (NAPPE_PART (demo.build), check_part, &walk);
  g_assert_cmpuint (walk.n_parts, >, 0);
  g_assert_cmpuint (walk.n_running, ==, 0);
  demo_clear (&demo);
}

/* The cost of electricity is told in the currency of its price. */
static void
test_currency (void)
{
  DemoBuild demo;
  NappeResultSources sources;

  demo_load (&demo, "demo-builds/slim", NAPPE_UNITS_METRIC);
  g_autoptr (NappeHeat) heat = nappe_heat_new (demo.build, demo.catalogue, demo.study);
  sources = (NappeResultSources) { .build = demo.build, .study = demo.study, .heat = heat };
  g_autoptr (GPtrArray) results = nappe_results_of_part (&sources, "");
  const NappeResult *cost = nappe_results_find (results, "cost_a_year");
  g_assert_nonnull (cost);
  g_assert_nonnull (strstr (cost->label, "EUR"));
  demo_clear (&demo);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_set_nonfatal_assertions ();
  g_test_add_func ("/results/parts/every-part", test_every_part);
  g_test_add_func ("/results/parts/against-study", test_against_study);
  g_test_add_func ("/results/parts/ledger", test_ledger);
  g_test_add_func ("/results/parts/unknown", test_unknown);
  g_test_add_func ("/results/parts/not-runnable", test_not_runnable);
  g_test_add_func ("/results/parts/currency", test_currency);
  return g_test_run ();
}
