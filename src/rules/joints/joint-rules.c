/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Joints: whether the ends of neighbouring pieces join, and what holds hoses on. */
#include "rules/rule-list.h"

#include "rules/joints/joints.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* A piece for people: its name and what it is. */
static const char *
piece_text (NappeRuleContext *context, const NappeJointSide *side)
{
  const char *name = nappe_rule_name (context, nappe_part_get_id (side->part));
  if (side->item == NULL)
    return name;
  g_autofree char *label = nappe_item_label (side->item, context->units);
  /* Translators: a piece's name, then what it is, as in: “Siphon valve” (Gate valve, 1 in). */
  return nappe_rule_text (context, _("%s (%s)"), name, label);
}

/* What a look at one joint finds. */
typedef enum
{
  JOINT_PASSED_OVER, /* the rule says nothing of it */
  JOINT_GOOD,
  JOINT_BAD, /* and a finding says so */
} JointVerdict;

typedef JointVerdict (*JointCheck) (NappeRuleContext *context, const NappePipeJoint *joint);

typedef struct
{
  guint looked, bad;
} JointCount;

/* Looks at every joint of the build. FALSE, and said why: it has none. */
static gboolean
check_joints (NappeRuleContext *context, JointCheck check, JointCount *count)
{
  const GArray *joints = nappe_rule_joints (context);

  *count = (JointCount) { 0 };
  if (joints == NULL)
    nappe_rule_not_checked (context, _("Not checked: there is no catalogue that knows the parts."));
  else if (joints->len == 0)
    nappe_rule_not_checked (context, _("Does not apply: no two pieces meet."));
  if (joints == NULL || joints->len == 0)
    return FALSE;
  for (guint i = 0; i < joints->len; i++)
    {
      JointVerdict verdict = check (context, &g_array_index (joints, NappePipeJoint, i));

      count->looked += verdict != JOINT_PASSED_OVER;
      count->bad += verdict == JOINT_BAD;
    }
  return TRUE;
}

/* Why two ends do not join. */
static void
say_misfit (NappeFinding *finding, NappeJointFit fit)
{
  switch (fit)
    {
    case NAPPE_JOINT_SYSTEM:
      nappe_finding_say (finding, _("One is inch pipe, the other metric pipe: the plain end is too thick or too loose "
                                    "for the socket, and cement does not fill the gap."));
      return;
    case NAPPE_JOINT_SIZE:
      nappe_finding_say (finding, _("They are of two sizes."));
      return;
    case NAPPE_JOINT_PIPES:
      nappe_finding_say (finding, _("Both are plain ends of pipe, and nothing holds them together."));
      return;
    case NAPPE_JOINT_THREADS:
      nappe_finding_say (finding, _("Their threads are of two forms, NPT and BSP. They bite for a turn or two, then "
                                    "leak or crack."));
      return;
    case NAPPE_JOINT_GENDER:
      nappe_finding_say (finding, _("Both have the same kind of thread, so neither screws into the other."));
      return;
    case NAPPE_JOINT_NOTHING:
      nappe_finding_say (finding, _("That side of it is no end that a pipe joins."));
      return;
    default:
      nappe_finding_say (finding, _("One end is made for another way of joining than the other: cement, thread, hose "
                                    "or push fitting."));
    }
}

