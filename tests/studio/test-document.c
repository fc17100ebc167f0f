/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The document without any window: what is open, saved, changed and computed. */
#include "studio/document.h"

#include <glib/gstdio.h>

typedef struct
{
  NappeDocument *document;
  GFile *file;
  char *path;
  guint computed, replaced;
  gboolean done, succeeded; /* of the last asynchronous call */
  GError *error;
} Fixture;

static void
count (guint *counter)
{
  (*counter)++;
}

static void
set_up (Fixture *self, gconstpointer demo)
{
  g_autofree char *source = g_build_filename (g_getenv ("NAPPE_DATA_DIR"), "demos", "three-drain.nappe", NULL);
  g_autofree char *text = NULL;
  g_autofree char *folder = g_dir_make_tmp ("nappe-XXXXXX", NULL);
  gsize length;

  g_assert_true (g_file_get_contents (source, &text, &length, NULL));
  self->path = g_build_filename (folder, "reef.nappe", NULL);
  g_assert_true (g_file_set_contents (self->path, text, (gssize) length, NULL));
  self->file = g_file_new_for_path (self->path);
  self->document = nappe_document_new ();
  g_signal_connect_swapped (self->document, "computed", G_CALLBACK (count), &self->computed);
  g_signal_connect_swapped (self->document, "replaced", G_CALLBACK (count), &self->replaced);
}

static void
tear_down (Fixture *self, gconstpointer demo)
{
  g_autofree char *folder = g_path_get_dirname (self->path);

  while (g_main_context_iteration (NULL, FALSE))
    ;
  g_object_unref (self->document);
  g_object_unref (self->file);
  g_remove (self->path);
  g_rmdir (folder);
  g_free (self->path);
  g_clear_error (&self->error);
}

static void
opened (GObject *source, GAsyncResult *result, gpointer user_data)
{
  Fixture *self = user_data;

  self->succeeded = nappe_document_open_finish (NAPPE_DOCUMENT (source), result, &self->error);
  self->done = TRUE;
}

static void
saved (GObject *source, GAsyncResult *result, gpointer user_data)
{
  Fixture *self = user_data;

  self->succeeded = nappe_document_save_finish (NAPPE_DOCUMENT (source), result, &self->error);
  self->done = TRUE;
}

static void
wait_for_call (Fixture *self)
{
  while (!self->done)
    g_main_context_iteration (NULL, TRUE);
  self->done = FALSE;
}

static void
wait_for_study (Fixture *self)
{
  while (nappe_document_is_busy (self->document))
    g_main_context_iteration (NULL, TRUE);
}

static void
open_file (Fixture *self)
{
  g_clear_error (&self->error);
  nappe_document_open_async (self->document, self->file, NULL, opened, self);
  wait_for_call (self);
}

static void
save_file (Fixture *self, GFile *file)
{
  g_clear_error (&self->error);
  nappe_document_save_async (self->document, file, NULL, saved, self);
  wait_for_call (self);
}

static void
change (Fixture *self, double height)
{
  NappeBuild *build = nappe_document_get_build (self->document);

  g_assert_true (nappe_build_set_number (build, build->stand, "height", height, NULL));
}

static void
test_open (Fixture *self, gconstpointer data)
{
  open_file (self);
  g_assert_true (self->succeeded);
  g_assert_cmpuint (self->replaced, ==, 1);
  g_assert_true (nappe_document_is_busy (self->document));
  wait_for_study (self);
  g_assert_cmpuint (self->computed, ==, 1);
  g_assert_nonnull (nappe_document_get_outcome (self->document));
  g_assert_cmpstr (nappe_document_get_title (self->document), ==, "reef.nappe");
  g_assert_false (nappe_document_is_modified (self->document));
}

/* A file that cannot be read leaves everything as it was. */
static void
test_failure_keeps_the_old (Fixture *self, gconstpointer data)
{
  NappeBuild *before;

  open_file (self);
  wait_for_study (self);
  before = nappe_document_get_build (self->document);
  g_assert_true (g_file_set_contents (self->path, "{", -1, NULL));
  open_file (self);
  g_assert_false (self->succeeded);
  g_assert_nonnull (self->error);
  g_assert_true (nappe_document_get_build (self->document) == before);
  g_assert_cmpuint (self->replaced, ==, 1);
}

/* Many changes in a row: the outcome at the end is that of the last one. */
static void
test_only_the_last_study_counts (Fixture *self, gconstpointer data)
{
  open_file (self);
  wait_for_study (self);
  for (int i = 1; i <= 20; i++)
    change (self, 0.8 + 0.005 * i);
  wait_for_study (self);
  g_assert_cmpfloat_with_epsilon (NAPPE_BUILD_STAND (nappe_document_get_outcome (self->document)->build)->height, 0.9,
                                  1e-9);
  g_assert_cmpuint (self->computed, ==, 2);
}

