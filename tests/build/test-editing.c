/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The door to changing a build: checks, one signal a step, undo, ids, references. */
#include "config.h"

#include <math.h>
#include <string.h>

#include "build/build.h"

static void
count_signal (NappeBuild *build, gpointer count)
{
  ++*(int *) count;
}

typedef struct
{
  NappeBuild *build;
  NappePart *box, *drain, *tee, *outlet, *chamber, *line;
  int changes; /* signals so far */
} Fixture;

/* Inserts a new part of a kind, and gives it back. */
static NappePart *
insert (NappeBuild *build, NappePart *owner, const char *slot, GType type, const char *id)
{
  g_autoptr (NappePart) part = g_object_new (type, NULL);
  g_autoptr (GError) error = NULL;

  nappe_part_set_id (part, id);
  nappe_build_insert (build, owner, slot, G_MAXUINT, part, &error);
  g_assert_no_error (error);
  return part;
}

static void
set_text (NappeBuild *build, NappePart *part, const char *field, const char *value)
{
  g_autoptr (GError) error = NULL;

  nappe_build_set_text (build, part, field, value, &error);
  g_assert_no_error (error);
}

static void
set_up (Fixture *fixture, gconstpointer data)
{
  NappeBuild *build = nappe_build_new ();

  fixture->build = build;
  fixture->box = insert (build, NAPPE_PART (build), "overflows", NAPPE_TYPE_OVERFLOW, "box");
  fixture->chamber = insert (build, build->sump, "chambers", NAPPE_TYPE_CHAMBER, "calm");
  fixture->drain = insert (build, NAPPE_PART (build), "drains", NAPPE_TYPE_DRAIN, "");
  fixture->tee = insert (build, fixture->drain, "run", NAPPE_TYPE_PIECE, "tee");
  fixture->outlet = insert (build, fixture->drain, "outlets", NAPPE_TYPE_OUTLET, "");
  fixture->line = insert (build, NAPPE_PART (build), "returns", NAPPE_TYPE_RETURN_LINE, "");
  set_text (build, fixture->drain, "overflow", "box");
  set_text (build, fixture->outlet, "into", "calm");
  set_text (build, fixture->outlet, "tee", "tee");
  g_signal_connect (build, "changed", G_CALLBACK (count_signal), &fixture->changes);
  fixture->changes = 0;
}

static void
tear_down (Fixture *fixture, gconstpointer data)
{
  g_assert_finalize_object (fixture->build);
}

static void
assert_refused (gboolean done, GError *error, NappeBuildError code, const char *words)
{
  g_assert_false (done);
  g_assert_error (error, NAPPE_BUILD_ERROR, (int) code);
  if (strstr (error->message, words) == NULL)
    g_error ("“%s” does not say “%s”", error->message, words);
  g_error_free (error);
}

static void
test_new_ids (Fixture *fixture, gconstpointer data)
{
  g_assert_cmpstr (nappe_part_get_id (fixture->build->tank), ==, "tank");
  g_assert_cmpstr (nappe_part_get_id (fixture->drain), ==, "drain-1");
  g_assert_cmpstr (nappe_part_get_id (fixture->line), ==, "return-1");
  g_assert_cmpstr (nappe_part_get_id (NAPPE_RETURN_LINE (fixture->line)->pump), ==, "return-1-pump");
  g_assert_true (nappe_build_find (fixture->build, "drain-1") == fixture->drain);
  g_assert_true (nappe_build_find (fixture->build, "tee") == fixture->tee);
  g_assert_null (nappe_build_find (fixture->build, "drain-2"));
  g_assert_null (nappe_build_find (fixture->build, ""));
}

