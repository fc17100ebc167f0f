/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The return pump: lifts the water, turns the display over, and does not draw air. */
#include "rules/rule-levers.h"
#include "rules/rule-list.h"

#include <glib/gi18n-lib.h>
#include <math.h>

static gboolean
needs_pump (NappeRuleContext *context)
{
  if (!nappe_rule_needs_computed (context))
    return FALSE;
  if (context->study->n_pumps > 0)
    return TRUE;
  nappe_rule_not_checked (context, _("Does not apply: the build has no return pump."));
  return FALSE;
}

static const char *
say_head (NappeRuleContext *context, double head)
{
  return nappe_rule_number (context, NAPPE_QUANTITY_HEAD, head);
}

/* How a pump stands to what it must lift. */
typedef enum
{
  LIFT_FINE,
  LIFT_NOTHING, /* no flow worth the name */
  LIFT_RESTART, /* runs, but could not fill its line again after a power cut */
  LIFT_END,     /* at the end of its curve */
} LiftVerdict;

static LiftVerdict
judge_lift (NappeRuleContext *context, const NappePumpReport *pump)
{
  double least = nappe_rule_limit (context, NAPPE_LIMIT_PUMP_LEAST) * pump->end_flow;
  if (!(pump->flow >= fmax (least, nappe_rule_limit (context, NAPPE_LIMIT_TRICKLE))))
    return LIFT_NOTHING;
  if (!(pump->lift_head <= pump->shut_off_head))
    return LIFT_RESTART;
  if (pump->flow > nappe_rule_limit (context, NAPPE_LIMIT_PUMP_MOST) * pump->end_flow)
    return LIFT_END;
  return LIFT_FINE;
}

/* The valve of the pump's own trunk. */
static void
offer_open_valves (NappeRuleContext *context, NappeFinding *finding, const char *line)
{
  NappePart *part = nappe_build_find (context->build, line);
  if (part != NULL && NAPPE_IS_RETURN_LINE (part))
    nappe_rule_offer_valve_in_run (context, finding, NAPPE_RETURN_LINE (part)->run);
}

static void
report_no_lift (NappeRuleContext *context, NappeFinding *finding, const NappePumpReport *pump, LiftVerdict verdict)
{
  const char *name = nappe_rule_name (context, pump->id);
  double lift = verdict == LIFT_NOTHING ? fmax (pump->static_head, pump->lift_head) : pump->lift_head;

  nappe_finding_measure (finding, pump->shut_off_head, lift, NAPPE_QUANTITY_HEAD);
  if (verdict == LIFT_NOTHING && pump->shut_off_head > lift)
    /* Translators: pump, head, head. */
    nappe_finding_say (finding,
                       _("%s moves next to no water, though it could lift %s and its line asks for no more than %s."),
                       name, say_head (context, pump->shut_off_head), say_head (context, lift));
  else if (verdict == LIFT_NOTHING)
    /* Translators: pump, head, head. */
    nappe_finding_say (finding, _("%s moves next to no water: it lifts at most %s, and its line asks for %s."), name,
                       say_head (context, pump->shut_off_head), say_head (context, lift));
  else
    /* Translators: pump, head, head. */
    nappe_finding_say (finding,
                       _("%s would not start again after a power cut: it lifts at most %s, and the highest point of "
                          "its line lies %s above the water it draws from."),
                       name, say_head (context, pump->shut_off_head), say_head (context, lift));
  nappe_finding_formula (finding, _("head at no flow, against height above the return chamber’s level"));
  nappe_finding_input (finding, "", _("head at no flow, at its speed and wear"), pump->shut_off_head,
                       NAPPE_QUANTITY_HEAD);
  nappe_finding_input (finding, "", _("highest point of its line"), pump->lift_head, NAPPE_QUANTITY_HEAD);
  nappe_finding_input (finding, "", _("height to the display"), pump->static_head, NAPPE_QUANTITY_HEAD);
  nappe_finding_input (finding, "", _("flow"), pump->flow, NAPPE_QUANTITY_FLOW);
  if (pump->shut_off_head > lift)
    nappe_finding_cure (finding, _("Open what is shut in its line, lead its end into the display, or use a wider pipe "
                                    "with fewer bends."));
  else
    /* Translators: a head in metres or feet. */
    nappe_finding_cure (finding, _("Choose a pump that lifts well over %s at no flow, or run it faster."),
                        say_head (context, lift));
  nappe_rule_offer_pump (context, finding, pump->id, TRUE);
  offer_open_valves (context, finding, pump->line);
}

