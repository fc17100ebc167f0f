/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Ways down beside drains and weirs that close: siphon tubes over the rim, filter socks, spouts. */
#include "rules/flooding/blockage-words.h"
#include "rules/flooding/flood-levers.h"
#include "rules/rule-list.h"

#include <glib/gi18n-lib.h>
#include <math.h>

static const NappeLink *
passage_link (NappeRuleContext *context, const NappeBlockage *passage)
{
  return &context->network->links[passage->blocked[0]];
}

/* Whether a rule has something to look at: passages of its kind, with all as it should be before. */
static gboolean
needs_passage (NappeRuleContext *context, NappeLinkKind kind, const char *none)
{
  guint found = 0;

  if (!nappe_rule_needs_running (context) || !nappe_rule_needs_dry_floor (context))
    return FALSE;
  for (guint i = 0; i < context->study->n_passages; i++)
    found += passage_link (context, &context->study->passage_blocked[i])->kind == kind;
  if (found == 0)
    nappe_rule_not_checked (context, none);
  return found > 0;
}

/* Whether the outcome of a blocked passage is known; if not, says so. */
static gboolean
is_known (NappeRuleContext *context, const NappeBlockage *passage, const char *part, const char *what)
{
  if (passage->floods || passage->state.rest != NAPPE_REST_NOT_FOUND)
    return TRUE;
  nappe_report_blockage_unknown (context, part, what);
  return FALSE;
}

static void
report_tubes (NappeRuleContext *context, const NappeBlockage *passage, const char *overflow)
{
  const char *name = nappe_rule_name (context, overflow);
  /* Translators: start of a sentence; %s is an overflow box. */
  const char *what = nappe_rule_text (context, _("When the siphon tubes of %s lose their siphon,"), name);

  if (!is_known (context, passage, overflow, what))
    return;
  NappeFinding *finding = nappe_rule_find (context, passage->floods ? NAPPE_SEVERITY_DANGER : NAPPE_SEVERITY_ADVICE,
                                           passage->floods ? _("A lost siphon over the rim floods")
                                                           : _("Water leaves by siphon tubes over the rim"),
                                           overflow);
  /* Translators: %s is an overflow box. */
  nappe_finding_say (finding, _("All water that leaves by %s is drawn over the rim by siphon tubes. Air that gathers in them, "
                                "or a snail, ends that one day, and no drain behind them can help."),
                     name);
  if (passage->floods)
    nappe_say_blockage_flood (context, finding, passage, what);
  else
    {
      nappe_finding_measure (finding, passage->freeboard, 0, NAPPE_QUANTITY_LENGTH);
      nappe_finding_formula (finding, _("new rest of all levels with the tubes empty"));
      nappe_finding_input (finding, "", _("rise of the display"), passage->display_rise, NAPPE_QUANTITY_LENGTH);
      nappe_finding_input (finding, "", _("left under the rim"), passage->freeboard, NAPPE_QUANTITY_LENGTH);
      /* Translators: "When the siphon tubes of ... lose their siphon,", height, height. */
      nappe_finding_say (
          finding, _("%s the display rises %s and stands %s below its rim; the pump then has nothing left to lift."),
          what, NAPPE_SAY_LENGTH (context, fmax (0, passage->display_rise)),
          NAPPE_SAY_LENGTH (context, passage->freeboard));
    }
  if (passage->floods)
    {
      /* Translators: %s is a volume. */
      nappe_finding_cure (finding, _("Let the return chamber hold %s less above the level at which the pump draws air."),
                          NAPPE_SAY_VOLUME (context, passage->state.spilled));
      nappe_levers_lower_kept_level (context, finding);
      nappe_levers_raise_tank (context, finding);
    }
  nappe_finding_cure (finding, _("An overflow through a drilled wall has nothing that could lose its siphon. Until then clean "
                                 "the tubes often, and look that no air stands in them."));
}

/* A box that hangs on the rim is fed by siphon tubes: like a single drain, it is always said. It is a danger unless all
 * that the pump can lift fits above the display's running level. */
