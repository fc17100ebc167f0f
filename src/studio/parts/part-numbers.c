/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studio/parts/part-numbers.h"

#include <math.h>

static void
number_free (gpointer data)
{
  NappePartNumber *number = data;

  g_free (number->label);
  g_free (number->value);
  g_free (number->working);
  g_free (number);
}

GPtrArray *
nappe_part_numbers (const NappeOutcome *outcome, const char *id)
{
  const NappeResultSources sources = {
    .build = outcome->build,
    .study = outcome->study,
    .spread = outcome->spread,
    .heat = outcome->heat,
    .loads = outcome->loads,
  };
  g_autoptr (GPtrArray) results = nappe_results_of_part (&sources, nappe_outcome_find (outcome, id) != NULL ? id : "");
  GPtrArray *numbers = g_ptr_array_new_with_free_func (number_free);

  for (guint i = 0; i < results->len; i++)
    {
      const NappeResult *result = g_ptr_array_index (results, i);
      NappePartNumber *number;

      if (!nappe_result_is_known (result) || (result->word == NULL && isinf (result->value)))
        continue;
      number = g_new (NappePartNumber, 1);
      number->key = result->key;
      number->label = g_strdup (result->label);
      number->value = nappe_result_text (result, outcome->units);
      number->working = nappe_result_working_text (result, outcome->units);
      g_ptr_array_add (numbers, number);
    }
  return numbers;
}
