/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "command/result-json.h"

/* Key of the results that a head ledger lists: one name for many. */
#define LOSS_KEY "loss"

static const char *
method_nick (NappeBandMethod method)
{
  switch (method)
    {
    case NAPPE_BAND_SAMPLED:
      return "sampling";
    case NAPPE_BAND_FIRST_ORDER:
      return "first-order";
    case NAPPE_BAND_NONE:
    default:
      return NULL;
    }
}

static void
add_number (NappeJsonWriter *self, const NappeResult *result, const char *key)
{
  g_autofree char *low = g_strconcat (key, "_low", NULL), *high = g_strconcat (key, "_high", NULL);
  g_autofree char *band = g_strconcat (key, "_band", NULL);

  nappe_json_quantity (self, key, result->quantity, result->value);
  if (result->method == NAPPE_BAND_NONE)
    return;
  nappe_json_quantity (self, low, result->quantity, result->band.low);
  nappe_json_quantity (self, high, result->quantity, result->band.high);
  nappe_json_text (self, band, method_nick (result->method));
}

void
nappe_json_result (NappeJsonWriter *self, const NappeResult *result)
{
  if (result->word == NULL)
    add_number (self, result, result->key);
}

void
nappe_json_results (NappeJsonWriter *self, const GPtrArray *results, const char *const *keys)
{
  if (keys == NULL)
    for (guint i = 0; i < results->len; i++)
      {
        const NappeResult *result = g_ptr_array_index (results, i);

        if (!g_str_equal (result->key, LOSS_KEY))
          nappe_json_result (self, result);
      }
  for (; keys != NULL && *keys != NULL; keys++)
    {
      const NappeResult *result = nappe_results_find (results, *keys);

      if (result != NULL)
        nappe_json_result (self, result);
    }
}

void
nappe_json_working (NappeJsonWriter *self, const NappeWorking *working)
{
  nappe_json_open (self, "working", '{');
  nappe_json_text (self, "formula", working->formula);
  nappe_json_open (self, "inputs", '[');
  for (guint i = 0; i < working->inputs->len; i++)
    {
      const NappeWorkingInput *input = &g_array_index (working->inputs, NappeWorkingInput, i);

      nappe_json_open (self, NULL, '{');
      nappe_json_text (self, "symbol", input->symbol);
      nappe_json_text (self, "label", input->label);
      nappe_json_quantity (self, "value", input->quantity, input->value);
      nappe_json_close (self, '}');
    }
  nappe_json_close (self, ']');
  nappe_json_close (self, '}');
}

void
nappe_json_worked_results (NappeJsonWriter *self, const char *key, const GPtrArray *results)
{
  nappe_json_open (self, key, '[');
  for (guint i = 0; i < results->len; i++)
    {
      const NappeResult *result = g_ptr_array_index (results, i);

      nappe_json_open (self, NULL, '{');
      nappe_json_text (self, "key", result->key);
      nappe_json_text (self, "label", result->label);
      if (result->word != NULL)
        {
          nappe_json_text (self, "word", result->word);
        }
      else
        {
          add_number (self, result, "value");
          nappe_json_count (self, "digits", (guint) result->digits);
        }
      nappe_json_text (self, "law", result->law->id);
      nappe_json_text (self, "name", g_dgettext (GETTEXT_PACKAGE, result->law->name));
      nappe_json_working (self, &result->working);
      nappe_json_text (self, "source", g_dgettext (GETTEXT_PACKAGE, result->law->source));
      nappe_json_close (self, '}');
    }
  nappe_json_close (self, ']');
}
