/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studio/window/window-private.h"

#include <glib/gi18n-lib.h>

#include "config.h"
#include "studio/application/keys.h"
#include "studio/application/recent-menu.h"
#include "studio/application/session.h"
#include "studio/window/fitting-box.h"

G_DEFINE_FINAL_TYPE (NappeWindow, nappe_window, ADW_TYPE_APPLICATION_WINDOW)

void
nappe_window_say (NappeWindow *self, const char *text)
{
  g_autofree char *markup = g_markup_escape_text (text, -1);

  adw_toast_overlay_add_toast (self->toasts, adw_toast_new (markup));
}

void
nappe_window_say_undoable (NappeWindow *self, const char *text)
{
  g_autofree char *markup = g_markup_escape_text (text, -1);
  AdwToast *toast = adw_toast_new (markup);

  adw_toast_set_button_label (toast, _("_Undo"));
  adw_toast_set_action_name (toast, "win.undo");
  adw_toast_overlay_add_toast (self->toasts, toast);
}

gboolean
nappe_window_is_closed (NappeWindow *self)
{
  return self->document == NULL || gtk_window_get_application (GTK_WINDOW (self)) == NULL;
}

void
nappe_window_show_error (NappeWindow *self, const char *text)
{
  gtk_label_set_text (self->error_text, text != NULL ? text : "");
  gtk_info_bar_set_revealed (self->error_bar, text != NULL);
}

static void
error_bar_response (GtkInfoBar *bar, int response, NappeWindow *self)
{
  nappe_window_show_error (self, NULL);
}

static void
update_title (NappeWindow *self)
{
  gboolean has_build = nappe_document_get_build (self->document) != NULL;
  const char *title = has_build ? nappe_document_get_title (self->document) : _("Nappe");
  const char *sign = nappe_document_is_modified (self->document) ? "• " : "";
  g_autofree char *shown = g_strdup_printf ("%s%s", sign, title);

  gtk_window_set_title (GTK_WINDOW (self), shown);
  gtk_label_set_text (self->file_label, has_build ? shown : "");
  adw_view_switcher_title_set_title (self->switcher_title, shown);
  adw_view_switcher_title_set_view_switcher_enabled (self->switcher_title, has_build);
}

/* Button and menu say what is undone or done again. position: in the menu. step: NULL: nothing. */
static void
describe_history (NappeWindow *self, GtkWidget *button, int position, const char *words, const char *step)
{
  const char *action = position == 0 ? "win.undo" : "win.redo";
  gboolean there = g_menu_model_get_n_items (G_MENU_MODEL (self->history_menu)) > position;
  /* Translators: “Undo” or “Redo”, and the step: “Undo: Cure: raise the inlet”. */
  g_autofree char *text = step != NULL ? g_strdup_printf (_("%s: %s"), words, step) : g_strdup (words);
  g_autofree char *tooltip = nappe_keys_tooltip (text, action);
  /* In a menu an underscore marks the letter that opens an item. */
  g_autoptr (GString) label = g_string_new (text);

  if (there && g_strcmp0 (gtk_widget_get_tooltip_text (button), tooltip) == 0)
    return;
  g_string_replace (label, "_", "__", 0);
  g_string_prepend_c (label, '_');
  gtk_widget_set_tooltip_text (button, tooltip);
  if (there)
    g_menu_remove (self->history_menu, position);
  g_menu_insert (self->history_menu, position, label->str, action);
}

void
nappe_window_update_history_actions (NappeWindow *self)
{
  NappeBuild *build = nappe_document_get_build (self->document);
  gboolean editable = build != NULL && self->preview == NULL;

  describe_history (self, self->undo_button, 0, _("Undo"), build != NULL ? nappe_build_undo_label (build) : NULL);
  describe_history (self, self->redo_button, 1, _("Redo"), build != NULL ? nappe_build_redo_label (build) : NULL);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "win.undo", editable && nappe_document_can_undo (self->document));
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "win.redo", editable && nappe_document_can_redo (self->document));
  nappe_window_update_part_actions (self);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "win.save", build != NULL);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "win.save-as", build != NULL);
}

