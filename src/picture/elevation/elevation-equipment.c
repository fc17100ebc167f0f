/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Pumps and equipment to scale: a plain shape for each kind, and its name. */
#include "picture/elevation/elevation-private.h"
#include "picture/board.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "picture/label-layout.h"
#include "picture/marks.h"

static const NappeStyle body_style = { .fill = NAPPE_ROLE_EQUIPMENT, .stroke = NAPPE_ROLE_INK, .weight = NAPPE_LINE_OUTLINE };
static const NappeStyle fine_line = { .stroke = NAPPE_ROLE_SOFT, .weight = NAPPE_LINE_HAIR };
static const NappeStyle foam = { .fill = NAPPE_ROLE_WATER_TOP, .stroke = NAPPE_ROLE_INK, .weight = NAPPE_LINE_HAIR };

/* A rectangle in shares of another, from its top left corner. */
static NappeBox
part_of (const NappeBox *box, double x, double y, double width, double height)
{
  return (NappeBox) { box->x + box->width * x, box->y + box->height * y, box->width * width, box->height * height };
}

static void
add_shape (NappeElevation *self, NappeBox box, const NappeStyle *style)
{
  nappe_scene_box (self->scene, NAPPE_LAYER_VESSEL, box, style);
}

static void
add_rounded (NappeElevation *self, NappeBox box, double radius, const NappeStyle *style)
{
  double r = fmin (radius, fmin (box.width, box.height) / 2), right = box.x + box.width, bottom = box.y + box.height;
  nappe_scene_arc (self->scene, right - r, box.y + r, r, -G_PI / 2, 0);
  nappe_scene_arc (self->scene, right - r, bottom - r, r, 0, G_PI / 2);
  nappe_scene_arc (self->scene, box.x + r, bottom - r, r, G_PI / 2, G_PI);
  nappe_scene_arc (self->scene, box.x + r, box.y + r, r, G_PI, 1.5 * G_PI);
  nappe_scene_close (self->scene);
  nappe_scene_paint (self->scene, NAPPE_LAYER_VESSEL, style);
}

/* Reaction body, neck and collection cup. */
static void
draw_skimmer (NappeElevation *self, const NappeBox *box)
{
  add_shape (self, part_of (box, 0, 0.52, 1, 0.48), &body_style);
  add_shape (self, part_of (box, 0.2, 0.24, 0.6, 0.28), &body_style);
  add_shape (self, part_of (box, 0.08, 0.02, 0.84, 0.24), &body_style);
  add_shape (self, part_of (box, 0.02, 0, 0.96, 0.035), &body_style);
  add_shape (self, part_of (box, 0.4, 0.1, 0.2, 0.16), &foam);
}

static void
draw_heater (NappeElevation *self, const NappeBox *box)
{
  double width = fmin (box->width, fmax (box->height * 0.14, 6));
  NappeBox rod = { box->x + (box->width - width) / 2, box->y, width, box->height };
  add_rounded (self, rod, width / 2, &body_style);
  double x = rod.x + width / 2;
  nappe_scene_move (self->scene, x - width * 0.2, rod.y + rod.height * 0.9);
  for (guint i = 0; i < 7; i++)
    nappe_scene_line (self->scene, x + width * (i % 2 ? -0.2 : 0.2), rod.y + rod.height * (0.86 - 0.08 * i));
  nappe_scene_paint (self->scene, NAPPE_LAYER_VESSEL, &fine_line);
}

/* A column between two lids, filled with grains or lines. */
static void
draw_column (NappeElevation *self, const NappeBox *box)
{
  NappeStyle grains = { .fill = NAPPE_ROLE_SOFT };
  add_shape (self, part_of (box, 0.08, 0.06, 0.84, 0.88), &body_style);
  add_shape (self, part_of (box, 0, 0, 1, 0.07), &body_style);
  add_shape (self, part_of (box, 0, 0.93, 1, 0.07), &body_style);
  for (guint row = 0; row < 4; row++)
    for (guint i = 0; i < 4; i++)
      nappe_scene_circle (self->scene, NAPPE_LAYER_VESSEL, box->x + box->width * (0.2 + 0.18 * i + (row % 2 ? 0.06 : 0)),
                          box->y + box->height * (0.66 + 0.07 * row), 1, &grains);
}

static void
draw_light (NappeElevation *self, const NappeBox *box)
{
  add_rounded (self, *box, 3, &body_style);
  for (guint i = 1; i < 8; i++)
    {
      double x = box->x + box->width * i / 8;
      nappe_scene_move (self->scene, x, box->y + box->height + 3);
      nappe_scene_line (self->scene, x + (i - 4.0) * 0.8, box->y + box->height + 9);
    }
  nappe_scene_paint (self->scene, NAPPE_LAYER_VESSEL, &fine_line);
}

