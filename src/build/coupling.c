/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "build/coupling-private.h"

#include <math.h>
#include <string.h>

#include <glib/gi18n-lib.h>

/* A pipe that gives way stays one [m]. */
#define LEAST_PIPE 0.001
/* Sums of lengths, and what a file can hold of them, are a hair off [SI]. */
#define HAIR 1e-6
/* A factor that is none. */
#define NO_FACTOR 1e-9

void
nappe_follow (GArray *followers, gpointer part, const char *name, double factor)
{
  NappeFollower follower = { part, nappe_part_find_field (part, name), factor };

  if (factor == 0 || !nappe_is_given (nappe_part_number (part, follower.field)))
    return;
  for (guint i = 0; i < followers->len; i++)
    {
      NappeFollower *other = &g_array_index (followers, NappeFollower, i);
      if (other->part != part || other->field != follower.field)
        continue;
      other->factor += factor;
      if (fabs (other->factor) < NO_FACTOR)
        g_array_remove_index (followers, i);
      return;
    }
  g_array_append_val (followers, follower);
}

/* ---- what goes along besides pipes ---- */

/* The inlet with all that is measured from the same floor. */
static void
follow_inlet (GArray *followers, NappeDrain *drain, double factor, gboolean with_crest)
{
  if (with_crest)
    nappe_follow (followers, drain, "crest_height", factor);
  nappe_follow (followers, drain, "mouth_height", factor);
  nappe_follow (followers, drain, "break_height", factor);
}

static void
follow_inlets_of (GArray *followers, NappeBuild *build, NappePart *box, double factor)
{
  for (guint i = 0; i < build->drains->len; i++)
    {
      NappeDrain *drain = build->drains->pdata[i];

      if (g_str_equal (drain->overflow, nappe_part_get_id (box)))
        follow_inlet (followers, drain, factor, TRUE);
    }
}

gboolean
nappe_box_hangs (const NappeOverflow *box)
{
  return box->style != NAPPE_OVERFLOW_INTERNAL || box->floor_height > 0;
}

static gboolean
has_inner_box (const NappeOverflow *box)
{
  return box->style == NAPPE_OVERFLOW_SLIM || box->style == NAPPE_OVERFLOW_RIM;
}

/* A pipe on which the inlet of a drain stands, in a box that does not hang. */
static void
follow_standing (GArray *followers, NappeBuild *build, const NappeOverflow *box)
{
  for (guint i = 0; i < build->drains->len; i++)
    {
      const NappeDrain *drain = build->drains->pdata[i];
      NappePiece *first = drain->run->len > 0 ? drain->run->pdata[0] : NULL;

      if (first != NULL && first->length > 0 && first->toward == NAPPE_TOWARD_DOWN
          && g_str_equal (drain->overflow, nappe_part_get_id ((NappePart *) box)))
        nappe_follow (followers, first, "length", 1);
    }
}

static void
follow_rim_of_box (GArray *followers, NappeBuild *build, NappeOverflow *box)
{
  nappe_follow (followers, box, "weir_height", 1);
  nappe_follow (followers, box, "rim_height", 1);
  nappe_follow (followers, box, "joint_height", 1);
  if (nappe_box_hangs (box))
    {
      nappe_follow (followers, box, "floor_height", 1);
      return;
    }
  follow_inlets_of (followers, build, NAPPE_PART (box), 1);
  follow_standing (followers, build, box);
}

/* All that is hung on the rim or measured from the water under it. */
static void
follow_rim (GArray *followers, NappeBuild *build)
{
  const char *tank = nappe_part_get_id (build->tank);

  for (guint i = 0; i < build->overflows->len; i++)
    follow_rim_of_box (followers, build, build->overflows->pdata[i]);
  for (guint i = 0; i < build->vessels->len; i++)
    nappe_follow (followers, build->vessels->pdata[i], "base_height", 1);
  for (guint i = 0; i < build->equipment->len; i++)
    {
      const NappeEquipment *equipment = build->equipment->pdata[i];
      if (equipment->kind == NAPPE_EQUIPMENT_LIGHT && g_str_equal (equipment->where, tank))
        nappe_follow (followers, build->equipment->pdata[i], "base_height", 1);
    }
  for (guint i = 0; i < build->returns->len; i++)
    for (guint o = 0; o < NAPPE_RETURN_LINE (build->returns->pdata[i])->outlets->len; o++)
      nappe_follow (followers, NAPPE_RETURN_LINE (build->returns->pdata[i])->outlets->pdata[o], "siphon_break_height", 1);
}

