/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Changing a build in its picture: dragging, keys, typing. */
#include "studio-fixture.h"

#include <math.h>

#include "build/coupling.h"
#include "studio/canvas/canvas-handle.h"
#include "studio/canvas/canvas.h"
#include "studio/parts/number-entry.h"

static NappeCanvas *
canvas_of (StudioFixture *self)
{
  return NAPPE_CANVAS (studio_fixture_find (GTK_WIDGET (self->window), NAPPE_TYPE_CANVAS, NULL));
}

static GtkEventController *
controller_of (StudioFixture *self, GType type)
{
  g_autoptr (GListModel) controllers = gtk_widget_observe_controllers (GTK_WIDGET (canvas_of (self)));
  GtkEventController *found = NULL;

  for (guint i = 0; i < g_list_model_get_n_items (controllers); i++)
    {
      g_autoptr (GtkEventController) controller = g_list_model_get_item (controllers, i);

      if (G_OBJECT_TYPE (controller) == type)
        found = controller;
    }
  g_assert_nonnull (found);
  return found;
}

static void
frames (StudioFixture *self)
{
  for (int i = 0; i < 2; i++)
    {
      gtk_widget_queue_draw (GTK_WIDGET (self->window));
      gtk_test_widget_wait_for_draw (GTK_WIDGET (self->window));
    }
}

/* Of the part that is picked. */
static NappeCanvasHandle *
find_handle (StudioFixture *self, const char *part, const char *field)
{
  for (GtkWidget *child = gtk_widget_get_first_child (GTK_WIDGET (canvas_of (self))); child != NULL;
       child = gtk_widget_get_next_sibling (child))
    if (NAPPE_IS_CANVAS_HANDLE (child)
        && g_str_equal (nappe_canvas_handle_get (NAPPE_CANVAS_HANDLE (child))->part, part)
        && g_str_equal (nappe_canvas_handle_get (NAPPE_CANVAS_HANDLE (child))->field, field))
      return NAPPE_CANVAS_HANDLE (child);
  return NULL;
}

static NappeCanvasHandle *
pick (StudioFixture *self, const char *picked, const char *part, const char *field)
{
  NappeCanvasHandle *handle;

  nappe_window_select (self->window, picked);
  studio_fixture_settle (self);
  handle = find_handle (self, part, field);
  g_assert_nonnull (handle);
  return handle;
}

/* Where the middle of a handle is in the canvas. */
static void
middle_of (NappeCanvasHandle *handle, double *x, double *y)
{
  graphene_rect_t place;

  g_assert_true (gtk_widget_compute_bounds (GTK_WIDGET (handle), gtk_widget_get_parent (GTK_WIDGET (handle)), &place));
  *x = place.origin.x + place.size.width / 2.0;
  *y = place.origin.y + place.size.height / 2.0;
}

static void
grab (StudioFixture *self, NappeCanvasHandle *handle)
{
  double x, y;

  middle_of (handle, &x, &y);
  g_signal_emit_by_name (controller_of (self, GTK_TYPE_GESTURE_DRAG), "drag-begin", x, y);
  g_assert_true (nappe_document_has_draft (self->document));
}

static void
pull (StudioFixture *self, double dx, double dy)
{
  g_signal_emit_by_name (controller_of (self, GTK_TYPE_GESTURE_DRAG), "drag-update", dx, dy);
}

static void
let_go (StudioFixture *self)
{
  g_signal_emit_by_name (controller_of (self, GTK_TYPE_GESTURE_DRAG), "drag-end", 0.0, 0.0);
  g_assert_false (nappe_document_has_draft (self->document));
}

static gboolean
press_escape (StudioFixture *self)
{
  gboolean taken = FALSE;

  g_signal_emit_by_name (controller_of (self, GTK_TYPE_EVENT_CONTROLLER_KEY), "key-pressed", GDK_KEY_Escape, 9u, 0, &taken);
  return taken;
}

