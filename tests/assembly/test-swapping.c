/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Other items in the place of some: what joined before still joins, or it is said why it cannot; one step that comes
 * back whole. */
#include "assembly/assembly.h"

#include "../demo-build.h"

static guint
count_misfits (NappeBuild *build)
{
  g_autoptr (NappeStudy) study = nappe_study_build (build, demo_shared_catalogue ());
  g_autoptr (NappeVerdict) verdict = nappe_rules_run (build, study, NAPPE_UNITS_METRIC);
  static const char *const rules[] = { "joints-fit", "hose-bore", "push-tube", "build-incomplete", "route-mismatch", NULL };
  guint n = study->network->n_problems;

  for (guint i = 0; i < verdict->findings->len; i++)
    if (g_strv_contains (rules, nappe_finding_get_rule (verdict->findings->pdata[i])))
      {
        g_test_message ("%s (%s)", nappe_finding_get_title (verdict->findings->pdata[i]),
                        nappe_finding_get_part (verdict->findings->pdata[i]));
        n++;
      }
  return n;
}

static void
check_undo (NappeBuild *build, const char *before)
{
  g_autofree char *after = NULL;

  nappe_build_undo (build);
  g_assert_false (nappe_build_can_undo (build));
  after = nappe_file_write_text (build, NULL);
  g_assert_cmpstr (after, ==, before);
}

/* Every line of the builds, to sizes smaller and larger, to metric pipe and to hose. */
static void
test_lines (gconstpointer name)
{
  const char *const pipes[] = { "pvc40-pipe-0.75", "pvc40-pipe-1", "pvc40-pipe-1.25", "pvc40-pipe-1.5", "pvc40-pipe-2",
                                "pvc80-pipe-1",    "pvcm-pipe-32", "pvcm-pipe-50",    "hose-vinyl-25" };
  guint done = 0, refused = 0;

  for (guint list = 0; list < 2; list++)
    for (guint i = 0;; i++)
      {
        g_autoptr (NappeBuild) build = demo_read (name);
        g_autofree char *before = nappe_file_write_text (build, NULL);
        GPtrArray *lines = list == 0 ? build->drains : build->returns;
        if (i >= lines->len)
          break;
        guint misfits = count_misfits (build);
        for (gsize p = 0; p < G_N_ELEMENTS (pipes); p++)
          {
            g_autoptr (GError) error = NULL;
            g_assert_nonnull (nappe_catalogue_find (demo_shared_catalogue (), pipes[p]));
            gboolean was = nappe_assembly_resize_line (build, demo_shared_catalogue (), lines->pdata[i], pipes[p], &error);
            if (!was)
              {
                g_assert_error (error, NAPPE_ASSEMBLY_ERROR, NAPPE_ASSEMBLY_ERROR_ITEM);
                g_test_message ("%s of %s: %s", pipes[p], nappe_part_get_id (lines->pdata[i]), error->message);
                g_assert_false (nappe_build_can_undo (build));
                refused++;
                continue;
              }
            g_test_message ("%s of %s", pipes[p], nappe_part_get_id (lines->pdata[i]));
            if (!nappe_build_can_undo (build))
              continue;
            done++;
            g_assert_cmpstr (nappe_assembly_line_pipe (demo_shared_catalogue (), lines->pdata[i])->id, ==, pipes[p]);
            g_assert_cmpuint (count_misfits (build), <=, misfits);
            check_undo (build, before);
          }
      }
  g_assert_cmpuint (done, >, refused);
}

static NappePart *
find (NappeBuild *build, const char *id)
{
  NappePart *part = nappe_build_find (build, id);

  g_assert_nonnull (part);
  return part;
}

static void
swap (NappeBuild *build, const char *part, const char *item)
{
  g_autoptr (GError) error = NULL;

  g_assert_true (nappe_assembly_swap_item (build, demo_shared_catalogue (), find (build, part), item, &error));
  g_assert_no_error (error);
}

/* One wider pipe gets a reducer at each end; when it is narrow again, none is left. */
static void
test_one_pipe (void)
{
  g_autoptr (NappeBuild) build = demo_read ("three-drain");
  g_autofree char *before = nappe_file_write_text (build, NULL);
  NappeDrain *siphon = build->drains->pdata[0];
  guint n = siphon->run->len, index, misfits = count_misfits (build);

  swap (build, "siphon-pipe-5", "pvc40-pipe-1.5");
  g_assert_cmpuint (siphon->run->len, ==, n + 2);
  g_assert_true (g_ptr_array_find (siphon->run, find (build, "siphon-pipe-5"), &index));
  g_assert_cmpstr (NAPPE_PIECE (siphon->run->pdata[index - 1])->item, ==, "pvc40-reducer-1.5x1");
  g_assert_cmpstr (NAPPE_PIECE (siphon->run->pdata[index + 1])->item, ==, "pvc40-reducer-1.5x1");
  g_assert_cmpuint (count_misfits (build), ==, misfits);
  check_undo (build, before);
  nappe_build_redo (build);
  swap (build, "siphon-pipe-5", "pvc40-pipe-1");
  g_assert_cmpuint (siphon->run->len, ==, n);
  g_assert_cmpuint (count_misfits (build), ==, misfits);
  nappe_build_undo (build);
  check_undo (build, before);
}

