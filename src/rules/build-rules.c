/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Whether the build is whole and its parts meet: what cannot be computed, lengths that do not add
 * up, pipes that end outside what they lead to. */
#include "rules/rule-list.h"

#include <glib/gi18n-lib.h>
#include <math.h>

static void
report_not_found (NappeRuleContext *context)
{
  const NappeState *state = &context->study->running;
  const char *part = state->worst_node < context->network->n_nodes ? context->network->nodes[state->worst_node].id : "";
  NappeFinding *finding = nappe_rule_find (context, NAPPE_SEVERITY_PROBLEM, _("No running state found"), part);

  nappe_finding_measure (finding, state->residual, nappe_rule_limit (context, NAPPE_LIMIT_TRICKLE), NAPPE_QUANTITY_FLOW);
  if (*part != '\0')
    /* Translators: vessel, flow. */
    nappe_finding_say (finding,
                       _("The levels could not be computed: at %s inflow and outflow still differ by %s. Nothing that "
                          "follows from them was checked."),
                       nappe_rule_name (context, part), NAPPE_SAY_FLOW (context, state->residual));
  else
    /* Translators: %s is a flow. */
    nappe_finding_say (finding,
                       _("The levels could not be computed: inside the pipes inflow and outflow still differ by %s. "
                          "Nothing that follows from them was checked."),
                       NAPPE_SAY_FLOW (context, state->residual));
  nappe_finding_cure (finding, _("Look there for a size or a height that cannot be right."));
}

/* Everything that kept the build from being computed whole. */
void
nappe_rule_build_incomplete (NappeRuleContext *context)
{
  const NappeNetwork *network = context->network;
  NappeRest rest = context->study->running.rest;

  for (guint i = 0; i < network->n_problems; i++)
    {
      NappeFinding *finding
          = nappe_rule_find (context, NAPPE_SEVERITY_PROBLEM, _("Build is incomplete"), network->problems[i].part);
      nappe_finding_say (finding, "%s", network->problems[i].text);
      nappe_finding_cure (finding, _("Give what is missing, or correct what it refers to."));
    }
  if (rest == NAPPE_REST_NOT_FOUND)
    report_not_found (context);
  else if (rest == NAPPE_REST_NOT_RUNNABLE && network->n_problems == 0)
    {
      NappeFinding *finding = nappe_rule_find (context, NAPPE_SEVERITY_PROBLEM, _("Nothing flows"), "");
      nappe_finding_say (finding,
                         _("The build has all its parts, but the pump moves no water through them as drawn."));
      nappe_finding_cure (finding, _("Look for a valve drawn shut, a pump at no speed, or an empty return chamber."));
    }
  else if (network->n_problems == 0)
    {
      NappeFinding *fine = nappe_rule_fine (context, "", context->study->running.residual,
                                            nappe_rule_limit (context, NAPPE_LIMIT_TRICKLE), NAPPE_QUANTITY_FLOW);
      nappe_finding_say (fine, _("The build is whole, and every part could be computed."));
    }
}

/* The longest chamber so much shorter or longer, where it stays half as long; or the sump.
 * difference: chambers and baffles over the sump's length [m] */
static void
offer_lengths (NappeRuleContext *context, NappeFinding *finding, double difference)
{
  const NappeSump *sump = NAPPE_BUILD_SUMP (context->build);
  const NappeChamber *longest = sump->chambers->pdata[0];

  for (guint i = 1; i < sump->chambers->len; i++)
    {
      const NappeChamber *chamber = sump->chambers->pdata[i];
      longest = chamber->length > longest->length ? chamber : longest;
    }
  double wanted = longest->length - difference;
  if (wanted > 0.5 * longest->length)
    nappe_finding_offer (finding, nappe_lever_new_number (nappe_rule_id (longest), "length",
                                                          fmin (wanted, longest->length), fmax (wanted, longest->length)));
  wanted = sump->length + difference;
  nappe_finding_offer (finding, nappe_lever_new_number (nappe_rule_id (sump), "length", fmin (wanted, sump->length),
                                                        fmax (wanted, sump->length)));
}

