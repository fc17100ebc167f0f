/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What is said about each part of the drawing, in the order that the water takes: for the keyboard,
 * assistive technology and the text twin. */
#include "picture/elevation/elevation-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "picture/moment.h"
#include "picture/wording.h"

static char *
amount (const NappeElevation *self, NappeQuantity quantity, double value)
{
  return nappe_quantity_format (quantity, value, self->options->units, 0);
}

/* "Water at 1 330 mm above the floor, after a power cut 1 312 mm." */
static char *
level_sentence (const NappeElevation *self, const char *id)
{
  g_autofree char *now = amount (self, NAPPE_QUANTITY_LENGTH, nappe_elevation_level (self, self->shown, id));
  g_autofree char *then = amount (self, NAPPE_QUANTITY_LENGTH, nappe_elevation_level (self, self->other, id));
  gboolean cut = self->options->shown == NAPPE_SHOW_POWER_CUT;
  if (!self->shown || isnan (nappe_elevation_level (self, self->shown, id)))
    return g_strdup (_("Drawn dry."));
  if (!self->other)
    /* Translators: %s is a height */
    return g_strdup_printf (_("Water at %s above the floor."), now);
  if (self->at_moment)
    /* Translators: %1$s and %2$s are heights */
    return g_strdup_printf (_("Water at %1$s above the floor, before at %2$s."), now, then);
  if (cut)
    /* Translators: %1$s and %2$s are heights */
    return g_strdup_printf (_("After a power cut water at %1$s above the floor, running at %2$s."), now, then);
  /* Translators: %1$s and %2$s are heights */
  return g_strdup_printf (_("Water at %1$s above the floor, after a power cut at %2$s."), now, then);
}

static void
add_part (NappeElevation *self, gpointer part, const char *description, NappeBox box)
{
  nappe_scene_item (self->scene, nappe_elevation_id (part), nappe_part_display_name (part), description, box);
}

static void
add_vessel (NappeElevation *self, gpointer part, const NappeFrame *frame, const char *more)
{
  g_autofree char *level = level_sentence (self, nappe_elevation_id (part));
  g_autofree char *text = more ? g_strdup_printf ("%s %s", level, more) : g_strdup (level);
  add_part (self, part, text, nappe_elevation_box (self, frame->left, frame->right, frame->floor, frame->rim));
}

static NappeBox
pipe_box (const NappeElevation *self, const NappeDrawnPipe *pipe)
{
  NappeBox box = { 0, 0, 0, 0 };
  for (guint i = pipe->lead; i < pipe->points->len; i++)
    {
      const NappePipePoint *point = &g_array_index (pipe->points, NappePipePoint, i);
      NappeBox spot = nappe_box_grown ((NappeBox) { nappe_elevation_x (self, point->x), nappe_elevation_y (self, point->z),
                                                    0, 0 }, fmax (point->outside * self->scale / 2, 2));
      box = i == pipe->lead ? spot : nappe_box_union (&box, &spot);
    }
  return box;
}

static char *
moment_sentence (const NappeElevation *self, const char *id)
{
  double flow = nappe_moment_flow (nappe_study_flow (self->study, self->shown, id));
  g_autofree char *text = amount (self, NAPPE_QUANTITY_FLOW, fabs (flow));
  if (flow < 0)
    /* Translators: of a pipe or pump at a moment; %s is a flow */
    return g_strdup_printf (_("At this moment %s run back."), text);
  /* Translators: of a pipe or pump at a moment; %s is a flow */
  return flow > 0 ? g_strdup_printf (_("Carries %s at this moment."), text) : g_strdup (_("At this moment nothing flows."));
}

static char *
drain_sentence (const NappeElevation *self, const char *id)
{
  const NappeDrainReport *report = self->study && self->shown ? nappe_study_drain (self->study, id) : NULL;
  if (!report)
    return g_strdup (_("Drain. Nothing is known of its flow."));
  if (self->at_moment)
    return moment_sentence (self, id);
  if (self->options->shown == NAPPE_SHOW_POWER_CUT)
    return g_strdup (_("Drain. It has run empty above the water that it ends in."));
  g_autofree char *flow = amount (self, NAPPE_QUANTITY_FLOW, report->flow);
  g_autofree char *speed = amount (self, NAPPE_QUANTITY_SPEED, report->velocity);
  g_autofree char *reserve = amount (self, NAPPE_QUANTITY_FLOW, report->reserve);
  /* Translators: of a drain: flow, how it runs, speed, and what more it could carry */
  return g_strdup_printf (_("Carries %1$s, %2$s, at %3$s; it could carry %4$s more."), flow,
                          nappe_wording_drain_state (report->state), speed, reserve);
}

