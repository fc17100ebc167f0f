/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How fast the water runs in the pipes, and whether the pump fits what it has to do. */
#include "rules/rule-levers.h"
#include "rules/rule-list.h"

#include "study/head-ledger.h"

#include <glib/gi18n-lib.h>
#include <math.h>

static const char *
say_speed (NappeRuleContext *context, double speed)
{
  return nappe_rule_number (context, NAPPE_QUANTITY_SPEED, speed);
}

/* The fastest pipe of a line that runs full; velocity 0: none does. */
static NappeHeadLine
fastest_pipe (NappeRuleContext *context, const char *line)
{
  g_autoptr (NappeHeadLedger) ledger = nappe_head_ledger_new (context->study, &context->study->running, line);
  NappeHeadLine fastest = { .velocity = 0 };

  for (guint i = 0; i < ledger->n; i++)
    if (ledger->lines[i].kind == NAPPE_LOSS_PIPE && fabs (ledger->lines[i].velocity) > fabs (fastest.velocity))
      fastest = ledger->lines[i];
  return fastest;
}

/* TRUE when the line runs full, so that its speed could be judged. */
static gboolean
check_line_speed (NappeRuleContext *context, const char *line, gboolean drain)
{
  double limit = nappe_rule_limit (context, drain ? NAPPE_LIMIT_SPEED_DRAIN : NAPPE_LIMIT_SPEED_PRESSURE);
  NappeHeadLine pipe = fastest_pipe (context, line);
  double speed = fabs (pipe.velocity);
  gboolean fast = speed > limit;

  if (!(speed > 0))
    return FALSE;
  NappeFinding *finding
      = fast ? nappe_rule_find (context, NAPPE_SEVERITY_ADVICE, _("Water runs fast in a pipe"), line)
             : nappe_rule_fine (context, line, speed, limit, NAPPE_QUANTITY_SPEED);
  nappe_finding_measure (finding, speed, limit, NAPPE_QUANTITY_SPEED);
  /* Translators: flow, line, diameter, speed. */
  nappe_finding_say (finding, _("The %s of %s run through a bore of %s at %s."), NAPPE_SAY_FLOW (context, fabs (pipe.flow)),
                     nappe_rule_name (context, line), NAPPE_SAY_LENGTH (context, pipe.bore), say_speed (context, speed));
  nappe_finding_formula (finding, "V = Q / (π/4 D²)");
  nappe_finding_input (finding, "Q", _("flow"), fabs (pipe.flow), NAPPE_QUANTITY_FLOW);
  nappe_finding_input (finding, "D", _("bore"), pipe.bore, NAPPE_QUANTITY_LENGTH);
  if (!fast)
    return TRUE;
  if (drain)
    nappe_finding_say (finding, _("So fast it hisses even in a full pipe, and what the siphon takes grows uncertain."));
  else
    nappe_finding_say (finding, _("So fast it is heard, shakes the pipe when the pump stops, and costs much of the pump’s "
                                  "head: head goes with the square of the speed."));
  /* Translators: diameter, speed. */
  nappe_finding_cure (finding, _("A bore of %s or more keeps it under %s; or let less water through."),
                      nappe_rule_at_least (context, NAPPE_QUANTITY_LENGTH, pipe.bore * sqrt (speed / limit)),
                      say_speed (context, limit));
  nappe_rule_offer_wider_pipe (context, finding, pipe.piece);
  nappe_finding_offer (finding, nappe_lever_new_size (line, TRUE));
  nappe_rule_offer_pumps (context, finding, FALSE);
  return TRUE;
}

/* TRUE when the bore of the pump's inlet is known. */
static gboolean
check_suction (NappeRuleContext *context, const NappePumpReport *pump)
{
  const NappeLink *link = &context->network->links[pump->link];
  double limit = nappe_rule_limit (context, NAPPE_LIMIT_SPEED_SUCTION), bore = link->inlet_bore;
  double flow = pump->flow / link->count, speed = flow / (G_PI_4 * bore * bore);
  gboolean fast = speed > limit;

  if (isnan (speed))
    return FALSE;
  NappeFinding *finding
      = fast ? nappe_rule_find (context, NAPPE_SEVERITY_ADVICE, _("Pump draws through a narrow inlet"), pump->id)
             : nappe_rule_fine (context, pump->id, speed, limit, NAPPE_QUANTITY_SPEED);
  nappe_finding_measure (finding, speed, limit, NAPPE_QUANTITY_SPEED);
  /* Translators: pump, flow, diameter, speed. */
  nappe_finding_say (finding, _("%s draws %s through an inlet of %s, at %s."), nappe_rule_name (context, pump->id),
                     NAPPE_SAY_FLOW (context, flow), NAPPE_SAY_LENGTH (context, bore), say_speed (context, speed));
  nappe_finding_formula (finding, "V = Q / (π/4 D²)");
  nappe_finding_input (finding, "Q", _("flow of one pump"), flow, NAPPE_QUANTITY_FLOW);
  nappe_finding_input (finding, "D", _("bore of its inlet"), bore, NAPPE_QUANTITY_LENGTH);
  if (!fast)
    return TRUE;
  nappe_finding_say (finding, _("So fast the water whirls before it, draws air down and pulls in what swims or drifts by."));
  /* Translators: diameter. */
  nappe_finding_cure (finding, _("A strainer or bell of %s or more across on its inlet slows it down; or turn the pump down."),
                      nappe_rule_at_least (context, NAPPE_QUANTITY_LENGTH, bore * sqrt (speed / limit)));
  nappe_rule_offer_pump (context, finding, pump->id, FALSE);
  return TRUE;
}

