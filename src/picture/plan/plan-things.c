/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pumps and equipment as they stand in the chambers, with the room around them, and pipes that end over the sump. */
#include "picture/plan/plan-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "picture/label-layout.h"
#include "picture/marks.h"
#include "picture/wording.h"

static const NappeStyle body = { .fill = NAPPE_ROLE_EQUIPMENT, .stroke = NAPPE_ROLE_INK, .weight = NAPPE_LINE_OUTLINE };
static const NappeStyle fine = { .stroke = NAPPE_ROLE_SOFT, .weight = NAPPE_LINE_HAIR };

static const NappeChamberLayout *
find_chamber (const NappeSumpPlan *self, const char *id)
{
  for (guint i = 0; i < self->board.layout->n_chambers; i++)
    if (g_str_equal (nappe_part_get_id (NAPPE_PART (self->board.layout->chambers[i].part)), id))
      return &self->board.layout->chambers[i];
  return NULL;
}

/* In x as planned, `length` from `left` on; how far back is settled when all are known. */
static void
collect (NappeSumpPlan *self, NappeSumpThing thing, double left, double length, double width)
{
  thing.left = left;
  thing.right = left + length;
  thing.front = (thing.room.front + thing.room.back - width) / 2;
  thing.back = thing.front + width;
  g_array_append_val (self->things, thing);
}

static void
collect_equipment (NappeSumpPlan *self, NappeEquipment *part)
{
  const NappeChamberLayout *chamber = find_chamber (self, part->where);
  if (!chamber || part->kind == NAPPE_EQUIPMENT_SOCK)
    return;
  NappeFootprint size = nappe_footprint (self->board.catalogue, part);
  NappeSumpThing thing = { .part = NAPPE_PART (part), .name = nappe_part_display_name (NAPPE_PART (part)), .count = part->count,
                           .room = chamber->frame, .assumed = size.assumed };
  collect (self, thing, chamber->frame.left + part->x, size.length, size.width);
}

/* Equal ones hang side by side, or one behind the other. */
static void
collect_socks (NappeSumpPlan *self, const NappeSockLayout *sock)
{
  const NappeFrame *frame = &sock->frame;
  guint n = (guint) CLAMP (sock->part->count, 1, 100);
  gboolean along = frame->right - frame->left > sock->length * 1.5;
  NappeSumpThing thing = { .part = NAPPE_PART (sock->part), .name = nappe_part_display_name (NAPPE_PART (sock->part)),
                           .count = sock->part->count, .across = along ? n : 1, .behind = along ? 1 : n,
                           .room = self->board.layout->chambers[sock->chamber].frame };
  collect (self, thing, frame->left, frame->right - frame->left, frame->back - frame->front);
}

static void
collect_pump (NappeSumpPlan *self, const NappeLineLayout *line)
{
  NappePump *pump = NAPPE_PUMP (NAPPE_RETURN_LINE (line->part)->pump);
  if (line->chamber < 0)
    return;
  NappeFootprint size = nappe_pump_footprint (self->board.catalogue, pump);
  NappeSumpThing thing = { .part = NAPPE_PART (pump), .name = nappe_part_display_name (NAPPE_PART (pump)), .count = pump->count,
                           .room = self->board.layout->chambers[line->chamber].frame, .assumed = size.assumed };
  collect (self, thing, line->trunk.start.x - size.length / 2, size.length, size.width);
}

static int
by_area (gconstpointer a, gconstpointer b)
{
  const NappeSumpThing *one = a, *other = b;
  double first = (one->right - one->left) * (one->back - one->front);
  double second = (other->right - other->left) * (other->back - other->front);
  if (first != second)
    return first > second ? -1 : 1;
  return strcmp (nappe_part_get_id (one->part), nappe_part_get_id (other->part));
}

static gboolean
stands_on_another (const NappeSumpPlan *self, const NappeSumpThing *thing, guint n)
{
  for (guint i = 0; i < n; i++)
    {
      const NappeSumpThing *other = &g_array_index (self->things, NappeSumpThing, i);
      if (other->left < thing->right && thing->left < other->right && other->front < thing->back && thing->front < other->back)
        return TRUE;
    }
  return FALSE;
}

/* Nobody says how far back things stand: midway, or behind or in front of what is there already while that leaves room. The
   largest first. */
