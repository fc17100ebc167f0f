/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Equipment from the catalogue, where it has room and works. */
#include "config.h"

#include "assembly/assembly-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* Steps in which places are tried, and the least distance between two things [m]. */
#define GRID 0.005
/* How far a light hangs over the rim of what it lights: common practice [m]. */
#define LIGHT_OVER_TANK 0.15
#define LIGHT_OVER_SUMP 0.02
/* Where nothing says how deep the water is, a vessel is taken as full to this share. */
#define USUAL_FILL 0.8
/* A heater or probe does not lie on the floor [m]. */
#define OVER_FLOOR 0.02

/* The room that a thing is put in: inside measures [m]. */
typedef struct
{
  NappePart *part;
  double length, width, height, level;
} Room;

static int
kind_of_item (const NappeItem *item)
{
  g_autoptr (NappeEquipment) any = g_object_new (NAPPE_TYPE_EQUIPMENT, NULL);
  const NappeField *field = nappe_part_find_field (NAPPE_PART (any), "kind");
  int kind = item->equipment_kind != NULL ? nappe_field_choice_index (field, item->equipment_kind) : -1;

  return kind >= 0 ? kind : NAPPE_EQUIPMENT_OTHER;
}

static gboolean
stands_in_water (int kind)
{
  return kind != NAPPE_EQUIPMENT_LIGHT && kind != NAPPE_EQUIPMENT_CHILLER && kind != NAPPE_EQUIPMENT_UV
         && kind != NAPPE_EQUIPMENT_DOSING;
}

static gboolean
room_of (NappeBuild *build, NappePart *where, Room *room)
{
  const NappeSump *sump = NAPPE_BUILD_SUMP (build);
  guint index;

  if (NAPPE_IS_CHAMBER (where) && g_ptr_array_find (sump->chambers, where, &index))
    *room = (Room){ where, NAPPE_CHAMBER (where)->length, sump->width, sump->height,
                    nappe_assembly_chamber_level (build, index) };
  else if (NAPPE_IS_TANK (where))
    *room = (Room){ where, NAPPE_TANK (where)->length, NAPPE_TANK (where)->width, NAPPE_TANK (where)->height,
                    USUAL_FILL * NAPPE_TANK (where)->height };
  else if (NAPPE_IS_SIDE_VESSEL (where))
    *room = (Room){ where, NAPPE_SIDE_VESSEL (where)->length, NAPPE_SIDE_VESSEL (where)->width,
                    NAPPE_SIDE_VESSEL (where)->height, NAPPE_SIDE_VESSEL (where)->spout_height };
  else
    return FALSE;
  return TRUE;
}

static double
length_of (NappeCatalogue *catalogue, const NappeEquipment *part)
{
  const NappeItem *item = nappe_catalogue_find (catalogue, part->item);

  return part->count * (nappe_is_given (part->length) ? part->length : item != NULL ? item->length_overall : 0);
}

/* How far a span in a room stays from all that stands there; negative: it overlaps [m]. */
static double
clearance (NappeBuild *build, NappeCatalogue *catalogue, const Room *room, double left, double right)
{
  const char *id = nappe_part_get_id (room->part);
  double clear = INFINITY;

  for (guint i = 0; i < build->equipment->len; i++)
    {
      const NappeEquipment *other = build->equipment->pdata[i];
      if (g_str_equal (other->where, id) && stands_in_water (other->kind))
        clear = fmin (clear, fmax (other->x - right, left - other->x - length_of (catalogue, other)));
    }
  for (guint i = 0; i < build->returns->len; i++)
    {
      const NappePump *pump = NAPPE_PUMP (NAPPE_RETURN_LINE (build->returns->pdata[i])->pump);
      const NappeItem *item = nappe_catalogue_find (catalogue, pump->item);
      double half = item != NULL ? 0.5 * item->length_overall : 0;
      if (g_str_equal (pump->chamber, id))
        clear = fmin (clear, fmax (pump->x - half - right, left - pump->x - half));
    }
  return clear;
}

gboolean
nappe_assembly_span_in (NappeBuild *build, NappeCatalogue *catalogue, NappePart *where, double *left, double *right)
{
  const char *id = nappe_part_get_id (where);

  *left = INFINITY;
  *right = -INFINITY;
  for (guint i = 0; i < build->equipment->len; i++)
    {
      const NappeEquipment *part = build->equipment->pdata[i];
      if (!g_str_equal (part->where, id) || !stands_in_water (part->kind))
        continue;
      *left = fmin (*left, part->x);
      *right = fmax (*right, part->x + length_of (catalogue, part));
    }
  for (guint i = 0; i < build->returns->len; i++)
    {
      const NappePump *pump = NAPPE_PUMP (NAPPE_RETURN_LINE (build->returns->pdata[i])->pump);
      const NappeItem *item = nappe_catalogue_find (catalogue, pump->item);
      double half = item != NULL ? 0.5 * item->length_overall : 0;
      if (!g_str_equal (pump->chamber, id))
        continue;
      *left = fmin (*left, pump->x - half);
      *right = fmax (*right, pump->x + half);
    }
  return *left <= *right;
}

/* The left side of the first free place, or else of the one with the most room. */
static double
free_place (NappeBuild *build, NappeCatalogue *catalogue, const Room *room, double length)
{
  double best = fmax (0, 0.5 * (room->length - length)), widest = clearance (build, catalogue, room, best, best + length);

  for (double x = GRID; x + length + GRID <= room->length && widest < GRID; x += GRID)
    {
      double clear = clearance (build, catalogue, room, x, x + length);
      if (clear > widest)
        widest = clear, best = x;
    }
  return best;
}