/* The chamber that gives way to another one; G_MAXUINT: there is none. */
static guint
yielding_chamber (const NappeSump *sump, guint index)
{
  return sump->chambers->len < 2 ? G_MAXUINT : index + 1 < sump->chambers->len ? index + 1 : index - 1;
}

/* The chamber that a longer sump makes longer. */
static guint
growing_chamber (const NappeSump *sump)
{
  for (guint i = 0; i < sump->chambers->len; i++)
    if (NAPPE_CHAMBER (sump->chambers->pdata[i])->role == NAPPE_CHAMBER_RETURN)
      return i;
  return sump->chambers->len - 1;
}

/* A thicker wall takes its room from the longer chamber beside it. */
static guint
chamber_beside_wall (const NappeSump *sump, guint wall)
{
  if (wall + 1 >= sump->chambers->len)
    return G_MAXUINT;
  return NAPPE_CHAMBER (sump->chambers->pdata[wall])->length > NAPPE_CHAMBER (sump->chambers->pdata[wall + 1])->length ? wall
                                                                                                                       : wall + 1;
}

/* By how much a chamber or the wall right of it becomes longer. */
static double
growth_of (const NappeMotion *self, guint index, gboolean wall)
{
  const NappeSump *sump = NAPPE_BUILD_SUMP (self->build);
  guint changed;

  if (self->part == self->build->sump)
    return !wall && strcmp (self->field, "length") == 0 && index == growing_chamber (sump) ? 1 : 0;
  if (NAPPE_IS_CHAMBER (self->part) && strcmp (self->field, "length") == 0
      && g_ptr_array_find (sump->chambers, self->part, &changed))
    return wall ? 0 : index == changed ? 1 : index == yielding_chamber (sump, changed) ? -1 : 0;
  if (NAPPE_IS_BAFFLE (self->part) && strcmp (self->field, "thickness") == 0
      && g_ptr_array_find (sump->baffles, self->part, &changed))
    return wall ? (index == changed ? 1 : 0) : index == chamber_beside_wall (sump, changed) ? -1 : 0;
  return 0;
}

double
nappe_motion_of_chamber (const NappeMotion *self, guint index)
{
  double shift = 0;

  for (guint i = 0; i < index && i < NAPPE_BUILD_SUMP (self->build)->chambers->len; i++)
    shift += growth_of (self, i, FALSE) + growth_of (self, i, TRUE);
  return shift;
}

static void
follow_chambers (GArray *followers, const NappeMotion *motion)
{
  GPtrArray *chambers = NAPPE_BUILD_SUMP (motion->build)->chambers;

  for (guint i = 0; i < chambers->len; i++)
    if (chambers->pdata[i] != motion->part)
      nappe_follow (followers, chambers->pdata[i], "length", growth_of (motion, i, FALSE));
}

/* ---- what a number moves ---- */

#define X (1u << NAPPE_AXIS_X)
#define Y (1u << NAPPE_AXIS_Y)
#define Z (1u << NAPPE_AXIS_Z)

static gboolean
is (const NappeMotion *self, const char *field)
{
  return strcmp (self->field, field) == 0;
}

static void
move_tank (NappeMotion *self)
{
  if (is (self, "length"))
    self->axes = X, self->left = -0.5, self->right = 0.5;
  else if (is (self, "width"))
    self->axes = Y, self->back = 1;
  else if (is (self, "bottom_thickness"))
    self->axes = Z, self->floor = 1;
  else if (is (self, "height"))
    self->axes = Z, self->rim = 1;
}

static void
move_stand (NappeMotion *self)
{
  if (is (self, "length"))
    self->axes = X, self->left = self->right = 0.5;
  else if (is (self, "height"))
    self->axes = Z, self->floor = 1;
}