static char *
return_sentence (const NappeElevation *self, const char *id)
{
  const NappePumpReport *report = self->study && self->shown ? nappe_study_pump (self->study, id) : NULL;
  if (!report)
    return g_strdup (_("Nothing is known of its flow."));
  if (self->at_moment)
    return moment_sentence (self, id);
  if (self->options->shown == NAPPE_SHOW_POWER_CUT)
    return g_strdup (_("The pump stands still."));
  g_autofree char *flow = amount (self, NAPPE_QUANTITY_FLOW, report->flow);
  g_autofree char *head = amount (self, NAPPE_QUANTITY_HEAD, report->head);
  /* Translators: of a pump: its flow and the head it works against */
  return g_strdup_printf (_("Pumps %1$s against %2$s of head."), flow, head);
}

static void
add_valves_of (NappeElevation *self, const NappeRoute *route)
{
  for (guint i = 0; i < self->valves->len; i++)
    {
      const NappeValveSpot *spot = &g_array_index (self->valves, NappeValveSpot, i);
      if (spot->leg < route->legs || spot->leg >= route->legs + route->n_legs)
        continue;
      g_autofree char *share = amount (self, NAPPE_QUANTITY_SHARE, spot->leg->piece->opening);
      g_autofree char *name = nappe_item_label (spot->leg->item, self->options->units);
      gboolean check = g_strcmp0 (spot->leg->item->valve_kind, "check") == 0;
      /* Translators: of a valve; %s is a percentage */
      g_autofree char *text = check ? g_strdup (_("Lets water pass one way only.")) : g_strdup_printf (_("Open by %s."), share);
      nappe_scene_item (self->scene, nappe_elevation_id (spot->leg->piece), name, text, spot->box);
    }
}

static void
add_line (NappeElevation *self, const NappeLineLayout *line, gboolean drain)
{
  const char *id = nappe_elevation_id (line->part);
  g_autofree char *text = drain ? drain_sentence (self, id) : return_sentence (self, id);
  for (guint i = 0; i < self->pipes->len; i++)
    {
      const NappeDrawnPipe *pipe = self->pipes->pdata[i];
      if (pipe->line == line && (!pipe->outlet || line->n_outlets == 1))
        add_part (self, line->part, text, pipe_box (self, pipe));
    }
  for (guint i = 0; i < self->pipes->len; i++)
    {
      const NappeDrawnPipe *pipe = self->pipes->pdata[i];
      if (pipe->line != line || !pipe->outlet || line->n_outlets == 1)
        continue;
      g_autofree char *flow = amount (self, NAPPE_QUANTITY_FLOW, fabs (pipe->flow));
      /* Translators: of a branch of a pipe; %s is a flow */
      g_autofree char *carries = g_strdup_printf (_("Branch, carries %s."), flow);
      const char *branch = isfinite (pipe->flow) ? carries : _("Branch.");
      add_part (self, pipe->outlet->part, branch, pipe_box (self, pipe));
    }
  add_valves_of (self, &line->trunk);
  for (guint i = 0; i < line->n_outlets; i++)
    add_valves_of (self, &line->outlets[i].route);
}

static void
add_boxes (NappeElevation *self)
{
  for (guint i = 0; i < self->layout->n_boxes; i++)
    {
      const NappeBoxLayout *box = &self->layout->boxes[i];
      const NappeWeirReport *weir = self->study && self->shown && self->options->shown == NAPPE_SHOW_RUNNING
          ? nappe_study_weir (self->study, nappe_elevation_id (box->part)) : NULL;
      g_autofree char *film = amount (self, NAPPE_QUANTITY_LENGTH, weir ? weir->film : NAN);
      /* Translators: of an overflow box; %s is the height of the water over its weir */
      g_autofree char *text = weir ? g_strdup_printf (_("%s of water over the weir."), film) : NULL;
      double level = box->has_inner ? nappe_elevation_level (self, self->shown, nappe_elevation_inner_id (self, box)) : NAN;
      g_autofree char *height = amount (self, NAPPE_QUANTITY_LENGTH, level);
      /* Translators: of an overflow box: what was said before, then the level in its inner box */
      g_autofree char *both = g_strdup_printf (_("%1$s Inner box at %2$s above the floor."), text ? text : "", height);
      add_vessel (self, box->part, &box->frame, isnan (level) ? text : both);
      if (box->has_inner)
        add_part (self, box->part, "", nappe_elevation_box (self, box->inner.left, box->inner.right, box->inner.floor,
                                                            box->inner.rim));
    }
}

