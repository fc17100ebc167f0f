/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Whatever is added, taken away or copied leaves a build that can be studied and read back, as one step that comes back
 * whole by undoing. */
#include "assembly/assembly.h"

#include <math.h>

#include "../demo-build.h"
#include "network/layout.h"
#include "rules/rules.h"

static const char *const demos[] = { "single-drain", "two-drain", "three-drain" };

static NappeVerdict *
judge (NappeBuild *build)
{
  g_autoptr (NappeStudy) study = nappe_study_build (build, demo_shared_catalogue ());

  g_assert_cmpuint (study->network->n_problems, ==, 0);
  return nappe_rules_run (build, study, NAPPE_UNITS_METRIC);
}

static guint
count_findings (const NappeVerdict *verdict, const char *rule)
{
  guint n = 0;

  for (guint i = 0; i < verdict->findings->len; i++)
    {
      NappeFinding *finding = verdict->findings->pdata[i];
      g_autofree char *text = NULL;

      n += rule == NULL || g_str_equal (nappe_finding_get_rule (finding), rule);
      if (rule == NULL)
        g_test_message ("%s: %s (%s)", nappe_finding_get_rule (finding), nappe_finding_get_title (finding),
                        nappe_finding_get_part (finding));
    }
  return n;
}

/* The build can be studied, and written and read back; undoing gives back the text from before. */
static void
check_step (NappeBuild *build, const char *before, const char *label)
{
  gsize length;
  g_autofree char *after = nappe_file_write_text (build, &length), *again = NULL;
  g_autoptr (GError) error = NULL;
  g_autoptr (NappeBuild) copy = nappe_file_read_text (after, length, "step", &error);
  g_autoptr (NappeVerdict) verdict = judge (build);

  g_assert_no_error (error);
  g_assert_cmpstr (after, !=, before);
  g_assert_cmpstr (nappe_build_undo_label (build), ==, label);
  g_assert_cmpuint (verdict->findings->len + verdict->fine->len, >, 0);
  nappe_build_undo (build);
  again = nappe_file_write_text (build, NULL);
  g_assert_cmpstr (again, ==, before);
  g_assert_false (nappe_build_can_undo (build));
  nappe_build_redo (build);
  g_free (again);
  again = nappe_file_write_text (build, NULL);
  g_assert_cmpstr (again, ==, after);
}

/* ---- drains ---- */

static void
test_two_to_three (void)
{
  g_autoptr (NappeBuild) build = demo_read ("two-drain");
  g_autofree char *before = nappe_file_write_text (build, NULL);
  g_autoptr (NappeVerdict) old = judge (build);
  g_autoptr (GError) error = NULL;
  NappeDrain *channel
      = nappe_assembly_add_drain (build, demo_shared_catalogue (), "box", NAPPE_DRAIN_OPEN_CHANNEL, NULL, NULL, &error);
  const NappeDrain *siphon = build->drains->pdata[0], *emergency = build->drains->pdata[1];

  g_assert_no_error (error);
  g_assert_cmpfloat (channel->crest_height, >, siphon->crest_height);
  g_assert_cmpfloat (channel->crest_height, <, emergency->crest_height);
  check_step (build, before, "Add “Open channel”");
  g_autoptr (NappeVerdict) now = judge (build);
  count_findings (old, NULL);
  g_test_message ("-- now --");
  count_findings (now, NULL);
  g_assert_cmpuint (count_findings (old, "tuning-window") + count_findings (old, "emergency-misplaced"), >, 0);
  g_assert_cmpuint (now->n_problem + now->n_danger, <, old->n_problem + old->n_danger);
  g_assert_cmpuint (now->findings->len, <, old->findings->len);
}

/* ---- the sump ---- */

static NappePart *
find (NappeBuild *build, const char *id)
{
  NappePart *part = nappe_build_find (build, id);

  g_assert_nonnull (part);
  return part;
}

static double
length_of_sump (NappeBuild *build)
{
  const NappeSump *sump = NAPPE_BUILD_SUMP (build);
  double length = 0;

  for (guint i = 0; i < sump->chambers->len; i++)
    length += NAPPE_CHAMBER (sump->chambers->pdata[i])->length;
  for (guint i = 0; i < sump->baffles->len; i++)
    length += NAPPE_BAFFLE (sump->baffles->pdata[i])->thickness;
  return length;
}

