/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The emergency drain: there, free, dry, at the right height and large enough. */
#include "rules/rule-levers.h"
#include "rules/rule-list.h"

#include <glib/gi18n-lib.h>
#include <math.h>

static gboolean
needs_emergency (NappeRuleContext *context)
{
  if (nappe_rule_count_role (context, NAPPE_DRAIN_EMERGENCY) > 0)
    return TRUE;
  nappe_rule_not_checked (context, _("Does not apply: the build has no emergency drain."));
  return FALSE;
}

/* Several drains and none for the emergency. */
void
nappe_rule_no_emergency (NappeRuleContext *context)
{
  const NappeStudy *study = context->study;
  guint emergencies = nappe_rule_count_role (context, NAPPE_DRAIN_EMERGENCY);

  if (context->build->drains->len < 2)
    {
      nappe_rule_not_checked (context, context->build->drains->len == 0
                                           ? _("Does not apply: the build has no drain.")
                                           : _("Does not apply: said of the single drain already."));
      return;
    }
  if (emergencies > 0)
    {
      NappeFinding *fine = nappe_rule_fine (context, "", emergencies, 1, NAPPE_QUANTITY_COUNT);
      nappe_finding_say (
          fine,
          /* Translators: %u is how many emergency drains there are. */
          g_dngettext (GETTEXT_PACKAGE, "There is %u emergency drain.", "There are %u emergency drains.", emergencies),
          emergencies);
      return;
    }
  if (!nappe_rule_needs_computed (context))
    return;
  gboolean floods = FALSE;
  for (guint i = 0; i < study->n_blockages; i++)
    floods = floods
             || (study->blockages[i].n_blocked == 1 && !study->blockages[i].all_drains && study->blockages[i].floods);
  const NappeDrain *drain = nappe_rule_drain (context, &study->drains[0]);
  NappeFinding *finding = nappe_rule_find (context, floods ? NAPPE_SEVERITY_PROBLEM : NAPPE_SEVERITY_ADVICE,
                                           _("No emergency drain"), drain != NULL ? drain->overflow : "");
  nappe_finding_measure (finding, 0, 1, NAPPE_QUANTITY_COUNT);
  if (floods)
    nappe_finding_say (
        finding, _("No drain stands ready for the day another one blocks, and one blocked drain is enough to flood."));
  else
    nappe_finding_say (finding, _("No drain stands dry and ready for the day another one blocks. The others can take "
                                   "over, but nothing shows that they still can."));
  /* Translators: %s is a flow. */
  nappe_finding_cure (finding,
                      _("Add an unvalved emergency standpipe with its inlet above the running level, for %s."),
                      NAPPE_SAY_FLOW (context, study->running.display_flow));
}

/* The first valve that can be shut in a run; NULL: none. */
static NappePiece *
valve_in_run (NappeRuleContext *context, GPtrArray *run)
{
  for (guint i = 0; i < run->len; i++)
    {
      NappePiece *piece = run->pdata[i];
      const NappeItem *item = nappe_rule_item (context, piece->item);
      if (item != NULL && item->kind == NAPPE_ITEM_VALVE)
        return piece;
    }
  return NULL;
}

static NappePiece *
valve_of_drain (NappeRuleContext *context, const NappeDrain *drain)
{
  NappePiece *valve = valve_in_run (context, drain->run);
  for (guint i = 0; valve == NULL && i < drain->outlets->len; i++)
    valve = valve_in_run (context, NAPPE_OUTLET (drain->outlets->pdata[i])->run);
  return valve;
}

/* A union of the valve's size in its place. */
static void
offer_union (NappeRuleContext *context, NappeFinding *finding, const NappePiece *valve)
{
  const NappeItem *item = nappe_rule_item (context, valve->item);
  const NappeItem *joint = item->family != NULL && item->nominal != NULL
                               ? nappe_catalogue_match (context->network->catalogue, NAPPE_ITEM_FITTING, item->family, "union",
                                                        item->nominal)
                               : NULL;
  if (joint == NULL)
    return;
  NappeLever *lever = nappe_lever_new_choice (nappe_rule_id (valve), "item");
  nappe_lever_add_choice (lever, joint->id);
  nappe_finding_offer (finding, lever);
}

