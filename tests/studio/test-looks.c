/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Narrow windows, long words, big letters, strong contrast, writing from right to left: everything stays there to be read.
 * Pictures are left in the build folder. */
#include "studio-fixture.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "picture/palette.h"
#include "studio/canvas/canvas-item.h"
#include "studio/canvas/canvas.h"
#include "studio/canvas/screen.h"
#include "studio/findings/finding-row.h"
#include "studio/findings/findings-panel.h"
#include "studio/findings/severity-mark.h"
#include "studio/parts/part-panel.h"

/* A small telephone's screen [px]. */
#define NARROW 360

static const char *const views[] = { "elevation", "flow", "time", "charts", "plan", "panes" };
static const char *const panels[] = { "findings", "part", "events" };

/* Which widgets need so much, for whoever reads the failure. */
static void
tell_width (GtkWidget *widget, int depth)
{
  int minimum;

  gtk_widget_measure (widget, GTK_ORIENTATION_HORIZONTAL, -1, &minimum, NULL, NULL, NULL);
  if (minimum <= NARROW - 60 || !gtk_widget_get_visible (widget))
    return;
  g_test_message ("%*s%d px: %s", depth, "", minimum, G_OBJECT_TYPE_NAME (widget));
  for (GtkWidget *child = gtk_widget_get_first_child (widget); child != NULL; child = gtk_widget_get_next_sibling (child))
    tell_width (child, depth + 1);
}

static void
assert_fits (GtkWidget *window, const char *what)
{
  int minimum;

  gtk_widget_measure (window, GTK_ORIENTATION_HORIZONTAL, -1, &minimum, NULL, NULL, NULL);
  if (minimum > NARROW)
    {
      g_test_message ("%s is wider than %d px", what, NARROW);
      tell_width (window, 0);
    }
  g_assert_cmpint (minimum, <=, NARROW);
}

/* Calls for each visible widget of a type below the root. */
static void
each_widget (GtkWidget *root, GType type, void (*call) (GtkWidget *widget, StudioFixture *self), StudioFixture *self)
{
  if (!gtk_widget_get_mapped (root))
    return;
  if (g_type_is_a (G_OBJECT_TYPE (root), type))
    call (root, self);
  for (GtkWidget *child = gtk_widget_get_first_child (root); child != NULL; child = gtk_widget_get_next_sibling (child))
    each_widget (child, type, call, self);
}

/* The window that is open over that of the build; NULL: none. */
static GtkWindow *
other_window (StudioFixture *self)
{
  g_autoptr (GList) windows = gtk_window_list_toplevels ();

  for (GList *window = windows; window != NULL; window = window->next)
    if (gtk_window_get_transient_for (window->data) == GTK_WINDOW (self->window))
      return window->data;
  return NULL;
}

static void
make_narrow (StudioFixture *self)
{
  gtk_window_set_default_size (GTK_WINDOW (self->window), NARROW, 640);
  studio_fixture_settle (self);
}

static void
test_narrow_views (StudioFixture *self, gconstpointer data)
{
  /* In a language of long words they are there. */
  g_assert_cmpint (g_str_equal (_("Findings"), "Findings"), ==, g_getenv ("NAPPE_LOCALE_DIR") == NULL);
  assert_fits (GTK_WIDGET (self->window), "the empty window");
  studio_fixture_load (self, "single-drain.nappe");
  make_narrow (self);
  for (gsize i = 0; i < G_N_ELEMENTS (views); i++)
    {
      g_autofree char *name = g_strdup_printf ("narrow-%s", views[i]);

      studio_fixture_act (self, "win.view", views[i]);
      gtk_widget_activate_action (GTK_WIDGET (self->window), "win.side-panel", NULL);
      studio_fixture_settle (self);
      assert_fits (GTK_WIDGET (self->window), views[i]);
      gtk_widget_activate_action (GTK_WIDGET (self->window), "win.side-panel", NULL);
      studio_fixture_settle (self);
      assert_fits (GTK_WIDGET (self->window), views[i]);
      g_assert_cmpint (gtk_widget_get_width (GTK_WIDGET (self->window)), <=, NARROW + 60); /* and a frame's shadow */
    }
}

