/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Whether the system starts again by itself after a power cut, and whether the pump finds water. */
#include "rules/flooding/flood-levers.h"
#include "rules/rule-levers.h"
#include "rules/rule-list.h"
#include "rules/flooding/timed-rules.h"

#include "study/course.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* A level has come back when it is within this of where it was: study/simulation.h, `returns` [m]. */
#define RETURN_WITHIN 0.002

/* The first siphon that ran full before and does not in the end; NULL: none. */
static const NappeDrainReport *
lost_siphon (NappeRuleContext *context, const NappeSimulation *course)
{
  const NappeStudy *study = context->study;

  for (guint d = 0; d < study->n_drains; d++)
    {
      gboolean full = study->running.primed[study->drains[d].link];
      if (!full)
        continue;
      for (guint i = 0; i < course->n_events; i++)
        if (course->events[i].index == study->drains[d].link
            && (course->events[i].kind == NAPPE_EVENT_PRIMES || course->events[i].kind == NAPPE_EVENT_BREAKS))
          full = course->events[i].kind == NAPPE_EVENT_PRIMES;
      if (!full)
        return &study->drains[d];
    }
  return NULL;
}

/* The least margin of priming among the siphons that run full; NaN: none does. */
static double
least_prime_margin (NappeRuleContext *context)
{
  double least = NAN;

  for (guint d = 0; d < context->study->n_drains; d++)
    if (context->study->running.primed[context->study->drains[d].link])
      least = fmin (least, context->study->drains[d].prime_margin);
  return least;
}

/* How far the level that is farthest from where it was ends [m]. */
static double
farthest_level (NappeRuleContext *context, const NappeSimulation *course)
{
  const NappeNetwork *network = context->network;
  const double *end = course->level + (course->n_frames - 1) * network->n_nodes;
  double farthest = 0;

  for (guint i = 0; i < network->n_nodes; i++)
    if (network->nodes[i].kind <= NAPPE_NODE_VESSEL)
      farthest = fmax (farthest, fabs (end[i] - context->study->running.level[i]));
  return farthest;
}

/* Lets a siphon back up further before another inlet takes the water. */
static void
offer_backing_up (NappeRuleContext *context, NappeFinding *finding, const NappeDrainReport *siphon)
{
  nappe_rule_offer_valve (finding, siphon, nappe_rule_limit (context, NAPPE_LIMIT_VALVE_LEAST), siphon->opening);
  for (guint i = 0; i < context->build->drains->len; i++)
    {
      NappeDrain *drain = context->build->drains->pdata[i];
      gint box = nappe_network_find_node (context->network, drain->overflow);
      if (box >= 0 && !g_str_equal (nappe_rule_id (drain), siphon->id))
        nappe_rule_offer_crest (context, finding, drain, drain->crest_height,
                                context->network->nodes[box].rim - context->network->nodes[box].floor);
    }
}

static void
report_restart (NappeRuleContext *context, const NappeSimulation *course)
{
  const NappeDrainReport *lost = lost_siphon (context, course);
  gboolean floods = isfinite (course->first_drop);
  const char *part = lost != NULL ? lost->id : nappe_rule_id (context->build->tank);
  NappeFinding *finding = nappe_rule_find (context, floods ? NAPPE_SEVERITY_DANGER : NAPPE_SEVERITY_PROBLEM,
                                           _("Does not start again by itself after a power cut"), part);

  if (lost != NULL)
    nappe_finding_measure (finding, lost->prime_margin, 1, NAPPE_QUANTITY_NUMBER);
  else
    nappe_finding_measure (finding, farthest_level (context, course), RETURN_WITHIN, NAPPE_QUANTITY_LENGTH);
  if (course->cycles)
    /* Translators: %s is a duration. */
    nappe_finding_say (finding, _("When the power is back, the levels never come to rest: a siphon makes and breaks every %s."),
                       nappe_rule_duration (context, course->period));
  else if (lost != NULL)
    {
      /* Translators: a drain. */
      nappe_finding_say (finding, _("When the power is back, %s does not run full again."), nappe_rule_name (context, part));
      if (isfinite (lost->prime_margin))
        /* Translators: a plain number. */
        nappe_finding_say (finding, _("Its margin of priming is %s; above 1 it starts."),
                           NAPPE_SAY_PLAIN (context, lost->prime_margin));
    }
  else
    /* Translators: %s is a height. */
    nappe_finding_say (finding, _("When the power is back, the levels do not come back to where they were: one is %s away."),
                       NAPPE_SAY_LENGTH (context, farthest_level (context, course)));
  nappe_rule_say_played (context, finding, course);
  nappe_finding_cure (finding, lost != NULL || course->cycles
                                   ? _("Let the siphon back up further before the next inlet takes the water: close its valve "
                                       "a little, raise the next inlet, or end its pipe nearer the surface.")
                                   : _("Look at the case in time for what is left open, dry or full."));
  if (lost != NULL)
    offer_backing_up (context, finding, lost);
  nappe_finding_formula (finding, _("power away for ten minutes and back, played in time"));
  if (lost != NULL)
    nappe_finding_input (finding, "", _("margin of priming; above 1 it starts"), lost->prime_margin, NAPPE_QUANTITY_NUMBER);
}