static double
number_of (StudioFixture *self, const char *part, const char *field)
{
  NappePart *found = nappe_build_find (nappe_document_get_build (self->document), part);

  return nappe_part_number (found, nappe_part_find_field (found, field));
}

/* Drags a handle by some px along its axis, and looks at what came of it: its number, what follows it and nothing else;
   one step to undo. */
static void
drag_one (StudioFixture *self, const NappeHandle *handle)
{
  NappeBuild *build = nappe_document_get_build (self->document);
  g_autoptr (NappeBuild) before = nappe_build_copy (build), expected = nappe_build_copy (build);
  g_autoptr (GError) error = NULL;
  g_autofree char *part = g_strdup (handle->part), *field = g_strdup (handle->field), *picked = g_strdup (handle->picked);
  double room = (handle->most - handle->value) / fabs (handle->per_pixel), way = handle->per_pixel > 0 ? 1 : -1, value;
  gboolean upright = handle->upright;

  if (room < 20)
    way = -way;
  grab (self, pick (self, picked, part, field));
  pull (self, upright ? 3 : way * 9, upright ? -way * 9 : 3);
  /* The build waits until the person lets go. */
  g_assert_true (nappe_part_equal (NAPPE_PART (build), NAPPE_PART (before)));
  pull (self, upright ? 3 : way * 17, upright ? -way * 17 : 3);
  let_go (self);
  value = number_of (self, part, field);
  nappe_build_set_coupled (expected, nappe_build_find (expected, part), field, value, &error);
  g_assert_no_error (error);
  if (value
      == nappe_part_number (nappe_build_find (before, part),
                            nappe_part_find_field (nappe_build_find (before, part), field)))
    {
      g_test_message ("%s of %s did not move", field, part);
      g_test_fail ();
    }
  g_assert_true (nappe_part_equal (NAPPE_PART (build), NAPPE_PART (expected)));
  studio_fixture_act (self, "win.undo", NULL);
  g_assert_true (nappe_part_equal (NAPPE_PART (build), NAPPE_PART (before)));
  g_assert_false (nappe_build_can_undo (build));
}

static void
test_every_handle (StudioFixture *self, gconstpointer data)
{
  g_autoptr (GStringChunk) words = g_string_chunk_new (1024);
  g_autoptr (GArray) all = g_array_new (FALSE, FALSE, sizeof (NappeHandle));
  const NappeHandle *handles;
  guint n;

  studio_fixture_load (self, "three-drain.nappe");
  handles = nappe_picture_handles (nappe_canvas_get_picture (canvas_of (self)), &n);
  for (guint i = 0; i < n; i++)
    {
      NappeHandle copy = handles[i];

      nappe_handle_keep_words (&copy, words);
      g_array_append_val (all, copy);
    }
  g_assert_cmpuint (n, >, 20);
  for (guint i = 0; i < n; i++)
    drag_one (self, &g_array_index (all, NappeHandle, i));
}

/* The first baffle of the demo. */
static const char *
first_baffle (StudioFixture *self)
{
  return nappe_part_get_id (NAPPE_BUILD_SUMP (nappe_document_get_build (self->document))->baffles->pdata[0]);
}

static gboolean
tells_a_difference (StudioFixture *self)
{
  GtkWidget *live = studio_fixture_find (GTK_WIDGET (canvas_of (self)), GTK_TYPE_LABEL, "live-number");

  return live != NULL && strstr (gtk_label_get_text (GTK_LABEL (live)), "→") != NULL;
}

