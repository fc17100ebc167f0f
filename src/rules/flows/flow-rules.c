/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Flows that somebody wants: through the sump, through a branch; and the one that nobody wants, back through a pump. */
#include "rules/rule-levers.h"
#include "rules/rule-list.h"

#include <glib/gi18n-lib.h>
#include <math.h>

static void
report_sump_turnover (NappeRuleContext *context, double flow, double volume)
{
  const NappeTargets *targets = context->targets;
  double turnover = flow / volume, least = targets->sump_turnover_min, most = targets->sump_turnover_max;
  gboolean low = turnover < least, high = turnover > most;
  double limit = high || !nappe_is_given (least) ? most : least;
  const char *sump = nappe_rule_id (context->build->sump);
  NappeFinding *finding
      = low || high ? nappe_rule_find (context, NAPPE_SEVERITY_ADVICE,
                                       low ? _("Sump’s turnover below your target") : _("Sump’s turnover above your target"),
                                       sump)
                    : nappe_rule_fine (context, sump, turnover, limit, NAPPE_QUANTITY_RATE);

  nappe_finding_measure (finding, turnover, limit, NAPPE_QUANTITY_RATE);
  /* Translators: flow, volume, turnover. */
  nappe_finding_say (finding, _("%s through a sump that holds %s is a turnover of %s."), NAPPE_SAY_FLOW (context, flow),
                     NAPPE_SAY_VOLUME (context, volume), nappe_rule_number (context, NAPPE_QUANTITY_RATE, turnover));
  nappe_finding_formula (finding, "Q / V");
  nappe_finding_input (finding, "Q", _("flow down the drains"), flow, NAPPE_QUANTITY_FLOW);
  nappe_finding_input (finding, "V", _("water in the sump, without the reservoir"), volume, NAPPE_QUANTITY_VOLUME);
  nappe_finding_input (finding, "", _("least that you want"), least, NAPPE_QUANTITY_RATE);
  nappe_finding_input (finding, "", _("most that you want"), most, NAPPE_QUANTITY_RATE);
  if (low)
    /* Translators: two flows. */
    nappe_finding_cure (finding, _("It takes %s: a stronger pump, or a smaller sump."), NAPPE_SAY_FLOW (context, limit * volume));
  else if (high && limit > 0)
    /* Translators: a flow, a volume. */
    nappe_finding_cure (finding, _("Let %s through at most, or give the sump %s of water."),
                        NAPPE_SAY_FLOW (context, limit * volume), NAPPE_SAY_VOLUME (context, flow / limit));
  else if (high)
    nappe_finding_cure (finding, _("Set a greatest turnover above nothing in your targets."));
  if (low || high)
    nappe_rule_offer_pumps (context, finding, low);
}

/* The sump's turnover against the planner's target. */
void
nappe_rule_sump_turnover (NappeRuleContext *context)
{
  const NappeStudy *study = context->study;
  double flow = 0, volume = 0;

  if (!nappe_is_given (context->targets->sump_turnover_min) && !nappe_is_given (context->targets->sump_turnover_max))
    {
      nappe_rule_not_checked (context, _("Does not apply: your targets name no turnover of the sump."));
      return;
    }
  if (!nappe_rule_needs_running (context))
    return;
  for (guint i = 0; i < study->n_drains; i++)
    flow += study->drains[i].flow;
  for (guint i = 0; i < study->n_chambers; i++)
    if (study->chambers[i].role != NAPPE_CHAMBER_RESERVOIR)
      volume += study->chambers[i].volume;
  if (volume > 0)
    report_sump_turnover (context, flow, volume);
  else
    nappe_rule_not_checked (context, _("Not checked: the sump holds no water."));
}

/* Whether an outlet feeds something that mostly wants a certain flow. */
static gboolean
feeds_something (NappeRuleContext *context, const NappeOutlet *outlet)
{
  NappePart *into = nappe_build_find (context->build, outlet->into);
  if (into == NULL)
    return FALSE;
  if (NAPPE_IS_SIDE_VESSEL (into))
    return TRUE;
  return NAPPE_IS_CHAMBER (into)
         && (NAPPE_CHAMBER (into)->role == NAPPE_CHAMBER_REFUGIUM || NAPPE_CHAMBER (into)->role == NAPPE_CHAMBER_REACTOR);
}

static void
report_branch (NappeRuleContext *context, const NappeOutlet *outlet)
{
  const char *id = nappe_rule_id (outlet);
  double flow = nappe_study_flow (context->study, &context->study->running, id);
  gboolean high = flow > outlet->flow_max, low = !high && nappe_is_given (outlet->flow_min) && !(flow >= outlet->flow_min);
  double limit = high || !nappe_is_given (outlet->flow_min) ? outlet->flow_max : outlet->flow_min;
  NappeFinding *finding
      = low || high ? nappe_rule_find (context, NAPPE_SEVERITY_ADVICE,
                                       low ? _("Branch carries too little") : _("Branch carries too much"), id)
                    : nappe_rule_fine (context, id, flow, limit, NAPPE_QUANTITY_FLOW);

  nappe_finding_measure (finding, flow, limit, NAPPE_QUANTITY_FLOW);
  /* Translators: outlet, flow. */
  nappe_finding_say (finding, _("%s carries %s."), nappe_rule_name (context, id), NAPPE_SAY_FLOW (context, fmax (0, flow)));
  nappe_finding_input (finding, "", _("least that it wants"), outlet->flow_min, NAPPE_QUANTITY_FLOW);
  nappe_finding_input (finding, "", _("most that it wants"), outlet->flow_max, NAPPE_QUANTITY_FLOW);
  if (low)
    {
      /* Translators: vessel, flow. */
      nappe_finding_say (finding, _("%s wants %s or more: it is starved, and dirt settles in it."),
                         nappe_rule_name (context, outlet->into), NAPPE_SAY_FLOW (context, limit));
      nappe_finding_cure (finding, _("Open the valve of the branch, or use a wider pipe for it."));
    }
  else if (high)
    {
      /* Translators: vessel, flow. */
      nappe_finding_say (finding, _("%s wants %s at most: the water rushes through before it has been worked on."),
                         nappe_rule_name (context, outlet->into), NAPPE_SAY_FLOW (context, limit));
      nappe_finding_cure (finding, _("Close the valve of the branch by the flow; fit one where there is none."));
    }
  if (low || high)
    nappe_rule_offer_valve_in_run (context, finding, outlet->run);
}

