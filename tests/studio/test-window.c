/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The window from inside: everything here goes through actions, signals and widgets as a person's
 * doing would. Pictures of it are left in the build folder, tests/studio/, to be looked at. */
#include <math.h>

#include "studio-fixture.h"
#include "studio/canvas/canvas-handle.h"
#include "studio/canvas/canvas-item.h"
#include "studio/canvas/canvas.h"
#include "studio/parts/field-row.h"
#include "studio/findings/finding-row.h"
#include "studio/parts/number-row.h"
#include "studio/parts/part-panel.h"

static NappeCanvas *
visible_canvas (StudioFixture *self)
{
  GtkWidget *stack = studio_fixture_find (GTK_WIDGET (self->window), ADW_TYPE_VIEW_STACK, NULL);

  return NAPPE_CANVAS (adw_view_stack_get_visible_child (ADW_VIEW_STACK (stack)));
}

static guint
count_items (NappeCanvas *canvas)
{
  guint n = 0;

  for (GtkWidget *child = gtk_widget_get_first_child (GTK_WIDGET (canvas)); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    n++;
  return n;
}

static void
test_empty (StudioFixture *self, gconstpointer data)
{
  g_assert_true (nappe_window_is_empty (self->window));
  g_assert_null (nappe_document_get_build (self->document));
  g_assert_nonnull (studio_fixture_find (GTK_WIDGET (self->window), ADW_TYPE_STATUS_PAGE, NULL));
  g_assert_false (
      gtk_widget_get_sensitive (studio_fixture_find (GTK_WIDGET (self->window), GTK_TYPE_TOGGLE_BUTTON, "side-panel")));
}

static void
test_load (StudioFixture *self, gconstpointer data)
{
  guint n = 0;
  NappeCanvas *canvas;

  studio_fixture_load (self, "three-drain.nappe");
  canvas = visible_canvas (self);
  g_assert_false (nappe_window_is_empty (self->window));
  g_assert_true (
      gtk_widget_get_sensitive (studio_fixture_find (GTK_WIDGET (self->window), GTK_TYPE_TOGGLE_BUTTON, "side-panel")));
  g_assert_cmpstr (nappe_document_get_title (self->document), ==, "three-drain.nappe");
  g_assert_false (nappe_document_is_modified (self->document));
  g_assert_cmpint (nappe_canvas_get_kind (canvas), ==, NAPPE_PICTURE_ELEVATION);
  g_assert_nonnull (nappe_canvas_get_picture (canvas));
  nappe_picture_items (nappe_canvas_get_picture (canvas), &n);
  g_assert_cmpuint (n, >, 5);
  g_assert_cmpuint (count_items (canvas), ==, n);
  studio_fixture_picture (self, "light-elevation");
}

static void
test_flow_view (StudioFixture *self, gconstpointer data)
{
  studio_fixture_load (self, "three-drain.nappe");
  studio_fixture_act (self, "win.view", "flow");
  studio_fixture_settle (self);
  g_assert_cmpint (nappe_canvas_get_kind (visible_canvas (self)), ==, NAPPE_PICTURE_FLOW);
  g_assert_nonnull (nappe_canvas_get_picture (visible_canvas (self)));
  g_assert_cmpuint (count_items (visible_canvas (self)), >, 5);
  studio_fixture_picture (self, "light-flow");
}

/* The sump from above and the drilled panes: shown, picked in, and picked along with the other views. */
static void
test_plan_views (StudioFixture *self, gconstpointer data)
{
  static const char *const views[] = { "plan", "panes" };
  static const char *const pictures[] = { "light-plan", "light-panes" };

  studio_fixture_load (self, "three-drain.nappe");
  for (gsize i = 0; i < G_N_ELEMENTS (views); i++)
    {
      GtkWidget *item;

      studio_fixture_act (self, "win.view", views[i]);
      studio_fixture_settle (self);
      g_assert_cmpint (nappe_canvas_get_kind (visible_canvas (self)), ==, i == 0 ? NAPPE_PICTURE_PLAN : NAPPE_PICTURE_PANELS);
      g_assert_nonnull (nappe_canvas_get_picture (visible_canvas (self)));
      g_assert_cmpuint (count_items (visible_canvas (self)), >=, 3);
      item = gtk_widget_get_first_child (GTK_WIDGET (visible_canvas (self)));
      g_assert_true (gtk_widget_activate_action (item, "item.select", NULL));
      g_assert_cmpstr (nappe_window_get_selected (self->window), ==, nappe_canvas_item_get_part (NAPPE_CANVAS_ITEM (item)));
      studio_fixture_settle (self);
      studio_fixture_picture (self, pictures[i]);
    }
}

static void
test_power_cut (StudioFixture *self, gconstpointer data)
{
  studio_fixture_load (self, "single-drain.nappe");
  studio_fixture_act (self, "win.show-state", "power-cut");
  studio_fixture_settle (self);
  g_assert_cmpint (nappe_canvas_get_shown (visible_canvas (self)), ==, NAPPE_SHOW_POWER_CUT);
  studio_fixture_picture (self, "light-power-cut");
  studio_fixture_act (self, "win.toggle-state", NULL);
  g_assert_cmpint (nappe_canvas_get_shown (visible_canvas (self)), ==, NAPPE_SHOW_RUNNING);
}

/* Every part of the picture can be reached by keyboard, and picking it shows its properties. */
static void
test_pick_by_keyboard (StudioFixture *self, gconstpointer data)
{
  GtkWidget *item;
  const char *part;

  studio_fixture_load (self, "three-drain.nappe");
  item = gtk_widget_get_first_child (GTK_WIDGET (visible_canvas (self)));
  g_assert_true (NAPPE_IS_CANVAS_ITEM (item));
  part = nappe_canvas_item_get_part (NAPPE_CANVAS_ITEM (item));
  g_assert_cmpstr (part, !=, "");
  g_assert_cmpstr (nappe_canvas_item_get_label (NAPPE_CANVAS_ITEM (item)), !=, "");
  g_assert_cmpstr (nappe_canvas_item_get_description (NAPPE_CANVAS_ITEM (item)), !=, "");
  g_assert_true (gtk_widget_get_focusable (item));
  g_assert_true (gtk_widget_activate_action (item, "item.select", NULL));
  g_assert_cmpstr (nappe_window_get_selected (self->window), ==, part);
  studio_fixture_settle (self);
  g_assert_nonnull (studio_fixture_find (GTK_WIDGET (self->window), NAPPE_TYPE_FIELD_ROW, NULL));
}

/* A click in the middle of a part picks what the picture says is there. */
static void
test_pick_by_pointer (StudioFixture *self, gconstpointer data)
{
  NappeCanvas *canvas;
  g_autoptr (GListModel) controllers = NULL;
  guint n, hit = 0;
  const NappePictureItem *items;

  studio_fixture_load (self, "three-drain.nappe");
  canvas = visible_canvas (self);
  controllers = gtk_widget_observe_controllers (GTK_WIDGET (canvas));
  items = nappe_picture_items (nappe_canvas_get_picture (canvas), &n);
  for (guint i = 0; i < g_list_model_get_n_items (controllers); i++)
    {
      g_autoptr (GtkEventController) controller = g_list_model_get_item (controllers, i);

      if (!GTK_IS_GESTURE_CLICK (controller))
        continue;
      hit++;
      g_signal_emit_by_name (controller, "released", 1, items[0].x + items[0].width / 2,
                             items[0].y + items[0].height / 2);
    }
  g_assert_cmpuint (hit, ==, 1);
  g_assert_nonnull (nappe_window_get_selected (self->window));
  studio_fixture_picture (self, "light-picked");
}

static void
test_findings (StudioFixture *self, gconstpointer data)
{
  NappeVerdict *verdict;
  GtkWidget *row;
  NappeFinding *finding;

  studio_fixture_load (self, "single-drain.nappe");
  verdict = nappe_document_get_outcome (self->document)->verdict;
  g_assert_cmpuint (verdict->n_danger, >, 0);
  studio_fixture_act (self, "win.next-finding", NULL);
  row = studio_fixture_find (GTK_WIDGET (self->window), NAPPE_TYPE_FINDING_ROW, NULL);
  finding = nappe_finding_row_get_finding (NAPPE_FINDING_ROW (row));
  g_assert_true (finding == g_ptr_array_index (verdict->findings, 0));
  g_assert_true (nappe_finding_row_get_open (NAPPE_FINDING_ROW (row)));
  g_assert_cmpstr (nappe_window_get_selected (self->window), ==, nappe_finding_get_part (finding));
  studio_fixture_picture (self, "light-finding");
}

static GtkWidget *
focus_of (StudioFixture *self)
{
  return gtk_window_get_focus (GTK_WINDOW (self->window));
}

/* Without a pointer: into the picture, a part, its handles, the side panel, and back. Only choosing a part picks one. */
static void
test_panes (StudioFixture *self, gconstpointer data)
{
  g_autofree char *part = NULL;

  studio_fixture_load (self, "two-drain.nappe");
  studio_fixture_act (self, "win.other-pane", NULL);
  g_assert_true (NAPPE_IS_CANVAS_ITEM (focus_of (self)));
  g_assert_null (nappe_window_get_selected (self->window));
  while (!g_str_equal (nappe_canvas_item_get_part (NAPPE_CANVAS_ITEM (focus_of (self))), "sump"))
    g_assert_true (gtk_widget_child_focus (GTK_WIDGET (visible_canvas (self)), GTK_DIR_TAB_FORWARD));
  gtk_widget_activate_action (focus_of (self), "item.select", NULL);
  g_assert_cmpstr (nappe_window_get_selected (self->window), ==, "sump");
  studio_fixture_settle (self);
  gtk_widget_activate_action (focus_of (self), "item.select", NULL);
  g_assert_true (NAPPE_IS_CANVAS_HANDLE (focus_of (self)));
  studio_fixture_act (self, "win.other-pane", NULL);
  g_assert_nonnull (gtk_widget_get_ancestor (focus_of (self), NAPPE_TYPE_PART_PANEL));
  studio_fixture_act (self, "win.panel", "findings");
  studio_fixture_act (self, "win.other-pane", NULL);
  g_assert_cmpstr (nappe_canvas_item_get_part (NAPPE_CANVAS_ITEM (focus_of (self))), ==, "sump");
  studio_fixture_act (self, "win.other-pane", NULL);
  g_assert_true (NAPPE_IS_FINDING_ROW (focus_of (self)));
  g_assert_cmpstr (nappe_window_get_selected (self->window), ==, "sump");
}

/* The row of a rule's first finding; NULL: none. */
static NappeFindingRow *
row_of_rule (StudioFixture *self, const char *rule)
{
  GtkListBox *list = GTK_LIST_BOX (studio_fixture_find (GTK_WIDGET (self->window), GTK_TYPE_LIST_BOX, "findings"));
  GtkListBoxRow *row;

  for (int i = 0; (row = gtk_list_box_get_row_at_index (list, i)) != NULL; i++)
    if (g_str_equal (nappe_finding_get_rule (nappe_finding_row_get_finding (NAPPE_FINDING_ROW (row))), rule))
      return NAPPE_FINDING_ROW (row);
  return NULL;
}

static gboolean
is_played (StudioFixture *self)
{
  return !nappe_document_is_busy (self->document) && nappe_document_get_outcome (self->document)->timed;
}

static gboolean
has_label (GtkWidget *root, const char *text)
{
  if (GTK_IS_LABEL (root) && g_str_equal (gtk_label_get_text (GTK_LABEL (root)), text))
    return TRUE;
  for (GtkWidget *child = gtk_widget_get_first_child (root); child != NULL; child = gtk_widget_get_next_sibling (child))
    if (has_label (child, text))
      return TRUE;
  return FALSE;
}

#define PLAYING "Playing cases in time …"

/* What the window shows at once, before cases have been played. */
static void
look_at_quick_findings (StudioFixture *self)
{
  g_assert_true (has_label (GTK_WIDGET (self->window), PLAYING));
  g_assert_null (row_of_rule (self, "self-restart"));
  g_assert_nonnull (row_of_rule (self, "nozzle-siphon"));
}

/* Findings that must be played follow the quick ones; what is picked, open and focused stays through both. */
static void
test_played_findings (StudioFixture *self, gconstpointer data)
{
  NappeFindingRow *played, *quick;
  NappePart *tank;

  studio_fixture_load (self, "two-drain.nappe");
  studio_fixture_wait (self, is_played);
  g_assert_false (has_label (GTK_WIDGET (self->window), PLAYING));
  /* The findings that were played are counted too. */
  g_assert_true (nappe_document_get_outcome (self->document)->timed);
  g_autofree char *counts = nappe_verdict_counts_text (nappe_document_get_outcome (self->document)->verdict);
  g_assert_true (has_label (GTK_WIDGET (self->window), counts));
  quick = row_of_rule (self, "nozzle-siphon");
  nappe_finding_row_set_open (quick, TRUE);
  gtk_widget_grab_focus (GTK_WIDGET (quick));
  played = row_of_rule (self, "self-restart");
  g_assert_nonnull (played);
  gtk_list_box_select_row (GTK_LIST_BOX (gtk_widget_get_parent (GTK_WIDGET (played))), GTK_LIST_BOX_ROW (played));
  nappe_finding_row_set_open (played, TRUE);
  g_assert_cmpstr (nappe_window_get_selected (self->window), ==, "siphon");
  studio_fixture_picture (self, "light-played-finding");
  g_signal_connect_swapped (self->document, "computed", G_CALLBACK (look_at_quick_findings), self);
  tank = nappe_document_get_build (self->document)->tank;
  g_assert_true (nappe_build_set_number (nappe_document_get_build (self->document), tank, "length", 0.901, NULL));
  studio_fixture_wait (self, is_played);
  g_signal_handlers_disconnect_by_func (self->document, look_at_quick_findings, self);
  played = row_of_rule (self, "self-restart");
  g_assert_nonnull (played);
  g_assert_true (gtk_list_box_row_is_selected (GTK_LIST_BOX_ROW (played)));
  g_assert_true (nappe_finding_row_get_open (played));
  g_assert_true (quick == row_of_rule (self, "nozzle-siphon"));
  g_assert_true (nappe_finding_row_get_open (quick));
  g_assert_true (gtk_window_get_focus (GTK_WINDOW (self->window)) == GTK_WIDGET (quick));
  g_assert_cmpuint (nappe_finding_get_number (nappe_finding_row_get_finding (played)), ==,
                    (guint) gtk_list_box_row_get_index (GTK_LIST_BOX_ROW (played)) + 1);
  studio_fixture_act (self, "win.undo", NULL);
  studio_fixture_settle (self);
}

/* A height of the build, typed in inches, moves the level; undo takes it back. */
static void
test_edit_and_undo (StudioFixture *self, gconstpointer data)
{
  NappePart *part;
  const NappeField *field;
  double before, level_before, level_after;
  GtkWidget *row, *entry;
  g_autoptr (GError) error = NULL;

  studio_fixture_load (self, "three-drain.nappe");
  part = g_ptr_array_index (nappe_document_get_build (self->document)->overflows, 0);
  field = nappe_part_find_field (part, "weir_height");
  before = nappe_part_number (part, field);
  level_before = nappe_study_level (nappe_document_get_outcome (self->document)->study,
                                    &nappe_document_get_outcome (self->document)->study->running, "tank");
  row = g_object_ref_sink (nappe_field_row_new (nappe_document_get_build (self->document), part, field, NULL,
                                                NAPPE_UNITS_METRIC));
  entry = studio_fixture_find (row, GTK_TYPE_ENTRY, NULL);
  gtk_editable_set_text (GTK_EDITABLE (entry), "19 in");
  g_signal_emit_by_name (entry, "activate");
  g_assert_cmpfloat_with_epsilon (nappe_part_number (part, field), 0.4826, 1e-12);
  g_assert_true (nappe_document_is_modified (self->document));
  studio_fixture_settle (self);
  level_after = nappe_study_level (nappe_document_get_outcome (self->document)->study,
                                   &nappe_document_get_outcome (self->document)->study->running, "tank");
  g_assert_cmpfloat (fabs (level_after - level_before), >, 0.001);
  studio_fixture_act (self, "win.undo", NULL);
  g_assert_cmpfloat (nappe_part_number (part, field), ==, before);
  g_assert_false (nappe_document_is_modified (self->document));
  studio_fixture_act (self, "win.redo", NULL);
  g_assert_cmpfloat_with_epsilon (nappe_part_number (part, field), 0.4826, 1e-12);
  studio_fixture_act (self, "win.undo", NULL);
  studio_fixture_settle (self);
  g_object_unref (row);
}

/* What cannot be taken is said beside the field, and the build stays as it was. */
static void
test_wrong_entry (StudioFixture *self, gconstpointer data)
{
  static const char *const wrong[] = { "abc", "-5 mm", "12 gal", "1e9", "" };
  NappePart *part;
  const NappeField *field;
  double before;
  GtkWidget *row, *entry;

  studio_fixture_load (self, "three-drain.nappe");
  part = nappe_document_get_build (self->document)->tank;
  field = nappe_part_find_field (part, "length");
  before = nappe_part_number (part, field);
  row = g_object_ref_sink (nappe_field_row_new (nappe_document_get_build (self->document), part, field, NULL,
                                                NAPPE_UNITS_METRIC));
  entry = studio_fixture_find (row, GTK_TYPE_ENTRY, NULL);
  for (gsize i = 0; i < G_N_ELEMENTS (wrong); i++)
    {
      gtk_editable_set_text (GTK_EDITABLE (entry), wrong[i]);
      g_assert_true (nappe_field_row_has_error (NAPPE_FIELD_ROW (row)));
      g_signal_emit_by_name (entry, "activate");
      g_assert_cmpfloat (nappe_part_number (part, field), ==, before);
    }
  gtk_editable_set_text (GTK_EDITABLE (entry), "1.3 m");
  g_assert_false (nappe_field_row_has_error (NAPPE_FIELD_ROW (row)));
  g_assert_false (nappe_document_is_modified (self->document));
  g_object_unref (row);
}

static void
visit_part (NappePart *part, gpointer user_data)
{
  StudioFixture *self = user_data;

  nappe_window_select (self->window, nappe_part_get_id (part));
}

/* The panel can show every part there is. */
static void
test_every_part (StudioFixture *self, gconstpointer data)
{
  studio_fixture_load (self, "three-drain.nappe");
  studio_fixture_act (self, "win.panel", "part");
  nappe_part_visit (NAPPE_PART (nappe_document_get_build (self->document)), visit_part, self);
  nappe_window_select (self->window, NULL);
  studio_fixture_picture (self, "light-build");
}

static gboolean
is_refined (StudioFixture *self)
{
  return nappe_document_get_outcome (self->document)->spread != NULL;
}

/* A number opens to its working by key or click, and stays open while its value changes. */
static void
test_numbers (StudioFixture *self, gconstpointer data)
{
  g_autoptr (GError) error = NULL;
  NappePart *tank;
  GtkWidget *row;

  studio_fixture_load (self, "three-drain.nappe");
  studio_fixture_act (self, "win.panel", "part");
  nappe_window_select (self->window, "siphon");
  studio_fixture_wait (self, is_refined);
  row = studio_fixture_find (GTK_WIDGET (self->window), NAPPE_TYPE_NUMBER_ROW, NULL);
  g_assert_nonnull (row);
  g_assert_true (gtk_widget_get_focusable (row));
  g_assert_cmpstr (nappe_number_row_get_key (NAPPE_NUMBER_ROW (row)), ==, "flow");
  g_assert_false (nappe_number_row_get_open (NAPPE_NUMBER_ROW (row)));
  g_signal_emit_by_name (row, "activate");
  g_assert_true (nappe_number_row_get_open (NAPPE_NUMBER_ROW (row)));
  studio_fixture_settle (self);
  studio_fixture_picture (self, "light-working");
  tank = nappe_document_get_build (self->document)->tank;
  nappe_build_set_number (nappe_document_get_build (self->document), tank, "length", 1.19, &error);
  g_assert_no_error (error);
  studio_fixture_settle (self);
  g_assert_true (row == studio_fixture_find (GTK_WIDGET (self->window), NAPPE_TYPE_NUMBER_ROW, NULL));
  g_assert_true (nappe_number_row_get_open (NAPPE_NUMBER_ROW (row)));
  gtk_widget_activate_action (row, "number.toggle", NULL);
  g_assert_false (nappe_number_row_get_open (NAPPE_NUMBER_ROW (row)));
  studio_fixture_act (self, "win.undo", NULL);
  studio_fixture_settle (self);
}

static void
test_units (StudioFixture *self, gconstpointer data)
{
  studio_fixture_load (self, "three-drain.nappe");
  g_assert_cmpint (nappe_document_get_outcome (self->document)->units, ==, NAPPE_UNITS_METRIC);
  studio_fixture_act (self, "app.units", "us");
  studio_fixture_settle (self);
  g_assert_cmpint (nappe_document_get_outcome (self->document)->units, ==, NAPPE_UNITS_US);
  studio_fixture_picture (self, "light-us");
  studio_fixture_act (self, "app.units", "metric");
  studio_fixture_settle (self);
}

static void
test_dark (StudioFixture *self, gconstpointer data)
{
  studio_fixture_load (self, "two-drain.nappe");
  studio_fixture_act (self, "app.style", "dark");
  g_assert_true (adw_style_manager_get_dark (adw_style_manager_get_default ()));
  studio_fixture_picture (self, "dark-elevation");
  studio_fixture_act (self, "win.view", "flow");
  studio_fixture_picture (self, "dark-flow");
  studio_fixture_act (self, "app.style", "light");
}

/* A hidden window beside the visible ones would be handed out to assistive technologies (window-view.c). */
static void
test_no_hidden_window (StudioFixture *self, gconstpointer data)
{
  GListModel *windows = gtk_window_get_toplevels ();

  studio_fixture_load (self, "three-drain.nappe");
  for (guint i = 0; i < g_list_model_get_n_items (windows); i++)
    {
      g_autoptr (GtkWidget) window = g_list_model_get_item (windows, i);

      g_assert_true (gtk_widget_get_visible (window));
    }
}

static void
test_zoom (StudioFixture *self, gconstpointer data)
{
  studio_fixture_load (self, "three-drain.nappe");
  studio_fixture_act (self, "win.zoom-in", NULL);
  studio_fixture_act (self, "win.zoom-in", NULL);
  studio_fixture_settle (self);
  g_assert_cmpfloat (nappe_canvas_get_zoom (visible_canvas (self)), >, 1.5);
  studio_fixture_picture (self, "light-zoomed");
  studio_fixture_act (self, "win.zoom-fit", NULL);
  g_assert_cmpfloat (nappe_canvas_get_zoom (visible_canvas (self)), ==, 1.0);
}

static void
test_broken_file (StudioFixture *self, gconstpointer data)
{
  g_autofree char *path = g_build_filename (g_get_tmp_dir (), "broken.nappe", NULL);
  g_autoptr (GFile) file = g_file_new_for_path (path);
  GtkWidget *bar = studio_fixture_find (GTK_WIDGET (self->window), GTK_TYPE_INFO_BAR, NULL);
  gint64 end = g_get_monotonic_time () + 5 * G_USEC_PER_SEC;

  g_assert_true (g_file_set_contents (path, "{ \"format\": \"nappe-build\", \"version\": 1, ", -1, NULL));
  nappe_window_open_file (self->window, file);
  while (!gtk_info_bar_get_revealed (GTK_INFO_BAR (bar)) && g_get_monotonic_time () < end)
    g_main_context_iteration (NULL, FALSE);
  g_assert_true (gtk_info_bar_get_revealed (GTK_INFO_BAR (bar)));
  g_assert_true (nappe_window_is_empty (self->window));
  g_assert_null (nappe_document_get_build (self->document));
}

static void
test_narrow (StudioFixture *self, gconstpointer data)
{
  GtkWidget *window = GTK_WIDGET (self->window);
  int minimum;

  studio_fixture_load (self, "three-drain.nappe");
  gtk_widget_measure (window, GTK_ORIENTATION_HORIZONTAL, -1, &minimum, NULL, NULL, NULL);
  g_assert_cmpint (minimum, <=, 360);
  gtk_window_set_default_size (GTK_WINDOW (window), 360, 700);
  studio_fixture_act (self, "win.side-panel", NULL);
  studio_fixture_picture (self, "narrow-elevation");
  studio_fixture_act (self, "win.side-panel", NULL);
  studio_fixture_picture (self, "narrow-findings");
}

static const StudioTest tests[] = {
  { "/studio/window/empty", test_empty },
  { "/studio/window/load", test_load },
  { "/studio/window/flow-view", test_flow_view },
  { "/studio/window/plan-views", test_plan_views },
  { "/studio/window/power-cut", test_power_cut },
  { "/studio/window/pick-by-keyboard", test_pick_by_keyboard },
  { "/studio/window/pick-by-pointer", test_pick_by_pointer },
  { "/studio/window/findings", test_findings },
  { "/studio/window/panes", test_panes },
  { "/studio/window/played-findings", test_played_findings },
  { "/studio/window/edit-and-undo", test_edit_and_undo },
  { "/studio/window/wrong-entry", test_wrong_entry },
  { "/studio/window/every-part", test_every_part },
  { "/studio/window/numbers", test_numbers },
  { "/studio/window/units", test_units },
  { "/studio/window/dark", test_dark },
  { "/studio/window/no-hidden-window", test_no_hidden_window },
  { "/studio/window/zoom", test_zoom },
  { "/studio/window/broken-file", test_broken_file },
  { "/studio/window/narrow", test_narrow },
};

int
main (int argc, char **argv)
{
  return studio_fixture_run (&argc, &argv, tests, G_N_ELEMENTS (tests));
}