static void
move_sump (NappeMotion *self)
{
  if (is (self, "x"))
    self->axes = X, self->sump_x = 1;
  else if (is (self, "length"))
    self->axes = X;
  else if (is (self, "base_height") || is (self, "bottom_thickness"))
    self->axes = Z, self->sump_z = 1;
}

/* Whether a line ends in a piece of equipment. */
static gboolean
is_led_into (NappeBuild *build, const char *id)
{
  for (guint i = 0; i < build->drains->len; i++)
    for (guint o = 0; o < NAPPE_DRAIN (build->drains->pdata[i])->outlets->len; o++)
      if (g_str_equal (NAPPE_OUTLET (NAPPE_DRAIN (build->drains->pdata[i])->outlets->pdata[o])->into, id))
        return TRUE;
  return FALSE;
}

/* What the numbers of parts move that stand in others. */
static guint
axes_of_inner (const NappeMotion *self)
{
  NappePart *part = self->part;

  if (NAPPE_IS_OVERFLOW (part))
    return is (self, "x") || is (self, "length") ? X : is (self, "width") ? Y : is (self, "floor_height") ? Z : 0;
  if (NAPPE_IS_SIDE_VESSEL (part))
    return is (self, "x") ? X : is (self, "width") ? Y : is (self, "base_height") ? Z : 0;
  if (NAPPE_IS_DRAIN (part))
    return is (self, "x") ? X : is (self, "crest_height") ? Z : 0;
  if (NAPPE_IS_PUMP (part))
    return is (self, "x") ? X : is (self, "inlet_height") || is (self, "outlet_height") ? Z : 0;
  if (NAPPE_IS_CHAMBER (part))
    return is (self, "length") ? X : 0;
  if (NAPPE_IS_BAFFLE (part))
    return is (self, "thickness") ? X : 0;
  if (NAPPE_IS_EQUIPMENT (part) && is_led_into (self->build, nappe_part_get_id (part)))
    return is (self, "x") ? X : is (self, "base_height") ? Z : 0;
  return 0;
}

static NappeMotion
motion_of (NappeBuild *build, NappePart *part, const char *field)
{
  NappeMotion self = { .build = build, .part = part, .field = field };

  if (part == build->tank)
    move_tank (&self);
  else if (part == build->stand)
    move_stand (&self);
  else if (part == build->sump)
    move_sump (&self);
  else
    self.axes = axes_of_inner (&self);
  return self;
}

GArray *
nappe_build_followers (NappeBuild *self, NappePart *part, const char *field)
{
  GArray *followers = g_array_new (FALSE, FALSE, sizeof (NappeFollower));
  NappeMotion motion = motion_of (self, part, field);

  /* Joints of two boxes are measured from the tank's floor, and stand over that of the inner box, which hangs on the weir. */
  if (NAPPE_IS_OVERFLOW (part) && has_inner_box (NAPPE_OVERFLOW (part))
      && (is (&motion, "weir_height") || is (&motion, "inner_depth")))
    nappe_follow (followers, part, "joint_height", is (&motion, "weir_height") ? 1 : -1);
  if (motion.axes == 0)
    return followers;
  if (NAPPE_IS_DRAIN (part) && is (&motion, "crest_height"))
    follow_inlet (followers, NAPPE_DRAIN (part), 1, FALSE);
  else if (NAPPE_IS_OVERFLOW (part) && is (&motion, "floor_height"))
    /* Its inlets stay where they are while it moves under them. */
    follow_inlets_of (followers, self, part, -1);
  else if (NAPPE_IS_PUMP (part) && is (&motion, "inlet_height"))
    nappe_follow (followers, part, "outlet_height", 1);
  else if (part == self->tank && is (&motion, "height"))
    follow_rim (followers, self);
  follow_chambers (followers, &motion);
  nappe_follow_lines (followers, &motion);
  return followers;
}

/* ---- setting ---- */

/* Whether a follower is a pipe that leads sideways: when it gives way too far, it leads back. */
static gboolean
turns_round (const NappeFollower *self)
{
  return NAPPE_IS_PIECE (self->part) && strcmp (self->field->name, "length") == 0
         && nappe_axis_of_piece (NAPPE_PIECE (self->part)) != NAPPE_AXIS_Z;
}

