/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Hoses: what holds them on, where they kink, and what flattens them. */
#include "rules/rule-list.h"

#include "physics/gravity.h"
#include "physics/pipe-strength.h"
#include "rules/joints/joints.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* Radius of a bend that the planner does not give, in outside diameters, as the network takes it. */
#define USUAL_BEND 4.0

/* ---- clamps ---- */

/* The hose of a joint that a clamp holds: it meets something else than hose. NULL: none. */
static NappePiece *
clamped_hose (const NappePipeJoint *joint)
{
  gboolean first = joint->before.end.method == NAPPE_END_HOSE, second = joint->after.end.method == NAPPE_END_HOSE;
  if (first == second)
    return NULL;
  return NAPPE_PIECE (first ? joint->before.part : joint->after.part);
}

static void
report_unclamped (NappeRuleContext *context, const NappePipeJoint *joint, const NappePiece *hose)
{
  gboolean pumped = NAPPE_IS_RETURN_LINE (joint->line);
  const char *id = nappe_rule_id (hose);
  NappeFinding *finding = nappe_rule_find (context, pumped ? NAPPE_SEVERITY_DANGER : NAPPE_SEVERITY_PROBLEM,
                                           _("Hose without clamps"), id);
  NappeLever *lever = nappe_lever_new_choice (id, "clamped");

  if (pumped)
    /* Translators: %s is a hose. */
    nappe_finding_say (finding, _("Nothing but friction holds %s on. The pump’s pressure works it loose, and then the "
                                  "pump empties its chamber wherever the hose ends."), nappe_rule_name (context, id));
  else
    /* Translators: %s is a hose. */
    nappe_finding_say (finding, _("Nothing but friction holds %s on. Its own weight and a knock in passing pull it "
                                  "off, and the drain pours beside the sump."), nappe_rule_name (context, id));
  nappe_finding_cure (finding, _("Put a clamp of plastic or of stainless steel on each end where the hose meets a "
                                 "barb, a pipe or the pump, and wipe salt off it now and then."));
  nappe_lever_add_choice (lever, "yes");
  nappe_finding_offer (finding, lever);
}

/* A clamp holds each end of a hose. */
void
nappe_rule_hose_unclamped (NappeRuleContext *context)
{
  const GArray *joints = nappe_rule_joints (context);
  g_autoptr (GHashTable) said = g_hash_table_new (NULL, NULL);
  guint held = 0, unknown = 0, bare = 0;

  for (guint i = 0; joints != NULL && i < joints->len; i++)
    {
      const NappePipeJoint *joint = &g_array_index (joints, NappePipeJoint, i);
      NappePiece *hose = clamped_hose (joint);
      if (hose == NULL)
        continue;
      held += hose->clamped == NAPPE_STATED_YES;
      unknown += hose->clamped == NAPPE_STATED_UNKNOWN;
      bare += hose->clamped == NAPPE_STATED_NO;
      if (hose->clamped == NAPPE_STATED_NO && g_hash_table_add (said, hose))
        report_unclamped (context, joint, hose);
    }
  if (held + unknown + bare == 0)
    nappe_rule_not_checked (context, _("Does not apply: no hose meets a barb, a pipe or a pump."));
  else if (bare == 0 && unknown > 0)
    /* Translators: %u is a count of joints. */
    nappe_rule_not_checked (context, nappe_rule_text (context, g_dngettext (GETTEXT_PACKAGE,
                            "Not checked: whether a clamp holds %u joint of a hose is not known.",
                            "Not checked: whether clamps hold %u joints of hoses is not known.", unknown), unknown));
  else if (bare == 0)
    nappe_finding_say (nappe_rule_fine (context, "", held, NAN, NAPPE_QUANTITY_COUNT),
                       _("Clamps hold the hoses."));
}

/* ---- bends ---- */

static const NappeItem *
hose_item (NappeRuleContext *context, const NappePiece *piece)
{
  const NappeItem *item = nappe_rule_item (context, piece->item);
  return item != NULL && item->kind == NAPPE_ITEM_HOSE ? item : NULL;
}

