/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where vessels are: stand, tank, boxes, sump, socks, side vessels. */
#include "network/layout-private.h"

#include <math.h>

/* Of a bulkhead whose height is not given, over the inner box's floor: room for its flange [m]. */
#define JOINT_CLEARANCE 0.01
/* A sock without measures and without a catalogue item: the usual one that hangs in a round hole of four inches [m]. */
#define USUAL_SOCK_WIDTH 0.1
#define USUAL_SOCK_HEIGHT 0.33

static void
lay_stand_and_tank (NappeLayout *self, NappeBuild *build)
{
  const NappeStand *stand = NAPPE_BUILD_STAND (build);
  const NappeTank *tank = NAPPE_BUILD_TANK (build);
  double left = 0.5 * (stand->length - tank->length);
  double floor = stand->height + tank->bottom_thickness;

  self->tank = (NappeFrame){ left, left + tank->length, 0, tank->width, floor, floor + tank->height };
  double front = 0.5 * (tank->width - stand->width);
  self->stand = (NappeFrame){ 0, stand->length, front, front + stand->width, 0, stand->height };
}

static NappeFrame
box_frame (const NappeFrame *tank, const NappeTank *glass, const NappeOverflow *part)
{
  gboolean inside = part->style == NAPPE_OVERFLOW_INTERNAL;
  NappeFrame frame = { 0, 0, tank->back - part->width, tank->back, tank->floor + part->floor_height,
                       tank->floor + fmax (part->floor_height, part->rim_height) };

  switch (part->side)
    {
    case NAPPE_SIDE_LEFT:
      frame.left = inside ? tank->left : tank->left - glass->wall_thickness - part->length;
      break;
    case NAPPE_SIDE_RIGHT:
      frame.left = inside ? tank->right - part->length : tank->right + glass->wall_thickness;
      break;
    case NAPPE_SIDE_CENTRE:
      frame.left = tank->left + part->x;
      frame.front = 0.5 * (tank->front + tank->back - part->width);
      break;
    default:
      frame.left = tank->left + part->x;
      if (!inside)
        frame.front = tank->back + glass->wall_thickness;
    }
  frame.right = frame.left + part->length;
  frame.back = frame.front + part->width;
  return frame;
}

/* Of a span [m] around a middle, the lower end, moved so that it lies within low..high if it can. */
static double
span_start (double middle, double span, double low, double high)
{
  return fmax (low, fmin (middle - 0.5 * span, high - span));
}

/* The inner box stands in the tank with its back to the outer box. */
static NappeFrame
inner_frame (const NappeFrame *tank, const NappeBoxLayout *box)
{
  const NappeOverflow *part = box->part;
  const NappeFrame *outer = &box->frame;
  NappeFrame frame = { .floor = fmax (tank->floor, box->weir - part->inner_depth), .rim = box->weir_top };

  if (part->side == NAPPE_SIDE_LEFT || part->side == NAPPE_SIDE_RIGHT)
    {
      frame.left = part->side == NAPPE_SIDE_LEFT ? tank->left : tank->right - part->inner_width;
      frame.right = frame.left + part->inner_width;
      frame.front = span_start (0.5 * (outer->front + outer->back), part->inner_length, tank->front, tank->back);
      frame.back = frame.front + part->inner_length;
      return frame;
    }
  frame.left = span_start (0.5 * (outer->left + outer->right), part->inner_length, tank->left, tank->right);
  frame.right = frame.left + part->inner_length;
  frame.back = part->side == NAPPE_SIDE_CENTRE ? outer->front - part->wall_thickness : tank->back;
  frame.front = frame.back - part->inner_width;
  return frame;
}

static void
lay_inner (const NappeFrame *tank, NappeBoxLayout *box)
{
  const NappeOverflow *part = box->part;

  box->has_inner = part->style == NAPPE_OVERFLOW_SLIM || part->style == NAPPE_OVERFLOW_RIM;
  if (!box->has_inner)
    return;
  box->inner = inner_frame (tank, box);
  /* No water is drawn from under the floor: the compiler tells where one is drawn there. */
  double lowest = box->inner.floor + (part->style == NAPPE_OVERFLOW_RIM ? 0 : 0.5 * part->joint_bore);
  box->joint = nappe_is_given (part->joint_height) ? fmax (tank->floor + part->joint_height, lowest)
                                                   : box->inner.floor + 0.5 * part->joint_bore + JOINT_CLEARANCE;
}

static void
lay_boxes (NappeLayout *self, NappeBuild *build)
{
  self->n_boxes = build->overflows->len;
  self->boxes = g_new0 (NappeBoxLayout, self->n_boxes);
  for (guint i = 0; i < self->n_boxes; i++)
    {
      NappeOverflow *part = build->overflows->pdata[i];
      NappeBoxLayout *box = &self->boxes[i];

      box->part = part;
      box->frame = box_frame (&self->tank, NAPPE_BUILD_TANK (build), part);
      box->weir = self->tank.floor + part->weir_height;
      box->weir_top = box->weir + (part->slot_count > 0 ? part->slot_depth : 0);
      lay_inner (&self->tank, box);
    }
}

