/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A picture is a composed scene with the title that its exports carry. */
#include "picture/picture-private.h"

#include "picture/elevation/elevation.h"
#include "picture/flow/flow-diagram.h"
#include "picture/pins.h"
#include "picture/plan/panels.h"
#include "picture/plan/plan.h"

#include <math.h>

/* Paper that could not be drawn on is taken as this [px]. */
#define SMALLEST_SIDE 16.0
#define LARGEST_SIDE 20000.0

G_DEFINE_QUARK (nappe-picture-error-quark, nappe_picture_error)

double
nappe_picture_side (double wanted)
{
  return isfinite (wanted) ? CLAMP (wanted, SMALLEST_SIDE, LARGEST_SIDE) : SMALLEST_SIDE;
}

double
nappe_picture_text_scale (double wanted)
{
  return isfinite (wanted) && wanted > 0 ? CLAMP (wanted, 0.25, 8) : 1;
}

void
nappe_picture_select (NappePicture *self, NappeBuild *build, const char *id)
{
  NappePart *part = id ? nappe_build_find (build, id) : NULL;
  while (part && !nappe_scene_select (self->scene, nappe_part_get_id (part)))
    part = nappe_part_get_owner (part);
}

NappePicture *
nappe_picture_new (const NappePictureOptions *options, NappeBuild *build, const NappeLayout *layout, const NappeStudy *study,
                   const NappeVerdict *verdict)
{
  NappePicture *self = g_new0 (NappePicture, 1);
  NappePictureOptions sane = *options;
  sane.width = nappe_picture_side (options->width);
  sane.height = nappe_picture_side (options->height);
  sane.text_scale = nappe_picture_text_scale (options->text_scale);
  self->width = sane.width;
  self->height = sane.height;
  self->title = g_strdup (build->title);
  self->scene = nappe_scene_new (sane.palette, sane.width, sane.height, sane.text_scale);
  if (sane.earlier && sane.earlier->width == sane.width && sane.earlier->height == sane.height)
    nappe_scene_take_labels (self->scene, sane.earlier->scene);
  if (sane.earlier && sane.hold)
    nappe_scene_hold_ground (self->scene, sane.earlier->scene);
  switch (sane.kind)
    {
    case NAPPE_PICTURE_FLOW:
      nappe_flow_diagram_compose (self->scene, &sane, build, layout, study, verdict);
      break;
    case NAPPE_PICTURE_PLAN:
      nappe_sump_plan_compose (self->scene, &sane, build, layout, study, verdict);
      break;
    case NAPPE_PICTURE_PANELS:
      nappe_panels_compose (self->scene, &sane, build, layout, study, verdict);
      break;
    default:
      nappe_elevation_compose (self->scene, &sane, build, layout, study, verdict);
    }
  nappe_scene_say_lost (self->scene);
  if (sane.shown != NAPPE_SHOW_MOMENT)
    nappe_findings_say (self->scene, build, verdict);
  nappe_picture_select (self, build, sane.selected);
  return self;
}

void
nappe_picture_free (NappePicture *self)
{
  if (!self)
    return;
  nappe_scene_free (self->scene);
  g_free (self->title);
  g_free (self);
}

void
nappe_picture_draw (NappePicture *self, cairo_t *cr)
{
  nappe_scene_draw (self->scene, cr);
}

const char *
nappe_picture_pick (NappePicture *self, double x, double y)
{
  return nappe_scene_pick (self->scene, x, y);
}

const NappePictureItem *
nappe_picture_items (NappePicture *self, guint *n)
{
  return nappe_scene_items (self->scene, n);
}

const NappePictureLabel *
nappe_picture_labels (NappePicture *self, guint *n)
{
  return nappe_scene_labels (self->scene, n);
}
