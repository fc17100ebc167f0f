/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How far the pump's flow may drift before a tuned siphon is upset. */
#include "rules/rule-levers.h"
#include "rules/rule-list.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* One way to leave the window. */
typedef struct
{
  double share;      /* of the pump's flow, signed; NaN: no such bound */
  double slack;      /* share by which the flow may still change that way; below 0: left already */
  gboolean serious;  /* the siphon breaks or the emergency runs; else it is only loud or dry */
  const char *label; /* English, marked N_() */
} Bound;

#define N_BOUNDS 4

static void
list_bounds (const NappeTuningWindow *window, Bound bounds[N_BOUNDS])
{
  bounds[0] = (Bound){ window->breaks, -window->breaks, TRUE, N_ ("the siphon draws air and breaks") };
  bounds[1] = (Bound){ window->emergency_wet, window->emergency_wet, TRUE, N_ ("water reaches the emergency inlet") };
  bounds[2] = (Bound){ window->channel_dry, -window->channel_dry, FALSE, N_ ("the open channel runs dry") };
  bounds[3] = (Bound){ window->channel_loud, window->channel_loud, FALSE, N_ ("the open channel grows loud") };
}

/* A wet emergency and a loud channel are findings of their own and not said again here. */
static gboolean
said_elsewhere (const Bound *bound)
{
  return bound->slack < 0 && bound->share < 0;
}

static gboolean
left_by_another (const Bound bounds[N_BOUNDS])
{
  gboolean any = FALSE;
  for (guint i = 0; i < N_BOUNDS; i++)
    any = any || said_elsewhere (&bounds[i]);
  return any;
}

/* The nearest bound: of the serious ones, or of all. NULL: none. */
static const Bound *
nearest (const Bound bounds[N_BOUNDS], gboolean serious_only)
{
  const Bound *found = NULL;
  for (guint i = 0; i < N_BOUNDS; i++)
    if (!isnan (bounds[i].share) && !said_elsewhere (&bounds[i]) && (bounds[i].serious || !serious_only)
        && (found == NULL || bounds[i].slack < found->slack))
      found = &bounds[i];
  return found;
}

static void
say_bound (NappeRuleContext *context, NappeFinding *finding, const NappeDrainReport *report, const Bound *bound)
{
  const char *name = nappe_rule_name (context, report->id);
  const char *share = NAPPE_SAY_SHARE (context, fabs (bound->share));
  if (bound->slack < 0)
    /* Translators: drain, what happens ("the siphon draws air and breaks"). */
    nappe_finding_say (finding, _("%s is outside its band as drawn: %s at the pump’s flow of today."), name,
                       _(bound->label));
  else if (bound->share < 0)
    /* Translators: drain, share, what happens ("the siphon draws air and breaks"). */
    nappe_finding_say (finding, _("%s is tuned to a narrow band: when the pump’s flow falls by %s, %s."), name, share,
                       _(bound->label));
  else
    /* Translators: drain, share, what happens ("water reaches the emergency inlet"). */
    nappe_finding_say (finding, _("%s is tuned to a narrow band: when the pump’s flow rises by %s, %s."), name, share,
                       _(bound->label));
}

static const char *
narrow_title (gboolean bad, gboolean dry)
{
  if (bad)
    return _("Siphon is tuned too finely for its pump");
  return dry ? _("Open channel runs dry early") : _("Open channel leaves its quiet range early");
}

/* Deepest that a siphon's inlet is set: so far over its box's floor [m]. */
#define MOUTH_LEAST 0.020