/* What goes between, from the catalogue where it has it. */
static void
cure_misfit (NappeRuleContext *context, NappeFinding *finding, const NappePipeJoint *joint)
{
  const NappeItem *one = joint->before.item, *other = joint->after.item;
  const char *family = one != NULL && one->kind != NAPPE_ITEM_HOSE ? one->fittings_family
                       : other != NULL                             ? other->fittings_family
                                                                   : NULL;
  const NappeItem *adapter
      = nappe_catalogue_adapter (context->network->catalogue, family, &joint->before.end, &joint->after.end,
                                 nappe_rule_limit (context, NAPPE_LIMIT_HOSE_PLAY));

  if (adapter != NULL)
    {
      g_autofree char *label = nappe_item_label (adapter, context->units);
      /* Translators: %s is a part of the catalogue with its size. */
      nappe_finding_cure (finding, _("Put one of these between them: %s."), label);
    }
  else if (joint->fit == NAPPE_JOINT_SYSTEM)
    nappe_finding_cure (finding, _("Use parts of one system, or an adapter from inch to metric pipe; the catalogue has "
                                   "none."));
  else if (joint->fit == NAPPE_JOINT_NOTHING)
    nappe_finding_cure (finding, _("Take it away, or turn the pipe to an end that joins."));
  else
    nappe_finding_cure (finding, _("Use parts of one size and one way of joining, or an adapter that has both ends; "
                                   "the catalogue has none."));
  if (joint->fit == NAPPE_JOINT_PIPES)
    nappe_finding_cure (finding, _("Where the pipe turns, it takes an elbow."));
}

/* Offers to take a piece in the size and family of its neighbour, where the catalogue has it so. */
static void
offer_item (NappeRuleContext *context, NappeFinding *finding, const NappeJointSide *side, const NappeJointSide *other)
{
  const NappeItem *item = side->item, *same;
  NappeLever *lever;

  if (item == NULL || other->item == NULL || !NAPPE_IS_PIECE (side->part))
    return;
  same = nappe_catalogue_match (context->network->catalogue, item->kind, other->item->fittings_family,
                                item->shape != NULL ? item->shape : item->valve_kind, other->item->nominal);
  if (same == NULL || same == item)
    return;
  lever = nappe_lever_new_choice (nappe_part_get_id (side->part), "item");
  nappe_lever_add_choice (lever, same->id);
  nappe_finding_offer (finding, lever);
}

/* Whether a misfit belongs to a rule of its own. */
static gboolean
is_general_misfit (NappeJointFit fit)
{
  return fit != NAPPE_JOINT_FITS && fit != NAPPE_JOINT_UNKNOWN && fit != NAPPE_JOINT_BORE && fit != NAPPE_JOINT_TUBE;
}

static JointVerdict
check_fit (NappeRuleContext *context, const NappePipeJoint *joint)
{
  NappeFinding *finding;

  if (joint->fit == NAPPE_JOINT_UNKNOWN)
    return JOINT_PASSED_OVER;
  if (!is_general_misfit (joint->fit))
    return JOINT_GOOD;
  finding = nappe_rule_find (context, NAPPE_SEVERITY_PROBLEM, _("Two pieces do not join"), nappe_part_get_id (joint->after.part));
  /* Translators: two pieces. */
  nappe_finding_say (finding, _("%s does not join %s."), piece_text (context, &joint->after),
                     piece_text (context, &joint->before));
  say_misfit (finding, joint->fit);
  if (joint->fit == NAPPE_JOINT_SIZE)
    nappe_finding_measure (finding, joint->after.end.size, joint->before.end.size, NAPPE_QUANTITY_LENGTH);
  nappe_finding_formula (finding, _("method and size of one end against those of the other"));
  nappe_finding_input (finding, "", _("nominal size before"), joint->before.end.size, NAPPE_QUANTITY_LENGTH);
  nappe_finding_input (finding, "", _("nominal size after"), joint->after.end.size, NAPPE_QUANTITY_LENGTH);
  cure_misfit (context, finding, joint);
  if (joint->fit == NAPPE_JOINT_SIZE || joint->fit == NAPPE_JOINT_SYSTEM)
    offer_item (context, finding, &joint->after, &joint->before);
  return JOINT_BAD;
}

