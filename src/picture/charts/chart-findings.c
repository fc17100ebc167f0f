/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which findings belong to a chart, and the key to their marks. */
#include "picture/charts/chart-private.h"

/* A chart lower or narrower than this has marks but no key, and a lower one than the second a key of one row [px]. */
#define KEY_WIDTH 240.0
#define KEY_HEIGHT 200.0
#define KEY_HEIGHT_OF_TWO 420.0

static void
see (NappePart *part, gpointer parts)
{
  g_hash_table_add (parts, (gpointer) nappe_part_get_id (part));
}

/* A line with its pieces and outlets, or any other part with what is in it. */
static void
see_all_of (const NappeChart *self, GHashTable *parts, const char *id)
{
  NappePart *part = nappe_build_find (self->build, id);

  if (part != NULL)
    nappe_part_visit (part, see, parts);
}

static void
see_window (const NappeChart *self, GHashTable *parts)
{
  const NappeDrainReport *drain = nappe_study_drain (self->study, self->options->part);

  see_all_of (self, parts, self->options->part);
  if (drain == NULL)
    return;
  g_hash_table_add (parts, (gpointer) drain->window.channel);
  g_hash_table_add (parts, (gpointer) drain->window.emergency);
}

static void
see_pump (const NappeChart *self, GHashTable *parts)
{
  const NappePumpReport *pump = nappe_study_pump (self->study, self->options->part);

  if (pump == NULL)
    return;
  g_hash_table_add (parts, (gpointer) pump->id);
  g_hash_table_add (parts, (gpointer) pump->line);
}

static void
see_sources (const NappeChart *self, GHashTable *parts)
{
  const NappePowerCut *cut = &self->study->cut_check_failed;

  g_hash_table_add (parts, (gpointer) nappe_part_get_id (self->build->sump));
  for (guint i = 0; i < cut->n_ledger; i++)
    if (cut->ledger[i].kind != NAPPE_LEDGER_CHAMBER)
      g_hash_table_add (parts, (gpointer) cut->ledger[i].id);
}

GPtrArray *
nappe_chart_findings (const NappeChart *self)
{
  g_autoptr (GHashTable) parts = g_hash_table_new (g_str_hash, g_str_equal);

  switch (self->options->kind)
    {
    case NAPPE_CHART_PUMP:
      see_pump (self, parts);
      break;
    case NAPPE_CHART_TUNING:
      see_window (self, parts);
      break;
    case NAPPE_CHART_HEAD:
      see_all_of (self, parts, self->options->part);
      break;
    case NAPPE_CHART_RUN_DOWN:
    default:
      see_sources (self, parts);
    }
  /* What is found about the whole build is found about no part of a chart. */
  g_hash_table_remove (parts, "");
  return nappe_findings_about (self->options->verdict, parts);
}

double
nappe_chart_draw_key (NappeChart *self, const GPtrArray *findings, double height)
{
  double scale = self->options->text_scale;
  NappeFindingKey key = { .scene = self->scene, .scale = scale, .left = NAPPE_CHART_EDGE,
                          .right = self->options->width - NAPPE_CHART_EDGE,
                          .most_rows = height < KEY_HEIGHT_OF_TWO * scale ? 1 : 2 };

  if (findings->len == 0 || self->options->width < KEY_WIDTH * scale || height < KEY_HEIGHT * scale)
    return 0;
  nappe_finding_key_write (&key, findings);
  double tall = nappe_finding_key_height (&key);
  key.top = height - tall - 2;
  key.draw = TRUE;
  nappe_finding_key_write (&key, findings);
  return tall + 2;
}