/* Beside each chamber on both sides: chambers and walls still fill the sump, or it is said that there is no room. */
static void
test_chambers (void)
{
  guint divided = 0;

  for (gsize d = 0; d < G_N_ELEMENTS (demos); d++)
    for (guint i = 0;; i++)
      {
        g_autoptr (NappeBuild) build = demo_read (demos[d]);
        NappeSump *sump = NAPPE_BUILD_SUMP (build);
        if (i >= 2 * sump->chambers->len)
          break;
        g_autofree char *before = nappe_file_write_text (build, NULL);
        double length = length_of_sump (build);
        guint n = sump->chambers->len;
        g_autoptr (GError) error = NULL;
        NappeChamber *chamber = nappe_assembly_add_chamber (build, demo_shared_catalogue (), sump->chambers->pdata[i / 2], i % 2,
                                                            NAPPE_CHAMBER_REACTOR, &error);

        if (chamber == NULL)
          {
            g_assert_error (error, NAPPE_ASSEMBLY_ERROR, NAPPE_ASSEMBLY_ERROR_ROOM);
            g_assert_false (nappe_build_can_undo (build));
            continue;
          }
        g_assert_cmpuint (sump->chambers->len, ==, n + 1);
        g_assert_cmpuint (sump->baffles->len, ==, n);
        g_assert_cmpfloat_with_epsilon (length_of_sump (build), length, 2e-4);
        {
          g_autoptr (NappeVerdict) now = judge (build);
          g_assert_cmpuint (count_findings (now, "route-mismatch"), ==, 0);
          g_assert_cmpuint (count_findings (now, "equipment-outside"), ==, 0);
        }
        check_step (build, before, "Add “Reactor chamber”");
        divided++;
        g_assert_true (nappe_assembly_remove (build, demo_shared_catalogue (), NAPPE_PART (chamber), &error));
        g_assert_no_error (error);
        g_assert_cmpuint (sump->baffles->len + 1, ==, sump->chambers->len);
        g_assert_cmpfloat_with_epsilon (length_of_sump (build), length, 2e-4);
      }
  g_assert_cmpuint (divided, >=, 8);
}

/* What stood in a chamber that goes stands in its neighbour, at the same place in the sump. */
static void
test_chamber_leaves_all (void)
{
  g_autoptr (NappeBuild) build = demo_read ("two-drain");
  g_autofree char *before = nappe_file_write_text (build, NULL);
  const NappeEquipment *skimmer = NAPPE_EQUIPMENT (find (build, "skimmer"));
  g_autoptr (GError) error = NULL;

  g_assert_true (nappe_assembly_remove (build, demo_shared_catalogue (), find (build, "drain-chamber"), &error));
  g_assert_no_error (error);
  g_assert_null (nappe_build_find (build, "drain-wall"));
  g_assert_cmpstr (NAPPE_OUTLET (find (build, "siphon-end"))->into, ==, "skimmer-chamber");
  /* 30 mm, and the 160 mm and the wall of 6 mm that were left of it. */
  g_assert_cmpfloat_with_epsilon (skimmer->x, 0.196, 1e-6);
  check_step (build, before, "Remove “Drain chamber”");
  g_assert_false (nappe_assembly_remove (build, demo_shared_catalogue (), find (build, "return-chamber"), &error));
  g_assert_error (error, NAPPE_ASSEMBLY_ERROR, NAPPE_ASSEMBLY_ERROR_UNFIT);
}

