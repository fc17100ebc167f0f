/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rules/joints/joints.h"

#include <math.h>

GPtrArray *
nappe_rule_lines (NappeRuleContext *context)
{
  GPtrArray *lines = g_ptr_array_new ();
  g_ptr_array_extend (lines, context->build->drains, NULL, NULL);
  g_ptr_array_extend (lines, context->build->returns, NULL, NULL);
  return lines;
}

static void
line_lists (NappePart *line, GPtrArray **run, GPtrArray **outlets)
{
  gboolean drain = NAPPE_IS_DRAIN (line);
  *run = drain ? NAPPE_DRAIN (line)->run : NAPPE_RETURN_LINE (line)->run;
  *outlets = drain ? NAPPE_DRAIN (line)->outlets : NAPPE_RETURN_LINE (line)->outlets;
}

GPtrArray *
nappe_rule_pieces (NappePart *line)
{
  GPtrArray *pieces = g_ptr_array_new (), *run, *outlets;

  line_lists (line, &run, &outlets);
  g_ptr_array_extend (pieces, run, NULL, NULL);
  for (guint i = 0; i < outlets->len; i++)
    g_ptr_array_extend (pieces, NAPPE_OUTLET (outlets->pdata[i])->run, NULL, NULL);
  return pieces;
}

const char *
nappe_rule_material (NappeRuleContext *context, const NappePiece *piece)
{
  const char *word = nappe_piece_material_word (piece->material);
  const NappeItem *item = nappe_rule_item (context, piece->item);
  return word != NULL ? word : item != NULL ? nappe_item_material (item) : NULL;
}

/* ---- walking ---- */

typedef struct
{
  NappeRuleContext *context;
  NappePart *line;
  NappeJointSide open; /* where the next piece joins; part NULL: nothing before it */
} Walk;

static double
play (Walk *walk)
{
  return nappe_limit_in_build (NAPPE_LIMIT_HOSE_PLAY, walk->context->build);
}

static NappeJointSide
side_of (NappeRuleContext *context, NappePiece *piece)
{
  return (NappeJointSide){ .part = NAPPE_PART (piece), .item = nappe_rule_item (context, piece->item),
                           .material = nappe_rule_material (context, piece) };
}

/* The ends of a piece: 0 in, 1 out, 2 branch; not known without an item. */
static void
ends_of (const NappeItem *item, NappeItemEnd ends[NAPPE_ITEM_ENDS])
{
  for (guint i = 0; i < NAPPE_ITEM_ENDS; i++)
    ends[i] = (NappeItemEnd){ .method = NAPPE_END_UNKNOWN };
  if (item != NULL)
    nappe_item_ends (item, ends);
}

/* Ends of one kind that miss in size go better together than an end that nothing is known of. */
static int
score (NappeJointFit fit)
{
  switch (fit)
    {
    case NAPPE_JOINT_FITS:
      return 3;
    case NAPPE_JOINT_BORE:
    case NAPPE_JOINT_SIZE:
    case NAPPE_JOINT_SYSTEM:
    case NAPPE_JOINT_THREADS:
    case NAPPE_JOINT_TUBE:
      return 2;
    case NAPPE_JOINT_UNKNOWN:
      return 1;
    default:
      return 0;
    }
}

/* How well a piece's ends go with what stands before and after it. */
static int
score_way (Walk *walk, const NappeItemEnd *in, const NappeItemEnd *out, const NappeItem *next)
{
  NappeItemEnd ends[NAPPE_ITEM_ENDS];
  int after = 1, before = walk->open.part != NULL ? score (nappe_ends_join (&walk->open.end, in, play (walk))) : 1;

  if (next != NULL)
    {
      ends_of (next, ends);
      after = MAX (score (nappe_ends_join (out, &ends[0], play (walk))),
                   score (nappe_ends_join (out, &ends[1], play (walk))));
    }
  return before + after;
}

/* Most pieces are the same both ways round. */
static gboolean
are_alike (const NappeItemEnd *one, const NappeItemEnd *other)
{
  return one->method == other->method && one->standard == other->standard && one->size == other->size
         && one->outside == other->outside;
}

