/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Full siphons: large enough, tuned, and steady while the pump drifts. */
#include "rules/rule-levers.h"
#include "rules/rule-list.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* What a siphon carries with its valve wide open, or as it is without one [m3/s]. */
static double
open_flow (const NappeDrainReport *report)
{
  return isnan (report->flow_valve_open) ? report->capacity_full : report->flow_valve_open;
}

/* Whether what the siphons leave over goes down quietly by an open channel. */
static gboolean
rest_is_quiet (const NappeStudy *study)
{
  gboolean channel = FALSE;
  if (study->running.rest != NAPPE_REST_FOUND)
    return FALSE;
  for (guint i = 0; i < study->n_drains; i++)
    {
      const NappeDrainReport *report = &study->drains[i];
      if (report->role == NAPPE_DRAIN_SIPHON || report->state == NAPPE_DRAIN_DRY)
        continue;
      if (report->role != NAPPE_DRAIN_OPEN_CHANNEL || report->state != NAPPE_DRAIN_QUIET)
        return FALSE;
      channel = TRUE;
    }
  return channel;
}

/* carried: by all siphons together, wide open [m3/s] */
static void
cure_small_siphon (NappeRuleContext *context, NappeFinding *finding, const NappeDrainReport *largest, double carried)
{
  double flow = context->study->running.display_flow;
  double bore = nappe_rule_bore_for (context, largest, flow / carried);

  if (bore < nappe_rule_limit (context, NAPPE_LIMIT_BORE))
    /* Translators: diameter, diameter, flow. */
    nappe_finding_cure (finding, _("The next pipe with a bore over %s (this one has %s), fewer bends, or a pump turned down to "
                                   "%s."),
                        NAPPE_SAY_LENGTH (context, bore),
                        NAPPE_SAY_LENGTH (context, context->network->links[largest->link].inlet.bore),
                        NAPPE_SAY_FLOW (context, carried));
  else
    /* Translators: %s is a flow. */
    nappe_finding_cure (finding, _("A larger pipe, fewer bends, or a pump turned down to %s."),
                        NAPPE_SAY_FLOW (context, carried));
  nappe_finding_offer (finding, nappe_lever_new_size (largest->id, TRUE));
  nappe_rule_offer_pumps (context, finding, FALSE);
}

/* All siphons together, wide open, against the pump's flow. */
void
nappe_rule_siphon_too_small (NappeRuleContext *context)
{
  const NappeStudy *study = context->study;
  const NappeDrainReport *largest = NULL;
  double flow = study->running.display_flow, carried = 0;

  if (!nappe_rule_needs_siphon (context) || !nappe_rule_needs_running (context))
    return;
  for (guint i = 0; i < study->n_drains; i++)
    if (study->drains[i].role == NAPPE_DRAIN_SIPHON)
      {
        carried += open_flow (&study->drains[i]);
        if (largest == NULL || open_flow (&study->drains[i]) > open_flow (largest))
          largest = &study->drains[i];
      }
  if (carried <= nappe_rule_limit (context, NAPPE_LIMIT_TRICKLE))
    {
      nappe_rule_not_checked (context, _("Not checked: the siphon leads nowhere."));
      return;
    }
  gboolean small = !(carried >= flow);
  NappeFinding *finding
      = small ? nappe_rule_find (context, rest_is_quiet (study) ? NAPPE_SEVERITY_ADVICE : NAPPE_SEVERITY_PROBLEM,
                                 _("Siphon too small for the pump"), largest->id)
              : nappe_rule_fine (context, largest->id, carried, flow, NAPPE_QUANTITY_FLOW);
  nappe_finding_measure (finding, carried, flow, NAPPE_QUANTITY_FLOW);
  /* Translators: drain, flow, flow. */
  nappe_finding_say (finding, _("Running full with its valve wide open, %s carries %s; the pump brings %s."),
                     nappe_rule_name (context, largest->id), NAPPE_SAY_FLOW (context, carried),
                     NAPPE_SAY_FLOW (context, flow));
  nappe_finding_formula (finding, _("head from the box’s surface to the outlet = friction + fittings + exit"));
  nappe_finding_input (finding, "", _("full bore, valve wide open"), carried, NAPPE_QUANTITY_FLOW);
  nappe_finding_input (finding, "", _("brought by the pump"), flow, NAPPE_QUANTITY_FLOW);
  if (!small)
    return;
  /* Translators: %s is a flow. */
  nappe_finding_say (finding, _("%s must go another way, and no turn of the valve can tune it."),
                     NAPPE_SAY_FLOW (context, flow - carried));
  cure_small_siphon (context, finding, largest, carried);
}

