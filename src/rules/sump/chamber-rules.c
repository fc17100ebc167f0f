/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The way of the water through the sump: order of the chambers, bubble traps, gaps under baffles. */
#include "rules/rule-levers.h"
#include "rules/rule-list.h"

#include "physics/bubble.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* From one vessel into another without a pipe between. */
static gboolean
is_open_way (const NappeLink *link)
{
  return link->kind == NAPPE_LINK_WEIR || link->kind == NAPPE_LINK_GAP || link->kind == NAPPE_LINK_SOCK;
}

/* Where a link's water comes from and goes to while running. FALSE: next to none goes through it. */
static gboolean
running_ends (NappeRuleContext *context, guint link, guint *from, guint *to)
{
  const NappeLink *way = &context->network->links[link];
  double flow = context->study->running.flow[link];

  *from = flow >= 0 ? way->from : way->to;
  *to = flow >= 0 ? way->to : way->from;
  return fabs (flow) > nappe_rule_limit (context, NAPPE_LIMIT_TRICKLE);
}

/* Adds all nodes that water reaches from those marked already, over and under baffles and through socks. */
static void
mark_downstream (NappeRuleContext *context, gboolean *marked)
{
  gboolean more = TRUE;

  while (more)
    {
      more = FALSE;
      for (guint i = 0; i < context->network->n_links; i++)
        {
          guint from, to;
          if (is_open_way (&context->network->links[i]) && running_ends (context, i, &from, &to) && marked[from]
              && !marked[to])
            marked[to] = more = TRUE;
        }
    }
}

/* The first skimmer in a marked vessel, or NULL. */
static const NappeEquipment *
marked_skimmer (NappeRuleContext *context, const gboolean *marked)
{
  for (guint i = 0; i < context->build->equipment->len; i++)
    {
      const NappeEquipment *part = context->build->equipment->pdata[i];
      gint node = nappe_network_find_node (context->network, part->where);
      if (part->kind == NAPPE_EQUIPMENT_SKIMMER && node >= 0 && marked[node])
        return part;
    }
  return NULL;
}

static void
check_refugium_order (NappeRuleContext *context, const char *id)
{
  gint node = nappe_network_find_node (context->network, id);
  g_autofree gboolean *marked = g_new0 (gboolean, context->network->n_nodes);

  if (node < 0)
    return;
  marked[node] = TRUE;
  mark_downstream (context, marked);
  const NappeEquipment *skimmer = marked_skimmer (context, marked);
  if (skimmer == NULL)
    {
      NappeFinding *fine = nappe_rule_fine (context, id, 0, 0, NAPPE_QUANTITY_COUNT);
      /* Translators: %s is a refugium. */
      nappe_finding_say (fine, _("What leaves %s meets no skimmer before it reaches the display."),
                         nappe_rule_name (context, id));
      return;
    }
  NappeFinding *finding = nappe_rule_find (context, NAPPE_SEVERITY_ADVICE, _("Refugium before the skimmer"), id);
  nappe_finding_measure (finding, 1, 0, NAPPE_QUANTITY_COUNT);
  /* Translators: refugium, skimmer. */
  nappe_finding_say (finding,
                     _("The water of %s goes on to %s. The skimmer takes out much of the small life that the refugium "
                       "grows as food for the display."),
                     nappe_rule_name (context, id), nappe_rule_name (context, nappe_rule_id (skimmer)));
  nappe_finding_formula (finding, _("way of the water over and under the baffles while running"));
  nappe_finding_cure (finding, _("Put the refugium behind the skimmer, or feed it by a tee of its own and let it flow "
                                  "into the return chamber."));
}

/* A refugium's water should reach the display without going through the skimmer. */
void
nappe_rule_refugium_before_skimmer (NappeRuleContext *context)
{
  const NappeBuild *build = context->build;
  const NappeSump *sump = NAPPE_BUILD_SUMP (build);
  guint refugia = 0, skimmers = 0;

  for (guint i = 0; i < build->equipment->len; i++)
    skimmers += NAPPE_EQUIPMENT (build->equipment->pdata[i])->kind == NAPPE_EQUIPMENT_SKIMMER;
  for (guint i = 0; i < sump->chambers->len; i++)
    refugia += NAPPE_CHAMBER (sump->chambers->pdata[i])->role == NAPPE_CHAMBER_REFUGIUM;
  for (guint i = 0; i < build->vessels->len; i++)
    refugia += NAPPE_SIDE_VESSEL (build->vessels->pdata[i])->role == NAPPE_VESSEL_REFUGIUM;
  if (refugia == 0 || skimmers == 0)
    {
      nappe_rule_not_checked (context, refugia == 0 ? _("Does not apply: the build has no refugium.")
                                                    : _("Does not apply: the build has no protein skimmer."));
      return;
    }
  if (!nappe_rule_needs_running (context))
    return;
  for (guint i = 0; i < sump->chambers->len; i++)
    if (NAPPE_CHAMBER (sump->chambers->pdata[i])->role == NAPPE_CHAMBER_REFUGIUM)
      check_refugium_order (context, nappe_rule_id (sump->chambers->pdata[i]));
  for (guint i = 0; i < build->vessels->len; i++)
    if (NAPPE_SIDE_VESSEL (build->vessels->pdata[i])->role == NAPPE_VESSEL_REFUGIUM)
      check_refugium_order (context, nappe_rule_id (build->vessels->pdata[i]));
}