static void
add_side_vessels (NappeElevation *self)
{
  for (guint i = 0; i < self->layout->n_vessels; i++)
    {
      const NappeVesselLayout *vessel = &self->layout->vessels[i];
      gint link = self->study ? nappe_network_find_link (self->study->network, NAPPE_LINK_WEIR, nappe_elevation_id (vessel->part))
                              : -1;
      double flow = link >= 0 && self->shown && self->shown->flow ? self->shown->flow[link] : 0;
      g_autofree char *poured = amount (self, NAPPE_QUANTITY_FLOW, flow);
      /* Translators: of a side vessel; %s is a flow */
      g_autofree char *text = flow > 0 ? g_strdup_printf (_("%s pour over its spout."), poured) : NULL;
      add_vessel (self, vessel->part, &vessel->frame, text);
    }
}

/* What a sock is, the level in it, and how far it is closed. */
static void
add_sock (NappeElevation *self, const NappeThing *thing)
{
  const NappeEquipment *sock = NAPPE_EQUIPMENT (thing->part);
  g_autofree char *level = level_sentence (self, nappe_elevation_id (sock));
  g_autofree char *closed = amount (self, NAPPE_QUANTITY_SHARE, sock->load);
  /* Translators: of a filter sock: its kind, a sentence about its level, and the share of its cloth that dirt has closed */
  g_autofree char *text = g_strdup_printf (_("%1$s. %2$s Cloth closed by %3$s."),
                                           nappe_wording_choice (thing->part, "kind"), level, closed);
  add_part (self, thing->part, text, thing->box);
}

static void
add_things (NappeElevation *self)
{
  for (guint i = 0; i < self->things->len; i++)
    {
      const NappeThing *thing = &g_array_index (self->things, NappeThing, i);
      if (NAPPE_IS_PUMP (thing->part))
        {
          g_autofree char *text = return_sentence (self, nappe_part_get_id (thing->part));
          add_part (self, thing->part, text, thing->box);
        }
      else if (nappe_elevation_sock (self, NAPPE_EQUIPMENT (thing->part)))
        add_sock (self, thing);
      else
        add_part (self, thing->part, nappe_wording_choice (thing->part, "kind"), thing->box);
    }
}

static void
add_baffles (NappeElevation *self)
{
  for (guint i = 0; i < self->layout->n_baffles; i++)
    {
      const NappeBaffleLayout *baffle = &self->layout->baffles[i];
      g_autofree char *top = amount (self, NAPPE_QUANTITY_LENGTH, baffle->part->top_height);
      g_autofree char *gap = amount (self, NAPPE_QUANTITY_LENGTH, baffle->part->gap_height);
      g_autofree char *text = baffle->part->gap_height > 0
                                  /* Translators: of a baffle: heights of its top and of the gap under it */
                                  ? g_strdup_printf (_("Top %1$s over the sump’s floor, gap of %2$s under it."), top, gap)
                                  /* Translators: of a baffle: height of its top */
                                  : g_strdup_printf (_("Top %s over the sump’s floor, sealed to it."), top);
      add_part (self, baffle->part, text, nappe_elevation_box (self, baffle->left, baffle->right, baffle->gap_top,
                                                               baffle->top));
    }
}

void
nappe_elevation_add_items (NappeElevation *self)
{
  const NappeLayout *layout = self->layout;
  const NappeStand *stand = NAPPE_BUILD_STAND (self->build);
  add_vessel (self, self->build->tank, &layout->tank, NULL);
  add_boxes (self);
  add_side_vessels (self);
  for (guint i = 0; i < layout->n_drains; i++)
    add_line (self, &layout->drains[i], TRUE);
  g_autofree char *sump_length = amount (self, NAPPE_QUANTITY_LENGTH, layout->sump.right - layout->sump.left);
  g_autofree char *sump_height = amount (self, NAPPE_QUANTITY_LENGTH, layout->sump.rim - layout->sump.floor);
  /* Translators: inside length and height */
  g_autofree char *sump_text = g_strdup_printf (_("%1$s long and %2$s high inside."), sump_length, sump_height);
  add_part (self, self->build->sump, sump_text, nappe_elevation_box (self, layout->sump.left, layout->sump.right,
                                                                     layout->sump.floor, layout->sump.rim));
  for (guint i = 0; i < layout->n_chambers; i++)
    add_vessel (self, layout->chambers[i].part, &layout->chambers[i].frame, NULL);
  add_baffles (self);
  add_things (self);
  for (guint i = 0; i < layout->n_returns; i++)
    add_line (self, &layout->returns[i], FALSE);
  g_autofree char *height = amount (self, NAPPE_QUANTITY_LENGTH, stand->height);
  /* Translators: of the stand */
  g_autofree char *stand_text = g_strdup_printf (_("%s high."), height);
  add_part (self, self->build->stand, stand_text, nappe_elevation_box (self, layout->stand.left, layout->stand.right, 0,
                                                                       layout->stand.rim));
}