/* Findings, numbers and picture are those of what is being dragged. */
static void
test_live (StudioFixture *self, gconstpointer data)
{
  NappeOutcome *before, *during;
  double x, y, now;
  GtkWidget *live;
  const char *part;

  studio_fixture_load (self, "three-drain.nappe");
  part = nappe_part_get_id (nappe_document_get_build (self->document)->overflows->pdata[0]);
  before = nappe_document_get_outcome (self->document);
  middle_of (pick (self, part, part, "weir_height"), &x, &y);
  grab (self, find_handle (self, part, "weir_height"));
  pull (self, 0, 30);
  studio_fixture_wait (self, tells_a_difference);
  frames (self);
  during = nappe_document_get_shown_outcome (self->document);
  g_assert_true (during != before);
  g_assert_cmpfloat (during->study->display_volume, <, before->study->display_volume);
  live = studio_fixture_find (GTK_WIDGET (canvas_of (self)), GTK_TYPE_LABEL, "live-number");
  g_assert_nonnull (live);
  studio_fixture_picture (self, "light-dragged");
  /* What is dragged stays under the pointer. */
  middle_of (find_handle (self, part, "weir_height"), &x, &now);
  g_assert_cmpfloat_with_epsilon (now, y + 30.0, 6.0);
  let_go (self);
  studio_fixture_settle (self);
  g_assert_false (gtk_widget_get_visible (live));
}

/* The live number stays inside a small window, and off what is dragged. */
static void
test_narrow (StudioFixture *self, gconstpointer application)
{
  GtkWidget *canvas, *live;
  graphene_rect_t place;
  const char *part;

  g_action_group_activate_action (G_ACTION_GROUP (application), "style", g_variant_new_string ("dark"));
  studio_fixture_load (self, "three-drain.nappe");
  gtk_window_set_default_size (GTK_WINDOW (self->window), 400, 700);
  studio_fixture_act (self, "win.side-panel", NULL);
  part = first_baffle (self);
  nappe_window_select (self->window, part);
  studio_fixture_picture (self, "dark-narrow-handles");
  grab (self, find_handle (self, part, "top_height"));
  pull (self, 0, 6);
  studio_fixture_picture (self, "dark-narrow-dragged");
  canvas = GTK_WIDGET (canvas_of (self));
  live = studio_fixture_find (canvas, GTK_TYPE_LABEL, "live-number");
  g_assert_true (gtk_widget_compute_bounds (live, canvas, &place));
  g_assert_cmpfloat (place.origin.x, >=, 0);
  g_assert_cmpfloat (place.origin.x + place.size.width, <=, gtk_widget_get_width (canvas));
  g_assert_cmpfloat (place.origin.y, >=, 0);
  let_go (self);
  g_action_group_activate_action (G_ACTION_GROUP (application), "style", g_variant_new_string ("light"));
}

static void
test_escape (StudioFixture *self, gconstpointer data)
{
  NappeBuild *build;
  g_autoptr (NappeBuild) before = NULL;
  const char *part;

  studio_fixture_load (self, "three-drain.nappe");
  build = nappe_document_get_build (self->document);
  before = nappe_build_copy (build);
  part = first_baffle (self);
  g_assert_false (press_escape (self));
  grab (self, pick (self, part, part, "top_height"));
  pull (self, 0, 25);
  g_assert_true (press_escape (self));
  g_assert_false (nappe_document_has_draft (self->document));
  /* The button is still down. */
  pull (self, 0, 40);
  let_go (self);
  g_assert_true (nappe_part_equal (NAPPE_PART (build), NAPPE_PART (before)));
  g_assert_false (nappe_build_can_undo (build));
  g_assert_true (nappe_document_get_shown_outcome (self->document) == nappe_document_get_outcome (self->document));
}