static void
lay_sump (NappeLayout *self, NappeBuild *build)
{
  const NappeSump *sump = NAPPE_BUILD_SUMP (build);
  double floor = sump->base_height + sump->bottom_thickness;
  double front = 0.5 * (self->tank.front + self->tank.back - sump->width);
  double x = sump->x;

  self->sump = (NappeFrame){ x, x + sump->length, front, front + sump->width, floor, floor + sump->height };
  self->n_chambers = sump->chambers->len;
  self->chambers = g_new0 (NappeChamberLayout, self->n_chambers);
  /* A baffle more than there are gaps between chambers stands nowhere; the network reports it. */
  self->n_baffles = MIN (sump->baffles->len, self->n_chambers > 0 ? self->n_chambers - 1 : 0);
  self->baffles = g_new0 (NappeBaffleLayout, self->n_baffles);
  for (guint i = 0; i < self->n_chambers; i++)
    {
      NappeChamberLayout *chamber = &self->chambers[i];

      chamber->part = sump->chambers->pdata[i];
      chamber->frame = self->sump;
      chamber->frame.left = x;
      chamber->frame.right = x += chamber->part->length;
      if (i < self->n_baffles)
        {
          NappeBaffle *part = sump->baffles->pdata[i];

          self->baffles[i] = (NappeBaffleLayout){ x, x + part->thickness, floor + part->top_height,
                                                  floor + part->gap_height, part };
          x += part->thickness;
        }
    }
}

gint
nappe_layout_find_chamber (const NappeLayout *self, const char *id)
{
  for (guint i = 0; i < self->n_chambers; i++)
    if (g_str_equal (nappe_part_get_id (NAPPE_PART (self->chambers[i].part)), id))
      return (gint) i;
  return -1;
}

/* A measure of equipment: its own, else the catalogue's (0: none), else what is usual. */
static double
measure (double own, double catalogue, double usual)
{
  return nappe_is_given (own) ? own : catalogue > 0 ? catalogue : usual;
}

static void
lay_sock (NappeLayout *self, NappeEquipment *part, guint chamber, NappeCatalogue *catalogue)
{
  static const NappeItem nothing;
  const NappeItem *item = nappe_catalogue_find (catalogue, part->item);
  const NappeFrame *room = &self->chambers[chamber].frame;
  NappeSockLayout *sock = &self->socks[self->n_socks++];

  if (item == NULL)
    item = &nothing;
  double height = measure (part->height, item->height, USUAL_SOCK_HEIGHT);
  sock->part = part;
  sock->chamber = chamber;
  sock->length = measure (part->length, item->length_overall, USUAL_SOCK_WIDTH);
  sock->width = measure (part->width, item->width, USUAL_SOCK_WIDTH);
  gboolean along = part->x + part->count * sock->length <= room->right - room->left;
  double left = room->left + part->x, width = (along ? 1 : part->count) * sock->width;
  double front = 0.5 * (room->front + room->back - width), floor = room->floor + part->base_height;
  sock->frame = (NappeFrame){ left,  left + (along ? part->count : 1) * sock->length,
                              front, front + width,
                              floor, floor + height };
}

static void
lay_socks (NappeLayout *self, NappeBuild *build, NappeCatalogue *catalogue)
{
  self->socks = g_new0 (NappeSockLayout, build->equipment->len);
  for (guint i = 0; i < build->equipment->len; i++)
    {
      NappeEquipment *part = build->equipment->pdata[i];
      gint chamber = nappe_layout_find_chamber (self, part->where);

      if (part->kind == NAPPE_EQUIPMENT_SOCK && chamber >= 0)
        lay_sock (self, part, (guint) chamber, catalogue);
    }
}

static void
lay_vessels (NappeLayout *self, NappeBuild *build)
{
  const NappeTank *glass = NAPPE_BUILD_TANK (build);

  self->n_vessels = build->vessels->len;
  self->vessels = g_new0 (NappeVesselLayout, self->n_vessels);
  for (guint i = 0; i < self->n_vessels; i++)
    {
      NappeSideVessel *part = build->vessels->pdata[i];
      double left = self->tank.left + part->x, floor = self->tank.floor + part->base_height;
      double front = self->tank.back + glass->wall_thickness + part->wall_thickness;

      self->vessels[i] = (NappeVesselLayout){
        { left, left + part->length, front, front + part->width, floor, floor + part->height }, floor + part->spout_height, part
      };
    }
}

void
nappe_layout_place_vessels (NappeLayout *self, NappeBuild *build, NappeCatalogue *catalogue)
{
  lay_stand_and_tank (self, build);
  lay_boxes (self, build);
  lay_sump (self, build);
  lay_socks (self, build, catalogue);
  lay_vessels (self, build);
}
