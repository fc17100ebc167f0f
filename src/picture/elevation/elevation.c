/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Scale and order of the side elevation; the drawing itself is in the files beside this one. */
#include "picture/elevation/elevation-private.h"

#include <math.h>

#include "picture/pins.h"
#include "study/study.h"

/* How far beside and above the tank and stand something is still shown [m]; what reaches farther is cut off. */
#define SHOWN_BESIDE 0.8
#define SHOWN_ABOVE 0.6
/* Paper around the drawing [px]. */
#define MARGIN 24.0
#define SMALL_MARGIN 14.0
/* Paper with less room than this gets the short notes [px]. */
#define ROOMY_WIDTH 1000.0
#define ROOMY_HEIGHT 640.0
/* Paper with less room than this gets no notes around the drawing [px]. */
#define TINY_WIDTH 380.0
#define TINY_HEIGHT 300.0

double
nappe_elevation_x (const NappeElevation *self, double x)
{
  return self->origin_x + x * self->scale;
}

double
nappe_elevation_y (const NappeElevation *self, double z)
{
  return self->origin_y - z * self->scale;
}

NappeBox
nappe_elevation_box (const NappeElevation *self, double left, double right, double low, double high)
{
  return nappe_box_between (nappe_elevation_x (self, left), nappe_elevation_y (self, high), nappe_elevation_x (self, right),
                            nappe_elevation_y (self, low));
}

double
nappe_elevation_level (const NappeElevation *self, const NappeState *state, const char *id)
{
  return state && self->study ? nappe_study_level (self->study, state, id) : NAN;
}

void
nappe_elevation_pin (NappeElevation *self, const char *part, double x, double y)
{
  NappePin pin = { part, x, y, x, y };
  if (isfinite (x + y) && nappe_box_contains (&self->view, x, y))
    g_array_append_val (self->pins, pin);
}

char *
nappe_elevation_length_text (const NappeElevation *self, double metres)
{
  return nappe_quantity_format_number (NAPPE_QUANTITY_LENGTH, metres, self->options->units, 0);
}

const char *
nappe_elevation_id (gconstpointer part)
{
  return nappe_part_get_id (NAPPE_PART ((gpointer) part));
}

gboolean
nappe_elevation_box_is_hidden (const NappeElevation *self, const NappeBoxLayout *box)
{
  return box->part->side == NAPPE_SIDE_BACK || box->frame.front >= self->layout->tank.back;
}

static void
reach (NappeElevation *self, double left, double right, double top)
{
  self->left = fmin (self->left, left);
  self->right = fmax (self->right, right);
  self->top = fmax (self->top, top);
}

static void
reach_route (NappeElevation *self, const NappeRoute *route)
{
  double half = route->n_legs > 0 ? route->legs[0].outside : 0;
  reach (self, route->start.x - half, route->start.x + half, route->start.z + half);
  for (guint i = 0; i < route->n_legs; i++)
    {
      const NappePoint *to = &route->legs[i].to;
      reach (self, to->x - half, to->x + half, to->z + half);
    }
}

static void
reach_line (NappeElevation *self, const NappeLineLayout *line)
{
  reach_route (self, &line->trunk);
  for (guint i = 0; i < line->n_outlets; i++)
    reach_route (self, &line->outlets[i].route);
}

