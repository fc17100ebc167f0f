/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pipes between vessels of which one moves: a piece that leads along the move becomes longer or shorter, so that both ends stay
 * where they were in their vessels. */
#include "config.h"

#include "build/coupling-private.h"

#include <math.h>
#include <string.h>

/* A move that is none [units of the number] */
#define NOTHING 1e-9

typedef struct
{
  double along[NAPPE_AXIS_COUNT]; /* for each unit that the number grows */
} Shift;

/* A line whose ends move apart along one axis. */
typedef struct
{
  GArray *followers;
  NappeAxis axis;
  NappePart *line;
  GPtrArray *run, *outlets;
  const NappePiece *stands; /* that the inlet stands on: it stays; NULL: none */
  gboolean nearest;         /* the first piece follows, so that all behind it stays; else the longest */
  const double *wanted;     /* for each outlet: how far its end goes from the line's begin */
  double rest;              /* the same for a line without outlets, whose end stays */
  gboolean found;           /* a piece that follows */
} Line;

static gboolean
moves (const NappeMotion *motion, gpointer part, const char *field)
{
  return motion->part == part && strcmp (motion->field, field) == 0;
}

/* The vessel, or whatever else a line begins or ends in. Pictures ask often: pieces, of which there are many, come last. */
static NappePart *
find (NappeBuild *build, const char *id)
{
  GPtrArray *const lists[] = { NAPPE_BUILD_SUMP (build)->chambers, build->overflows, build->vessels, build->equipment };

  if (*id == '\0' || g_str_equal (id, nappe_part_get_id (build->tank)))
    return *id != '\0' ? build->tank : NULL;
  for (gsize list = 0; list < G_N_ELEMENTS (lists); list++)
    for (guint i = 0; i < lists[list]->len; i++)
      if (g_str_equal (id, nappe_part_get_id (lists[list]->pdata[i])))
        return lists[list]->pdata[i];
  return nappe_build_find (build, id);
}

/* ---- vessels ---- */

static Shift
shift_of_box (const NappeMotion *motion, const NappeOverflow *box)
{
  gboolean inside = box->style == NAPPE_OVERFLOW_INTERNAL, aside = box->side != NAPPE_SIDE_LEFT && box->side != NAPPE_SIDE_RIGHT;
  gboolean grows_left = box->side == (inside ? NAPPE_SIDE_RIGHT : NAPPE_SIDE_LEFT);
  double x = box->side == NAPPE_SIDE_RIGHT ? motion->right : motion->left, y = motion->back;

  if (aside && moves (motion, (gpointer) box, "x"))
    x += 1;
  if (grows_left && moves (motion, (gpointer) box, "length"))
    x -= 1;
  if (box->side == NAPPE_SIDE_CENTRE)
    y *= 0.5;
  else if (moves (motion, (gpointer) box, "width"))
    y += aside && !inside ? 0.5 : -0.5;
  return (Shift){ { x, y, motion->floor + (nappe_box_hangs (box) ? motion->rim : 0) } };
}

static Shift
shift_of_vessel (const NappeMotion *motion, const NappeSideVessel *vessel)
{
  return (Shift){ { motion->left + (moves (motion, (gpointer) vessel, "x") ? 1 : 0),
                    motion->back + (moves (motion, (gpointer) vessel, "width") ? 0.5 : 0),
                    motion->floor + motion->rim + (moves (motion, (gpointer) vessel, "base_height") ? 1 : 0) } };
}

/* What is measured from its left side goes with that; what ends anywhere in it only with the whole chamber. */
static Shift
shift_of_chamber (const NappeMotion *motion, NappePart *chamber, gboolean from_left)
{
  GPtrArray *chambers = NAPPE_BUILD_SUMP (motion->build)->chambers;
  double left = 0;
  guint index;

  if (g_ptr_array_find (chambers, chamber, &index))
    {
      left = nappe_motion_of_chamber (motion, index);
      if (!from_left && fabs (nappe_motion_of_chamber (motion, index + 1) - left) > NOTHING)
        left = 0;
    }
  return (Shift){ { motion->sump_x + left, 0.5 * motion->back, motion->sump_z } };
}

static Shift shift_of (const GArray *followers, const NappeMotion *motion, const char *id, gboolean from_left);

