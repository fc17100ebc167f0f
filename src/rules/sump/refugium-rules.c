/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A refugium: fed, slow, throttled by a valve of its own, lit, and wet in a power cut. In the sump or beside the tank. */
#include "rules/rule-levers.h"
#include "rules/rule-list.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* The ids of all refugia that are vessels of the network. Transfer container. */
static GPtrArray *
refugia (NappeRuleContext *context)
{
  GPtrArray *ids = g_ptr_array_new ();
  const NappeSump *sump = NAPPE_BUILD_SUMP (context->build);
  GPtrArray *vessels = context->build->vessels;

  for (guint i = 0; i < sump->chambers->len; i++)
    if (NAPPE_CHAMBER (sump->chambers->pdata[i])->role == NAPPE_CHAMBER_REFUGIUM)
      g_ptr_array_add (ids, (gpointer)nappe_rule_id (sump->chambers->pdata[i]));
  for (guint i = 0; i < vessels->len; i++)
    if (NAPPE_SIDE_VESSEL (vessels->pdata[i])->role == NAPPE_VESSEL_REFUGIUM)
      g_ptr_array_add (ids, (gpointer)nappe_rule_id (vessels->pdata[i]));
  for (guint i = ids->len; i > 0; i--)
    if (nappe_rule_node (context, ids->pdata[i - 1]) == NULL)
      g_ptr_array_remove_index (ids, i - 1);
  if (ids->len == 0)
    nappe_rule_not_checked (context, _("Does not apply: the build has no refugium."));
  return ids;
}

/* All that flows into a vessel while running [m3/s]. */
static double
flow_into (NappeRuleContext *context, guint node)
{
  const NappeNetwork *network = context->network;
  double sum = 0;

  for (guint i = 0; i < network->n_links; i++)
    {
      double flow = context->study->running.flow[i];
      if (network->links[i].to == node)
        sum += fmax (0, flow);
      if (network->links[i].from == node)
        sum += fmax (0, -flow);
    }
  return sum;
}

typedef void (*VisitFeed) (NappeRuleContext *context, const NappeOutlet *outlet, NappePart *line, const char *refugium,
                           gpointer data);

/* Every outlet of a drain or a return line that ends in a refugium. */
static void
visit_feeds (NappeRuleContext *context, const char *refugium, VisitFeed visit, gpointer data)
{
  GPtrArray *lists[] = { context->build->drains, context->build->returns };

  for (gsize list = 0; list < G_N_ELEMENTS (lists); list++)
    for (guint i = 0; i < lists[list]->len; i++)
      {
        NappePart *line = lists[list]->pdata[i];
        GPtrArray *outlets = list == 0 ? NAPPE_DRAIN (line)->outlets : NAPPE_RETURN_LINE (line)->outlets;
        for (guint j = 0; j < outlets->len; j++)
          if (g_str_equal (NAPPE_OUTLET (outlets->pdata[j])->into, refugium))
            visit (context, outlets->pdata[j], line, refugium, data);
      }
}

/* The valve of a branch, or of a whole line that ends in the refugium. NULL: none. */
static NappePiece *
feed_valve (NappeRuleContext *context, const NappeOutlet *outlet, NappePart *line)
{
  NappePiece *valve = nappe_rule_valve_in_run (context, outlet->run);

  if (valve == NULL && *outlet->tee == '\0')
    valve = nappe_rule_valve_in_run (context, NAPPE_IS_DRAIN (line) ? NAPPE_DRAIN (line)->run : NAPPE_RETURN_LINE (line)->run);
  return valve;
}

static void
offer_valve (NappeRuleContext *context, const NappeOutlet *outlet, NappePart *line, const char *refugium, gpointer data)
{
  NappePiece *valve = feed_valve (context, outlet, line);

  if (valve != NULL)
    nappe_finding_offer (data, nappe_lever_new_number (nappe_rule_id (valve), "opening", 0, 1));
}

