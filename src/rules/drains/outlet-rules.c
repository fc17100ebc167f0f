/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where pipes end: not so deep that a siphon cannot push its air out, and not so high that the water splashes. */
#include "rules/rule-levers.h"
#include "rules/rule-list.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* The link that ends in an outlet, from `after` on; G_MAXUINT: no more. line: its line's id, NULL: any. */
static guint
next_end (NappeRuleContext *context, const char *line, guint after)
{
  const NappeNetwork *network = context->network;

  for (guint i = after; i < network->n_links; i++)
    {
      const NappeLink *link = &network->links[i];
      gboolean pipe = link->kind == NAPPE_LINK_DRAIN || link->kind == NAPPE_LINK_PIPE;
      if (pipe && *link->outlet != '\0' && network->nodes[link->to].kind != NAPPE_NODE_JUNCTION
          && (line == NULL || g_str_equal (link->line, line)))
        return i;
    }
  return G_MAXUINT;
}

/* The end of a link's pipe under the surface that it ends in; negative: over it [m]. */
static double
depth_of (NappeRuleContext *context, const NappeState *state, guint link)
{
  const NappeLink *pipe = &context->network->links[link];
  return state->level[pipe->to] - pipe->sill;
}

/* The pipe that leads down last to an outlet, or NULL. */
static NappePiece *
last_drop (NappeRuleContext *context, const NappeLink *link)
{
  NappePart *outlet = nappe_build_find (context->build, link->outlet);
  NappePart *line = outlet != NULL ? nappe_part_get_owner (outlet) : NULL;

  if (line == NULL || !NAPPE_IS_OUTLET (outlet))
    return NULL;
  gboolean at_end = *NAPPE_OUTLET (outlet)->tee == '\0';
  GPtrArray *runs[] = { NAPPE_OUTLET (outlet)->run, !at_end                  ? NULL
                                                    : NAPPE_IS_DRAIN (line) ? NAPPE_DRAIN (line)->run
                                                                            : NAPPE_RETURN_LINE (line)->run };
  for (gsize run = 0; run < G_N_ELEMENTS (runs); run++)
    for (guint i = runs[run] != NULL ? runs[run]->len : 0; i > 0; i--)
      {
        NappePiece *piece = runs[run]->pdata[i - 1];
        if (piece->length > 0 && piece->toward == NAPPE_TOWARD_DOWN)
          return piece;
      }
  return NULL;
}

static void
report_outlet_depth (NappeRuleContext *context, const NappeDrainReport *report, guint end)
{
  const NappeLink *link = &context->network->links[end];
  const NappePowerCut *cut = &context->study->cut_check_failed;
  double limit = nappe_rule_limit (context, NAPPE_LIMIT_OUTLET_DEPTH);
  double depth = depth_of (context, &context->study->running, end);
  gboolean deep = depth > limit;
  NappeFinding *finding
      = deep ? nappe_rule_find (context, NAPPE_SEVERITY_ADVICE, _("Siphon ends deep under water"), report->id)
             : nappe_rule_fine (context, report->id, depth, limit, NAPPE_QUANTITY_LENGTH);

  nappe_finding_measure (finding, depth, limit, NAPPE_QUANTITY_LENGTH);
  if (depth < 0)
    /* Translators: drain, height, vessel. */
    nappe_finding_say (finding, _("%s ends %s over the water of %s."), nappe_rule_name (context, report->id),
                       NAPPE_SAY_LENGTH (context, -depth),
                       nappe_rule_name (context, context->network->nodes[link->to].id));
  else
    /* Translators: drain, depth, vessel. */
    nappe_finding_say (finding, _("%s ends %s under the water of %s."), nappe_rule_name (context, report->id),
                       NAPPE_SAY_LENGTH (context, depth),
                       nappe_rule_name (context, context->network->nodes[link->to].id));
  nappe_finding_formula (finding, _("level of the vessel − end of the pipe"));
  nappe_finding_input (finding, "", _("depth while the pump runs"), depth, NAPPE_QUANTITY_LENGTH);
  if (cut->known)
    nappe_finding_input (finding, "", _("depth after a power cut"), depth_of (context, &cut->state, end),
                         NAPPE_QUANTITY_LENGTH);
  if (!deep)
    return;
  nappe_finding_say (finding, _("When the pump starts, the air in the pipe has to get out there. The deeper the end "
                                "lies, the longer the siphon gulps before it runs full, and it may never fill."));
  /* Translators: height, depth. */
  nappe_finding_cure (finding, _("Cut the pipe %s shorter, so that it ends at most %s under the water."),
                      nappe_rule_at_least (context, NAPPE_QUANTITY_LENGTH, depth - limit),
                      NAPPE_SAY_LENGTH (context, limit));
  const NappePiece *pipe = last_drop (context, link);
  if (pipe != NULL)
    nappe_finding_offer (finding, nappe_lever_new_number (nappe_rule_id (pipe), "length", fmax (0, pipe->length - depth),
                                                          pipe->length));
}

