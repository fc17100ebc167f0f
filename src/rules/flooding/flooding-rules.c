/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where the water goes when the power fails, and whether any runs over a rim while all is well. */
#include "rules/flooding/flood-levers.h"
#include "rules/rule-levers.h"
#include "rules/rule-list.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* A chamber whose level rises by less than this took up nothing [m]. */
#define RISE_LEAST 0.001
/* Less than this is not worth a line of the working [m3]. */
#define LEDGER_LEAST 5e-5

static gboolean
spills (NappeRuleContext *context, const NappePowerCut *cut)
{
  return !(cut->state.spilled <= nappe_rule_limit (context, NAPPE_LIMIT_SPILL));
}

/* The chamber that is left with the least freeboard among those that took up water; NULL: none did.
 * A reservoir that is kept full to the brim is none of the power cut's business. */
static const NappeNode *
fullest_chamber (NappeRuleContext *context, const NappePowerCut *cut, double *margin)
{
  const NappeNetwork *network = context->network;
  const NappeNode *fullest = NULL;

  *margin = INFINITY;
  for (guint i = 0; i < network->n_nodes; i++)
    {
      const NappeNode *node = &network->nodes[i];
      double level = cut->state.level[i];
      if (node->kind != NAPPE_NODE_CHAMBER || level < context->study->running.level[i] + RISE_LEAST
          || node->rim - level >= *margin)
        continue;
      fullest = node;
      *margin = node->rim - level;
    }
  return fullest;
}

/* Plan area of what the water that runs down can spread over [m2]. */
static double
sump_area (NappeRuleContext *context)
{
  double area = 0;
  for (guint i = 0; i < context->network->n_nodes; i++)
    if (context->network->nodes[i].kind == NAPPE_NODE_CHAMBER
        && context->network->nodes[i].chamber_role != NAPPE_CHAMBER_RESERVOIR)
      area += context->network->nodes[i].area;
  return area;
}

static const char *
ledger_label (NappeRuleContext *context, const NappeLedgerLine *line)
{
  const char *name = nappe_rule_name (context, line->id);
  switch (line->kind)
    {
    case NAPPE_LEDGER_DISPLAY:
      return _("out of the display");
    case NAPPE_LEDGER_BOX:
      /* Translators: a line of a list of where water comes from; %s is an overflow box. */
      return nappe_rule_text (context, _("out of the overflow box %s"), name);
    case NAPPE_LEDGER_DRAIN_PIPES:
      /* Translators: a line of a list of where water comes from; %s is a drain. */
      return nappe_rule_text (context, _("out of the pipes of %s"), name);
    case NAPPE_LEDGER_RETURN_PIPES:
      /* Translators: a line of a list of where water comes from; %s is a return line. */
      return nappe_rule_text (context, _("out of the pipes of %s"), name);
    case NAPPE_LEDGER_VESSEL:
      /* Translators: a line of a list of where water comes from; %s is a vessel beside the tank or sump. */
      return nappe_rule_text (context, _("out of %s"), name);
    case NAPPE_LEDGER_CHAMBER:
    default:
      /* Translators: a line of a list of where water comes from; %s is a chamber of the sump. */
      return nappe_rule_text (context, _("out of the chamber %s"), name);
    }
}

/* What all lines that speak of the same thing as a line add up to; 0 when an earlier one spoke of it [m3]. */
static double
ledger_sum (const NappePowerCut *cut, guint first)
{
  double sum = 0;
  for (guint i = 0; i < cut->n_ledger; i++)
    if (cut->ledger[i].kind == cut->ledger[first].kind && g_str_equal (cut->ledger[i].id, cut->ledger[first].id))
      {
        if (i < first)
          return 0;
        sum += cut->ledger[i].volume;
      }
  return sum;
}