/* Speeds in return lines, in drains that run full, and in the inlets of pumps. */
void
nappe_rule_pipe_speed (NappeRuleContext *context)
{
  const NappeStudy *study = context->study;
  guint checked = 0;

  if (!nappe_rule_needs_steady (context))
    return;
  for (guint i = 0; i < study->n_drains; i++)
    checked += check_line_speed (context, study->drains[i].id, TRUE);
  for (guint i = 0; i < study->n_pumps; i++)
    {
      checked += check_line_speed (context, study->pumps[i].line, FALSE);
      checked += check_suction (context, &study->pumps[i]);
    }
  if (checked == 0)
    nappe_rule_not_checked (context, _("Does not apply: no pipe runs full."));
}

/* Whether a report about a pump that hardly moves water was made by the rule on lifting. */
static gboolean
hardly_moves (NappeRuleContext *context, const NappePumpReport *pump)
{
  double least = nappe_rule_limit (context, NAPPE_LIMIT_PUMP_LEAST) * pump->end_flow;
  return !(pump->flow >= fmax (least, nappe_rule_limit (context, NAPPE_LIMIT_TRICKLE)));
}

static void
report_oversize (NappeRuleContext *context, const NappePumpReport *report, gboolean slow, double value, double limit)
{
  NappeFinding *finding = nappe_rule_find (context, NAPPE_SEVERITY_ADVICE,
                                           slow ? _("Pump is turned far down") : _("Pump is throttled far down"), report->id);
  const char *name = nappe_rule_name (context, report->id);

  nappe_finding_measure (finding, value, limit, NAPPE_QUANTITY_SHARE);
  if (slow)
    /* Translators: pump, share of full speed. */
    nappe_finding_say (finding,
                       _("%s runs at %s of its speed. It has hardly any head left there: a little dirt in the pipe halves "
                         "the flow, and many pumps fail to start so slowly."),
                       name, NAPPE_SAY_SHARE (context, value));
  else
    /* Translators: pump, share. */
    nappe_finding_say (finding,
                       _("%s gives only %s of the most on its curve. Held back so far it churns the same water, warms it, "
                         "wears its bearing, and a hair of the valve changes the flow."),
                       name, NAPPE_SAY_SHARE (context, value));
  nappe_finding_formula (finding, _("pump’s curve meets the line’s loss"));
  nappe_finding_input (finding, "", _("flow"), report->flow, NAPPE_QUANTITY_FLOW);
  nappe_finding_input (finding, "", _("last flow of its curve"), report->end_flow, NAPPE_QUANTITY_FLOW);
  nappe_finding_input (finding, "", _("head"), report->head, NAPPE_QUANTITY_HEAD);
  /* Translators: flow, head in metres or feet. */
  nappe_finding_cure (finding, _("A smaller pump does it, one made for about %s at %s."), NAPPE_SAY_FLOW (context, report->flow),
                      nappe_rule_number (context, NAPPE_QUANTITY_HEAD, fmax (0, report->head)));
  nappe_rule_offer_pump (context, finding, report->id, FALSE);
}

static void
check_size (NappeRuleContext *context, const NappePumpReport *report, const NappePump *pump)
{
  double slow = nappe_rule_limit (context, NAPPE_LIMIT_PUMP_SLOW);
  double shut = nappe_rule_limit (context, NAPPE_LIMIT_PUMP_NEAR_SHUT);
  double share = report->end_flow > 0 ? report->flow / report->end_flow : 0;

  if (pump->speed < slow)
    report_oversize (context, report, TRUE, pump->speed, slow);
  else if (share < shut)
    report_oversize (context, report, FALSE, share, shut);
  else
    {
      NappeFinding *fine = nappe_rule_fine (context, report->id, share, shut, NAPPE_QUANTITY_SHARE);
      /* Translators: pump, share of full speed, share. */
      nappe_finding_say (fine, _("%s runs at %s of its speed and gives %s of the most on its curve there."),
                         nappe_rule_name (context, report->id), NAPPE_SAY_SHARE (context, pump->speed),
                         NAPPE_SAY_SHARE (context, share));
    }
}