static void
test_equipment (void)
{
  g_autoptr (GPtrArray) items = nappe_catalogue_of_kind (demo_shared_catalogue (), NAPPE_ITEM_EQUIPMENT);
  guint added = 0;

  for (gsize d = 0; d < G_N_ELEMENTS (demos); d++)
    for (guint i = 0; i < items->len; i++)
      {
        g_autoptr (NappeBuild) build = demo_read (demos[d]);
        g_autofree char *before = nappe_file_write_text (build, NULL), *label = NULL;
        const NappeItem *item = items->pdata[i];
        g_autoptr (GError) error = NULL;
        NappeEquipment *part = nappe_assembly_add_equipment (build, demo_shared_catalogue (), item->id, NULL, &error);

        if (part == NULL)
          {
            g_assert_error (error, NAPPE_ASSEMBLY_ERROR, NAPPE_ASSEMBLY_ERROR_ROOM);
            continue;
          }
        added++;
        label = g_strdup_printf ("Add “%s”", nappe_part_display_name (NAPPE_PART (part)));
        check_step (build, before, label);
      }
  g_assert_cmpuint (added, >, 2 * items->len);
}

static void
test_no_room_for_equipment (void)
{
  g_autoptr (NappeBuild) build = demo_read ("two-drain");
  g_autoptr (GError) error = NULL;

  g_assert_null (nappe_assembly_add_equipment (build, demo_shared_catalogue (), "skimmer-large",
                                               find (build, "trap-fall"), &error));
  g_assert_error (error, NAPPE_ASSEMBLY_ERROR, NAPPE_ASSEMBLY_ERROR_ROOM);
  g_assert_cmpstr (error->message, ==, "“Large protein skimmer” is too large for “Bubble trap, falling side”");
  g_clear_error (&error);
  g_assert_null (nappe_assembly_add_equipment (build, demo_shared_catalogue (), "pvc40-pipe-1", NULL, &error));
  g_assert_error (error, NAPPE_ASSEMBLY_ERROR, NAPPE_ASSEMBLY_ERROR_ITEM);
  g_assert_false (nappe_build_can_undo (build));
}

/* ---- returns ---- */

static void
test_returns (void)
{
  for (gsize d = 0; d < G_N_ELEMENTS (demos); d++)
    {
      g_autoptr (NappeBuild) build = demo_read (demos[d]);
      g_autofree char *before = nappe_file_write_text (build, NULL), *label = NULL;
      g_autoptr (GError) error = NULL;
      NappeReturnLine *line = nappe_assembly_add_return (build, demo_shared_catalogue (), "ac-pump-2000", &error);

      g_assert_no_error (error);
      label = g_strdup_printf ("Add “%s”", nappe_part_display_name (NAPPE_PART (line)));
      check_step (build, before, label);
      g_autoptr (NappeStudy) study = nappe_study_build (build, demo_shared_catalogue ());
      g_assert_cmpfloat (nappe_study_pump (study, nappe_part_get_id (line->pump))->flow, >, 0);
    }
}

static void
test_branches (void)
{
  for (gsize d = 0; d < G_N_ELEMENTS (demos); d++)
    {
      g_autoptr (NappeBuild) build = demo_read (demos[d]);
      g_autofree char *before = nappe_file_write_text (build, NULL), *label = NULL;
      NappeReturnLine *line = build->returns->pdata[0];
      g_autoptr (GError) error = NULL;
      NappeOutlet *outlet = nappe_assembly_add_branch (build, demo_shared_catalogue (), line, &error);

      /* A hose has no tees. */
      if (d == 0)
        {
          g_assert_error (error, NAPPE_ASSEMBLY_ERROR, NAPPE_ASSEMBLY_ERROR_ROOM);
          continue;
        }
      g_assert_no_error (error);
      g_assert_true (NAPPE_IS_PIECE (find (build, outlet->tee)));
      label = g_strdup_printf ("Add “%s”", nappe_part_display_name (NAPPE_PART (outlet)));
      check_step (build, before, label);
      g_autoptr (NappeLayout) layout = nappe_layout_new (build, demo_shared_catalogue ());
      const NappeLineLayout *place = &layout->returns[0];
      const NappePoint *end = &place->outlets[place->n_outlets - 1].route.end;
      g_assert_cmpfloat_with_epsilon (end->z, place->outlets[0].route.end.z, 0.003);
      g_assert_cmpfloat (end->y, <, layout->tank.back);
      g_assert_cmpfloat (end->x, >, layout->tank.left);
      g_assert_cmpfloat (end->x, <, layout->tank.right);
      /* The branch goes with its tee, and the pipe is whole again. */
      g_assert_true (nappe_assembly_remove (build, demo_shared_catalogue (), NAPPE_PART (outlet), &error));
      g_autofree char *again = nappe_file_write_text (build, NULL);
      g_assert_cmpstr (again, ==, before);
    }
}

