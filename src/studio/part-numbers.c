/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studio/part-numbers.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "picture/wording.h"

/* The lines being written. */
typedef struct
{
  const NappeOutcome *outcome;
  const NappeStudy *study;
  GPtrArray *lines;
} Lines;

static void
number_free (gpointer data)
{
  NappePartNumber *number = data;

  g_free (number->label);
  g_free (number->value);
  g_free (number);
}

/* Takes the value. */
static void
add_text (Lines *lines, const char *label, char *value)
{
  NappePartNumber *number = g_new (NappePartNumber, 1);

  number->label = g_strdup (label);
  number->value = value;
  g_ptr_array_add (lines->lines, number);
}

static void
add (Lines *lines, const char *label, NappeQuantity quantity, double si)
{
  if (isfinite (si))
    add_text (lines, label, nappe_quantity_format (quantity, si, lines->outcome->units, 0));
}

/* The three levels of a vessel and how much room is left above them. */
static void
add_vessel (Lines *lines, const char *id)
{
  gint index = nappe_network_find_node (lines->study->network, id);
  const NappePowerCut *cut = &lines->study->cut_check_failed;
  const NappeNode *node;
  double running, after;

  if (index < 0)
    return;
  node = &lines->study->network->nodes[index];
  running = nappe_study_level (lines->study, &lines->study->running, id);
  after = cut->known ? nappe_study_level (lines->study, &cut->state, id) : NAN;
  add (lines, _("Level while running"), NAPPE_QUANTITY_LENGTH, running);
  add (lines, _("Level after a power cut"), NAPPE_QUANTITY_LENGTH, after);
  add (lines, _("Depth while running"), NAPPE_QUANTITY_LENGTH, running - node->floor);
  add (lines, _("Volume while running"), NAPPE_QUANTITY_VOLUME, nappe_node_volume (node, running));
  add (lines, _("Free below the rim while running"), NAPPE_QUANTITY_LENGTH, node->rim - running);
  add (lines, _("Free below the rim after a power cut"), NAPPE_QUANTITY_LENGTH, node->rim - after);
}

static void
add_tank (Lines *lines, const char *id)
{
  add_vessel (lines, id);
  add (lines, _("Flow through the display"), NAPPE_QUANTITY_FLOW, lines->study->running.display_flow);
  add (lines, _("Turnover"), NAPPE_QUANTITY_RATE, lines->study->display_turnover);
}

static void
add_overflow (Lines *lines, const char *id)
{
  const NappeWeirReport *weir = nappe_study_weir (lines->study, id);

  if (weir != NULL)
    {
      add (lines, _("Flow over the weir"), NAPPE_QUANTITY_FLOW, weir->flow);
      add (lines, _("Water over the crest"), NAPPE_QUANTITY_LENGTH, weir->film);
      add (lines, _("Fall into the box"), NAPPE_QUANTITY_LENGTH, weir->fall);
    }
  add_vessel (lines, id);
}

static void
add_window (Lines *lines, const NappeTuningWindow *window)
{
  if (!window->known)
    return;
  add (lines, _("Flow may fall by"), NAPPE_QUANTITY_SHARE, -window->down);
  add (lines, _("Flow may rise by"), NAPPE_QUANTITY_SHARE, window->up);
}

static void
add_drain (Lines *lines, const char *id)
{
  const NappeDrainReport *drain = nappe_study_drain (lines->study, id);

  if (drain == NULL)
    return;
  add (lines, _("Flow"), NAPPE_QUANTITY_FLOW, drain->flow);
  add_text (lines, _("Runs"), g_strdup (nappe_wording_drain_state (drain->state)));
  add (lines, _("Speed in the full bore"), NAPPE_QUANTITY_SPEED, drain->velocity);
  add (lines, _("Water over its inlet"), NAPPE_QUANTITY_LENGTH, drain->head_over_inlet);
  add (lines, _("Stays quiet up to"), NAPPE_QUANTITY_FLOW, drain->quiet_flow);
  add (lines, _("Inlet carries at most"), NAPPE_QUANTITY_FLOW, drain->capacity_inlet);
  add (lines, _("Full bore carries at most"), NAPPE_QUANTITY_FLOW, drain->capacity_full);
  add (lines, _("Can take more"), NAPPE_QUANTITY_FLOW, drain->reserve);
  add (lines, _("Exit below the surface"), NAPPE_QUANTITY_LENGTH, drain->exit_submergence);
  add (lines, _("Valve is open"), NAPPE_QUANTITY_SHARE, drain->opening);
  add (lines, _("Valve should be open"), NAPPE_QUANTITY_SHARE, drain->opening_wanted);
  add_window (lines, &drain->window);
}