static void
history_changed (NappeWindow *self)
{
  update_title (self);
  nappe_window_update_history_actions (self);
}

/* The page of a build has most of the window's widgets: what they cost is spent when there is a build, and the first frame
 * does not wait for it. */
static void
bring_in_page (NappeWindow *self)
{
  if (gtk_widget_get_parent (GTK_WIDGET (self->flap)) != NULL)
    return;
  gtk_stack_add_named (self->pages, GTK_WIDGET (self->flap), "build");
  adw_view_switcher_title_set_stack (self->switcher_title, self->views);
  adw_view_switcher_bar_set_stack (self->switcher_bar, self->views);
}

static void
document_replaced (NappeWindow *self)
{
  bring_in_page (self);
  nappe_window_show_error (self, NULL);
  nappe_window_select (self, NULL);
  gtk_stack_set_visible_child_name (self->pages, "build");
  nappe_window_forget_cures (self);
  nappe_window_set_cures_outcome (self, NULL);
  nappe_findings_panel_set_outcome (self->findings, NULL);
  nappe_window_set_time_outcome (self, NULL);
  for (NappePictureKind kind = NAPPE_PICTURE_ELEVATION; kind <= NAPPE_PICTURE_PANELS; kind++)
    nappe_canvas_set_zoom (nappe_window_get_canvas (self, kind), 1.0);
  history_changed (self);
  nappe_window_update_view_actions (self);
  nappe_window_update_judging_actions (self);
}

static void
warn_of_own_catalogue (NappeWindow *self)
{
  const GPtrArray *warnings = nappe_document_get_warnings (self->document);

  if (self->warned || warnings == NULL || warnings->len == 0)
    return;
  self->warned = TRUE;
  nappe_window_show_error (self, g_ptr_array_index (warnings, 0));
}

/* Also when cases have been played in time: all that shows findings shows the same ones. */
static void
show_outcome (NappeWindow *self)
{
  NappeOutcome *outcome = nappe_document_get_outcome (self->document);

  nappe_window_set_cures_outcome (self, outcome);
  nappe_findings_panel_set_outcome (self->findings, outcome);
  nappe_findings_panel_select_part (self->findings, self->selected);
  nappe_window_set_time_outcome (self, outcome);
}

static void
document_computed (NappeWindow *self)
{
  const GError *error = nappe_document_get_error (self->document);

  if (error != NULL)
    nappe_window_show_error (self, error->message);
  nappe_window_leave_preview (self);
  show_outcome (self);
  warn_of_own_catalogue (self);
  nappe_window_update_view_actions (self);
  nappe_window_update_part_actions (self);
}

/* The panel of a part has many widgets: it is made when it is first looked at. */
static void
make_part_panel (NappeWindow *self)
{
  if (self->part_panel != NULL)
    return;
  self->part_panel = NAPPE_PART_PANEL (nappe_part_panel_new (self->document));
  gtk_widget_set_hexpand (GTK_WIDGET (self->part_panel), TRUE);
  nappe_part_panel_set_units (self->part_panel, nappe_preferences_get_units (self->preferences));
  nappe_part_panel_set_currency (self->part_panel, nappe_preferences_get_currency (self->preferences));
  nappe_part_panel_set_part (self->part_panel, self->selected);
  g_signal_connect_swapped (self->part_panel, "picked", G_CALLBACK (nappe_window_select), self);
  gtk_box_append (self->part_place, GTK_WIDGET (self->part_panel));
}

static void
panel_shown (NappeWindow *self)
{
  g_object_notify (G_OBJECT (self), "panel");
  if (g_strcmp0 (gtk_stack_get_visible_child_name (self->panels), "part") == 0)
    make_part_panel (self);
}