/* Each piece's end joins that of the next. */
void
nappe_rule_joints_fit (NappeRuleContext *context)
{
  JointCount count;
  guint unknown;

  if (!check_joints (context, check_fit, &count) || count.bad > 0)
    return;
  unknown = nappe_rule_joints (context)->len - count.looked;
  NappeFinding *fine = nappe_rule_fine (context, "", 0, 0, NAPPE_QUANTITY_COUNT);
  /* Translators: %u is a count of joints. */
  nappe_finding_say (fine, g_dngettext (GETTEXT_PACKAGE, "%u joint fits.", "%u joints fit.", count.looked), count.looked);
  if (unknown > 0)
    /* Translators: %u is a count of joints. */
    nappe_finding_say (fine, g_dngettext (GETTEXT_PACKAGE, "Of %u more the catalogue does not tell one end.",
                                          "Of %u more the catalogue does not tell one end.", unknown), unknown);
}

static gboolean
is_on_hose (const NappePipeJoint *joint)
{
  NappeEndMethod one = joint->before.end.method, other = joint->after.end.method;
  return (one == NAPPE_END_HOSE && (other == NAPPE_END_HOSE || other == NAPPE_END_BARB))
         || (other == NAPPE_END_HOSE && one == NAPPE_END_BARB);
}

/* By how much the two bores differ [m]. */
static double
hose_play (const NappePipeJoint *joint)
{
  return fabs (joint->after.end.size - joint->before.end.size);
}

static JointVerdict
check_hose (NappeRuleContext *context, const NappePipeJoint *joint)
{
  gboolean barb_after = joint->after.end.method == NAPPE_END_BARB;
  NappeFinding *finding;

  if (!is_on_hose (joint))
    return JOINT_PASSED_OVER;
  if (joint->fit != NAPPE_JOINT_BORE)
    return JOINT_GOOD;
  finding = nappe_rule_find (context, NAPPE_SEVERITY_PROBLEM, _("Hose does not fit its barb"),
                             nappe_part_get_id (joint->after.part));
  nappe_finding_measure (finding, hose_play (joint), nappe_rule_limit (context, NAPPE_LIMIT_HOSE_PLAY), NAPPE_QUANTITY_LENGTH);
  /* Translators: two pieces, then two bores of hose. */
  nappe_finding_say (finding, _("%s meets %s, but one is for hose of %s and the other for %s. Too wide a hose "
                                "leaks or slips off; too narrow a one does not go on."),
                     piece_text (context, &joint->after), piece_text (context, &joint->before),
                     NAPPE_SAY_LENGTH (context, joint->after.end.size), NAPPE_SAY_LENGTH (context, joint->before.end.size));
  nappe_finding_cure (finding, _("Use a barb and hose of one size, or a barb with two sizes between two hoses."));
  offer_item (context, finding, barb_after ? &joint->after : &joint->before, barb_after ? &joint->before : &joint->after);
  nappe_finding_formula (finding, _("one bore − the other"));
  nappe_finding_input (finding, "", _("bore before"), joint->before.end.size, NAPPE_QUANTITY_LENGTH);
  nappe_finding_input (finding, "", _("bore after"), joint->after.end.size, NAPPE_QUANTITY_LENGTH);
  return JOINT_BAD;
}

/* The largest difference of bore at any hose [m]. */
static double
largest_play (NappeRuleContext *context)
{
  const GArray *joints = nappe_rule_joints (context);
  double largest = 0.0;

  for (guint i = 0; i < joints->len; i++)
    if (is_on_hose (&g_array_index (joints, NappePipeJoint, i)))
      largest = fmax (largest, hose_play (&g_array_index (joints, NappePipeJoint, i)));
  return largest;
}

/* A hose has the bore of the barb, or of the hose, that it meets. */
void
nappe_rule_hose_bore (NappeRuleContext *context)
{
  JointCount count;

  if (!check_joints (context, check_hose, &count))
    return;
  if (count.looked == 0)
    nappe_rule_not_checked (context, _("Does not apply: no hose meets a barb or another hose."));
  else if (count.bad == 0)
    nappe_finding_say (nappe_rule_fine (context, "", largest_play (context), nappe_rule_limit (context, NAPPE_LIMIT_HOSE_PLAY),
                                        NAPPE_QUANTITY_LENGTH),
                       _("Hoses have the bore of what they are pushed on."));
}