/* Nothing that can be shut may stand in an emergency drain. */
void
nappe_rule_emergency_valved (NappeRuleContext *context)
{
  const NappeStudy *study = context->study;

  if (!needs_emergency (context))
    return;
  for (guint i = 0; i < study->n_drains; i++)
    {
      const NappeDrain *drain = nappe_rule_drain (context, &study->drains[i]);
      if (drain == NULL || drain->role != NAPPE_DRAIN_EMERGENCY)
        continue;
      const char *name = nappe_rule_name (context, study->drains[i].id);
      const NappePiece *valve = valve_of_drain (context, drain);
      if (valve == NULL)
        {
          NappeFinding *fine = nappe_rule_fine (context, study->drains[i].id, 0, 0, NAPPE_QUANTITY_COUNT);
          /* Translators: %s is a drain. */
          nappe_finding_say (fine, _("No valve stands in %s."), name);
          continue;
        }
      NappeFinding *finding
          = nappe_rule_find (context, NAPPE_SEVERITY_PROBLEM, _("Valve in the emergency drain"), study->drains[i].id);
      nappe_finding_measure (finding, 1, 0, NAPPE_QUANTITY_COUNT);
      /* Translators: drain, share of the valve's travel. */
      nappe_finding_say (
          finding, _("A valve stands in %s, drawn %s open. Shut by mistake, or stuck, it takes the last way down."),
          name, NAPPE_SAY_SHARE (context, valve->opening));
      nappe_finding_cure (finding, _("Take the valve out; use a union where the pipe must come apart."));
      offer_union (context, finding, valve);
    }
}

/* The level at which something runs over when the water backs up: the display's rim, or a box's own
 * when that spills outside the tank and is lower [m]. */
static double
spill_level (NappeRuleContext *context, const NappeDrain *drain)
{
  const NappeNetwork *network = context->network;
  double level = network->nodes[network->display].rim;
  gint box = nappe_network_find_node (network, drain->overflow);

  for (guint i = 0; box >= 0 && i < network->n_links; i++)
    if (network->links[i].kind == NAPPE_LINK_RIM && network->links[i].from == (guint)box
        && network->links[i].to == network->floor)
      level = fmin (level, network->nodes[box].rim);
  return level;
}

/* Puts the inlet of a drain between two levels, z [m]. */
static void
offer_height (NappeRuleContext *context, NappeFinding *finding, const NappeDrainReport *report, double least, double most)
{
  const NappeLink *link = &context->network->links[report->link];
  double floor = context->network->nodes[link->from].floor;

  nappe_rule_offer_crest (context, finding, nappe_rule_drain (context, report), least - floor, most - floor);
}

/* An inlet above where the water runs over can save nothing. */
static void
report_too_high (NappeRuleContext *context, const NappeDrainReport *report, double crest, double rim)
{
  NappeFinding *finding
      = nappe_rule_find (context, NAPPE_SEVERITY_DANGER, _("Emergency inlet above the rim"), report->id);
  nappe_finding_measure (finding, crest - rim, 0, NAPPE_QUANTITY_LENGTH);
  if (crest - rim >= 0.0005)
    /* Translators: drain, height. */
    nappe_finding_say (
        finding,
        _("The inlet of %s lies %s above the level at which the water runs over: it would never carry anything."),
        nappe_rule_name (context, report->id), NAPPE_SAY_LENGTH (context, crest - rim));
  else
    /* Translators: %s is a drain. */
    nappe_finding_say (
        finding, _("The inlet of %s lies at the level at which the water runs over: it would never carry anything."),
        nappe_rule_name (context, report->id));
  /* Translators: %s is a height. */
  nappe_finding_cure (
      finding, _("Lower the inlet, so that it lies a little above the running level: by up to %s."),
      NAPPE_SAY_LENGTH (context, -report->head_over_inlet - nappe_rule_limit (context, NAPPE_LIMIT_EMERGENCY_CLEAR)));
  offer_height (context, finding, report, crest + report->head_over_inlet, crest);
}

static void
report_too_low (NappeRuleContext *context, const NappeDrainReport *report)
{
  double clear = -report->head_over_inlet;
  double wanted = nappe_rule_limit (context, NAPPE_LIMIT_EMERGENCY_CLEAR);
  gboolean wet = clear <= 0 || report->flow > nappe_rule_limit (context, NAPPE_LIMIT_TRICKLE);
  NappeFinding *finding = nappe_rule_find (
      context, wet ? NAPPE_SEVERITY_PROBLEM : NAPPE_SEVERITY_ADVICE,
      wet ? _("Emergency drain runs all the time") : _("Emergency inlet close to the water"), report->id);
  nappe_finding_measure (finding, clear, wanted, NAPPE_QUANTITY_LENGTH);
  if (wet)
    /* Translators: drain, flow. */
    nappe_finding_say (finding,
                       _("%s carries %s while all is well: it can never show that something is wrong, and what it "
                          "carries is not in reserve."),
                       nappe_rule_name (context, report->id), NAPPE_SAY_FLOW (context, report->flow));
  else
    /* Translators: drain, height. */
    nappe_finding_say (finding, _("The inlet of %s lies only %s above the running level: a little drift wets it."),
                       nappe_rule_name (context, report->id), NAPPE_SAY_LENGTH (context, clear));
  /* Translators: %s is a height. */
  nappe_finding_cure (finding,
                      _("Raise its inlet by %s or more, or tune the other drains so that the box stands lower."),
                      NAPPE_SAY_LENGTH (context, wanted - clear));
  offer_height (context, finding, report, context->network->links[report->link].inlet.crest,
                spill_level (context, nappe_rule_drain (context, report)));
}

