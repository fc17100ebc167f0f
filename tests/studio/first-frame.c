/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Shows a window and ends as soon as its first frame has been painted:
 *   first-frame empty          an application window of the toolkit with nothing but a header bar
 *   first-frame studio FILE    the studio's window, opening a build
 * compare_first_frames.py takes the time. */
#include <stdlib.h>
#include <string.h>

#include "studio/application/application.h"
#include "studio/window/window.h"

static void
painted (GdkFrameClock *clock, gpointer user_data)
{
  /* Not exit(): tearing down is no part of what is measured. */
  _Exit (EXIT_SUCCESS);
}

static void
realized (GtkWidget *window, gpointer user_data)
{
  g_signal_connect (gtk_widget_get_frame_clock (window), "after-paint", G_CALLBACK (painted), NULL);
}

static void
window_added (GtkApplication *application, GtkWindow *window, gpointer user_data)
{
  g_signal_connect (window, "realize", G_CALLBACK (realized), NULL);
}

static void
show_empty (GtkApplication *application, gpointer user_data)
{
  GtkWidget *window = adw_application_window_new (application), *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 0);

  gtk_box_append (GTK_BOX (box), adw_header_bar_new ());
  adw_application_window_set_content (ADW_APPLICATION_WINDOW (window), box);
  gtk_window_set_default_size (GTK_WINDOW (window), 1280, 820);
  gtk_window_present (GTK_WINDOW (window));
}

int
main (int argc, char **argv)
{
  GApplication *application;

  if (argc < 2)
    return EXIT_FAILURE;
  if (strcmp (argv[1], "empty") == 0)
    {
      application = G_APPLICATION (adw_application_new ("io.github.nappe.Empty", G_APPLICATION_NON_UNIQUE));
      g_signal_connect (application, "activate", G_CALLBACK (show_empty), NULL);
    }
  else
    {
      application = G_APPLICATION (nappe_application_new ());
      g_application_set_flags (application, G_APPLICATION_HANDLES_OPEN | G_APPLICATION_NON_UNIQUE);
    }
  g_signal_connect (application, "window-added", G_CALLBACK (window_added), NULL);
  return g_application_run (application, argc - 1, argv + 1);
}
