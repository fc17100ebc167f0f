/* SPDX-License-Identifier: GPL-3.0-or-later */
/* From the picked part to the chart that says most about it. */
#include "studio/window/window-private.h"

static gboolean
has_chart (NappeWindow *self)
{
  NappeOutcome *outcome = nappe_document_get_outcome (self->document);
  g_autoptr (GPtrArray) choices = NULL;

  if (outcome == NULL || self->selected == NULL)
    return FALSE;
  choices = nappe_chart_choices (outcome->build, outcome->study);
  return nappe_chart_choice_for (choices, outcome->build, self->selected) >= 0;
}

void
nappe_window_update_chart_action (NappeWindow *self)
{
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "win.show-chart", has_chart (self));
}

/* The charts may show another one, chosen since the part was picked. */
static void
show_chart_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  NappeWindow *self = NAPPE_WINDOW (widget);

  adw_view_stack_set_visible_child_name (self->views, "charts");
  nappe_chart_view_select (self->chart_view, self->selected);
}

void
nappe_window_install_chart_actions (GtkWidgetClass *widget_class)
{
  gtk_widget_class_install_action (widget_class, "win.show-chart", NULL, show_chart_action);
}