/* The drain that makes and breaks: the siphon with most to spare. */
static const NappeDrainReport *
cycling_drain (const NappeStudy *study)
{
  const NappeDrainReport *found = NULL;
  for (guint i = 0; i < study->n_drains; i++)
    {
      const NappeDrainReport *report = &study->drains[i];
      gboolean better = found == NULL || (report->role == NAPPE_DRAIN_SIPHON) > (found->role == NAPPE_DRAIN_SIPHON)
                        || ((report->role == NAPPE_DRAIN_SIPHON) == (found->role == NAPPE_DRAIN_SIPHON)
                            && report->capacity_full > found->capacity_full);
      if (better)
        found = report;
    }
  return found;
}

/* No steady level: a siphon empties its box, breaks, and starts again. */
void
nappe_rule_siphon_cycles (NappeRuleContext *context)
{
  const NappeStudy *study = context->study;
  const NappeDrainReport *drain = cycling_drain (study);

  if (!nappe_rule_needs_running (context))
    return;
  if (study->running.rest != NAPPE_REST_CYCLES || drain == NULL)
    {
      nappe_finding_say (nappe_rule_fine (context, "", NAN, NAN, NAPPE_QUANTITY_NUMBER),
                         _("All levels come to rest."));
      return;
    }
  NappeFinding *finding
      = nappe_rule_find (context, NAPPE_SEVERITY_PROBLEM, _("Siphon fills and breaks by turns"), drain->id);
  double flow = study->running.display_flow;
  nappe_finding_measure (finding, drain->capacity_full, flow, NAPPE_QUANTITY_FLOW);
  /* Translators: drain, flow, flow. */
  nappe_finding_say (finding,
                     _("%s can carry %s full bore, but the pump brings only %s. It empties the box, draws air, breaks "
                        "and starts again: loud, and with no level that could be given."),
                     nappe_rule_name (context, drain->id), NAPPE_SAY_FLOW (context, drain->capacity_full),
                     NAPPE_SAY_FLOW (context, flow));
  nappe_finding_formula (finding, _("full bore it carries more than it is brought, and unprimed it would fill"));
  nappe_finding_input (finding, "", _("full bore, display at its rim"), drain->capacity_full, NAPPE_QUANTITY_FLOW);
  nappe_finding_input (finding, "", _("brought by the pump"), flow, NAPPE_QUANTITY_FLOW);
  if (!isnan (drain->opening_wanted))
    /* Translators: %s is a share of a valve's travel. */
    nappe_finding_cure (finding, _("Close its valve by the level until the box stands still, roughly at %s open."),
                        NAPPE_SAY_SHARE (context, drain->opening_wanted));
  else if (!isnan (drain->opening))
    nappe_finding_cure (finding, _("Close its valve, or choose a smaller pipe."));
  else
    nappe_finding_cure (finding, _("Fit a gate valve and throttle it, choose a smaller pipe, or give the pipe an air "
                                    "line so that it cannot fill."));
  nappe_rule_offer_valve (finding, drain, 0, drain->opening);
  if (drain->role != NAPPE_DRAIN_SIPHON)
    nappe_rule_offer_vent (finding, drain->id, TRUE);
  nappe_finding_offer (finding, nappe_lever_new_size (drain->id, FALSE));
}

