/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studio/findings/limits-window.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "rules/rules.h"
#include "studio/findings/limit-rows.h"
#include "studio/findings/margins.h"
#include "studio/findings/weight-row.h"
#include "studio/window/gradual-rows.h"

struct _NappeLimitsWindow
{
  AdwWindow parent_instance;
  NappeDocument *document;
  NappePreferences *preferences;
  char *wanted; /* what is searched for among the rules, case-folded */
  GtkWidget *pages, *limits, *search, *weights;
  gboolean weights_shown; /* they have their rows, or are getting them */
};

G_DEFINE_FINAL_TYPE (NappeLimitsWindow, nappe_limits_window, ADW_TYPE_WINDOW)

/* Without margins there is nothing to put in. */
static void
update_margins (NappeLimitsWindow *self)
{
  g_autoptr (GVariant) margins = nappe_preferences_get_margins (self->preferences);

  gtk_widget_action_set_enabled (GTK_WIDGET (self), "limits.use-margins", nappe_margins_count (margins) > 0);
}

static void
use_margins_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  NappeLimitsWindow *self = NAPPE_LIMITS_WINDOW (widget);
  NappeBuild *build = nappe_document_get_build (self->document);
  g_autoptr (GVariant) margins = nappe_preferences_get_margins (self->preferences);

  if (build != NULL)
    nappe_margins_put_in (margins, build);
}

static GtkWidget *
new_weight_row (guint index, gpointer build)
{
  gsize n;

  return nappe_weight_row_new (build, &nappe_rules_list (&n)[index]);
}

/* Many rows with a list each: they are made when they are looked at. */
static void
page_shown (NappeLimitsWindow *self)
{
  NappeBuild *build = self->document != NULL ? nappe_document_get_build (self->document) : NULL;
  gsize n;

  if (build == NULL || self->weights_shown
      || g_strcmp0 (gtk_stack_get_visible_child_name (GTK_STACK (self->pages)), "weights") != 0)
    return;
  self->weights_shown = TRUE;
  nappe_rules_list (&n);
  nappe_gradual_rows_fill (GTK_LIST_BOX (self->weights), (guint) n, new_weight_row, g_object_ref (build), g_object_unref);
}

static gboolean
is_wanted (GtkListBoxRow *row, gpointer user_data)
{
  NappeLimitsWindow *self = user_data;
  g_autofree char *title = g_utf8_casefold (adw_preferences_row_get_title (ADW_PREFERENCES_ROW (row)), -1);

  return strstr (title, self->wanted) != NULL;
}

static void
search_changed (NappeLimitsWindow *self)
{
  g_autofree char *text = g_strstrip (g_strdup (gtk_editable_get_text (GTK_EDITABLE (self->search))));

  g_free (self->wanted);
  self->wanted = g_utf8_casefold (text, -1);
  gtk_list_box_invalidate_filter (GTK_LIST_BOX (self->weights));
}

static void
refresh (NappeLimitsWindow *self)
{
  nappe_limit_rows_refresh (GTK_LIST_BOX (self->limits));
  for (GtkWidget *row = gtk_widget_get_first_child (self->weights); row != NULL; row = gtk_widget_get_next_sibling (row))
    if (NAPPE_IS_WEIGHT_ROW (row))
      nappe_weight_row_refresh (NAPPE_WEIGHT_ROW (row));
}

static void
close_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  gtk_window_close (GTK_WINDOW (widget));
}

static void
nappe_limits_window_dispose (GObject *object)
{
  NappeLimitsWindow *self = NAPPE_LIMITS_WINDOW (object);

  if (self->document != NULL)
    g_signal_handlers_disconnect_by_data (self->document, self);
  g_clear_object (&self->document);
  g_clear_object (&self->preferences);
  gtk_widget_dispose_template (GTK_WIDGET (self), NAPPE_TYPE_LIMITS_WINDOW);
  G_OBJECT_CLASS (nappe_limits_window_parent_class)->dispose (object);
}

static void
nappe_limits_window_finalize (GObject *object)
{
  g_free (NAPPE_LIMITS_WINDOW (object)->wanted);
  G_OBJECT_CLASS (nappe_limits_window_parent_class)->finalize (object);
}

static void
nappe_limits_window_class_init (NappeLimitsWindowClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = nappe_limits_window_dispose;
  G_OBJECT_CLASS (klass)->finalize = nappe_limits_window_finalize;
  gtk_widget_class_install_action (widget_class, "limits.close", NULL, close_action);
  gtk_widget_class_install_action (widget_class, "limits.use-margins", NULL, use_margins_action);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_Escape, 0, "limits.close", NULL);
  gtk_widget_class_set_template_from_resource (widget_class, "/io/github/nappe/Nappe/limits-window.ui");
  gtk_widget_class_bind_template_child (widget_class, NappeLimitsWindow, pages);
  gtk_widget_class_bind_template_child (widget_class, NappeLimitsWindow, limits);
  gtk_widget_class_bind_template_child (widget_class, NappeLimitsWindow, search);
  gtk_widget_class_bind_template_child (widget_class, NappeLimitsWindow, weights);
  gtk_widget_class_bind_template_callback (widget_class, page_shown);
  gtk_widget_class_bind_template_callback (widget_class, search_changed);
}

static void
nappe_limits_window_init (NappeLimitsWindow *self)
{
  self->wanted = g_strdup ("");
  gtk_widget_init_template (GTK_WIDGET (self));
  gtk_list_box_set_filter_func (GTK_LIST_BOX (self->weights), is_wanted, self, NULL);
}

GtkWindow *
nappe_limits_window_new (GtkWindow *parent, NappeDocument *document, NappePreferences *preferences, const char *rule)
{
  NappeLimitsWindow *self = g_object_new (NAPPE_TYPE_LIMITS_WINDOW, "transient-for", parent, NULL);
  const NappeRuleInfo *info = rule != NULL ? nappe_rules_find (rule) : NULL;

  self->document = g_object_ref (document);
  self->preferences = g_object_ref (preferences);
  nappe_limit_rows_fill (GTK_LIST_BOX (self->limits), nappe_document_get_build (document),
                         nappe_preferences_get_units (preferences));
  update_margins (self);
  if (info != NULL)
    {
      gtk_editable_set_text (GTK_EDITABLE (self->search), _(info->title));
      gtk_stack_set_visible_child_name (GTK_STACK (self->pages), "weights");
    }
  g_signal_connect_swapped (document, "changed", G_CALLBACK (refresh), self);
  g_signal_connect_swapped (document, "replaced", G_CALLBACK (gtk_window_close), self);
  return GTK_WINDOW (self);
}
