/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Adding, taking away, copying and the pieces of a line, through the window as a person does it. */
#include "studio-fixture.h"
#include "studio/parts/add-window.h"
#include "studio/parts/field-row.h"
#include "studio/parts/line-size-row.h"
#include "studio/parts/run-list.h"

static NappeBuild *
build_of (StudioFixture *self)
{
  return nappe_document_get_build (self->document);
}

static void
pick (StudioFixture *self, const char *part)
{
  nappe_window_select (self->window, part);
  studio_fixture_act (self, "win.panel", "part");
  studio_fixture_settle (self);
}

static NappeAddWindow *
add_window (StudioFixture *self)
{
  g_autoptr (GListModel) windows = g_object_ref (gtk_window_get_toplevels ());

  for (guint i = 0; i < g_list_model_get_n_items (windows); i++)
    {
      g_autoptr (GtkWidget) window = g_list_model_get_item (windows, i);
      if (NAPPE_IS_ADD_WINDOW (window) && gtk_widget_get_visible (window))
        return NAPPE_ADD_WINDOW (window);
    }
  return NULL;
}

static gboolean
is_searched (StudioFixture *self)
{
  return nappe_add_window_get_n_shown (add_window (self)) < 8;
}

/* From the list: the drain that a box with a siphon and an emergency drain lacks. */
static void
test_add_from_list (StudioFixture *self, gconstpointer data)
{
  guint all;

  studio_fixture_load (self, "two-drain.nappe");
  pick (self, "box");
  studio_fixture_act (self, "win.add", NULL);
  all = nappe_add_window_get_n_shown (add_window (self));
  g_assert_cmpuint (all, >, 200);
  nappe_add_window_search (add_window (self), "", NAPPE_ADD_EQUIPMENT);
  g_assert_cmpuint (nappe_add_window_get_n_shown (add_window (self)), <, all);
  nappe_add_window_search (add_window (self), "channel OPEN", NAPPE_ADD_DRAIN);
  studio_fixture_wait (self, is_searched);
  studio_fixture_picture_of (self, GTK_WIDGET (add_window (self)), "add-searched");
  /* By itself, and as one of the three that a box may have. */
  g_assert_cmpuint (nappe_add_window_get_n_shown (add_window (self)), ==, 2);
  g_assert_true (gtk_widget_activate_action (GTK_WIDGET (add_window (self)), "add.add", NULL));
  studio_fixture_settle (self);
  g_assert_null (add_window (self));
  g_assert_cmpuint (build_of (self)->drains->len, ==, 3);
  g_assert_cmpstr (nappe_build_undo_label (build_of (self)), ==, "Add “Open channel”");
  g_assert_cmpstr (nappe_window_get_selected (self->window), ==, nappe_part_get_id (build_of (self)->drains->pdata[2]));
  studio_fixture_picture (self, "light-three-of-two");
  studio_fixture_act (self, "win.undo", NULL);
  g_assert_cmpuint (build_of (self)->drains->len, ==, 2);
}

/* What cannot stand there says why, and the list stays. */
static void
test_add_refused (StudioFixture *self, gconstpointer data)
{
  studio_fixture_load (self, "two-drain.nappe");
  pick (self, "tank");
  studio_fixture_act (self, "win.add", NULL);
  nappe_add_window_search (add_window (self), "", NAPPE_ADD_VALVE);
  studio_fixture_settle (self);
  g_assert_true (gtk_widget_activate_action (GTK_WIDGET (add_window (self)), "add.add", NULL));
  g_assert_nonnull (add_window (self));
  g_assert_nonnull (studio_fixture_find (GTK_WIDGET (add_window (self)), GTK_TYPE_LABEL, "error"));
  g_assert_false (nappe_build_can_undo (build_of (self)));
  studio_fixture_picture_of (self, GTK_WIDGET (add_window (self)), "add-refused");
  gtk_window_close (GTK_WINDOW (add_window (self)));
}

static gboolean
has_three_of_equipment (StudioFixture *self)
{
  return build_of (self)->equipment->len == 3;
}