static gboolean
check_bend (NappeRuleContext *context, const NappePiece *hose, const NappeItem *item, double *tightest)
{
  double own = nappe_item_least_bend (item);
  double share = nappe_rule_limit (context, NAPPE_LIMIT_HOSE_BEND);
  double least = nappe_is_given (own) ? own : share * item->outside_diameter;
  double radius = nappe_is_given (hose->bend_radius) ? hose->bend_radius : USUAL_BEND * item->outside_diameter;
  const char *id = nappe_rule_id (hose);

  *tightest = fmin (*tightest, radius / least);
  if (radius >= least)
    return TRUE;
  NappeFinding *finding = nappe_rule_find (context, NAPPE_SEVERITY_PROBLEM, _("Hose bends so tightly that it kinks"),
                                           id);
  nappe_finding_measure (finding, radius, least, NAPPE_QUANTITY_LENGTH);
  /* Translators: hose, radius, radius. */
  nappe_finding_say (finding, _("%s turns with a radius of %s; below %s this hose folds flat. A kink chokes the flow, "
                                "and it comes later too, when warm water has softened the hose."),
                     nappe_rule_name (context, id), NAPPE_SAY_LENGTH (context, radius),
                     NAPPE_SAY_LENGTH (context, least));
  nappe_finding_formula (finding, nappe_is_given (own) ? _("least radius of the hose, as the catalogue has it")
                                                       : _("least radius = times × outside diameter"));
  nappe_finding_input (finding, "", _("radius of the bend"), radius, NAPPE_QUANTITY_LENGTH);
  nappe_finding_input (finding, "", _("outside diameter"), item->outside_diameter, NAPPE_QUANTITY_LENGTH);
  nappe_finding_input (finding, "", _("times"), nappe_is_given (own) ? NAN : share, NAPPE_QUANTITY_NUMBER);
  /* Translators: %s is a radius. */
  nappe_finding_cure (finding, _("Lead the hose round with a radius of at least %s, or turn with an elbow and two "
                                 "barbs."),
                      NAPPE_SAY_LENGTH (context, least));
  NappeLever *lever = nappe_lever_new_number (id, "bend_radius", radius, fmax (2 * least, 0.5));
  nappe_lever_begin_at (lever, radius);
  nappe_finding_offer (finding, lever);
  return FALSE;
}

/* No hose turns more tightly than it stands. */
void
nappe_rule_hose_kinks (NappeRuleContext *context)
{
  g_autoptr (GPtrArray) lines = nappe_rule_lines (context);
  guint bends = 0, bad = 0;
  double tightest = INFINITY;

  for (guint line = 0; line < lines->len; line++)
    {
      g_autoptr (GPtrArray) pieces = nappe_rule_pieces (lines->pdata[line]);
      for (guint i = 0; i + 1 < pieces->len; i++)
        {
          const NappePiece *hose = pieces->pdata[i], *next = pieces->pdata[i + 1];
          const NappeItem *item = hose_item (context, hose);
          if (item == NULL || hose_item (context, next) == NULL || hose->toward == next->toward
              || nappe_part_get_owner (pieces->pdata[i]) != nappe_part_get_owner (pieces->pdata[i + 1]))
            continue;
          bends++;
          bad += !check_bend (context, hose, item, &tightest);
        }
    }
  if (bends == 0)
    nappe_rule_not_checked (context, _("Does not apply: no hose turns."));
  else if (bad == 0)
    nappe_finding_say (nappe_rule_fine (context, "", tightest, 1, NAPPE_QUANTITY_NUMBER),
                       _("Every bend of a hose is wide enough; the number is the tightest against its least radius."));
}

/* ---- suction ---- */

/* Young's modulus of warm soft hose [Pa]: the soft end of what is sold; common handbook values, from memory. */
static double
softness (const char *material)
{
  return g_strcmp0 (material, "vinyl") == 0 ? 5e6 : g_strcmp0 (material, "silicone") == 0 ? 2e6 : NAN;
}

#define RUBBERY 0.48 /* Poisson's ratio of soft plastics, which hardly change their volume */