static Shift
shift_of_equipment (const GArray *followers, const NappeMotion *motion, const NappeEquipment *equipment)
{
  Shift shift = shift_of (followers, motion, equipment->where, TRUE);

  shift.along[NAPPE_AXIS_X] += moves (motion, (gpointer) equipment, "x") ? 1 : 0;
  shift.along[NAPPE_AXIS_Z] += moves (motion, (gpointer) equipment, "base_height") ? 1 : 0;
  return shift;
}

NappeAxis
nappe_axis_of_piece (const NappePiece *piece)
{
  switch (piece->toward)
    {
    case NAPPE_TOWARD_LEFT:
    case NAPPE_TOWARD_RIGHT: return NAPPE_AXIS_X;
    case NAPPE_TOWARD_FRONT:
    case NAPPE_TOWARD_BACK: return NAPPE_AXIS_Y;
    default: return NAPPE_AXIS_Z;
    }
}

static double
sense_of (const NappePiece *piece)
{
  return piece->toward == NAPPE_TOWARD_RIGHT || piece->toward == NAPPE_TOWARD_BACK || piece->toward == NAPPE_TOWARD_UP ? 1 : -1;
}

/* The pipe that an inlet stands on; NULL: it is none. */
static NappePiece *
standing_pipe (NappePart *line)
{
  NappePiece *first = NAPPE_IS_DRAIN (line) && NAPPE_DRAIN (line)->run->len > 0 ? NAPPE_DRAIN (line)->run->pdata[0] : NULL;

  return first != NULL && first->length > 0 && first->toward == NAPPE_TOWARD_DOWN ? first : NULL;
}

/* Whether the box of a drain goes with the rim as a whole. */
static gboolean
hangs_in_place (const NappeMotion *motion, const NappeDrain *drain)
{
  NappePart *box = find (motion->build, drain->overflow);

  return box == NULL || !NAPPE_IS_OVERFLOW (box) || nappe_box_hangs (NAPPE_OVERFLOW (box));
}

static Shift
begin_of_line (const GArray *followers, const NappeMotion *motion, NappePart *line)
{
  Shift begin;

  if (NAPPE_IS_DRAIN (line))
    {
      begin = shift_of (followers, motion, NAPPE_DRAIN (line)->overflow, TRUE);
      begin.along[NAPPE_AXIS_X] += moves (motion, line, "x") ? 1 : 0;
      begin.along[NAPPE_AXIS_Z] += moves (motion, line, "crest_height") ? 1 : 0;
      /* Of a box that stands on the tank's floor the inlets alone go with the rim. */
      if (standing_pipe (line) == NULL && !hangs_in_place (motion, NAPPE_DRAIN (line)))
        begin.along[NAPPE_AXIS_Z] += motion->rim;
      return begin;
    }
  NappePart *pump = NAPPE_RETURN_LINE (line)->pump;
  begin = shift_of (followers, motion, NAPPE_PUMP (pump)->chamber, TRUE);
  begin.along[NAPPE_AXIS_X] += moves (motion, pump, "x") ? 1 : 0;
  begin.along[NAPPE_AXIS_Z] += moves (motion, pump, "inlet_height") || moves (motion, pump, "outlet_height") ? 1 : 0;
  return begin;
}

/* A tee that another line joins goes with the pieces before it. */
static Shift
shift_of_tee (const GArray *followers, const NappeMotion *motion, NappePart *tee)
{
  NappePart *line = nappe_part_get_owner (tee);

  if (line == NULL || !NAPPE_IS_RETURN_LINE (line))
    return (Shift){ { 0, 0, 0 } };
  Shift shift = begin_of_line (followers, motion, line);
  GPtrArray *run = NAPPE_RETURN_LINE (line)->run;
  for (guint i = 0; i < run->len && run->pdata[i] != tee; i++)
    for (guint f = 0; f < followers->len; f++)
      {
        const NappeFollower *follower = &g_array_index (followers, NappeFollower, f);
        if (follower->part == run->pdata[i])
          shift.along[nappe_axis_of_piece (run->pdata[i])] += sense_of (run->pdata[i]) * follower->factor;
      }
  return shift;
}

