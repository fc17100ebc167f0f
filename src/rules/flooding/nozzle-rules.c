/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Return nozzles that siphon the display down when the pump stops. */
#include "rules/flooding/flood-levers.h"
#include "rules/rule-list.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* Less than this siphoned back is not worth a word [m3]. */
#define COST_LEAST 1e-4

/* One return nozzle in the display. */
typedef struct
{
  const char *id;
  gboolean hole;       /* has a siphon-break hole above its mouth */
  double mouth, stop;  /* z of its mouth, and of where it stops the siphon [m] */
  double depth;        /* of the stop below the running level [m] */
  double cost;         /* display's water between weir and stop [m3] */
  double cost_clogged; /* the same with the hole clogged [m3] */
} Nozzle;

/* The lowest crest over which the display runs down by itself [m]. */
static double
lowest_crest (const NappeNetwork *network)
{
  double crest = INFINITY;
  for (guint i = 0; i < network->n_links; i++)
    if (network->links[i].kind == NAPPE_LINK_WEIR && network->links[i].from == network->display)
      crest = fmin (crest, network->links[i].sill);
  return crest;
}

/* Water of the display between two heights; 0 when `low` is not below `high` [m3]. */
static double
display_between (const NappeNetwork *network, double low, double high)
{
  const NappeNode *display = &network->nodes[network->display];
  return fmax (0, nappe_node_volume (display, high) - nappe_node_volume (display, fmin (low, high)));
}

static gboolean
measure_nozzle (NappeRuleContext *context, const NappeOutlet *outlet, Nozzle *nozzle)
{
  const NappeNetwork *network = context->network;
  const char *id = nappe_rule_id (outlet);
  double level = context->study->running.level[network->display];
  double high = fmin (level, lowest_crest (network));

  for (guint i = 0; i < network->n_links; i++)
    {
      const NappeLink *link = &network->links[i];
      if (link->kind != NAPPE_LINK_PIPE || !g_str_equal (link->outlet, id))
        continue;
      nozzle->id = id;
      nozzle->mouth = link->sill;
      nozzle->stop = fmax (link->sill, link->siphon_break);
      nozzle->hole = nappe_is_given (outlet->siphon_break_height) && link->siphon_break > link->sill;
      nozzle->depth = level - nozzle->stop;
      nozzle->cost = display_between (network, nozzle->stop, high);
      nozzle->cost_clogged = display_between (network, nozzle->mouth, high);
      return TRUE;
    }
  return FALSE;
}

static void
say_nozzle (NappeRuleContext *context, NappeFinding *finding, const Nozzle *nozzle)
{
  const char *name = nappe_rule_name (context, nozzle->id);
  const char *depth = NAPPE_SAY_LENGTH (context, nozzle->depth);
  const char *cost = NAPPE_SAY_VOLUME (context, nozzle->cost);

  if (nozzle->depth <= 0)
    /* Translators: a return nozzle. */
    nappe_finding_say (finding, _("%s lets air in above the surface: nothing siphons back through it."), name);
  else if (nozzle->cost < COST_LEAST)
    /* Translators: return nozzle, depth. */
    nappe_finding_say (
        finding,
        _("%s lets air in %s under the running surface: in a power cut nothing to speak of siphons back "
           "below the weir."),
        name, depth);
  else if (nozzle->hole)
    /* Translators: return nozzle, depth, volume. */
    nappe_finding_say (finding,
                       _("The siphon-break hole of %s lies %s under the running surface; below the weir it lets %s "
                          "run back in a power cut."),
                       name, depth, cost);
  else
    /* Translators: return nozzle, depth, volume. */
    nappe_finding_say (
        finding,
        _("%s ends %s under the running surface and has no siphon-break hole above its mouth; below the weir it lets "
           "%s run back in a power cut."),
        name, depth, cost);
}

static void
add_nozzle_working (NappeRuleContext *context, NappeFinding *finding, const Nozzle *nozzle)
{
  nappe_finding_formula (finding, _("display’s plan area × (weir − stop of the siphon)"));
  nappe_finding_input (finding, "", _("stop of the siphon below the running surface"), nozzle->depth,
                       NAPPE_QUANTITY_LENGTH);
  nappe_finding_input (finding, "", _("weir above the stop of the siphon"),
                       lowest_crest (context->network) - nozzle->stop, NAPPE_QUANTITY_LENGTH);
  nappe_finding_input (finding, "", _("display’s plan area at the weir"),
                       context->network->nodes[context->network->display].area, NAPPE_QUANTITY_AREA);
}

static void
cure_nozzle (NappeRuleContext *context, NappeFinding *finding, const Nozzle *nozzle)
{
  const char *cost = NAPPE_SAY_VOLUME (context, nozzle->cost);

  if (nozzle->hole)
    /* Translators: a height, then a volume. */
    nappe_finding_cure (finding,
                        _("Drill the hole up to %s higher, just under the surface: it saves up to %s unless another "
                           "nozzle siphons deeper."),
                        NAPPE_SAY_LENGTH (context, nozzle->depth), cost);
  else
    /* Translators: a height, then a volume. */
    nappe_finding_cure (
        finding,
        _("Drill a siphon-break hole just under the surface, or raise the nozzle by up to %s: it saves up "
           "to %s unless another nozzle siphons deeper."),
        NAPPE_SAY_LENGTH (context, nozzle->depth), cost);
  nappe_levers_raise_break (context, finding, nozzle->id);
  nappe_levers_shorten_nozzle (context, finding, nozzle->id);
}