static void
test_copy_and_remove (StudioFixture *self, gconstpointer data)
{
  studio_fixture_load (self, "two-drain.nappe");
  pick (self, "heater");
  studio_fixture_act (self, "win.copy", NULL);
  studio_fixture_act (self, "win.paste", NULL);
  studio_fixture_wait (self, has_three_of_equipment);
  g_assert_cmpstr (nappe_build_undo_label (build_of (self)), ==, "Add the copy “Heater 2”");
  g_assert_cmpstr (nappe_window_get_selected (self->window), ==, "heater-2");
  studio_fixture_act (self, "win.duplicate", NULL);
  g_assert_cmpuint (build_of (self)->equipment->len, ==, 4);
  studio_fixture_act (self, "win.remove", NULL);
  g_assert_cmpuint (build_of (self)->equipment->len, ==, 3);
  g_assert_null (nappe_window_get_selected (self->window));
  studio_fixture_act (self, "win.undo", NULL);
  studio_fixture_act (self, "win.undo", NULL);
  studio_fixture_act (self, "win.undo", NULL);
  g_assert_false (nappe_build_can_undo (build_of (self)));
}

static gboolean pasted;

static gboolean
was_pasted (StudioFixture *self)
{
  return pasted;
}

static void
read_back (GObject *clipboard, GAsyncResult *result, gpointer data)
{
  pasted = TRUE;
}

/* Text from elsewhere is said to be no part, and nothing changes. */
static void
test_paste_foreign (StudioFixture *self, gconstpointer data)
{
  GdkClipboard *clipboard = gtk_widget_get_clipboard (GTK_WIDGET (self->window));

  studio_fixture_load (self, "two-drain.nappe");
  gdk_clipboard_set_text (clipboard, "{ \"format\": \"nappe-part\", \"kind\": \"drain\" ");
  studio_fixture_act (self, "win.paste", NULL);
  gdk_clipboard_read_text_async (clipboard, NULL, read_back, NULL);
  studio_fixture_wait (self, was_pasted);
  studio_fixture_settle (self);
  g_assert_false (nappe_build_can_undo (build_of (self)));
}

static void
scroll_to (GtkWidget *widget)
{
  GtkWidget *scroller = gtk_widget_get_ancestor (widget, GTK_TYPE_SCROLLED_WINDOW);
  GtkAdjustment *adjustment = gtk_scrolled_window_get_vadjustment (GTK_SCROLLED_WINDOW (scroller));
  double x, y;

  if (gtk_widget_translate_coordinates (widget, scroller, 0, 0, &x, &y))
    gtk_adjustment_set_value (adjustment, gtk_adjustment_get_value (adjustment) + y);
}

static void
test_run (StudioFixture *self, gconstpointer data)
{
  NappeDrain *drain;
  GtkWidget *run;

  studio_fixture_load (self, "two-drain.nappe");
  pick (self, "siphon");
  drain = build_of (self)->drains->pdata[0];
  run = studio_fixture_find (GTK_WIDGET (self->window), NAPPE_TYPE_RUN_LIST, NULL);
  g_assert_true (gtk_widget_get_visible (run));
  g_assert_true (g_str_has_prefix (nappe_run_list_get_summary (NAPPE_RUN_LIST (run)), "9 pieces, 1"));
  g_assert_true (g_str_has_suffix (nappe_run_list_get_summary (NAPPE_RUN_LIST (run)), "of head lost"));
  g_assert_true (gtk_widget_activate_action (run, "run.down", "s", "siphon-bulkhead"));
  g_assert_cmpstr (nappe_part_get_id (drain->run->pdata[2]), ==, "siphon-bulkhead");
  g_assert_true (gtk_widget_activate_action (run, "run.up", "s", "siphon-bulkhead"));
  g_assert_cmpstr (nappe_part_get_id (drain->run->pdata[1]), ==, "siphon-bulkhead");
  g_assert_true (gtk_widget_activate_action (run, "run.remove", "s", "siphon-elbow-1"));
  g_assert_cmpuint (drain->run->len, ==, 8);
  g_assert_true (g_str_has_prefix (nappe_run_list_get_summary (NAPPE_RUN_LIST (run)), "8 pieces"));
  studio_fixture_act (self, "win.undo", NULL);
  g_assert_cmpuint (drain->run->len, ==, 9);
  /* A row opens to the fields of its piece. */
  GtkWidget *row = studio_fixture_find (run, ADW_TYPE_EXPANDER_ROW, NULL);
  adw_expander_row_set_expanded (ADW_EXPANDER_ROW (row), TRUE);
  scroll_to (run);
  studio_fixture_settle (self);
  studio_fixture_picture (self, "light-run");
  pick (self, "tank");
  g_assert_false (gtk_widget_get_visible (run));
}