static void
add_cut_working (NappeRuleContext *context, NappeFinding *finding, const NappePowerCut *cut)
{
  nappe_finding_formula (finding, _("what runs down, against the room above the running levels"));
  for (guint i = 0; i < cut->n_ledger; i++)
    {
      double volume = ledger_sum (cut, i);
      if (volume >= LEDGER_LEAST)
        nappe_finding_input (finding, "", ledger_label (context, &cut->ledger[i]), volume, NAPPE_QUANTITY_VOLUME);
    }
  nappe_finding_input (finding, "", _("runs down into the sump in all"), cut->run_back, NAPPE_QUANTITY_VOLUME);
  nappe_finding_input (finding, "", _("room in the sump above its running levels"), cut->sump_free,
                       NAPPE_QUANTITY_VOLUME);
  nappe_finding_input (finding, "", _("on the floor"), cut->state.spilled, NAPPE_QUANTITY_VOLUME);
}

/* How to find room for a volume [m3] more. */
static void
cure_lack_of_room (NappeRuleContext *context, NappeFinding *finding, double lack)
{
  const NappeStudy *study = context->study;
  guint chamber = context->network->return_chamber;

  nappe_levers_fit_power_cut (context, finding);
  nappe_finding_cure (finding,
                      /* Translators: %s is a volume, then a height. */
                      _("Find room for another %s (with it %s stay free under the rim): a larger sump, return nozzles "
                         "and siphon-break holes nearer the surface, or lower running levels."),
                      nappe_rule_at_least (context, NAPPE_QUANTITY_VOLUME, lack),
                      NAPPE_SAY_LENGTH (context, context->targets->sump_freeboard));
  if (chamber >= context->network->n_nodes || context->network->nodes[chamber].area <= 0 || study->n_pumps == 0)
    return;
  double lower = lack / context->network->nodes[chamber].area;
  /* More than half of the water over its inlet is not the pump's to lose. */
  if (lower < 0.5 * study->pumps[0].submergence)
    /* Translators: %s is a chamber, then a height. */
    nappe_finding_cure (finding, _("Keeping %s lower by %s alone gives it."),
                        nappe_rule_name (context, context->network->nodes[chamber].id),
                        nappe_rule_at_least (context, NAPPE_QUANTITY_LENGTH, lower));
}

static void
report_flood (NappeRuleContext *context, const NappePowerCut *cut, const NappeNode *chamber)
{
  const char *down = NAPPE_SAY_VOLUME (context, cut->run_back);
  const char *room = NAPPE_SAY_VOLUME (context, cut->sump_free);
  const char *lost = NAPPE_SAY_VOLUME (context, cut->state.spilled);
  gboolean in_all = chamber == NULL || cut->run_back > cut->sump_free;
  NappeFinding *finding = nappe_rule_find (context, NAPPE_SEVERITY_DANGER, _("Power cut floods"),
                                           in_all ? nappe_rule_id (context->build->sump) : chamber->id);

  nappe_finding_measure (finding, cut->run_back, in_all ? cut->sump_free : cut->run_back - cut->state.spilled,
                         NAPPE_QUANTITY_VOLUME);
  if (in_all)
    /* Translators: three volumes. */
    nappe_finding_say (
        finding, _("In a power cut %s run down; the sump holds %s above its running levels, so %s reach the floor."),
        down, room, lost);
  else
    /* Translators: volume, volume, chamber, volume. */
    nappe_finding_say (finding,
                       _("In a power cut %s run down; the sump as a whole has room for %s, but %s runs over first and "
                          "%s reach the floor."),
                       down, room, nappe_rule_name (context, chamber->id), lost);
  nappe_rule_say_played (context, finding, nappe_rule_course (context, "power-cut"));
  cure_lack_of_room (context, finding, cut->state.spilled + context->targets->sump_freeboard * sump_area (context));
  add_cut_working (context, finding, cut);
}

