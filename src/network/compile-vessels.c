/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Vessels and what joins them without pipes of the planner's: weirs, rims, baffles, joints of two-box overflows,
 * cloth of socks. */
#include "network/compile-private.h"

#include "physics/bend.h"
#include "physics/fitting.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* Rock lies in the lower part of a display: below this share of the weir's height. */
#define ROCK_HEIGHT_SHARE 0.75
/* However much rock, this share of the plan stays water. */
#define LEAST_OPEN_PLAN 0.1
/* Wall of bulkheads and siphon tubes: smooth plastic, as pipes in the catalogue [m]. */
#define JOINT_ROUGHNESS 1.5e-6
/* Radius of a siphon tube's bend over its bore: common practice for tube that is bent warm. */
#define JOINT_BEND_RATIO 2.0
/* Speed of water through clean cloth for each metre of head [1/s]: what ASTM D4491 calls permittivity. Needle-punched
 * felt of polymer fibre, 1 to 3 mm thick: 0.7 to 2.2 in makers' sheets of geotextiles (from memory); this is the
 * middle. A catalogue's flow of a sock names no head, so it says nothing here. */
#define CLOTH_CONDUCTANCE 1.4
/* Edge of a sock's holder: thin plate [m]. */
#define HOLDER_THICKNESS 0.005
/* More than ever stands over that edge [m]. */
#define HOLDER_FREEBOARD 0.05
/* Heights that differ by less are the same [m]. */
#define HAIR 1e-6

/* A vessel's top edge, over which water goes to the floor. */
static void
add_rim (NappeCompiler *self, NappePart *part, guint node, const NappeFrame *frame, double thickness)
{
  NappeLink *link = nappe_compiler_add_link (self, part, NAPPE_LINK_RIM, node, self->network->floor);

  link->sill = frame->rim;
  link->weir = (NappeWeir){ .length = 2 * (frame->right - frame->left + frame->back - frame->front),
                            .height = frame->rim - frame->floor,
                            .thickness = thickness,
                            .open_share = 1 };
}

static void
set_vessel (NappeNode *node, const NappeFrame *frame, double area)
{
  node->floor = frame->floor;
  node->rim = frame->rim;
  node->area = node->area_low = area;
}

/* Plan that boxes standing on the tank's floor take from the display [m2]. */
static double
box_footprints (const NappeLayout *layout)
{
  double sum = 0;

  for (guint i = 0; i < layout->n_boxes; i++)
    {
      const NappeBoxLayout *box = &layout->boxes[i];
      double wall = box->part->wall_thickness;

      if (box->part->style == NAPPE_OVERFLOW_INTERNAL)
        sum += (box->frame.right - box->frame.left + wall) * (box->frame.back - box->frame.front + wall);
    }
  return sum;
}

/* Plan that inner boxes take from the display at the height of its weirs [m2]; below: volume of the water under them. */
static double
inner_footprints (const NappeLayout *layout, double *below)
{
  double sum = 0;

  *below = 0;
  for (guint i = 0; i < layout->n_boxes; i++)
    {
      const NappeBoxLayout *box = &layout->boxes[i];
      double wall = box->part->weir_thickness;

      if (!box->has_inner)
        continue;
      double plan = (box->part->inner_length + 2 * wall) * (box->part->inner_width + wall);
      sum += plan;
      *below += plan * fmax (0, box->inner.floor - wall - layout->tank.floor);
    }
  return sum;
}

/* The water under inner boxes is counted below the step, so that the volume is right above their bottoms. */
static void
compile_display (NappeCompiler *self)
{
  const NappeTank *tank = NAPPE_BUILD_TANK (self->build);
  const NappeFrame *frame = &self->layout->tank;
  guint index = nappe_compiler_add_node (self, self->build->tank, NAPPE_NODE_DISPLAY);
  NappeNode *node = nappe_compiler_node (self, index);
  double below_inner, plan = tank->length * tank->width;
  double taken = box_footprints (self->layout) + inner_footprints (self->layout, &below_inner);
  double area = fmax (plan - taken, LEAST_OPEN_PLAN * plan);
  double lowest_weir = frame->rim;

  self->network->display = index;
  set_vessel (node, frame, area);
  for (guint i = 0; i < self->layout->n_boxes; i++)
    lowest_weir = fmin (lowest_weir, self->layout->boxes[i].weir);
  double step = ROCK_HEIGHT_SHARE * fmax (lowest_weir - frame->floor, 0);
  node->step = frame->floor + step;
  node->area_low = (area + (step > 0 ? below_inner / step : 0)) * fmax (1 - tank->displaced / ROCK_HEIGHT_SHARE, LEAST_OPEN_PLAN);
  add_rim (self, self->build->tank, index, frame, tank->wall_thickness);
}