void
nappe_rule_siphon_tubes (NappeRuleContext *context)
{
  const NappeStudy *study = context->study;

  if (!needs_passage (context, NAPPE_LINK_JOINT, _("Does not apply: no overflow has siphon tubes over the rim.")))
    return;
  for (guint i = 0; i < study->n_passages; i++)
    {
      const NappeLink *link = passage_link (context, &study->passage_blocked[i]);
      if (link->kind == NAPPE_LINK_JOINT)
        report_tubes (context, &study->passage_blocked[i], link->id);
    }
}

static void
cure_sock (NappeRuleContext *context, NappeFinding *finding, const char *part, double lower)
{
  const NappeEquipment *equipment = NAPPE_EQUIPMENT (nappe_build_find (context->build, part));

  /* Translators: %s is a height. */
  nappe_finding_cure (finding, _("Set the sock’s holder lower by %s, or take a higher sump."), NAPPE_SAY_LENGTH (context, lower));
  nappe_levers_number (context, finding, part, "base_height", 0, equipment->base_height);
  nappe_levers_grow_sump (context, finding);
}

static void
report_sock (NappeRuleContext *context, const NappeBlockage *passage, const NappeLink *sock)
{
  const char *part = sock->id, *name = nappe_rule_name (context, part);
  /* Translators: start of a sentence; %s is a filter sock. */
  const char *what = nappe_rule_text (context, _("With %s clogged,"), name);
  double wanted = nappe_rule_limit (context, NAPPE_LIMIT_BARE_MARGIN);

  if (!is_known (context, passage, part, what))
    return;
  if (passage->floods)
    {
      NappeFinding *flood = nappe_rule_find (context, NAPPE_SEVERITY_DANGER, _("Clogged filter sock floods"), part);
      nappe_say_blockage_flood (context, flood, passage, what);
      nappe_finding_cure (flood, _("Let the sock’s holder end further below the sump’s rim, so that the water goes over it into "
                                   "its own chamber; add a second sock."));
      nappe_levers_grow_sump (context, flood);
      return;
    }
  double over = passage->state.level[sock->from] - sock->sock.top;
  double margin = context->network->nodes[sock->to].rim - passage->state.level[sock->from];
  gboolean little = !(margin >= wanted), above = !(margin > 0);
  NappeFinding *finding = little ? nappe_rule_find (context, above ? NAPPE_SEVERITY_PROBLEM : NAPPE_SEVERITY_ADVICE,
                                                    above ? _("Clogged filter sock stands over the sump’s rim")
                                                          : _("Little room over a clogged filter sock"),
                                                    part)
                                 : nappe_rule_fine (context, part, margin, wanted, NAPPE_QUANTITY_LENGTH);
  nappe_finding_measure (finding, margin, wanted, NAPPE_QUANTITY_LENGTH);
  if (above)
    /* Translators: "With ... clogged,", height, height. */
    nappe_finding_say (finding, _("%s the water goes over its holder unfiltered, %s deep, and stands %s above the sump’s rim: it "
                                  "stays in the sump only as long as it falls inwards on all sides."),
                       what, NAPPE_SAY_LENGTH (context, fmax (0, over)), NAPPE_SAY_LENGTH (context, -margin));
  else
    /* Translators: "With ... clogged,", height, height. */
    nappe_finding_say (finding, _("%s the water goes over its holder unfiltered, %s deep, and stands %s below the sump’s rim."),
                       what, NAPPE_SAY_LENGTH (context, fmax (0, over)), NAPPE_SAY_LENGTH (context, margin));
  nappe_finding_formula (finding, _("new rest of all levels with the cloth closed"));
  nappe_finding_input (finding, "", _("water over the holder’s edge"), over, NAPPE_QUANTITY_LENGTH);
  nappe_finding_input (finding, "", _("left under the sump’s rim"), margin, NAPPE_QUANTITY_LENGTH);
  if (!little)
    return;
  if (!above)
    nappe_finding_say (finding, _("That is less than such levels are known to: it may spill."));
  cure_sock (context, finding, part, wanted - margin);
}