static void
report_margin (NappeRuleContext *context, const NappePowerCut *cut, const NappeNode *chamber, double margin)
{
  double wanted = context->targets->sump_freeboard;
  gboolean bare = margin < fmin (wanted, nappe_rule_limit (context, NAPPE_LIMIT_BARE_MARGIN));
  NappeFinding *finding = margin >= wanted
                              ? nappe_rule_fine (context, chamber->id, margin, wanted, NAPPE_QUANTITY_LENGTH)
                              : nappe_rule_find (context, bare ? NAPPE_SEVERITY_PROBLEM : NAPPE_SEVERITY_ADVICE,
                                                 _("Little room left after a power cut"), chamber->id);

  nappe_finding_measure (finding, margin, wanted, NAPPE_QUANTITY_LENGTH);
  /* Translators: volume, volume, chamber, height. */
  nappe_finding_say (
      finding,
      _("In a power cut %s run down; the sump holds %s above its running levels. %s then stands %s below the rim."),
      NAPPE_SAY_VOLUME (context, cut->run_back), NAPPE_SAY_VOLUME (context, cut->sump_free),
      nappe_rule_name (context, chamber->id), NAPPE_SAY_LENGTH (context, margin));
  add_cut_working (context, finding, cut);
  if (margin >= wanted)
    return;
  /* Translators: %s is a height. */
  nappe_finding_say (finding, _("You asked for %s."), NAPPE_SAY_LENGTH (context, wanted));
  if (bare)
    nappe_finding_say (finding, _("That is less than such levels are known to: it may spill."));
  cure_lack_of_room (context, finding, (wanted - margin) * sump_area (context));
}

/* After a power cut with the check valve failed: litres that run down against the room in the sump,
 * in all and in each chamber, and the freeboard that is left against the planner's target. */
void
nappe_rule_power_cut_fits (NappeRuleContext *context)
{
  const NappePowerCut *cut = &context->study->cut_check_failed;
  double margin;

  if (!cut->known)
    {
      nappe_rule_not_checked (context, _("Not checked: without a running state there is no power cut to compute."));
      return;
    }
  if (!nappe_rule_needs_dry_floor (context))
    return;
  const NappeNode *chamber = fullest_chamber (context, cut, &margin);
  if (spills (context, cut))
    report_flood (context, cut, chamber);
  else if (chamber != NULL)
    report_margin (context, cut, chamber, margin);
  else
    nappe_finding_say (nappe_rule_fine (context, nappe_rule_id (context->build->sump), cut->run_back, cut->sump_free,
                                        NAPPE_QUANTITY_VOLUME),
                       _("In a power cut no chamber of the sump rises."));
}

/* The first check valve in a run; NULL: none. */
static NappePiece *
check_valve_in_run (NappeRuleContext *context, GPtrArray *run)
{
  for (guint i = 0; i < run->len; i++)
    {
      NappePiece *piece = run->pdata[i];
      const NappeItem *item = nappe_rule_item (context, piece->item);
      if (item != NULL && item->kind == NAPPE_ITEM_VALVE && g_strcmp0 (item->valve_kind, "check") == 0)
        return piece;
    }
  return NULL;
}

/* The first check valve of any return line; NULL: none. */
static NappePiece *
find_check_valve (NappeRuleContext *context)
{
  for (guint i = 0; i < context->build->returns->len; i++)
    {
      NappeReturnLine *line = context->build->returns->pdata[i];
      NappePiece *valve = check_valve_in_run (context, line->run);
      for (guint outlet = 0; valve == NULL && outlet < line->outlets->len; outlet++)
        valve = check_valve_in_run (context, NAPPE_OUTLET (line->outlets->pdata[outlet])->run);
      if (valve != NULL)
        return valve;
    }
  return NULL;
}