static void
add_loss (NappeCompiler *self, NappeLossKind kind, double length, double k)
{
  NappeLoss loss = { .kind = kind, .stretch = self->stretches->len - 1, .length = length, .k = k };
  NappeStretch *stretch = &g_array_index (self->stretches, NappeStretch, loss.stretch);

  stretch->length += length;
  stretch->k += k;
  g_array_append_val (self->losses, loss);
}

/* Bulkheads, or siphon tubes that go up, over the rim and down again in one bend. */
static void
compile_joint (NappeCompiler *self, const NappeBoxLayout *box, guint inner, guint outer)
{
  NappeOverflow *part = box->part;
  gboolean siphon = part->style == NAPPE_OVERFLOW_RIM;
  NappeStretch stretch = { .bore = part->joint_bore, .roughness = JOINT_ROUGHNESS };

  if (part->joint_count <= 0)
    {
      nappe_compiler_problem (self, NAPPE_PART (part),
                              _("No bulkhead or siphon tube joins the two boxes of this overflow, so no water reaches "
                                 "its drains."));
      return;
    }
  if (nappe_is_given (part->joint_height) && self->layout->tank.floor + part->joint_height < box->joint - HAIR)
    nappe_compiler_problem (
        self, NAPPE_PART (part),
        siphon ? _("The siphon tubes of this overflow end under the floor of its inner box; they are reckoned as "
                    "ending at it.")
               : _("The bulkheads of this overflow lie under the floor of its inner box; they are reckoned as "
                    "standing on it."));
  NappeLink *link = nappe_compiler_add_link (self, NAPPE_PART (part), NAPPE_LINK_JOINT, inner, outer);
  link->joint = (NappeJoint){ (guint) part->joint_count, part->joint_bore, box->joint, siphon, siphon };
  link->sill = siphon ? box->joint : box->joint - 0.5 * part->joint_bore;
  link->highest = siphon ? fmax (self->layout->tank.rim, box->joint) : box->joint;
  link->first_stretch = self->stretches->len;
  link->first_loss = self->losses->len;
  g_array_append_val (self->stretches, stretch);
  add_loss (self, NAPPE_LOSS_ENTRANCE, 0, nappe_k_entrance (siphon ? NAPPE_ENTRANCE_PROJECTING : NAPPE_ENTRANCE_FLUSH));
  if (siphon)
    {
      NappeBend bend = nappe_bend (G_PI, JOINT_BEND_RATIO);
      add_loss (self, NAPPE_LOSS_BEND, bend.diameters * part->joint_bore, bend.k);
    }
  add_loss (self, NAPPE_LOSS_PIPE, part->joint_length, 0);
  add_loss (self, NAPPE_LOSS_EXIT, 0, nappe_k_exit ());
  link->n_stretches = 1;
  link->n_losses = self->losses->len - link->first_loss;
}

/* What an inner box cannot hold goes back into the display: like an internal box it brims with the tank. */
static guint
compile_inner (NappeCompiler *self, const NappeBoxLayout *box, guint outer)
{
  guint index = nappe_compiler_add_node (self, NULL, NAPPE_NODE_BOX);
  NappeNode *node = nappe_compiler_node (self, index);

  g_snprintf (node->id, sizeof node->id, "%s" NAPPE_INNER_SUFFIX, nappe_part_get_id (NAPPE_PART (box->part)));
  set_vessel (node, &box->inner, box->part->inner_length * box->part->inner_width);
  node->rim = self->layout->tank.rim;
  compile_joint (self, box, index, outer);
  return index;
}

static void
compile_box (NappeCompiler *self, const NappeBoxLayout *box)
{
  NappeOverflow *part = box->part;
  guint index = nappe_compiler_add_node (self, NAPPE_PART (part), NAPPE_NODE_BOX);

  if (part->rim_height < part->floor_height)
    nappe_compiler_problem (self, NAPPE_PART (part),
                            _("The top of this box lies under its floor; it is reckoned as holding nothing."));
  set_vessel (nappe_compiler_node (self, index), &box->frame, part->length * part->width);
  if (part->style == NAPPE_OVERFLOW_INTERNAL)
    nappe_compiler_node (self, index)->rim = self->layout->tank.rim;
  guint below = box->has_inner ? compile_inner (self, box, index) : index;
  NappeLink *link = nappe_compiler_add_link (self, NAPPE_PART (part), NAPPE_LINK_WEIR, self->network->display, below);
  link->sill = box->weir;
  link->weir = (NappeWeir){ .length = part->weir_length,
                            .height = part->weir_height,
                            .thickness = part->weir_thickness,
                            .slot_count = (guint) MAX (part->slot_count, 0),
                            .slot_width = part->slot_width,
                            .slot_depth = part->slot_depth,
                            .open_share = 1 };
  if (part->style != NAPPE_OVERFLOW_INTERNAL)
    add_rim (self, NAPPE_PART (part), index, &box->frame, part->wall_thickness);
}