static Shift
shift_of (const GArray *followers, const NappeMotion *motion, const char *id, gboolean from_left)
{
  NappePart *part = find (motion->build, id);

  if (part == motion->build->tank)
    return (Shift){ { from_left ? motion->left : 0.5 * (motion->left + motion->right),
                      from_left ? 0.5 * motion->back : motion->back, motion->floor + (from_left ? 0 : motion->rim) } };
  if (part != NULL && NAPPE_IS_CHAMBER (part))
    return shift_of_chamber (motion, part, from_left);
  if (part != NULL && NAPPE_IS_OVERFLOW (part))
    return shift_of_box (motion, NAPPE_OVERFLOW (part));
  if (part != NULL && NAPPE_IS_SIDE_VESSEL (part))
    return shift_of_vessel (motion, NAPPE_SIDE_VESSEL (part));
  if (part != NULL && NAPPE_IS_EQUIPMENT (part))
    return shift_of_equipment (followers, motion, NAPPE_EQUIPMENT (part));
  if (part != NULL && NAPPE_IS_PIECE (part))
    return shift_of_tee (followers, motion, part);
  return (Shift){ { 0, 0, 0 } };
}

/* ---- pieces ---- */

/* The piece of a stretch that takes a move along the axis: the first, or the longest. NULL: none leads there. */
static NappePiece *
piece_in (const Line *line, GPtrArray *run, guint from, guint to)
{
  NappePiece *best = NULL;

  for (guint i = from; i < to; i++)
    {
      NappePiece *piece = run->pdata[i];
      if (!(piece->length > 0) || piece == line->stands || nappe_axis_of_piece (piece) != line->axis)
        continue;
      if (best == NULL || (!line->nearest && piece->length > best->length))
        best = piece;
    }
  return best;
}

/* The index of the first tee with a branch, from an index of the trunk on; the trunk's length where there is none. */
static guint
next_tee (const Line *line, guint from)
{
  for (; from < line->run->len; from++)
    for (guint i = 0; i < line->outlets->len; i++)
      if (g_str_equal (NAPPE_OUTLET (line->outlets->pdata[i])->tee, nappe_part_get_id (line->run->pdata[from])))
        return from;
  return line->run->len;
}

/* Whether an outlet branches off at an index of the trunk; at its length: whether it is an end of it. */
static gboolean
branches_at (const Line *line, guint outlet, guint index)
{
  const char *tee = NAPPE_OUTLET (line->outlets->pdata[outlet])->tee;

  if (index == line->run->len)
    return *tee == '\0';
  return g_str_equal (tee, nappe_part_get_id (line->run->pdata[index]));
}

/* Whether all that flows on from an index of the trunk is to go as far; how far. TRUE with NaN: nothing flows on. */
static gboolean
go_alike (const Line *line, guint from, double *wanted)
{
  *wanted = NAN;
  for (guint i = 0; i < line->outlets->len; i++)
    for (guint at = from; at <= line->run->len; at++)
      {
        if (!branches_at (line, i, at))
          continue;
        if (nappe_is_given (*wanted) && fabs (*wanted - line->wanted[i]) > NOTHING)
          return FALSE;
        *wanted = line->wanted[i];
      }
  return TRUE;
}

/* The length that the shortest way on from a tee has for a move. */
static double
length_behind (const Line *line, guint tee)
{
  double least = INFINITY;

  for (guint i = 0; i < line->outlets->len; i++)
    if (branches_at (line, i, tee))
      {
        NappePiece *piece = piece_in (line, NAPPE_OUTLET (line->outlets->pdata[i])->run, 0,
                                      NAPPE_OUTLET (line->outlets->pdata[i])->run->len);
        least = fmin (least, piece != NULL ? piece->length : 0);
      }
  if (tee == line->run->len)
    return isinf (least) ? 0 : least;
  guint next = next_tee (line, tee + 1);
  NappePiece *piece = piece_in (line, line->run, tee + 1, next);
  return fmin (least, fmax (piece != NULL ? piece->length : 0, length_behind (line, next)));
}

static void
let_follow (Line *line, NappePiece *piece, double wanted)
{
  if (piece == NULL || fabs (wanted) < NOTHING)
    return;
  nappe_follow (line->followers, piece, "length", sense_of (piece) * wanted);
  line->found = TRUE;
}