static void
report_flow (NappeRuleContext *context, const char *id, double flow, double turnover)
{
  double most = nappe_rule_limit (context, NAPPE_LIMIT_REFUGIUM_TURNOVER);
  const char *name = nappe_rule_name (context, id);
  gboolean starved = !(flow > nappe_rule_limit (context, NAPPE_LIMIT_TRICKLE)), fast = !starved && turnover > most;
  NappeFinding *finding = starved ? nappe_rule_find (context, NAPPE_SEVERITY_PROBLEM, _("Refugium gets no water"), id)
                          : fast  ? nappe_rule_find (context, NAPPE_SEVERITY_ADVICE, _("Refugium runs too fast"), id)
                                  : nappe_rule_fine (context, id, turnover, most, NAPPE_QUANTITY_RATE);

  nappe_finding_measure (finding, turnover, most, NAPPE_QUANTITY_RATE);
  if (starved)
    /* Translators: %s is a refugium. */
    nappe_finding_say (finding, _("No water flows into %s. What lives there goes without oxygen and food, and rots."), name);
  else
    /* Translators: refugium, flow, how often in an hour the water changes, and how often at most. */
    nappe_finding_say (finding, _("%s gets %s, which changes its water %s; up to %s is usual."), name,
                       NAPPE_SAY_FLOW (context, flow), nappe_rule_number (context, NAPPE_QUANTITY_RATE, turnover),
                       nappe_rule_number (context, NAPPE_QUANTITY_RATE, most));
  nappe_finding_formula (finding, _("all that flows into the refugium / its volume of water"));
  nappe_finding_input (finding, "", _("flow into it"), flow, NAPPE_QUANTITY_FLOW);
  if (fast)
    nappe_finding_say (finding, _("So fast a stream tears weed loose and leaves small life no calm."));
  if (starved)
    nappe_finding_cure (finding, _("Feed it by a tee with a valve in a drain or in the return line, and open the valve."));
  if (fast)
    /* Translators: %s is a flow. */
    nappe_finding_cure (finding, _("Throttle its feed to %s, or let the main stream pass beside it."),
                        NAPPE_SAY_FLOW (context, flow * most / turnover));
  if (starved || fast)
    visit_feeds (context, id, offer_valve, finding);
}

/* A refugium gets water, and not too much. */
void
nappe_rule_refugium_flow (NappeRuleContext *context)
{
  g_autoptr (GPtrArray) ids = refugia (context);

  if (ids->len == 0 || !nappe_rule_needs_running (context))
    return;
  for (guint i = 0; i < ids->len; i++)
    {
      const NappeNode *node = nappe_rule_node (context, ids->pdata[i]);
      guint index = (guint)(node - context->network->nodes);
      double flow = flow_into (context, index), volume = nappe_node_volume (node, context->study->running.level[index]);
      report_flow (context, ids->pdata[i], flow, volume > 0 ? flow / volume : 0);
    }
}

static void
report_feed (NappeRuleContext *context, const NappeOutlet *outlet, NappePart *line, const char *refugium, gpointer data)
{
  const char *id = nappe_rule_id (outlet), *name = nappe_rule_name (context, refugium);
  guint *checked = data;

  (*checked)++;
  NappePiece *valve = feed_valve (context, outlet, line);
  /* A pump of its own is a means to set the flow. */
  gboolean set = valve != NULL || (NAPPE_IS_RETURN_LINE (line) && NAPPE_RETURN_LINE (line)->outlets->len == 1);
  NappeFinding *finding
      = set ? nappe_rule_fine (context, id, 1, 1, NAPPE_QUANTITY_COUNT)
            : nappe_rule_find (context, NAPPE_SEVERITY_ADVICE, _("No valve in the refugium’s feed"), id);

  nappe_finding_measure (finding, set ? 1 : 0, 1, NAPPE_QUANTITY_COUNT);
  if (set)
    {
      /* Translators: %s is a refugium. */
      nappe_finding_say (finding, _("What %s gets can be set."), name);
      return;
    }
  /* Translators: %s is a refugium. */
  nappe_finding_say (finding, _("No valve stands in the branch that feeds %s. What it gets follows from the pipes alone, "
                                 "changes whenever the main line is tuned, and cannot be shut off for work."),
                     name);
  nappe_finding_cure (finding, _("Put a gate valve into the branch behind its tee."));
}

/* The flow into a refugium can be set by a valve of its own. */
void
nappe_rule_refugium_valve (NappeRuleContext *context)
{
  g_autoptr (GPtrArray) ids = refugia (context);
  guint checked = 0;

  for (guint i = 0; i < ids->len; i++)
    visit_feeds (context, ids->pdata[i], report_feed, &checked);
  if (ids->len > 0 && checked == 0)
    nappe_rule_not_checked (context, _("Does not apply: no pipe ends in a refugium."));
}

