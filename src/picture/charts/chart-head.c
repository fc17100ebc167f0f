/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where the head of a line goes, piece by piece in the direction of the flow. */
#include "picture/charts/chart-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "picture/wording.h"
#include "results/part-words.h"
#include "results/state-words.h"
#include "study/head-ledger.h"

static double
lost_along_trunk (const NappeChart *self, const NappeHeadLedger *ledger)
{
  double sum = 0;

  for (guint i = 0; i < ledger->n; i++)
    if (self->study->network->links[ledger->lines[i].link].trunk)
      sum += ledger->lines[i].head;
  return sum;
}

/* "Siphon valve: valve", "Piece 5 of “Return line”: fitting", or of what no piece causes "exit". */
static char *
name_of (const NappeChart *self, const NappeHeadLine *line)
{
  const char *kind = nappe_loss_word (line->kind);

  if (*line->piece == '\0')
    return g_strdup (kind);
  g_autofree char *piece = nappe_part_caption (self->build, line->piece);
  /* Translators: beside a bar: a piece of a line, and what its head is lost in: "Siphon valve: fitting" */
  return g_strdup_printf (_("%s: %s"), piece, kind);
}

static char *
describe (const NappeChart *self, const NappeHeadLine *line)
{
  g_autofree char *head = nappe_chart_number (self, NAPPE_QUANTITY_LENGTH, line->head);
  g_autofree char *flow = nappe_chart_number (self, NAPPE_QUANTITY_FLOW, line->flow);
  g_autofree char *speed = nappe_chart_number (self, NAPPE_QUANTITY_SPEED, line->velocity);

  /* Translators: of a piece of a line: head, flow and speed */
  return g_strdup_printf (_("loses %1$s at %2$s, %3$s"), head, flow, speed);
}

static char *
summary (const NappeChart *self, const NappeHeadLedger *ledger)
{
  double flow = nappe_study_flow (self->study, &self->study->running, self->options->part);
  const NappePumpReport *pump = nappe_study_pump (self->study, self->options->part);
  g_autofree char *flows = nappe_chart_number (self, NAPPE_QUANTITY_FLOW, flow);
  g_autofree char *lost = nappe_chart_number (self, NAPPE_QUANTITY_HEAD, lost_along_trunk (self, ledger));

  if (pump != NULL)
    {
      g_autofree char *head = nappe_chart_number (self, NAPPE_QUANTITY_HEAD, pump->head);
      g_autofree char *lift = nappe_chart_number (self, NAPPE_QUANTITY_HEAD, pump->static_head);
      /* Translators: of a return line: flow, head that the pump gives, height that the water is lifted, head lost */
      return g_strdup_printf (_("%1$s; the pump gives %2$s, lifts the water by %3$s and loses %4$s along the trunk"), flows, head,
                              lift, lost);
    }
  /* Translators: of a drain: flow, and head lost */
  return g_strdup_printf (_("%1$s; %2$s lost along the trunk"), flows, lost);
}

static const char *
why_none (const NappeChart *self)
{
  const char *why = nappe_wording_rest (self->study->running.rest);

  return why != NULL ? why : _("This line does not run full, so no piece of it holds the water back.");
}

void
nappe_chart_head (NappeChart *self)
{
  const char *part = self->options->part;
  gboolean found = self->study->running.rest == NAPPE_REST_FOUND;
  g_autofree char *title = nappe_chart_kind_title (self->build, NAPPE_CHART_HEAD, part);
  NappeHeadLedger *ledger = found ? nappe_head_ledger_new (self->study, &self->study->running, part) : NULL;
  NappeChartRows rows;

  if (ledger == NULL || ledger->n == 0)
    {
      nappe_chart_title (self, title, "", NAPPE_ROLE_SOFT);
      nappe_chart_say (self, *part != '\0' ? part : NULL, why_none (self));
      nappe_head_ledger_free (ledger);
      return;
    }
  g_autofree char *sentence = summary (self, ledger);
  nappe_chart_title (self, title, sentence, NAPPE_ROLE_SOFT);
  nappe_scene_item (self->scene, part, nappe_wording_part (self->build, part), sentence,
                    (NappeBox){ NAPPE_CHART_EDGE, 0, self->options->width - 2 * NAPPE_CHART_EDGE, self->top });
  nappe_chart_rows_init (&rows, NAPPE_QUANTITY_LENGTH, _("Head lost"));
  for (guint i = 0; i < ledger->n; i++)
    {
      const NappeHeadLine *line = &ledger->lines[i];
      const char *id = *line->piece != '\0' ? line->piece : part;
      NappeChartRow *row
          = nappe_chart_rows_add (&rows, id, name_of (self, line), nappe_chart_number (self, NAPPE_QUANTITY_LENGTH, line->head),
                                  0, line->head, NAPPE_ROLE_MOVING);

      row->words = describe (self, line);
      row->rank = 1;
    }
  nappe_chart_draw_rows (self, &rows);
  nappe_chart_rows_clear (&rows);
  nappe_head_ledger_free (ledger);
}
