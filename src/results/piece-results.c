/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pieces of a line: the head that each loses, valves, and sideways pipes of drains that run partly full. */
#include <glib/gi18n-lib.h>
#include <math.h>

#include "results/result-list.h"
#include "results/state-words.h"
#include "study/head-ledger.h"

static NappeLawName
law_of_loss (NappeLossKind kind)
{
  switch (kind)
    {
    case NAPPE_LOSS_ENTRANCE:
      return NAPPE_LAW_ENTRANCE;
    case NAPPE_LOSS_PIPE:
      return NAPPE_LAW_FRICTION;
    case NAPPE_LOSS_BEND:
      return NAPPE_LAW_BEND;
    case NAPPE_LOSS_BRANCH:
      return NAPPE_LAW_BRANCH;
    case NAPPE_LOSS_VALVE:
      return NAPPE_LAW_VALVE;
    case NAPPE_LOSS_BORE:
      return NAPPE_LAW_BORE;
    case NAPPE_LOSS_EXIT:
      return NAPPE_LAW_EXIT;
    case NAPPE_LOSS_FITTING:
    default:
      return NAPPE_LAW_FITTING;
    }
}

static void
add_loss (NappeResultList *list, const NappeHeadLine *line, const char *label)
{
  NappeResult *result
    = nappe_result_list_add (list, "loss", label, NAPPE_QUANTITY_HEAD, line->head, law_of_loss (line->kind));

  nappe_result_input (result, "V", _("speed"), NAPPE_QUANTITY_SPEED, line->velocity);
  nappe_result_input (result, "D", _("bore"), NAPPE_QUANTITY_LENGTH, line->bore);
  nappe_result_input (result, "Re", _("Reynolds number"), NAPPE_QUANTITY_NUMBER, line->reynolds);
  if (line->kind == NAPPE_LOSS_PIPE)
    nappe_result_input (result, "f", _("friction factor"), NAPPE_QUANTITY_NUMBER, line->friction);
  nappe_result_input (result, line->kind == NAPPE_LOSS_PIPE ? "f L/D" : "K", _("head lost over V²/2g"),
                      NAPPE_QUANTITY_NUMBER, line->k);
  nappe_result_input (result, "Q", _("flow"), NAPPE_QUANTITY_FLOW, line->flow);
  nappe_result_by_law (result);
}

/* "Gate valve 1", or what the loss is where no piece causes it: "entrance". */
static char *
loss_label (const NappeResultList *list, const NappeHeadLine *line)
{
  NappePart *piece = *line->piece != '\0' ? nappe_build_find (list->build, line->piece) : NULL;

  if (piece == NULL)
    /* Translators: one line of a list of lost heads; %s is what it is lost in: “Lost: entrance”. */
    return g_strdup_printf (_("Lost: %s"), nappe_loss_word (line->kind));
  /* Translators: one line of a list of lost heads: the piece, then what it is lost in: “Lost in Elbow 2: fitting”. */
  return g_strdup_printf (_("Lost in %s: %s"), nappe_part_display_name (piece), nappe_loss_word (line->kind));
}

void
nappe_results_add_ledger (NappeResultList *list, const char *line)
{
  g_autoptr (NappeHeadLedger) ledger = nappe_head_ledger_new (list->study, &list->study->running, line);

  for (guint i = 0; i < ledger->n; i++)
    {
      g_autofree char *label = loss_label (list, &ledger->lines[i]);

      add_loss (list, &ledger->lines[i], label);
    }
}

/* The drain or return line that a piece lies in; NULL: none. */
static NappePart *
line_of (NappePart *piece)
{
  NappePart *part = piece;

  while (part != NULL && !NAPPE_IS_DRAIN (part) && !NAPPE_IS_RETURN_LINE (part))
    part = nappe_part_get_owner (part);
  return part;
}

static void
add_losses_of_piece (NappeResultList *list, NappePart *line)
{
  g_autoptr (NappeHeadLedger) ledger
    = nappe_head_ledger_new (list->study, &list->study->running, nappe_part_get_id (line));

  for (guint i = 0; i < ledger->n; i++)
    {
      const NappeHeadLine *loss = &ledger->lines[i];
      g_autofree char *label = NULL;

      if (!g_str_equal (loss->piece, list->part))
        continue;
      /* Translators: %s is what it is lost in: “Head lost: bend of the hose”. */
      label = g_strdup_printf (_("Head lost: %s"), nappe_loss_word (loss->kind));
      add_loss (list, loss, label);
    }
}