/* Charts, too, are made when they are first looked at. */
static void
make_charts (NappeWindow *self)
{
  if (self->chart_view != NULL)
    return;
  self->chart_view = NAPPE_CHART_VIEW (nappe_chart_view_new ());
  g_signal_connect_swapped (self->chart_view, "picked", G_CALLBACK (nappe_window_picked_in_picture), self);
  nappe_chart_view_set_outcome (self->chart_view, self->preview != NULL ? self->preview
                                                                        : nappe_document_get_shown_outcome (self->document));
  nappe_chart_view_select (self->chart_view, self->selected);
  gtk_widget_set_hexpand (GTK_WIDGET (self->chart_view), TRUE);
  gtk_widget_set_vexpand (GTK_WIDGET (self->chart_view), TRUE);
  gtk_box_append (self->chart_place, GTK_WIDGET (self->chart_view));
}

static void
view_shown (NappeWindow *self)
{
  const char *view = adw_view_stack_get_visible_child_name (self->views);
  gboolean time = g_strcmp0 (view, "time") == 0, charts = g_strcmp0 (view, "charts") == 0;

  if (time)
    {
      nappe_window_leave_preview (self);
      nappe_window_make_time (self);
    }
  else if (self->player != NULL)
    nappe_player_set_playing (self->player, FALSE);
  if (charts)
    make_charts (self);
  gtk_widget_set_visible (self->state_switch, !time);
  gtk_widget_set_sensitive (self->state_switch, !charts);
  g_object_notify (G_OBJECT (self), "view");
  nappe_window_update_view_actions (self);
}

static void
side_panel_shown (NappeWindow *self)
{
  g_object_notify (G_OBJECT (self), "side-panel");
}

const char *
nappe_window_get_selected (NappeWindow *self)
{
  return self->selected;
}

void
nappe_window_select (NappeWindow *self, const char *part)
{
  char *copy = g_strdup (part != NULL && *part != '\0' ? part : NULL);

  g_free (self->selected);
  self->selected = copy;
  for (NappePictureKind kind = NAPPE_PICTURE_ELEVATION; kind <= NAPPE_PICTURE_PANELS; kind++)
    nappe_canvas_select (nappe_window_get_canvas (self, kind), copy);
  nappe_findings_panel_select_part (self->findings, copy);
  if (self->chart_view != NULL)
    nappe_chart_view_select (self->chart_view, copy);
  if (self->time_view != NULL)
    nappe_time_view_select (self->time_view, copy);
  if (self->part_panel != NULL)
    nappe_part_panel_set_part (self->part_panel, copy);
  nappe_window_update_part_actions (self);
}

/* A part picked in a picture shows its properties; one picked through a finding leaves the finding
 * in view. */
void
nappe_window_picked_in_picture (NappeWindow *self, const char *part)
{
  nappe_window_select (self, part);
  if (part != NULL && self->preview == NULL)
    gtk_stack_set_visible_child_name (self->panels, "part");
}

static void
units_changed (NappeWindow *self)
{
  NappeUnitSystem units = nappe_preferences_get_units (self->preferences);

  nappe_document_set_units (self->document, units);
  if (self->part_panel != NULL)
    nappe_part_panel_set_units (self->part_panel, units);
}

/* A fault in it is told again. */
static void
own_parts_changed (NappeWindow *self)
{
  self->warned = FALSE;
  nappe_document_reload_catalogue (self->document);
}

static void
currency_changed (NappeWindow *self)
{
  if (self->part_panel != NULL)
    nappe_part_panel_set_currency (self->part_panel, nappe_preferences_get_currency (self->preferences));
}