/* A valve of another kind, and one of another size. */
static void
test_valve (void)
{
  g_autoptr (NappeBuild) build = demo_read ("three-drain");
  NappeDrain *siphon = build->drains->pdata[0];
  guint n = siphon->run->len, misfits = count_misfits (build);

  swap (build, "siphon-valve", "pvc40-ball-valve-1");
  g_assert_cmpuint (siphon->run->len, ==, n);
  swap (build, "siphon-valve", "pvc40-gate-valve-1.5");
  g_assert_cmpuint (siphon->run->len, ==, n + 2);
  g_assert_cmpuint (count_misfits (build), ==, misfits);
}

static void
refuse (const char *part, const char *item, NappeAssemblyError code, const char *message)
{
  g_autoptr (NappeBuild) build = demo_read ("three-drain");
  g_autoptr (GError) error = NULL;

  g_assert_false (nappe_assembly_swap_item (build, demo_shared_catalogue (), find (build, part), item, &error));
  g_assert_error (error, NAPPE_ASSEMBLY_ERROR, (int) code);
  g_assert_cmpstr (error->message, ==, message);
  g_assert_false (nappe_build_can_undo (build));
}

static void
test_refused (void)
{
  refuse ("refugium-tee", "pvc40-elbow90-1", NAPPE_ASSEMBLY_ERROR_UNFIT,
          "A branch begins or ends at this tee: take it out first");
  refuse ("siphon-pipe-5", "pvc40-elbow90-1", NAPPE_ASSEMBLY_ERROR_UNFIT,
          "A pipe gives way to a pipe or hose, a fitting or valve to another one");
  refuse ("siphon-pipe-5", "dc-pump-6000", NAPPE_ASSEMBLY_ERROR_UNFIT,
          "A pipe gives way to a pipe or hose, a fitting or valve to another one");
  refuse ("siphon-pipe-5", "no-such-pipe", NAPPE_ASSEMBLY_ERROR_ITEM, "The catalogue has no item “no-such-pipe”");
}

/* A pump's own numbers go with it. */
static void
test_pump (void)
{
  g_autoptr (NappeBuild) build = demo_read ("three-drain");
  g_autofree char *before = nappe_file_write_text (build, NULL);
  NappePart *pump = NAPPE_RETURN_LINE (build->returns->pdata[0])->pump;
  g_autoptr (GError) error = NULL;

  g_assert_true (nappe_assembly_swap_item (build, demo_shared_catalogue (), pump, "ac-pump-2000", &error));
  g_assert_no_error (error);
  g_assert_false (nappe_is_given (NAPPE_PUMP (pump)->inlet_bore));
  g_assert_cmpfloat (NAPPE_PUMP (pump)->speed, ==, 1);
  check_undo (build, before);
}

/* The drains of a box as a whole: parts meet as before, no inlet stands above the weir, each role is there once. */
static void
test_drain_sets (gconstpointer name)
{
  const guint siphon = NAPPE_DRAIN_ROLE_BIT (NAPPE_DRAIN_SIPHON), channel = NAPPE_DRAIN_ROLE_BIT (NAPPE_DRAIN_OPEN_CHANNEL),
              emergency = NAPPE_DRAIN_ROLE_BIT (NAPPE_DRAIN_EMERGENCY), standpipe = NAPPE_DRAIN_ROLE_BIT (NAPPE_DRAIN_STANDPIPE);
  const guint sets[] = { siphon | channel | emergency, siphon | emergency, standpipe | emergency };
  guint done = 0;
  gboolean small = FALSE;

  for (gsize i = 0; i < G_N_ELEMENTS (sets); i++)
    {
      g_autoptr (NappeBuild) build = demo_read (name);
      g_autofree char *before = nappe_file_write_text (build, NULL);
      NappeOverflow *box = build->overflows->pdata[0];
      guint misfits = count_misfits (build), roles = 0;
      double siphon_crest = 0, emergency_crest = 0;
      g_autoptr (GError) error = NULL;

      if (!nappe_assembly_set_drains (build, demo_shared_catalogue (), nappe_part_get_id (NAPPE_PART (box)), sets[i], &error))
        {
          small = small || g_error_matches (error, NAPPE_ASSEMBLY_ERROR, NAPPE_ASSEMBLY_ERROR_ROOM);
          g_assert_true (small || g_str_has_suffix (error->message, "has these drains already"));
          continue;
        }
      for (guint d = 0; d < build->drains->len; d++)
        {
          const NappeDrain *drain = build->drains->pdata[d];
          if (!g_str_equal (drain->overflow, nappe_part_get_id (NAPPE_PART (box))))
            continue;
          roles |= NAPPE_DRAIN_ROLE_BIT (drain->role);
          g_assert_cmpfloat (box->floor_height + drain->crest_height, <, box->weir_height);
          if (drain->role == NAPPE_DRAIN_EMERGENCY)
            emergency_crest = drain->crest_height;
          if (drain->role == NAPPE_DRAIN_SIPHON)
            siphon_crest = drain->crest_height;
        }
      g_assert_cmpuint (roles, ==, sets[i]);
      g_assert_cmpfloat (emergency_crest, >, siphon_crest + 0.02);
      g_assert_cmpuint (count_misfits (build), <=, misfits);
      check_undo (build, before);
      done++;
    }
  g_assert_true (done >= 2 || small);
}