static void
settle (NappeSumpPlan *self)
{
  g_array_sort (self->things, by_area);
  for (guint i = 0; i < self->things->len; i++)
    {
      NappeSumpThing *thing = &g_array_index (self->things, NappeSumpThing, i), trial = *thing;
      double width = thing->back - thing->front, edge = fmin (width, 0.01);
      const double fronts[] = { thing->front, thing->room.back - width - edge, thing->room.front + edge };
      for (guint k = 0; k < G_N_ELEMENTS (fronts); k++)
        {
          trial.front = fronts[k];
          trial.back = fronts[k] + width;
          if (stands_on_another (self, &trial, i))
            continue;
          *thing = trial;
          break;
        }
    }
}

static void
draw_rings (NappeSumpPlan *self, const NappeSumpThing *thing)
{
  double length = thing->box.width / thing->across, width = thing->box.height / thing->behind;
  double radius = fmin (length, width) / 2;
  for (guint i = 0; i < thing->across * thing->behind; i++)
    {
      double x = thing->box.x + (i % thing->across + 0.5) * length, y = thing->box.y + (i / thing->across + 0.5) * width;
      nappe_scene_circle (self->board.scene, NAPPE_LAYER_VESSEL, x, y, radius, &body);
      nappe_scene_circle (self->board.scene, NAPPE_LAYER_VESSEL, x, y, radius * 0.8, &fine);
    }
}

/* A footprint; what is round in it shows its outline. */
static void
draw_shape (NappeSumpPlan *self, const NappeSumpThing *thing)
{
  double least = fmin (thing->box.width, thing->box.height);
  double x = thing->box.x + thing->box.width / 2, y = thing->box.y + thing->box.height / 2;
  if (thing->across > 0)
    {
      draw_rings (self, thing);
      return;
    }
  nappe_scene_box (self->board.scene, NAPPE_LAYER_VESSEL, thing->box, &body);
  if (NAPPE_IS_PUMP (thing->part))
    nappe_mark_pump (self->board.scene, x, y, fmax (least * 0.34, 4), 0, -1);
  else if (NAPPE_EQUIPMENT (thing->part)->kind == NAPPE_EQUIPMENT_SKIMMER
           || NAPPE_EQUIPMENT (thing->part)->kind == NAPPE_EQUIPMENT_REACTOR)
    nappe_scene_circle (self->board.scene, NAPPE_LAYER_VESSEL, x, y, least * 0.43, &fine);
}

/* Places it on the paper and draws what of it lies there. */
static void
draw_thing (NappeSumpPlan *self, NappeSumpThing *thing)
{
  thing->box = nappe_sump_plan_box (self, thing->left, thing->right, thing->front, thing->back);
  thing->room_left = thing->left - thing->room.left;
  thing->room_right = thing->room.right - thing->right;
  thing->room_front = thing->front - thing->room.front;
  thing->room_back = thing->room.back - thing->back;
  NappeBox shown = thing->box;
  thing->outside = !nappe_board_cut_off (&self->board.room, &shown);
  if (thing->outside)
    return;
  nappe_board_hit (&self->board, thing->part, shown);
  nappe_scene_block (self->board.scene, NAPPE_BLOCK_MARK, shown);
  if (!thing->pipe)
    draw_shape (self, thing);
}

/* Diameter of a route's pipe at its end [m]. */
static double
end_diameter (const NappeLineLayout *line, const NappeRoute *route)
{
  const NappeRoute *last = route->n_legs > 0 ? route : &line->trunk;
  return last->n_legs > 0 ? last->legs[last->n_legs - 1].outside : NAPPE_UNKNOWN_BORE;
}

/* What an outlet ends in, when that is a chamber or a sock in one; NULL: it does not end in the sump. */
static const NappeFrame *
room_of (const NappeSumpPlan *self, const NappeOutlet *outlet)
{
  const NappeChamberLayout *chamber = find_chamber (self, outlet->into);
  for (guint i = 0; i < self->board.layout->n_socks && !chamber; i++)
    if (g_str_equal (nappe_part_get_id (NAPPE_PART (self->board.layout->socks[i].part)), outlet->into))
      chamber = &self->board.layout->chambers[self->board.layout->socks[i].chamber];
  return chamber ? &chamber->frame : NULL;
}

gboolean
nappe_sump_plan_shows_end (const NappeSumpPlan *self, const NappeOutletLayout *outlet)
{
  return room_of (self, outlet->part) && outlet->route.end.x >= self->left && outlet->route.end.x <= self->right;
}

