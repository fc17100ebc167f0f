/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What one frame costs while a part of the largest demo is dragged: study, findings and picture anew, on an image
 * surface as large as the elevation in a window of 1440 by 900. */
#include "demo.h"
#include "stopwatch.h"

#include "build/coupling.h"
#include "picture/picture.h"
#include "study/heat.h"
#include "study/loads.h"

#define WIDTH 1040
#define HEIGHT 830
#define STEPS 40
#define GOAL 8e-3 /* [s] */

typedef struct
{
  Demo demo;
  NappeBuild *build;     /* that is being dragged */
  NappePart *part;
  const char *field;
  double start, step;    /* [m] */
  guint moves;
  NappeLayout *layout;   /* of the last frame */
  NappePicture *picture; /* of the last frame */
  cairo_surface_t *surface;
} Drag;

/* To and fro, so that no two frames in a row show the same. */
static void
move (Drag *self)
{
  g_autoptr (GError) error = NULL;
  guint place = self->moves++ % (2 * STEPS);
  double value = self->start + self->step * (place < STEPS ? place : 2 * STEPS - place);

  nappe_build_set_coupled (self->build, self->part, self->field, value, &error);
  g_assert_no_error (error);
}

static void
draw (Drag *self, NappeBuild *build, NappeLayout *layout, const NappeStudy *study, const NappeVerdict *verdict)
{
  const NappePictureOptions options = { .kind = NAPPE_PICTURE_ELEVATION, .palette = NAPPE_PALETTE_LIGHT,
                                        .shown = NAPPE_SHOW_RUNNING, .width = WIDTH, .height = HEIGHT, .text_scale = 1,
                                        .selected = nappe_part_get_id (self->part), .earlier = self->picture,
                                        .hold = self->picture != NULL, .title = TRUE };
  NappePicture *picture = nappe_picture_new (&options, build, layout, study, verdict);
  cairo_t *cr = cairo_create (self->surface);

  nappe_picture_draw (picture, cr);
  cairo_destroy (cr);
  g_clear_pointer (&self->picture, nappe_picture_free);
  self->picture = picture;
}

static void
frame (gpointer data)
{
  Drag *self = data;

  move (self);
  {
    g_autoptr (NappeBuild) build = nappe_build_copy (self->build);
    g_autoptr (NappeLayout) layout = nappe_layout_new (build, self->demo.catalogue);
    g_autoptr (NappeStudy) study = nappe_study_new (nappe_network_compile (build, layout, self->demo.catalogue), NULL);
    g_autoptr (NappeVerdict) verdict = nappe_rules_run (build, study, NAPPE_UNITS_METRIC);

    draw (self, build, layout, study, verdict);
  }
}

static void
compute (gpointer data)
{
  Drag *self = data;

  move (self);
  {
    g_autoptr (NappeBuild) build = nappe_build_copy (self->build);
    g_autoptr (NappeLayout) layout = nappe_layout_new (build, self->demo.catalogue);
    g_autoptr (NappeStudy) study = nappe_study_new (nappe_network_compile (build, layout, self->demo.catalogue), NULL);
    g_autoptr (NappeVerdict) verdict = nappe_rules_run (build, study, NAPPE_UNITS_METRIC);

    g_assert_nonnull (verdict);
  }
}

static void
redraw (gpointer data)
{
  Drag *self = data;

  draw (self, self->demo.build, self->demo.layout, self->demo.study, self->demo.verdict);
}

static void
drag (const char *name, Demo *demo, NappePart *part, const char *field, double step)
{
  Drag self = { .demo = *demo, .build = nappe_build_copy (demo->build), .field = field, .step = step };

  self.part = nappe_build_find (self.build, nappe_part_get_id (part));
  self.start = nappe_part_number (self.part, nappe_part_find_field (self.part, field));
  self.surface = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, WIDTH, HEIGHT);
  g_print ("%s\n", name);
  stopwatch_run ("a frame", 2 * STEPS, GOAL, frame, &self);
  stopwatch_run ("  of it, study and findings", 2 * STEPS, GOAL, compute, &self);
  stopwatch_run ("  of it, picture and drawing", 2 * STEPS, GOAL, redraw, &self);
  cairo_surface_destroy (self.surface);
  nappe_picture_free (self.picture);
  g_object_unref (self.build);
}

int
main (void)
{
  Demo demo;
  NappeBuild *build;

  demo_load (&demo);
  build = demo.build;
  drag ("Baffle’s top", &demo, NAPPE_BUILD_SUMP (build)->baffles->pdata[0], "top_height", -0.001);
  drag ("Weir", &demo, build->overflows->pdata[0], "weir_height", -0.001);
  drag ("Wall between chambers", &demo, NAPPE_BUILD_SUMP (build)->chambers->pdata[0], "length", 0.001);
  drag ("Kept level", &demo, NAPPE_BUILD_SUMP (build)->chambers->pdata[NAPPE_BUILD_SUMP (build)->chambers->len - 1],
        "kept_level", 0.001);
  drag ("Drain’s crest", &demo, build->drains->pdata[0], "crest_height", -0.001);
  demo_clear (&demo);
  return 0;
}