/* Without its end a trunk ends where its last branch goes on. */
static void
test_remove_end (void)
{
  g_autoptr (NappeBuild) build = demo_read ("three-drain");
  g_autofree char *before = nappe_file_write_text (build, NULL);
  g_autoptr (GError) error = NULL;

  g_assert_true (nappe_assembly_remove (build, demo_shared_catalogue (), find (build, "right-nozzle"), &error));
  g_assert_no_error (error);
  g_assert_cmpstr (NAPPE_OUTLET (find (build, "left-nozzle"))->tee, ==, "");
  g_assert_cmpstr (NAPPE_PIECE (find (build, "nozzle-tee"))->item, ==, "pvc40-elbow90-1");
  check_step (build, before, "Remove “Right nozzle”");
  g_assert_false (nappe_assembly_remove (build, demo_shared_catalogue (), find (build, "left-nozzle"), &error));
  g_assert_error (error, NAPPE_ASSEMBLY_ERROR, NAPPE_ASSEMBLY_ERROR_UNFIT);
}

static void
test_replace_pump (void)
{
  g_autoptr (NappeBuild) build = demo_read ("three-drain");
  g_autofree char *before = nappe_file_write_text (build, NULL);
  NappePump *pump = NAPPE_PUMP (find (build, "return-pump"));
  g_autoptr (GError) error = NULL;

  g_assert_true (nappe_assembly_replace_pump (build, demo_shared_catalogue (), pump, "ac-pump-5000", &error));
  g_assert_no_error (error);
  g_assert_cmpfloat (pump->speed, ==, 1);
  g_assert_false (nappe_is_given (pump->inlet_bore));
  check_step (build, before, "Replace “Return pump”");
}

static void
test_side_vessel (void)
{
  for (gsize d = 0; d < G_N_ELEMENTS (demos); d++)
    {
      g_autoptr (NappeBuild) build = demo_read (demos[d]);
      g_autofree char *before = nappe_file_write_text (build, NULL);
      g_autoptr (NappeVerdict) old = judge (build);
      g_autoptr (GError) error = NULL;
      NappeSideVessel *vessel = nappe_assembly_add_side_vessel (build, demo_shared_catalogue (), &error);

      g_assert_no_error (error);
      check_step (build, before, "Add “Side refugium”");
      g_autoptr (NappeStudy) study = nappe_study_build (build, demo_shared_catalogue ());
      const NappeReturnLine *feed = build->returns->pdata[build->returns->len - 1];
      g_assert_cmpfloat (nappe_study_pump (study, nappe_part_get_id (feed->pump))->flow, >, 1e-5);
      g_autoptr (NappeVerdict) now = judge (build);
      g_test_message ("== %s", demos[d]);
      count_findings (now, NULL);
      /* It comes complete: lit, and fed slowly, by a pump that does not draw air. */
      g_assert_cmpuint (count_findings (now, "refugium-light") + count_findings (now, "refugium-flow"), ==, 0);
      g_assert_cmpuint (count_findings (now, "pump-inlet-submergence"), ==, count_findings (old, "pump-inlet-submergence"));
      g_assert_true (nappe_assembly_remove (build, demo_shared_catalogue (), NAPPE_PART (vessel), &error));
      g_autofree char *again = nappe_file_write_text (build, NULL);
      g_assert_cmpstr (again, ==, before);
    }
}

/* ---- pieces ---- */