/* The chambers and baffles, side by side, fill the sump from end to end. */
void
nappe_rule_geometry_mismatch (NappeRuleContext *context)
{
  const NappeSump *sump = NAPPE_BUILD_SUMP (context->build);
  const char *id = nappe_rule_id (context->build->sump);
  double sum = 0;

  if (sump->chambers->len == 0)
    {
      nappe_rule_not_checked (context, _("Does not apply: the sump has no chambers."));
      return;
    }
  for (guint i = 0; i < sump->chambers->len; i++)
    sum += NAPPE_CHAMBER (sump->chambers->pdata[i])->length;
  for (guint i = 0; i < sump->baffles->len; i++)
    sum += NAPPE_BAFFLE (sump->baffles->pdata[i])->thickness;
  double difference = sum - sump->length;
  gboolean misfit = fabs (difference) > nappe_rule_limit (context, NAPPE_LIMIT_MISFIT);
  NappeFinding *finding
      = misfit ? nappe_rule_find (context, NAPPE_SEVERITY_PROBLEM, _("Chambers do not fill the sump"), id)
               : nappe_rule_fine (context, id, sum, sump->length, NAPPE_QUANTITY_LENGTH);

  nappe_finding_measure (finding, sum, sump->length, NAPPE_QUANTITY_LENGTH);
  /* Translators: length, length. */
  nappe_finding_say (finding, _("Chambers and baffles are %s long together; the sump is %s long inside."),
                     NAPPE_SAY_LENGTH (context, sum), NAPPE_SAY_LENGTH (context, sump->length));
  nappe_finding_formula (finding, _("chambers + baffles − inside length"));
  nappe_finding_input (finding, "", _("chambers and baffles"), sum, NAPPE_QUANTITY_LENGTH);
  nappe_finding_input (finding, "", _("inside length"), sump->length, NAPPE_QUANTITY_LENGTH);
  if (!misfit)
    return;
  offer_lengths (context, finding, difference);
  if (difference > 0)
    /* Translators: %s is a length. */
    nappe_finding_cure (finding, _("Make one chamber %s shorter, or the sump that much longer."),
                        NAPPE_SAY_LENGTH (context, difference));
  else
    /* Translators: %s is a length. */
    nappe_finding_cure (finding, _("Make one chamber %s longer, or the sump that much shorter."),
                        NAPPE_SAY_LENGTH (context, -difference));
}

/* The inside of the vessel that a part is, or NULL. */
static const NappeFrame *
frame_of (NappeRuleContext *context, const char *id)
{
  const NappeLayout *layout = context->layout;
  if (g_str_equal (id, nappe_rule_id (context->build->tank)))
    return &layout->tank;
  for (guint i = 0; i < layout->n_boxes; i++)
    if (g_str_equal (id, nappe_rule_id (layout->boxes[i].part)))
      return &layout->boxes[i].frame;
  for (guint i = 0; i < layout->n_chambers; i++)
    if (g_str_equal (id, nappe_rule_id (layout->chambers[i].part)))
      return &layout->chambers[i].frame;
  return NULL;
}

/* How far a number lies outside a range: negative below, positive above, 0 within. */
static double
outside (double value, double low, double high)
{
  return value < low ? value - low : value > high ? value - high : 0;
}

static void
say_misfit (NappeRuleContext *context, NappeFinding *finding, const char *line, const char *vessel, double sideways,
            double up)
{
  if (sideways < 0)
    /* Translators: line, length, vessel. */
    nappe_finding_say (finding, _("As its pieces are drawn, %s ends %s to the left of %s."), line,
                       NAPPE_SAY_LENGTH (context, -sideways), vessel);
  else if (sideways > 0)
    /* Translators: line, length, vessel. */
    nappe_finding_say (finding, _("As its pieces are drawn, %s ends %s to the right of %s."), line,
                       NAPPE_SAY_LENGTH (context, sideways), vessel);
  if (up < 0)
    /* Translators: line, height, vessel. */
    nappe_finding_say (finding, _("As its pieces are drawn, %s ends %s below the floor of %s."), line,
                       NAPPE_SAY_LENGTH (context, -up), vessel);
  else if (up > 0)
    /* Translators: line, height, vessel. */
    nappe_finding_say (finding, _("As its pieces are drawn, %s ends %s above the rim of %s."), line,
                       NAPPE_SAY_LENGTH (context, up), vessel);
  if (sideways < 0)
    /* Translators: %s is a length. */
    nappe_finding_cure (finding, _("Lead it %s more to the right."), NAPPE_SAY_LENGTH (context, -sideways));
  else if (sideways > 0)
    /* Translators: %s is a length. */
    nappe_finding_cure (finding, _("Lead it %s more to the left."), NAPPE_SAY_LENGTH (context, sideways));
  if (up < 0)
    /* Translators: %s is a height. */
    nappe_finding_cure (finding, _("End it %s higher."), NAPPE_SAY_LENGTH (context, -up));
  else if (up > 0)
    /* Translators: %s is a height. */
    nappe_finding_cure (finding, _("End it %s lower."), NAPPE_SAY_LENGTH (context, up));
}

/* The last pipe of a route that leads one way or the other; NULL: none. */
static const NappePiece *
last_pipe (const NappeRoute *route, guint n_legs, int one, int other)
{
  for (guint i = n_legs; i > 0; i--)
    {
      const NappePiece *piece = route->legs[i - 1].piece;
      if (piece->length > 0 && (piece->toward == one || piece->toward == other))
        return piece;
    }
  return NULL;
}

/* The end has to move by a distance [m] toward a side: the last pipe that leads there is to be longer, or the one that
 * leads back shorter. */
