/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Air in the drains: a way for it where it belongs, and none where it does not. */
#include "rules/rule-levers.h"
#include "rules/rule-list.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* Whether an open pipe without an air line has one all the same: its own open end over the water in the box. */
static gboolean
breathes (const NappeDrain *drain, const NappeDrainReport *report, double quiet)
{
  return drain->role == NAPPE_DRAIN_STANDPIPE && drain->inlet != NAPPE_INLET_DOWNTURNED_ELBOW && report->froude <= quiet
         && report->state != NAPPE_DRAIN_FULL;
}

static void
report_vent (NappeRuleContext *context, const NappeDrain *drain, const NappeDrainReport *report)
{
  double quiet = nappe_rule_limit (context, NAPPE_LIMIT_FROUDE_QUIET);
  const char *name = nappe_rule_name (context, report->id);
  gboolean gulps = !(report->froude <= quiet) || report->state == NAPPE_DRAIN_FULL;

  if (drain->vented || breathes (drain, report, quiet))
    {
      NappeFinding *fine = nappe_rule_fine (context, report->id, report->froude, quiet, NAPPE_QUANTITY_NUMBER);
      if (drain->vented)
        /* Translators: %s is a drain. */
        nappe_finding_say (fine, _("%s has an air line."), name);
      else
        /* Translators: %s is a drain. */
        nappe_finding_say (fine, _("%s has no air line, but so little water that it breathes through its open end."), name);
      return;
    }
  NappeFinding *finding = nappe_rule_find (context, gulps ? NAPPE_SEVERITY_PROBLEM : NAPPE_SEVERITY_ADVICE,
                                           gulps ? _("Open drain gulps without an air line") : _("Open drain has no air line"),
                                           report->id);
  nappe_finding_measure (finding, report->froude, quiet, NAPPE_QUANTITY_NUMBER);
  if (gulps)
    /* Translators: drain, flow. */
    nappe_finding_say (finding,
                       _("%s carries %s and has no air line. The water drags the air down, the pipe fills, turns into a "
                         "siphon, empties the box, gulps air and begins again."),
                       name, NAPPE_SAY_FLOW (context, report->flow));
  else
    /* Translators: drain, flow. */
    nappe_finding_say (finding,
                       _("%s carries only %s now and is quiet, but it has no air line: when the flow rises, it turns into "
                         "a siphon, and the level in the box jumps."),
                       name, NAPPE_SAY_FLOW (context, report->flow));
  nappe_finding_formula (finding, "Fr = V / √(g D)");
  nappe_finding_input (finding, "Fr", _("Froude number of the full bore"), report->froude, NAPPE_QUANTITY_NUMBER);
  nappe_finding_input (finding, "V", _("flow over the whole bore"), report->velocity, NAPPE_QUANTITY_SPEED);
  nappe_finding_input (finding, "D", _("bore"), context->network->links[report->link].inlet.bore, NAPPE_QUANTITY_LENGTH);
  nappe_finding_cure (finding, _("Give it an air line: a thin hose from the top of its inlet to over the highest level of "
                                 "the water."));
  nappe_rule_offer_vent (finding, report->id, TRUE);
}

/* Standpipes that could gulp, and open channels, have an air line. */
void
nappe_rule_drain_unvented (NappeRuleContext *context)
{
  const NappeStudy *study = context->study;

  if (nappe_rule_count_role (context, NAPPE_DRAIN_STANDPIPE) + nappe_rule_count_role (context, NAPPE_DRAIN_OPEN_CHANNEL)
      == 0)
    {
      nappe_rule_not_checked (context, _("Does not apply: the build has no vented standpipe and no open channel."));
      return;
    }
  if (!nappe_rule_needs_running (context))
    return;
  for (guint i = 0; i < study->n_drains; i++)
    {
      const NappeDrain *drain = nappe_rule_drain (context, &study->drains[i]);
      if (drain != NULL && (drain->role == NAPPE_DRAIN_STANDPIPE || drain->role == NAPPE_DRAIN_OPEN_CHANNEL))
        report_vent (context, drain, &study->drains[i]);
    }
}

static void
report_cover (NappeRuleContext *context, const NappeDrainReport *report)
{
  const NappeLink *link = &context->network->links[report->link];
  double bores = nappe_rule_limit (context, NAPPE_LIMIT_MOUTH_COVER), wanted = bores * link->inlet.bore;
  double cover = context->study->running.level[link->from] - link->inlet.mouth;
  gboolean little = !(cover >= wanted);
  NappeDrain *drain = nappe_rule_drain (context, report);
  NappeFinding *finding
      = little ? nappe_rule_find (context, NAPPE_SEVERITY_ADVICE, _("Siphon’s mouth is close to the surface"), report->id)
               : nappe_rule_fine (context, report->id, cover, wanted, NAPPE_QUANTITY_LENGTH);

  nappe_finding_measure (finding, cover, wanted, NAPPE_QUANTITY_LENGTH);
  /* Translators: depth, drain, depth. */
  nappe_finding_say (finding, _("%s of water stand over the mouth of %s; %s are advised."), NAPPE_SAY_LENGTH (context, cover),
                     nappe_rule_name (context, report->id), NAPPE_SAY_LENGTH (context, wanted));
  nappe_finding_formula (finding, _("level of the box − mouth, against a number of bores"));
  nappe_finding_input (finding, "", _("bores advised"), bores, NAPPE_QUANTITY_NUMBER);
  nappe_finding_input (finding, "D", _("bore"), link->inlet.bore, NAPPE_QUANTITY_LENGTH);
  nappe_finding_input (finding, "", _("flow"), report->flow, NAPPE_QUANTITY_FLOW);
  if (!little)
    return;
  nappe_finding_say (finding, _("With less, a whirl reaches down to it: the siphon sucks air, hisses, and may break."));
  /* Translators: %s is a height. */
  nappe_finding_cure (finding, _("Set its mouth %s lower, or close its valve a little so that the box stands higher. An "
                                 "elbow turned down or a strainer hinders the whirl."),
                      NAPPE_SAY_LENGTH (context, wanted - cover));
  if (drain != NULL && nappe_is_given (drain->mouth_height) && drain->mouth_height > 0)
    nappe_finding_offer (finding, nappe_lever_new_number (report->id, "mouth_height", 0, drain->mouth_height));
  nappe_rule_offer_valve (finding, report, 0, report->opening);
}

static gboolean
check_cover (NappeRuleContext *context, const NappeDrainReport *report)
{
  if (!context->study->running.primed[report->link])
    return FALSE;
  report_cover (context, report);
  return TRUE;
}

/* Water over the mouth of each siphon that runs full. */
void
nappe_rule_siphon_mouth_bare (NappeRuleContext *context)
{
  if (nappe_rule_needs_siphon (context) && nappe_rule_needs_steady (context))
    nappe_rule_check_siphons (context, check_cover, _("Does not apply: no siphon runs full."));
}