static gboolean
is_push (const NappePipeJoint *joint)
{
  return joint->before.end.method == NAPPE_END_PUSH || joint->after.end.method == NAPPE_END_PUSH
         || joint->fit == NAPPE_JOINT_TUBE;
}

static JointVerdict
check_push (NappeRuleContext *context, const NappePipeJoint *joint)
{
  gboolean swap = joint->before.end.method == NAPPE_END_PUSH;
  const NappeJointSide *tube = swap ? &joint->after : &joint->before, *push = swap ? &joint->before : &joint->after;
  double outside = tube->end.outside > 0 ? tube->end.outside : tube->end.size;
  NappeFinding *finding;

  if (!is_push (joint))
    return JOINT_PASSED_OVER;
  if (joint->fit != NAPPE_JOINT_TUBE)
    return JOINT_GOOD;
  finding = nappe_rule_find (context, NAPPE_SEVERITY_DANGER, _("Tube does not hold in its push fitting"),
                             nappe_part_get_id (joint->after.part));
  nappe_finding_measure (finding, outside, push->end.size, NAPPE_QUANTITY_LENGTH);
  /* Translators: a tube or hose, a push fitting, two outside diameters. */
  nappe_finding_say (finding, _("%s does not hold in %s: a push fitting grips hard tube of exactly its size. This "
                                "one has %s outside; the fitting is for %s. It slips out or weeps, and water runs "
                                "out."),
                     piece_text (context, tube), piece_text (context, push), NAPPE_SAY_LENGTH (context, outside),
                     NAPPE_SAY_LENGTH (context, push->end.size));
  nappe_finding_cure (finding, _("Use polyethylene tube of the fitting’s size, cut square; inch and metric tube "
                                 "are not the same. Soft hose takes a barb and clamps instead."));
  nappe_finding_formula (finding, _("outside diameter of the tube against the fitting’s size"));
  nappe_finding_input (finding, "", _("outside diameter"), outside, NAPPE_QUANTITY_LENGTH);
  nappe_finding_input (finding, "", _("size of the fitting"), push->end.size, NAPPE_QUANTITY_LENGTH);
  return JOINT_BAD;
}

/* Push fittings hold hard tube of their own outside diameter alone. */
void
nappe_rule_push_tube (NappeRuleContext *context)
{
  JointCount count;

  if (!check_joints (context, check_push, &count))
    return;
  if (count.looked == 0)
    nappe_rule_not_checked (context, _("Does not apply: the build has no push fittings."));
  else if (count.bad == 0)
    nappe_finding_say (nappe_rule_fine (context, "", 0, 0, NAPPE_QUANTITY_COUNT),
                       _("Tubes are of the size of their push fittings."));
}

/* ---- cement ---- */

static gboolean
takes_cement (const NappeJointSide *side)
{
  return side->end.method == NAPPE_END_SOCKET || side->end.method == NAPPE_END_SPIGOT;
}

static gboolean
is_one_of (const NappePipeJoint *joint, const char *word)
{
  return g_strcmp0 (joint->before.material, word) == 0 || g_strcmp0 (joint->after.material, word) == 0;
}

static int
cement_of (const NappeJointSide *side)
{
  return NAPPE_IS_PIECE (side->part) ? NAPPE_PIECE (side->part)->cement : NAPPE_CEMENT_UNKNOWN;
}

/* The cement a joint needs; UNKNOWN: its materials are not known or take none. *cementless: no cement holds one of
 * them. */
static int
cement_needed (const NappePipeJoint *joint, gboolean *cementless)
{
  gboolean abs = is_one_of (joint, "abs"), pvc = is_one_of (joint, "pvc");
  const char *const bare[] = { "pp", "pe", "brass", "copper", "zinc", "steel", "stainless" };

  *cementless = FALSE;
  for (gsize i = 0; i < G_N_ELEMENTS (bare); i++)
    *cementless |= is_one_of (joint, bare[i]);
  return abs && pvc ? NAPPE_CEMENT_TRANSITION
         : abs      ? NAPPE_CEMENT_ABS
         : pvc      ? NAPPE_CEMENT_PVC
                    : NAPPE_CEMENT_UNKNOWN;
}