static void
cure_open_siphon (NappeRuleContext *context, NappeFinding *finding, const NappeDrainReport *report)
{
  if (context->network->links[report->link].inlet.vented)
    {
      nappe_finding_cure (finding, _("Take its air line away, or shut it: a pipe with one never fills."));
      nappe_rule_offer_vent (finding, report->id, FALSE);
      return;
    }
  if (!isnan (report->opening_wanted))
    /* Translators: %s is a share of a valve's travel. */
    nappe_finding_cure (finding, _("Close its valve until its pipe backs up and fills, roughly at %s open."),
                        NAPPE_SAY_SHARE (context, report->opening_wanted));
  else
    nappe_finding_cure (finding, _("Fit a gate valve and throttle it, or choose a smaller pipe."));
  nappe_rule_offer_valve (finding, report, 0, report->opening);
  nappe_finding_offer (finding, nappe_lever_new_size (report->id, FALSE));
}

/* A siphon that runs as an open pipe because too little water comes to fill it. */
void
nappe_rule_siphon_not_full (NappeRuleContext *context)
{
  const NappeStudy *study = context->study;

  if (!nappe_rule_needs_siphon (context) || !nappe_rule_needs_steady (context))
    return;
  for (guint i = 0; i < study->n_drains; i++)
    {
      const NappeDrainReport *report = &study->drains[i];
      const char *name = nappe_rule_name (context, report->id);
      double prime = nappe_rule_limit (context, NAPPE_LIMIT_FROUDE_PRIME);
      /* One drawn shut is said of its valve. */
      if (report->role != NAPPE_DRAIN_SIPHON || report->opening <= 0)
        continue;
      if (study->running.primed[report->link])
        {
          NappeFinding *fine = nappe_rule_fine (context, report->id, report->froude, NAN, NAPPE_QUANTITY_NUMBER);
          /* Translators: drain, flow. */
          nappe_finding_say (fine, _("%s runs full and carries %s."), name, NAPPE_SAY_FLOW (context, report->flow));
          continue;
        }
      NappeFinding *finding = nappe_rule_find (context, NAPPE_SEVERITY_PROBLEM, _("Siphon does not fill"), report->id);
      nappe_finding_measure (finding, report->froude, prime, NAPPE_QUANTITY_NUMBER);
      /* Translators: drain, flow. */
      nappe_finding_say (finding,
                         _("%s is meant to run full, but the %s that reach it neither back up in its pipe nor sweep "
                            "its air away: it runs as an open pipe, and loud."),
                         name, NAPPE_SAY_FLOW (context, report->flow));
      nappe_finding_formula (finding, "Fr = V / √(g D)");
      nappe_finding_input (finding, "Fr", _("Froude number of the full bore"), report->froude, NAPPE_QUANTITY_NUMBER);
      nappe_finding_input (finding, "V", _("flow over the whole bore"), report->velocity, NAPPE_QUANTITY_SPEED);
      nappe_finding_input (finding, "D", _("bore"), context->network->links[report->link].inlet.bore,
                           NAPPE_QUANTITY_LENGTH);
      cure_open_siphon (context, finding, report);
    }
}

