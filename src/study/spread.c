/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Each sample is a value of its own: which thread reckons it, and after which other, changes nothing. */
#include "study/spread.h"

#include "study/departure.h"
#include "study/state.h"

#include <math.h>
#include <stdlib.h>
#include <string.h>

#define LOW_QUANTILE 0.05
#define HIGH_QUANTILE 0.95

/* Of the single numbers. */
enum
{
  PUMP_FLOW,
  DISPLAY_FLOW,
  RUN_BACK,
  SUMP_MARGIN,
  CUT_SPILLED,
  N_SINGLE
};

typedef struct
{
  const NappeStudy *study;
  GCancellable *cancellable;
  guint n_samples, n_blockage_samples;
  guint n_quantities;  /* N_SINGLE, levels, levels after the cut, flows, films, heads of pumps, in this order */
  double *value;       /* by quantity, then by sample; NaN in samples without a steady state */
  NappeBand *band;     /* by quantity */
  guint8 *flooded;     /* by blockage, then by sample */
  gint next_sample, next_quantity; /* taken by the first thread that is free */
} Sampling;

/* What a thread works with. */
typedef struct
{
  Sampling *sampling;
  NappeNetwork *network;
  NappeBalance *balance;
  NappeState state;
  NappePowerCut cut;
  NappeBlockage blockage;
  double *values; /* of one sample, by quantity */
} Bench;

static void
bench_init (Bench *self, Sampling *sampling)
{
  const NappeNetwork *network = sampling->study->network;

  *self = (Bench){ .sampling = sampling, .network = nappe_network_copy (network) };
  self->balance = nappe_balance_new (network->n_nodes, network->n_links);
  self->values = g_new (double, sampling->n_quantities);
  nappe_state_init (&self->state, network);
  nappe_state_init (&self->cut.state, network);
  nappe_state_init (&self->blockage.state, network);
}

static void
bench_clear (Bench *self)
{
  nappe_network_free (self->network);
  nappe_balance_free (self->balance);
  nappe_state_clear (&self->state);
  nappe_state_clear (&self->cut.state);
  nappe_state_clear (&self->blockage.state);
  g_free (self->values);
}

static void
cut_power (Bench *self)
{
  self->cut = (NappePowerCut){ .state = self->cut.state };
  nappe_study_power_cut (&self->cut, self->network, &self->state, FALSE, TRUE);
  g_clear_pointer (&self->cut.ledger, g_free);
}

static void
read_values (Bench *self)
{
  const NappeStudy *study = self->sampling->study;
  const NappeNetwork *network = self->network;
  double *out = self->values;

  out[PUMP_FLOW] = self->state.pump_flow;
  out[DISPLAY_FLOW] = self->state.display_flow;
  out[RUN_BACK] = self->cut.run_back;
  out[SUMP_MARGIN] = self->cut.sump_margin;
  out[CUT_SPILLED] = self->cut.state.spilled;
  out += N_SINGLE;
  for (guint i = 0; i < network->n_nodes; i++)
    *out++ = self->state.level[i];
  for (guint i = 0; i < network->n_nodes; i++)
    *out++ = self->cut.state.level[i];
  for (guint i = 0; i < network->n_links; i++)
    *out++ = self->state.flow[i];
  for (guint i = 0; i < study->n_weirs; i++)
    *out++ = self->state.level[network->links[study->weirs[i].link].from] - network->links[study->weirs[i].link].sill;
  for (guint i = 0; i < study->n_pumps; i++)
    *out++ = self->state.level[network->links[study->pumps[i].link].to]
             - self->state.level[network->links[study->pumps[i].link].from];
}

static void
block_drains (Bench *self, guint sample)
{
  const Sampling *sampling = self->sampling;
  const NappeStudy *study = sampling->study;

  for (guint i = 0; i < study->n_blockages; i++)
    {
      NappeState state = self->blockage.state;

      self->blockage = study->blockages[i];
      self->blockage.state = state;
      self->blockage.top_off_added = 0;
      nappe_study_blockage_run (&self->blockage, self->balance, self->network, &self->state);
      sampling->flooded[i * sampling->n_blockage_samples + sample] = self->blockage.floods;
    }
}

static void
take_sample (Bench *self, guint sample)
{
  Sampling *sampling = self->sampling;
  const NappeStudy *study = sampling->study;

  nappe_network_restore (self->network, study->network);
  nappe_network_depart (self->network, &study->running, sample);
  nappe_state_copy (&self->state, &study->running, study->network);
  nappe_study_run_warm (&self->state, self->balance, self->network);
  gboolean settled = self->state.rest == NAPPE_REST_FOUND;
  if (settled)
    {
      cut_power (self);
      read_values (self);
    }
  for (guint i = 0; i < sampling->n_quantities; i++)
    sampling->value[(gsize) i * sampling->n_samples + sample] = settled ? self->values[i] : NAN;
  if (settled && sample < sampling->n_blockage_samples)
    block_drains (self, sample);
}

static gpointer
take_samples (gpointer data)
{
  Sampling *sampling = data;
  Bench bench;

  bench_init (&bench, sampling);
  while (!g_cancellable_is_cancelled (sampling->cancellable))
    {
      guint sample = (guint) g_atomic_int_add (&sampling->next_sample, 1);

      if (sample >= sampling->n_samples)
        break;
      take_sample (&bench, sample);
    }
  bench_clear (&bench);
  return NULL;
}