/* A copy joins as its model did, or has no room in its box. */
static void
check_copy (NappeBuild *build, NappePart *copy, guint misfits, const char *before, GError **error)
{
  if (copy == NULL)
    {
      g_assert_error (*error, NAPPE_ASSEMBLY_ERROR, NAPPE_ASSEMBLY_ERROR_ROOM);
      g_assert_false (nappe_build_can_undo (build));
      g_clear_error (error);
      return;
    }
  g_assert_no_error (*error);
  g_assert_cmpuint (count_misfits (build), <=, misfits);
  check_undo (build, before);
}

/* Copies of lines, beside themselves and in other builds, end in what they lead to. */
static void
copy_lines (NappeBuild *build, GPtrArray *lines)
{
  const char *const others[] = { "single-drain", "two-drain", "three-drain" };

  for (guint i = 0; i < lines->len; i++)
    {
      g_autofree char *text = nappe_assembly_copy (lines->pdata[i]), *before = nappe_file_write_text (build, NULL);
      guint misfits = count_misfits (build);
      g_autoptr (GError) error = NULL;

      check_copy (build, nappe_assembly_duplicate (build, demo_shared_catalogue (), lines->pdata[i], &error), misfits,
                  before, &error);
      for (gsize k = 0; k < G_N_ELEMENTS (others); k++)
        {
          g_autoptr (NappeBuild) other = demo_read (others[k]);
          g_autofree char *other_before = nappe_file_write_text (other, NULL);
          misfits = count_misfits (other);
          check_copy (other, nappe_assembly_paste (other, demo_shared_catalogue (), text, NULL, &error), misfits,
                      other_before, &error);
        }
    }
}

static void
test_copies (gconstpointer name)
{
  g_autoptr (NappeBuild) build = demo_read (name);

  copy_lines (build, build->drains);
  copy_lines (build, build->returns);
}

static void
remove_and_tell (const char *name, const char *part, const char *words)
{
  g_autoptr (NappeBuild) build = demo_read (name), before = nappe_build_copy (build);
  g_autoptr (GError) error = NULL;
  g_autofree char *text = NULL;

  g_assert_true (nappe_assembly_remove (build, demo_shared_catalogue (), find (build, part), &error));
  g_assert_no_error (error);
  text = nappe_assembly_tell_removed (before, build, part);
  g_assert_cmpstr (text, ==, words);
}

/* What goes along is named, but not each piece of pipe. */
static void
test_removed_words (void)
{
  remove_and_tell ("three-drain", "heater-left", "“First heater” is removed");
  remove_and_tell ("three-drain", "emergency", "“Emergency drain” is removed");
  remove_and_tell ("three-drain", "box",
                   "“Overflow box” is removed, and with it “Main siphon”, “Open channel”, “Emergency drain”");
  remove_and_tell ("three-drain", "nozzle-tee", "“Tee of the nozzles” is removed, and with it “Left nozzle”");
  remove_and_tell ("three-drain", "sock-chamber", "“Sock chamber” is removed, and with it “Sock wall”");
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  for (gsize i = 0; i < G_N_ELEMENTS (drawn_names); i++)
    {
      g_autofree char *path = g_strconcat ("/assembly/swapping/lines/", drawn_names[i], NULL);
      g_autofree char *sets = g_strconcat ("/assembly/swapping/drains/", drawn_names[i], NULL);
      g_test_add_data_func (path, drawn_names[i], test_lines);
      g_test_add_data_func (sets, drawn_names[i], test_drain_sets);
    }
  g_test_add_func ("/assembly/swapping/one-pipe", test_one_pipe);
  g_test_add_func ("/assembly/swapping/valve", test_valve);
  g_test_add_func ("/assembly/swapping/refused", test_refused);
  g_test_add_func ("/assembly/swapping/pump", test_pump);
  g_test_add_data_func ("/assembly/swapping/copies/single-drain", "single-drain", test_copies);
  g_test_add_data_func ("/assembly/swapping/copies/two-drain", "two-drain", test_copies);
  g_test_add_data_func ("/assembly/swapping/copies/three-drain", "three-drain", test_copies);
  g_test_add_func ("/assembly/swapping/removed-words", test_removed_words);
  return g_test_run ();
}
