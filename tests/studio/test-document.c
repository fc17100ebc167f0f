/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The document without any window: what is open, saved, changed and computed. */
#include "studio/document/document.h"

#include <glib/gstdio.h>
#include <json-glib/json-glib.h>

/* The command, whose findings those of the studio are held against. */
static const char *command;

typedef struct
{
  NappeDocument *document;
  GFile *file;
  char *path;
  guint computed, replaced, refined;
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
  g_autofree char *source = g_build_filename (g_getenv ("NAPPE_DATA_DIR"), "demos", (const char *) demo, NULL);
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
  g_signal_connect_swapped (self->document, "refined", G_CALLBACK (count), &self->refined);
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
wait_for_refinement (Fixture *self)
{
  wait_for_study (self);
  while (!nappe_document_get_outcome (self->document)->timed)
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

static NappeFinding *
find_rule (const NappeVerdict *verdict, const char *rule)
{
  for (guint i = 0; i < verdict->findings->len; i++)
    if (g_str_equal (nappe_finding_get_rule (g_ptr_array_index (verdict->findings, i)), rule))
      return g_ptr_array_index (verdict->findings, i);
  return NULL;
}

/* What must be played in time comes after what need not: the siphon of this build is not primed when the power is back. */
static void
test_played_later (Fixture *self, gconstpointer data)
{
  g_autoptr (NappeOutcome) quick = NULL;
  NappeOutcome *refined;

  open_file (self);
  wait_for_study (self);
  quick = nappe_outcome_ref (nappe_document_get_outcome (self->document));
  g_assert_false (quick->timed);
  g_assert_null (find_rule (quick->verdict, "self-restart"));
  wait_for_refinement (self);
  refined = nappe_document_get_outcome (self->document);
  g_assert_true (refined->study == quick->study);
  g_assert_cmpstr (nappe_finding_get_part (find_rule (refined->verdict, "self-restart")), ==, "siphon");
  g_assert_cmpuint (refined->verdict->n_problem, ==, quick->verdict->n_problem + 1);
  g_assert_null (find_rule (quick->verdict, "self-restart"));
  g_assert_cmpuint (self->computed, ==, 1);
  g_assert_cmpuint (self->refined, ==, 1);
}

static void
compare_findings (GPtrArray *findings, JsonArray *expected)
{
  g_assert_cmpuint (findings->len, ==, json_array_get_length (expected));
  for (guint i = 0; i < MIN (findings->len, json_array_get_length (expected)); i++)
    {
      NappeFinding *finding = g_ptr_array_index (findings, i);
      JsonObject *said = json_array_get_object_element (expected, i);

      g_assert_cmpstr (nappe_finding_get_rule (finding), ==, json_object_get_string_member (said, "rule"));
      g_assert_cmpstr (nappe_finding_get_part (finding), ==, json_object_get_string_member (said, "part"));
      g_assert_cmpstr (nappe_severity_nick (nappe_finding_get_severity (finding)), ==,
                       json_object_get_string_member (said, "severity"));
      g_assert_cmpint (nappe_finding_get_number (finding), ==, json_object_get_int_member (said, "number"));
      g_assert_cmpstr (nappe_finding_get_title (finding), ==, json_object_get_string_member (said, "title"));
      g_assert_cmpstr (nappe_finding_get_text (finding), ==, json_object_get_string_member (said, "text"));
      g_assert_cmpstr (nappe_finding_get_remedy (finding), ==, json_object_get_string_member (said, "remedy"));
    }
}

/* Window and command say the same of one file, word by word. */
static void
test_says_what_the_command_says (Fixture *self, gconstpointer data)
{
  const char *const arguments[] = { command, "check", "--json", "--all", self->path, NULL };
  g_autofree char *text = NULL;
  g_autoptr (JsonParser) parser = json_parser_new ();
  JsonObject *said;
  NappeVerdict *verdict;

  if (command == NULL)
    {
      g_test_skip ("the command is not given");
      return;
    }
  g_assert_true (g_spawn_sync (NULL, (char **) arguments, NULL, G_SPAWN_DEFAULT, NULL, NULL, &text, NULL, NULL, NULL));
  g_assert_true (json_parser_load_from_data (parser, text, -1, NULL));
  said = json_node_get_object (json_parser_get_root (parser));
  open_file (self);
  wait_for_refinement (self);
  verdict = nappe_document_get_outcome (self->document)->verdict;
  compare_findings (verdict->findings, json_object_get_array_member (said, "findings"));
  compare_findings (verdict->fine, json_object_get_array_member (said, "fine"));
}

/* A build that does not run is refined too: the rules say that they could not look. */
static void
test_refined_without_rest (Fixture *self, gconstpointer data)
{
  g_autoptr (NappeBuild) build = nappe_build_new ();

  nappe_document_set_build (self->document, build);
  wait_for_refinement (self);
  g_assert_null (nappe_document_get_outcome (self->document)->spread);
  g_assert_cmpuint (self->refined, ==, 1);
}

/* Each change ends the refinement before it. */
static void
test_change_cancels_refinement (Fixture *self, gconstpointer data)
{
  open_file (self);
  for (int i = 1; i <= 5; i++)
    {
      wait_for_study (self);
      g_assert_false (nappe_document_get_outcome (self->document)->timed);
      change (self, 0.8 + 0.01 * i);
    }
  wait_for_refinement (self);
  g_assert_cmpfloat_with_epsilon (NAPPE_BUILD_STAND (nappe_document_get_outcome (self->document)->build)->height, 0.85,
                                  1e-9);
  g_assert_cmpuint (self->refined, ==, 1);
}

/* A document is not held by its refinement, and hears nothing of it. */
static void
test_dropped_while_refined (Fixture *self, gconstpointer data)
{
  NappeDocument *other = nappe_document_new ();
  guint refined = 0;

  g_signal_connect_swapped (other, "refined", G_CALLBACK (count), &refined);
  open_file (self);
  nappe_document_set_build (other, nappe_document_get_build (self->document));
  while (nappe_document_is_busy (other))
    g_main_context_iteration (NULL, TRUE);
  g_object_add_weak_pointer (G_OBJECT (other), (gpointer *) &other);
  g_object_unref (other);
  g_assert_null (other);
  wait_for_refinement (self);
  g_assert_cmpuint (refined, ==, 0);
}

typedef struct
{
  NappeOutcome *quick, *refined;
  GCancellable *cancellable;
} Refinement;

static gpointer
refine (gpointer data)
{
  Refinement *self = data;

  self->refined = nappe_outcome_refine (self->quick, self->cancellable);
  return NULL;
}

/* Half-played cases are not judged. */
static void
test_cancelled_gives_nothing (Fixture *self, gconstpointer data)
{
  Refinement refinement = { NULL, NULL, NULL };

  open_file (self);
  wait_for_study (self);
  refinement.quick = nappe_outcome_ref (nappe_document_get_outcome (self->document));
  refinement.cancellable = g_cancellable_new ();
  GThread *thread = g_thread_new ("refine", refine, &refinement);
  g_usleep (1000);
  g_cancellable_cancel (refinement.cancellable);
  g_thread_join (thread);
  g_assert_null (refinement.refined);
  g_cancellable_reset (refinement.cancellable);
  refine (&refinement);
  g_assert_true (refinement.refined->timed);
  nappe_outcome_unref (refinement.refined);
  nappe_outcome_unref (refinement.quick);
  g_object_unref (refinement.cancellable);
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
  const char *three = "three-drain.nappe", *two = "two-drain.nappe", *single = "single-drain.nappe";
  const struct
  {
    const char *demo, *path;
    void (*test) (Fixture *, gconstpointer);
  } tests[] = {
    { three, "/studio/document/open", test_open },
    { three, "/studio/document/failure-keeps-the-old", test_failure_keeps_the_old },
    { three, "/studio/document/only-the-last-study-counts", test_only_the_last_study_counts },
    { three, "/studio/document/bands-come-later", test_bands_come_later },
    { two, "/studio/document/played-later", test_played_later },
    { single, "/studio/document/says-what-the-command-says/single-drain", test_says_what_the_command_says },
    { two, "/studio/document/says-what-the-command-says/two-drain", test_says_what_the_command_says },
    { three, "/studio/document/says-what-the-command-says/three-drain", test_says_what_the_command_says },
    { two, "/studio/document/refined-without-rest", test_refined_without_rest },
    { two, "/studio/document/change-cancels-refinement", test_change_cancels_refinement },
    { two, "/studio/document/dropped-while-refined", test_dropped_while_refined },
    { three, "/studio/document/cancelled-gives-nothing", test_cancelled_gives_nothing },
    { three, "/studio/document/outcome-is-apart", test_outcome_is_apart },
    { three, "/studio/document/save", test_save },
    { three, "/studio/document/change-while-saving", test_change_while_saving },
    { three, "/studio/document/save-fails", test_save_fails },
    { three, "/studio/document/dropped-while-busy", test_dropped_while_busy },
  };

  g_test_init (&argc, &argv, NULL);
  g_test_set_nonfatal_assertions ();
  command = argc > 1 ? argv[1] : NULL;
  for (gsize i = 0; i < G_N_ELEMENTS (tests); i++)
    g_test_add (tests[i].path, Fixture, tests[i].demo, set_up, tests[i].test, tear_down);
  return g_test_run ();
}
