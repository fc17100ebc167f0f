/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Which charts there are, what they are called, and which one tells of a part. */
#include "picture/charts/chart-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "picture/wording.h"

static const char *const nicks[NAPPE_CHART_N] = {
  [NAPPE_CHART_PUMP] = "pump",
  [NAPPE_CHART_RUN_DOWN] = "power-cut",
  [NAPPE_CHART_TUNING] = "tuning",
  [NAPPE_CHART_HEAD] = "head",
};

const char *
nappe_chart_nick (NappeChartKind kind)
{
  return nicks[kind];
}

gboolean
nappe_chart_from_nick (const char *nick, NappeChartKind *kind)
{
  for (guint i = 0; i < NAPPE_CHART_N; i++)
    if (g_str_equal (nicks[i], nick))
      {
        *kind = (NappeChartKind) i;
        return TRUE;
      }
  return FALSE;
}

char *
nappe_chart_kind_title (NappeBuild *build, NappeChartKind kind, const char *part)
{
  const char *name = nappe_wording_part (build, part);

  switch (kind)
    {
    case NAPPE_CHART_PUMP:
      /* Translators: title of a chart; %s is a pump */
      return g_strdup_printf (_("Pump curve: %s"), name);
    case NAPPE_CHART_TUNING:
      /* Translators: title of a chart; %s is a siphon */
      return g_strdup_printf (_("Tuning window: %s"), name);
    case NAPPE_CHART_HEAD:
      /* Translators: title of a chart; %s is a drain or a return line */
      return g_strdup_printf (_("Head lost: %s"), name);
    case NAPPE_CHART_RUN_DOWN:
    default:
      /* Translators: title of a chart */
      return g_strdup (_("Water of a power cut"));
    }
}

static void
choice_free (gpointer data)
{
  NappeChartChoice *choice = data;

  g_free (choice->part);
  g_free (choice->title);
  g_free (choice);
}

static void
add (GPtrArray *choices, NappeBuild *build, NappeChartKind kind, const char *part)
{
  NappeChartChoice *choice;

  if (nappe_chart_choice_find (choices, kind, part) >= 0)
    return;
  choice = g_new0 (NappeChartChoice, 1);
  choice->kind = kind;
  choice->part = g_strdup (part);
  choice->title = nappe_chart_kind_title (build, kind, part);
  g_ptr_array_add (choices, choice);
}

GPtrArray *
nappe_chart_choices (NappeBuild *build, const NappeStudy *study)
{
  GPtrArray *choices = g_ptr_array_new_with_free_func (choice_free);

  for (guint i = 0; i < study->n_pumps; i++)
    add (choices, build, NAPPE_CHART_PUMP, study->pumps[i].id);
  add (choices, build, NAPPE_CHART_RUN_DOWN, nappe_part_get_id (build->sump));
  for (guint i = 0; i < study->n_drains; i++)
    if (study->drains[i].role == NAPPE_DRAIN_SIPHON)
      add (choices, build, NAPPE_CHART_TUNING, study->drains[i].id);
  for (guint i = 0; i < study->n_pumps; i++)
    if (*study->pumps[i].line != '\0')
      add (choices, build, NAPPE_CHART_HEAD, study->pumps[i].line);
  for (guint i = 0; i < study->n_drains; i++)
    add (choices, build, NAPPE_CHART_HEAD, study->drains[i].id);
  return choices;
}

gint
nappe_chart_choice_find (const GPtrArray *choices, NappeChartKind kind, const char *part)
{
  for (guint i = 0; i < choices->len; i++)
    {
      const NappeChartChoice *choice = g_ptr_array_index (choices, i);

      if (choice->kind == kind && (part == NULL || g_str_equal (choice->part, part)))
        return (gint) i;
    }
  return -1;
}

/* A piece is a bar among the losses of its line. */
static gint
choice_of_piece (const GPtrArray *choices, NappePart *piece)
{
  for (NappePart *owner = nappe_part_get_owner (piece); owner != NULL; owner = nappe_part_get_owner (owner))
    {
      const char *id = nappe_part_get_id (owner);
      gint found = id != NULL ? nappe_chart_choice_find (choices, NAPPE_CHART_HEAD, id) : -1;

      if (found >= 0)
        return found;
    }
  return -1;
}

gint
nappe_chart_choice_for (const GPtrArray *choices, NappeBuild *build, const char *id)
{
  NappePart *part = nappe_build_find (build, id);

  for (guint i = 0; i < choices->len; i++)
    if (g_str_equal (((const NappeChartChoice *) g_ptr_array_index (choices, i))->part, id))
      return (gint) i;
  if (part == NULL)
    return -1;
  if (NAPPE_IS_PIECE (part) || NAPPE_IS_OUTLET (part))
    return choice_of_piece (choices, part);
  if (NAPPE_IS_TANK (part) || NAPPE_IS_CHAMBER (part) || NAPPE_IS_OVERFLOW (part) || NAPPE_IS_SIDE_VESSEL (part))
    return nappe_chart_choice_find (choices, NAPPE_CHART_RUN_DOWN, NULL);
  return -1;
}
