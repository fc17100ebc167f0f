/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Filter socks: bags in a chamber, with the water that stands in them. */
#include "picture/elevation/elevation-private.h"

#include <math.h>

/* Cloth through which the water in it shows. */
#define SHEER 0.25

const NappeSockLayout *
nappe_elevation_sock (const NappeElevation *self, const NappeEquipment *part)
{
  for (guint i = 0; i < self->layout->n_socks; i++)
    if (self->layout->socks[i].part == part)
      return &self->layout->socks[i];
  return NULL;
}

static void
trace_bag (NappeElevation *self, const NappeBox *box)
{
  double right = box->x + box->width, bottom = box->y + box->height, inset = box->width * 0.1;
  double corner = fmax (bottom - inset * 2, box->y);
  nappe_scene_move (self->scene, box->x + inset, box->y);
  nappe_scene_line (self->scene, right - inset, box->y);
  nappe_scene_line (self->scene, right - inset * 1.6, corner);
  nappe_scene_curve (self->scene, right - inset * 1.6, bottom, box->x + inset * 1.6, bottom, box->x + inset * 1.6, corner);
  nappe_scene_close (self->scene);
}

/* Dirt closes the cloth from its lower end. */
static void
draw_dirt (NappeElevation *self, const NappeBox *box, double closed)
{
  NappeStyle dirt = { .fill = NAPPE_ROLE_SOFT, .opacity = 0.35 };
  NappeBox lower = { box->x, box->y + box->height * (1 - closed), box->width, box->height * closed };
  if (!(closed > 0))
    return;
  nappe_scene_clip (self->scene, &lower);
  trace_bag (self, box);
  nappe_scene_paint (self->scene, NAPPE_LAYER_VESSEL, &dirt);
  nappe_scene_clip (self->scene, NULL);
}

void
nappe_elevation_draw_bag (NappeElevation *self, const NappeBox *box, double closed, double opacity)
{
  NappeStyle bag = { .fill = NAPPE_ROLE_EQUIPMENT, .stroke = NAPPE_ROLE_INK, .weight = NAPPE_LINE_HAIR, .opacity = opacity };
  NappeStyle ring = { .fill = NAPPE_ROLE_EQUIPMENT, .stroke = NAPPE_ROLE_INK, .weight = NAPPE_LINE_OUTLINE };
  NappeStyle mesh = { .stroke = NAPPE_ROLE_SOFT, .weight = NAPPE_LINE_HAIR };
  NappeStyle outline = { .stroke = NAPPE_ROLE_INK, .weight = NAPPE_LINE_HAIR };
  double bottom = box->y + box->height, inset = box->width * 0.1;
  trace_bag (self, box);
  nappe_scene_paint (self->scene, NAPPE_LAYER_VESSEL, &bag);
  draw_dirt (self, box, closed);
  for (double y = box->y + 7; y < bottom - inset * 2 && box->height < 2000; y += 6)
    {
      nappe_scene_move (self->scene, box->x + inset * 1.9, y);
      nappe_scene_line (self->scene, box->x + box->width - inset * 1.9, y);
    }
  nappe_scene_paint (self->scene, NAPPE_LAYER_VESSEL, &mesh);
  trace_bag (self, box);
  nappe_scene_paint (self->scene, NAPPE_LAYER_VESSEL, &outline);
  nappe_scene_box (self->scene, NAPPE_LAYER_VESSEL, (NappeBox) { box->x, box->y - 2, box->width, 4 }, &ring);
}

void
nappe_elevation_draw_socks (NappeElevation *self)
{
  for (guint i = 0; i < self->layout->n_socks; i++)
    {
      const NappeSockLayout *sock = &self->layout->socks[i];
      const NappeFrame *frame = &sock->frame;
      const char *id = nappe_elevation_id (sock->part);
      double level = nappe_not_above (nappe_elevation_level (self, self->shown, id), frame->rim);
      NappeBox whole = nappe_elevation_box (self, frame->left, frame->right, frame->floor, frame->rim);
      /* Those that stand behind each other are seen as one. */
      guint n = (guint) CLAMP (lround ((frame->right - frame->left) / fmax (sock->length, 1e-3)), 1, 24);
      double pitch = (frame->right - frame->left) / n;
      for (guint k = 0; k < n; k++)
        {
          double left = frame->left + k * pitch;
          NappeBox bag = nappe_elevation_box (self, left, left + pitch, frame->floor, frame->rim);
          /* Within the bag, which is narrower than its ring and round below. */
          nappe_elevation_draw_water (self, left + pitch * 0.15, left + pitch * 0.85,
                                      fmin (frame->floor + pitch * 0.12, frame->rim), level);
          nappe_elevation_draw_bag (self, &bag, sock->part->load, SHEER);
        }
      nappe_elevation_keep_thing (self, sock->part, whole);
    }
}