static void
test_set (Fixture *fixture, gconstpointer data)
{
  NappeBuild *build = fixture->build;
  const double before = NAPPE_BUILD_TANK (build)->height;

  g_assert_true (nappe_build_set_number (build, build->tank, "height", 0.6125, NULL));
  g_assert_cmpfloat (NAPPE_BUILD_TANK (build)->height, ==, 0.6125);
  g_assert_cmpint (fixture->changes, ==, 1);
  g_assert_true (nappe_build_set_number (build, build->tank, "height", 0.6125, NULL));
  g_assert_cmpint (fixture->changes, ==, 1);
  g_assert_cmpstr (nappe_build_undo_label (build), ==, "Change “Inside height” of “Tank”");
  nappe_build_undo (build);
  g_assert_cmpfloat (NAPPE_BUILD_TANK (build)->height, ==, before);
  g_assert_cmpint (fixture->changes, ==, 2);
  nappe_build_redo (build);
  g_assert_cmpfloat (NAPPE_BUILD_TANK (build)->height, ==, 0.6125);
  g_assert_cmpint (fixture->changes, ==, 3);
  g_assert_true (nappe_build_set_text (build, build->tank, "material", "acrylic", NULL));
  g_assert_cmpint (NAPPE_BUILD_TANK (build)->material, ==, NAPPE_MATERIAL_ACRYLIC);
  g_assert_true (nappe_build_set_number (build, fixture->box, "slot_count", 30, NULL));
  g_assert_cmpint (NAPPE_OVERFLOW (fixture->box)->slot_count, ==, 30);
  g_assert_true (nappe_build_set_number (build, fixture->drain, "vented", 1, NULL));
  g_assert_true (NAPPE_DRAIN (fixture->drain)->vented);
  g_assert_true (nappe_build_set_number (build, fixture->drain, "mouth_height", NAN, NULL));
}

static void
test_set_refused (Fixture *fixture, gconstpointer data)
{
  NappeBuild *build = fixture->build;
  g_autoptr (NappePart) stranger = g_object_new (NAPPE_TYPE_TANK, NULL);
  GError *error = NULL;
  gboolean done;

  done = nappe_build_set_number (build, build->tank, "height", 7, &error);
  assert_refused (done, g_steal_pointer (&error), NAPPE_BUILD_ERROR_RANGE, "Inside height");
  done = nappe_build_set_number (build, build->tank, "height", NAN, &error);
  assert_refused (done, g_steal_pointer (&error), NAPPE_BUILD_ERROR_RANGE, "finite");
  done = nappe_build_set_number (build, build->tank, "depth", 1, &error);
  assert_refused (done, g_steal_pointer (&error), NAPPE_BUILD_ERROR_PLACE, "depth");
  done = nappe_build_set_number (build, fixture->box, "slot_count", 2.5, &error);
  assert_refused (done, g_steal_pointer (&error), NAPPE_BUILD_ERROR_TYPE, "Number of slots");
  done = nappe_build_set_text (build, build->tank, "material", "wood", &error);
  assert_refused (done, g_steal_pointer (&error), NAPPE_BUILD_ERROR_TYPE, "wood");
  done = nappe_build_set_text (build, build->tank, "height", "tall", &error);
  assert_refused (done, g_steal_pointer (&error), NAPPE_BUILD_ERROR_TYPE, "Inside height");
  done = nappe_build_set_number (build, stranger, "height", 0.5, &error);
  assert_refused (done, g_steal_pointer (&error), NAPPE_BUILD_ERROR_PLACE, "not part of this build");
  done = nappe_build_set_text (build, fixture->drain, "overflow", "nowhere", &error);
  assert_refused (done, g_steal_pointer (&error), NAPPE_BUILD_ERROR_ID, "nowhere");
  done = nappe_build_set_text (build, fixture->drain, "overflow", "tank", &error);
  assert_refused (done, g_steal_pointer (&error), NAPPE_BUILD_ERROR_ID, "cannot be “Tank”");
  done = nappe_build_rename_part (build, build->tank, "two\nlines", &error);
  assert_refused (done, g_steal_pointer (&error), NAPPE_BUILD_ERROR_RANGE, "one line");
  g_assert_cmpint (fixture->changes, ==, 0);
}

