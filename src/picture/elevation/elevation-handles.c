/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Handles of the side elevation: each on the edge, crest or axis that it moves. */
#include "picture/elevation/elevation-private.h"
#include "picture/handles-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* A handle on a model place [m]; way: 1 where the value grows to the right or upwards, -1 the other way, times what a metre
   of the picture counts. */
static NappeHandle *
add (NappeElevation *self, gpointer picked, gpointer part, const char *field, gboolean upright, double x, double z, double way)
{
  return nappe_scene_handle (self->scene, self->build, picked, part, field, upright, nappe_elevation_x (self, x),
                             nappe_elevation_y (self, z), way / self->scale);
}

static NappeHandle *
add_level (NappeElevation *self, gpointer picked, gpointer part, const char *field, double x, double z)
{
  return add (self, picked, part, field, TRUE, x, z, 1);
}

static NappeHandle *
add_across (NappeElevation *self, gpointer picked, gpointer part, const char *field, double x, double z)
{
  return add (self, picked, part, field, FALSE, x, z, 1);
}

static double
middle (double a, double b)
{
  return 0.5 * (a + b);
}

static void
add_stand_and_tank (NappeElevation *self)
{
  const NappeFrame *tank = &self->layout->tank, *stand = &self->layout->stand;
  NappePart *part = self->build->tank;
  /* It stands centred: its end moves by half of what its length grows. */
  add (self, part, part, "length", FALSE, tank->right, middle (tank->floor, tank->rim), 2);
  add_level (self, part, part, "height", middle (tank->left, tank->right), tank->rim);
  add_level (self, self->build->stand, self->build->stand, "height", stand->right, stand->rim);
}

/* The end of a box that moves when its length changes, and which way. */
static double
moving_end (const NappeBoxLayout *box, double *way)
{
  gboolean inside = box->part->style == NAPPE_OVERFLOW_INTERNAL;
  gboolean to_left = box->part->side == (inside ? NAPPE_SIDE_RIGHT : NAPPE_SIDE_LEFT);
  *way = to_left ? -1 : 1;
  return to_left ? box->frame.left : box->frame.right;
}

/* Where the crest is seen: on the wall towards the tank, or in the middle of a front. */
static double
crest_place (const NappeBoxLayout *box)
{
  const NappeFrame *frame = box->has_inner ? &box->inner : &box->frame;
  gboolean crosses = !box->has_inner && box->part->style != NAPPE_OVERFLOW_INTERNAL;
  if (box->part->side == NAPPE_SIDE_LEFT)
    return frame->right;
  if (box->part->side == NAPPE_SIDE_RIGHT)
    return frame->left;
  return crosses ? frame->left : middle (frame->left, frame->right);
}

static void
add_box (NappeElevation *self, const NappeBoxLayout *box)
{
  NappeOverflow *part = box->part;
  const NappeFrame *frame = &box->frame;
  double way, end = moving_end (box, &way), height = middle (frame->floor, frame->rim);
  double across = middle (frame->left, frame->right);
  NappeHandle *weir = add_level (self, part, part, "weir_height", crest_place (box), box->weir);
  nappe_scene_handle_most (self->scene, weir, self->layout->tank.rim - self->layout->tank.floor,
                           /* Translators: why a weir cannot be dragged higher */
                           _("The tank’s rim is no higher."));
  add (self, part, part, "length", FALSE, end, height, way);
  if (part->side == NAPPE_SIDE_BACK || part->side == NAPPE_SIDE_CENTRE)
    add_across (self, part, part, "x", across, height);
  NappeHandle *floor = add_level (self, part, part, "floor_height", across, frame->floor);
  nappe_scene_handle_most (self->scene, floor, part->rim_height,
                           /* Translators: why the floor of an overflow box cannot be dragged higher */
                           _("The box’s rim is no higher."));
}

static void
add_vessel (NappeElevation *self, const NappeVesselLayout *vessel)
{
  NappeSideVessel *part = vessel->part;
  const NappeFrame *frame = &vessel->frame;
  double across = middle (frame->left, frame->right);
  add_level (self, part, part, "base_height", across, frame->floor);
  add_across (self, part, part, "x", across, middle (frame->floor, frame->rim));
  NappeHandle *spout = add_level (self, part, part, "spout_height", frame->right, vessel->spout);
  nappe_scene_handle_most (self->scene, spout, part->height,
                           /* Translators: why a spout cannot be dragged higher */
                           _("The vessel’s rim is no higher."));
}

/* The wall on the right of a chamber, shown with whatever is picked. */
static void
add_wall (NappeElevation *self, gpointer picked, guint index, double z)
{
  const NappeLayout *layout = self->layout;
  double x = index < layout->n_baffles ? middle (layout->baffles[index].left, layout->baffles[index].right)
                                       : layout->chambers[index].frame.right;
  add_across (self, picked, layout->chambers[index].part, "length", x, z);
}

