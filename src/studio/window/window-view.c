/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the window shows: state, view, zoom, side panel, findings in turn. */
#include "studio/window/window-private.h"

#include <glib/gi18n-lib.h>

#define ZOOM_STEP 1.25

static const char *const state_names[] = { [NAPPE_SHOW_RUNNING] = "running", [NAPPE_SHOW_POWER_CUT] = "power-cut" };

/* Of the pages that show one picture. */
static const char *const view_names[] = {
  [NAPPE_PICTURE_ELEVATION] = "elevation",
  [NAPPE_PICTURE_FLOW] = "flow",
  [NAPPE_PICTURE_PLAN] = "plan",
  [NAPPE_PICTURE_PANELS] = "panes",
};

NappeCanvas *
nappe_window_get_canvas (NappeWindow *self, NappePictureKind kind)
{
  switch (kind)
    {
    case NAPPE_PICTURE_FLOW:
      return self->flow;
    case NAPPE_PICTURE_PLAN:
      return self->plan;
    case NAPPE_PICTURE_PANELS:
      return self->panes;
    default:
      return self->elevation;
    }
}

/* A page with a canvas that edits the document. label: for assistive technologies. */
static NappeCanvas *
add_view (NappeWindow *self, NappePictureKind kind, const char *title, const char *icon, const char *label)
{
  NappeCanvas *canvas = g_object_new (NAPPE_TYPE_CANVAS, "kind", (int) kind, NULL);
  AdwViewStackPage *page = adw_view_stack_add_titled (self->views, GTK_WIDGET (canvas), view_names[kind], title);

  adw_view_stack_page_set_icon_name (page, icon);
  gtk_accessible_update_property (GTK_ACCESSIBLE (canvas), GTK_ACCESSIBLE_PROPERTY_LABEL, label, -1);
  g_signal_connect_swapped (canvas, "picked", G_CALLBACK (nappe_window_picked_in_picture), self);
  nappe_canvas_set_document (canvas, self->document);
  return canvas;
}

void
nappe_window_add_plans (NappeWindow *self)
{
  /* Translators: name of a view: the sump from above */
  self->plan = add_view (self, NAPPE_PICTURE_PLAN, _("Plan"), "nappe-plan-symbolic", _("Sump from above"));
  /* Translators: name of a view: the drilled panes of the tank */
  self->panes = add_view (self, NAPPE_PICTURE_PANELS, _("Panes"), "nappe-panes-symbolic", _("Drilled panes"));
}

NappeCanvas *
nappe_window_visible_canvas (NappeWindow *self)
{
  const char *view = adw_view_stack_get_visible_child_name (self->views);

  if (g_strcmp0 (view, "time") == 0 && self->time_view != NULL)
    return nappe_time_view_get_canvas (self->time_view);
  if (g_strcmp0 (view, "charts") == 0 && self->chart_view != NULL)
    return nappe_chart_view_get_canvas (self->chart_view);
  for (NappePictureKind kind = NAPPE_PICTURE_ELEVATION; kind <= NAPPE_PICTURE_PANELS; kind++)
    if (g_strcmp0 (view, view_names[kind]) == 0)
      return nappe_window_get_canvas (self, kind);
  return self->elevation;
}

void
nappe_window_update_view_actions (NappeWindow *self)
{
  gboolean computed = nappe_document_get_outcome (self->document) != NULL;
  double zoom = nappe_canvas_get_zoom (nappe_window_visible_canvas (self));
  const char *const need_outcome[] = { "win.zoom-in", "win.next-finding", "win.previous-finding" };
  const char *const exports[] = { "win.export-sheet", "win.export-picture" };

  for (gsize i = 0; i < G_N_ELEMENTS (need_outcome); i++)
    gtk_widget_action_set_enabled (GTK_WIDGET (self), need_outcome[i], computed);
  /* A window with nothing open has no side panel. */
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "win.side-panel", nappe_document_get_build (self->document) != NULL);
  /* An export is of the build: not of what the pictures show instead. */
  for (gsize i = 0; i < G_N_ELEMENTS (exports); i++)
    gtk_widget_action_set_enabled (GTK_WIDGET (self), exports[i], computed && self->preview == NULL);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "win.zoom-out", computed && zoom > 1.0);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "win.zoom-fit", computed && zoom > 1.0);
  nappe_window_update_time_actions (self);
}