static const char *
cement_name (int cement)
{
  return cement == NAPPE_CEMENT_TRANSITION ? _("transition cement for ABS to PVC")
         : cement == NAPPE_CEMENT_ABS      ? _("ABS cement")
                                           : _("PVC cement");
}

static JointVerdict
check_cement (NappeRuleContext *context, const NappePipeJoint *joint)
{
  gboolean cementless;
  int needed = cement_needed (joint, &cementless);
  int used = cement_of (&joint->after) != NAPPE_CEMENT_UNKNOWN ? cement_of (&joint->after) : cement_of (&joint->before);
  const char *id = nappe_part_get_id (joint->after.part);
  gboolean good = needed == NAPPE_CEMENT_UNKNOWN || used == needed
                  || (used == NAPPE_CEMENT_UNKNOWN && needed != NAPPE_CEMENT_TRANSITION);
  NappeFinding *finding;

  if (!takes_cement (&joint->before) || !takes_cement (&joint->after))
    return JOINT_PASSED_OVER;
  if (good && !cementless)
    return JOINT_GOOD;
  const char *after = piece_text (context, &joint->after), *before = piece_text (context, &joint->before);
  if (cementless)
    {
      finding = nappe_rule_find (context, NAPPE_SEVERITY_PROBLEM, _("No cement holds these materials"), id);
      /* Translators: two pieces. */
      nappe_finding_say (finding, _("%s is to be cemented to %s, but solvent cement dissolves PVC and ABS only and "
                                    "does not hold on the other material: the joint comes apart."), after, before);
      nappe_finding_cure (finding, _("Join them by thread or union, or use PVC parts."));
      return JOINT_BAD;
    }
  gboolean told = used != NAPPE_CEMENT_UNKNOWN;
  finding = nappe_rule_find (context, told ? NAPPE_SEVERITY_PROBLEM : NAPPE_SEVERITY_ADVICE,
                             told ? _("Cement for another plastic") : _("ABS meets PVC"), id);
  if (told)
    /* Translators: two pieces, the cement used, the cement needed. */
    nappe_finding_say (finding, _("%s is joined to %s with %s, but this joint needs %s. It looks glued and lets go "
                                  "later, under water."), after, before, cement_name (used), cement_name (needed));
  else
    /* Translators: two pieces. */
    nappe_finding_say (finding, _("%s and %s are of ABS and PVC. Cement for one of them alone does not hold on the "
                                  "other."),
                       after, before);
  /* Translators: %s is a cement. */
  nappe_finding_cure (finding, _("Use %s, or parts of one plastic, or a thread. Primer and cement are flammable and "
                                 "harmful to breathe: follow their labels and air the room."), cement_name (needed));
  NappeLever *lever = nappe_lever_new_choice (id, "cement");
  nappe_lever_add_choice (lever, needed == NAPPE_CEMENT_TRANSITION ? "transition"
                                 : needed == NAPPE_CEMENT_ABS      ? "abs"
                                                                   : "pvc");
  nappe_finding_offer (finding, lever);
  return JOINT_BAD;
}

/* The cement of each solvent joint holds on both of its plastics. */
void
nappe_rule_cement_mixed (NappeRuleContext *context)
{
  JointCount count;

  if (!check_joints (context, check_cement, &count))
    return;
  if (count.looked == 0)
    nappe_rule_not_checked (context, _("Does not apply: no joint is cemented."));
  else if (count.bad == 0)
    nappe_finding_say (nappe_rule_fine (context, "", count.looked, NAN, NAPPE_QUANTITY_COUNT),
                       _("Cemented joints are of one plastic each, or have the cement for two."));
}