/* Marks the bubble traps. FALSE: there is none. */
static gboolean
mark_traps (NappeRuleContext *context, gboolean *marked)
{
  gboolean any = FALSE;

  for (guint i = 0; i < context->network->n_nodes; i++)
    if (context->network->nodes[i].kind == NAPPE_NODE_CHAMBER
        && context->network->nodes[i].chamber_role == NAPPE_CHAMBER_BUBBLE_TRAP)
      any = marked[i] = TRUE;
  return any;
}

/* Share of what flows into a chamber that comes from marked ones. */
static double
share_from (NappeRuleContext *context, guint chamber, const gboolean *marked)
{
  double through = 0, all = 0;

  for (guint i = 0; i < context->network->n_links; i++)
    {
      guint from, to;
      if (!running_ends (context, i, &from, &to) || to != chamber)
        continue;
      all += fabs (context->study->running.flow[i]);
      if (marked[from])
        through += fabs (context->study->running.flow[i]);
    }
  return all > 0 ? through / all : NAN;
}

static void
report_trap_share (NappeRuleContext *context, const char *pump, double share)
{
  double limit = nappe_rule_limit (context, NAPPE_LIMIT_TRAP_SHARE);
  const char *name = nappe_rule_name (context, pump);
  gboolean past = !(share >= limit);
  NappeFinding *finding
      = past ? nappe_rule_find (context, NAPPE_SEVERITY_PROBLEM, _("Pump before the bubble trap"), pump)
             : nappe_rule_fine (context, pump, share, limit, NAPPE_QUANTITY_SHARE);

  nappe_finding_measure (finding, share, limit, NAPPE_QUANTITY_SHARE);
  /* Translators: share of the water, pump. */
  nappe_finding_say (finding, _("%s of the water that %s draws has gone through the bubble trap."),
                     NAPPE_SAY_SHARE (context, share), name);
  nappe_finding_formula (finding, _("flow into the pump’s chamber that comes through the trap / all that flows into it"));
  if (!past)
    return;
  nappe_finding_say (finding, _("The rest carries the bubbles of drains and skimmer straight to the pump, which chops "
                                 "them into a fine mist that clouds the display, and can lock the pump with air."));
  nappe_finding_cure (finding,
                      _("Let the drains end before the trap, and put the pump’s chamber behind it, so that all but a "
                        "slow refugium’s water goes through."));
}

/* Most of the return pump's water has to come through the bubble trap, where there is one. */
void
nappe_rule_return_before_trap (NappeRuleContext *context)
{
  g_autofree gboolean *marked = g_new0 (gboolean, context->network->n_nodes);
  guint checked = 0;

  if (!mark_traps (context, marked))
    {
      nappe_rule_not_checked (context, _("Does not apply: the sump has no bubble trap."));
      return;
    }
  if (!nappe_rule_needs_running (context))
    return;
  mark_downstream (context, marked);
  for (guint i = 0; i < context->build->returns->len; i++)
    {
      const NappePump *pump = NAPPE_PUMP (NAPPE_RETURN_LINE (context->build->returns->pdata[i])->pump);
      gint node = nappe_network_find_node (context->network, pump->chamber);
      double share = node >= 0 && context->network->nodes[node].kind == NAPPE_NODE_CHAMBER
                         ? share_from (context, (guint)node, marked)
                         : NAN;
      if (isnan (share))
        continue;
      checked++;
      report_trap_share (context, nappe_rule_id (pump), share);
    }
  if (checked == 0)
    nappe_rule_not_checked (context, _("Does not apply: no pump draws from a chamber that water flows into."));
}

/* Whether water leaves a chamber under a baffle: there it goes down, and bubbles have to rise against it. */
static gboolean
leaves_under_baffle (NappeRuleContext *context, guint chamber)
{
  for (guint i = 0; i < context->network->n_links; i++)
    {
      guint from, to;
      if (context->network->links[i].kind == NAPPE_LINK_GAP && running_ends (context, i, &from, &to) && from == chamber)
        return TRUE;
    }
  return FALSE;
}

