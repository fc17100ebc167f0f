/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What only time shows of levels: how high they come on the way to their rest. */
#include "rules/flooding/flood-levers.h"
#include "rules/rule-list.h"
#include "rules/flooding/timed-rules.h"

#include "study/courses.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

/* A level that rose by less than this took up nothing [m]. */
#define RISE_LEAST 0.001

/* Ids of the cases (study/plans.c). */
#define POWER_CUT "power-cut"
#define STUCK "check-valves-stuck"
#define BLOCK "block-"

const NappeSimulation *
nappe_rule_course (NappeRuleContext *context, const char *id)
{
  for (guint i = 0; context->courses != NULL && i < context->courses->len; i++)
    {
      const NappeSimulation *course = context->courses->pdata[i];
      if (course != NULL && g_str_equal (course->plan->id, id))
        return course;
    }
  return NULL;
}

const NappeSimulation *
nappe_rule_blocked_course (NappeRuleContext *context, const char *drain)
{
  g_autofree char *id = g_strconcat (BLOCK, drain, NULL);

  return nappe_rule_course (context, id);
}

double
nappe_rule_happens_at (const NappeSimulation *course)
{
  return course->plan->n > 0 ? course->plan->happenings[course->plan->n - 1].at : 0;
}

void
nappe_rule_say_played (NappeRuleContext *context, NappeFinding *finding, const NappeSimulation *course)
{
  if (course == NULL || !isfinite (course->first_drop))
    return;
  /* Translators: a duration, then a volume. */
  nappe_finding_say (finding, _("Played in time, the first drop falls %s after it begins, and %s reach the floor."),
                     nappe_rule_duration (context, fmax (0, course->first_drop - nappe_rule_happens_at (course))),
                     NAPPE_SAY_VOLUME (context, course->spilled));
}

gboolean
nappe_rule_is_played (NappeRuleContext *context, const NappeSimulation *course, const char *part)
{
  NappeFinding *finding;

  if (course == NULL)
    {
      nappe_rule_not_checked (context, _("Not checked: this case could not be played in time."));
      return FALSE;
    }
  if (course->end == NAPPE_END_REACHED || isfinite (course->first_drop) || course->cycles)
    return TRUE;
  finding = nappe_rule_find (context, NAPPE_SEVERITY_PROBLEM, _("Not played to its end"), part);
  /* Translators: the name of a case of the time simulation, then a duration. */
  nappe_finding_say (finding, _("“%s” could be followed for %s only; what comes after is not known."),
                     course->plan->title, nappe_rule_duration (context, course->end_time));
  nappe_finding_cure (finding, _("Play it, and look at what happens in its last seconds."));
  nappe_finding_measure (finding, course->end_time, course->plan->length, NAPPE_QUANTITY_DURATION);
  return FALSE;
}

gboolean
nappe_rule_can_begin (NappeRuleContext *context)
{
  return nappe_rule_needs_running (context) && nappe_rule_needs_dry_floor (context);
}

/* The vessel of some kinds that is left with the least room under its rim at its highest, among those that rose. G_MAXUINT:
 * none did. */
static guint
fullest_at_peak (NappeRuleContext *context, const NappeSimulation *course, gboolean sump, double *margin)
{
  const NappeNetwork *network = context->network;
  guint fullest = G_MAXUINT;

  *margin = INFINITY;
  for (guint i = 0; i < network->n_nodes; i++)
    {
      const NappeNode *node = &network->nodes[i];
      gboolean meant = sump ? node->kind == NAPPE_NODE_CHAMBER : node->kind == NAPPE_NODE_DISPLAY || node->kind == NAPPE_NODE_BOX;
      if (!meant || !(course->peak[i] >= context->study->running.level[i] + RISE_LEAST)
          || node->rim - course->peak[i] >= *margin)
        continue;
      fullest = i;
      *margin = node->rim - course->peak[i];
    }
  return fullest;
}

static void
add_peak_working (NappeRuleContext *context, NappeFinding *finding, const NappeSimulation *course, guint node)
{
  double rim = context->network->nodes[node].rim, end = course->level[(course->n_frames - 1) * context->network->n_nodes + node];

  nappe_finding_formula (finding, _("levels played in time, against the rim"));
  nappe_finding_input (finding, "", _("level before, under the rim"), rim - context->study->running.level[node],
                       NAPPE_QUANTITY_LENGTH);
  nappe_finding_input (finding, "", _("at its highest, under the rim"), rim - course->peak[node], NAPPE_QUANTITY_LENGTH);
  nappe_finding_input (finding, "", _("highest after"), course->peak_time[node] - nappe_rule_happens_at (course),
                       NAPPE_QUANTITY_DURATION);
  nappe_finding_input (finding, "", _("in the end, under the rim"), rim - end, NAPPE_QUANTITY_LENGTH);
}