/* A third of a metre cannot be written in millimetres; what is kept can be. */
static void
test_snap (Fixture *fixture, gconstpointer data)
{
  NappeBuild *build = fixture->build;
  double kept;

  g_assert_true (nappe_build_set_number (build, build->tank, "length", 1.0 / 3.0, NULL));
  kept = NAPPE_BUILD_TANK (build)->length;
  g_assert_cmpfloat_with_epsilon (kept, 1.0 / 3.0, 1e-12);
  g_assert_cmpfloat (nappe_quantity_snap (NAPPE_QUANTITY_LENGTH, kept), ==, kept);
}

static void
test_rename (Fixture *fixture, gconstpointer data)
{
  g_assert_true (nappe_build_rename_part (fixture->build, fixture->drain, "Main siphon", NULL));
  g_assert_cmpstr (nappe_part_display_name (fixture->drain), ==, "Main siphon");
  nappe_build_undo (fixture->build);
  g_assert_cmpstr (nappe_part_display_name (fixture->drain), ==, "Drain");
  g_assert_cmpint (fixture->changes, ==, 2);
}

static void
test_insert_refused (Fixture *fixture, gconstpointer data)
{
  NappeBuild *build = fixture->build;
  g_autoptr (NappePart) drain = g_object_new (NAPPE_TYPE_DRAIN, NULL);
  g_autoptr (NappePart) piece = g_object_new (NAPPE_TYPE_PIECE, NULL);
  GError *error = NULL;
  gboolean done;

  done = nappe_build_insert (build, NAPPE_PART (build), "overflows", 0, drain, &error);
  assert_refused (done, g_steal_pointer (&error), NAPPE_BUILD_ERROR_PLACE, "cannot be put");
  done = nappe_build_insert (build, NAPPE_PART (build), "sump", 0, drain, &error);
  assert_refused (done, g_steal_pointer (&error), NAPPE_BUILD_ERROR_PLACE, "cannot be put");
  nappe_part_set_id (drain, "box");
  done = nappe_build_insert (build, NAPPE_PART (build), "drains", 0, drain, &error);
  assert_refused (done, g_steal_pointer (&error), NAPPE_BUILD_ERROR_ID, "box");
  nappe_part_set_id (drain, "twin");
  nappe_part_set_id (piece, "twin");
  nappe_part_attach (drain, nappe_part_find_slot (drain, "run"), 0, piece);
  done = nappe_build_insert (build, NAPPE_PART (build), "drains", 0, drain, &error);
  assert_refused (done, g_steal_pointer (&error), NAPPE_BUILD_ERROR_ID, "twin");
  nappe_part_set_id (piece, "Not An Id");
  done = nappe_build_insert (build, NAPPE_PART (build), "drains", 0, drain, &error);
  assert_refused (done, g_steal_pointer (&error), NAPPE_BUILD_ERROR_ID, "Not An Id");
  done = nappe_build_insert (build, fixture->drain, "run", 0, piece, &error);
  assert_refused (done, g_steal_pointer (&error), NAPPE_BUILD_ERROR_PLACE, "cannot be put");
  g_assert_cmpint (fixture->changes, ==, 0);
  g_assert_cmpuint (build->drains->len, ==, 1);
}

static void
test_list_limit (Fixture *fixture, gconstpointer data)
{
  NappeBuild *build = fixture->build;
  g_autoptr (NappePart) ninth = g_object_new (NAPPE_TYPE_OVERFLOW, NULL);
  GError *error = NULL;
  gboolean done;

  while (build->overflows->len < 8)
    insert (build, NAPPE_PART (build), "overflows", NAPPE_TYPE_OVERFLOW, "");
  done = nappe_build_insert (build, NAPPE_PART (build), "overflows", 0, ninth, &error);
  assert_refused (done, g_steal_pointer (&error), NAPPE_BUILD_ERROR_PLACE, "at most 8");
}