/* What of the model is shown. */
static void
measure_model (NappeElevation *self)
{
  const NappeLayout *layout = self->layout;
  const NappeTank *tank = NAPPE_BUILD_TANK (self->build);
  double wall = tank->wall_thickness;
  reach (self, fmin (layout->stand.left, layout->tank.left - wall), fmax (layout->stand.right, layout->tank.right + wall),
         fmax (layout->stand.rim, layout->tank.rim));
  double left = self->left - SHOWN_BESIDE, right = self->right + SHOWN_BESIDE, top = self->top + SHOWN_ABOVE;
  reach (self, layout->sump.left, layout->sump.right, layout->sump.rim);
  for (guint i = 0; i < layout->n_boxes; i++)
    {
      const NappeBoxLayout *box = &layout->boxes[i];
      gboolean tubes = box->has_inner && box->part->style == NAPPE_OVERFLOW_RIM && box->part->joint_count > 0;
      double highest = fmax (box->frame.rim, tubes ? layout->tank.rim + 2 * box->part->joint_bore : 0);
      reach (self, box->frame.left - wall, box->frame.right + wall, highest);
    }
  for (guint i = 0; i < layout->n_vessels; i++)
    reach (self, layout->vessels[i].frame.left - wall, layout->vessels[i].frame.right + wall, layout->vessels[i].frame.rim);
  for (guint i = 0; i < layout->n_drains; i++)
    reach_line (self, &layout->drains[i]);
  for (guint i = 0; i < layout->n_returns; i++)
    reach_line (self, &layout->returns[i]);
  for (guint i = 0; i < self->build->equipment->len; i++)
    {
      const NappeEquipment *thing = self->build->equipment->pdata[i];
      double length, height;
      nappe_elevation_equipment_size (self, thing, &length, &height);
      NappeFrame room;
      if (nappe_elevation_room (self, thing->where, &room))
        reach (self, self->left, self->right, room.floor + thing->base_height + height);
    }
  self->left = fmax (self->left, left);
  self->right = fmin (self->right, right);
  self->top = fmin (self->top, top);
}

/* Room that the notes want around the model. */
typedef struct
{
  double left, right, top, bottom; /* [px] */
} Margins;

static Margins
margins_of (NappeElevation *self)
{
  double text = self->options->text_scale;
  double edge = self->small ? SMALL_MARGIN : MARGIN;
  Margins margins = { .top = edge, .bottom = edge };
  if (self->options->title)
    margins.top += (self->small ? 42 : 52) * text;
  if (self->tiny)
    {
      margins.left = margins.right = edge;
      margins.bottom += 12; /* hatching */
      return margins;
    }
  margins.top += (self->small ? 24 : 30) * text;                           /* dimension of the tank's length */
  margins.bottom += (self->small ? 34 : 72) * text;   /* hatching, chambers' names, dimension of the sump */
  margins.bottom += nappe_elevation_key_height (self);
  /* Height rule and labels on the left; labels and upright dimensions on the right. */
  margins.left = edge + (44 + (self->small ? 112 : 176)) * text;
  margins.right = edge + (52 + (self->small ? 120 : 190)) * text;
  double most = self->options->width * 0.36;
  margins.left = fmin (margins.left, most);
  margins.right = fmin (margins.right, most);
  return margins;
}

static void
set_scale (NappeElevation *self)
{
  const NappePictureOptions *options = self->options;
  Margins margins = margins_of (self);
  double wide = fmax (options->width - margins.left - margins.right, 8);
  double high = fmax (options->height - margins.top - margins.bottom, 8);
  double length = fmax (self->right - self->left, 0.01), height = fmax (self->top, 0.01);
  self->scale = fmin (wide / length, high / height);
  self->origin_x = margins.left + (wide - length * self->scale) / 2 - self->left * self->scale;
  /* A little above the middle: a drawing that stands on its floor, not in its frame. */
  self->origin_y = margins.top + height * self->scale + (high - height * self->scale) * 0.5;
  NappeGround ground;
  if (nappe_scene_held_ground (self->scene, &ground))
    {
      self->scale = ground.scale;
      self->origin_x = ground.x;
      self->origin_y = ground.y;
    }
  ground = (NappeGround) { self->scale, self->origin_x, self->origin_y };
  nappe_scene_keep_ground (self->scene, &ground);
  double pad = 12;
  self->view = nappe_box_grown (nappe_elevation_box (self, self->left, self->right, 0, self->top), pad);
  /* Rule and upright dimensions keep company with the drawing when the paper is much wider. */
  double reach_left = fmax (margins.left, 120) * 1.35, reach_right = fmax (margins.right, 130) * 1.35;
  self->rule_x = self->tiny ? 2 : fmax (MARGIN + 34 * options->text_scale, nappe_elevation_x (self, self->left) - reach_left);
  self->dimension_x = self->tiny ? options->width - 2 : fmin (options->width - MARGIN - 14,
                                                              nappe_elevation_x (self, self->right) + reach_right);
  self->key_top = options->height - (self->small ? SMALL_MARGIN : MARGIN) * 0.6 - nappe_elevation_key_height (self);
}

