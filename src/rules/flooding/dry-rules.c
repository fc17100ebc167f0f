/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Heaters and probes have to stay under water, whatever the level does. */
#include "rules/rule-list.h"

#include "study/open-water.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* When the level stands lowest. */
typedef enum
{
  LOW_RUNNING,
  LOW_PUMPED, /* the pump has emptied the chamber until it draws air: nothing topped up, or a drain blocked */
  LOW_POWER_CUT,
  LOW_N
} Low;

/* Level of a vessel in each of these cases, z [m]; INFINITY: it does not apply. */
static void
find_levels (NappeRuleContext *context, guint node, double levels[LOW_N])
{
  const NappeStudy *study = context->study;
  const NappePowerCut *cuts[] = { &study->cut_check_failed, &study->cut_check_holds, &study->cut_break_blocked };

  levels[LOW_RUNNING] = study->running.level[node];
  levels[LOW_PUMPED] = levels[LOW_POWER_CUT] = INFINITY;
  if (node == context->network->return_chamber)
    {
      double to_air = nappe_open_water_depth_to_air (study);
      levels[LOW_PUMPED] = isfinite (to_air) ? levels[LOW_RUNNING] - to_air : INFINITY;
    }
  for (gsize i = 0; i < G_N_ELEMENTS (cuts); i++)
    if (cuts[i]->known)
      levels[LOW_POWER_CUT] = fmin (levels[LOW_POWER_CUT], cuts[i]->state.level[node]);
}

/* Water that a thing needs over its foot [m]; NaN: not known. */
static double
depth_needed (NappeRuleContext *context, const NappeEquipment *part)
{
  const NappeItem *item = nappe_rule_item (context, part->item);

  if (nappe_is_given (part->depth_min))
    return part->depth_min;
  if (item != NULL && item->depth_min > 0)
    return item->depth_min;
  if (part->kind == NAPPE_EQUIPMENT_PROBE)
    return nappe_rule_limit (context, NAPPE_LIMIT_PROBE_COVER);
  return nappe_is_given (part->height) ? part->height : item != NULL && item->height > 0 ? item->height : NAN;
}

/* Whether a chamber would keep a thing with its foot on the floor under water in every case. */
static gboolean
keeps_wet (NappeRuleContext *context, const NappeChamber *chamber, double needed)
{
  const NappeNode *node = nappe_rule_node (context, nappe_rule_id (chamber));
  double levels[LOW_N], lowest = INFINITY;

  if (node == NULL || chamber->role == NAPPE_CHAMBER_RESERVOIR || chamber->role == NAPPE_CHAMBER_BUBBLE_TRAP
      || chamber->role == NAPPE_CHAMBER_RETURN)
    return FALSE;
  find_levels (context, (guint)(node - context->network->nodes), levels);
  for (int i = 0; i < LOW_N; i++)
    lowest = fmin (lowest, levels[i]);
  return lowest - node->floor >= needed;
}

/* Lower, if that is enough, else into a chamber whose level stays. */
static void
cure_dry (NappeRuleContext *context, NappeFinding *finding, const NappeEquipment *part, double needed, double short_by)
{
  const NappeSump *sump = NAPPE_BUILD_SUMP (context->build);
  const char *id = nappe_rule_id (part), *goal = NULL;
  NappeLever *lever = nappe_lever_new_choice (id, "where");

  for (guint i = 0; i < sump->chambers->len; i++)
    if (keeps_wet (context, sump->chambers->pdata[i], needed + part->base_height)
        && !g_str_equal (nappe_rule_id (sump->chambers->pdata[i]), part->where))
      {
        goal = goal != NULL ? goal : nappe_rule_id (sump->chambers->pdata[i]);
        nappe_lever_add_choice (lever, nappe_rule_id (sump->chambers->pdata[i]));
      }
  if (part->base_height >= short_by)
    {
      /* Translators: %s is a height. */
      nappe_finding_cure (finding, _("Set it %s lower."), NAPPE_SAY_LENGTH (context, ceil (1e3 * short_by) / 1e3));
      nappe_finding_offer (finding, nappe_lever_new_number (id, "base_height", 0, part->base_height));
    }
  if (goal != NULL)
    {
      /* Translators: %s is a chamber. */
      nappe_finding_cure (finding, _("Put it into %s, whose level a baffle holds."), nappe_rule_name (context, goal));
      nappe_finding_offer (finding, lever);
      return;
    }
  nappe_lever_free (lever);
  if (part->base_height < short_by)
    nappe_finding_cure (finding, _("Lay it flat on the floor, choose a shorter one, or raise the baffle that holds this "
                                    "chamber’s water."));
}