/* Every filter sock clogs within days: the water must then find its way over the holder, and not over the sump's rim. */
void
nappe_rule_sock_clogged (NappeRuleContext *context)
{
  const NappeStudy *study = context->study;

  if (!needs_passage (context, NAPPE_LINK_SOCK, _("Does not apply: no water is led into a filter sock.")))
    return;
  for (guint i = 0; i < study->n_passages; i++)
    {
      const NappeLink *link = passage_link (context, &study->passage_blocked[i]);
      if (link->kind == NAPPE_LINK_SOCK)
        report_sock (context, &study->passage_blocked[i], link);
    }
}

/* The pump that feeds a vessel out of the display; NULL: none does. */
static const NappePump *
pump_in_display (NappeRuleContext *context, const char *vessel)
{
  for (guint i = 0; i < context->build->returns->len; i++)
    {
      NappeReturnLine *line = context->build->returns->pdata[i];
      for (guint outlet = 0; outlet < line->outlets->len; outlet++)
        if (g_str_equal (NAPPE_OUTLET (line->outlets->pdata[outlet])->into, vessel)
            && g_str_equal (NAPPE_PUMP (line->pump)->chamber, nappe_rule_id (context->build->tank)))
          return NAPPE_PUMP (line->pump);
    }
  return NULL;
}

static void
report_spout (NappeRuleContext *context, const NappeBlockage *passage, const char *vessel)
{
  const char *name = nappe_rule_name (context, vessel);
  /* Translators: start of a sentence; %s is a vessel beside the tank, such as a refugium. */
  const char *what = nappe_rule_text (context, _("With the spout of %s blocked,"), name);
  const NappePump *pump = pump_in_display (context, vessel);

  if (!is_known (context, passage, vessel, what))
    return;
  if (!passage->floods)
    {
      NappeFinding *fine = nappe_rule_fine (context, vessel, passage->state.spilled, 0, NAPPE_QUANTITY_VOLUME);
      /* Translators: "With the spout of ... blocked,". */
      nappe_finding_say (fine, _("%s its pump draws air before any water runs over."), what);
      return;
    }
  NappeFinding *finding = nappe_rule_find (context, NAPPE_SEVERITY_DANGER, _("Blocked spout floods"), vessel);
  nappe_say_blockage_flood (context, finding, passage, what);
  if (passage->display_rise < -0.001)
    /* Translators: %s is a height. */
    nappe_finding_say (finding, _("The display falls by %s: all that is pumped out of it lies on the floor."),
                       NAPPE_SAY_LENGTH (context, -passage->display_rise));
  nappe_finding_cure (finding, _("Give the vessel a second way out above the spout, and keep a comb before both."));
  if (pump == NULL)
    return;
  /* Translators: %s is a pump. */
  nappe_finding_cure (
      finding,
      _("Set the inlet of %s just under the running level: then no more runs over than the return chamber "
         "and a little of the display give."),
      nappe_rule_name (context, nappe_rule_id (pump)));
  guint display = context->network->display;
  nappe_levers_number (context, finding, nappe_rule_id (pump), "inlet_height", pump->inlet_height,
                       context->study->running.level[display] - context->network->nodes[display].floor
                           - nappe_rule_limit (context, NAPPE_LIMIT_PUMP_COVER));
}

/* A vessel beside the tank is fed by a pump: when its spout closes, the pump puts what it draws on the floor, until it
 * draws air. One that draws from the display can empty it down to its inlet. */
void
nappe_rule_spout_blocked (NappeRuleContext *context)
{
  const NappeStudy *study = context->study;

  if (!needs_passage (context, NAPPE_LINK_WEIR, _("Does not apply: no vessel beside the tank has a spout.")))
    return;
  for (guint i = 0; i < study->n_passages; i++)
    {
      const NappeLink *link = passage_link (context, &study->passage_blocked[i]);
      if (link->kind == NAPPE_LINK_WEIR)
        report_spout (context, &study->passage_blocked[i], link->id);
    }
}
