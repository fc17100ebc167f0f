/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studio/preferences/preferences-window.h"

#include <glib/gi18n-lib.h>

#include "studio/findings/limit-rows.h"
#include "studio/findings/margins.h"
#include "studio/window/gradual-rows.h"

struct _NappePreferencesWindow
{
  AdwPreferencesWindow parent_instance;
  NappePreferences *preferences;
  NappeBuild *scratch; /* whose limits are the margins, so that their rows are those of any build */
  GtkWidget *units, *style, *currency, *paper, *reopen, *recent, *margins, *own_parts;
};

G_DEFINE_FINAL_TYPE (NappePreferencesWindow, nappe_preferences_window, ADW_TYPE_PREFERENCES_WINDOW)

/* ---- choices ---- */

static gboolean
index_of_nick (GBinding *binding, const GValue *from, GValue *to, gpointer nicks)
{
  const char *nick = g_value_get_string (from);

  for (guint i = 0; ((const char *const *) nicks)[i] != NULL; i++)
    if (g_strcmp0 (((const char *const *) nicks)[i], nick) == 0)
      {
        g_value_set_uint (to, i);
        return TRUE;
      }
  return FALSE;
}

static gboolean
nick_of_index (GBinding *binding, const GValue *from, GValue *to, gpointer nicks)
{
  guint index = g_value_get_uint (from);

  if (index >= g_strv_length ((char **) nicks))
    return FALSE;
  g_value_set_string (to, ((const char *const *) nicks)[index]);
  return TRUE;
}

/* What holds while none is typed. */
static void
show_usual_currency (NappePreferencesWindow *self)
{
  const char *usual = nappe_preferences_get_usual_currency (self->preferences);

  /* Translators: no currency */
  gtk_entry_set_placeholder_text (GTK_ENTRY (self->currency), *usual != '\0' ? usual : _("none"));
}

static void
bind_choices (NappePreferencesWindow *self)
{
  /* In the order of the rows of the template. */
  static const char *const units[] = { "metric", "us", NULL }, *const styles[] = { "system", "light", "dark", NULL },
                    *const papers[] = { "a4", "letter", NULL };
  const GBindingFlags both = G_BINDING_SYNC_CREATE | G_BINDING_BIDIRECTIONAL;
  const struct
  {
    GtkWidget *row;
    const char *property;
    const char *const *nicks;
  } choices[] = { { self->units, "units", units }, { self->style, "style", styles }, { self->paper, "paper", papers } };

  for (gsize i = 0; i < G_N_ELEMENTS (choices); i++)
    g_object_bind_property_full (self->preferences, choices[i].property, choices[i].row, "selected", both,
                                 index_of_nick, nick_of_index, (gpointer) choices[i].nicks, NULL);
  g_object_bind_property (self->preferences, "reopen", self->reopen, "active", both);
  g_object_bind_property (self->preferences, "currency", self->currency, "text", both);
  show_usual_currency (self);
  g_object_bind_property (self->preferences, "recent-max", self->recent, "value", both);
}

/* An empty field is no 0. */
static int
number_typed (NappePreferencesWindow *self, double *value, GtkSpinButton *spin)
{
  return *gtk_editable_get_text (GTK_EDITABLE (spin)) == '\0' ? GTK_INPUT_ERROR : FALSE;
}

/* ---- margins ---- */

static void
margins_changed (NappePreferencesWindow *self)
{
  nappe_preferences_set_margins (self->preferences, nappe_margins_of (self->scratch));
  nappe_limit_rows_refresh (GTK_LIST_BOX (self->margins));
}

/* Many rows: they are made when they are first looked at. */
static void
page_shown (NappePreferencesWindow *self)
{
  g_autoptr (GVariant) margins = NULL;

  if (self->preferences == NULL || self->scratch != NULL
      || g_strcmp0 (adw_preferences_window_get_visible_page_name (ADW_PREFERENCES_WINDOW (self)), "margins") != 0)
    return;
  margins = nappe_preferences_get_margins (self->preferences);
  self->scratch = nappe_build_new ();
  nappe_margins_put_in (margins, self->scratch);
  nappe_limit_rows_fill (GTK_LIST_BOX (self->margins), self->scratch, nappe_preferences_get_units (self->preferences));
  g_signal_connect_swapped (self->scratch, "changed", G_CALLBACK (margins_changed), self);
}