static int
compare (const void *a, const void *b)
{
  double x = *(const double *) a, y = *(const double *) b;

  return x < y ? -1 : x > y;
}

/* Straight between the two nearest of n >= 1 sorted values (Hyndman and Fan, The American Statistician 50, 1996, type 7). */
static double
quantile (const double *sorted, guint n, double share)
{
  double place = share * (n - 1);
  guint below = (guint) place, above = MIN (below + 1, n - 1);

  return sorted[below] + (place - below) * (sorted[above] - sorted[below]);
}

static gpointer
find_bands (gpointer data)
{
  Sampling *sampling = data;

  for (;;)
    {
      guint quantity = (guint) g_atomic_int_add (&sampling->next_quantity, 1), n = 0;

      if (quantity >= sampling->n_quantities)
        return NULL;
      double *value = sampling->value + (gsize) quantity * sampling->n_samples;
      for (guint i = 0; i < sampling->n_samples; i++)
        if (!isnan (value[i]))
          value[n++] = value[i];
      qsort (value, n, sizeof *value, compare);
      sampling->band[quantity] = n == 0 ? (NappeBand){ NAN, NAN }
                                        : (NappeBand){ quantile (value, n, LOW_QUANTILE), quantile (value, n, HIGH_QUANTILE) };
    }
}

/* In this thread and threads - 1 others. */
static void
work_together (guint threads, GThreadFunc work, Sampling *sampling)
{
  GThread *other[8];

  for (guint i = 1; i < threads; i++)
    other[i] = g_thread_new ("spread", work, sampling);
  work (sampling);
  for (guint i = 1; i < threads; i++)
    g_thread_join (other[i]);
}

/* Shares of the samples that settled. */
static void
count_floods (NappeSpread *self, const Sampling *sampling)
{
  const double *spilled = sampling->value + (gsize) CUT_SPILLED * sampling->n_samples;
  guint floods = 0, asked = 0;

  for (guint i = 0; i < sampling->n_samples; i++)
    {
      self->n_settled += !isnan (spilled[i]);
      asked += !isnan (spilled[i]) && i < sampling->n_blockage_samples;
      floods += spilled[i] > 0;
    }
  self->cut_flood_chance = self->n_settled > 0 ? (double) floods / self->n_settled : NAN;
  self->blockage_flood_chance = g_new (double, MAX (sampling->study->n_blockages, 1));
  for (guint i = 0; i < sampling->study->n_blockages; i++)
    {
      guint count = 0;

      for (guint s = 0; s < sampling->n_blockage_samples; s++)
        count += sampling->flooded[i * sampling->n_blockage_samples + s];
      self->blockage_flood_chance[i] = asked > 0 ? (double) count / asked : NAN;
    }
}

static void
hand_over (NappeSpread *self, const Sampling *sampling)
{
  const NappeStudy *study = sampling->study;
  const NappeBand *band = sampling->band;

  self->pump_flow = band[PUMP_FLOW];
  self->display_flow = band[DISPLAY_FLOW];
  self->run_back = band[RUN_BACK];
  self->sump_margin = band[SUMP_MARGIN];
  self->cut_spilled = band[CUT_SPILLED];
  band += N_SINGLE;
  self->level = g_memdup2 (band, study->network->n_nodes * sizeof *band);
  band += study->network->n_nodes;
  self->cut_level = g_memdup2 (band, study->network->n_nodes * sizeof *band);
  band += study->network->n_nodes;
  self->flow = g_memdup2 (band, study->network->n_links * sizeof *band);
  band += study->network->n_links;
  self->film = g_memdup2 (band, study->n_weirs * sizeof *band);
  band += study->n_weirs;
  self->pump_head = g_memdup2 (band, study->n_pumps * sizeof *band);
}

NappeSpread *
nappe_spread_new (const NappeStudy *study, guint n_samples, guint n_blockage_samples, guint threads, GCancellable *cancellable)
{
  Sampling sampling = { .study = study, .cancellable = cancellable, .n_samples = n_samples };
  NappeSpread *self = NULL;

  g_return_val_if_fail (n_samples >= 1 && n_blockage_samples <= n_samples && threads >= 1 && threads <= 8, NULL);
  if (study->running.rest != NAPPE_REST_FOUND)
    return NULL;
  sampling.n_blockage_samples = n_blockage_samples;
  sampling.n_quantities = N_SINGLE + 2 * study->network->n_nodes + study->network->n_links + study->n_weirs + study->n_pumps;
  sampling.value = g_new (double, (gsize) sampling.n_quantities * n_samples);
  sampling.band = g_new (NappeBand, sampling.n_quantities);
  sampling.flooded = g_new0 (guint8, (gsize) study->n_blockages * n_blockage_samples + 1);
  work_together (threads, take_samples, &sampling);
  if (!g_cancellable_is_cancelled (cancellable))
    {
      self = g_new0 (NappeSpread, 1);
      self->n_samples = n_samples;
      self->n_blockage_samples = n_blockage_samples;
      count_floods (self, &sampling);
      work_together (threads, find_bands, &sampling);
      hand_over (self, &sampling);
    }
  g_free (sampling.value);
  g_free (sampling.band);
  g_free (sampling.flooded);
  return self;
}

void
nappe_spread_free (NappeSpread *self)
{
  if (self == NULL)
    return;
  g_free (self->level);
  g_free (self->flow);
  g_free (self->cut_level);
  g_free (self->film);
  g_free (self->pump_head);
  g_free (self->blockage_flood_chance);
  g_free (self);
}
