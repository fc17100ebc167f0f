/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Plays a case in the window and prints how long the frames take.
 *   playing-frames DEMO... */
#include "frame-watch.h"
#include "studio-fixture.h"
#include "studio/canvas/canvas.h"
#include "studio/time/time-view.h"

static gboolean
is_played (StudioFixture *self)
{
  GtkWidget *view = studio_fixture_find (GTK_WIDGET (self->window), NAPPE_TYPE_TIME_VIEW, NULL);

  return nappe_canvas_get_shown (nappe_time_view_get_canvas (NAPPE_TIME_VIEW (view))) == NAPPE_SHOW_MOMENT;
}

static void
play (StudioFixture *self, const char *demo, const char *picture)
{
  FrameWatch watch;

  studio_fixture_load (self, demo);
  studio_fixture_act (self, "win.view", "time");
  studio_fixture_act (self, "win.moving-picture", picture);
  studio_fixture_act (self, "win.case", "restart");
  studio_fixture_act (self, "win.run-case", NULL);
  studio_fixture_wait (self, is_played);
  studio_fixture_settle (self);
  g_print ("%s, %s\n", demo, picture);
  frame_watch_begin (&watch, GTK_WIDGET (self->window));
  studio_fixture_act (self, "win.play", NULL);
  while (watch.n < FRAME_WATCH_FRAMES)
    g_main_context_iteration (NULL, TRUE);
  frame_watch_end (&watch);
}

int
main (int argc, char **argv)
{
  static const char *const pictures[] = { "elevation", "flow" };
  NappeApplication *application;

  gtk_test_init (&argc, &argv, NULL);
  adw_init ();
  application = studio_fixture_application ();
  for (int i = 1; i < argc; i++)
    for (gsize k = 0; k < G_N_ELEMENTS (pictures); k++)
      {
        StudioFixture fixture = { 0 };
        studio_fixture_open (&fixture, application);
        gtk_window_set_default_size (GTK_WINDOW (fixture.window), 1400, 900);
        play (&fixture, argv[i], pictures[k]);
        studio_fixture_close (&fixture);
      }
  g_object_unref (application);
  return 0;
}
