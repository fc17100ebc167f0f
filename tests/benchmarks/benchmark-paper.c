/* SPDX-License-Identifier: GPL-3.0-or-later */
/* How long pictures and the sheet take. */
#include "demo.h"
#include "stopwatch.h"

#include "picture/motion.h"
#include "sheet/sheet.h"

#include <glib/gstdio.h>

/* From frame to frame of a display [s]. */
#define FRAME (1.0 / 60)

static const NappePictureOptions options = {
  .palette = NAPPE_PALETTE_LIGHT, .width = 1400, .height = 900, .text_scale = 1, .title = TRUE
};

static void
draw_with (Demo *demo, const NappePictureOptions *wanted, NappeMotion *motion)
{
  g_autoptr (NappePicture) picture = nappe_picture_new (wanted, demo->build, demo->layout, demo->study, demo->verdict);
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, 1400, 900);
  cairo_t *cr = cairo_create (surface);
  nappe_picture_draw (picture, cr);
  if (motion != NULL)
    {
      nappe_motion_advance (motion, picture, FRAME);
      nappe_motion_draw (motion, picture, cr);
    }
  cairo_destroy (cr);
  cairo_surface_destroy (surface);
}

static void
draw (Demo *demo, NappePictureKind kind)
{
  NappePictureOptions wanted = options;

  wanted.kind = kind;
  draw_with (demo, &wanted, NULL);
}

/* A case that is played at ten times its speed. */
typedef struct
{
  Demo *demo;
  NappePictureKind kind;
  NappeSimulation *course;
  NappeMotion *motion;
  double time; /* [s] */
} Play;

static void
draw_moment (gpointer data)
{
  Play *play = data;
  NappePictureOptions wanted = options;

  wanted.kind = play->kind;
  wanted.shown = NAPPE_SHOW_MOMENT;
  wanted.course = play->course;
  wanted.moment = play->time;
  wanted.motion = TRUE;
  draw_with (play->demo, &wanted, play->motion);
  play->time += 10 * FRAME;
}

static void
play_moments (Demo *demo, NappePictureKind kind, const char *name)
{
  g_autoptr (NappePlan) plan = nappe_plan_find (demo->build, demo->study, "restart", NULL);
  g_autoptr (NappeSimulation) course = nappe_simulation_new (demo->study, plan, 0, NULL, NULL, NULL, NULL);
  g_autoptr (NappeMotion) motion = nappe_motion_new ();
  Play play = { demo, kind, course, motion, 0 };

  stopwatch_run (name, 240, 8e-3, draw_moment, &play);
}

static void
draw_elevation (gpointer data)
{
  draw (data, NAPPE_PICTURE_ELEVATION);
}

static void
draw_flow (gpointer data)
{
  draw (data, NAPPE_PICTURE_FLOW);
}

static void
write_sheet (gpointer data)
{
  Demo *demo = data;
  g_autoptr (GError) error = NULL;
  g_autofree char *path = g_build_filename (g_get_tmp_dir (), "nappe-benchmark.pdf", NULL);
  NappeSheetOptions sheet = { .paper = NAPPE_PAPER_A4, .date = "2026-01-01" };

  nappe_sheet_write (&sheet, demo->build, demo->layout, demo->study, demo->verdict, path, &error);
  g_assert_no_error (error);
  g_remove (path);
}

int
main (void)
{
  Demo demo;

  demo_load (&demo);
  stopwatch_run ("elevation, made and drawn at 1400 x 900", 60, 8e-3, draw_elevation, &demo);
  stopwatch_run ("flow diagram, made and drawn at 1400 x 900", 60, 8e-3, draw_flow, &demo);
  play_moments (&demo, NAPPE_PICTURE_ELEVATION, "elevation at the moments of a case");
  play_moments (&demo, NAPPE_PICTURE_FLOW, "flow diagram at the moments of a case");
  stopwatch_run ("specification sheet, A4", 12, 0.3, write_sheet, &demo);
  demo_clear (&demo);
  return 0;
}