static gboolean
nappe_window_close_request (GtkWindow *window)
{
  NappeWindow *self = NAPPE_WINDOW (window);
  int width, height;

  if (!self->closing && nappe_document_is_modified (self->document))
    {
      nappe_window_ask_before_closing (self);
      return TRUE;
    }
  nappe_window_stop_loading (self);
  nappe_session_remember (gtk_window_get_application (window), self->preferences, self);
  gtk_window_get_default_size (window, &width, &height);
  nappe_preferences_set_window (self->preferences, width, height, gtk_window_is_maximized (window));
  return GTK_WINDOW_CLASS (nappe_window_parent_class)->close_request (window);
}

static void
nappe_window_dispose (GObject *object)
{
  NappeWindow *self = NAPPE_WINDOW (object);

  if (self->autosave != NULL)
    {
      g_signal_handlers_disconnect_by_data (self->autosave, self);
      nappe_autosave_end (self->autosave, nappe_document_is_modified (self->document) && !self->closing);
    }
  g_clear_object (&self->autosave);
  if (self->document != NULL)
    g_signal_handlers_disconnect_by_data (self->document, self);
  if (self->loading != NULL)
    g_cancellable_cancel (self->loading);
  g_clear_object (&self->loading);
  g_clear_object (&self->loading_file);
  g_clear_weak_pointer (&self->close_question);
  if (self->preferences != NULL)
    g_signal_handlers_disconnect_by_data (self->preferences, self);
  if (self->chooser != NULL)
    gtk_native_dialog_destroy (GTK_NATIVE_DIALOG (self->chooser));
  g_clear_object (&self->chooser);
  nappe_window_drop_time (self);
  g_clear_pointer (&self->preview, nappe_outcome_unref);
  g_clear_weak_pointer (&self->focus_before);
  if (self->finder != NULL)
    nappe_cure_finder_stop (self->finder);
  g_clear_object (&self->finder);
  g_clear_object (&self->main_menu);
  g_clear_object (&self->history_menu);
  gtk_widget_dispose_template (GTK_WIDGET (self), NAPPE_TYPE_WINDOW);
  g_clear_object (&self->document);
  g_clear_object (&self->preferences);
  g_clear_pointer (&self->selected, g_free);
  G_OBJECT_CLASS (nappe_window_parent_class)->dispose (object);
}

static void
bind_children (GtkWidgetClass *widget_class)
{
  gtk_widget_class_bind_template_child (widget_class, NappeWindow, switcher_title);
  gtk_widget_class_bind_template_child (widget_class, NappeWindow, switcher_bar);
  gtk_widget_class_bind_template_child (widget_class, NappeWindow, views);
  gtk_widget_class_bind_template_child (widget_class, NappeWindow, toasts);
  gtk_widget_class_bind_template_child (widget_class, NappeWindow, file_label);
  gtk_widget_class_bind_template_child (widget_class, NappeWindow, error_bar);
  gtk_widget_class_bind_template_child (widget_class, NappeWindow, error_text);
  gtk_widget_class_bind_template_child (widget_class, NappeWindow, disk_bar);
  gtk_widget_class_bind_template_child (widget_class, NappeWindow, disk_text);
  gtk_widget_class_bind_template_child (widget_class, NappeWindow, reload_button);
  gtk_widget_class_bind_template_child (widget_class, NappeWindow, keep_button);
  gtk_widget_class_bind_template_child (widget_class, NappeWindow, save_button);
  gtk_widget_class_bind_template_child (widget_class, NappeWindow, pages);
  gtk_widget_class_bind_template_child (widget_class, NappeWindow, flap);
  gtk_widget_class_bind_template_child (widget_class, NappeWindow, panels);
  gtk_widget_class_bind_template_child (widget_class, NappeWindow, part_place);
  gtk_widget_class_bind_template_child (widget_class, NappeWindow, time_place);
  gtk_widget_class_bind_template_child (widget_class, NappeWindow, events_place);
  gtk_widget_class_bind_template_child (widget_class, NappeWindow, chart_place);
  gtk_widget_class_bind_template_child (widget_class, NappeWindow, state_switch);
  gtk_widget_class_bind_template_child (widget_class, NappeWindow, preview_bar);
  gtk_widget_class_bind_template_child (widget_class, NappeWindow, undo_button);
  gtk_widget_class_bind_template_child (widget_class, NappeWindow, redo_button);
  gtk_widget_class_bind_template_child (widget_class, NappeWindow, elevation);
  gtk_widget_class_bind_template_child (widget_class, NappeWindow, flow);
  gtk_widget_class_bind_template_child (widget_class, NappeWindow, findings);
  gtk_widget_class_bind_template_child (widget_class, NappeWindow, recent_button);
  gtk_widget_class_bind_template_child (widget_class, NappeWindow, menu_button);
  gtk_widget_class_bind_template_callback (widget_class, error_bar_response);
  gtk_widget_class_bind_template_callback (widget_class, nappe_window_picked_in_picture);
  gtk_widget_class_bind_template_callback (widget_class, nappe_window_select);
}