static void
report_nozzle (NappeRuleContext *context, const Nozzle *nozzle)
{
  const NappePowerCut *cut = &context->study->cut_check_failed;
  double limit = nappe_rule_limit (context, NAPPE_LIMIT_NOZZLE_DEPTH);
  /* Freeboard that is missing, or a flood, makes these litres matter. */
  gboolean tight = cut->known
                   && (cut->state.spilled > nappe_rule_limit (context, NAPPE_LIMIT_SPILL)
                       || cut->sump_margin < context->targets->sump_freeboard);
  gboolean deep = nozzle->depth > limit && nozzle->cost >= COST_LEAST;
  NappeFinding *finding = deep ? nappe_rule_find (context, tight ? NAPPE_SEVERITY_PROBLEM : NAPPE_SEVERITY_ADVICE,
                                                  nozzle->hole ? _("Siphon-break hole lies deep")
                                                               : _("Return nozzle siphons the display"),
                                                  nozzle->id)
                               : nappe_rule_fine (context, nozzle->id, nozzle->depth, limit, NAPPE_QUANTITY_LENGTH);

  nappe_finding_measure (finding, nozzle->depth, limit, NAPPE_QUANTITY_LENGTH);
  say_nozzle (context, finding, nozzle);
  add_nozzle_working (context, finding, nozzle);
  if (deep)
    cure_nozzle (context, finding, nozzle);
}

/* Measures the nozzles in the display in turn: `next` counts on from 0. FALSE: there is none left. */
static gboolean
next_nozzle (NappeRuleContext *context, guint *next, Nozzle *nozzle)
{
  guint index = 0;

  for (guint i = 0; i < context->build->returns->len; i++)
    {
      GPtrArray *outlets = NAPPE_RETURN_LINE (context->build->returns->pdata[i])->outlets;
      for (guint outlet = 0; outlet < outlets->len; outlet++, index++)
        if (index >= *next && g_str_equal (NAPPE_OUTLET (outlets->pdata[outlet])->into, nappe_rule_id (context->build->tank))
            && measure_nozzle (context, outlets->pdata[outlet], nozzle))
          {
            *next = index + 1;
            return TRUE;
          }
    }
  return FALSE;
}

/* Each return nozzle in the display: how deep it siphons, and what that costs. */
void
nappe_rule_nozzle_siphon (NappeRuleContext *context)
{
  Nozzle nozzle;
  guint next = 0;

  if (!nappe_rule_needs_running (context))
    return;
  while (next_nozzle (context, &next, &nozzle))
    report_nozzle (context, &nozzle);
  if (next == 0)
    nappe_rule_not_checked (context, _("Does not apply: no return nozzle ends in the display."));
}

static void
report_clogged_hole (NappeRuleContext *context, const Nozzle *deepest)
{
  const NappePowerCut *clogged = &context->study->cut_break_blocked;
  NappeFinding *finding = nappe_rule_find (context, NAPPE_SEVERITY_PROBLEM,
                                           _("Power cut floods when a siphon-break hole clogs"), deepest->id);

  nappe_finding_measure (finding, clogged->state.spilled, 0, NAPPE_QUANTITY_VOLUME);
  /* Translators: return nozzle, then two volumes. */
  nappe_finding_say (finding,
                     _("A power cut fits only while the siphon-break holes are open. With them clogged, %s lets %s "
                        "run back and %s reach the floor."),
                     nappe_rule_name (context, deepest->id), NAPPE_SAY_VOLUME (context, deepest->cost_clogged),
                     NAPPE_SAY_VOLUME (context, clogged->state.spilled));
  nappe_finding_cure (finding, _("Bring the mouth of the nozzle itself nearer the surface, or drill two large holes "
                                  "and clean them whenever you clean the weir."));
  nappe_finding_formula (finding,
                         _("what runs down with the holes clogged, against the room above the running levels"));
  nappe_finding_input (finding, "", _("runs down into the sump in all"), clogged->run_back, NAPPE_QUANTITY_VOLUME);
  nappe_finding_input (finding, "", _("room in the sump above its running levels"), clogged->sump_free,
                       NAPPE_QUANTITY_VOLUME);
  nappe_levers_shorten_nozzle (context, finding, deepest->id);
  nappe_levers_lower_kept_level (context, finding);
  nappe_levers_grow_sump (context, finding);
}

/* A small hole grows shut sooner or later: a power cut must fit without it. */
void
nappe_rule_siphon_break_relied_on (NappeRuleContext *context)
{
  const NappePowerCut *clogged = &context->study->cut_break_blocked;
  Nozzle nozzle, deepest = { .mouth = INFINITY };
  guint next = 0;

  if (!nappe_rule_needs_running (context) || !nappe_rule_needs_dry_floor (context))
    return;
  while (next_nozzle (context, &next, &nozzle))
    if (nozzle.hole && nozzle.mouth < deepest.mouth)
      deepest = nozzle;
  if (!isfinite (deepest.mouth))
    nappe_rule_not_checked (context, _("Does not apply: no return nozzle has a siphon-break hole."));
  else if (!clogged->known)
    nappe_rule_not_checked (context, _("Not checked: without a running state there is no power cut to compute."));
  else if (nappe_rule_cut_floods (context))
    nappe_rule_not_checked (context, _("Not checked: a power cut floods even with the holes open."));
  else if (clogged->state.spilled <= nappe_rule_limit (context, NAPPE_LIMIT_SPILL))
    nappe_finding_say (nappe_rule_fine (context, deepest.id, clogged->state.spilled, 0, NAPPE_QUANTITY_VOLUME),
                       /* Translators: %s is a volume. */
                       _("Even with every siphon-break hole clogged a power cut fits: %s run down."),
                       NAPPE_SAY_VOLUME (context, clogged->run_back));
  else
    report_clogged_hole (context, &deepest);
}
