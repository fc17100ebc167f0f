/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How far a lever must go: outwards from where it stands, in steps that double at first, then back to the least that
 * still helps. */
#include "cures/cure-private.h"

#include <math.h>

/* The first step is this share of the lever's reach. Each further one is twice as far, until they are so far apart: what
 * helps may do so in a narrow range, beyond which something else goes wrong. */
#define FIRST_STEP (1.0 / 128)
#define WIDEST_STEP (1.0 / 16)
/* Halvings between the last step that failed and the first that helped, until the grid is reached. */
#define HALVINGS 12
/* Sizes up or down that are tried. */
#define SIZES 3
/* How far the first of two levers goes in a pair, as shares of its reach, and how many levers are paired. */
static const double pair_shares[] = { 0.25, 0.5, 1 };
#define PAIRED 3

/* A number lever as it stands in the scratch copy. */
typedef struct
{
  const NappeLever *lever;
  double from;  /* where it is now, or where the search begins [SI] */
  double reach; /* the farther of its ends from there [SI] */
  double grid;  /* people set it to multiples of this [SI] */
} NumberLever;

static double
grid_of (NappeQuantity quantity, NappeUnitSystem units, double reach)
{
  gboolean us = units == NAPPE_UNITS_US;

  switch (quantity)
    {
    case NAPPE_QUANTITY_LENGTH:
      return us ? 0.0254 / 16 : 0.001;
    case NAPPE_QUANTITY_SHARE:
      return 0.01;
    case NAPPE_QUANTITY_FLOW:
      return us ? 3.785411784e-3 / 3600 : 1e-2 / 3600;
    default:
      return reach / 100;
    }
}

static gboolean
read_number (NappeCureSearch *self, const NappeLever *lever, NumberLever *number)
{
  const NappeLeverMove *move = &g_array_index (lever->moves, NappeLeverMove, 0);
  NappePart *part = nappe_build_find (self->build, move->part);
  const NappeField *field = part != NULL ? nappe_part_find_field (part, move->field) : NULL;

  if (field == NULL || field->type != NAPPE_FIELD_NUMBER)
    return FALSE;
  number->lever = lever;
  number->from = nappe_part_number (part, field);
  if (!nappe_is_given (number->from))
    number->from = lever->from;
  number->reach = fmax (lever->most - number->from, number->from - lever->least);
  number->grid = grid_of (field->quantity, self->units, number->reach);
  return isfinite (number->reach) && number->reach > 0;
}

/* Sets the lever to a value, with what follows it. */
static gboolean
add_number (NappeCureSearch *self, GArray *changes, const NumberLever *number, double value)
{
  for (guint i = 0; i < number->lever->moves->len; i++)
    {
      const NappeLeverMove *move = &g_array_index (number->lever->moves, NappeLeverMove, i);
      NappePart *part = nappe_build_find (self->build, move->part);
      const NappeField *field = part != NULL ? nappe_part_find_field (part, move->field) : NULL;
      double after = value;
      if (field == NULL)
        return FALSE;
      if (i > 0)
        after = nappe_part_number (part, field) + move->factor * (value - number->from);
      if (!nappe_cure_changes_add_number (changes, self->build, i == 0 ? NAPPE_CURE_LEADS : NAPPE_CURE_FOLLOWS,
                                          move->part, move->field, after))
        return FALSE;
    }
  return TRUE;
}

static void
copy_changes (NappeCureSearch *self, GArray *changes, const GArray *base)
{
  for (guint i = 0; base != NULL && i < base->len; i++)
    {
      const NappeCureChange *change = &g_array_index (base, NappeCureChange, i);
      nappe_cure_changes_add (changes, self->build, change->role, change->part, change->field, &change->after);
    }
}

/* The changes of `base` and the lever at a value, if they help; else NULL. Transfer full. */
static GArray *
try_number (NappeCureSearch *self, const GArray *base, const NumberLever *number, double value)
{
  g_autoptr (GArray) changes = nappe_cure_changes_new ();
  copy_changes (self, changes, base);
  if (add_number (self, changes, number, value) && nappe_cure_attempt (self, changes))
    return g_steal_pointer (&changes);
  return NULL;
}

/* The next multiple of the grid away from where the lever stands, within its range. */
static double
settle (const NumberLever *number, double value)
{
  double steps = value / number->grid;
  steps = value > number->from ? ceil (steps - 1e-6) : floor (steps + 1e-6);
  return CLAMP (steps * number->grid, number->lever->least, number->lever->most);
}

/* Back from a value that helps towards one that does not. `found` is consumed. Transfer full. */
static GArray *
draw_back (NappeCureSearch *self, const GArray *base, const NumberLever *number, double fails, double helps,
           GArray *found)
{
  for (guint i = 0; i < HALVINGS && fabs (helps - fails) > 1.001 * number->grid; i++)
    {
      double middle = settle (number, 0.5 * (fails + helps));
      if (fabs (middle - helps) < 0.5 * number->grid)
        break;
      GArray *nearer = try_number (self, base, number, middle);
      if (nearer == NULL)
        fails = middle;
      else
        {
          g_array_unref (found);
          found = nearer;
          helps = middle;
        }
    }
  return found;
}