static void
test_remove (Fixture *fixture, gconstpointer data)
{
  NappeBuild *build = fixture->build;
  g_autoptr (NappeBuild) before = nappe_build_copy (build);
  NappeDrain *drain = NAPPE_DRAIN (fixture->drain);
  GError *error = NULL;
  gboolean done;

  g_assert_true (nappe_build_remove (build, fixture->chamber, NULL));
  g_assert_true (nappe_build_remove (build, fixture->tee, NULL));
  g_assert_true (nappe_build_remove (build, fixture->box, NULL));
  g_assert_cmpstr (NAPPE_OUTLET (fixture->outlet)->into, ==, "");
  g_assert_cmpstr (NAPPE_OUTLET (fixture->outlet)->tee, ==, "");
  g_assert_cmpstr (drain->overflow, ==, "");
  g_assert_cmpint (fixture->changes, ==, 3);
  g_assert_null (nappe_build_find (build, "box"));
  for (int i = 0; i < 3; i++)
    nappe_build_undo (build);
  g_assert_true (nappe_part_equal (NAPPE_PART (build), NAPPE_PART (before)));
  g_assert_true (nappe_build_find (build, "box") == fixture->box);
  done = nappe_build_remove (build, build->tank, &error);
  assert_refused (done, error, NAPPE_BUILD_ERROR_PLACE, "always part");
}

static void
test_move (Fixture *fixture, gconstpointer data)
{
  NappeBuild *build = fixture->build;
  NappePart *a = fixture->tee;
  NappePart *b = insert (build, fixture->drain, "run", NAPPE_TYPE_PIECE, "b");
  NappePart *c = insert (build, fixture->drain, "run", NAPPE_TYPE_PIECE, "c");
  GPtrArray *run = NAPPE_DRAIN (fixture->drain)->run;

  g_assert_true (nappe_build_move (build, a, G_MAXUINT, NULL));
  g_assert_true (g_ptr_array_index (run, 0) == b && g_ptr_array_index (run, 1) == c && g_ptr_array_index (run, 2) == a);
  g_assert_true (nappe_build_move (build, a, 1, NULL));
  g_assert_true (g_ptr_array_index (run, 0) == b && g_ptr_array_index (run, 1) == a && g_ptr_array_index (run, 2) == c);
  fixture->changes = 0;
  g_assert_true (nappe_build_move (build, a, 1, NULL));
  g_assert_cmpint (fixture->changes, ==, 0);
  nappe_build_undo (build);
  nappe_build_undo (build);
  g_assert_true (g_ptr_array_index (run, 0) == a && g_ptr_array_index (run, 1) == b && g_ptr_array_index (run, 2) == c);
}

static void
test_transaction (Fixture *fixture, gconstpointer data)
{
  NappeBuild *build = fixture->build;
  g_autoptr (NappeBuild) before = nappe_build_copy (build);

  nappe_build_begin (build, "Outer");
  nappe_build_set_number (build, build->tank, "height", 0.7, NULL);
  nappe_build_begin (build, "Inner");
  insert (build, NAPPE_PART (build), "drains", NAPPE_TYPE_DRAIN, "");
  nappe_build_remove (build, fixture->box, NULL);
  nappe_build_commit (build);
  g_assert_cmpint (fixture->changes, ==, 0);
  g_assert_false (nappe_build_can_undo (build));
  nappe_build_commit (build);
  g_assert_cmpint (fixture->changes, ==, 1);
  g_assert_cmpstr (nappe_build_undo_label (build), ==, "Outer");
  nappe_build_undo (build);
  g_assert_true (nappe_part_equal (NAPPE_PART (build), NAPPE_PART (before)));
  g_assert_cmpstr (nappe_build_redo_label (build), ==, "Outer");

  fixture->changes = 0;
  nappe_build_begin (build, "Outer");
  nappe_build_set_number (build, build->tank, "height", 0.7, NULL);
  nappe_build_begin (build, "Inner");
  nappe_build_remove (build, fixture->box, NULL);
  nappe_build_roll_back (build);
  nappe_build_set_number (build, build->tank, "height", 0.8, NULL);
  nappe_build_commit (build);
  g_assert_cmpint (fixture->changes, ==, 0);
  g_assert_true (nappe_part_equal (NAPPE_PART (build), NAPPE_PART (before)));
  g_assert_true (nappe_build_can_redo (build));
}