/* Lets a chamber rise less while the water comes. */
static void
offer_faster_way (NappeRuleContext *context, NappeFinding *finding, const char *chamber)
{
  nappe_levers_lower_baffles (context, finding);
  nappe_levers_lengthen_chamber (context, finding, chamber);
  nappe_levers_fit_power_cut (context, finding);
}

static void
report_cut_flood (NappeRuleContext *context, const NappeSimulation *course, guint node)
{
  const char *part = context->network->nodes[node].id;
  NappeFinding *finding
      = nappe_rule_find (context, NAPPE_SEVERITY_DANGER, _("A chamber runs over while the water runs down"), part);

  nappe_finding_measure (finding, course->spilled, 0, NAPPE_QUANTITY_VOLUME);
  /* Translators: a chamber. */
  nappe_finding_say (finding, _("At rest all water of a power cut fits, but on the way %s runs over its rim."),
                     nappe_rule_name (context, part));
  nappe_rule_say_played (context, finding, course);
  nappe_finding_cure (finding, _("Let the water out of this chamber faster: lower the baffle beyond it, widen its gap, or "
                                  "lead the drains into a larger chamber."));
  offer_faster_way (context, finding, part);
  add_peak_working (context, finding, course, node);
}

/* The highest level of every chamber while all runs down, not only the one in the end; with the check valves stuck open. */
void
nappe_rule_power_cut_peaks (NappeRuleContext *context)
{
  const NappeSimulation *stuck = nappe_rule_course (context, STUCK);
  const NappeSimulation *course = stuck != NULL ? stuck : nappe_rule_course (context, POWER_CUT);
  const char *sump = nappe_rule_id (context->build->sump);
  double wanted = context->targets->sump_freeboard, margin;

  if (!nappe_rule_can_begin (context) || !nappe_rule_is_played (context, course, sump))
    return;
  if (nappe_rule_cut_floods (context))
    {
      nappe_rule_not_checked (context, _("Does not apply: a power cut floods already at rest."));
      return;
    }
  guint node = fullest_at_peak (context, course, TRUE, &margin);
  if (node == G_MAXUINT)
    {
      nappe_finding_say (nappe_rule_fine (context, sump, 0, 0, NAPPE_QUANTITY_VOLUME),
                         _("In a power cut no chamber of the sump rises."));
      return;
    }
  if (isfinite (course->first_drop))
    {
      report_cut_flood (context, course, node);
      return;
    }
  const char *part = context->network->nodes[node].id;
  double rest = context->network->nodes[node].rim - context->study->cut_check_failed.state.level[node];
  /* What is short at rest too is said of the rest. */
  gboolean little = margin < wanted && !(rest < wanted);
  NappeFinding *finding = little ? nappe_rule_find (context, NAPPE_SEVERITY_ADVICE,
                                                    _("Little room while the water runs down"), part)
                                 : nappe_rule_fine (context, part, margin, wanted, NAPPE_QUANTITY_LENGTH);
  nappe_finding_measure (finding, margin, wanted, NAPPE_QUANTITY_LENGTH);
  /* Translators: chamber, height, duration. */
  nappe_finding_say (finding, _("In a power cut %s comes up to %s below its rim, %s after the power fails."),
                     nappe_rule_name (context, part), NAPPE_SAY_LENGTH (context, margin),
                     nappe_rule_duration (context, fmax (0, course->peak_time[node] - nappe_rule_happens_at (course))));
  add_peak_working (context, finding, course, node);
  if (little)
    {
      /* Translators: %s is a height. */
      nappe_finding_cure (finding, _("You asked for %s: let the water out of this chamber faster, or keep its level lower."),
                          NAPPE_SAY_LENGTH (context, wanted));
      offer_faster_way (context, finding, part);
    }
}