static void
say_when_low (NappeRuleContext *context, NappeFinding *finding, int low, double depth, double needed)
{
  const char *there = NAPPE_SAY_LENGTH (context, fmax (0, depth)), *wanted = NAPPE_SAY_LENGTH (context, needed);

  if (low == LOW_RUNNING)
    /* Translators: two depths. */
    nappe_finding_say (finding, _("While the pump runs the water stands %s over its foot; it needs %s."), there, wanted);
  else if (low == LOW_PUMPED)
    /* Translators: two depths. */
    nappe_finding_say (finding,
                       _("When nothing is topped up, or a drain blocks, the pump empties this chamber until the water "
                         "stands %s over its foot; it needs %s."),
                       there, wanted);
  else
    /* Translators: two depths. */
    nappe_finding_say (finding, _("In a power cut the water falls until it stands %s over its foot; it needs %s."), there,
                       wanted);
}

static void
report_dry (NappeRuleContext *context, const NappeEquipment *part, int low, double depth, double needed)
{
  gboolean heater = part->kind == NAPPE_EQUIPMENT_HEATER, dry = !(depth >= needed);
  const char *id = nappe_rule_id (part);
  NappeSeverity severity = heater && low != LOW_POWER_CUT ? NAPPE_SEVERITY_DANGER : NAPPE_SEVERITY_PROBLEM;
  NappeFinding *finding = dry ? nappe_rule_find (context, severity,
                                                 heater ? _("Heater can stand dry") : _("Probe can stand dry"), id)
                              : nappe_rule_fine (context, id, depth, needed, NAPPE_QUANTITY_LENGTH);

  nappe_finding_measure (finding, depth, needed, NAPPE_QUANTITY_LENGTH);
  /* Translators: %s is a heater or a probe; a sentence about the water over it follows. */
  nappe_finding_say (finding, dry ? _("%s can stand dry.") : _("%s stays under water."), nappe_rule_name (context, id));
  say_when_low (context, finding, low, depth, needed);
  nappe_finding_formula (finding, _("lowest level of the vessel − its floor − height of the foot"));
  nappe_finding_input (finding, "", _("foot over the floor"), part->base_height, NAPPE_QUANTITY_LENGTH);
  nappe_finding_input (finding, "", _("water over the foot"), depth, NAPPE_QUANTITY_LENGTH);
  if (!dry)
    return;
  if (heater && low == LOW_POWER_CUT)
    nappe_finding_say (finding, _("When the power comes back it heats in air until the water is there again, which can "
                                   "crack its glass."));
  else if (heater)
    nappe_finding_say (finding, _("A heater that is on in air glows: its glass cracks and puts mains into the water, or "
                                   "it sets fire to what is near."));
  else
    nappe_finding_say (finding, _("A probe in air reads nonsense, and what it steers doses or heats by it; dried out, it "
                                   "is spoilt."));
  cure_dry (context, finding, part, needed, needed - depth);
}

/* One heater or probe. */
static void
check_dry (NappeRuleContext *context, const NappeEquipment *part)
{
  const char *name = nappe_rule_name (context, nappe_rule_id (part));
  const NappeNode *node = nappe_rule_node (context, part->where);
  double levels[LOW_N], needed = depth_needed (context, part);
  int low = LOW_RUNNING;

  if (node == NULL)
    {
      /* Translators: %s is a heater or a probe. */
      nappe_rule_not_checked (context, nappe_rule_text (context, _("Not checked: %s stands in no vessel."), name));
      return;
    }
  if (isnan (needed) || node->floor + part->base_height >= node->rim)
    {
      /* Translators: %s is a heater or a probe. */
      nappe_rule_not_checked (
          context, nappe_rule_text (context, _("Not checked: how deep %s has to stand in water is not known."), name));
      return;
    }
  find_levels (context, (guint)(node - context->network->nodes), levels);
  double foot = node->floor + part->base_height;
  /* The first case in which it is dry says most; else the lowest. */
  for (int i = 0; i < LOW_N && levels[low] - foot >= needed; i++)
    if (levels[i] < levels[low])
      low = i;
  report_dry (context, part, low, levels[low] - foot, needed);
}

static void
check_kind (NappeRuleContext *context, int kind, const char *none)
{
  GPtrArray *equipment = context->build->equipment;
  guint found = 0;

  for (guint i = 0; i < equipment->len; i++)
    found += NAPPE_EQUIPMENT (equipment->pdata[i])->kind == kind;
  if (found == 0)
    nappe_rule_not_checked (context, none);
  if (found == 0 || !nappe_rule_needs_running (context))
    return;
  for (guint i = 0; i < equipment->len; i++)
    if (NAPPE_EQUIPMENT (equipment->pdata[i])->kind == kind)
      check_dry (context, equipment->pdata[i]);
}

/* A heater must never be on in air. */
void
nappe_rule_heater_dry (NappeRuleContext *context)
{
  check_kind (context, NAPPE_EQUIPMENT_HEATER, _("Does not apply: the build has no heater."));
}

/* A probe must never hang in air. */
void
nappe_rule_probe_dry (NappeRuleContext *context)
{
  check_kind (context, NAPPE_EQUIPMENT_PROBE, _("Does not apply: the build has no probe."));
}