static void
offer_pipe (NappeFinding *finding, const NappeLineLayout *line, const NappeOutletLayout *outlet, int toward,
            double distance)
{
  /* Opposites stand in pairs in NappeToward. */
  int back = toward ^ 1;
  guint before = outlet->tee_leg >= 0 ? (guint)outlet->tee_leg : line->trunk.n_legs;
  const NappePiece *pipe = last_pipe (&outlet->route, outlet->route.n_legs, toward, back);

  if (pipe == NULL)
    pipe = last_pipe (&line->trunk, before, toward, back);
  if (pipe == NULL)
    return;
  /* Twice the way: any end inside the vessel will do. */
  if (pipe->toward == toward)
    nappe_finding_offer (finding, nappe_lever_new_number (nappe_rule_id (pipe), "length", pipe->length,
                                                          pipe->length + 2 * distance));
  else if (pipe->length > distance)
    nappe_finding_offer (finding, nappe_lever_new_number (nappe_rule_id (pipe), "length",
                                                          fmax (0, pipe->length - 2 * distance), pipe->length));
}

/* TRUE when the outlet ends where it should. */
static gboolean
check_route_end (NappeRuleContext *context, const NappeLineLayout *line, const NappeOutletLayout *outlet)
{
  const NappeFrame *frame = frame_of (context, outlet->part->into);
  const char *id = nappe_rule_id (outlet->part);
  double limit = nappe_rule_limit (context, NAPPE_LIMIT_PIPE_END);

  /* What leads nowhere, or begins at no tee, is said of the incomplete build. */
  if (frame == NULL || outlet->tee_leg == -2)
    return TRUE;
  double sideways = outside (outlet->route.end.x, frame->left, frame->right);
  double up = outside (outlet->route.end.z, frame->floor, frame->rim);
  if (fabs (sideways) <= limit && fabs (up) <= limit)
    return TRUE;
  NappeFinding *finding
      = nappe_rule_find (context, NAPPE_SEVERITY_PROBLEM, _("Pipe ends outside what it leads to"), id);
  nappe_finding_measure (finding, fmax (fabs (sideways), fabs (up)), limit, NAPPE_QUANTITY_LENGTH);
  say_misfit (context, finding, nappe_rule_name (context, id), nappe_rule_name (context, outlet->part->into),
              fabs (sideways) > limit ? sideways : 0, fabs (up) > limit ? up : 0);
  nappe_finding_formula (finding, _("end of the run, summed up from its pieces, against the inside of the vessel"));
  nappe_finding_input (finding, "x", _("end of the run from the stand’s left side"), outlet->route.end.x,
                       NAPPE_QUANTITY_LENGTH);
  nappe_finding_input (finding, "", _("vessel’s left side"), frame->left, NAPPE_QUANTITY_LENGTH);
  nappe_finding_input (finding, "", _("vessel’s right side"), frame->right, NAPPE_QUANTITY_LENGTH);
  nappe_finding_input (finding, "z", _("end of the run over the room’s floor"), outlet->route.end.z,
                       NAPPE_QUANTITY_LENGTH);
  nappe_finding_input (finding, "", _("vessel’s floor"), frame->floor, NAPPE_QUANTITY_LENGTH);
  nappe_finding_input (finding, "", _("vessel’s rim"), frame->rim, NAPPE_QUANTITY_LENGTH);
  if (fabs (sideways) > limit)
    offer_pipe (finding, line, outlet, sideways > 0 ? NAPPE_TOWARD_LEFT : NAPPE_TOWARD_RIGHT, fabs (sideways));
  if (fabs (up) > limit)
    offer_pipe (finding, line, outlet, up > 0 ? NAPPE_TOWARD_DOWN : NAPPE_TOWARD_UP, fabs (up));
  return FALSE;
}

/* Each run of pipe ends inside the vessel that it is said to lead to. */
void
nappe_rule_route_mismatch (NappeRuleContext *context)
{
  const NappeLayout *layout = context->layout;
  guint checked = 0;
  gboolean all_end_well = TRUE;

  if (layout == NULL)
    {
      nappe_rule_not_checked (context, _("Not checked: there is no catalogue to lay the pipes out with."));
      return;
    }
  for (guint i = 0; i < layout->n_drains + layout->n_returns; i++)
    {
      const NappeLineLayout *line = i < layout->n_drains ? &layout->drains[i] : &layout->returns[i - layout->n_drains];
      for (guint outlet = 0; outlet < line->n_outlets; outlet++, checked++)
        all_end_well &= check_route_end (context, line, &line->outlets[outlet]);
    }
  if (!all_end_well)
    return;
  NappeFinding *fine
      = nappe_rule_fine (context, "", 0, nappe_rule_limit (context, NAPPE_LIMIT_PIPE_END), NAPPE_QUANTITY_LENGTH);
  nappe_finding_say (fine,
                     /* Translators: %u is how many ends of pipes were checked. */
                     g_dngettext (GETTEXT_PACKAGE, "%u pipe ends inside the vessel that it leads to.",
                                  "%u pipes end inside the vessels that they lead to.", checked),
                     checked);
}