static void
nappe_window_class_init (NappeWindowClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = nappe_window_dispose;
  GTK_WINDOW_CLASS (klass)->close_request = nappe_window_close_request;
  g_type_ensure (NAPPE_TYPE_CANVAS);
  g_type_ensure (NAPPE_TYPE_FITTING_BOX);
  g_type_ensure (NAPPE_TYPE_FINDINGS_PANEL);
  g_type_ensure (NAPPE_TYPE_PREVIEW_BAR);
  gtk_widget_class_set_template_from_resource (widget_class, "/io/github/nappe/Nappe/window.ui");
  bind_children (widget_class);
  nappe_window_install_open_actions (widget_class);
  nappe_window_install_file_actions (widget_class);
  nappe_window_install_disk_actions (widget_class);
  nappe_window_install_view_actions (widget_class);
  nappe_window_install_time_actions (widget_class);
  nappe_window_install_cure_actions (widget_class);
  nappe_window_install_judging_actions (widget_class);
  nappe_window_install_part_actions (widget_class);
  nappe_window_install_chart_actions (widget_class);
}

/* A menu's widgets would be made with the window: they wait until the menu is opened. */
static void
make_main_menu (GtkMenuButton *button, gpointer user_data)
{
  if (gtk_menu_button_get_menu_model (button) == NULL)
    gtk_menu_button_set_menu_model (button, NAPPE_WINDOW (user_data)->main_menu);
}

/* Actions that asked before the template was made got no answer. */
static void
tell_states (NappeWindow *self)
{
  const char *const states[] = { "show-state", "view", "panel", "side-panel", "case", "speed" };

  for (gsize i = 0; i < G_N_ELEMENTS (states); i++)
    g_object_notify (G_OBJECT (self), states[i]);
}

static void
load_menu (NappeWindow *self)
{
  g_autoptr (GtkBuilder) builder = gtk_builder_new_from_resource ("/io/github/nappe/Nappe/main-menu.ui");

  self->main_menu = G_MENU_MODEL (g_object_ref (gtk_builder_get_object (builder, "main_menu")));
  self->history_menu = G_MENU (g_object_ref (gtk_builder_get_object (builder, "history_menu")));
}