static void
report_drawn_opening (NappeRuleContext *context, const NappeDrainReport *report)
{
  double difference = fabs (report->opening - report->opening_wanted);
  double limit = nappe_rule_limit (context, NAPPE_LIMIT_VALVE_DRAWN);
  const char *wanted = NAPPE_SAY_SHARE (context, report->opening_wanted);
  gboolean shut = report->opening <= 0;
  NappeFinding *finding = shut || difference > limit
                              ? nappe_rule_find (context, shut ? NAPPE_SEVERITY_PROBLEM : NAPPE_SEVERITY_ADVICE,
                                                 shut ? _("Siphon’s valve is drawn shut")
                                                      : _("Siphon’s valve is not drawn where it tunes"),
                                                 report->id)
                              : nappe_rule_fine (context, report->id, report->opening_wanted,
                                                 nappe_rule_limit (context, NAPPE_LIMIT_VALVE_LEAST), NAPPE_QUANTITY_SHARE);
  /* Translators: drain, share of the valve's travel, the same. */
  nappe_finding_say (finding,
                     _("%s tunes with its valve about %s open (a rough figure: tune by the level, not by the handle); "
                        "it is drawn %s open."),
                     nappe_rule_name (context, report->id), wanted, NAPPE_SAY_SHARE (context, report->opening));
  if (nappe_finding_get_severity (finding) == NAPPE_SEVERITY_FINE)
    return;
  nappe_finding_measure (finding, difference, limit, NAPPE_QUANTITY_SHARE);
  /* Translators: %s is a share of a valve's travel. */
  nappe_finding_cure (finding, _("Draw it %s open, so that the other numbers are those of a tuned system."), wanted);
  if (report->opening < report->opening_wanted)
    nappe_rule_offer_valve (finding, report, report->opening, report->opening_wanted);
  else
    nappe_rule_offer_valve (finding, report, report->opening_wanted, report->opening);
}

static void
report_extreme_opening (NappeRuleContext *context, const NappeDrainReport *report, gboolean nearly_shut)
{
  NappeFinding *finding = nappe_rule_find (context, NAPPE_SEVERITY_ADVICE,
                                           nearly_shut ? _("Siphon works with its valve nearly shut")
                                                       : _("Siphon works with its valve nearly open"),
                                           report->id);
  const char *name = nappe_rule_name (context, report->id);
  const char *wanted = NAPPE_SAY_SHARE (context, report->opening_wanted);
  double bore = context->network->links[report->link].inlet.bore;

  nappe_finding_measure (finding, report->opening_wanted,
                         nappe_rule_limit (context, nearly_shut ? NAPPE_LIMIT_VALVE_LEAST : NAPPE_LIMIT_VALVE_MOST),
                         NAPPE_QUANTITY_SHARE);
  nappe_finding_formula (finding, _("valve’s loss at which the full pipe carries the flow"));
  nappe_finding_input (finding, "", _("full bore, valve wide open"), report->flow_valve_open, NAPPE_QUANTITY_FLOW);
  nappe_finding_input (finding, "", _("flow now"), report->flow, NAPPE_QUANTITY_FLOW);
  nappe_finding_input (finding, "", _("valve’s opening as drawn"), report->opening, NAPPE_QUANTITY_SHARE);
  if (nearly_shut)
    {
      /* Translators: drain, share of the valve's travel. */
      nappe_finding_say (finding,
                         _("%s tunes only with its valve about %s open: the pipe is much too large, a hair of the "
                            "handle upsets it and a snail blocks it."),
                         name, wanted);
      /* Translators: a diameter. */
      nappe_finding_cure (finding, _("Choose a pipe smaller than its bore of %s, or a stronger pump."),
                          NAPPE_SAY_LENGTH (context, bore));
    }
  else
    {
      /* Translators: drain, share of the valve's travel. */
      nappe_finding_say (
          finding,
          _("%s tunes only with its valve about %s open: nothing is left to open when growth narrows the pipe."), name,
          wanted);
      /* Translators: a diameter. */
      nappe_finding_cure (finding, _("Choose a pipe larger than its bore of %s, fewer bends, or less flow."),
                          NAPPE_SAY_LENGTH (context, bore));
    }
  nappe_finding_offer (finding, nappe_lever_new_size (report->id, !nearly_shut));
  nappe_rule_offer_pumps (context, finding, nearly_shut);
}