/* A refugium without a light grows nothing. */
void
nappe_rule_refugium_light (NappeRuleContext *context)
{
  g_autoptr (GPtrArray) ids = refugia (context);

  for (guint i = 0; i < ids->len; i++)
    {
      const char *id = ids->pdata[i], *name = nappe_rule_name (context, id);
      guint lights = 0;
      for (guint j = 0; j < context->build->equipment->len; j++)
        {
          const NappeEquipment *part = context->build->equipment->pdata[j];
          lights += part->kind == NAPPE_EQUIPMENT_LIGHT && g_str_equal (part->where, id);
        }
      NappeFinding *finding = lights > 0
                                  ? nappe_rule_fine (context, id, lights, 1, NAPPE_QUANTITY_COUNT)
                                  : nappe_rule_find (context, NAPPE_SEVERITY_ADVICE, _("Refugium without a light"), id);
      nappe_finding_measure (finding, lights, 1, NAPPE_QUANTITY_COUNT);
      if (lights > 0)
        {
          /* Translators: %s is a refugium. */
          nappe_finding_say (finding, _("%s has a light."), name);
          continue;
        }
      /* Translators: %s is a refugium. */
      nappe_finding_say (finding, _("No light hangs over %s. Weed needs one to grow and to take nitrate and phosphate out "
                                     "of the water."),
                         name);
      nappe_finding_cure (finding, _("Hang a light over it, lit while the tank’s is off; it counts in power and heat, too."));
    }
}

static void
report_power_cut (NappeRuleContext *context, const char *id, double depth, double before)
{
  double share = nappe_rule_limit (context, NAPPE_LIMIT_REFUGIUM_WET), least = share * before;
  const char *name = nappe_rule_name (context, id);
  gboolean dry = !(depth >= least);
  NappeFinding *finding
      = dry ? nappe_rule_find (context, NAPPE_SEVERITY_PROBLEM, _("Refugium runs dry in a power cut"), id)
            : nappe_rule_fine (context, id, depth, least, NAPPE_QUANTITY_LENGTH);

  nappe_finding_measure (finding, depth, least, NAPPE_QUANTITY_LENGTH);
  /* Translators: refugium, depth running, depth after a power cut. */
  nappe_finding_say (finding, _("The water in %s stands %s deep while the pump runs and %s after a power cut."), name,
                     NAPPE_SAY_LENGTH (context, before), NAPPE_SAY_LENGTH (context, depth));
  nappe_finding_formula (finding, _("lowest depth at rest after a power cut, against a share of the running depth"));
  nappe_finding_input (finding, "", _("depth while running"), before, NAPPE_QUANTITY_LENGTH);
  nappe_finding_input (finding, "", _("share that has to stay"), share, NAPPE_QUANTITY_SHARE);
  if (!dry)
    return;
  nappe_finding_say (finding, _("What lives above that dries out and fouls the water that comes back with the power."));
  /* Translators: %s is a depth. */
  nappe_finding_cure (finding, _("Seal the wall that holds its water up to %s, or put a siphon-break hole into its feed, "
                                  "so that it keeps its water when the pump stops."),
                      NAPPE_SAY_LENGTH (context, least));
}

/* A refugium keeps its water in a power cut. */
void
nappe_rule_refugium_dries (NappeRuleContext *context)
{
  const NappeStudy *study = context->study;
  const NappePowerCut *cuts[] = { &study->cut_check_failed, &study->cut_check_holds, &study->cut_break_blocked };
  g_autoptr (GPtrArray) ids = refugia (context);

  if (ids->len == 0 || !nappe_rule_needs_running (context))
    return;
  for (guint i = 0; i < ids->len; i++)
    {
      const NappeNode *node = nappe_rule_node (context, ids->pdata[i]);
      guint index = (guint)(node - context->network->nodes);
      double lowest = INFINITY;
      for (gsize j = 0; j < G_N_ELEMENTS (cuts); j++)
        if (cuts[j]->known)
          lowest = fmin (lowest, cuts[j]->state.level[index]);
      if (isfinite (lowest))
        report_power_cut (context, ids->pdata[i], fmax (0, lowest - node->floor), study->running.level[index] - node->floor);
      else
        nappe_rule_not_checked (context, _("Not checked: no rest after a power cut was found."));
    }
}