/* Turns the piece round when that fits better. */
static void
turn (Walk *walk, const NappeItem *item, const NappeItem *next, NappeItemEnd ends[NAPPE_ITEM_ENDS])
{
  NappeItemEnd first = ends[0];

  if (item == NULL || are_alike (&ends[0], &ends[1]) || g_strcmp0 (item->valve_kind, "check") == 0
      || g_strcmp0 (item->shape, "tee") == 0)
    return;
  if (score_way (walk, &ends[1], &ends[0], next) > score_way (walk, &ends[0], &ends[1], next))
    {
      ends[0] = ends[1];
      ends[1] = first;
    }
}

/* One pipe that the planner drew in two pieces. */
static gboolean
is_one_pipe (const NappeJointSide *before, const NappeJointSide *after)
{
  if (!NAPPE_IS_PIECE (before->part) || before->item == NULL || before->item != after->item)
    return FALSE;
  const NappePiece *one = NAPPE_PIECE (before->part), *other = NAPPE_PIECE (after->part);
  return before->item->kind == NAPPE_ITEM_PIPE && one->toward == other->toward;
}

static void
join (Walk *walk, NappeJointSide after)
{
  NappePipeJoint joint = { .line = walk->line, .before = walk->open, .after = after };

  joint.fit = nappe_ends_join (&joint.before.end, &joint.after.end, play (walk));
  if (walk->open.part != NULL && !is_one_pipe (&joint.before, &joint.after))
    g_array_append_val (walk->context->joints, joint);
}

static void
walk_run (Walk *walk, GPtrArray *run)
{
  for (guint i = 0; i < run->len; i++)
    {
      NappeJointSide side = side_of (walk->context, run->pdata[i]);
      const NappeItem *next
          = i + 1 < run->len ? nappe_rule_item (walk->context, NAPPE_PIECE (run->pdata[i + 1])->item) : NULL;
      NappeItemEnd ends[NAPPE_ITEM_ENDS];

      ends_of (side.item, ends);
      turn (walk, side.item, next, ends);
      side.end = ends[0];
      join (walk, side);
      side.end = ends[1];
      walk->open = side;
    }
}

static NappeJointSide
branch_of (NappeRuleContext *context, const char *tee)
{
  NappePart *part = nappe_build_find (context->build, tee);
  NappeItemEnd ends[NAPPE_ITEM_ENDS];

  if (part == NULL || !NAPPE_IS_PIECE (part))
    return (NappeJointSide){ .part = NULL };
  NappeJointSide side = side_of (context, NAPPE_PIECE (part));
  ends_of (side.item, ends);
  side.end = ends[2];
  return side;
}

static void
walk_line (NappeRuleContext *context, NappePart *line)
{
  Walk walk = { .context = context, .line = line };
  GPtrArray *run, *outlets;

  line_lists (line, &run, &outlets);
  if (NAPPE_IS_RETURN_LINE (line))
    {
      NappePart *pump = NAPPE_RETURN_LINE (line)->pump;
      const NappeItem *item = nappe_rule_item (context, NAPPE_PUMP (pump)->item);
      walk.open = (NappeJointSide){ .part = pump, .item = item, .end = nappe_item_outlet_end (item) };
    }
  walk_run (&walk, run);
  NappeJointSide end = walk.open;
  for (guint i = 0; i < outlets->len; i++)
    {
      const NappeOutlet *outlet = outlets->pdata[i];
      walk.open = *outlet->tee != '\0' ? branch_of (context, outlet->tee) : end;
      walk_run (&walk, outlet->run);
      NappeJointSide joined = branch_of (context, outlet->into);
      if (joined.part != NULL)
        join (&walk, joined);
    }
}

const GArray *
nappe_rule_joints (NappeRuleContext *context)
{
  g_autoptr (GPtrArray) lines = NULL;

  if (context->network->catalogue == NULL || context->joints != NULL)
    return context->joints;
  context->joints = g_array_new (FALSE, FALSE, sizeof (NappePipeJoint));
  lines = nappe_rule_lines (context);
  for (guint i = 0; i < lines->len; i++)
    walk_line (context, lines->pdata[i]);
  return context->joints;
}