/* Counts of outlets met on the way. */
typedef struct
{
  guint told, untold; /* with a wish, and feeding something without one */
} Branches;

static void
check_outlets (NappeRuleContext *context, GPtrArray *outlets, Branches *met)
{
  for (guint i = 0; i < outlets->len; i++)
    {
      const NappeOutlet *outlet = outlets->pdata[i];
      gboolean told = nappe_is_given (outlet->flow_min) || nappe_is_given (outlet->flow_max);
      if (told)
        report_branch (context, outlet);
      met->told += told;
      met->untold += !told && feeds_something (context, outlet);
    }
}

/* What each branch carries against what it feeds wants. */
void
nappe_rule_branch_flow (NappeRuleContext *context)
{
  const NappeBuild *build = context->build;
  Branches met = { 0, 0 };

  if (!nappe_rule_needs_steady (context))
    return;
  for (guint i = 0; i < build->drains->len; i++)
    check_outlets (context, NAPPE_DRAIN (build->drains->pdata[i])->outlets, &met);
  for (guint i = 0; i < build->returns->len; i++)
    check_outlets (context, NAPPE_RETURN_LINE (build->returns->pdata[i])->outlets, &met);
  if (met.untold > 0)
    nappe_rule_not_checked (context, _("Not checked: how much flow a refugium or reactor wants is not told at the outlet that "
                                       "feeds it."));
  else if (met.told == 0)
    nappe_rule_not_checked (context, _("Does not apply: no branch feeds a refugium or a reactor."));
}

static gboolean
has_check_valve (NappeRuleContext *context, GPtrArray *run, guint end)
{
  for (guint i = 0; i < MIN (end, run->len); i++)
    {
      const NappeItem *item = nappe_rule_item (context, NAPPE_PIECE (run->pdata[i])->item);
      if (item != NULL && g_strcmp0 (item->valve_kind, "check") == 0)
        return TRUE;
    }
  return FALSE;
}

/* Where a piece stands in the trunk of a line; G_MAXUINT: not there. */
static guint
place_of (const NappeReturnLine *line, const char *piece)
{
  for (guint i = 0; i < line->run->len; i++)
    if (*piece != '\0' && g_str_equal (nappe_rule_id (line->run->pdata[i]), piece))
      return i;
  return G_MAXUINT;
}

static void
report_backflow (NappeRuleContext *context, const NappeReturnLine *line, const NappeReturnLine *other, gboolean guarded)
{
  const char *id = nappe_rule_id (line);

  if (guarded)
    {
      NappeFinding *fine = nappe_rule_fine (context, id, 1, 1, NAPPE_QUANTITY_COUNT);
      /* Translators: %s is a return line. */
      nappe_finding_say (fine, _("A check valve stands in %s before it meets the other line."), nappe_rule_name (context, id));
      return;
    }
  NappeFinding *finding = nappe_rule_find (context, NAPPE_SEVERITY_ADVICE, _("Water can run back through a pump"), id);
  nappe_finding_measure (finding, 0, 1, NAPPE_QUANTITY_COUNT);
  /* Translators: return line, the other return line, the first again. */
  nappe_finding_say (finding,
                     _("%s and %s join into one pipe. When the pump of the first stops, the other one pushes its water back "
                       "down through it into the sump instead of up to the display."),
                     nappe_rule_name (context, id), nappe_rule_name (context, nappe_rule_id (other)));
  /* Translators: %s is a return line. */
  nappe_finding_cure (finding, _("Put a check valve into %s before the place where they meet, with a union to clean it; or "
                                 "give each pump its own way up."),
                      nappe_rule_name (context, id));
}

/* Lines of two pumps that meet have a check valve each before they do. */
void
nappe_rule_pump_backflow (NappeRuleContext *context)
{
  GPtrArray *lines = context->build->returns;
  guint meetings = 0, side_by_side = 0;

  for (guint i = 0; i < lines->len; i++)
    {
      const NappeReturnLine *joining = lines->pdata[i];
      side_by_side += NAPPE_PUMP (joining->pump)->count > 1;
      for (guint j = 0; j < lines->len; j++)
        for (guint o = 0; o < joining->outlets->len && j != i; o++)
          {
            const NappeOutlet *outlet = joining->outlets->pdata[o];
            guint tee = place_of (lines->pdata[j], outlet->into);
            if (tee == G_MAXUINT)
              continue;
            meetings++;
            report_backflow (context, joining, lines->pdata[j],
                             has_check_valve (context, joining->run, G_MAXUINT)
                                 || has_check_valve (context, outlet->run, G_MAXUINT));
            report_backflow (context, lines->pdata[j], joining,
                             has_check_valve (context, NAPPE_RETURN_LINE (lines->pdata[j])->run, tee));
          }
    }
  if (side_by_side > 0)
    nappe_rule_not_checked (context, _("Not checked: whether pumps side by side in one line have a check valve each is not "
                                       "known."));
  else if (meetings == 0)
    nappe_rule_not_checked (context, _("Does not apply: no two lines with pumps meet."));
}