/* One piece for all outlets where that will do, else one for each. */
static void
follow_from (Line *line, guint from)
{
  guint tee = next_tee (line, from);
  NappePiece *piece = piece_in (line, line->run, from, tee);
  double wanted;

  if (go_alike (line, from, &wanted) && piece != NULL && (line->nearest || piece->length >= length_behind (line, tee)))
    {
      let_follow (line, piece, nappe_is_given (wanted) ? wanted : line->rest);
      return;
    }
  for (guint i = 0; i < line->outlets->len; i++)
    if (branches_at (line, i, tee))
      let_follow (line,
                  piece_in (line, NAPPE_OUTLET (line->outlets->pdata[i])->run, 0,
                            NAPPE_OUTLET (line->outlets->pdata[i])->run->len),
                  line->wanted[i]);
  if (tee < line->run->len)
    follow_from (line, tee + 1);
}

/* ---- lines ---- */

/* The box's floor moves, its inlets stay: the pipe that stands in it becomes shorter, what goes on below it longer. */
static gboolean
floor_moves (const NappeMotion *motion, NappePart *line)
{
  NappePart *box = motion->part;

  return NAPPE_IS_DRAIN (line) && NAPPE_IS_OVERFLOW (box) && strcmp (motion->field, "floor_height") == 0
         && g_str_equal (NAPPE_DRAIN (line)->overflow, nappe_part_get_id (box)) && standing_pipe (line) != NULL;
}

static void
follow_axis (GArray *followers, const NappeMotion *motion, NappePart *part, NappeAxis axis)
{
  NappePiece *standing = standing_pipe (part);
  gboolean drain = NAPPE_IS_DRAIN (part), floor = axis == NAPPE_AXIS_Z && floor_moves (motion, part);
  Line line = { .followers = followers, .axis = axis, .line = part,
                .run = drain ? NAPPE_DRAIN (part)->run : NAPPE_RETURN_LINE (part)->run,
                .outlets = drain ? NAPPE_DRAIN (part)->outlets : NAPPE_RETURN_LINE (part)->outlets,
                .stands = standing, .nearest = motion->part == part || nappe_part_get_owner (motion->part) == part };
  double begin = floor ? 1 : begin_of_line (followers, motion, part).along[axis];
  g_autofree double *wanted = g_new0 (double, line.outlets->len + 1);

  /* The pipe that an inlet stands on is all that goes with it. */
  if (axis == NAPPE_AXIS_Z && standing != NULL && moves (motion, part, "crest_height"))
    {
      nappe_follow (followers, standing, "length", 1);
      return;
    }
  for (guint i = 0; i < line.outlets->len; i++)
    wanted[i] = shift_of (followers, motion, NAPPE_OUTLET (line.outlets->pdata[i])->into, FALSE).along[axis] - begin;
  line.wanted = wanted;
  line.rest = -begin;
  follow_from (&line, 0);
  if (floor && line.found)
    nappe_follow (followers, standing, "length", -1);
  if (line.found || floor || standing == NULL)
    return;
  /* It is the only one. */
  line.stands = NULL;
  follow_from (&line, 0);
}

static gboolean
joins_another (NappeBuild *build, NappePart *line)
{
  GPtrArray *outlets = NAPPE_RETURN_LINE (line)->outlets;

  for (guint i = 0; i < outlets->len; i++)
    {
      NappePart *into = find (build, NAPPE_OUTLET (outlets->pdata[i])->into);
      if (into != NULL && NAPPE_IS_PIECE (into))
        return TRUE;
    }
  return FALSE;
}

void
nappe_follow_lines (GArray *followers, const NappeMotion *motion)
{
  NappeBuild *build = motion->build;

  for (NappeAxis axis = NAPPE_AXIS_X; axis < NAPPE_AXIS_COUNT; axis++)
    {
      if (!(motion->axes & (1u << axis)))
        continue;
      for (guint i = 0; i < build->drains->len; i++)
        follow_axis (followers, motion, build->drains->pdata[i], axis);
      /* Where one joins another, that one's tee has to be known first. */
      for (guint joining = 0; joining < 2; joining++)
        for (guint i = 0; i < build->returns->len; i++)
          if (joins_another (build, build->returns->pdata[i]) == (joining == 1))
            follow_axis (followers, motion, build->returns->pdata[i], axis);
    }
}