/* Where each siphon's valve must stand, and whether it is drawn there. */
void
nappe_rule_valve_opening (NappeRuleContext *context)
{
  const NappeStudy *study = context->study;

  if (!nappe_rule_needs_siphon (context) || !nappe_rule_needs_running (context))
    return;
  for (guint i = 0; i < study->n_drains; i++)
    {
      const NappeDrainReport *report = &study->drains[i];
      if (report->role != NAPPE_DRAIN_SIPHON)
        continue;
      const char *name = nappe_rule_name (context, report->id);
      if (isnan (report->opening))
        /* Translators: %s is a drain. */
        nappe_rule_not_checked (context, nappe_rule_text (context, _("Does not apply: %s has no valve."), name));
      else if (isnan (report->opening_wanted))
        /* Translators: %s is a drain. */
        nappe_rule_not_checked (
            context, nappe_rule_text (context, _("Does not apply: no opening of its valve tunes %s."), name));
      else if (report->opening_wanted < nappe_rule_limit (context, NAPPE_LIMIT_VALVE_LEAST))
        report_extreme_opening (context, report, TRUE);
      else if (report->opening_wanted > nappe_rule_limit (context, NAPPE_LIMIT_VALVE_MOST))
        report_extreme_opening (context, report, FALSE);
      else if (study->running.rest == NAPPE_REST_CYCLES)
        nappe_rule_not_checked (
            context, _("Not checked: the levels never come to rest, because a siphon fills and breaks by turns."));
      else
        report_drawn_opening (context, report);
    }
}

/* The gate valve of the same pipe in the ball valve's place. */
static void
offer_gate_valve (NappeRuleContext *context, NappeFinding *finding, const char *valve)
{
  NappePart *part = nappe_build_find (context->build, valve);
  const NappeItem *item = part != NULL && NAPPE_IS_PIECE (part) ? nappe_rule_item (context, NAPPE_PIECE (part)->item) : NULL;
  const NappeItem *gate = item != NULL ? nappe_catalogue_match (context->network->catalogue, NAPPE_ITEM_VALVE, item->family,
                                                                "gate", item->nominal)
                                       : NULL;
  if (gate == NULL)
    return;
  NappeLever *lever = nappe_lever_new_choice (valve, "item");
  nappe_lever_add_choice (lever, gate->id);
  nappe_finding_offer (finding, lever);
}

/* A ball valve does nearly all its work in the first and last bit of its travel. */
void
nappe_rule_valve_coarse (NappeRuleContext *context)
{
  const NappeStudy *study = context->study;
  guint found = 0;

  for (guint i = 0; i < study->n_drains; i++)
    {
      const NappeDrainReport *report = &study->drains[i];
      if (report->role != NAPPE_DRAIN_SIPHON || *report->valve == '\0')
        continue;
      found++;
      const char *name = nappe_rule_name (context, report->id);
      if (!g_str_equal (report->valve_kind, "ball"))
        {
          NappeFinding *fine = nappe_rule_fine (context, report->id, NAN, NAN, NAPPE_QUANTITY_NUMBER);
          /* Translators: %s is a drain. */
          nappe_finding_say (fine, _("The valve of %s can be set finely."), name);
          continue;
        }
      NappeFinding *finding
          = nappe_rule_find (context, NAPPE_SEVERITY_ADVICE, _("Ball valve is coarse for tuning"), report->id);
      double step = fabs (report->window.rise_per_percent);
      nappe_finding_measure (finding, report->window.known ? step : NAN, NAN, NAPPE_QUANTITY_LENGTH);
      /* Translators: %s is a drain. */
      nappe_finding_say (finding, _("%s is tuned with a ball valve, which a quarter turn opens and shuts."), name);
      if (report->window.known && isfinite (step))
        /* Translators: %s is a height. */
        nappe_finding_say (finding, _("One hundredth of its travel moves the level in the box by about %s."),
                           NAPPE_SAY_LENGTH (context, step));
      nappe_finding_cure (finding, _("A gate valve in its place sets the flow many times more finely; keep the ball "
                                      "valve only to shut the line for service."));
      offer_gate_valve (context, finding, report->valve);
    }
  if (found == 0)
    nappe_rule_not_checked (context, _("Does not apply: no full siphon has a valve."));
}