static void
add_level_run (NappeResultList *list)
{
  for (guint i = 0; i < list->study->n_level_runs; i++)
    {
      const NappeLevelRun *run = &list->study->level_runs[i];
      NappeResult *result;

      if (!g_str_equal (run->piece, list->part))
        continue;
      result = nappe_result_list_add (list, "flow", _("Flow"), NAPPE_QUANTITY_FLOW, run->flow, NAPPE_LAW_BALANCE);
      nappe_result_input (result, "", _("flow of its drain"), NAPPE_QUANTITY_FLOW, run->flow);
      nappe_result_sampled (result, nappe_result_list_flow_band (list, run->link));
      result = nappe_result_list_add (list, "depth", _("Runs this deep"), NAPPE_QUANTITY_LENGTH, run->depth,
                                      NAPPE_LAW_MANNING);
      nappe_result_input (result, "Q", _("flow"), NAPPE_QUANTITY_FLOW, run->flow);
      nappe_result_input (result, "D", _("bore"), NAPPE_QUANTITY_LENGTH, run->bore);
      nappe_result_input (result, "S", _("fall for each metre"), NAPPE_QUANTITY_SHARE, run->fall);
      if (!run->full)
        nappe_result_by_law (result);
      result = nappe_result_list_add (list, "full_flow", _("Carries just full"), NAPPE_QUANTITY_FLOW, run->full_flow,
                                      NAPPE_LAW_MANNING);
      nappe_result_input (result, "D", _("bore"), NAPPE_QUANTITY_LENGTH, run->bore);
      nappe_result_input (result, "S", _("fall for each metre"), NAPPE_QUANTITY_SHARE, run->fall);
      nappe_result_by_law (result);
    }
}

static void
add_valve (NappeResultList *list)
{
  for (guint i = 0; i < list->network->n_links; i++)
    {
      const NappeLinkValve *valve = &list->network->links[i].valve;
      NappeResult *result;

      if (!g_str_equal (valve->piece, list->part))
        continue;
      nappe_result_list_add (list, "valve_opening", _("Valve is open"), NAPPE_QUANTITY_SHARE, valve->opening,
                             NAPPE_LAW_GIVEN);
      result = nappe_result_list_add (list, "valve_k", _("Its loss coefficient"), NAPPE_QUANTITY_NUMBER, valve->k,
                                      NAPPE_LAW_VALVE);
      nappe_result_input (result, "", _("opening"), NAPPE_QUANTITY_SHARE, valve->opening);
      nappe_result_by_law (result);
      return;
    }
}

/* What a drain's report says of its valve. */
static void
add_drain_valve (NappeResultList *list, NappePart *line)
{
  const NappeDrainReport *report = nappe_study_drain (list->study, nappe_part_get_id (line));
  NappeResult *result;

  if (report == NULL || !g_str_equal (report->valve, list->part))
    return;
  result = nappe_result_list_add (list, "valve_opening_wanted", _("Valve should be open"), NAPPE_QUANTITY_SHARE,
                                  report->opening_wanted, NAPPE_LAW_VALVE_TUNING);
  nappe_result_input (result, "Q", _("flow of the pumps"), NAPPE_QUANTITY_FLOW, list->study->running.pump_flow);
  nappe_result_by_law (result);
  result = nappe_result_list_add (list, "flow_valve_open", _("The line carries with it fully open"),
                                  NAPPE_QUANTITY_FLOW, report->flow_valve_open, NAPPE_LAW_FULL_PIPE);
  nappe_result_input (result, "Q", _("flow at its opening"), NAPPE_QUANTITY_FLOW, report->flow);
  nappe_result_by_law (result);
}

void
nappe_results_add_piece (NappeResultList *list)
{
  NappePart *line = line_of (nappe_build_find (list->build, list->part));

  if (line == NULL)
    return;
  add_valve (list);
  add_drain_valve (list, line);
  add_level_run (list);
  add_losses_of_piece (list, line);
}