/* The emergency inlet lies above the running level and below where the water runs over. */
void
nappe_rule_emergency_misplaced (NappeRuleContext *context)
{
  const NappeStudy *study = context->study;

  if (!needs_emergency (context) || !nappe_rule_needs_steady (context))
    return;
  for (guint i = 0; i < study->n_drains; i++)
    {
      const NappeDrainReport *report = &study->drains[i];
      const NappeDrain *drain = nappe_rule_drain (context, report);
      if (drain == NULL || report->role != NAPPE_DRAIN_EMERGENCY)
        continue;
      double crest = context->network->links[report->link].inlet.crest;
      double rim = spill_level (context, drain);
      if (crest >= rim)
        report_too_high (context, report, crest, rim);
      else if (-report->head_over_inlet < nappe_rule_limit (context, NAPPE_LIMIT_EMERGENCY_CLEAR))
        report_too_low (context, report);
      else
        {
          NappeFinding *fine = nappe_rule_fine (context, report->id, -report->head_over_inlet,
                                                nappe_rule_limit (context, NAPPE_LIMIT_EMERGENCY_CLEAR), NAPPE_QUANTITY_LENGTH);
          /* Translators: drain, height, height. */
          nappe_finding_say (
              fine, _("The inlet of %s lies %s above the running level and %s below where the water would run over."),
              nappe_rule_name (context, report->id), NAPPE_SAY_LENGTH (context, -report->head_over_inlet),
              NAPPE_SAY_LENGTH (context, rim - crest));
        }
    }
}

/* Whether water reaches the inlet before it runs over somewhere. */
static gboolean
can_be_reached (NappeRuleContext *context, const NappeDrainReport *report)
{
  const NappeDrain *drain = nappe_rule_drain (context, report);
  return drain != NULL && context->network->links[report->link].inlet.crest < spill_level (context, drain);
}

/* carried: by all emergency drains together [m3/s] */
static void
cure_small_emergency (NappeRuleContext *context, NappeFinding *finding, const NappeDrainReport *first, double carried)
{
  double flow = context->study->running.display_flow;
  double bore = nappe_rule_bore_for (context, first, flow / carried);

  if (first->opening <= 0)
    nappe_finding_cure (finding, _("Open its valve, or better take it out."));
  else if (carried <= nappe_rule_limit (context, NAPPE_LIMIT_TRICKLE))
    nappe_finding_cure (finding, _("Let its pipe end in the sump."));
  else if (bore < nappe_rule_limit (context, NAPPE_LIMIT_BORE))
    /* Translators: %s is a diameter. */
    nappe_finding_cure (
        finding, _("A bore of about %s, a lower inlet, or a second emergency drain carries the flow in any case."),
        NAPPE_SAY_LENGTH (context, bore));
  else
    nappe_finding_cure (finding, _("Lower its inlet, or add a second emergency drain."));
  double crest = context->network->links[first->link].inlet.crest;
  nappe_finding_offer (finding, nappe_lever_new_size (first->id, TRUE));
  offer_height (context, finding, first, crest + first->head_over_inlet, crest);
}

/* What all emergency drains carry together before the water runs over, unprimed and full bore, against
 * the pump's flow. Unprimed is the safe figure; full bore it gulps air and is loud, but carries. */