/* What could befall a drag from elsewhere. */
static void
test_disturbed (StudioFixture *self, gconstpointer data)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (NappeBuild) other = NULL;
  NappeBuild *build;
  NappePart *tank;
  const char *part;

  studio_fixture_load (self, "three-drain.nappe");
  build = nappe_document_get_build (self->document);
  tank = build->tank;
  part = first_baffle (self);
  nappe_build_set_number (build, tank, "height", 0.62, &error);
  g_assert_no_error (error);
  grab (self, pick (self, part, part, "top_height"));
  pull (self, 0, 25);
  /* Undo waits for the end of the drag. */
  g_assert_false (nappe_document_can_undo (self->document));
  nappe_document_undo (self->document);
  g_assert_cmpfloat (NAPPE_TANK (tank)->height, ==, 0.62);
  g_assert_true (nappe_document_has_draft (self->document));
  /* A change ends it, without a trace. */
  nappe_build_set_number (build, tank, "height", 0.63, &error);
  g_assert_no_error (error);
  g_assert_false (nappe_document_has_draft (self->document));
  pull (self, 0, 50);
  let_go (self);
  g_assert_cmpstr (nappe_build_undo_label (build), !=, "");
  nappe_document_undo (self->document);
  g_assert_cmpfloat (NAPPE_TANK (tank)->height, ==, 0.62);
  /* Another build comes. */
  grab (self, pick (self, part, part, "top_height"));
  pull (self, 0, 25);
  other = nappe_build_new ();
  nappe_document_set_build (self->document, other);
  g_assert_false (nappe_document_has_draft (self->document));
  pull (self, 0, 30);
  let_go (self);
  g_assert_false (nappe_build_can_undo (other));
}

/* The window goes while something is held. */
static void
test_closed (StudioFixture *self, gconstpointer data)
{
  const char *part;

  studio_fixture_load (self, "three-drain.nappe");
  part = first_baffle (self);
  grab (self, pick (self, part, part, "top_height"));
  pull (self, 0, 25);
  g_assert_true (nappe_document_has_draft (self->document));
}

static void
test_range (StudioFixture *self, gconstpointer data)
{
  const NappeHandle *handle;
  g_autofree char *why = NULL;
  const char *part;
  GtkWidget *live;
  double most;

  studio_fixture_load (self, "three-drain.nappe");
  part = first_baffle (self);
  handle = nappe_canvas_handle_get (pick (self, part, part, "top_height"));
  most = handle->most;
  why = g_strdup (handle->most_why);
  grab (self, find_handle (self, part, "top_height"));
  pull (self, 0, -5000);
  live = studio_fixture_find (GTK_WIDGET (canvas_of (self)), GTK_TYPE_LABEL, "live-number");
  g_assert_nonnull (strstr (gtk_label_get_text (GTK_LABEL (live)), why));
  let_go (self);
  g_assert_cmpfloat_with_epsilon (number_of (self, part, "top_height"), most, 1e-9);
}

static void
test_keys (StudioFixture *self, gconstpointer data)
{
  NappeCanvasHandle *handle;
  const char *part;
  double before;

  studio_fixture_load (self, "three-drain.nappe");
  part = first_baffle (self);
  handle = pick (self, part, part, "top_height");
  before = number_of (self, part, "top_height");
  g_assert_true (gtk_widget_get_focusable (GTK_WIDGET (handle)));
  g_assert_true (gtk_widget_activate_action (GTK_WIDGET (handle), "handle.nudge", "(ii)", 0, -1));
  g_assert_cmpfloat_with_epsilon (number_of (self, part, "top_height"), before - 0.001, 1e-9);
  studio_fixture_settle (self);
  g_assert_true (gtk_widget_activate_action (GTK_WIDGET (find_handle (self, part, "top_height")), "handle.more", NULL));
  g_assert_cmpfloat_with_epsilon (number_of (self, part, "top_height"), before, 1e-9);
  /* A key of the other axis does nothing. */
  studio_fixture_settle (self);
  g_assert_true (gtk_widget_activate_action (GTK_WIDGET (find_handle (self, part, "top_height")), "handle.nudge", "(ii)", 1, 0));
  g_assert_cmpfloat_with_epsilon (number_of (self, part, "top_height"), before, 1e-9);
  nappe_document_undo (self->document);
  nappe_document_undo (self->document);
  g_assert_false (nappe_document_can_undo (self->document));
}