/* Lowest surface that a drain's outlets end in; its own end where that is not known. z [m] */
static double
lower_surface (NappeRuleContext *context, const NappeLineLayout *line)
{
  double lowest = line->trunk.end.z;
  for (guint i = 0; i < line->n_outlets; i++)
    {
      const NappeNode *node = nappe_rule_node (context, line->outlets[i].part->into);
      double end = line->outlets[i].route.end.z;
      if (node != NULL)
        end = fmax (end, context->study->running.level[node - context->network->nodes]);
      lowest = i == 0 ? end : fmin (lowest, end);
    }
  return lowest;
}

/* 1 checked and fine, 0 a finding, -1 nothing to check. */
static int
check_suction (NappeRuleContext *context, const NappeLeg *leg, double surface)
{
  double elasticity = leg->item != NULL && leg->item->kind == NAPPE_ITEM_HOSE && !leg->item->reinforced
                          ? softness (nappe_rule_material (context, leg->piece)) : NAN;
  if (isnan (elasticity))
    return -1;
  double collapse = nappe_tube_collapse (elasticity, RUBBERY, leg->item->outside_diameter, leg->item->wall);
  double suction = context->network->water.density * NAPPE_GRAVITY * fmax (0, fmax (leg->from.z, leg->to.z) - surface);
  double wanted = nappe_rule_limit (context, NAPPE_LIMIT_HOSE_SUCTION) * suction;
  const char *id = nappe_rule_id (leg->piece);
  gboolean stands = collapse >= wanted;
  NappeFinding *finding = stands ? nappe_rule_fine (context, id, collapse, wanted, NAPPE_QUANTITY_PRESSURE)
                                 : nappe_rule_find (context, NAPPE_SEVERITY_ADVICE, _("Soft hose in a siphon"), id);

  nappe_finding_measure (finding, collapse, wanted, NAPPE_QUANTITY_PRESSURE);
  nappe_finding_formula (finding, _("2 E / (1 − ν²) (t/D)³ against a multiple of the suction, ρ g × height over the "
                                    "lower surface"));
  nappe_finding_input (finding, "E", _("Young’s modulus of soft hose"), elasticity, NAPPE_QUANTITY_PRESSURE);
  nappe_finding_input (finding, "t", _("wall"), leg->item->wall, NAPPE_QUANTITY_LENGTH);
  nappe_finding_input (finding, "D", _("diameter to the middle of the wall"),
                       leg->item->outside_diameter - leg->item->wall, NAPPE_QUANTITY_LENGTH);
  nappe_finding_input (finding, "", _("suction"), suction, NAPPE_QUANTITY_PRESSURE);
  /* Translators: hose, pressure, pressure. */
  nappe_finding_say (finding, _("The siphon sucks at %s with %s; a straight round hose of this kind flattens at about "
                                "%s."),
                     nappe_rule_name (context, id), nappe_rule_number (context, NAPPE_QUANTITY_PRESSURE, suction),
                     nappe_rule_number (context, NAPPE_QUANTITY_PRESSURE, collapse));
  if (stands)
    return 1;
  nappe_finding_say (finding, _("Bent, warm or oval it gives way much earlier, and a flattened hose chokes the main "
                                "drain."));
  nappe_finding_cure (finding, _("Use rigid pipe in a siphon, or hose with a spiral or cloth in its wall."));
  return 0;
}

/* No soft hose is where a full siphon sucks. */
void
nappe_rule_hose_collapses (NappeRuleContext *context)
{
  const NappeLayout *layout = context->layout;
  guint looked = 0;

  if (!nappe_rule_needs_computed (context))
    return;
  for (guint i = 0; layout != NULL && i < layout->n_drains; i++)
    {
      const NappeLineLayout *line = &layout->drains[i];
      if (NAPPE_DRAIN (line->part)->role != NAPPE_DRAIN_SIPHON)
        continue;
      double surface = lower_surface (context, line);
      for (guint leg = 0; leg < line->trunk.n_legs; leg++)
        looked += check_suction (context, &line->trunk.legs[leg], surface) >= 0;
    }
  if (looked == 0)
    nappe_rule_not_checked (context, _("Does not apply: no siphon has soft hose."));
}