static void
add_baffle (NappeElevation *self, guint index)
{
  const NappeBaffleLayout *baffle = &self->layout->baffles[index];
  NappeBaffle *part = baffle->part;
  double across = middle (baffle->left, baffle->right);
  NappeHandle *top = add_level (self, part, part, "top_height", across, baffle->top);
  nappe_scene_handle_least (self->scene, top, part->gap_height,
                            /* Translators: why a baffle cannot be dragged lower */
                            _("The gap under it begins there."));
  nappe_scene_handle_most (self->scene, top, self->layout->sump.rim - self->layout->sump.floor,
                           /* Translators: why something in the sump cannot be dragged higher */
                           _("The sump’s rim is no higher."));
  if (nappe_is_given (part->lowest_top))
    nappe_scene_handle_least (self->scene, top, part->lowest_top,
                              /* Translators: why an adjustable baffle cannot be dragged lower */
                              _("It can be adjusted no lower."));
  if (nappe_is_given (part->highest_top))
    nappe_scene_handle_most (self->scene, top, part->highest_top,
                             /* Translators: why an adjustable baffle cannot be dragged higher */
                             _("It can be adjusted no higher."));
  NappeHandle *gap = add_level (self, part, part, "gap_height", across, baffle->gap_top);
  nappe_scene_handle_most (self->scene, gap, part->top_height,
                           /* Translators: why the gap under a baffle cannot be made higher */
                           _("The baffle ends there."));
  add_wall (self, part, index, middle (baffle->gap_top, baffle->top));
}

static void
add_chamber (NappeElevation *self, guint index)
{
  const NappeLayout *layout = self->layout;
  const NappeFrame *frame = &layout->chambers[index].frame;
  NappeChamber *part = layout->chambers[index].part;
  double height = middle (frame->floor, frame->rim);
  if (index > 0)
    add_wall (self, part, index - 1, height);
  if (index + 1 < layout->n_chambers || layout->n_chambers == 1)
    add_wall (self, part, index, height);
  if (part->role != NAPPE_CHAMBER_RETURN && part->role != NAPPE_CHAMBER_RESERVOIR)
    return;
  NappeHandle *kept = add_level (self, part, part, "kept_level", middle (frame->left, frame->right),
                                 frame->floor + part->kept_level);
  nappe_scene_handle_most (self->scene, kept, frame->rim - frame->floor, _("The sump’s rim is no higher."));
}

static void
add_sump (NappeElevation *self)
{
  const NappeFrame *sump = &self->layout->sump;
  NappePart *part = self->build->sump;
  double across = middle (sump->left, sump->right);
  add_across (self, part, part, "length", sump->right, middle (sump->floor, sump->rim));
  add_level (self, part, part, "height", across, sump->rim);
  add_across (self, part, part, "x", sump->left, middle (sump->floor, sump->rim));
  add_level (self, part, part, "base_height", across, sump->floor);
}

static const NappeDrawnPipe *
find_pipe (const NappeElevation *self, const NappeLineLayout *line, const NappeOutletLayout *outlet)
{
  for (guint i = 0; i < self->pipes->len; i++)
    {
      const NappeDrawnPipe *pipe = self->pipes->pdata[i];
      if (pipe->line == line && pipe->outlet == outlet && pipe->points->len > 0)
        return pipe;
    }
  return NULL;
}

static const NappePipePoint *
point_of (const NappeDrawnPipe *pipe, guint index)
{
  return &g_array_index (pipe->points, NappePipePoint, index);
}

/* Moves the end of a route up and down: its last upright piece. */
static const NappePiece *
last_upright (const NappeRoute *route)
{
  for (guint i = route->n_legs; i > 0; i--)
    {
      NappePiece *piece = route->legs[i - 1].piece;
      if (piece->length > 0 && (piece->toward == NAPPE_TOWARD_DOWN || piece->toward == NAPPE_TOWARD_UP))
        return piece;
    }
  return NULL;
}

/* The handle on the end of a route, which stays within what the route leads to. */
static void
add_end (NappeElevation *self, gpointer picked, const NappePiece *piece, const char *into, const NappePipePoint *end)
{
  double way = piece->toward == NAPPE_TOWARD_DOWN ? -1 : 1;
  NappeHandle *handle = add (self, picked, (gpointer) piece, "length", TRUE, end->x, end->z, way);
  NappeFrame room;
  if (!handle || !nappe_elevation_room (self, into, &room))
    return;
  double down = way * (room.floor - end->z), up = way * (room.rim - end->z);
  /* Translators: why the end of a pipe cannot be dragged farther */
  nappe_scene_handle_least (self->scene, handle, handle->value + fmin (down, up), _("What it leads to ends there."));
  nappe_scene_handle_most (self->scene, handle, handle->value + fmax (down, up), _("What it leads to ends there."));
}