static void
draw_shape (NappeElevation *self, int kind, const NappeBox *box)
{
  switch (kind)
    {
    case NAPPE_EQUIPMENT_SKIMMER:
      draw_skimmer (self, box);
      break;
    case NAPPE_EQUIPMENT_HEATER:
    case NAPPE_EQUIPMENT_PROBE:
      draw_heater (self, box);
      break;
    case NAPPE_EQUIPMENT_REACTOR:
    case NAPPE_EQUIPMENT_MEDIA:
      draw_column (self, box);
      break;
    case NAPPE_EQUIPMENT_SOCK:
      nappe_elevation_draw_bag (self, box, 0, 0.85);
      break;
    case NAPPE_EQUIPMENT_LIGHT:
      draw_light (self, box);
      break;
    default:
      add_rounded (self, *box, 3, &body_style);
    }
}

/* The room that a part stands in, side vessels and boxes too. */
gboolean
nappe_elevation_room (const NappeElevation *self, const char *id, NappeFrame *room)
{
  const NappeLayout *layout = self->layout;
  const NappeFrame *found = g_str_equal (id, nappe_elevation_id (self->build->tank)) ? &layout->tank : NULL;
  for (guint i = 0; i < layout->n_chambers && !found; i++)
    found = g_str_equal (id, nappe_elevation_id (layout->chambers[i].part)) ? &layout->chambers[i].frame : NULL;
  for (guint i = 0; i < layout->n_vessels && !found; i++)
    found = g_str_equal (id, nappe_elevation_id (layout->vessels[i].part)) ? &layout->vessels[i].frame : NULL;
  for (guint i = 0; i < layout->n_boxes && !found; i++)
    found = g_str_equal (id, nappe_elevation_id (layout->boxes[i].part)) ? &layout->boxes[i].frame : NULL;
  for (guint i = 0; i < layout->n_socks && !found; i++)
    found = g_str_equal (id, nappe_elevation_id (layout->socks[i].part)) ? &layout->socks[i].frame : NULL;
  if (found)
    *room = *found;
  return found != NULL;
}

void
nappe_elevation_keep_thing (NappeElevation *self, gpointer part, NappeBox box)
{
  NappeThing thing = { part, box };
  const char *id = nappe_elevation_id (part);
  g_array_append_val (self->things, thing);
  nappe_scene_hit (self->scene, id, box);
  nappe_scene_block (self->scene, NAPPE_BLOCK_MARK, box);
  nappe_elevation_pin (self, id, box.x + box.width + 6, box.y - 10);
  nappe_elevation_pin (self, id, box.x - 6, box.y - 10);
  nappe_elevation_pin (self, id, box.x + box.width + 15, box.y + box.height * 0.3);
  nappe_elevation_pin (self, id, box.x - 15, box.y + box.height * 0.3);
}

void
nappe_elevation_equipment_size (const NappeElevation *self, const NappeEquipment *part, double *length, double *height)
{
  NappeFootprint size = nappe_footprint (self->catalogue, part);
  *length = size.length;
  *height = size.height;
}

void
nappe_elevation_draw_equipment (NappeElevation *self)
{
  for (guint i = 0; i < self->build->equipment->len; i++)
    {
      NappeEquipment *part = self->build->equipment->pdata[i];
      NappeFrame place;
      double length, height;
      nappe_elevation_equipment_size (self, part, &length, &height);
      if (nappe_elevation_sock (self, part) || !nappe_elevation_room (self, part->where, &place))
        continue;
      double left = place.left + part->x, low = place.floor + part->base_height;
      NappeBox box = nappe_elevation_box (self, left, left + length, low, low + height);
      draw_shape (self, part->kind, &box);
      nappe_elevation_keep_thing (self, part, box);
    }
}

void
nappe_elevation_draw_pumps (NappeElevation *self)
{
  for (guint i = 0; i < self->layout->n_returns; i++)
    {
      const NappeLineLayout *line = &self->layout->returns[i];
      NappePump *pump = NAPPE_PUMP (NAPPE_RETURN_LINE (line->part)->pump);
      const NappeItem *item = self->catalogue ? nappe_catalogue_find (self->catalogue, pump->item) : NULL;
      double length = nappe_pump_footprint (self->catalogue, pump).length;
      NappeFrame room = self->layout->sump;
      nappe_elevation_room (self, pump->chamber, &room);
      double x = line->trunk.start.x, low = room.floor, top = fmax (line->trunk.start.z, low + 0.03);
      double height = item && item->height > 0 ? fmin (item->height, top - low) : top - low;
      NappeBox box = nappe_elevation_box (self, x - length / 2, x + length / 2, low, low + height);
      add_rounded (self, box, 4, &body_style);
      double radius = fmin (box.width, box.height) * 0.34;
      nappe_mark_pump (self->scene, box.x + box.width / 2, box.y + box.height / 2, fmax (radius, 4), 0, -1);
      nappe_elevation_keep_thing (self, pump, box);
    }
}