static void
show_state (NappeWindow *self, NappeShownState state)
{
  for (NappePictureKind kind = NAPPE_PICTURE_ELEVATION; kind <= NAPPE_PICTURE_PANELS; kind++)
    nappe_canvas_set_shown (nappe_window_get_canvas (self, kind), state);
  g_object_notify (G_OBJECT (self), "show-state");
}

static void
toggle_state_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  NappeWindow *self = NAPPE_WINDOW (widget);

  show_state (self, nappe_canvas_get_shown (self->elevation) == NAPPE_SHOW_RUNNING ? NAPPE_SHOW_POWER_CUT
                                                                                    : NAPPE_SHOW_RUNNING);
}

static void
zoom_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  NappeWindow *self = NAPPE_WINDOW (widget);
  NappeCanvas *canvas = nappe_window_visible_canvas (self);
  double zoom = nappe_canvas_get_zoom (canvas);

  if (g_str_equal (name, "win.zoom-in"))
    nappe_canvas_set_zoom (canvas, zoom * ZOOM_STEP);
  else if (g_str_equal (name, "win.zoom-out"))
    nappe_canvas_set_zoom (canvas, zoom / ZOOM_STEP);
  else
    nappe_canvas_set_zoom (canvas, 1.0);
  nappe_window_update_view_actions (self);
}

static void
step_finding_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  NappeWindow *self = NAPPE_WINDOW (widget);

  adw_flap_set_reveal_flap (self->flap, TRUE);
  gtk_stack_set_visible_child_name (self->panels, "findings");
  nappe_findings_panel_step (self->findings, g_str_equal (name, "win.next-finding") ? 1 : -1);
}

/* From the picture to the side panel, and from anywhere else to the picture. */
static void
other_pane_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  NappeWindow *self = NAPPE_WINDOW (widget);
  GtkWidget *focus = gtk_window_get_focus (GTK_WINDOW (self));

  if (focus == NULL || !gtk_widget_is_ancestor (focus, GTK_WIDGET (self->views)))
    {
      if (adw_flap_get_folded (self->flap))
        adw_flap_set_reveal_flap (self->flap, FALSE);
      nappe_canvas_focus (nappe_window_visible_canvas (self));
      return;
    }
  adw_flap_set_reveal_flap (self->flap, TRUE);
  gtk_widget_child_focus (GTK_WIDGET (self->panels), GTK_DIR_TAB_FORWARD);
}

/* Made anew each time. GTK's own way keeps a hidden window beside the visible ones, and when a dialog closes while an
 * assistive technology counts the windows, GTK 4.8 hands out that one and comes to grief. */
static void
shortcuts_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  g_autoptr (GtkBuilder) builder = gtk_builder_new_from_resource ("/io/github/nappe/Nappe/shortcuts.ui");
  GtkWindow *shortcuts = GTK_WINDOW (gtk_builder_get_object (builder, "shortcuts"));

  gtk_window_set_transient_for (shortcuts, GTK_WINDOW (widget));
  gtk_window_set_destroy_with_parent (shortcuts, TRUE);
  gtk_window_present (shortcuts);
}

static void
select_action (GtkWidget *widget, const char *name, GVariant *parameter)
{
  nappe_window_select (NAPPE_WINDOW (widget), g_variant_get_string (parameter, NULL));
}

/* Properties that stand behind the actions with a state. */
enum
{
  PROP_SHOW_STATE = 1,
  PROP_VIEW,
  PROP_PANEL,
  PROP_SIDE_PANEL,
  PROP_CASE,
  PROP_SPEED,
  PROP_MOVING_PICTURE,
};

static void
get_property (GObject *object, guint property, GValue *value, GParamSpec *pspec)
{
  NappeWindow *self = NAPPE_WINDOW (object);

  /* Actions ask for their state as soon as the first child of the window is made. */
  if (!self->made)
    {
      g_param_value_set_default (pspec, value);
      return;
    }
  switch (property)
    {
    case PROP_SHOW_STATE:
      g_value_set_string (value, state_names[nappe_canvas_get_shown (self->elevation)]);
      break;
    case PROP_VIEW:
      g_value_set_string (value, adw_view_stack_get_visible_child_name (self->views));
      break;
    case PROP_PANEL:
      g_value_set_string (value, gtk_stack_get_visible_child_name (self->panels));
      break;
    case PROP_SIDE_PANEL:
      g_value_set_boolean (value, adw_flap_get_reveal_flap (self->flap));
      break;
    case PROP_CASE:
      g_value_set_string (value, nappe_window_get_case (self));
      break;
    case PROP_SPEED:
      g_value_take_string (value, nappe_window_get_speed (self));
      break;
    case PROP_MOVING_PICTURE:
      g_value_set_string (value, nappe_window_get_moving_picture (self));
      break;
    default:
      G_OBJECT_WARN_INVALID_PROPERTY_ID (object, property, pspec);
    }
}