static void
report_lift (NappeRuleContext *context, const NappePumpReport *pump)
{
  LiftVerdict verdict = judge_lift (context, pump);
  double share = pump->end_flow > 0 ? pump->flow / pump->end_flow : 0;
  double most = nappe_rule_limit (context, NAPPE_LIMIT_PUMP_MOST);

  if (verdict == LIFT_NOTHING || verdict == LIFT_RESTART)
    {
      report_no_lift (context,
                      nappe_rule_find (context, NAPPE_SEVERITY_PROBLEM,
                                       verdict == LIFT_NOTHING ? _("Pump cannot lift the water")
                                                               : _("Pump cannot start its line again"),
                                       pump->id),
                      pump, verdict);
      return;
    }
  NappeFinding *finding = verdict == LIFT_END ? nappe_rule_find (context, NAPPE_SEVERITY_ADVICE,
                                                                 _("Pump works at the end of its curve"), pump->id)
                                              : nappe_rule_fine (context, pump->id, share, most, NAPPE_QUANTITY_SHARE);
  nappe_finding_measure (finding, share, most, NAPPE_QUANTITY_SHARE);
  /* Translators: pump, flow, head, share. */
  nappe_finding_say (finding, _("%s gives %s at a head of %s: %s of the most on its curve."),
                     nappe_rule_name (context, pump->id), NAPPE_SAY_FLOW (context, pump->flow),
                     say_head (context, fmax (0, pump->head)), NAPPE_SAY_SHARE (context, share));
  nappe_finding_formula (finding, _("pump’s curve meets the line’s loss"));
  nappe_finding_input (finding, "", _("flow"), pump->flow, NAPPE_QUANTITY_FLOW);
  nappe_finding_input (finding, "", _("last flow of its curve"), pump->end_flow, NAPPE_QUANTITY_FLOW);
  nappe_finding_input (finding, "", _("head"), pump->head, NAPPE_QUANTITY_HEAD);
  if (verdict == LIFT_END)
    nappe_finding_cure (finding, _("It has next to no head left to give: throttle it on its outlet side, turn it "
                                    "down, or choose a pump made for less head and more flow."));
  if (verdict == LIFT_END)
    {
      offer_open_valves (context, finding, pump->line);
      nappe_rule_offer_pump (context, finding, pump->id, FALSE);
      nappe_rule_offer_pump (context, finding, pump->id, TRUE);
    }
}

/* The pump lifts the water, can fill its line again, and does not run at the end of its curve. */
void
nappe_rule_pump_cannot_lift (NappeRuleContext *context)
{
  if (!needs_pump (context))
    return;
  for (guint i = 0; i < context->study->n_pumps; i++)
    report_lift (context, &context->study->pumps[i]);
}

static gboolean
any_pump_turns (NappeRuleContext *context)
{
  for (guint i = 0; i < context->build->returns->len; i++)
    if (nappe_rule_pump_turns (context, NAPPE_PUMP (NAPPE_RETURN_LINE (context->build->returns->pdata[i])->pump)))
      return TRUE;
  return FALSE;
}

/* The display's turnover against the planner's target. */
void
nappe_rule_turnover (NappeRuleContext *context)
{
  const NappeStudy *study = context->study;
  const NappeTargets *targets = context->targets;
  double turnover = study->display_turnover;
  const char *part = nappe_rule_id (context->build->tank);

  if (!nappe_rule_needs_running (context))
    return;
  gboolean low = !(turnover >= targets->turnover_min);
  gboolean high = turnover > targets->turnover_max;
  double limit = high ? targets->turnover_max : targets->turnover_min;
  NappeFinding *finding
      = low || high ? nappe_rule_find (context, NAPPE_SEVERITY_ADVICE,
                                       low ? _("Turnover below your target") : _("Turnover above your target"), part)
                    : nappe_rule_fine (context, part, turnover, limit, NAPPE_QUANTITY_RATE);
  nappe_finding_measure (finding, turnover, limit, NAPPE_QUANTITY_RATE);
  /* Translators: flow, volume, turnover, turnover, turnover. */
  nappe_finding_say (finding, _("%s into a display of %s is a turnover of %s; you asked for %s to %s."),
                     NAPPE_SAY_FLOW (context, study->running.display_flow),
                     NAPPE_SAY_VOLUME (context, study->display_volume),
                     nappe_rule_number (context, NAPPE_QUANTITY_RATE, turnover),
                     nappe_rule_number (context, NAPPE_QUANTITY_RATE, targets->turnover_min),
                     nappe_rule_number (context, NAPPE_QUANTITY_RATE, targets->turnover_max));
  nappe_finding_formula (finding, "Q / V");
  nappe_finding_input (finding, "Q", _("flow into the display"), study->running.display_flow, NAPPE_QUANTITY_FLOW);
  nappe_finding_input (finding, "V", _("water in the display"), study->display_volume, NAPPE_QUANTITY_VOLUME);
  if (low)
    /* Translators: %s is a flow. */
    nappe_finding_cure (
        finding, _("It takes %s: a stronger pump or less loss in the return line. Check the drains for it first."),
        NAPPE_SAY_FLOW (context, limit * study->display_volume));
  else if (high && any_pump_turns (context))
    /* Translators: %s is a flow. */
    nappe_finding_cure (finding, _("Turn the pump down to %s or less."),
                        NAPPE_SAY_FLOW (context, limit * study->display_volume));
  else if (high)
    /* Translators: %s is a flow. */
    nappe_finding_cure (finding, _("A smaller pump would do: it takes %s or less, and this one’s speed cannot be set."),
                        NAPPE_SAY_FLOW (context, limit * study->display_volume));
  if (low || high)
    nappe_rule_offer_pumps (context, finding, low);
  for (guint i = 0; i < context->build->returns->len && low; i++)
    nappe_finding_offer (finding, nappe_lever_new_size (nappe_rule_id (context->build->returns->pdata[i]), TRUE));
}

