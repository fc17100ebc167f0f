/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Cures in the window: looked for, seen in the pictures, taken and undone; and never kept for another build. */
#include <string.h>

#include "rules/finding-private.h"
#include "studio-fixture.h"
#include "studio/canvas/canvas.h"
#include "studio/findings/cure-list.h"
#include "studio/findings/cure-row.h"
#include "studio/findings/finding-row.h"
#include "studio/window/preview-bar.h"

#define RULE "emergency-misplaced"
#define PART "emergency"
/* The demo's emergency inlet put so low that it is too near the water [m over its box's floor]. */
#define WRONG 0.424

static gboolean
is_played (StudioFixture *self)
{
  return !nappe_document_is_busy (self->document) && nappe_document_get_outcome (self->document)->timed;
}

static GtkWidget *
find_shown (StudioFixture *self, GType type)
{
  GtkWidget *found = studio_fixture_find (GTK_WIDGET (self->window), type, NULL);

  return found != NULL && gtk_widget_get_mapped (found) ? found : NULL;
}

static gboolean
has_text (GtkWidget *root, const char *text)
{
  if (GTK_IS_LABEL (root) && gtk_widget_get_mapped (root) && strstr (gtk_label_get_text (GTK_LABEL (root)), text) != NULL)
    return TRUE;
  for (GtkWidget *child = gtk_widget_get_first_child (root); child != NULL; child = gtk_widget_get_next_sibling (child))
    if (has_text (child, text))
      return TRUE;
  return FALSE;
}

static gboolean
has_cure (StudioFixture *self)
{
  return find_shown (self, NAPPE_TYPE_CURE_ROW) != NULL;
}

static gboolean
has_ended (StudioFixture *self)
{
  return has_cure (self) || has_text (GTK_WIDGET (self->window), "No change of one or two values");
}

static NappeFinding *
finding (StudioFixture *self)
{
  const GPtrArray *findings = nappe_document_get_outcome (self->document)->verdict->findings;

  for (guint i = 0; i < findings->len; i++)
    if (g_str_equal (nappe_finding_get_rule (findings->pdata[i]), RULE))
      return findings->pdata[i];
  return NULL;
}

static double
crest (StudioFixture *self)
{
  return NAPPE_DRAIN (nappe_build_find (nappe_document_get_build (self->document), PART))->crest_height;
}

/* The demo with the flaw, and one lever of the test's own: the inlet goes up to `most` [m]. */
static void
open_flawed (StudioFixture *self, double most)
{
  NappeLever *lever = nappe_lever_new_number (PART, "crest_height", 0.3, most);
  NappeBuild *build;

  studio_fixture_load (self, "three-drain.nappe");
  build = nappe_document_get_build (self->document);
  g_assert_true (nappe_build_set_number (build, nappe_build_find (build, PART), "crest_height", WRONG, NULL));
  studio_fixture_wait (self, is_played);
  g_assert_nonnull (finding (self));
  nappe_lever_follow (lever, "emergency-pipe-1", "length", 1);
  while (nappe_finding_get_levers (finding (self))->len > 0)
    g_ptr_array_remove_index ((GPtrArray *) nappe_finding_get_levers (finding (self)), 0);
  nappe_finding_offer (finding (self), lever);
  studio_fixture_act (self, "win.next-finding", NULL);
  studio_fixture_settle (self);
  g_assert_nonnull (find_shown (self, NAPPE_TYPE_CURE_LIST));
}

static void
activate (StudioFixture *self, const char *action, GVariant *parameter)
{
  g_assert_true (gtk_widget_activate_action_variant (GTK_WIDGET (self->window), action, parameter));
}

static void
look (StudioFixture *self)
{
  activate (self, "win.look-for-cures", g_variant_new ("(ss)", RULE, PART));
}

static NappePicture *
elevation (StudioFixture *self)
{
  return nappe_canvas_get_picture (NAPPE_CANVAS (studio_fixture_find (GTK_WIDGET (self->window), NAPPE_TYPE_CANVAS, NULL)));
}

/* What the picture says of a part. Transfer full. */
static char *
described (StudioFixture *self, const char *part)
{
  guint n;
  const NappePictureItem *items = nappe_picture_items (elevation (self), &n);
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < n; i++)
    if (g_str_equal (items[i].part, part))
      g_string_append_printf (text, "%s;", items[i].description);
  return g_string_free (text, FALSE);
}

