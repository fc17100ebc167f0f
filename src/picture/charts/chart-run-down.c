/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What comes down in a power cut, bar after bar, against the room that the sump has: case by case, the design case first. */
#include "picture/charts/chart-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "picture/cut-words.h"
#include "picture/wording.h"

/* Less water than this reads as nothing [m3]. */
#define LEAST_TOLD 5e-5

static char *
volume (const NappeChart *self, double value)
{
  return nappe_chart_number (self, NAPPE_QUANTITY_VOLUME, value);
}

static gboolean
comes_down (const NappeLedgerLine *line)
{
  return line->kind != NAPPE_LEDGER_CHAMBER && fabs (line->volume) >= LEAST_TOLD;
}

/* "check valve failed 38.2 L, check valve holds 36.1 L": what a source gives in every case. */
static char *
source_in_cases (const NappeChart *self, const NappeCutCase *cases, guint n, const NappeLedgerLine *source)
{
  g_autoptr (GString) text = g_string_new (NULL);
  g_autofree char *name = nappe_cut_source_words (self->build, source);

  for (guint i = 0; i < n; i++)
    {
      g_autofree char *amount = volume (self, nappe_cut_volume (cases[i].cut, source));
      /* Translators: a kind of power cut, and the water that comes down in it: "check valve failed: 38.2 L" */
      g_string_append_printf (text, _("%s: %s"), cases[i].head, amount);
      g_string_append (text, i + 1 < n ? "; " : "");
    }
  /* Translators: where water was, and how much of it comes down in each kind of power cut */
  return g_strdup_printf (_("%s comes down. %s"), name, text->str);
}

static void
add_sources (NappeChart *self, NappeChartRows *rows, const NappeCutCase *cases, guint n, guint index)
{
  const NappePowerCut *cut = cases[index].cut;
  double sum = 0;

  for (guint i = 0; i < cut->n_ledger; i++)
    {
      const NappeLedgerLine *line = &cut->ledger[i];
      NappeChartRow *row;

      if (!comes_down (line))
        continue;
      row = nappe_chart_rows_add (rows, line->id, nappe_cut_source_words (self->build, line), volume (self, line->volume), sum,
                                  sum + line->volume, NAPPE_ROLE_MOVING);
      row->limit = cut->sump_free;
      row->words = source_in_cases (self, cases, n, line);
      row->rank = 2 * index + 1;
      sum += line->volume;
    }
}

/* What ends on the floor is counted for itself: water that goes over a rim above never comes to the sump. */
static void
add_sums (NappeChart *self, NappeChartRows *rows, const NappePowerCut *cut, guint rank)
{
  const char *sump = nappe_part_get_id (self->build->sump);
  NappeChartRow *row = nappe_chart_rows_add (rows, sump, g_strdup (_("all that comes down")), volume (self, cut->run_back), 0,
                                             cut->run_back, NAPPE_ROLE_SURFACE);

  row->limit = cut->sump_free;
  row->strong = TRUE;
  row->rank = rank;
  row = nappe_chart_rows_add (rows, sump, g_strdup (_("room in the sump")), volume (self, cut->sump_free), 0, cut->sump_free,
                              NAPPE_ROLE_PVC);
  row->strong = TRUE;
  row->rank = rank;
  if (cut->state.spilled < LEAST_TOLD)
    return;
  row = nappe_chart_rows_add (rows, "", g_strdup (_("on the floor of the room")), volume (self, cut->state.spilled), 0,
                              cut->state.spilled, NAPPE_ROLE_DANGER);
  row->strong = TRUE;
  row->rank = rank;
}

/* In a sentence: what comes down against the room. */
static char *
sum_of (const NappeChart *self, const NappePowerCut *cut)
{
  g_autofree char *down = volume (self, cut->run_back);
  g_autofree char *room = volume (self, cut->sump_free);
  g_autofree char *spilled = volume (self, cut->state.spilled);

  if (cut->state.spilled >= LEAST_TOLD)
    /* Translators: of a power cut: three volumes */
    return g_strdup_printf (_("%1$s come down, the sump has room for %2$s: %3$s go to the floor."), down, room, spilled);
  /* Translators: of a power cut: two volumes */
  return g_strdup_printf (_("%1$s come down, the sump has room for %2$s: the floor stays dry."), down, room);
}

static char *
sum_of_cases (const NappeChart *self, const NappeCutCase *cases, guint n)
{
  g_autoptr (GString) text = g_string_new (NULL);

  for (guint i = 0; i < n; i++)
    {
      g_autofree char *sum = sum_of (self, cases[i].cut);
      /* Translators: a kind of power cut, and a sentence about it */
      g_string_append_printf (text, _("%s: %s"), cases[i].head, sum);
      g_string_append (text, i + 1 < n ? " " : "");
    }
  return g_string_free (g_steal_pointer (&text), FALSE);
}

static void
add_case (NappeChart *self, NappeChartRows *rows, const NappeCutCase *cases, guint n, guint index)
{
  NappeChartRow *head = nappe_chart_rows_add (rows, "", g_strdup (cases[index].head), g_strdup (""), 0, 0, NAPPE_ROLE_NONE);

  head->strong = TRUE;
  head->rank = 2 * index;
  add_sources (self, rows, cases, n, index);
  add_sums (self, rows, cases[index].cut, 2 * index);
}

void
nappe_chart_run_down (NappeChart *self)
{
  g_autofree char *title = nappe_chart_kind_title (self->build, NAPPE_CHART_RUN_DOWN, self->options->part);
  const char *sump = nappe_part_get_id (self->build->sump);
  NappeCutCase cases[NAPPE_CUT_CASES_MOST];
  guint n = nappe_cut_cases (self->study, cases);
  NappeChartRows rows;

  for (guint i = 0; i < n; i++)
    if (!cases[i].cut->known)
      {
        nappe_chart_title (self, title, "", NAPPE_ROLE_SOFT);
        nappe_chart_say (self, sump, _("The levels after a power cut are not known."));
        return;
      }
  g_autofree char *sentence = sum_of (self, cases[0].cut);
  g_autofree char *all = sum_of_cases (self, cases, n);
  nappe_chart_title (self, title, sentence, cases[0].cut->state.spilled >= LEAST_TOLD ? NAPPE_ROLE_DANGER : NAPPE_ROLE_SOFT);
  nappe_scene_item (self->scene, sump, nappe_wording_part (self->build, sump), all,
                    (NappeBox){ NAPPE_CHART_EDGE, 0, self->options->width - 2 * NAPPE_CHART_EDGE, self->top });
  nappe_chart_rows_init (&rows, NAPPE_QUANTITY_VOLUME, _("Water"));
  for (guint i = 0; i < n; i++)
    add_case (self, &rows, cases, n, i);
  nappe_chart_draw_rows (self, &rows);
  nappe_chart_rows_clear (&rows);
}