static void
test_saved (Fixture *fixture, gconstpointer data)
{
  NappeBuild *build = fixture->build;
  g_autoptr (NappeBuild) copy = NULL;

  nappe_build_mark_saved (build);
  g_assert_false (nappe_build_is_modified (build));
  nappe_build_set_number (build, build->tank, "height", 0.7, NULL);
  g_assert_true (nappe_build_is_modified (build));
  copy = nappe_build_copy (build);
  g_assert_false (nappe_build_is_modified (copy));
  g_assert_false (nappe_build_can_undo (copy));
  nappe_build_undo (build);
  g_assert_false (nappe_build_is_modified (build));
}

/* Sets every number of every part to its ends; undoing all restores the build. */
static void
visit_ends (NappePart *part, gpointer data)
{
  NappeBuild *build = data;
  const NappePartClass *klass = NAPPE_PART_GET_CLASS (part);

  for (gsize i = 0; i < klass->n_fields; i++)
    if (klass->fields[i].type == NAPPE_FIELD_NUMBER)
      {
        g_assert_true (nappe_build_set_number (build, part, klass->fields[i].name, klass->fields[i].minimum, NULL));
        g_assert_true (nappe_build_set_number (build, part, klass->fields[i].name, klass->fields[i].maximum, NULL));
      }
}

static void
test_undo_everything (Fixture *fixture, gconstpointer data)
{
  NappeBuild *build = fixture->build;
  g_autoptr (NappeBuild) before = nappe_build_copy (build);
  g_autoptr (NappeBuild) after = NULL;
  guint steps = 0;

  nappe_build_begin (build, "Mark");
  nappe_build_rename_part (build, build->tank, "Mark", NULL);
  nappe_build_commit (build);
  nappe_part_visit (NAPPE_PART (build), visit_ends, build);
  after = nappe_build_copy (build);
  while (strcmp (nappe_build_undo_label (build), "Mark") != 0)
    {
      nappe_build_undo (build);
      steps++;
    }
  nappe_build_undo (build);
  g_assert_cmpuint (steps, >, 100);
  g_assert_true (nappe_part_equal (NAPPE_PART (build), NAPPE_PART (before)));
  while (nappe_build_can_redo (build))
    nappe_build_redo (build);
  g_assert_true (nappe_part_equal (NAPPE_PART (build), NAPPE_PART (after)));
}

static void
test_free_ids (Fixture *fixture, gconstpointer data)
{
  g_autofree char *drain = nappe_build_free_id (fixture->build, "drain");
  g_autofree char *note = nappe_build_free_id (fixture->build, "note");

  g_assert_cmpstr (drain, ==, "drain-2");
  g_assert_cmpstr (note, ==, "note-1");
}

int
main (int argc, char **argv)
{
  static const struct
  {
    const char *path;
    void (*test) (Fixture *, gconstpointer);
  } tests[] = {
    { "/editing/new-ids", test_new_ids },
    { "/editing/set", test_set },
    { "/editing/set-refused", test_set_refused },
    { "/editing/snap", test_snap },
    { "/editing/rename", test_rename },
    { "/editing/insert-refused", test_insert_refused },
    { "/editing/list-limit", test_list_limit },
    { "/editing/remove", test_remove },
    { "/editing/move", test_move },
    { "/editing/transaction", test_transaction },
    { "/editing/saved", test_saved },
    { "/editing/undo-everything", test_undo_everything },
    { "/editing/free-ids", test_free_ids },
  };

  g_test_init (&argc, &argv, NULL);
  for (gsize i = 0; i < G_N_ELEMENTS (tests); i++)
    g_test_add (tests[i].path, Fixture, NULL, set_up, tests[i].test, tear_down);
  return g_test_run ();
}