static void
test_preview_and_apply (StudioFixture *self, gconstpointer data)
{
  g_autofree char *before = NULL, *previewed = NULL, *back = NULL, *after = NULL;

  open_flawed (self, 0.6);
  before = described (self, PART);
  look (self);
  studio_fixture_wait (self, has_cure);
  studio_fixture_picture (self, "light-cures");
  activate (self, "win.preview-cure", g_variant_new_uint32 (0));
  studio_fixture_settle (self);
  g_assert_nonnull (find_shown (self, NAPPE_TYPE_PREVIEW_BAR));
  previewed = described (self, PART);
  g_assert_cmpstr (previewed, !=, before);
  studio_fixture_picture (self, "light-preview");

  /* Nothing is edited meanwhile. */
  gtk_widget_activate_action (GTK_WIDGET (self->window), "win.undo", NULL);
  g_assert_cmpfloat (crest (self), ==, WRONG);

  activate (self, "win.leave-preview", NULL);
  studio_fixture_settle (self);
  g_assert_null (find_shown (self, NAPPE_TYPE_PREVIEW_BAR));
  back = described (self, PART);
  g_assert_cmpstr (back, ==, before);
  g_assert_true (has_cure (self));

  activate (self, "win.preview-cure", g_variant_new_uint32 (0));
  activate (self, "win.apply-preview", NULL);
  g_assert_cmpfloat (crest (self), >, WRONG);
  g_assert_null (find_shown (self, NAPPE_TYPE_PREVIEW_BAR));
  g_assert_true (g_str_has_prefix (nappe_build_undo_label (nappe_document_get_build (self->document)), "Cure: "));
  studio_fixture_wait (self, is_played);
  studio_fixture_settle (self);
  g_assert_null (finding (self));
  after = described (self, PART);
  g_assert_cmpstr (after, ==, previewed);
  studio_fixture_act (self, "win.undo", NULL);
  g_assert_cmpfloat (crest (self), ==, WRONG);
  studio_fixture_settle (self);
}

static void
test_apply_at_once (StudioFixture *self, gconstpointer data)
{
  open_flawed (self, 0.6);
  look (self);
  studio_fixture_wait (self, has_cure);
  activate (self, "win.apply-cure", g_variant_new_uint32 (7)); /* there is none */
  g_assert_cmpfloat (crest (self), ==, WRONG);
  activate (self, "win.apply-cure", g_variant_new_uint32 (0));
  g_assert_cmpfloat (crest (self), >, WRONG);
  /* It is of a build that is no more. */
  g_assert_false (has_cure (self));
  studio_fixture_settle (self);
}

/* The remedy still holds, and the window says so. */
static void
test_none (StudioFixture *self, gconstpointer data)
{
  open_flawed (self, WRONG);
  look (self);
  studio_fixture_wait (self, has_ended);
  g_assert_false (has_cure (self));
  studio_fixture_picture (self, "light-no-cure");
}

static void
test_stop (StudioFixture *self, gconstpointer data)
{
  open_flawed (self, 0.6);
  look (self);
  g_assert_true (has_text (GTK_WIDGET (self->window), "Trying changes"));
  activate (self, "win.stop-looking", NULL);
  g_assert_false (has_text (GTK_WIDGET (self->window), "Trying changes"));
  for (gint64 end = g_get_monotonic_time () + G_USEC_PER_SEC / 2; g_get_monotonic_time () < end;)
    g_main_context_iteration (NULL, FALSE);
  g_assert_false (has_ended (self));
}

/* A preview ends with the build it was of. */
static void
test_overtaken (StudioFixture *self, gconstpointer data)
{
  NappeBuild *build;

  open_flawed (self, 0.6);
  build = nappe_document_get_build (self->document);
  look (self);
  studio_fixture_wait (self, has_cure);
  activate (self, "win.preview-cure", g_variant_new_uint32 (0));
  studio_fixture_settle (self);
  g_assert_true (nappe_build_set_number (build, build->tank, "length", 1.19, NULL));
  g_assert_null (find_shown (self, NAPPE_TYPE_PREVIEW_BAR));
  g_assert_false (has_cure (self));
  studio_fixture_settle (self);
}

static void
test_narrow (StudioFixture *self, gconstpointer data)
{
  open_flawed (self, 0.6);
  gtk_window_set_default_size (GTK_WINDOW (self->window), 400, 700);
  studio_fixture_act (self, "app.style", "dark");
  studio_fixture_picture (self, "dark-narrow-flawed");
  /* It goes when there is no room for it beside the picture. */
  studio_fixture_act (self, "win.side-panel", NULL);
  look (self);
  studio_fixture_wait (self, has_cure);
  studio_fixture_picture (self, "dark-narrow-cures");
  activate (self, "win.preview-cure", g_variant_new_uint32 (0));
  studio_fixture_picture (self, "dark-narrow-preview");
  g_assert_false (has_cure (self));
  activate (self, "win.leave-preview", NULL);
  studio_fixture_wait (self, has_cure);
  studio_fixture_act (self, "app.style", "light");
}

static const StudioTest tests[] = {
  { "/studio/cures/preview-and-apply", test_preview_and_apply },
  { "/studio/cures/apply-at-once", test_apply_at_once },
  { "/studio/cures/none", test_none },
  { "/studio/cures/stop", test_stop },
  { "/studio/cures/overtaken", test_overtaken },
  { "/studio/cures/narrow", test_narrow },
};

int
main (int argc, char **argv)
{
  return studio_fixture_run (&argc, &argv, tests, G_N_ELEMENTS (tests));
}
