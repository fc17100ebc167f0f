/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Equipment in the sump: the water depth that a protein skimmer works in. */
#include "rules/rule-list.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* The water depth that equipment works in: its own, else its catalogue item's. FALSE: neither says. */
static gboolean
depth_range (NappeRuleContext *context, const NappeEquipment *equipment, double *least, double *most)
{
  const NappeItem *item = nappe_rule_item (context, equipment->item);

  *least = equipment->depth_min;
  *most = equipment->depth_max;
  if (isnan (*least) && item != NULL && item->depth_max > 0)
    *least = item->depth_min;
  if (isnan (*most) && item != NULL && item->depth_max > 0)
    *most = item->depth_max;
  return *least <= *most; /* not when either is not known */
}

/* The baffle whose top holds the level of a chamber: the first one without a gap on the way to the
 * return chamber. NULL: none, the level is the one kept there. */
static NappeBaffle *
holding_baffle (NappeRuleContext *context, const char *chamber_id)
{
  const NappeSump *sump = NAPPE_BUILD_SUMP (context->build);
  gint chamber = -1, goal = -1;

  for (guint i = 0; i < sump->chambers->len; i++)
    {
      NappeChamber *part = sump->chambers->pdata[i];
      if (g_str_equal (nappe_rule_id (part), chamber_id))
        chamber = (gint)i;
      if (part->role == NAPPE_CHAMBER_RETURN && goal < 0)
        goal = (gint)i;
    }
  if (chamber < 0 || goal < 0)
    return NULL;
  gint step = goal > chamber ? 1 : -1;
  for (gint i = chamber; i != goal; i += step)
    {
      guint index = (guint)(step > 0 ? i : i - 1);
      NappeBaffle *baffle = index < sump->baffles->len ? sump->baffles->pdata[index] : NULL;
      if (baffle != NULL && baffle->gap_height <= 0)
        return baffle;
    }
  return NULL;
}

static void
cure_depth (NappeRuleContext *context, NappeFinding *finding, const NappeBaffle *baffle, double shift)
{
  if (baffle != NULL && nappe_is_given (baffle->lowest_top) && nappe_is_given (baffle->highest_top))
    {
      double top = baffle->top_height + shift;
      if (top >= baffle->lowest_top && top <= baffle->highest_top)
        {
          /* Translators: baffle, height over the sump's floor. */
          nappe_finding_cure (finding, _("Set %s so that its top is %s over the floor of the sump."),
                              nappe_rule_name (context, nappe_rule_id (baffle)), NAPPE_SAY_LENGTH (context, top));
          return;
        }
      nappe_finding_say (finding, _("No setting of the adjustable baffle cures it."));
    }
  if (shift < 0)
    /* Translators: %s is a height. */
    nappe_finding_cure (finding, _("Put a stand of %s under it."), NAPPE_SAY_LENGTH (context, -shift));
  else
    /* Translators: %s is a height. */
    nappe_finding_cure (finding,
                        _("Raise the baffle that holds this chamber’s water by %s, or set the skimmer lower."),
                        NAPPE_SAY_LENGTH (context, shift));
}

/* The adjustable baffle over its range, and the height of the skimmer's foot. */
static void
offer_depth (NappeFinding *finding, const NappeEquipment *skimmer, const NappeBaffle *baffle, double shift)
{
  const char *id = nappe_rule_id (skimmer);

  if (baffle != NULL && baffle->lowest_top < baffle->highest_top && baffle->top_height >= baffle->lowest_top
      && baffle->top_height <= baffle->highest_top)
    nappe_finding_offer (finding, nappe_lever_new_number (nappe_rule_id (baffle), "top_height", baffle->lowest_top,
                                                          baffle->highest_top));
  if (shift < 0)
    nappe_finding_offer (finding, nappe_lever_new_number (id, "base_height", skimmer->base_height,
                                                          skimmer->base_height - 2 * shift));
  else if (skimmer->base_height > 0)
    nappe_finding_offer (finding, nappe_lever_new_number (id, "base_height", 0, skimmer->base_height));
}

static gboolean
can_be_set (const NappeBaffle *baffle, double shift)
{
  return baffle != NULL && baffle->top_height + shift >= baffle->lowest_top
         && baffle->top_height + shift <= baffle->highest_top;
}

static void
report_depth (NappeRuleContext *context, const NappeEquipment *skimmer, double depth, double least, double most)
{
  const char *id = nappe_rule_id (skimmer);
  gboolean shallow = !(depth >= least);
  gboolean deep = depth > most;
  double shift = shallow ? least - depth : deep ? most - depth : 0;
  const NappeBaffle *baffle = holding_baffle (context, skimmer->where);
  NappeFinding *finding
      = shallow || deep
            ? nappe_rule_find (context, can_be_set (baffle, shift) ? NAPPE_SEVERITY_ADVICE : NAPPE_SEVERITY_PROBLEM,
                               shallow ? _("Skimmer stands too shallow") : _("Skimmer stands too deep"), id)
            : nappe_rule_fine (context, id, depth, most, NAPPE_QUANTITY_LENGTH);

  nappe_finding_measure (finding, depth, shallow ? least : most, NAPPE_QUANTITY_LENGTH);
  /* Translators: skimmer, then three depths. */
  nappe_finding_say (finding, _("%s stands in %s of water; it works in %s to %s."), nappe_rule_name (context, id),
                     NAPPE_SAY_LENGTH (context, fmax (0, depth)), NAPPE_SAY_LENGTH (context, least),
                     NAPPE_SAY_LENGTH (context, most));
  nappe_finding_formula (finding, _("level of the chamber − foot of the skimmer"));
  nappe_finding_input (finding, "", _("foot over the chamber’s floor"), skimmer->base_height, NAPPE_QUANTITY_LENGTH);
  nappe_finding_input (finding, "", _("water over the foot"), depth, NAPPE_QUANTITY_LENGTH);
  if (!shallow && !deep)
    return;
  if (shallow)
    nappe_finding_say (finding, _("So shallow its pump draws air and foam stays low in the neck: it skims little."));
  else
    nappe_finding_say (finding, _("So deep its foam rises wet and the cup fills with water, or runs over."));
  cure_depth (context, finding, baffle, shift);
  offer_depth (finding, skimmer, baffle, shift);
}

/* Each protein skimmer's water depth while running against the range it works in. */
void
nappe_rule_skimmer_depth (NappeRuleContext *context)
{
  GPtrArray *equipment = context->build->equipment;
  guint found = 0;

  if (!nappe_rule_needs_running (context))
    return;
  for (guint i = 0; i < equipment->len; i++)
    {
      const NappeEquipment *skimmer = equipment->pdata[i];
      const NappeNode *node = nappe_rule_node (context, skimmer->where);
      double least, most;

      if (skimmer->kind != NAPPE_EQUIPMENT_SKIMMER)
        continue;
      found++;
      const char *name = nappe_rule_name (context, nappe_rule_id (skimmer));
      if (node == NULL)
        /* Translators: %s is a skimmer. */
        nappe_rule_not_checked (context, nappe_rule_text (context, _("Not checked: %s stands in no vessel."), name));
      else if (!depth_range (context, skimmer, &least, &most))
        /* Translators: %s is a skimmer. */
        nappe_rule_not_checked (
            context,
            nappe_rule_text (context, _("Not checked: the water depth that %s works in is not known."), name));
      else
        {
          double level = context->study->running.level[node - context->network->nodes];
          report_depth (context, skimmer, level - node->floor - skimmer->base_height, least, most);
        }
    }
  if (found == 0)
    nappe_rule_not_checked (context, _("Does not apply: the build has no protein skimmer."));
}
