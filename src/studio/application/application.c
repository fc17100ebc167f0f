/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studio/application/application.h"

#include <glib/gi18n-lib.h>

#include "config.h"
#include "studio/application/keys.h"
#include "studio/application/recovery.h"
#include "studio/application/session.h"
#include "studio/preferences/preferences-window.h"
#include "studio/studio-resources.h"
#include "studio/application/watchdog.h"
#include "studio/window/window.h"

struct _NappeApplication
{
  AdwApplication parent_instance;
  NappePreferences *preferences;
  GtkWindow *preferences_window; /* that is open; weak */
  gboolean offered; /* what an earlier run left unsaved */
};

G_DEFINE_FINAL_TYPE (NappeApplication, nappe_application, ADW_TYPE_APPLICATION)

static NappeWindow *
new_window (NappeApplication *self)
{
  NappeWindow *window = nappe_window_new (GTK_APPLICATION (self), self->preferences);

  gtk_window_present (GTK_WINDOW (window));
  return window;
}

static gboolean
offer_now (gpointer data)
{
  nappe_recovery_offer (data, NAPPE_APPLICATION (data)->preferences);
  return G_SOURCE_REMOVE;
}

/* Once, and not before the first frame. */
static void
offer_recovery (NappeApplication *self)
{
  if (!self->offered)
    g_idle_add_full (G_PRIORITY_LOW, offer_now, g_object_ref (self), g_object_unref);
  self->offered = TRUE;
}

static void
nappe_application_activate (GApplication *application)
{
  GtkWindow *window = gtk_application_get_active_window (GTK_APPLICATION (application));

  if (window != NULL)
    gtk_window_present (window);
  else if (!nappe_session_restore (GTK_APPLICATION (application), NAPPE_APPLICATION (application)->preferences))
    new_window (NAPPE_APPLICATION (application));
  offer_recovery (NAPPE_APPLICATION (application));
}

static NappeWindow *
empty_window (NappeApplication *self)
{
  GtkWindow *window = gtk_application_get_active_window (GTK_APPLICATION (self));

  if (NAPPE_IS_WINDOW (window) && nappe_window_is_empty (NAPPE_WINDOW (window)))
    return NAPPE_WINDOW (window);
  return new_window (self);
}

static void
nappe_application_open (GApplication *application, GFile **files, int n, const char *hint)
{
  nappe_window_open_files (empty_window (NAPPE_APPLICATION (application)), files, (guint) n);
  offer_recovery (NAPPE_APPLICATION (application));
}

static void
new_window_action (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  new_window (NAPPE_APPLICATION (user_data));
}

/* Every window is asked, so that no unsaved change is lost. */
static void
quit_action (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  g_autoptr (GList) windows = g_list_copy (gtk_application_get_windows (GTK_APPLICATION (user_data)));

  nappe_session_remember (GTK_APPLICATION (user_data), NAPPE_APPLICATION (user_data)->preferences, NULL);
  nappe_preferences_hold_session (NAPPE_APPLICATION (user_data)->preferences, TRUE);
  for (GList *window = windows; window != NULL; window = window->next)
    gtk_window_close (GTK_WINDOW (window->data));
}

/* There is one for all windows. */
static void
preferences_action (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  NappeApplication *self = user_data;

  if (self->preferences_window == NULL)
    g_set_weak_pointer (&self->preferences_window,
                        nappe_preferences_window_new (gtk_application_get_active_window (GTK_APPLICATION (self)),
                                                      self->preferences));
  gtk_window_present (self->preferences_window);
}

/* From a table, whose URI is the parameter, to a pump of the person's own catalogue. */
static void
import_curve_action (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  g_autoptr (GFile) file = g_file_new_for_uri (g_variant_get_string (parameter, NULL));

  preferences_action (NULL, NULL, user_data);
  nappe_preferences_window_import_curve (NAPPE_PREFERENCES_WINDOW (NAPPE_APPLICATION (user_data)->preferences_window), file);
}

static void
about_action (GSimpleAction *action, GVariant *parameter, gpointer user_data)
{
  adw_show_about_window (gtk_application_get_active_window (GTK_APPLICATION (user_data)), "application-name",
                         _("Nappe"), "application-icon", NAPPE_APP_ID, "version", NAPPE_VERSION, "developer-name",
                         _("The Nappe contributors"), "license-type", GTK_LICENSE_GPL_3_0, "comments",
                         _("Plans the water handling of a saltwater aquarium and shows where every litre goes. "
                           "What it computes is an estimate: test every system with fresh water and a real power "
                           "cut before you rely on it."),
                         /* Translators: put your names here, one a line. */
                         "translator-credits", _("translator-credits"), NULL);
}