/* More water over a pump's inlet: kept higher in its chamber, or the inlet lower; or less flow. */
static void
offer_cover (NappeRuleContext *context, NappeFinding *finding, const char *id)
{
  NappePart *part = nappe_build_find (context->build, id);
  NappePart *chamber = part != NULL && NAPPE_IS_PUMP (part) ? nappe_build_find (context->build, NAPPE_PUMP (part)->chamber)
                                                            : NULL;

  if (chamber != NULL && NAPPE_IS_CHAMBER (chamber) && nappe_is_given (NAPPE_CHAMBER (chamber)->kept_level))
    nappe_finding_offer (finding,
                         nappe_lever_new_number (nappe_rule_id (chamber), "kept_level", NAPPE_CHAMBER (chamber)->kept_level,
                                                 NAPPE_BUILD_SUMP (context->build)->height));
  if (chamber != NULL && NAPPE_PUMP (part)->inlet_height > 0)
    nappe_finding_offer (finding, nappe_lever_new_number (id, "inlet_height", 0, NAPPE_PUMP (part)->inlet_height));
  nappe_rule_offer_pump (context, finding, id, FALSE);
}

static void
report_submergence (NappeRuleContext *context, const NappePumpReport *pump)
{
  gboolean air = !(pump->submergence > 0) || context->study->running.draws_air;
  gboolean little = !isnan (pump->submergence_wanted) && pump->submergence < pump->submergence_wanted;
  const char *name = nappe_rule_name (context, pump->id);
  const char *depth = NAPPE_SAY_LENGTH (context, fmax (0, pump->submergence));
  NappeFinding *finding
      = air || little
            ? nappe_rule_find (context, air ? NAPPE_SEVERITY_PROBLEM : NAPPE_SEVERITY_ADVICE,
                               air ? _("Pump draws air") : _("Pump inlet is close to the surface"), pump->id)
            : nappe_rule_fine (context, pump->id, pump->submergence, pump->submergence_wanted, NAPPE_QUANTITY_LENGTH);

  nappe_finding_measure (finding, pump->submergence, pump->submergence_wanted, NAPPE_QUANTITY_LENGTH);
  if (air)
    /* Translators: %s is a pump. */
    nappe_finding_say (finding,
                       _("The inlet of %s is not covered: it draws air, gives only what arrives, and fills the "
                          "display with bubbles."),
                       name);
  else if (isnan (pump->submergence_wanted))
    /* Translators: pump, depth. */
    nappe_finding_say (
        finding, _("%s of water stand over the inlet of %s; how much it needs is not known without the inlet’s bore."),
        depth, name);
  else
    /* Translators: depth, pump, depth. */
    nappe_finding_say (finding, _("%s of water stand over the inlet of %s; against a vortex %s are advised."), depth,
                       name, NAPPE_SAY_LENGTH (context, pump->submergence_wanted));
  nappe_finding_formula (finding, "S = D (1 + 2.3 Fr)");
  nappe_finding_input (finding, "D", _("bore of the inlet"), context->network->links[pump->link].inlet_bore,
                       NAPPE_QUANTITY_LENGTH);
  nappe_finding_input (finding, "", _("flow"), pump->flow / context->network->links[pump->link].count, NAPPE_QUANTITY_FLOW);
  nappe_finding_input (finding, "S", _("water over the inlet that is advised"), pump->submergence_wanted,
                       NAPPE_QUANTITY_LENGTH);
  if (!air && !little)
    return;
  double lack
      = isnan (pump->submergence_wanted) ? fmax (0, -pump->submergence) : pump->submergence_wanted - pump->submergence;
  if (lack > 0)
    /* Translators: %s is a height. */
    nappe_finding_cure (finding,
                        _("Keep the water there %s higher or the inlet lower, as far as a power cut leaves room; an "
                           "elbow or a wide strainer on the inlet helps too."),
                        NAPPE_SAY_LENGTH (context, lack));
  else
    nappe_finding_cure (finding, _("Keep more water in the chamber, or turn the pump down to what arrives."));
  offer_cover (context, finding, pump->id);
}

/* Water over each pump's inlet: covered at all, and enough against a vortex. */
void
nappe_rule_pump_inlet_submergence (NappeRuleContext *context)
{
  if (!needs_pump (context))
    return;
  for (guint i = 0; i < context->study->n_pumps; i++)
    report_submergence (context, &context->study->pumps[i]);
}