static void
visit_part (NappePart *part, gpointer user_data)
{
  StudioFixture *self = user_data;

  nappe_window_select (self->window, nappe_part_get_id (part));
  studio_fixture_settle (self);
  assert_fits (GTK_WIDGET (self->window), nappe_part_get_id (part));
}

static void
open_row (GtkWidget *row, StudioFixture *self)
{
  gtk_widget_activate (row);
  studio_fixture_settle (self);
  assert_fits (GTK_WIDGET (self->window), "an open finding");
}

static void
test_narrow_panel (StudioFixture *self, gconstpointer data)
{
  studio_fixture_load (self, "single-drain.nappe");
  make_narrow (self);
  each_widget (GTK_WIDGET (self->window), NAPPE_TYPE_FINDING_ROW, open_row, self);
  nappe_part_visit (NAPPE_PART (nappe_document_get_build (self->document)), visit_part, self);
  studio_fixture_load (self, "three-drain.nappe");
  nappe_part_visit (NAPPE_PART (nappe_document_get_build (self->document)), visit_part, self);
  for (gsize i = 0; i < G_N_ELEMENTS (panels); i++)
    {
      studio_fixture_act (self, "win.panel", panels[i]);
      studio_fixture_settle (self);
      assert_fits (GTK_WIDGET (self->window), panels[i]);
    }
}

typedef struct
{
  StudioFixture *studio;
  GtkWidget *panel;
  int width;
} PanelWidth;

static void
compare_width (NappePart *part, gpointer user_data)
{
  PanelWidth *all = user_data;

  nappe_window_select (all->studio->window, nappe_part_get_id (part));
  studio_fixture_settle (all->studio);
  if (gtk_widget_get_width (all->panel) != all->width)
    g_test_message ("The panel of “%s” has another width", nappe_part_get_id (part));
  g_assert_cmpint (gtk_widget_get_width (all->panel), ==, all->width);
}

/* The pictures beside it would jump otherwise: no part's long name, item or choice makes the panel wider. */
static void
test_steady_panel (StudioFixture *self, gconstpointer data)
{
  PanelWidth all = { .studio = self };

  studio_fixture_load (self, "two-drain.nappe");
  gtk_window_set_default_size (GTK_WINDOW (self->window), 1200, 800);
  studio_fixture_act (self, "win.panel", "part");
  g_assert_true (nappe_build_rename_part (nappe_document_get_build (self->document),
                                          nappe_document_get_build (self->document)->sump,
                                          "The sump that stands in the cupboard under the tank in the reading room", NULL));
  nappe_window_select (self->window, "tank");
  studio_fixture_settle (self);
  all.panel = studio_fixture_find (GTK_WIDGET (self->window), NAPPE_TYPE_PART_PANEL, NULL);
  g_assert_nonnull (all.panel);
  all.width = gtk_widget_get_width (all.panel);
  g_assert_cmpint (all.width, >, 0);
  nappe_part_visit (NAPPE_PART (nappe_document_get_build (self->document)), compare_width, &all);
}

/* What an action opens over the window fits too. */
static void
assert_opens_narrow (StudioFixture *self, const char *action, GVariant *parameter)
{
  GtkWindow *opened;

  g_assert_true (gtk_widget_activate_action_variant (GTK_WIDGET (self->window), action, parameter));
  opened = other_window (self);
  g_assert_nonnull (opened);
  assert_fits (GTK_WIDGET (opened), action);
  gtk_window_destroy (opened);
}

/* Escape leaves it, also from its search entry, which has the focus first. */
static void
test_escape (StudioFixture *self, gconstpointer data)
{
  studio_fixture_load (self, "two-drain.nappe");
  studio_fixture_act (self, "win.add", NULL);
  g_signal_emit_by_name (studio_fixture_find (GTK_WIDGET (other_window (self)), GTK_TYPE_SEARCH_ENTRY, NULL), "stop-search");
  g_assert_null (other_window (self));
}