/* The end of a drain, cut across. Its drain stands at an assumed depth in its box and the sump at an assumed depth in its
   stand: an end that comes down behind or before its chamber is drawn inside it. */
static void
draw_end (NappeSumpPlan *self, const NappeLineLayout *line, const NappeOutletLayout *outlet)
{
  NappeStyle wall = { .fill = NAPPE_ROLE_PVC, .stroke = NAPPE_ROLE_INK, .weight = NAPPE_LINE_CUT };
  const NappeFrame *room = room_of (self, outlet->part);
  const NappePoint *end = &outlet->route.end;
  double half = end_diameter (line, &outlet->route) / 2;
  if (!nappe_sump_plan_shows_end (self, outlet))
    return;
  double depth = fmax (fmin (end->y, room->back - half), room->front + half);
  double x = nappe_sump_plan_x (self, end->x), y = nappe_sump_plan_y (self, depth), radius = fmax (half * self->scale, 2);
  nappe_scene_circle (self->board.scene, NAPPE_LAYER_PIPE, x, y, radius, &wall);
  nappe_scene_stroke (self->board.scene, NAPPE_LAYER_PIPE, x - radius * 0.5, y, x + radius * 0.5, y, &fine);
  nappe_scene_stroke (self->board.scene, NAPPE_LAYER_PIPE, x, y - radius * 0.5, x, y + radius * 0.5, &fine);
  const char *own = nappe_part_get_name (NAPPE_PART (outlet->part));
  NappeSumpThing thing = { .part = line->part, .name = *own ? own : nappe_part_display_name (line->part), .count = 1,
                           .room = *room, .left = end->x - half, .right = end->x + half,
                           .front = depth - half, .back = depth + half, .pipe = TRUE };
  draw_thing (self, &thing);
  g_array_append_val (self->things, thing);
}

void
nappe_sump_plan_collect_things (NappeSumpPlan *self)
{
  const NappeLayout *layout = self->board.layout;
  for (guint i = 0; i < layout->n_socks; i++)
    collect_socks (self, &layout->socks[i]);
  for (guint i = 0; i < self->board.build->equipment->len; i++)
    collect_equipment (self, self->board.build->equipment->pdata[i]);
  for (guint i = 0; i < layout->n_returns; i++)
    collect_pump (self, &layout->returns[i]);
  settle (self);
}

void
nappe_sump_plan_draw_things (NappeSumpPlan *self)
{
  const NappeLayout *layout = self->board.layout;
  nappe_scene_clip (self->board.scene, &self->board.room);
  for (guint i = 0; i < self->things->len; i++)
    draw_thing (self, &g_array_index (self->things, NappeSumpThing, i));
  for (guint i = 0; i < layout->n_drains; i++)
    for (guint k = 0; k < layout->drains[i].n_outlets; k++)
      draw_end (self, &layout->drains[i], &layout->drains[i].outlets[k]);
  nappe_scene_clip (self->board.scene, NULL);
}

/* Past the wall that a dimension runs to, as far as its strokes go [px]. */
#define PAST_WALL 8.0

/* The room between a wall at 1 and a thing at 2 where its number fits in and nothing else is there. */
static void
draw_clearance (NappeSumpPlan *self, double metres, double x1, double y1, double x2, double y2)
{
  double room = nappe_board_line_room (&self->board);
  gboolean upright = x1 == x2;
  double way = (upright ? y2 - y1 : x2 - x1) > 0 ? 1 : -1;
  g_autofree char *text = nappe_board_number (&self->board, metres);
  NappeBox line = upright ? nappe_box_between (x1 - room, y1 - way * PAST_WALL, x2 + room, y2 - way)
                          : nappe_box_between (x1 - way * PAST_WALL, y1 - room, x2 - way, y2 + room);
  if (nappe_mark_dimension_fits (self->board.scene, x1, y1, x2, y2, text)
      && nappe_label_is_free (self->board.scene, &line, 0))
    nappe_mark_dimension_over (self->board.scene, x1, y1, x2, y2, text);
}

static void
draw_clearances (NappeSumpPlan *self, const NappeSumpThing *thing)
{
  double x = thing->box.x + thing->box.width / 2, y = thing->box.y + thing->box.height / 2;
  double right = thing->box.x + thing->box.width, low = thing->box.y + thing->box.height;
  if (thing->pipe || thing->outside || thing->room_left < 0 || thing->room_right < 0 || thing->room_front < 0
      || thing->room_back < 0)
    return;
  draw_clearance (self, thing->room_left, nappe_sump_plan_x (self, thing->room.left), y, thing->box.x, y);
  draw_clearance (self, thing->room_right, nappe_sump_plan_x (self, thing->room.right), y, right, y);
  draw_clearance (self, thing->room_front, x, nappe_sump_plan_y (self, thing->room.front), x, low);
  draw_clearance (self, thing->room_back, x, nappe_sump_plan_y (self, thing->room.back), x, thing->box.y);
}