/* Which state is drawn as water and which as dashed levels. */
static void
choose_states (NappeElevation *self)
{
  const NappeStudy *study = self->study;
  if (!study)
    return;
  if (self->options->shown == NAPPE_SHOW_MOMENT)
    {
      self->other = nappe_elevation_take_moment (self) && study->running.level ? &study->running : NULL;
      self->verdict = NULL;
      return;
    }
  const NappeState *running = study->running.rest == NAPPE_REST_FOUND && study->running.level ? &study->running : NULL;
  const NappeState *cut = study->cut_check_failed.known && study->cut_check_failed.state.level
      ? &study->cut_check_failed.state : NULL;
  gboolean show_cut = self->options->shown == NAPPE_SHOW_POWER_CUT;
  self->shown = show_cut ? cut : running;
  self->other = self->shown ? (show_cut ? running : cut) : NULL;
}

static void
compose (NappeElevation *self)
{
  nappe_elevation_lay_pipes (self);
  nappe_elevation_draw_ground (self);
  nappe_elevation_draw_tank (self);
  nappe_elevation_draw_boxes (self);
  nappe_elevation_draw_side_vessels (self);
  nappe_elevation_draw_sump (self);
  nappe_elevation_draw_socks (self);
  nappe_elevation_draw_pumps (self);
  nappe_elevation_draw_equipment (self);
  nappe_elevation_draw_pipes (self);
  nappe_elevation_draw_title (self);
  if (!self->tiny)
    {
      nappe_elevation_draw_rule (self);
      nappe_elevation_draw_dimensions (self);
      nappe_elevation_draw_key (self);
    }
  nappe_elevation_draw_other_levels (self);
  nappe_elevation_draw_spill (self);
  nappe_elevation_draw_leaks (self);
  /* From here on each note takes the room that those before it left: the weightiest first. */
  nappe_elevation_draw_levels (self);
  nappe_elevation_draw_findings (self);
  nappe_elevation_say_other_levels (self);
  if (!self->tiny)
    {
      nappe_elevation_name_chambers (self);
      nappe_elevation_draw_labels (self);
      nappe_elevation_name_equipment (self);
    }
  nappe_elevation_add_items (self);
  nappe_elevation_add_handles (self);
}

void
nappe_elevation_compose (NappeScene *scene, const NappePictureOptions *options, NappeBuild *build, const NappeLayout *layout,
                         const NappeStudy *study, const NappeVerdict *verdict)
{
  NappeElevation self = {
    .scene = scene, .options = options, .build = build, .layout = layout, .study = study, .verdict = verdict,
    .left = INFINITY, .right = -INFINITY, .top = 0,
  };
  self.catalogue = study && study->network ? study->network->catalogue : NULL;
  double width = options->width / options->text_scale, height = options->height / options->text_scale;
  self.small = width < ROOMY_WIDTH || height < ROOMY_HEIGHT;
  self.tiny = width < TINY_WIDTH || height < TINY_HEIGHT;
  self.pins = g_array_new (FALSE, FALSE, sizeof (NappePin));
  self.valves = g_array_new (FALSE, FALSE, sizeof (NappeValveSpot));
  self.unnumbered = g_ptr_array_new ();
  self.names = g_string_chunk_new (64);
  self.things = g_array_new (FALSE, FALSE, sizeof (NappeThing));
  self.pipes = g_ptr_array_new_with_free_func (nappe_drawn_pipe_free);
  choose_states (&self);
  measure_model (&self);
  set_scale (&self);
  compose (&self);
  g_array_unref (self.pins);
  g_array_unref (self.valves);
  g_array_unref (self.things);
  g_ptr_array_unref (self.unnumbered);
  g_string_chunk_free (self.names);
  g_ptr_array_unref (self.pipes);
  nappe_elevation_leave_moment (&self);
}