/* Whether an outlet of a line pours into this part. */
static gboolean
is_poured_into (GPtrArray *outlets, const char *id)
{
  for (guint i = 0; i < outlets->len; i++)
    if (g_str_equal (NAPPE_OUTLET (outlets->pdata[i])->into, id))
      return TRUE;
  return FALSE;
}

/* A sock that nothing pours into hangs in its chamber's water and is part of it. */
static gboolean
is_sock_fed (NappeCompiler *self, const NappeSockLayout *sock)
{
  const char *id = nappe_part_get_id (NAPPE_PART (sock->part));
  gboolean fed = FALSE;

  for (guint i = 0; i < self->build->drains->len; i++)
    fed |= is_poured_into (NAPPE_DRAIN (self->build->drains->pdata[i])->outlets, id);
  for (guint i = 0; i < self->build->returns->len; i++)
    fed |= is_poured_into (NAPPE_RETURN_LINE (self->build->returns->pdata[i])->outlets, id);
  return fed;
}

/* Round, or oval, and as wide as high up. */
static double
sock_plan (const NappeSockLayout *sock)
{
  return sock->part->count * 0.25 * G_PI * sock->length * sock->width;
}

/* Takes the plan of the fed socks that stand in a chamber out of it, above their mean lower end. */
static void
take_socks_out (NappeCompiler *self, guint chamber, NappeNode *node)
{
  double taken = 0, moment = 0;

  for (guint i = 0; i < self->layout->n_socks; i++)
    {
      const NappeSockLayout *sock = &self->layout->socks[i];

      if (sock->chamber != chamber || !is_sock_fed (self, sock))
        continue;
      taken += sock_plan (sock);
      moment += sock_plan (sock) * sock->frame.floor;
    }
  if (taken <= 0)
    return;
  node->step = moment / taken;
  node->area = fmax (node->area - taken, LEAST_OPEN_PLAN * node->area);
}

static void
compile_chamber (NappeCompiler *self, guint i)
{
  const NappeChamberLayout *chamber = &self->layout->chambers[i];
  const NappeSump *sump = NAPPE_BUILD_SUMP (self->build);
  NappeChamber *part = chamber->part;
  guint index = nappe_compiler_add_node (self, NAPPE_PART (part), NAPPE_NODE_CHAMBER);
  NappeNode *node = nappe_compiler_node (self, index);

  /* Media and rock are counted up to the rim, so that free space is never overstated. */
  set_vessel (node, &chamber->frame, part->length * sump->width * fmax (1 - part->displaced, LEAST_OPEN_PLAN));
  take_socks_out (self, i, node);
  node->chamber_role = part->role;
  add_rim (self, NAPPE_PART (part), index, &chamber->frame, sump->wall_thickness);
  if (part->role == NAPPE_CHAMBER_RESERVOIR && self->network->reservoir == G_MAXUINT)
    self->network->reservoir = index;
}

static void
compile_baffle (NappeCompiler *self, guint i)
{
  const NappeBaffleLayout *baffle = &self->layout->baffles[i];
  const NappeSump *sump = NAPPE_BUILD_SUMP (self->build);
  guint left = (guint) nappe_compiler_vessel (self, nappe_part_get_id (NAPPE_PART (self->layout->chambers[i].part)));
  NappePart *part = NAPPE_PART (baffle->part);
  NappeLink *link = nappe_compiler_add_link (self, part, NAPPE_LINK_WEIR, left, left + 1);

  link->sill = fmin (baffle->top, self->layout->sump.rim);
  if (nappe_is_given (baffle->part->lowest_top))
    link->sill_low = fmin (self->layout->sump.floor + baffle->part->lowest_top, self->layout->sump.rim);
  if (nappe_is_given (baffle->part->highest_top))
    link->sill_high = fmin (self->layout->sump.floor + baffle->part->highest_top, self->layout->sump.rim);
  link->weir = (NappeWeir){ .length = sump->width,
                            .height = link->sill - self->layout->sump.floor,
                            .thickness = baffle->part->thickness,
                            .open_share = 1 };
  if (baffle->part->gap_height <= 0)
    return;
  link = nappe_compiler_add_link (self, part, NAPPE_LINK_GAP, left, left + 1);
  link->gap_area = baffle->part->gap_height * sump->width;
  link->gap_floor = self->layout->sump.floor;
  link->weir.length = sump->width;
  link->sill = link->gap_floor;
}