static void
test_narrow_windows (StudioFixture *self, gconstpointer data)
{
  NappeFinding *finding;

  studio_fixture_load (self, "two-drain.nappe");
  make_narrow (self);
  finding = g_ptr_array_index (nappe_document_get_outcome (self->document)->verdict->findings, 0);
  assert_opens_narrow (self, "win.add", NULL);
  assert_opens_narrow (self, "win.limits", NULL);
  assert_opens_narrow (self, "win.about-rule", g_variant_new_string (nappe_finding_get_rule (finding)));
  assert_opens_narrow (self, "win.answer-finding",
                       g_variant_new ("(ss)", nappe_finding_get_rule (finding), nappe_finding_get_part (finding)));
}

static GtkWidget *
find (StudioFixture *self, GType type)
{
  return studio_fixture_find (GTK_WIDGET (self->window), type, NULL);
}

static double
left_of (StudioFixture *self, GtkWidget *widget)
{
  graphene_rect_t bounds;

  g_assert_true (gtk_widget_compute_bounds (widget, GTK_WIDGET (self->window), &bounds));
  return bounds.origin.x;
}

/* Everything changes sides but what stands for a place or for time. */
static void
test_right_to_left (StudioFixture *self, gconstpointer data)
{
  GtkWidget *canvas, *panel;
  double item, side;

  studio_fixture_load (self, "two-drain.nappe");
  canvas = find (self, NAPPE_TYPE_CANVAS);
  panel = find (self, NAPPE_TYPE_FINDINGS_PANEL);
  g_assert_cmpfloat (left_of (self, canvas), <, left_of (self, panel));
  item = left_of (self, find (self, NAPPE_TYPE_CANVAS_ITEM)) - left_of (self, canvas);
  side = left_of (self, panel);
  gtk_widget_set_default_direction (GTK_TEXT_DIR_RTL);
  studio_fixture_picture (self, "backwards-elevation");
  g_assert_cmpfloat (left_of (self, canvas), >, left_of (self, panel));
  g_assert_cmpfloat (side - left_of (self, panel), >, 300);
  g_assert_cmpfloat_with_epsilon (left_of (self, find (self, NAPPE_TYPE_CANVAS_ITEM)) - left_of (self, canvas), item, 1.0);
  nappe_window_select (self->window, "siphon");
  studio_fixture_picture (self, "backwards-part");
  studio_fixture_act (self, "win.view", "time");
  studio_fixture_settle (self);
  g_assert_cmpint (gtk_widget_get_direction (find (self, GTK_TYPE_SCALE)), ==, GTK_TEXT_DIR_LTR);
  studio_fixture_picture (self, "backwards-time");
  gtk_widget_set_default_direction (GTK_TEXT_DIR_LTR);
}

static void
show_letters (StudioFixture *self, double scale)
{
  g_object_set (gtk_settings_get_default (), "gtk-xft-dpi", (int) (96 * 1024 * scale), NULL);
  studio_fixture_settle (self);
}

/* Letters of the pictures grow with those of the program, and every label still finds a place. */
static void
test_large_letters (StudioFixture *self, gconstpointer data)
{
  NappeCanvas *canvas;
  int usual, minimum;
  guint n_usual, n;

  studio_fixture_load (self, "two-drain.nappe");
  canvas = NAPPE_CANVAS (find (self, NAPPE_TYPE_CANVAS));
  gtk_widget_measure (find (self, NAPPE_TYPE_SEVERITY_MARK), GTK_ORIENTATION_HORIZONTAL, -1, &usual, NULL, NULL, NULL);
  nappe_picture_items (nappe_canvas_get_picture (canvas), &n_usual);
  show_letters (self, 2.0);
  gtk_widget_measure (find (self, NAPPE_TYPE_SEVERITY_MARK), GTK_ORIENTATION_HORIZONTAL, -1, &minimum, NULL, NULL, NULL);
  g_assert_cmpint (minimum, ==, 2 * usual);
  nappe_picture_items (nappe_canvas_get_picture (canvas), &n);
  g_assert_cmpuint (n, ==, n_usual);
  gtk_widget_measure (GTK_WIDGET (self->window), GTK_ORIENTATION_HORIZONTAL, -1, &minimum, NULL, NULL, NULL);
  g_assert_cmpint (minimum, <=, 2 * NARROW);
  for (gsize i = 0; i < G_N_ELEMENTS (views); i++)
    {
      g_autofree char *name = g_strdup_printf ("large-letters-%s", views[i]);

      studio_fixture_act (self, "win.view", views[i]);
      studio_fixture_picture (self, name);
    }
  show_letters (self, 1.0);
}

