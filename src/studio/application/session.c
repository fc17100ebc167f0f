/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studio/application/session.h"

/* Most builds that are opened again [1]. */
#define MOST 20

/* Views that show one picture. */
static const char *const drawn[] = { "elevation", "flow", "plan", "panes", NULL };

static gboolean
is_last (GtkApplication *application, NappeWindow *window)
{
  for (GList *other = gtk_application_get_windows (application); other != NULL; other = other->next)
    if (NAPPE_IS_WINDOW (other->data) && other->data != window)
      return FALSE;
  return TRUE;
}

static void
add_window (GVariantBuilder *session, NappeWindow *window)
{
  GFile *file = nappe_document_get_file (nappe_window_get_document (window));
  g_autofree char *uri = file != NULL ? g_file_get_uri (file) : NULL, *view = NULL;

  if (uri == NULL)
    return;
  g_object_get (window, "view", &view, NULL);
  g_variant_builder_add (session, "(ss)", uri, view != NULL ? view : "");
}

void
nappe_session_remember (GtkApplication *application, NappePreferences *preferences, NappeWindow *leaving)
{
  g_autoptr (GList) windows = g_list_reverse (g_list_copy (gtk_application_get_windows (application)));
  gboolean keep = leaving != NULL && is_last (application, leaving);
  GVariantBuilder session;

  g_variant_builder_init (&session, G_VARIANT_TYPE ("a(ss)"));
  for (GList *window = windows; window != NULL; window = window->next)
    if (NAPPE_IS_WINDOW (window->data) && nappe_window_get_document (window->data) != NULL
        && (window->data != leaving || keep))
      add_window (&session, window->data);
  nappe_preferences_set_session (preferences, g_variant_builder_end (&session));
}

gboolean
nappe_session_restore (GtkApplication *application, NappePreferences *preferences)
{
  g_autoptr (GVariant) session = nappe_preferences_get_session (preferences);
  gsize n = MIN (g_variant_n_children (session), MOST);

  if (!nappe_preferences_get_reopen (preferences))
    return FALSE;
  for (gsize i = 0; i < n; i++)
    {
      const char *uri, *view;
      g_autoptr (GFile) file = NULL;
      NappeWindow *window = nappe_window_new (application, preferences);

      g_variant_get_child (session, i, "(&s&s)", &uri, &view);
      file = g_file_new_for_uri (uri);
      /* What was played in time is not kept: such a window begins with the elevation. */
      if (g_strv_contains (drawn, view))
        g_object_set (window, "view", view, NULL);
      gtk_window_present (GTK_WINDOW (window));
      nappe_window_open_file (window, file);
    }
  return n > 0;
}