static void
report_blocked_peak (NappeRuleContext *context, const NappeSimulation *course, const NappeDrainReport *drain)
{
  double wanted = context->targets->display_freeboard, margin;
  guint node = fullest_at_peak (context, course, FALSE, &margin);
  const NappeBlockage *rest = nappe_study_blockage (context->study, drain->id);
  const char *name = nappe_rule_name (context, drain->id);

  if (rest != NULL && rest->floods)
    {
      nappe_rule_not_checked (context, _("Does not apply: it floods already at rest."));
      return;
    }
  if (isfinite (course->first_drop))
    {
      NappeFinding *flood = nappe_rule_find (context, NAPPE_SEVERITY_DANGER,
                                             _("Blocked drain floods before the others take over"), drain->id);
      nappe_finding_measure (flood, course->spilled, 0, NAPPE_QUANTITY_VOLUME);
      /* Translators: a drain. */
      nappe_finding_say (flood, _("With %s blocked the others carry the flow in the end, but not soon enough."), name);
      nappe_rule_say_played (context, flood, course);
      nappe_finding_cure (flood, _("Lower the emergency inlet, or leave more room under the rim."));
      nappe_levers_more_room_above (context, flood);
      return;
    }
  if (node == G_MAXUINT)
    {
      /* Translators: a drain. */
      nappe_finding_say (nappe_rule_fine (context, drain->id, 0, 0, NAPPE_QUANTITY_LENGTH),
                         _("With %s blocked neither display nor box rises."), name);
      return;
    }
  /* What is short at rest too is said of the rest. */
  gboolean little = margin < wanted && !(rest != NULL && rest->freeboard < wanted);
  NappeFinding *finding = little ? nappe_rule_find (context, NAPPE_SEVERITY_ADVICE,
                                                    _("Little room before the other drains take over"), drain->id)
                                 : nappe_rule_fine (context, drain->id, margin, wanted, NAPPE_QUANTITY_LENGTH);
  nappe_finding_measure (finding, margin, wanted, NAPPE_QUANTITY_LENGTH);
  /* Translators: drain, vessel, height, duration. */
  nappe_finding_say (finding, _("With %s blocked, %s comes up to %s below its rim after %s."), name,
                     nappe_rule_name (context, context->network->nodes[node].id), NAPPE_SAY_LENGTH (context, margin),
                     nappe_rule_duration (context, fmax (0, course->peak_time[node] - nappe_rule_happens_at (course))));
  add_peak_working (context, finding, course, node);
  if (little)
    {
      /* Translators: %s is a height. */
      nappe_finding_cure (finding, _("You asked for %s: lower the emergency inlet, or leave more room under the rim."),
                          NAPPE_SAY_LENGTH (context, wanted));
      nappe_levers_more_room_above (context, finding);
    }
}

/* Each drain blocked at once: how high the water comes before the others carry it. */
void
nappe_rule_blocked_peaks (NappeRuleContext *context)
{
  guint played = 0;

  if (!nappe_rule_can_begin (context))
    return;
  for (guint d = 0; d < context->study->n_drains; d++)
    {
      const NappeDrainReport *drain = &context->study->drains[d];
      const NappeSimulation *course = nappe_rule_blocked_course (context, drain->id);

      if (course == NULL)
        continue;
      played++;
      if (nappe_rule_is_played (context, course, drain->id))
        report_blocked_peak (context, course, drain);
    }
  if (played == 0)
    nappe_rule_not_checked (context, _("Not checked: this case could not be played in time."));
}

/* Whether the rules look at a case. */
static gboolean
is_wanted (const NappePlan *plan, const NappeStudy *study)
{
  if (g_str_equal (plan->id, POWER_CUT) || g_str_equal (plan->id, STUCK) || g_str_equal (plan->id, NAPPE_RULE_RESTART))
    return TRUE;
  for (guint d = 0; d < study->n_drains; d++)
    if (g_str_has_prefix (plan->id, BLOCK) && g_str_equal (plan->id + strlen (BLOCK), study->drains[d].id))
      return TRUE;
  return FALSE;
}

GPtrArray *
nappe_rules_play (NappeBuild *build, const NappeStudy *study, double evaporation, guint threads, GCancellable *cancellable)
{
  g_autoptr (GPtrArray) plans = nappe_plans_of (build, study);

  for (guint i = plans->len; i > 0; i--)
    if (!is_wanted (plans->pdata[i - 1], study))
      g_ptr_array_remove_index (plans, i - 1);
  return nappe_courses_new (study, plans, evaporation, threads, cancellable);
}