static gboolean
check_outlet_depth (NappeRuleContext *context, const NappeDrainReport *report)
{
  const NappeStudy *study = context->study;
  guint highest = G_MAXUINT;

  for (guint end = next_end (context, report->id, 0); end != G_MAXUINT; end = next_end (context, report->id, end + 1))
    if (highest == G_MAXUINT || depth_of (context, &study->running, end) < depth_of (context, &study->running, highest))
      highest = end;
  if (highest == G_MAXUINT)
    return FALSE;
  report_outlet_depth (context, report, highest);
  return TRUE;
}

/* Of each siphon the end that lies highest: there its air gets out. */
void
nappe_rule_siphon_outlet_deep (NappeRuleContext *context)
{
  if (nappe_rule_needs_siphon (context) && nappe_rule_needs_running (context))
    nappe_rule_check_siphons (context, check_outlet_depth, _("Not checked: the siphon leads nowhere."));
}

static void
report_splash (NappeRuleContext *context, guint end)
{
  const NappeLink *link = &context->network->links[end];
  double limit = nappe_rule_limit (context, NAPPE_LIMIT_OUTLET_DROP);
  double drop = -depth_of (context, &context->study->running, end);
  NappeFinding *finding
      = nappe_rule_find (context, NAPPE_SEVERITY_ADVICE, _("Water falls from a pipe’s end"), link->outlet);

  nappe_finding_measure (finding, drop, limit, NAPPE_QUANTITY_LENGTH);
  /* Translators: pipe's end, height, vessel. */
  nappe_finding_say (finding,
                     _("%s ends %s over the water of %s. What comes out falls: it splashes, is heard, carries bubbles "
                       "down and leaves salt on whatever is near."),
                     nappe_rule_name (context, link->outlet), NAPPE_SAY_LENGTH (context, drop),
                     nappe_rule_name (context, context->network->nodes[link->to].id));
  nappe_finding_formula (finding, _("end of the pipe − level of the vessel"));
  nappe_finding_input (finding, "", _("flow"), context->study->running.flow[end], NAPPE_QUANTITY_FLOW);
  /* Translators: %s is a length. */
  nappe_finding_cure (finding, _("Make the pipe %s longer, so that it ends just under the water."),
                      NAPPE_SAY_LENGTH (context, drop));
  const NappePiece *pipe = last_drop (context, link);
  /* Some millimetres more, since the level is good to that. */
  if (pipe != NULL)
    nappe_finding_offer (finding, nappe_lever_new_number (nappe_rule_id (pipe), "length", pipe->length,
                                                          pipe->length + drop + limit));
}

/* A filter sock's cloth catches the splash. An emergency drain is to be heard when it runs. */
static gboolean
may_splash (NappeRuleContext *context, const NappeLink *link)
{
  const NappeDrainReport *drain = nappe_study_drain (context->study, link->line);
  return context->network->nodes[link->to].kind == NAPPE_NODE_SOCK
         || (drain != NULL && drain->role == NAPPE_DRAIN_EMERGENCY);
}

/* What runs out of a pipe's end does not fall. */
void
nappe_rule_outlet_splashes (NappeRuleContext *context)
{
  const NappeState *running = &context->study->running;
  double limit = nappe_rule_limit (context, NAPPE_LIMIT_OUTLET_DROP), worst = -INFINITY;
  guint checked = 0, found = 0;

  if (!nappe_rule_needs_running (context))
    return;
  for (guint end = next_end (context, NULL, 0); end != G_MAXUINT; end = next_end (context, NULL, end + 1))
    {
      if (!(running->flow[end] > nappe_rule_limit (context, NAPPE_LIMIT_TRICKLE))
          || may_splash (context, &context->network->links[end]))
        continue;
      checked++;
      worst = fmax (worst, -depth_of (context, running, end));
      if (!(-depth_of (context, running, end) <= limit))
        {
          report_splash (context, end);
          found++;
        }
    }
  if (checked == 0)
    nappe_rule_not_checked (context, _("Does not apply: no water comes out of a pipe that could splash."));
  else if (found == 0)
    {
      NappeFinding *fine = nappe_rule_fine (context, "", worst, limit, NAPPE_QUANTITY_LENGTH);
      nappe_finding_say (fine,
                         /* Translators: %u is how many ends of pipes were checked. */
                         g_dngettext (GETTEXT_PACKAGE, "%u pipe that carries water ends in the water that it leads to.",
                                      "%u pipes that carry water end in the water that they lead to.", checked),
                         checked);
    }
}