static void
compile_sump (NappeCompiler *self)
{
  const NappeSump *sump = NAPPE_BUILD_SUMP (self->build);

  for (guint i = 0; i < self->layout->n_chambers; i++)
    compile_chamber (self, i);
  for (guint i = 0; i < self->layout->n_baffles; i++)
    compile_baffle (self, i);
  if (sump->chambers->len == 0)
    nappe_compiler_problem (self, self->build->sump, _("The sump has no chamber."));
  else if (sump->baffles->len != sump->chambers->len - 1)
    nappe_compiler_problem (self, self->build->sump,
                            /* Translators: the first %u is a count of baffles, the second of chambers. */
                            _("%u baffles cannot divide %u chambers: between two neighbours stands one baffle."),
                            sump->baffles->len, sump->chambers->len);
}

/* The inside of the socks is a vessel: water goes through the cloth, or over the holder's edge. None goes to the floor, so
 * its rim is no lower than the chamber's, nor within reach of what stands over the holder's edge. */
static void
compile_sock (NappeCompiler *self, const NappeSockLayout *sock)
{
  NappePart *part = NAPPE_PART (sock->part);
  guint chamber
      = (guint) nappe_compiler_vessel (self,
                                       nappe_part_get_id (NAPPE_PART (self->layout->chambers[sock->chamber].part)));
  guint index = nappe_compiler_add_node (self, part, NAPPE_NODE_SOCK);
  double perimeter = sock->part->count * 0.5 * G_PI * (sock->length + sock->width);

  NappeNode *node = nappe_compiler_node (self, index);
  set_vessel (node, &sock->frame, sock_plan (sock));
  node->rim = fmax (self->layout->sump.rim, sock->frame.rim + HOLDER_FREEBOARD);
  NappeLink *link = nappe_compiler_add_link (self, part, NAPPE_LINK_SOCK, index, chamber);
  link->sill = sock->frame.floor;
  link->sock = (NappeSock){ perimeter, sock->frame.floor, sock_plan (sock), CLOTH_CONDUCTANCE, sock->part->load,
                            sock->frame.rim };
  link = nappe_compiler_add_link (self, part, NAPPE_LINK_WEIR, index, chamber);
  link->sill = sock->frame.rim;
  link->weir = (NappeWeir){ .length = perimeter,
                            .height = sock->frame.rim - sock->frame.floor,
                            .thickness = HOLDER_THICKNESS,
                            .open_share = 1 };
}

static void
compile_side_vessel (NappeCompiler *self, const NappeVesselLayout *vessel)
{
  NappeSideVessel *part = vessel->part;
  gint into = nappe_compiler_vessel (self, part->into);
  guint index = nappe_compiler_add_node (self, NAPPE_PART (part), NAPPE_NODE_VESSEL);

  set_vessel (nappe_compiler_node (self, index), &vessel->frame,
              part->length * part->width * fmax (1 - part->displaced, LEAST_OPEN_PLAN));
  add_rim (self, NAPPE_PART (part), index, &vessel->frame, part->wall_thickness);
  if (into < 0)
    {
      nappe_compiler_problem (self, NAPPE_PART (part),
                              /* Translators: %s is the id of the vessel that a spout should pour into. */
                              _("The spout pours nowhere: there is no vessel “%s”."), part->into);
      return;
    }
  NappeLink *link = nappe_compiler_add_link (self, NAPPE_PART (part), NAPPE_LINK_WEIR, index, (guint) into);
  link->sill = vessel->spout;
  link->weir = (NappeWeir){ .length = part->spout_width,
                            .height = part->spout_height,
                            .thickness = part->wall_thickness,
                            .open_share = 1 };
}

void
nappe_compile_vessels (NappeCompiler *self)
{
  const NappeLayout *layout = self->layout;

  compile_display (self);
  for (guint i = 0; i < layout->n_boxes; i++)
    compile_box (self, &layout->boxes[i]);
  compile_sump (self);
  for (guint i = 0; i < layout->n_socks; i++)
    if (is_sock_fed (self, &layout->socks[i]))
      compile_sock (self, &layout->socks[i]);
  for (guint i = 0; i < layout->n_vessels; i++)
    compile_side_vessel (self, &layout->vessels[i]);
}