/* Makes a trap longer at the cost of the longest chamber that is neither trap nor reservoir. */
static void
offer_longer_trap (NappeRuleContext *context, NappeFinding *finding, const char *trap)
{
  const NappeSump *sump = NAPPE_BUILD_SUMP (context->build);
  const NappeChamber *giver = NULL;
  const NappePart *part = nappe_build_find (context->build, trap);

  for (guint i = 0; i < sump->chambers->len; i++)
    {
      const NappeChamber *chamber = sump->chambers->pdata[i];
      if (chamber->role != NAPPE_CHAMBER_BUBBLE_TRAP && chamber->role != NAPPE_CHAMBER_RESERVOIR
          && (giver == NULL || chamber->length > giver->length))
        giver = chamber;
    }
  if (giver == NULL || part == NULL || !NAPPE_IS_CHAMBER ((NappePart *)part))
    return;
  double length = NAPPE_CHAMBER ((NappePart *)part)->length;
  NappeLever *lever = nappe_lever_new_number (trap, "length", length, length + 0.5 * giver->length);
  nappe_lever_follow (lever, nappe_rule_id (giver), "length", -1);
  nappe_finding_offer (finding, lever);
}

/* A length of less than a millimetre. */
static const char *
small_length (NappeRuleContext *context, double length)
{
  g_autofree char *text = nappe_quantity_format (NAPPE_QUANTITY_LENGTH, length, context->units, 2);
  return nappe_rule_text (context, "%s", text);
}

static void
report_bubbles (NappeRuleContext *context, const NappeChamberReport *trap)
{
  double stopped = trap->bubble_stopped, wanted = context->targets->bubble_size;
  gboolean fast = !(stopped <= wanted);
  NappeFinding *finding
      = fast ? nappe_rule_find (context, stopped <= nappe_rule_limit (context, NAPPE_LIMIT_BUBBLE_MISSED) * wanted
                                             ? NAPPE_SEVERITY_ADVICE
                                             : NAPPE_SEVERITY_PROBLEM,
                                _("Bubble trap too fast"), trap->id)
             : nappe_rule_fine (context, trap->id, stopped, wanted, NAPPE_QUANTITY_LENGTH);

  nappe_finding_measure (finding, stopped, wanted, NAPPE_QUANTITY_LENGTH);
  /* Translators: chamber, speed of the water, diameter of a bubble, diameter wanted. */
  nappe_finding_say (finding,
                     _("In %s the water sinks at %s and stops bubbles down to %s across; you want it to stop those of "
                       "%s."),
                     nappe_rule_name (context, trap->id),
                     nappe_rule_number (context, NAPPE_QUANTITY_SPEED, trap->speed_down),
                     small_length (context, stopped),
                     small_length (context, wanted));
  nappe_finding_formula (finding, _("the bubble that rises as fast as the water sinks: flow / plan area of the chamber"));
  nappe_finding_input (finding, "", _("flow through it"), trap->flow, NAPPE_QUANTITY_FLOW);
  nappe_finding_input (finding, "", _("speed downwards"), trap->speed_down, NAPPE_QUANTITY_SPEED);
  if (!fast)
    return;
  NappePart *part = nappe_build_find (context->build, trap->id);
  double allowed = nappe_bubble_rise_speed (wanted, &context->network->water);
  nappe_finding_say (finding, _("Smaller ones go on to the pump and come out in the display as a white mist."));
  nappe_finding_cure (finding, _("Make the chamber %s long where the water sinks, or let less water through the sump."),
                      NAPPE_SAY_LENGTH (context, NAPPE_CHAMBER (part)->length * trap->speed_down / allowed));
  offer_longer_trap (context, finding, trap->id);
  nappe_rule_offer_pumps (context, finding, FALSE);
}

/* Where the water of a bubble trap sinks, the bubbles that the planner wants stopped have to rise faster. */
void
nappe_rule_bubble_trap_fast (NappeRuleContext *context)
{
  const NappeStudy *study = context->study;
  guint traps = 0, checked = 0;

  for (guint i = 0; i < study->n_chambers; i++)
    traps += study->chambers[i].role == NAPPE_CHAMBER_BUBBLE_TRAP;
  if (traps == 0)
    {
      nappe_rule_not_checked (context, _("Does not apply: the sump has no bubble trap."));
      return;
    }
  if (!nappe_rule_needs_running (context))
    return;
  for (guint i = 0; i < study->n_chambers; i++)
    if (study->chambers[i].role == NAPPE_CHAMBER_BUBBLE_TRAP && leaves_under_baffle (context, study->chambers[i].node))
      {
        checked++;
        report_bubbles (context, &study->chambers[i]);
      }
  if (checked == 0)
    nappe_rule_not_checked (context, _("Not checked: in no bubble trap does the water go down and under a baffle."));
}