static void
test_pieces (void)
{
  g_autoptr (NappeBuild) build = demo_read ("two-drain");
  g_autofree char *before = nappe_file_write_text (build, NULL), *again = NULL;
  NappePart *pipe = find (build, "siphon-pipe-2");
  g_autoptr (GError) error = NULL;
  NappePiece *joint = nappe_assembly_add_piece (build, demo_shared_catalogue (), pipe, "pvc40-union-2", &error);
  guint index;

  g_assert_no_error (error);
  /* The union takes the pipe's size, and the line keeps its way. */
  g_assert_cmpstr (joint->item, ==, "pvc40-union-1.25");
  g_assert_cmpfloat_with_epsilon (NAPPE_PIECE (pipe)->length, 0.235, 1e-9);
  nappe_part_place (NAPPE_PART (joint), &index);
  g_assert_cmpuint (index, ==, 3);
  g_assert_cmpfloat_with_epsilon (NAPPE_PIECE (NAPPE_DRAIN (build->drains->pdata[0])->run->pdata[4])->length, 0.235, 1e-9);
  check_step (build, before, "Add “Union, 1-1/4 in”");
  joint = NAPPE_DRAIN (build->drains->pdata[0])->run->pdata[3];
  g_assert_true (nappe_assembly_remove (build, demo_shared_catalogue (), NAPPE_PART (joint), &error));
  again = nappe_file_write_text (build, NULL);
  g_assert_cmpstr (again, ==, before);
  /* At a line: at its end; at a fitting: behind it. */
  NappePiece *end = nappe_assembly_add_piece (build, demo_shared_catalogue (), find (build, "siphon"), "pvc40-elbow45-1", &error);
  g_assert_cmpstr (end->item, ==, "pvc40-elbow45-1.25");
  nappe_part_place (NAPPE_PART (end), &index);
  g_assert_cmpuint (index, ==, 9);
  g_assert_null (nappe_assembly_add_piece (build, demo_shared_catalogue (), build->tank, "pvc40-elbow45-1", &error));
  g_assert_error (error, NAPPE_ASSEMBLY_ERROR, NAPPE_ASSEMBLY_ERROR_UNFIT);
}

/* ---- everything can go, and everything can be copied ---- */

static void
collect (NappePart *part, gpointer ids)
{
  if (nappe_assembly_can_remove (part))
    g_ptr_array_add (ids, g_strdup (nappe_part_get_id (part)));
}

static void
test_remove_each (void)
{
  g_autoptr (NappeBuild) model = demo_read ("three-drain");
  g_autoptr (GPtrArray) ids = g_ptr_array_new_with_free_func (g_free);
  g_autofree char *before = nappe_file_write_text (model, NULL);
  gsize length;
  guint removed = 0;

  nappe_part_visit (NAPPE_PART (model), collect, ids);
  for (guint i = 0; i < ids->len; i++)
    {
      g_autoptr (NappeBuild) build = nappe_build_copy (model);
      g_autoptr (GError) error = NULL;

      if (!nappe_assembly_remove (build, demo_shared_catalogue (), find (build, ids->pdata[i]), &error))
        {
          g_assert_nonnull (error);
          g_assert_false (nappe_build_can_undo (build));
          continue;
        }
      removed++;
      g_assert_null (nappe_build_find (build, ids->pdata[i]));
      g_autofree char *text = nappe_file_write_text (build, &length), *again = NULL;
      g_autoptr (NappeBuild) copy = nappe_file_read_text (text, length, ids->pdata[i], &error);
      g_assert_no_error (error);
      nappe_build_undo (build);
      again = nappe_file_write_text (build, NULL);
      g_assert_cmpstr (again, ==, before);
    }
  g_assert_cmpuint (removed + 6, >, ids->len);
}

static void
test_copies (void)
{
  g_autoptr (NappeBuild) model = demo_read ("three-drain");
  g_autoptr (GPtrArray) ids = g_ptr_array_new_with_free_func (g_free);
  guint copied = 0;

  nappe_part_visit (NAPPE_PART (model), collect, ids);
  for (guint i = 0; i < ids->len; i++)
    {
      NappePart *part = find (model, ids->pdata[i]);
      g_autofree char *text = nappe_assembly_copy (part);
      g_autoptr (NappeBuild) build = demo_read ("two-drain");
      g_autofree char *before = nappe_file_write_text (build, NULL);
      g_autoptr (GError) error = NULL;
      NappePart *at = NAPPE_IS_PIECE (part)        ? find (build, "return")
                      : NAPPE_IS_TRIAL_STEP (part) ? find (build, "quiet-evening")
                                                   : NULL;
      if (text == NULL)
        continue;
      NappePart *copy = nappe_assembly_paste (build, demo_shared_catalogue (), text, at, &error);

      g_assert_no_error (error);
      copied++;
      g_assert_true (G_OBJECT_TYPE (copy) == G_OBJECT_TYPE (part));
      g_assert_true (nappe_build_find (build, nappe_part_get_id (copy)) == copy);
      g_autofree char *label = g_strdup_printf ("Add the copy “%s”", nappe_part_display_name (copy));
      check_step (build, before, label);
    }
  g_assert_cmpuint (copied, >, 40);
}