/* The paper of the pictures reaches without a seam to the edge of its view, in every style. */
static void
assert_paper (StudioFixture *self, const char *name)
{
  const NappeColour paper = nappe_palette_colour (nappe_screen_palette (), NAPPE_ROLE_PAPER);
  g_autoptr (GdkTexture) texture = NULL;
  g_autofree guint32 *pixels = NULL;
  int width, bottom;

  studio_fixture_picture (self, name);
  texture = studio_fixture_texture (find (self, ADW_TYPE_VIEW_STACK));
  width = gdk_texture_get_width (texture);
  pixels = g_new (guint32, (gsize) width * (gsize) gdk_texture_get_height (texture));
  gdk_texture_download (texture, (guchar *) pixels, (gsize) width * 4);
  bottom = gdk_texture_get_height (texture) - 3;
  for (int x = 3; x < 12; x++)
    g_assert_cmphex (pixels[bottom * width + x] & 0xFFFFFF, ==,
                     (guint32) lround (paper.red * 255) << 16 | (guint32) lround (paper.green * 255) << 8
                         | (guint32) lround (paper.blue * 255));
}

static void
test_paper (StudioFixture *self, gconstpointer data)
{
  AdwStyleManager *style = adw_style_manager_get_default ();
  gboolean strong = adw_style_manager_get_high_contrast (style);

  g_assert_cmpint (strong, ==, g_getenv ("ADW_DEBUG_HIGH_CONTRAST") != NULL);
  studio_fixture_load (self, "two-drain.nappe");
  g_assert_cmpint (nappe_screen_palette (), ==, strong ? NAPPE_PALETTE_LIGHT_CONTRAST : NAPPE_PALETTE_LIGHT);
  assert_paper (self, strong ? "contrast-light" : "paper-light");
  studio_fixture_act (self, "app.style", "dark");
  g_assert_cmpint (nappe_screen_palette (), ==, strong ? NAPPE_PALETTE_DARK_CONTRAST : NAPPE_PALETTE_DARK);
  assert_paper (self, strong ? "contrast-dark" : "paper-dark");
  studio_fixture_act (self, "app.style", "light");
}

/* No icon is missing, whether the program is installed or not. */
static void
check_icon (GtkWidget *image, StudioFixture *self)
{
  const char *name = gtk_image_get_icon_name (GTK_IMAGE (image));

  if (name != NULL && !gtk_icon_theme_has_icon (gtk_icon_theme_get_for_display (gdk_display_get_default ()), name))
    g_test_fail_printf ("there is no icon “%s”", name);
}

static void
test_icons (StudioFixture *self, gconstpointer data)
{
  each_widget (GTK_WIDGET (self->window), GTK_TYPE_IMAGE, check_icon, self);
  studio_fixture_load (self, "three-drain.nappe");
  for (gsize i = 0; i < G_N_ELEMENTS (views); i++)
    {
      studio_fixture_act (self, "win.view", views[i]);
      studio_fixture_settle (self);
      each_widget (GTK_WIDGET (self->window), GTK_TYPE_IMAGE, check_icon, self);
    }
}