static NappeLineSizeRow *
size_row (StudioFixture *self)
{
  return NAPPE_LINE_SIZE_ROW (studio_fixture_find (GTK_WIDGET (self->window), NAPPE_TYPE_LINE_SIZE_ROW, NULL));
}

/* From the panel of a drain its whole line becomes wider, in one step; where that cannot be, the reason stands there. */
static void
test_line_size (StudioFixture *self, gconstpointer data)
{
  NappeDrain *drain;

  studio_fixture_load (self, "three-drain.nappe");
  pick (self, "siphon");
  nappe_line_size_row_choose (size_row (self), "pvcm-pipe-50");
  g_assert_cmpstr (nappe_line_size_row_get_reason (size_row (self)), ==,
                   "The catalogue has nothing that joins “Pipe, 1/2 in” to what stands before it");
  g_assert_false (nappe_build_can_undo (build_of (self)));
  pick (self, "emergency");
  drain = build_of (self)->drains->pdata[2];
  nappe_line_size_row_choose (size_row (self), "pvc40-pipe-2");
  g_assert_cmpstr (nappe_line_size_row_get_reason (size_row (self)), ==, "");
  g_assert_cmpstr (NAPPE_PIECE (drain->run->pdata[0])->item, ==, "pvc40-pipe-2");
  g_assert_cmpstr (NAPPE_PIECE (drain->run->pdata[1])->item, ==, "pvc40-bulkhead-2");
  studio_fixture_act (self, "win.undo", NULL);
  g_assert_cmpstr (NAPPE_PIECE (drain->run->pdata[0])->item, ==, "pvc40-pipe-1.5");
  g_assert_false (nappe_build_can_undo (build_of (self)));
}

/* The list opens on pumps for a picked one, and says what each would move there. */
static void
test_pumps (StudioFixture *self, gconstpointer data)
{
  studio_fixture_load (self, "three-drain.nappe");
  pick (self, nappe_part_get_id (NAPPE_RETURN_LINE (build_of (self)->returns->pdata[0])->pump));
  studio_fixture_act (self, "win.add", NULL);
  g_assert_cmpuint (nappe_add_window_get_n_shown (add_window (self)), <, 40);
  nappe_add_window_search (add_window (self), "L/h", NAPPE_ADD_PUMP);
  studio_fixture_picture_of (self, GTK_WIDGET (add_window (self)), "add-pumps");
  gtk_window_close (GTK_WINDOW (add_window (self)));
}

/* Of what stands in a row: only fields that mean something for the piece are shown. */
static void
test_used_fields (StudioFixture *self, gconstpointer data)
{
  const struct
  {
    const char *piece;
    guint shown;
  } pieces[] = { { "siphon-pipe-1", 5 }, { "siphon-valve", 5 }, { "siphon-bulkhead", 4 } };

  studio_fixture_load (self, "two-drain.nappe");
  for (gsize i = 0; i < G_N_ELEMENTS (pieces); i++)
    {
      guint shown = 0;
      NappePart *piece = nappe_build_find (build_of (self), pieces[i].piece);
      NappePartClass *klass = NAPPE_PART_GET_CLASS (piece);
      for (gsize k = 0; k < klass->n_fields; k++)
        {
          GtkWidget *row = nappe_field_row_new (build_of (self), piece, &klass->fields[k],
                                                nappe_document_get_catalogue (self->document), NAPPE_UNITS_METRIC);
          g_object_ref_sink (row);
          g_test_message ("%s: %s %d", pieces[i].piece, klass->fields[k].name, gtk_widget_get_visible (row));
          shown += gtk_widget_get_visible (row);
          g_object_unref (row);
        }
      g_assert_cmpuint (shown, ==, pieces[i].shown);
    }
}

static const StudioTest tests[] = {
  { "/studio/parts/add-from-list", test_add_from_list },
  { "/studio/parts/add-refused", test_add_refused },
  { "/studio/parts/copy-and-remove", test_copy_and_remove },
  { "/studio/parts/paste-foreign", test_paste_foreign },
  { "/studio/parts/run", test_run },
  { "/studio/parts/line-size", test_line_size },
  { "/studio/parts/pumps", test_pumps },
  { "/studio/parts/used-fields", test_used_fields },
};

int
main (int argc, char **argv)
{
  return studio_fixture_run (&argc, &argv, tests, G_N_ELEMENTS (tests));
}