/* Close above the thing. */
static gboolean
name_above (NappeElevation *self, const NappeThing *thing, const char *name)
{
  NappeTextStyle style = { .x = thing->box.x + thing->box.width / 2, .y = thing->box.y - 5, .align_x = 0.5, .align_y = 1,
                           .size = NAPPE_TEXT_SMALL,
                           .role = NAPPE_ROLE_INK, .plate = TRUE };
  return nappe_label_place_text (self->scene, NAPPE_LAYER_NOTE, name, &style, 1, NULL);
}

/* Whether words may stand on the thing itself: nothing else is in their way. */
static gboolean
is_bare (const NappeElevation *self, const NappeThing *thing, const NappeBox *words)
{
  guint n;
  const NappeBlock *blocks = nappe_scene_blocks (self->scene, &n);
  for (guint i = 0; i < n; i++)
    if (blocks[i].kind != NAPPE_BLOCK_SOFT && nappe_box_overlaps (words, &blocks[i].box)
        && memcmp (&blocks[i].box, &thing->box, sizeof (NappeBox)) != 0)
      return FALSE;
  return TRUE;
}

/* On the thing when it is large enough: on its lower body, where a skimmer is widest. */
static gboolean
name_inside (NappeElevation *self, const NappeThing *thing, const char *name)
{
  static const double heights[] = { 0.78, 0.68, 0.88, 0.45, 0.3 };
  if (NAPPE_IS_PUMP (thing->part))
    return FALSE;
  NappeTextStyle style = { .x = thing->box.x + thing->box.width / 2, .align_x = 0.5, .align_y = 0.5,
                           .size = NAPPE_TEXT_SMALL, .role = NAPPE_ROLE_INK };
  gboolean skimmer = NAPPE_EQUIPMENT (thing->part)->kind == NAPPE_EQUIPMENT_SKIMMER;
  for (guint i = skimmer ? 0 : 3; i < (skimmer ? 3 : G_N_ELEMENTS (heights)); i++)
    {
      style.y = thing->box.y + thing->box.height * heights[i];
      NappeBox words = nappe_scene_measure (self->scene, name, &style);
      if (words.width + 6 > thing->box.width || words.height > thing->box.height * 0.4 || !is_bare (self, thing, &words))
        continue;
      nappe_scene_text (self->scene, NAPPE_LAYER_NOTE, name, &style);
      return TRUE;
    }
  return FALSE;
}

/* Farther off, with a leader to where the thing shows: its top or one of its sides. */
static void
name_aside (NappeElevation *self, const NappeThing *thing, const char *name)
{
  const NappeBox *box = &thing->box;
  double inset = fmin (box->width * 0.25, 6), upper = box->y + fmin (box->height * 0.25, 16), right = box->x + box->width;
  NappeLabelSpec spec = { .part = nappe_part_get_id (thing->part), .name = name, .plain = TRUE };
  spec.area = (NappeBox) { self->rule_x + 8, 8, self->dimension_x - self->rule_x - 20, nappe_elevation_y (self, 0) - 8 };
  NappeLabelSpec specs[] = { spec, spec, spec };
  const double places[][2] = { { right - inset, upper }, { box->x + inset, upper },
                               { right - inset, box->y + box->height * 0.75 } };
  for (guint i = 0; i < G_N_ELEMENTS (specs); i++)
    {
      specs[i].x = places[i][0];
      specs[i].y = places[i][1];
    }
  nappe_label_place_any (self->scene, specs, G_N_ELEMENTS (specs), NULL);
}

/* Widest name on or beside a thing [px]. */
#define WIDEST_NAME 180.0

/* Its name, how many there are, and how far a sock is closed. Transfer full. */
static char *
name_of (const NappeElevation *self, gpointer part)
{
  gboolean pump = NAPPE_IS_PUMP (part), sock = !pump && NAPPE_EQUIPMENT (part)->kind == NAPPE_EQUIPMENT_SOCK;
  int count = pump ? NAPPE_PUMP (part)->count : NAPPE_EQUIPMENT (part)->count;
  g_autofree char *name = nappe_board_name (nappe_part_display_name (part), count);
  if (!sock || !(NAPPE_EQUIPMENT (part)->load > 0))
    return g_steal_pointer (&name);
  g_autofree char *closed = nappe_quantity_format (NAPPE_QUANTITY_SHARE, NAPPE_EQUIPMENT (part)->load, self->options->units, 0);
  /* Translators: a filter sock and the share of its cloth that dirt has closed: "Filter sock, 40 % closed" */
  return g_strdup_printf (_("%1$s, %2$s closed"), name, closed);
}

void
nappe_elevation_name_equipment (NappeElevation *self)
{
  NappeTextStyle plain = { .size = NAPPE_TEXT_SMALL };
  for (guint i = 0; i < self->things->len; i++)
    {
      const NappeThing *thing = &g_array_index (self->things, NappeThing, i);
      g_autofree char *whole = name_of (self, thing->part);
      g_autofree char *name = nappe_label_shorten (self->scene, whole, &plain,
                                                   WIDEST_NAME * self->options->text_scale);
      if (!name_inside (self, thing, name) && !name_above (self, thing, name) && !self->small)
        name_aside (self, thing, name);
    }
}
