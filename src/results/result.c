/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "results/result-list.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* The most digits that any law of water deserves. */
#define MOST_DIGITS 3
/* A length is shown in whole millimetres at best: two digits of a half-width below this say no more [m]. */
#define FINEST_LENGTH 0.010
#define MOST_LENGTH_DIGITS 6
/* But what is less than a millimetre, such as a bubble, would be shown as nothing [m]. */
#define SMALL_LENGTH 0.001
#define SMALL_LENGTH_DIGITS 2

void
nappe_result_free (NappeResult *self)
{
  g_free (self->label);
  nappe_working_clear (&self->working);
  g_free (self);
}

static NappeResult *
list_add (NappeResultList *list, const char *key, const char *label, NappeLawName law)
{
  NappeResult *self = g_new0 (NappeResult, 1);

  self->key = key;
  self->label = g_strdup (label);
  self->value = NAN;
  self->band = (NappeBand) { NAN, NAN };
  self->law = nappe_law (law);
  nappe_working_init (&self->working);
  if (*self->law->formula != '\0')
    nappe_working_set_formula (&self->working, _(self->law->formula));
  g_ptr_array_add (list->results, self);
  return self;
}

NappeResult *
nappe_result_list_add (NappeResultList *list, const char *key, const char *label, NappeQuantity quantity, double value,
                       NappeLawName law)
{
  NappeResult *self = list_add (list, key, label, law);

  self->quantity = quantity;
  self->value = value;
  return self;
}

NappeResult *
nappe_result_list_add_word (NappeResultList *list, const char *key, const char *label, const char *word,
                            NappeLawName law)
{
  NappeResult *self = list_add (list, key, label, law);

  self->word = word;
  return self;
}

void
nappe_result_input (NappeResult *self, const char *symbol, const char *label, NappeQuantity quantity, double value)
{
  nappe_working_add (&self->working, symbol, label, value, quantity);
}

/* Decimal place of the first digit of a size [SI] in the metric unit that it is shown in: 3 for 2990 L/h. */
static int
place_of (NappeQuantity quantity, double size)
{
  return (int) floor (log10 (fabs (nappe_quantity_to_display (quantity, size, NAPPE_UNITS_METRIC))));
}

/* A half-width that begins with less than this, in tenths of its first place, is worth two digits. */
#define TWO_DIGITS_BELOW 3.55

/* Place of the last digit that a half-width [SI] is worth: see result.h. */
static int
last_place (NappeQuantity quantity, double half_width)
{
  int first = place_of (quantity, half_width);
  double lead = fabs (nappe_quantity_to_display (quantity, half_width, NAPPE_UNITS_METRIC)) / pow (10.0, first);

  return lead < TWO_DIGITS_BELOW ? first - 1 : first;
}

/* Digits that a half-width [SI] of a band allows: see result.h. */
static int
digits_for (NappeQuantity quantity, double value, double half_width)
{
  int digits, most = quantity == NAPPE_QUANTITY_LENGTH ? MOST_LENGTH_DIGITS : MOST_DIGITS;

  if (quantity == NAPPE_QUANTITY_LENGTH && fabs (value) < SMALL_LENGTH)
    most = SMALL_LENGTH_DIGITS;
  else if (quantity == NAPPE_QUANTITY_LENGTH && half_width < FINEST_LENGTH)
    return 0;
  if (!(half_width > 0.0) || value == 0.0 || quantity == NAPPE_QUANTITY_TEMPERATURE)
    return 0;
  digits = place_of (quantity, value) - last_place (quantity, half_width) + 1;
  return CLAMP (digits, 1, most);
}

static void
set_band (NappeResult *self, double low, double high, NappeBandMethod method)
{
  if (!isfinite (low) || !isfinite (high) || !isfinite (self->value))
    return;
  self->band = (NappeBand) { MIN (low, high), MAX (low, high) };
  self->method = method;
  self->digits = digits_for (self->quantity, self->value, (self->band.high - self->band.low) / 2.0);
}

void
nappe_result_sampled (NappeResult *self, const NappeBand *band)
{
  nappe_result_sampled_scaled (self, band, 1.0);
}

void
nappe_result_sampled_scaled (NappeResult *self, const NappeBand *band, double scale)
{
  if (band != NULL)
    set_band (self, band->low * scale, band->high * scale, NAPPE_BAND_SAMPLED);
}

void
nappe_result_sampled_shifted (NappeResult *self, const NappeBand *band, double sign, double shift)
{
  if (band != NULL)
    set_band (self, sign * band->low + shift, sign * band->high + shift, NAPPE_BAND_SAMPLED);
}

void
nappe_result_by_law (NappeResult *self)
{
  double factor = 1.0 + self->law->uncertainty;

  if (factor > 1.0)
    set_band (self, self->value / factor, self->value * factor, NAPPE_BAND_FIRST_ORDER);
}

void
nappe_result_between (NappeResult *self, double low, double high)
{
  set_band (self, low, high, NAPPE_BAND_FIRST_ORDER);
}

const char *
nappe_result_list_name (const NappeResultList *self, const char *id)
{
  NappePart *part = nappe_build_find (self->build, id);

  return part != NULL ? nappe_part_display_name (part) : id;
}

/* Whether a state says how the water stands. */
static gboolean
is_computed (const NappeState *state)
{
  return state->rest == NAPPE_REST_FOUND || state->rest == NAPPE_REST_CYCLES;
}

double
nappe_result_list_level (const NappeResultList *self, const NappeState *state, guint node)
{
  return is_computed (state) && node < self->network->n_nodes ? state->level[node] : NAN;
}

double
nappe_result_list_running (const NappeResultList *self, double value)
{
  return is_computed (&self->study->running) ? value : NAN;
}

double
nappe_result_list_flow (const NappeResultList *self, guint link)
{
  return is_computed (&self->study->running) && link < self->network->n_links ? self->study->running.flow[link] : NAN;
}

const NappeBand *
nappe_result_list_level_band (const NappeResultList *self, guint node)
{
  return self->spread != NULL && node < self->network->n_nodes ? &self->spread->level[node] : NULL;
}

const NappeBand *
nappe_result_list_flow_band (const NappeResultList *self, guint link)
{
  return self->spread != NULL && link < self->network->n_links ? &self->spread->flow[link] : NULL;
}

const NappeResult *
nappe_results_find (const GPtrArray *results, const char *key)
{
  for (guint i = 0; i < results->len; i++)
    {
      const NappeResult *result = g_ptr_array_index (results, i);

      if (g_str_equal (result->key, key))
        return result;
    }
  return NULL;
}