/* Keys follow the order in which the switchers show what they open. */
static void
test_keys_in_order (StudioFixture *self, gconstpointer application)
{
  GtkWidget *stacks[2];
  int number = 0;

  studio_fixture_load (self, "three-drain.nappe");
  stacks[0] = find (self, ADW_TYPE_VIEW_STACK);
  stacks[1] = GTK_WIDGET (gtk_stack_switcher_get_stack (GTK_STACK_SWITCHER (find (self, GTK_TYPE_STACK_SWITCHER))));
  for (gsize i = 0; i < G_N_ELEMENTS (stacks); i++)
    {
      g_autoptr (GtkSelectionModel) pages = NULL;

      g_object_get (stacks[i], "pages", &pages, NULL);
      for (guint page = 0; page < g_list_model_get_n_items (G_LIST_MODEL (pages)); page++)
        {
          g_autoptr (GObject) item = g_list_model_get_item (G_LIST_MODEL (pages), page);
          g_autofree char *name = NULL, *action = NULL, *wanted = g_strdup_printf ("<Alt>%d", ++number);
          g_auto (GStrv) keys = NULL;

          g_object_get (item, "name", &name, NULL);
          action = g_strdup_printf ("win.%s::%s", i == 0 ? "view" : "panel", name);
          keys = gtk_application_get_accels_for_action (GTK_APPLICATION (self->application), action);
          g_assert_cmpstr (keys[0], ==, wanted);
        }
    }
  g_assert_cmpint (number, ==, 9);
}

/* A button without words says what it does, and by which key. */
static void
check_tooltip (GtkWidget *button, StudioFixture *self)
{
  const char *name = gtk_actionable_get_action_name (GTK_ACTIONABLE (button)), *text = gtk_widget_get_tooltip_text (button);
  g_auto (GStrv) keys = NULL;

  if (name == NULL || gtk_button_get_icon_name (GTK_BUTTON (button)) == NULL)
    return;
  g_assert_nonnull (text);
  keys = gtk_application_get_accels_for_action (GTK_APPLICATION (self->application), name);
  if (keys[0] != NULL)
    {
      g_autofree char *label = NULL, *wanted = NULL;
      GdkModifierType modifiers;
      guint key;

      g_assert_true (gtk_accelerator_parse (keys[0], &key, &modifiers));
      label = gtk_accelerator_get_label (key, modifiers);
      wanted = g_strdup_printf ("(%s)", label);
      g_assert_nonnull (strstr (text, wanted));
    }
}

static void
test_tooltips (StudioFixture *self, gconstpointer application)
{
  NappeBuild *build;

  studio_fixture_load (self, "three-drain.nappe");
  for (gsize i = 0; i < G_N_ELEMENTS (views); i++)
    {
      studio_fixture_act (self, "win.view", views[i]);
      studio_fixture_settle (self);
      each_widget (GTK_WIDGET (self->window), GTK_TYPE_BUTTON, check_tooltip, self);
    }
  /* What would be undone is told with the key. */
  build = nappe_document_get_build (self->document);
  g_assert_true (nappe_build_set_number (build, build->stand, "height", 0.83, NULL));
  each_widget (GTK_WIDGET (self->window), GTK_TYPE_BUTTON, check_tooltip, self);
}

static const StudioTest tests[] = {
  { "/studio/looks/escape", test_escape },
  { "/studio/looks/right-to-left", test_right_to_left },
  { "/studio/looks/large-letters", test_large_letters },
  { "/studio/looks/paper", test_paper },
  { "/studio/looks/icons", test_icons },
  { "/studio/looks/keys-in-order", test_keys_in_order },
  { "/studio/looks/tooltips", test_tooltips },
  { "/studio/looks/steady-panel", test_steady_panel },
  { "/studio/looks/narrow/views", test_narrow_views },
  { "/studio/looks/narrow/panel", test_narrow_panel },
  { "/studio/looks/narrow/windows", test_narrow_windows },
};

int
main (int argc, char **argv)
{
  return studio_fixture_run (&argc, &argv, tests, G_N_ELEMENTS (tests));
}