/* The time after which the last siphon ran full again [s]; NaN: none had to. */
static double
primed_after (const NappeSimulation *course)
{
  double last = NAN;

  for (guint i = 0; i < course->n_events; i++)
    if (course->events[i].kind == NAPPE_EVENT_PRIMES && course->events[i].time >= nappe_rule_happens_at (course))
      last = course->events[i].time - nappe_rule_happens_at (course);
  return last;
}

/* After a power cut and when the power is back, all should be as it was, without a hand. */
void
nappe_rule_self_restart (NappeRuleContext *context)
{
  const NappeSimulation *course = nappe_rule_course (context, NAPPE_RULE_RESTART);

  if (!nappe_rule_can_begin (context) || !nappe_rule_needs_steady (context)
      || !nappe_rule_is_played (context, course, nappe_rule_id (context->build->tank)))
    return;
  if (nappe_rule_cut_floods (context))
    {
      nappe_rule_not_checked (context, _("Not checked: a power cut floods, and the water that is lost does not come back."));
      return;
    }
  if (!course->returns || isfinite (course->first_drop))
    {
      report_restart (context, course);
      return;
    }
  double margin = least_prime_margin (context), after = primed_after (course);
  NappeFinding *fine = nappe_rule_fine (context, nappe_rule_id (context->build->tank), margin, 1, NAPPE_QUANTITY_NUMBER);
  if (isfinite (after))
    /* Translators: a duration. */
    nappe_finding_say (fine, _("When the power is back after a cut, the siphon runs full again after %s, and all comes back "
                                "to its old state."),
                       nappe_rule_duration (context, after));
  else
    nappe_finding_say (fine, _("When the power is back after a cut, all comes back to its old state."));
  if (isfinite (margin))
    /* Translators: a plain number. */
    nappe_finding_say (fine, _("Its margin of priming is %s; above 1 it starts."), NAPPE_SAY_PLAIN (context, margin));
}

static void
report_dry (NappeRuleContext *context, const NappeSimulation *course, const NappeEvent *air)
{
  double least = nappe_rule_limit (context, NAPPE_LIMIT_PUMP_COVER);
  const NappeLink *pump = &context->network->links[air->index];
  double cover = course->lowest[pump->from] - pump->pump_inlet;
  NappeFinding *finding
      = nappe_rule_find (context, NAPPE_SEVERITY_PROBLEM, _("Pump runs dry when the power comes back"), air->part);

  nappe_finding_measure (finding, cover, least, NAPPE_QUANTITY_LENGTH);
  /* Translators: duration, pump. */
  nappe_finding_say (finding, _("%s after the power is back, %s draws air: its chamber is empty before the drains bring the "
                                 "water back."),
                     nappe_rule_duration (context, fmax (0, air->time - nappe_rule_happens_at (course))),
                     nappe_rule_name (context, air->part));
  nappe_finding_cure (finding, _("Keep more water over the pump’s inlet: a longer or deeper return chamber, a higher kept "
                                  "level, or a lower inlet."));
  nappe_levers_more_return_water (context, finding);
  nappe_finding_formula (finding, _("lowest level over the pump’s inlet, played in time"));
  nappe_finding_input (finding, "", _("water over the inlet before"),
                       context->study->running.level[pump->from] - pump->pump_inlet, NAPPE_QUANTITY_LENGTH);
  nappe_finding_input (finding, "", _("water over the inlet at its lowest"), cover, NAPPE_QUANTITY_LENGTH);
}

/* The return chamber fills display, box and pipes before anything comes back. */
void
nappe_rule_restart_dry (NappeRuleContext *context)
{
  const NappeSimulation *course = nappe_rule_course (context, NAPPE_RULE_RESTART);

  if (!nappe_rule_can_begin (context))
    return;
  if (nappe_rule_cut_floods (context))
    {
      nappe_rule_not_checked (context, _("Not checked: a power cut floods, and the water that is lost does not come back."));
      return;
    }
  if (course == NULL || (course->end != NAPPE_END_REACHED && nappe_course_air (course) == NULL))
    {
      /* Said by the rule of the restart itself. */
      nappe_rule_not_checked (context, _("Not checked: this case could not be played in time."));
      return;
    }
  const NappeEvent *air = nappe_course_find_event (course, NAPPE_EVENT_PUMP_AIR, G_MAXUINT, nappe_rule_happens_at (course));
  if (air != NULL)
    {
      report_dry (context, course, air);
      return;
    }
  for (guint i = 0; i < context->study->n_pumps; i++)
    {
      const NappePumpReport *report = &context->study->pumps[i];
      const NappeLink *pump = &context->network->links[report->link];
      double cover = course->lowest[pump->from] - pump->pump_inlet;
      /* Translators: pump, height. */
      nappe_finding_say (nappe_rule_fine (context, report->id, cover, nappe_rule_limit (context, NAPPE_LIMIT_PUMP_COVER),
                                          NAPPE_QUANTITY_LENGTH),
                         _("When the power comes back, %s keeps at least %s of water over its inlet."),
                         nappe_rule_name (context, report->id), NAPPE_SAY_LENGTH (context, cover));
    }
}