/* Whether nothing but the thing itself is in the way of words. */
static gboolean
is_bare (const NappeSumpPlan *self, const NappeSumpThing *thing, const NappeBox *words)
{
  guint n;
  const NappeBlock *blocks = nappe_scene_blocks (self->board.scene, &n);
  for (guint i = 0; i < n; i++)
    if (blocks[i].kind != NAPPE_BLOCK_SOFT && nappe_box_overlaps (words, &blocks[i].box)
        && memcmp (&blocks[i].box, &thing->box, sizeof (NappeBox)) != 0)
      return FALSE;
  return TRUE;
}

/* Its name on the thing with the size under it, where both have room there. */
static gboolean
name_inside (NappeSumpPlan *self, const NappeSumpThing *thing, const char *name, const char *size)
{
  double x = thing->box.x + thing->box.width / 2, y = thing->box.y + thing->box.height / 2;
  double share = thing->across > 0 ? 0.75 : 0.92;
  NappeTextStyle first = { .x = x, .y = y, .align_x = 0.5, .align_y = 1, .size = NAPPE_TEXT_SMALL, .role = NAPPE_ROLE_INK };
  NappeTextStyle second = { .x = x, .y = y, .align_x = 0.5, .size = NAPPE_TEXT_SMALL, .role = NAPPE_ROLE_SOFT };
  NappeBox above = nappe_scene_measure (self->board.scene, name, &first);
  NappeBox below = nappe_scene_measure (self->board.scene, size, &second), both = nappe_box_union (&above, &below);
  if (thing->pipe || thing->assumed || NAPPE_IS_PUMP (thing->part) || both.width > thing->box.width * share
      || both.height > thing->box.height * 0.8 || !is_bare (self, thing, &both))
    return FALSE;
  nappe_scene_text (self->board.scene, NAPPE_LAYER_NOTE, name, &first);
  nappe_scene_text (self->board.scene, NAPPE_LAYER_NOTE, size, &second);
  return TRUE;
}

static void
name_thing (NappeSumpPlan *self, const NappeSumpThing *thing)
{
  NappeTextStyle small = { .size = NAPPE_TEXT_SMALL };
  double inset = fmin (thing->box.width * 0.2, 6), drop = fmin (thing->box.height * 0.2, 6);
  g_autofree char *whole = nappe_board_name (thing->name, thing->count);
  g_autofree char *name = nappe_label_shorten (self->board.scene, whole, &small, 170 * self->board.options->text_scale);
  g_autofree char *length = nappe_board_number (&self->board, thing->right - thing->left);
  g_autofree char *width = nappe_board_number (&self->board, thing->back - thing->front);
  g_autofree char *size = thing->pipe ? g_strdup_printf ("⌀ %s", length) : g_strdup_printf ("%s × %s", length, width);
  if (name_inside (self, thing, name, size))
    return;
  NappeLabelSpec spec = { .part = nappe_part_get_id (thing->part), .name = name, .value = size };
  /* Translators: of a thing's size in the drawing */
  spec.lines[0] = thing->assumed ? _("size assumed") : NULL;
  NappeLabelSpec specs[] = { spec, spec, spec, spec };
  for (guint i = 0; i < G_N_ELEMENTS (specs); i++)
    {
      specs[i].x = i % 2 ? thing->box.x + inset : thing->box.x + thing->box.width - inset;
      specs[i].y = i / 2 ? thing->box.y + thing->box.height - drop : thing->box.y + drop;
    }
  nappe_label_place_any (self->board.scene, specs, G_N_ELEMENTS (specs), NULL);
}

void
nappe_sump_plan_name_things (NappeSumpPlan *self)
{
  for (guint i = 0; i < self->things->len; i++)
    draw_clearances (self, &g_array_index (self->things, NappeSumpThing, i));
  for (guint i = 0; i < self->things->len; i++)
    if (!g_array_index (self->things, NappeSumpThing, i).outside)
      name_thing (self, &g_array_index (self->things, NappeSumpThing, i));
}