/* The gap's height that keeps its speed, or the greatest that keeps its edge deep enough. */
static void
cure_gap (NappeRuleContext *context, NappeFinding *finding, const NappeBaffle *baffle, double height)
{
  gboolean higher = height > baffle->gap_height;

  if (higher)
    /* Translators: %s is a height. */
    nappe_finding_cure (finding, _("Leave %s open under it."), NAPPE_SAY_LENGTH (context, height));
  else
    /* Translators: %s is a height. */
    nappe_finding_cure (finding, _("Lower it until %s are open under it."), NAPPE_SAY_LENGTH (context, height));
  double least = higher ? baffle->gap_height : 0.002;
  double most = higher ? fmax (baffle->top_height - 0.01, least) : baffle->gap_height;
  if (least < most)
    nappe_finding_offer (finding, nappe_lever_new_number (nappe_rule_id (baffle), "gap_height", least, most));
}

static void
report_gap (NappeRuleContext *context, const NappeBaffle *baffle, double speed, double depth)
{
  const char *id = nappe_rule_id (baffle), *name = nappe_rule_name (context, id);
  double fastest = nappe_rule_limit (context, NAPPE_LIMIT_GAP_SPEED);
  double share = nappe_rule_limit (context, NAPPE_LIMIT_GAP_SHARE);
  gboolean bare = !(baffle->gap_height < depth), wide = bare || baffle->gap_height > share * depth;
  gboolean narrow = !wide && !(speed <= fastest);
  NappeFinding *finding
      = bare     ? nappe_rule_find (context, NAPPE_SEVERITY_PROBLEM, _("Baffle hangs over the water"), id)
        : wide   ? nappe_rule_find (context, NAPPE_SEVERITY_ADVICE, _("Gap under a baffle too high"), id)
        : narrow ? nappe_rule_find (context, NAPPE_SEVERITY_ADVICE, _("Gap under a baffle too low"), id)
                 : nappe_rule_fine (context, id, speed, fastest, NAPPE_QUANTITY_SPEED);

  if (wide)
    nappe_finding_measure (finding, baffle->gap_height, bare ? depth : share * depth, NAPPE_QUANTITY_LENGTH);
  else
    nappe_finding_measure (finding, speed, fastest, NAPPE_QUANTITY_SPEED);
  /* Translators: baffle, height of the gap under it, depth of the water, speed. */
  nappe_finding_say (finding, _("Under %s %s are open, with water %s deep; it goes through at %s."), name,
                     NAPPE_SAY_LENGTH (context, baffle->gap_height), NAPPE_SAY_LENGTH (context, fmax (0, depth)),
                     nappe_rule_number (context, NAPPE_QUANTITY_SPEED, speed));
  nappe_finding_formula (finding, _("flow under the baffle / (height of the gap × width of the sump)"));
  nappe_finding_input (finding, "", _("height of the gap"), baffle->gap_height, NAPPE_QUANTITY_LENGTH);
  nappe_finding_input (finding, "", _("lower water beside it"), depth, NAPPE_QUANTITY_LENGTH);
  if (bare)
    nappe_finding_say (finding, _("Its lower edge is in the air, so that foam and bubbles pass beneath it unhindered."));
  else if (wide)
    nappe_finding_say (finding, _("So high a gap lets bubbles cut the corner instead of turning back."));
  else if (narrow)
    nappe_finding_say (finding, _("So fast a stream carries bubbles through, and a little dirt backs the water up."));
  if (wide)
    cure_gap (context, finding, baffle, share * depth);
  else if (narrow)
    cure_gap (context, finding, baffle, baffle->gap_height * speed / fastest);
}

/* Gaps under baffles: slow enough, and deep under water. */
void
nappe_rule_baffle_gap (NappeRuleContext *context)
{
  const NappeSump *sump = NAPPE_BUILD_SUMP (context->build);
  const NappeState *running = &context->study->running;
  guint gaps = 0;

  for (guint i = 0; i < sump->baffles->len; i++)
    gaps += NAPPE_BAFFLE (sump->baffles->pdata[i])->gap_height > 0;
  if (gaps == 0)
    {
      nappe_rule_not_checked (context, _("Does not apply: no baffle has a gap under it."));
      return;
    }
  if (!nappe_rule_needs_running (context))
    return;
  for (guint i = 0; i < sump->baffles->len; i++)
    {
      const NappeBaffle *baffle = sump->baffles->pdata[i];
      gint index = nappe_network_find_link (context->network, NAPPE_LINK_GAP, nappe_rule_id (baffle));
      if (baffle->gap_height <= 0 || index < 0)
        continue;
      const NappeLink *link = &context->network->links[index];
      double depth = fmin (running->level[link->from], running->level[link->to])
                     - context->network->nodes[link->from].floor;
      report_gap (context, baffle, fabs (running->flow[index]) / link->gap_area, depth);
    }
}