static void
add_pump (Lines *lines, const char *id)
{
  const NappePumpReport *pump = nappe_study_pump (lines->study, id);

  if (pump == NULL)
    return;
  add (lines, _("Flow"), NAPPE_QUANTITY_FLOW, pump->flow);
  add (lines, _("Head"), NAPPE_QUANTITY_HEAD, pump->head);
  add (lines, _("Of it height"), NAPPE_QUANTITY_HEAD, pump->static_head);
  add (lines, _("Of it friction"), NAPPE_QUANTITY_HEAD, pump->head - pump->static_head);
  add (lines, _("Head at no flow"), NAPPE_QUANTITY_HEAD, pump->shut_off_head);
  add (lines, _("Must lift on restart"), NAPPE_QUANTITY_HEAD, pump->lift_head);
  add (lines, _("Water over its inlet"), NAPPE_QUANTITY_LENGTH, pump->submergence);
  add (lines, _("Wanted over its inlet"), NAPPE_QUANTITY_LENGTH, pump->submergence_wanted);
}

static void
add_sump (Lines *lines)
{
  const NappePowerCut *cut = &lines->study->cut_check_failed;

  if (!cut->known)
    return;
  add (lines, _("Runs down in a power cut"), NAPPE_QUANTITY_VOLUME, cut->run_back);
  add (lines, _("Can be taken up to the rim"), NAPPE_QUANTITY_VOLUME, cut->sump_free);
  add (lines, _("On the floor after a power cut"), NAPPE_QUANTITY_VOLUME, cut->state.spilled);
}

static void
add_build (Lines *lines)
{
  add (lines, _("Flow of the pumps"), NAPPE_QUANTITY_FLOW, lines->study->running.pump_flow);
  add (lines, _("Water in all vessels"), NAPPE_QUANTITY_VOLUME, lines->study->running.vessels);
  add (lines, _("Water in the pipes"), NAPPE_QUANTITY_VOLUME, lines->study->running.pipes);
  add (lines, _("Turnover of the display"), NAPPE_QUANTITY_RATE, lines->study->display_turnover);
  add_sump (lines);
}

GPtrArray *
nappe_part_numbers (const NappeOutcome *outcome, const char *id)
{
  Lines lines = { outcome, outcome->study, g_ptr_array_new_with_free_func (number_free) };
  NappePart *part = nappe_outcome_find (outcome, id);

  if (outcome->study->running.rest == NAPPE_REST_NOT_RUNNABLE)
    return lines.lines;
  if (part == NULL || NAPPE_IS_BUILD (part))
    add_build (&lines);
  else if (NAPPE_IS_TANK (part))
    add_tank (&lines, id);
  else if (NAPPE_IS_OVERFLOW (part))
    add_overflow (&lines, id);
  else if (NAPPE_IS_CHAMBER (part))
    add_vessel (&lines, id);
  else if (NAPPE_IS_DRAIN (part))
    add_drain (&lines, id);
  else if (NAPPE_IS_PUMP (part) || NAPPE_IS_RETURN_LINE (part))
    add_pump (&lines, id);
  else if (NAPPE_IS_SUMP (part))
    add_sump (&lines);
  else if (NAPPE_IS_OUTLET (part) || NAPPE_IS_BAFFLE (part))
    add (&lines, _("Flow"), NAPPE_QUANTITY_FLOW, nappe_study_flow (outcome->study, &outcome->study->running, id));
  return lines.lines;
}