static void
add_outlet (NappeElevation *self, gpointer picked, const NappeLineLayout *line, const NappeOutletLayout *outlet)
{
  const NappeDrawnPipe *pipe = find_pipe (self, line, outlet);
  const NappePiece *piece = last_upright (&outlet->route);
  /* An outlet without pieces of its own is the end of the trunk. */
  if (!pipe)
    pipe = find_pipe (self, line, NULL);
  if (!piece && outlet->tee_leg == -1)
    piece = last_upright (&line->trunk);
  if (!pipe)
    return;
  const NappePipePoint *end = point_of (pipe, pipe->points->len - 1);
  if (piece)
    add_end (self, picked, piece, outlet->part->into, end);
  NappeHandle *hole = add_level (self, picked, outlet->part, "siphon_break_height", end->x,
                                 self->layout->tank.floor + outlet->part->siphon_break_height);
  nappe_scene_handle_most (self->scene, hole, self->layout->tank.rim - self->layout->tank.floor,
                           _("The tank’s rim is no higher."));
}

static void
add_outlets (NappeElevation *self, const NappeLineLayout *line)
{
  for (guint i = 0; i < line->n_outlets; i++)
    {
      add_outlet (self, line->part, line, &line->outlets[i]);
      if (line->n_outlets > 1)
        add_outlet (self, line->outlets[i].part, line, &line->outlets[i]);
    }
}

static void
add_drain (NappeElevation *self, const NappeLineLayout *line)
{
  NappeDrain *part = NAPPE_DRAIN (line->part);
  const NappeFrame *room = line->box >= 0 ? &self->layout->boxes[line->box].frame : &self->layout->tank;
  const NappeDrawnPipe *pipe = find_pipe (self, line, NULL);
  double x = pipe ? point_of (pipe, 0)->x : line->trunk.start.x;
  NappeHandle *crest = add_level (self, part, part, "crest_height", x, line->crest);
  nappe_scene_handle_most (self->scene, crest, room->rim - room->floor,
                           /* Translators: why the inlet of a drain cannot be dragged higher */
                           _("The rim of its box is no higher."));
  /* At its true place: where pipes would hide each other, drawn ones jump aside. */
  NappeHandle *across = add_across (self, part, part, "x", line->trunk.start.x, middle (room->floor, line->crest));
  nappe_scene_handle_most (self->scene, across, room->right - room->left,
                           /* Translators: why something cannot be dragged farther to the right */
                           _("The room that it stands in ends there."));
  add_outlets (self, line);
}

static void
add_pump (NappeElevation *self, const NappeLineLayout *line)
{
  NappePump *pump = NAPPE_PUMP (NAPPE_RETURN_LINE (line->part)->pump);
  NappeFrame room = self->layout->sump;
  double x = line->trunk.start.x;
  nappe_elevation_room (self, pump->chamber, &room);
  NappeHandle *inlet = add_level (self, pump, pump, "inlet_height", x, line->inlet);
  nappe_scene_handle_most (self->scene, inlet, room.rim - room.floor, _("The room that it stands in ends there."));
  NappeHandle *across = add_across (self, pump, pump, "x", x, line->trunk.start.z);
  nappe_scene_handle_most (self->scene, across, room.right - room.left, _("The room that it stands in ends there."));
}

static void
add_equipment (NappeElevation *self)
{
  for (guint i = 0; i < self->build->equipment->len; i++)
    {
      NappeEquipment *part = self->build->equipment->pdata[i];
      NappeFrame room;
      double length, height;
      nappe_elevation_equipment_size (self, part, &length, &height);
      if (!nappe_elevation_room (self, part->where, &room))
        continue;
      double left = room.left + part->x, low = room.floor + part->base_height;
      /* A light hangs above the rim. */
      add_level (self, part, part, "base_height", left + length / 2, low);
      NappeHandle *across = add_across (self, part, part, "x", left + length / 2, low + height / 2);
      nappe_scene_handle_most (self->scene, across, room.right - room.left, _("The room that it stands in ends there."));
    }
}

static void
add_surface (NappeElevation *self, const char *id)
{
  nappe_scene_guide (self->scene, TRUE, nappe_elevation_y (self, nappe_elevation_level (self, self->shown, id)));
}

static void
add_surfaces (NappeElevation *self)
{
  const NappeLayout *layout = self->layout;
  add_surface (self, nappe_elevation_id (self->build->tank));
  for (guint i = 0; i < layout->n_boxes; i++)
    add_surface (self, nappe_elevation_id (layout->boxes[i].part));
  for (guint i = 0; i < layout->n_chambers; i++)
    add_surface (self, nappe_elevation_id (layout->chambers[i].part));
}

void
nappe_elevation_add_handles (NappeElevation *self)
{
  const NappeLayout *layout = self->layout;
  add_stand_and_tank (self);
  for (guint i = 0; i < layout->n_boxes; i++)
    add_box (self, &layout->boxes[i]);
  for (guint i = 0; i < layout->n_vessels; i++)
    add_vessel (self, &layout->vessels[i]);
  for (guint i = 0; i < layout->n_drains; i++)
    add_drain (self, &layout->drains[i]);
  add_sump (self);
  for (guint i = 0; i < layout->n_chambers; i++)
    add_chamber (self, i);
  for (guint i = 0; i < layout->n_baffles; i++)
    add_baffle (self, i);
  for (guint i = 0; i < layout->n_returns; i++)
    {
      add_pump (self, &layout->returns[i]);
      add_outlets (self, &layout->returns[i]);
    }
  add_equipment (self);
  add_surfaces (self);
}