double
nappe_assembly_free_place (NappeBuild *build, NappeCatalogue *catalogue, NappePart *where, double length)
{
  Room room;

  return room_of (build, where, &room) ? free_place (build, catalogue, &room, length) : 0;
}

/* Whether an item has room in a chamber: in plan, under nothing else. */
static gboolean
has_room (const Room *room, const NappeItem *item)
{
  return item->length_overall <= room->length && item->width <= room->width;
}

/* The chamber of its usual role, else the first that has room and is not narrow. */
static NappePart *
usual_place (NappeBuild *build, const NappeItem *item, int kind)
{
  static const int roles[] = {
    [NAPPE_EQUIPMENT_SKIMMER] = NAPPE_CHAMBER_SKIMMER, [NAPPE_EQUIPMENT_HEATER] = NAPPE_CHAMBER_SKIMMER,
    [NAPPE_EQUIPMENT_REACTOR] = NAPPE_CHAMBER_REACTOR, [NAPPE_EQUIPMENT_UV] = NAPPE_CHAMBER_RETURN,
    [NAPPE_EQUIPMENT_CHILLER] = NAPPE_CHAMBER_RETURN,  [NAPPE_EQUIPMENT_LIGHT] = NAPPE_CHAMBER_REFUGIUM,
    [NAPPE_EQUIPMENT_TOP_OFF] = NAPPE_CHAMBER_RETURN,  [NAPPE_EQUIPMENT_DOSING] = NAPPE_CHAMBER_RETURN,
    [NAPPE_EQUIPMENT_PROBE] = NAPPE_CHAMBER_SKIMMER,   [NAPPE_EQUIPMENT_MEDIA] = NAPPE_CHAMBER_REACTOR,
    [NAPPE_EQUIPMENT_SOCK] = NAPPE_CHAMBER_SOCK,       [NAPPE_EQUIPMENT_OTHER] = NAPPE_CHAMBER_SKIMMER,
  };
  GPtrArray *chambers = NAPPE_BUILD_SUMP (build)->chambers;
  NappePart *first = NULL;
  Room room;

  for (guint i = 0; i < chambers->len; i++)
    {
      int role = NAPPE_CHAMBER (chambers->pdata[i])->role;
      if (!room_of (build, chambers->pdata[i], &room) || (stands_in_water (kind) && !has_room (&room, item)))
        continue;
      if (role == roles[kind])
        return chambers->pdata[i];
      if (first == NULL && role != NAPPE_CHAMBER_RESERVOIR)
        first = chambers->pdata[i];
    }
  return first;
}

/* How high it stands: on the floor, raised where the water is deeper than it works in; lights above the rim. */
static double
base_height (const Room *room, const NappeItem *item, int kind)
{
  if (kind == NAPPE_EQUIPMENT_LIGHT)
    return room->height + (NAPPE_IS_TANK (room->part) ? LIGHT_OVER_TANK : LIGHT_OVER_SUMP);
  if (kind == NAPPE_EQUIPMENT_SOCK)
    return fmax (0, room->height - item->height);
  double raised = item->depth_max > 0 ? fmax (0, room->level - 0.5 * (item->depth_min + item->depth_max)) : 0;
  if (kind == NAPPE_EQUIPMENT_HEATER || kind == NAPPE_EQUIPMENT_PROBE)
    return OVER_FLOOR;
  return item->depth_max > 0 && room->level > item->depth_max ? raised : 0;
}

NappeEquipment *
nappe_assembly_add_equipment (NappeBuild *build, NappeCatalogue *catalogue, const char *id, NappePart *where, GError **error)
{
  const NappeItem *item = nappe_assembly_item (catalogue, id, NAPPE_ITEM_EQUIPMENT, error);
  g_autoptr (NappeEquipment) part = g_object_new (NAPPE_TYPE_EQUIPMENT, NULL);
  Room room;

  if (item == NULL)
    return NULL;
  int kind = kind_of_item (item);
  if (where == NULL)
    where = usual_place (build, item, kind);
  g_autofree char *label = nappe_item_label (item, NAPPE_UNITS_METRIC);
  if (where == NULL || !room_of (build, where, &room))
    {
      nappe_assembly_fail (error, NAPPE_ASSEMBLY_ERROR_ROOM,
                           /* Translators: %s is an item of equipment. */
                           g_strdup_printf (_("There is no place for “%s”: pick a chamber that is large enough"), label));
      return NULL;
    }
  if (stands_in_water (kind) && !has_room (&room, item))
    {
      nappe_assembly_fail (error, NAPPE_ASSEMBLY_ERROR_ROOM,
                           /* Translators: an item of equipment, and a chamber. */
                           g_strdup_printf (_("“%s” is too large for “%s”"), label, nappe_part_display_name (where)));
      return NULL;
    }
  nappe_assembly_name (build, NAPPE_PART (part), label);
  nappe_assembly_write_number (NAPPE_PART (part), "kind", kind);
  nappe_assembly_write_text (NAPPE_PART (part), "item", item->id);
  nappe_assembly_write_text (NAPPE_PART (part), "where", nappe_part_get_id (where));
  nappe_assembly_write_number (NAPPE_PART (part), "base_height", base_height (&room, item, kind));
  nappe_assembly_write_number (NAPPE_PART (part), "x", free_place (build, catalogue, &room, item->length_overall));
  return nappe_build_insert (build, NAPPE_PART (build), "equipment", G_MAXUINT, NAPPE_PART (part), error) ? part : NULL;
}