static void
drop_margins (NappePreferencesWindow *self)
{
  if (self->scratch != NULL)
    g_signal_handlers_disconnect_by_data (self->scratch, self);
  g_clear_object (&self->scratch);
}

/* Rows show the units that they were made with. */
static void
units_changed (NappePreferencesWindow *self)
{
  drop_margins (self);
  nappe_gradual_rows_clear (GTK_LIST_BOX (self->margins));
  page_shown (self);
}

/* ---- the window ---- */

static void
close_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  gtk_window_close (GTK_WINDOW (widget));
}

static void
nappe_preferences_window_dispose (GObject *object)
{
  NappePreferencesWindow *self = NAPPE_PREFERENCES_WINDOW (object);

  if (self->preferences != NULL)
    g_signal_handlers_disconnect_by_data (self->preferences, self);
  g_clear_object (&self->preferences);
  drop_margins (self);
  gtk_widget_dispose_template (GTK_WIDGET (self), NAPPE_TYPE_PREFERENCES_WINDOW);
  G_OBJECT_CLASS (nappe_preferences_window_parent_class)->dispose (object);
}

static void
nappe_preferences_window_class_init (NappePreferencesWindowClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = nappe_preferences_window_dispose;
  g_type_ensure (NAPPE_TYPE_OWN_PARTS_PAGE);
  gtk_widget_class_install_action (widget_class, "preferences.close", NULL, close_action);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_Escape, 0, "preferences.close", NULL);
  gtk_widget_class_set_template_from_resource (widget_class, "/io/github/nappe/Nappe/preferences-window.ui");
  gtk_widget_class_bind_template_child (widget_class, NappePreferencesWindow, units);
  gtk_widget_class_bind_template_child (widget_class, NappePreferencesWindow, style);
  gtk_widget_class_bind_template_child (widget_class, NappePreferencesWindow, currency);
  gtk_widget_class_bind_template_child (widget_class, NappePreferencesWindow, paper);
  gtk_widget_class_bind_template_child (widget_class, NappePreferencesWindow, reopen);
  gtk_widget_class_bind_template_child (widget_class, NappePreferencesWindow, recent);
  gtk_widget_class_bind_template_child (widget_class, NappePreferencesWindow, margins);
  gtk_widget_class_bind_template_child (widget_class, NappePreferencesWindow, own_parts);
  gtk_widget_class_bind_template_callback (widget_class, page_shown);
  gtk_widget_class_bind_template_callback (widget_class, number_typed);
}

static void
nappe_preferences_window_init (NappePreferencesWindow *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}

GtkWindow *
nappe_preferences_window_new (GtkWindow *parent, NappePreferences *preferences)
{
  NappePreferencesWindow *self = g_object_new (NAPPE_TYPE_PREFERENCES_WINDOW, "transient-for", parent, NULL);

  self->preferences = g_object_ref (preferences);
  bind_choices (self);
  g_signal_connect_swapped (preferences, "notify::units", G_CALLBACK (units_changed), self);
  nappe_own_parts_page_set_preferences (NAPPE_OWN_PARTS_PAGE (self->own_parts), preferences);
  return GTK_WINDOW (self);
}

NappeOwnPartsPage *
nappe_preferences_window_get_own_parts (NappePreferencesWindow *self)
{
  return NAPPE_OWN_PARTS_PAGE (self->own_parts);
}

void
nappe_preferences_window_import_curve (NappePreferencesWindow *self, GFile *file)
{
  adw_preferences_window_set_visible_page (ADW_PREFERENCES_WINDOW (self), ADW_PREFERENCES_PAGE (self->own_parts));
  nappe_own_parts_page_read_table (NAPPE_OWN_PARTS_PAGE (self->own_parts), file);
}