static void
nappe_window_init (NappeWindow *self)
{
  self->document = nappe_document_new ();
  self->autosave = nappe_autosave_new (self->document);
  self->finder = nappe_cure_finder_new ();
  load_menu (self);
  gtk_widget_init_template (GTK_WIDGET (self));
  nappe_keys_add_to_tooltips (GTK_WIDGET (self));
  nappe_keys_add_to_tooltips (GTK_WIDGET (self->flap));
  nappe_findings_panel_set_finder (self->findings, self->finder);
  self->made = TRUE;
  nappe_canvas_set_document (self->elevation, self->document);
  nappe_window_add_plans (self);
  gtk_window_set_icon_name (GTK_WINDOW (self), NAPPE_APP_ID);
  g_signal_connect_swapped (self->autosave, "failed", G_CALLBACK (nappe_window_show_error), self);
  g_signal_connect_swapped (self->document, "notify::title", G_CALLBACK (update_title), self);
  g_signal_connect_swapped (self->document, "notify::modified", G_CALLBACK (history_changed), self);
  g_signal_connect_swapped (self->document, "disk-changed", G_CALLBACK (nappe_window_update_disk), self);
  g_signal_connect_swapped (self->document, "replaced", G_CALLBACK (document_replaced), self);
  g_signal_connect_swapped (self->document, "changed", G_CALLBACK (nappe_window_forget_cures), self);
  g_signal_connect_swapped (self->document, "computed", G_CALLBACK (document_computed), self);
  g_signal_connect_swapped (self->document, "drafted", G_CALLBACK (nappe_window_show_in_pictures), self);
  g_signal_connect_swapped (self->document, "refined", G_CALLBACK (show_outcome), self);
  g_signal_connect_swapped (self->views, "notify::visible-child", G_CALLBACK (view_shown), self);
  g_signal_connect_swapped (self->panels, "notify::visible-child", G_CALLBACK (panel_shown), self);
  g_signal_connect_swapped (self->flap, "notify::reveal-flap", G_CALLBACK (side_panel_shown), self);
  gtk_menu_button_set_create_popup_func (self->menu_button, make_main_menu, self, NULL);
  nappe_window_add_drop_target (self);
  tell_states (self);
  history_changed (self);
  nappe_window_update_disk (self);
  gtk_widget_action_set_enabled (GTK_WIDGET (self), "win.stop-loading", FALSE);
  nappe_window_update_view_actions (self);
  nappe_window_update_cure_actions (self);
  nappe_window_update_judging_actions (self);
}

NappeWindow *
nappe_window_new (GtkApplication *application, NappePreferences *preferences)
{
  NappeWindow *self = g_object_new (NAPPE_TYPE_WINDOW, "application", application, NULL);
  int width, height;
  gboolean maximized;

  self->preferences = g_object_ref (preferences);
  g_signal_connect_swapped (preferences, "notify::units", G_CALLBACK (units_changed), self);
  g_signal_connect_swapped (preferences, "notify::currency", G_CALLBACK (currency_changed), self);
  g_signal_connect_swapped (preferences, "own-parts-changed", G_CALLBACK (own_parts_changed), self);
  units_changed (self);
  nappe_recent_menu_attach (self->recent_button, preferences);
  nappe_preferences_get_window (preferences, &width, &height, &maximized);
  gtk_window_set_default_size (GTK_WINDOW (self), width, height);
  if (maximized)
    gtk_window_maximize (GTK_WINDOW (self));
  return self;
}

void
nappe_window_restore (NappeWindow *self, NappeBuild *build, NappeRescue *rescue)
{
  nappe_window_stop_loading (self);
  nappe_document_restore (self->document, build, nappe_rescue_get_origin (rescue), nappe_rescue_get_base (rescue));
  nappe_autosave_adopt (self->autosave, rescue);
  nappe_window_say (self, _("Restored, and not saved yet"));
}

NappeWindow *
nappe_window_find (GtkApplication *application, GFile *file)
{
  for (GList *window = gtk_application_get_windows (application); window != NULL; window = window->next)
    if (NAPPE_IS_WINDOW (window->data) && NAPPE_WINDOW (window->data)->document != NULL)
      {
        NappeWindow *self = window->data;
        GFile *shown = self->loading_file != NULL ? self->loading_file : nappe_document_get_file (self->document);

        if (shown != NULL && g_file_equal (shown, file))
          return NAPPE_WINDOW (window->data);
      }
  return NULL;
}

NappeDocument *
nappe_window_get_document (NappeWindow *self)
{
  return self->document;
}

gboolean
nappe_window_is_empty (NappeWindow *self)
{
  return g_strcmp0 (gtk_stack_get_visible_child_name (self->pages), "empty") == 0;
}