/* How far a pipe leads sideways [m]. */
static double
level_reach (const NappePiece *piece)
{
  return sqrt (fmax (0, piece->length * piece->length - piece->fall * piece->fall));
}

void
nappe_follower_range (const NappeFollower *self, double *least, double *most)
{
  double now = nappe_part_number (self->part, self->field), low = self->field->minimum, high = self->field->maximum;

  if (turns_round (self))
    {
      now = level_reach (NAPPE_PIECE (self->part));
      high = sqrt (fmax (0, high * high - NAPPE_PIECE (self->part)->fall * NAPPE_PIECE (self->part)->fall));
      low = -high;
    }
  else if (NAPPE_IS_PIECE (self->part))
    low = fmin (LEAST_PIPE, now);
  double one = (low - now) / self->factor, other = (high - now) / self->factor;
  *least = fmin (one, other);
  *most = fmax (one, other);
}

/* The end of the range itself, for a value that misses it by rounding. */
static double
at_end (double least, double most, double value)
{
  double inside = CLAMP (value, least, most);

  return fabs (value - inside) < HAIR ? inside : value;
}

static gboolean
refuse (const NappeFollower *follower, GError **error)
{
  NappePart *part = follower->part, *owner = nappe_part_get_owner (part);
  const char *name = nappe_part_display_name (NAPPE_IS_PIECE (part) && *nappe_part_get_name (part) == '\0' ? owner : part);

  if (NAPPE_IS_PIECE (part))
    g_set_error (error, NAPPE_BUILD_ERROR, NAPPE_BUILD_ERROR_RANGE,
                 /* Translators: why a number cannot be set; %s is a line of pipes, which goes along with it. */
                 _("No pipe of “%s” is long enough to give way so far"), name);
  else
    g_set_error (error, NAPPE_BUILD_ERROR, NAPPE_BUILD_ERROR_RANGE,
                 /* Translators: why a number cannot be set; label of another number, which goes along with it, and its part. */
                 _("“%1$s” of “%2$s” would have to follow, and goes no farther"), _ (follower->field->label), name);
  return FALSE;
}

static gboolean
set_follower (NappeBuild *self, const NappeFollower *follower, double difference, GError **error)
{
  double least, most, by;

  nappe_follower_range (follower, &least, &most);
  by = at_end (least, most, difference) * follower->factor;
  if (!(difference >= least - HAIR && difference <= most + HAIR))
    return refuse (follower, error);
  if (!turns_round (follower))
    return nappe_build_set_number (self, follower->part, follower->field->name,
                                   at_end (follower->field->minimum, follower->field->maximum,
                                           nappe_part_number (follower->part, follower->field) + by),
                                   error);
  const NappePiece *piece = NAPPE_PIECE (follower->part);
  double reach = level_reach (piece) + by;
  /* Opposites stand in pairs in NappeToward. */
  if (reach < 0 && !nappe_build_set_number (self, follower->part, "toward", piece->toward ^ 1, error))
    return FALSE;
  return nappe_build_set_number (self, follower->part, "length",
                                 CLAMP (hypot (reach, piece->fall), LEAST_PIPE, follower->field->maximum), error);
}

gboolean
nappe_build_set_coupled (NappeBuild *self, NappePart *part, const char *name, double value, GError **error)
{
  const NappeField *field = nappe_part_find_field (part, name);
  g_autoptr (GArray) followers = nappe_build_followers (self, part, name);
  double before = field != NULL ? nappe_part_number (part, field) : NAN;
  g_autofree char *label = NULL;
  gboolean done;

  if (field == NULL)
    return nappe_build_set_number (self, part, name, value, error);
  label = nappe_build_change_label (part, field);
  nappe_build_begin (self, label);
  done = nappe_build_set_number (self, part, name, value, error);
  /* From nothing there is no difference to follow. */
  for (guint i = 0; done && i < followers->len && nappe_is_given (before) && nappe_is_given (value); i++)
    done = set_follower (self, &g_array_index (followers, NappeFollower, i), nappe_part_number (part, field) - before, error);
  if (done)
    nappe_build_commit (self);
  else
    nappe_build_roll_back (self);
  return done;
}