static void
style_changed (NappeApplication *self)
{
  static const AdwColorScheme schemes[] = {
    [NAPPE_STYLE_SYSTEM] = ADW_COLOR_SCHEME_DEFAULT,
    [NAPPE_STYLE_LIGHT] = ADW_COLOR_SCHEME_FORCE_LIGHT,
    [NAPPE_STYLE_DARK] = ADW_COLOR_SCHEME_FORCE_DARK,
  };

  adw_style_manager_set_color_scheme (adw_style_manager_get_default (),
                                      schemes[nappe_preferences_get_style (self->preferences)]);
}

static void
add_actions (NappeApplication *self)
{
  const GActionEntry entries[] = {
    { "new-window", new_window_action, NULL, NULL, NULL },
    { "preferences", preferences_action, NULL, NULL, NULL },
    { "import-curve", import_curve_action, "s", NULL, NULL },
    { "about", about_action, NULL, NULL, NULL },
    { "quit", quit_action, NULL, NULL, NULL },
  };
  const char *const choices[] = { "units", "paper", "style", "reopen" };

  g_action_map_add_action_entries (G_ACTION_MAP (self), entries, G_N_ELEMENTS (entries), self);
  for (gsize i = 0; i < G_N_ELEMENTS (choices); i++)
    {
      g_autoptr (GPropertyAction) action = g_property_action_new (choices[i], self->preferences, choices[i]);

      g_action_map_add_action (G_ACTION_MAP (self), G_ACTION (action));
    }
}

#ifdef NAPPE_DEBUG
static void
stood_still (gint64 took, gpointer user_data)
{
  g_info ("The main thread stood still for %d ms", (int) (took / G_TIME_SPAN_MILLISECOND));
}
#endif

static void
nappe_application_startup (GApplication *application)
{
  NappeApplication *self = NAPPE_APPLICATION (application);

  g_resources_register (nappe_studio_get_resource ());
  G_APPLICATION_CLASS (nappe_application_parent_class)->startup (application);
  self->preferences = nappe_preferences_new ();
  g_signal_connect_swapped (self->preferences, "notify::style", G_CALLBACK (style_changed), self);
  style_changed (self);
  add_actions (self);
  nappe_keys_install (GTK_APPLICATION (self));
#ifdef NAPPE_DEBUG
  nappe_watchdog_new (NULL, NAPPE_STALL, stood_still, NULL);
#endif
}

static void
nappe_application_finalize (GObject *object)
{
  g_clear_weak_pointer (&NAPPE_APPLICATION (object)->preferences_window);
  g_clear_object (&NAPPE_APPLICATION (object)->preferences);
  G_OBJECT_CLASS (nappe_application_parent_class)->finalize (object);
}

static void
nappe_application_class_init (NappeApplicationClass *klass)
{
  GApplicationClass *application_class = G_APPLICATION_CLASS (klass);

  G_OBJECT_CLASS (klass)->finalize = nappe_application_finalize;
  application_class->startup = nappe_application_startup;
  application_class->activate = nappe_application_activate;
  application_class->open = nappe_application_open;
}

static void
nappe_application_init (NappeApplication *self)
{
  g_application_set_option_context_parameter_string (G_APPLICATION (self), _("[FILE…]"));
  g_application_set_option_context_summary (G_APPLICATION (self),
                                            _("Plans the water handling of a saltwater aquarium."));
  g_application_add_main_option (G_APPLICATION (self), "version", 0, G_OPTION_FLAG_NONE, G_OPTION_ARG_NONE,
                                 _("Print the version"), NULL);
}

NappeApplication *
nappe_application_new (void)
{
  return g_object_new (NAPPE_TYPE_APPLICATION, "application-id", NAPPE_APP_ID, "flags", G_APPLICATION_HANDLES_OPEN,
                       "resource-base-path", "/io/github/nappe/Nappe", NULL);
}

NappePreferences *
nappe_application_get_preferences (NappeApplication *self)
{
  return self->preferences;
}