/* A pump that has to be held far back is too strong for its line. */
void
nappe_rule_pump_oversized (NappeRuleContext *context)
{
  const NappeStudy *study = context->study;
  guint checked = 0;

  if (!nappe_rule_needs_computed (context))
    return;
  for (guint i = 0; i < study->n_pumps; i++)
    {
      NappePart *pump = nappe_build_find (context->build, study->pumps[i].id);
      if (pump == NULL || !NAPPE_IS_PUMP (pump) || hardly_moves (context, &study->pumps[i]))
        continue;
      check_size (context, &study->pumps[i], NAPPE_PUMP (pump));
      checked++;
    }
  if (checked == 0)
    nappe_rule_not_checked (context, _("Does not apply: no pump moves water."));
}

static void
report_fixed_speed (NappeRuleContext *context, const NappePump *pump)
{
  const char *id = nappe_rule_id (pump);
  NappeFinding *finding
      = nappe_rule_find (context, NAPPE_SEVERITY_PROBLEM, _("Pump’s speed cannot be set"), id);

  nappe_finding_measure (finding, pump->speed, 1, NAPPE_QUANTITY_SHARE);
  /* Translators: pump, share of full speed. */
  nappe_finding_say (finding, _("%s is drawn at %s of its speed, but the catalogue says that its speed is fixed. It will run "
                                "at full speed, and all flows and levels differ from those shown."),
                     nappe_rule_name (context, id), NAPPE_SAY_SHARE (context, pump->speed));
  nappe_finding_cure (finding, _("Draw it at full speed and see what follows, or choose a pump whose speed can be set."));
  nappe_rule_offer_pump_that_turns (context, finding, pump);
  nappe_finding_offer (finding, nappe_lever_new_number (id, "speed", pump->speed, 1));
}

/* A curve tells nothing before its first point and after its last. flow: of one pump at full speed [m3/s] */
static void
report_curve (NappeRuleContext *context, const NappePumpReport *report, double flow, const NappePumpCurve *curve)
{
  double first = curve->flow[0], last = curve->flow[curve->n - 1];
  gboolean outside = flow < first || flow > last;
  NappeFinding *finding
      = outside ? nappe_rule_find (context, NAPPE_SEVERITY_ADVICE, _("Pump works where its curve is not known"), report->id)
                : nappe_rule_fine (context, report->id, flow, last, NAPPE_QUANTITY_FLOW);

  nappe_finding_measure (finding, flow, flow < first ? first : last, NAPPE_QUANTITY_FLOW);
  /* Translators: pump, then three flows. */
  nappe_finding_say (finding, _("%s works at a point that is %s at full speed; its curve is known from %s to %s."),
                     nappe_rule_name (context, report->id), NAPPE_SAY_FLOW (context, flow), NAPPE_SAY_FLOW (context, first),
                     NAPPE_SAY_FLOW (context, last));
  if (!outside)
    return;
  nappe_finding_say (finding, _("There the curve is only drawn on straight: the real flow may be quite another, and with it "
                                "every level."));
  nappe_finding_cure (finding, _("Get the maker’s curve for this range, or measure the pump there, and enter the points."));
}

/* Pumps work where their curves are known, and at speeds that they have. */
void
nappe_rule_pump_curve_range (NappeRuleContext *context)
{
  const NappeStudy *study = context->study;
  guint checked = 0;

  if (!nappe_rule_needs_computed (context))
    return;
  for (guint i = 0; i < study->n_pumps; i++)
    {
      const NappeLink *link = &context->network->links[study->pumps[i].link];
      NappePart *pump = nappe_build_find (context->build, study->pumps[i].id);
      if (pump == NULL || !NAPPE_IS_PUMP (pump) || !(link->speed > 0) || link->curve.n < 2)
        continue;
      checked++;
      if (NAPPE_PUMP (pump)->speed < 1 && !nappe_rule_pump_turns (context, NAPPE_PUMP (pump)))
        report_fixed_speed (context, NAPPE_PUMP (pump));
      else
        report_curve (context, &study->pumps[i], study->pumps[i].flow / (link->count * link->speed), &link->curve);
    }
  if (checked == 0)
    nappe_rule_not_checked (context, _("Does not apply: no pump runs."));
}