/* What moves the nearest bound away: the valve, a deeper mouth of the siphon, a higher emergency inlet, a larger channel. */
static void
offer_wider_window (NappeRuleContext *context, NappeFinding *finding, const NappeDrainReport *report, gboolean upward)
{
  NappeDrain *siphon = nappe_rule_drain (context, report);

  nappe_rule_offer_valve (finding, report, upward ? report->opening : 0, upward ? 1 : report->opening);
  if (!upward && siphon != NULL && siphon->mouth_height > MOUTH_LEAST)
    nappe_finding_offer (finding,
                         nappe_lever_new_number (report->id, "mouth_height", MOUTH_LEAST, siphon->mouth_height));
  for (guint i = 0; i < context->study->n_drains && upward; i++)
    {
      NappeDrain *drain = nappe_rule_drain (context, &context->study->drains[i]);
      const NappeNode *box = drain != NULL ? nappe_rule_node (context, drain->overflow) : NULL;

      if (box != NULL && drain->role == NAPPE_DRAIN_EMERGENCY)
        nappe_rule_offer_crest (context, finding, drain, drain->crest_height, box->rim - box->floor);
      else if (drain != NULL && drain->role == NAPPE_DRAIN_OPEN_CHANNEL)
        nappe_finding_offer (finding, nappe_lever_new_size (nappe_rule_id (drain), TRUE));
    }
}

static void
report_window (NappeRuleContext *context, const NappeDrainReport *report)
{
  Bound bounds[N_BOUNDS];
  double drift = context->targets->pump_drift;

  list_bounds (&report->window, bounds);
  const Bound *serious = nearest (bounds, TRUE), *any = nearest (bounds, FALSE);
  gboolean bad = serious != NULL && serious->slack < drift;
  const Bound *said = bad ? serious : any;
  gboolean narrow = said != NULL && said->slack < drift;
  if (!narrow && left_by_another (bounds))
    {
      nappe_rule_not_checked (context, _("Does not apply: said already that another drain carries too much."));
      return;
    }
  NappeFinding *finding = narrow ? nappe_rule_find (context, bad ? NAPPE_SEVERITY_PROBLEM : NAPPE_SEVERITY_ADVICE,
                                                    narrow_title (bad, said == &bounds[2]), report->id)
                                 : nappe_rule_fine (context, report->id, NAN, drift, NAPPE_QUANTITY_SHARE);
  nappe_finding_measure (finding, said != NULL ? said->slack : NAN, drift, NAPPE_QUANTITY_SHARE);
  nappe_finding_formula (finding, _("change of the pump’s flow at which each bound is met, levels solved anew"));
  for (guint i = 0; i < N_BOUNDS; i++)
    if (!isnan (bounds[i].share))
      nappe_finding_input (finding, "", _(bounds[i].label), bounds[i].share, NAPPE_QUANTITY_SHARE);
  if (!narrow)
    {
      /* Translators: drain, share. */
      nappe_finding_say (finding, _("%s stays in its band while the pump’s flow drifts by %s either way."),
                         nappe_rule_name (context, report->id), NAPPE_SAY_SHARE (context, drift));
      return;
    }
  say_bound (context, finding, report, said);
  /* Translators: %s is a share. */
  nappe_finding_say (finding, _("You expect the flow to drift by %s."), NAPPE_SAY_SHARE (context, drift));
  if (nappe_rule_count_role (context, NAPPE_DRAIN_OPEN_CHANNEL) == 0)
    nappe_finding_cure (finding, _("Add an open-channel drain between the siphon and the emergency: it takes up what "
                                    "the pump’s flow drifts."));
  else if (said == &bounds[0] || said == &bounds[2])
    nappe_finding_cure (finding, _("Close the siphon’s valve a little, so that the open channel carries a larger "
                                    "share; or set the siphon’s inlet deeper."));
  else
    nappe_finding_cure (finding, _("Open the siphon’s valve a little, so that the open channel carries a smaller "
                                    "share; or make the open channel’s pipe larger."));
  offer_wider_window (context, finding, report, said == &bounds[1] || said == &bounds[3]);
}

static gboolean
check_window (NappeRuleContext *context, const NappeDrainReport *report)
{
  if (!report->window.known)
    return FALSE;
  report_window (context, report);
  return TRUE;
}

/* The four bounds of each tuned siphon against the drift that the planner expects. */
void
nappe_rule_tuning_window (NappeRuleContext *context)
{
  if (nappe_rule_needs_siphon (context) && nappe_rule_needs_steady (context))
    nappe_rule_check_siphons (context, check_window, _("Does not apply: no siphon is tuned."));
}