/* The bands of the numbers come after the numbers, for the last change alone. */
static void
test_bands_come_later (Fixture *self, gconstpointer data)
{
  open_file (self);
  wait_for_study (self);
  g_assert_null (nappe_document_get_outcome (self->document)->spread);
  change (self, 0.7);
  wait_for_study (self);
  while (nappe_document_get_outcome (self->document)->spread == NULL)
    g_main_context_iteration (NULL, TRUE);
  g_assert_cmpfloat (NAPPE_BUILD_STAND (nappe_document_get_outcome (self->document)->build)->height, ==, 0.7);
  g_assert_cmpuint (self->computed, ==, 2);
}

/* The outcome is of a copy: later changes do not reach it. */
static void
test_outcome_is_apart (Fixture *self, gconstpointer data)
{
  NappeOutcome *outcome;

  open_file (self);
  wait_for_study (self);
  outcome = nappe_outcome_ref (nappe_document_get_outcome (self->document));
  change (self, 0.7);
  g_assert_cmpfloat (NAPPE_BUILD_STAND (outcome->build)->height, !=, 0.7);
  wait_for_study (self);
  g_assert_true (outcome != nappe_document_get_outcome (self->document));
  nappe_outcome_unref (outcome);
}

static void
test_save (Fixture *self, gconstpointer data)
{
  g_autofree char *text = NULL;

  open_file (self);
  change (self, 0.777);
  g_assert_true (nappe_document_is_modified (self->document));
  save_file (self, self->file);
  g_assert_true (self->succeeded);
  g_assert_false (nappe_document_is_modified (self->document));
  g_assert_true (g_file_get_contents (self->path, &text, NULL, NULL));
  g_assert_nonnull (g_strstr_len (text, -1, "777"));
  nappe_document_undo (self->document);
  g_assert_true (nappe_document_is_modified (self->document));
  nappe_document_redo (self->document);
  g_assert_false (nappe_document_is_modified (self->document));
  wait_for_study (self);
}

/* What is changed while the file is written is not saved, and the document knows it. */
static void
test_change_while_saving (Fixture *self, gconstpointer data)
{
  open_file (self);
  change (self, 0.777);
  nappe_document_save_async (self->document, self->file, NULL, saved, self);
  change (self, 0.778);
  wait_for_call (self);
  g_assert_true (self->succeeded);
  g_assert_true (nappe_document_is_modified (self->document));
  wait_for_study (self);
}

static void
test_save_fails (Fixture *self, gconstpointer data)
{
  g_autoptr (GFile) nowhere = g_file_new_for_path ("/proc/no-such-folder/reef.nappe");

  open_file (self);
  change (self, 0.777);
  save_file (self, nowhere);
  g_assert_false (self->succeeded);
  g_assert_nonnull (self->error);
  g_assert_true (nappe_document_is_modified (self->document));
  g_assert_true (g_file_equal (nappe_document_get_file (self->document), self->file));
  wait_for_study (self);
}

/* A document that goes while its study is under way takes nothing with it. */
static void
test_dropped_while_busy (Fixture *self, gconstpointer data)
{
  NappeDocument *other = nappe_document_new ();
  g_autoptr (NappeBuild) build = nappe_build_new ();

  nappe_document_set_build (other, build);
  g_assert_true (nappe_document_is_busy (other));
  g_object_run_dispose (G_OBJECT (other));
  g_object_add_weak_pointer (G_OBJECT (other), (gpointer *) &other);
  g_object_unref (other);
  while (other != NULL)
    g_main_context_iteration (NULL, TRUE);
}

int
main (int argc, char **argv)
{
  const struct
  {
    const char *path;
    void (*test) (Fixture *, gconstpointer);
  } tests[] = {
    { "/studio/document/open", test_open },
    { "/studio/document/failure-keeps-the-old", test_failure_keeps_the_old },
    { "/studio/document/only-the-last-study-counts", test_only_the_last_study_counts },
    { "/studio/document/bands-come-later", test_bands_come_later },
    { "/studio/document/outcome-is-apart", test_outcome_is_apart },
    { "/studio/document/save", test_save },
    { "/studio/document/change-while-saving", test_change_while_saving },
    { "/studio/document/save-fails", test_save_fails },
    { "/studio/document/dropped-while-busy", test_dropped_while_busy },
  };

  g_test_init (&argc, &argv, NULL);
  g_test_set_nonfatal_assertions ();
  for (gsize i = 0; i < G_N_ELEMENTS (tests); i++)
    g_test_add (tests[i].path, Fixture, NULL, set_up, tests[i].test, tear_down);
  return g_test_run ();
}