/* What has a name that is not known is not looked at. */

static void
show_view (NappeWindow *self, const char *name)
{
  GtkWidget *child = adw_view_stack_get_child_by_name (self->views, name);

  if (child != NULL)
    adw_view_stack_set_visible_child (self->views, child);
}

static void
show_panel (NappeWindow *self, const char *name)
{
  GtkWidget *child = gtk_stack_get_child_by_name (self->panels, name);

  if (child != NULL)
    gtk_stack_set_visible_child (self->panels, child);
}

static void
set_property (GObject *object, guint property, const GValue *value, GParamSpec *pspec)
{
  NappeWindow *self = NAPPE_WINDOW (object);

  switch (property)
    {
    case PROP_SHOW_STATE:
      show_state (self, g_strcmp0 (g_value_get_string (value), state_names[NAPPE_SHOW_POWER_CUT]) == 0
                            ? NAPPE_SHOW_POWER_CUT : NAPPE_SHOW_RUNNING);
      break;
    case PROP_VIEW:
      show_view (self, g_value_get_string (value));
      break;
    case PROP_PANEL:
      show_panel (self, g_value_get_string (value));
      break;
    case PROP_SIDE_PANEL:
      adw_flap_set_reveal_flap (self->flap, g_value_get_boolean (value));
      break;
    case PROP_CASE:
      nappe_window_choose_case (self, g_value_get_string (value));
      break;
    case PROP_SPEED:
      nappe_window_set_speed (self, g_value_get_string (value));
      break;
    case PROP_MOVING_PICTURE:
      nappe_window_set_moving_picture (self, g_value_get_string (value));
      break;
    default:
      G_OBJECT_WARN_INVALID_PROPERTY_ID (object, property, pspec);
    }
}

void
nappe_window_install_view_actions (GtkWidgetClass *widget_class)
{
  GObjectClass *object_class = G_OBJECT_CLASS (widget_class);
  const GParamFlags flags = G_PARAM_READWRITE | G_PARAM_STATIC_STRINGS;

  object_class->get_property = get_property;
  object_class->set_property = set_property;
  g_object_class_install_property (object_class, PROP_SHOW_STATE,
                                   g_param_spec_string ("show-state", NULL, NULL, "running", flags));
  g_object_class_install_property (object_class, PROP_VIEW, g_param_spec_string ("view", NULL, NULL, "elevation", flags));
  g_object_class_install_property (object_class, PROP_PANEL, g_param_spec_string ("panel", NULL, NULL, "findings", flags));
  g_object_class_install_property (object_class, PROP_SIDE_PANEL,
                                   g_param_spec_boolean ("side-panel", NULL, NULL, FALSE, flags));
  g_object_class_install_property (object_class, PROP_CASE, g_param_spec_string ("case", NULL, NULL, "", flags));
  g_object_class_install_property (object_class, PROP_SPEED, g_param_spec_string ("speed", NULL, NULL, "", flags));
  g_object_class_install_property (object_class, PROP_MOVING_PICTURE,
                                   g_param_spec_string ("moving-picture", NULL, NULL, "elevation", flags));
  gtk_widget_class_install_property_action (widget_class, "win.show-state", "show-state");
  gtk_widget_class_install_property_action (widget_class, "win.view", "view");
  gtk_widget_class_install_property_action (widget_class, "win.panel", "panel");
  gtk_widget_class_install_property_action (widget_class, "win.side-panel", "side-panel");
  gtk_widget_class_install_action (widget_class, "win.toggle-state", NULL, toggle_state_action);
  gtk_widget_class_install_action (widget_class, "win.zoom-in", NULL, zoom_action);
  gtk_widget_class_install_action (widget_class, "win.zoom-out", NULL, zoom_action);
  gtk_widget_class_install_action (widget_class, "win.zoom-fit", NULL, zoom_action);
  gtk_widget_class_install_action (widget_class, "win.next-finding", NULL, step_finding_action);
  gtk_widget_class_install_action (widget_class, "win.previous-finding", NULL, step_finding_action);
  gtk_widget_class_install_action (widget_class, "win.other-pane", NULL, other_pane_action);
  gtk_widget_class_install_action (widget_class, "win.select", "s", select_action);
  gtk_widget_class_install_action (widget_class, "win.shortcuts", NULL, shortcuts_action);
}