static void
test_duplicates (void)
{
  g_autoptr (NappeBuild) model = demo_read ("two-drain");
  g_autoptr (GPtrArray) ids = g_ptr_array_new_with_free_func (g_free);
  guint made = 0;

  nappe_part_visit (NAPPE_PART (model), collect, ids);
  for (guint i = 0; i < ids->len; i++)
    {
      g_autoptr (NappeBuild) build = nappe_build_copy (model);
      g_autofree char *before = nappe_file_write_text (build, NULL);
      g_autoptr (GError) error = NULL;
      NappePart *copy = nappe_assembly_duplicate (build, demo_shared_catalogue (), find (build, ids->pdata[i]), &error);

      if (copy == NULL)
        {
          g_assert_nonnull (error);
          g_assert_false (nappe_build_can_undo (build));
          continue;
        }
      made++;
      g_assert_cmpstr (nappe_part_get_id (copy), !=, ids->pdata[i]);
      check_step (build, before, nappe_build_undo_label (build));
    }
  g_assert_cmpuint (made, >, 20);
}

/* What comes over the clipboard may be anything. */
static void
test_foreign_text (void)
{
  static const char *const texts[] = {
    "", "hello", "{", "[]", "{}", "null", "{\"format\": \"nappe-part\"}",
    "{\"format\": \"nappe-part\", \"kind\": \"build\", \"part\": {}}",
    "{\"format\": \"nappe-part\", \"kind\": \"wheel\", \"part\": {}}",
    "{\"format\": \"nappe-part\", \"kind\": \"drain\", \"part\": []}",
    "{\"format\": \"nappe-part\", \"kind\": \"drain\", \"part\": {\"id\": \"x\"}}",
    "{\"format\": \"nappe-part\", \"kind\": \"tank\", \"part\": {\"length_mm\": 1, \"width_mm\": 1, \"height_mm\": 1}}",
    "{\"format\": \"nappe-part\", \"kind\": \"equipment\", \"part\": {\"id\": \"x\", \"kind\": \"light\", \"x_mm\": 1e300}}",
    "{\"format\": \"nappe-part\", \"kind\": \"equipment\", \"part\": {\"id\": \"X y\", \"kind\": \"light\"}}",
  };

  for (gsize i = 0; i < G_N_ELEMENTS (texts); i++)
    {
      g_autoptr (NappeBuild) build = demo_read ("two-drain");
      g_autoptr (GError) error = NULL;

      g_assert_null (nappe_assembly_paste (build, demo_shared_catalogue (), texts[i], NULL, &error));
      g_assert_nonnull (error);
      g_assert_false (nappe_build_can_undo (build));
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_add_func ("/assembly/two-to-three", test_two_to_three);
  g_test_add_func ("/assembly/chambers", test_chambers);
  g_test_add_func ("/assembly/chamber-leaves-all", test_chamber_leaves_all);
  g_test_add_func ("/assembly/equipment", test_equipment);
  g_test_add_func ("/assembly/no-room-for-equipment", test_no_room_for_equipment);
  g_test_add_func ("/assembly/returns", test_returns);
  g_test_add_func ("/assembly/branches", test_branches);
  g_test_add_func ("/assembly/remove-end", test_remove_end);
  g_test_add_func ("/assembly/replace-pump", test_replace_pump);
  g_test_add_func ("/assembly/side-vessel", test_side_vessel);
  g_test_add_func ("/assembly/pieces", test_pieces);
  g_test_add_func ("/assembly/remove-each", test_remove_each);
  g_test_add_func ("/assembly/copies", test_copies);
  g_test_add_func ("/assembly/duplicates", test_duplicates);
  g_test_add_func ("/assembly/foreign-text", test_foreign_text);
  return g_test_run ();
}
