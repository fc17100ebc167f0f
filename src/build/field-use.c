/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "build/field-use.h"

#include <string.h>

#include "build/kinds.h"

static gboolean
is_one_of (const char *name, const char *const *names)
{
  return g_strv_contains (names, name);
}

static gboolean
is_turnable (const NappeItem *item)
{
  return item->kind == NAPPE_ITEM_VALVE && item->n_points > 0;
}

static gboolean
piece_uses (const NappePiece *piece, const char *name, const NappeItem *item)
{
  gboolean pipe = item->kind == NAPPE_ITEM_PIPE || item->kind == NAPPE_ITEM_HOSE, long_one = pipe || piece->length > 0;

  if (strcmp (name, "length") == 0 || strcmp (name, "toward") == 0)
    return long_one;
  if (strcmp (name, "fall") == 0)
    return long_one && piece->toward != NAPPE_TOWARD_DOWN && piece->toward != NAPPE_TOWARD_UP;
  if (strcmp (name, "opening") == 0)
    return is_turnable (item);
  if (strcmp (name, "count") == 0)
    return !pipe;
  if (strcmp (name, "bend_radius") == 0 || strcmp (name, "clamped") == 0)
    return item->kind == NAPPE_ITEM_HOSE;
  if (strcmp (name, "cement") == 0)
    return item->kind != NAPPE_ITEM_HOSE;
  return TRUE;
}

static gboolean
overflow_uses (const NappeOverflow *box, const char *name)
{
  static const char *const inner[] = { "inner_length", "inner_width", "inner_depth", "joint_count", NULL };
  static const char *const joints[] = { "joint_bore", "joint_height", "joint_length", NULL };
  static const char *const slots[] = { "slot_width", "slot_depth", NULL };
  gboolean has_inner = box->style == NAPPE_OVERFLOW_SLIM || box->style == NAPPE_OVERFLOW_RIM;

  if (is_one_of (name, inner))
    return has_inner;
  if (is_one_of (name, joints))
    return has_inner && box->joint_count > 0;
  if (is_one_of (name, slots))
    return box->slot_count > 0;
  if (strcmp (name, "x") == 0)
    return box->side == NAPPE_SIDE_BACK || box->side == NAPPE_SIDE_CENTRE;
  return TRUE;
}

static gboolean
drain_uses (const NappeDrain *drain, const char *name)
{
  if (strcmp (name, "mouth_height") == 0)
    return drain->inlet == NAPPE_INLET_DOWNTURNED_ELBOW || nappe_is_given (drain->mouth_height);
  if (strcmp (name, "break_height") == 0)
    return drain->role == NAPPE_DRAIN_SIPHON || nappe_is_given (drain->break_height);
  return TRUE;
}

static gboolean
equipment_uses (const NappeEquipment *equipment, const char *name)
{
  static const char *const depths[] = { "depth_min", "depth_max", NULL };
  gboolean light = equipment->kind == NAPPE_EQUIPMENT_LIGHT, sock = equipment->kind == NAPPE_EQUIPMENT_SOCK;

  if (strcmp (name, "load") == 0)
    return sock;
  if (strcmp (name, "flow") == 0)
    return (!light && !sock && equipment->kind != NAPPE_EQUIPMENT_HEATER && equipment->kind != NAPPE_EQUIPMENT_PROBE)
           || nappe_is_given (equipment->flow);
  if (is_one_of (name, depths))
    return !light && !sock;
  return TRUE;
}

/* Of parts of other lines: a drain has no siphon-break holes. */
static gboolean
outlet_uses (const NappeOutlet *outlet, NappePart *owner, const char *name)
{
  return strcmp (name, "siphon_break_height") != 0 || owner == NULL || NAPPE_IS_RETURN_LINE (owner)
         || nappe_is_given (outlet->siphon_break_height);
}

gboolean
nappe_field_is_used (const NappeField *field, NappePart *part, const NappeItem *item)
{
  const char *name = field->name;

  if (NAPPE_IS_PIECE (part))
    return item == NULL || piece_uses (NAPPE_PIECE (part), name, item);
  if (NAPPE_IS_OVERFLOW (part))
    return overflow_uses (NAPPE_OVERFLOW (part), name);
  if (NAPPE_IS_DRAIN (part))
    return drain_uses (NAPPE_DRAIN (part), name);
  if (NAPPE_IS_EQUIPMENT (part))
    return equipment_uses (NAPPE_EQUIPMENT (part), name);
  if (NAPPE_IS_OUTLET (part))
    return outlet_uses (NAPPE_OUTLET (part), nappe_part_get_owner (part), name);
  if (NAPPE_IS_CHAMBER (part) && strcmp (name, "kept_level") == 0)
    return NAPPE_CHAMBER (part)->role == NAPPE_CHAMBER_RETURN || NAPPE_CHAMBER (part)->role == NAPPE_CHAMBER_RESERVOIR
           || nappe_is_given (NAPPE_CHAMBER (part)->kept_level);
  if (NAPPE_IS_PUMP (part) && strcmp (name, "speed") == 0)
    return item == NULL || item->variable_speed || NAPPE_PUMP (part)->speed < 1;
  return TRUE;
}
