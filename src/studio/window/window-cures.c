/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the window does with cures: looks for them, shows one in the pictures in place of the build, takes it. */
#include "studio/window/window-private.h"

#include <glib/gi18n-lib.h>

void
nappe_window_show_in_pictures (NappeWindow *self)
{
  NappeOutcome *outcome = self->preview != NULL ? self->preview : nappe_document_get_shown_outcome (self->document);

  for (NappePictureKind kind = NAPPE_PICTURE_ELEVATION; kind <= NAPPE_PICTURE_PANELS; kind++)
    nappe_canvas_set_outcome (nappe_window_get_canvas (self, kind), outcome);
  if (self->chart_view != NULL)
    nappe_chart_view_set_outcome (self->chart_view, outcome);
}

void
nappe_window_update_cure_actions (NappeWindow *self)
{
  gboolean previewing = self->preview != NULL, ready = nappe_cure_finder_get_outcome (self->finder) != NULL;

  gtk_widget_action_set_enabled (GTK_WIDGET (self), "win.look-for-cures", ready && !previewing);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "win.preview-cure", ready);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "win.apply-cure", ready);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "win.apply-preview", previewing);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "win.leave-preview", previewing);
}

/* Nothing is edited while the pictures show something else than the build. */
static void
preview_changed (NappeWindow *self)
{
  gtk_widget_set_visible (GTK_WIDGET (self->preview_bar), self->preview != NULL);
  gtk_widget_set_sensitive (GTK_WIDGET (self->part_place), self->preview == NULL);
  nappe_window_show_in_pictures (self);
  nappe_window_update_history_actions (self);
  nappe_window_update_view_actions (self);
  nappe_window_update_cure_actions (self);
  nappe_window_update_judging_actions (self);
}

void
nappe_window_leave_preview (NappeWindow *self)
{
  GtkWidget *focus = self->focus_before;

  if (self->preview == NULL)
    return;
  g_clear_pointer (&self->preview, nappe_outcome_unref);
  g_clear_weak_pointer (&self->focus_before);
  if (self->preview_hides_panel)
    adw_flap_set_reveal_flap (self->flap, TRUE);
  self->preview_hides_panel = FALSE;
  if (focus != NULL)
    gtk_widget_grab_focus (focus);
  preview_changed (self);
}

static void
show_preview (NappeWindow *self, NappeCure *cure)
{
  NappeOutcome *outcome = nappe_cure_finder_get_outcome (self->finder);
  NappeOutcome *preview = nappe_outcome_with_cure (outcome, cure);

  if (self->preview == NULL)
    g_set_weak_pointer (&self->focus_before, gtk_window_get_focus (GTK_WINDOW (self)));
  g_clear_pointer (&self->preview, nappe_outcome_unref);
  /* Time plays the build as it is. */
  if (g_strcmp0 (adw_view_stack_get_visible_child_name (self->views), "time") == 0)
    adw_view_stack_set_visible_child_name (self->views, "elevation");
  self->preview = preview;
  nappe_preview_bar_show (self->preview_bar, outcome, preview);
  if (adw_flap_get_folded (self->flap) && adw_flap_get_reveal_flap (self->flap))
    {
      self->preview_hides_panel = TRUE;
      adw_flap_set_reveal_flap (self->flap, FALSE);
    }
  preview_changed (self);
  nappe_preview_bar_focus (self->preview_bar);
}

static void
apply (NappeWindow *self, NappeCure *cure)
{
  g_autoptr (NappeCure) kept = nappe_cure_ref (cure);
  g_autoptr (GError) error = NULL;
  g_autofree char *text = NULL;

  nappe_window_leave_preview (self);
  if (!nappe_cure_apply (kept, nappe_document_get_build (self->document), &error))
    {
      nappe_window_show_error (self, error->message);
      return;
    }
  /* Translators: %s is the change that was made. */
  text = g_strdup_printf (_("Changed: %s"), kept->label);
  nappe_window_say_undoable (self, text);
}

static NappeCure *
cure_at (NappeWindow *self, GVariant *parameter)
{
  const GPtrArray *cures = nappe_cure_finder_get_cures (self->finder);
  guint index = g_variant_get_uint32 (parameter);

  return index < cures->len ? cures->pdata[index] : NULL;
}

static void
look_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  const char *rule, *part;

  g_variant_get (parameter, "(&s&s)", &rule, &part);
  nappe_cure_finder_look (NAPPE_WINDOW (widget)->finder, rule, part);
}

static void
stop_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  nappe_cure_finder_stop (NAPPE_WINDOW (widget)->finder);
}

static void
preview_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  NappeCure *cure = cure_at (NAPPE_WINDOW (widget), parameter);

  if (cure != NULL)
    show_preview (NAPPE_WINDOW (widget), cure);
}

static void
apply_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  NappeCure *cure = cure_at (NAPPE_WINDOW (widget), parameter);

  if (cure != NULL)
    apply (NAPPE_WINDOW (widget), cure);
}

static void
apply_preview_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  NappeWindow *self = NAPPE_WINDOW (widget);

  apply (self, self->preview->cure);
}

static void
leave_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  nappe_window_leave_preview (NAPPE_WINDOW (widget));
}

/* What was found belongs to the build as it was. */
void
nappe_window_forget_cures (NappeWindow *self)
{
  nappe_window_leave_preview (self);
  nappe_cure_finder_set_outcome (self->finder, NULL);
  nappe_window_update_cure_actions (self);
}

void
nappe_window_set_cures_outcome (NappeWindow *self, NappeOutcome *outcome)
{
  nappe_window_show_in_pictures (self);
  nappe_cure_finder_set_outcome (self->finder, outcome);
  nappe_window_update_cure_actions (self);
}

void
nappe_window_install_cure_actions (GtkWidgetClass *widget_class)
{
  gtk_widget_class_install_action (widget_class, "win.look-for-cures", "(ss)", look_action);
  gtk_widget_class_install_action (widget_class, "win.stop-looking", NULL, stop_action);
  gtk_widget_class_install_action (widget_class, "win.preview-cure", "u", preview_action);
  gtk_widget_class_install_action (widget_class, "win.apply-cure", "u", apply_action);
  gtk_widget_class_install_action (widget_class, "win.apply-preview", NULL, apply_preview_action);
  gtk_widget_class_install_action (widget_class, "win.leave-preview", NULL, leave_action);
}