/* The smallest move of a number lever that helps, or NULL. Transfer full. */
static GArray *
move_number (NappeCureSearch *self, const GArray *base, const NappeLever *lever)
{
  NumberLever number;
  double last[2];

  if (!read_number (self, lever, &number))
    return NULL;
  last[0] = last[1] = number.from;
  for (double share = FIRST_STEP; share < 1 + FIRST_STEP; share += fmin (share, WIDEST_STEP))
    for (guint side = 0; side < 2; side++)
      {
        double step = (side == 0 ? 1 : -1) * fmin (share, 1) * number.reach;
        double value = settle (&number, number.from + step);
        if (value == last[side])
          continue;
        GArray *found = try_number (self, base, &number, value);
        if (found != NULL)
          return draw_back (self, base, &number, last[side], value, found);
        last[side] = value;
      }
  return NULL;
}

/* Puts a text into a field of any type but a curve. FALSE: it cannot stand there. */
static gboolean
read_choice (const NappeField *field, const char *text, GValue *value)
{
  g_value_init (value, nappe_field_value_type (field));
  switch (field->type)
    {
    case NAPPE_FIELD_TEXT:
    case NAPPE_FIELD_REFERENCE:
    case NAPPE_FIELD_ITEM:
      g_value_set_string (value, text);
      return TRUE;
    case NAPPE_FIELD_CHOICE:
      g_value_set_int (value, nappe_field_choice_index (field, text));
      return TRUE;
    case NAPPE_FIELD_FLAG:
      g_value_set_boolean (value, g_str_equal (text, "true"));
      return TRUE;
    case NAPPE_FIELD_NUMBER:
      g_value_set_double (value, NAN);
      return *text == '\0' && field->optional;
    case NAPPE_FIELD_COUNT:
      g_value_set_int (value, (int)g_ascii_strtoll (text, NULL, 10));
      return TRUE;
    case NAPPE_FIELD_CURVE:
      break;
    }
  return FALSE;
}

static GArray *
try_choice (NappeCureSearch *self, const NappeLever *lever, const char *text)
{
  const NappeLeverMove *move = &g_array_index (lever->moves, NappeLeverMove, 0);
  NappePart *part = nappe_build_find (self->build, move->part);
  const NappeField *field = part != NULL ? nappe_part_find_field (part, move->field) : NULL;
  g_autoptr (GArray) changes = nappe_cure_changes_new ();
  g_auto (GValue) value = G_VALUE_INIT;

  if (field != NULL && read_choice (field, text, &value)
      && nappe_cure_changes_add (changes, self->build, NAPPE_CURE_LEADS, move->part, move->field, &value)
      && nappe_cure_attempt (self, changes))
    return g_steal_pointer (&changes);
  return NULL;
}

static GArray *
make_choice (NappeCureSearch *self, const NappeLever *lever)
{
  GArray *found = NULL;
  for (guint i = 0; i < lever->choices->len && found == NULL; i++)
    found = try_choice (self, lever, lever->choices->pdata[i]);
  return found;
}

static GArray *
change_size (NappeCureSearch *self, const NappeLever *lever)
{
  const char *line = g_array_index (lever->moves, NappeLeverMove, 0).part;

  for (guint step = 1; step <= SIZES; step++)
    {
      g_autoptr (GArray) changes = nappe_cure_changes_new ();
      if (!nappe_cure_add_sizes (changes, self->build, self->catalogue, line, lever->larger, step))
        return NULL;
      if (nappe_cure_attempt (self, changes))
        return g_steal_pointer (&changes);
    }
  return NULL;
}

GArray *
nappe_cure_move (NappeCureSearch *self, const NappeLever *lever)
{
  switch (lever->kind)
    {
    case NAPPE_LEVER_NUMBER:
      return move_number (self, NULL, lever);
    case NAPPE_LEVER_CHOICE:
      return make_choice (self, lever);
    case NAPPE_LEVER_SIZE:
      return change_size (self, lever);
    }
  g_return_val_if_reached (NULL);
}

/* The first lever goes a share of its reach to one side, the second as far as it must. */
static GArray *
move_pair (NappeCureSearch *self, const NappeLever *first, const NappeLever *second)
{
  NumberLever number;

  if (first->kind != NAPPE_LEVER_NUMBER || second->kind != NAPPE_LEVER_NUMBER || !read_number (self, first, &number))
    return NULL;
  for (guint i = 0; i < G_N_ELEMENTS (pair_shares); i++)
    for (int side = 1; side >= -1; side -= 2)
      {
        g_autoptr (GArray) base = nappe_cure_changes_new ();
        double value = settle (&number, number.from + side * pair_shares[i] * number.reach);
        if (value == number.from || !add_number (self, base, &number, value))
          continue;
        GArray *found = move_number (self, base, second);
        if (found != NULL)
          return found;
      }
  return NULL;
}

GArray *
nappe_cure_move_two (NappeCureSearch *self, const GPtrArray *levers)
{
  guint n = MIN (levers->len, PAIRED);
  GArray *found = NULL;

  for (guint i = 0; i < n && found == NULL; i++)
    for (guint j = 0; j < n && found == NULL; j++)
      if (i != j)
        found = move_pair (self, levers->pdata[i], levers->pdata[j]);
  return found;
}