/* A check valve sticks sooner or later: a power cut must fit without it. */
void
nappe_rule_check_valve_relied_on (NappeRuleContext *context)
{
  const NappePowerCut *failed = &context->study->cut_check_failed;
  const NappePowerCut *holds = &context->study->cut_check_holds;
  NappePiece *valve = find_check_valve (context);

  if (valve == NULL)
    {
      nappe_rule_not_checked (context, _("Does not apply: no return line has a check valve."));
      return;
    }
  if (!failed->known || !holds->known)
    {
      nappe_rule_not_checked (context, _("Not checked: without a running state there is no power cut to compute."));
      return;
    }
  if (!nappe_rule_needs_dry_floor (context))
    return;
  const char *id = nappe_rule_id (valve);
  const char *name = nappe_rule_name (context, id);
  if (!spills (context, failed) || spills (context, holds))
    {
      NappeFinding *fine
          = nappe_rule_fine (context, id, failed->state.spilled, holds->state.spilled, NAPPE_QUANTITY_VOLUME);
      if (spills (context, holds))
        /* Translators: %s is a check valve. */
        nappe_finding_say (fine, _("A power cut floods the floor whether %s holds or not."), name);
      else
        /* Translators: %s is a check valve. */
        nappe_finding_say (fine, _("A power cut fits in the sump even when %s fails."), name);
      return;
    }
  NappeFinding *finding
      = nappe_rule_find (context, NAPPE_SEVERITY_PROBLEM, _("Floor stays dry only while a check valve holds"), id);
  nappe_finding_measure (finding, failed->state.spilled, 0, NAPPE_QUANTITY_VOLUME);
  /* Translators: check valve, volume. */
  nappe_finding_say (finding,
                     _("With %s holding, a power cut fits in the sump. Sand, growth or a snail will keep it open one "
                        "day, and then %s reach the floor."),
                     name, NAPPE_SAY_VOLUME (context, failed->state.spilled));
  nappe_finding_cure (finding,
                      _("Make the power cut fit without it; keep the valve as a second line of defence only."));
  nappe_levers_fit_power_cut (context, finding);
  nappe_finding_formula (finding, _("on the floor, valve failed against valve holding"));
  nappe_finding_input (finding, "", _("runs down with the valve failed"), failed->run_back, NAPPE_QUANTITY_VOLUME);
  nappe_finding_input (finding, "", _("runs down with the valve holding"), holds->run_back, NAPPE_QUANTITY_VOLUME);
  nappe_finding_input (finding, "", _("room in the sump above its running levels"), failed->sump_free,
                       NAPPE_QUANTITY_VOLUME);
}

/* Water over the edge of anything while the pump runs. */
void
nappe_rule_overflows_running (NappeRuleContext *context)
{
  const NappeNetwork *network = context->network;
  guint found = 0;

  if (!nappe_rule_needs_computed (context))
    return;
  for (guint i = nappe_rule_overflow_link (context, 0); i != G_MAXUINT; i = nappe_rule_overflow_link (context, i + 1))
    {
      const NappeLink *link = &network->links[i];
      double flow = context->study->running.flow[i];
      const NappeNode *vessel = &network->nodes[link->from];
      NappeFinding *finding = nappe_rule_find (context, NAPPE_SEVERITY_DANGER,
                                               _("Water runs over a rim while the pump runs"), vessel->id);
      nappe_finding_measure (finding, flow, nappe_rule_limit (context, NAPPE_LIMIT_TRICKLE), NAPPE_QUANTITY_FLOW);
      /* Translators: vessel, flow. */
      nappe_finding_say (finding, _("With the pump running as drawn, %s runs over its rim: %s reach the floor."),
                         nappe_rule_name (context, vessel->id), NAPPE_SAY_FLOW (context, flow));
      nappe_finding_cure (finding, _("Lower the level that is kept in the return chamber or the baffles, or give the "
                                      "drains more room to carry the flow."));
      nappe_levers_lower_kept_level (context, finding);
      nappe_rule_offer_pumps (context, finding, FALSE);
      if (vessel->kind == NAPPE_NODE_CHAMBER)
        {
          nappe_levers_lower_baffles (context, finding);
          nappe_levers_grow_sump (context, finding);
        }
      else
        nappe_levers_more_room_above (context, finding);
      nappe_finding_formula (finding, _("flow over the rim as a weir"));
      nappe_finding_input (finding, "", _("level over the rim"),
                           context->study->running.level[link->from] - vessel->rim, NAPPE_QUANTITY_LENGTH);
      found++;
    }
  if (found == 0)
    nappe_finding_say (nappe_rule_fine (context, "", 0, nappe_rule_limit (context, NAPPE_LIMIT_TRICKLE), NAPPE_QUANTITY_FLOW),
                       _("While the pump runs, no vessel runs over."));
}