static void
type_number (StudioFixture *self, const char *part, const char *text)
{
  GtkWidget *entry, *editor;

  g_assert_true (gtk_widget_activate_action (GTK_WIDGET (pick (self, part, part, "top_height")), "handle.enter", NULL));
  frames (self);
  entry = studio_fixture_find (GTK_WIDGET (canvas_of (self)), NAPPE_TYPE_NUMBER_ENTRY, NULL);
  g_assert_nonnull (entry);
  editor = studio_fixture_find (entry, GTK_TYPE_ENTRY, NULL);
  gtk_editable_set_text (GTK_EDITABLE (editor), text);
  g_signal_emit_by_name (editor, "activate");
}

static gboolean
entry_is_gone (StudioFixture *self)
{
  return studio_fixture_find (GTK_WIDGET (canvas_of (self)), NAPPE_TYPE_NUMBER_ENTRY, NULL) == NULL;
}

static void
test_typed (StudioFixture *self, gconstpointer data)
{
  GtkWidget *entry;
  const char *part;
  double before;

  studio_fixture_load (self, "three-drain.nappe");
  part = first_baffle (self);
  before = number_of (self, part, "top_height");
  type_number (self, part, "8 1/2 in");
  studio_fixture_wait (self, entry_is_gone);
  g_assert_cmpfloat_with_epsilon (number_of (self, part, "top_height"), 8.5 * 0.0254, 1e-6);
  nappe_document_undo (self->document);
  g_assert_cmpfloat (number_of (self, part, "top_height"), ==, before);
  /* Nonsense stays in the entry, with the reason. */
  type_number (self, part, "tall");
  entry = studio_fixture_find (GTK_WIDGET (canvas_of (self)), NAPPE_TYPE_NUMBER_ENTRY, NULL);
  g_assert_nonnull (entry);
  g_assert_nonnull (studio_fixture_find (entry, GTK_TYPE_ENTRY, "error"));
  g_assert_cmpfloat (number_of (self, part, "top_height"), ==, before);
  gtk_popover_popdown (GTK_POPOVER (entry));
  studio_fixture_wait (self, entry_is_gone);
}

/* Beside the handles a drag moves the view. */
static void
test_pan (StudioFixture *self, gconstpointer data)
{
  NappeCanvas *canvas;
  NappeCanvasHandle *handle;
  double x, y, moved_x, moved_y;
  const char *part;

  studio_fixture_load (self, "three-drain.nappe");
  canvas = canvas_of (self);
  nappe_canvas_set_zoom (canvas, 2.0);
  part = first_baffle (self);
  handle = pick (self, part, part, "top_height");
  middle_of (handle, &x, &y);
  g_signal_emit_by_name (controller_of (self, GTK_TYPE_GESTURE_DRAG), "drag-begin", x + 60, y - 120);
  pull (self, 0, 40);
  frames (self);
  middle_of (handle, &moved_x, &moved_y);
  g_assert_false (nappe_document_has_draft (self->document));
  g_assert_cmpfloat (moved_y - y, >, 20);
  g_assert_false (nappe_document_can_undo (self->document));
}

static const StudioTest tests[] = {
  { "/studio/editing/every-handle", test_every_handle },
  { "/studio/editing/live", test_live },
  { "/studio/editing/narrow", test_narrow },
  { "/studio/editing/escape", test_escape },
  { "/studio/editing/disturbed", test_disturbed },
  { "/studio/editing/closed", test_closed },
  { "/studio/editing/range", test_range },
  { "/studio/editing/keys", test_keys },
  { "/studio/editing/typed", test_typed },
  { "/studio/editing/pan", test_pan },
};

int
main (int argc, char **argv)
{
  return studio_fixture_run (&argc, &argv, tests, G_N_ELEMENTS (tests));
}