void
nappe_rule_emergency_too_small (NappeRuleContext *context)
{
  const NappeStudy *study = context->study;
  double flow = study->running.display_flow, unprimed = 0, full = 0;
  const NappeDrainReport *first = NULL;

  if (!needs_emergency (context) || !nappe_rule_needs_running (context))
    return;
  for (guint i = 0; i < study->n_drains; i++)
    if (study->drains[i].role == NAPPE_DRAIN_EMERGENCY && can_be_reached (context, &study->drains[i]))
      {
        first = first != NULL ? first : &study->drains[i];
        unprimed += fmin (study->drains[i].capacity_inlet, study->drains[i].capacity_full);
        full += study->drains[i].capacity_full;
      }
  if (first == NULL)
    {
      nappe_rule_not_checked (context, _("Does not apply: said already that its inlet lies above the rim."));
      return;
    }
  gboolean too_small = !(full >= flow), must_fill = !(unprimed >= flow);
  NappeFinding *finding
      = too_small ? nappe_rule_find (context, NAPPE_SEVERITY_DANGER, _("Emergency drain too small"), first->id)
        : must_fill
            ? nappe_rule_find (context, NAPPE_SEVERITY_ADVICE, _("Emergency drain must fill to keep up"), first->id)
            : nappe_rule_fine (context, first->id, unprimed, flow, NAPPE_QUANTITY_FLOW);
  double carried = too_small ? full : unprimed;
  nappe_finding_measure (finding, carried, flow, NAPPE_QUANTITY_FLOW);
  /* Translators: three flows. */
  nappe_finding_say (finding,
                     _("With the water at the rim the emergency carries %s while air goes down with it, and %s once "
                        "its pipe runs full; the pump brings %s."),
                     NAPPE_SAY_FLOW (context, unprimed), NAPPE_SAY_FLOW (context, full),
                     NAPPE_SAY_FLOW (context, flow));
  nappe_finding_formula (finding, _("least of crest, orifice and full pipe, display at its rim"));
  nappe_finding_input (finding, "", _("with air, inlet control"), unprimed, NAPPE_QUANTITY_FLOW);
  nappe_finding_input (finding, "", _("full bore"), full, NAPPE_QUANTITY_FLOW);
  nappe_finding_input (finding, "", _("brought by the pump"), flow, NAPPE_QUANTITY_FLOW);
  if (must_fill && !too_small)
    nappe_finding_say (finding, _("It will keep up, but gulping and loud, and only if it primes."));
  if (too_small || must_fill)
    cure_small_emergency (context, finding, first, carried);
}

/* The filter sock that a drain ends in, or NULL. */
static const NappeOutlet *
end_in_sock (NappeRuleContext *context, const NappeDrain *drain)
{
  for (guint i = 0; i < drain->outlets->len; i++)
    {
      const NappeOutlet *outlet = drain->outlets->pdata[i];
      gint node = nappe_network_find_node (context->network, outlet->into);
      if (node >= 0 && context->network->nodes[node].kind == NAPPE_NODE_SOCK)
        return outlet;
    }
  return NULL;
}

/* Another drain that ends in the same sock, or NULL. */
static const NappeDrain *
drain_in_sock (NappeRuleContext *context, const char *sock)
{
  for (guint i = 0; i < context->build->drains->len; i++)
    {
      const NappeDrain *drain = context->build->drains->pdata[i];
      const NappeOutlet *end = drain->role != NAPPE_DRAIN_EMERGENCY ? end_in_sock (context, drain) : NULL;
      if (end != NULL && g_str_equal (end->into, sock))
        return drain;
    }
  return NULL;
}

static void
report_shared_end (NappeRuleContext *context, const NappeDrain *drain, const NappeOutlet *end, const NappeDrain *other)
{
  NappeFinding *finding = nappe_rule_find (context, NAPPE_SEVERITY_ADVICE, _("Emergency drain ends in the same filter sock"),
                                           nappe_rule_id (drain));
  const NappeEquipment *sock = NAPPE_EQUIPMENT (nappe_build_find (context->build, end->into));

  nappe_finding_measure (finding, 1, 0, NAPPE_QUANTITY_COUNT);
  /* Translators: drain, filter sock, drain. */
  nappe_finding_say (finding, _("%s ends in %s, as %s does: what clogs the sock holds both back, and what the drains bring down "
                                "in a mishap bursts out of the holder."),
                     nappe_rule_name (context, nappe_rule_id (drain)), nappe_rule_name (context, end->into),
                     nappe_rule_name (context, nappe_rule_id (other)));
  /* Translators: %s is a chamber. */
  nappe_finding_cure (finding, _("Let it end in the open, in %s beside the sock: then it brings down unfiltered water, which is "
                                 "what an emergency is allowed to."),
                      nappe_rule_name (context, sock->where));
  NappeLever *lever = nappe_lever_new_choice (nappe_rule_id (end), "into");
  nappe_lever_add_choice (lever, sock->where);
  nappe_finding_offer (finding, lever);
}

/* What stops the other drains at their end must not stop the emergency drain. */
void
nappe_rule_emergency_shares_end (NappeRuleContext *context)
{
  if (!needs_emergency (context))
    return;
  for (guint i = 0; i < context->build->drains->len; i++)
    {
      const NappeDrain *drain = context->build->drains->pdata[i];
      if (drain->role != NAPPE_DRAIN_EMERGENCY)
        continue;
      const NappeOutlet *end = end_in_sock (context, drain);
      const NappeDrain *other = end != NULL ? drain_in_sock (context, end->into) : NULL;
      if (other != NULL)
        report_shared_end (context, drain, end, other);
      else
        /* Translators: %s is a drain. */
        nappe_finding_say (nappe_rule_fine (context, nappe_rule_id (drain), 0, 0, NAPPE_QUANTITY_COUNT),
                           _("%s ends in no filter sock that another drain ends in."),
                           nappe_rule_name (context, nappe_rule_id (drain)));
    }
}
