/* SPDX-License-Identifier: GPL-3.0-or-later */
/* One contract for every kind of part, driven by its own tables. */
#include "config.h"

#include <math.h>
#include <string.h>

#include "build/build.h"

static GType (*const kinds[]) (void) = {
  nappe_build_get_type,  nappe_room_get_type,   nappe_water_condition_get_type, nappe_stand_get_type,
  nappe_tank_get_type,   nappe_overflow_get_type, nappe_drain_get_type,         nappe_outlet_get_type,
  nappe_piece_get_type,  nappe_pump_get_type,   nappe_return_line_get_type,     nappe_sump_get_type,
  nappe_chamber_get_type, nappe_baffle_get_type, nappe_equipment_get_type,      nappe_targets_get_type,
  nappe_note_get_type,
  nappe_side_vessel_get_type, nappe_trial_get_type, nappe_trial_step_get_type,
  nappe_limits_get_type, nappe_weighing_get_type, nappe_answer_get_type,
};

static void
holder_init (GValue *value, const NappeField *field)
{
  g_value_init (value, nappe_field_value_type (field));
}

static void
assert_refused (const NappeField *field, const GValue *value, NappeBuildError code)
{
  g_autoptr (GError) error = NULL;

  g_assert_false (nappe_field_check (field, value, &error));
  g_assert_error (error, NAPPE_BUILD_ERROR, (int) code);
  g_assert_nonnull (strstr (error->message, field->label));
}

static void
assert_number_refused (const NappeField *field, double number)
{
  g_auto (GValue) value = G_VALUE_INIT;

  holder_init (&value, field);
  g_value_set_double (&value, number);
  assert_refused (field, &value, NAPPE_BUILD_ERROR_RANGE);
}

static void
assert_integer_refused (const NappeField *field, int number)
{
  g_auto (GValue) value = G_VALUE_INIT;

  holder_init (&value, field);
  g_value_set_int (&value, number);
  assert_refused (field, &value,
                  field->type == NAPPE_FIELD_CHOICE ? NAPPE_BUILD_ERROR_TYPE : NAPPE_BUILD_ERROR_RANGE);
}

static void
assert_text_refused (const NappeField *field, const char *text, NappeBuildError code)
{
  g_auto (GValue) value = G_VALUE_INIT;

  holder_init (&value, field);
  g_value_set_string (&value, text);
  assert_refused (field, &value, code);
}

static void
assert_curve_refused (const NappeField *field, NappeCurve curve)
{
  g_auto (GValue) value = G_VALUE_INIT;

  holder_init (&value, field);
  g_value_set_boxed (&value, &curve);
  assert_refused (field, &value, NAPPE_BUILD_ERROR_RANGE);
}

static void
check_refusals (const NappeField *field)
{
  g_auto (GValue) wrong_type = G_VALUE_INIT;
  g_autofree char *too_long = g_strnfill ((gsize) field->maximum + 1, 'a');

  g_value_init (&wrong_type, G_TYPE_UINT64);
  assert_refused (field, &wrong_type, NAPPE_BUILD_ERROR_TYPE);
  switch (field->type)
    {
    case NAPPE_FIELD_NUMBER:
      assert_number_refused (field, field->minimum - 1e-6);
      assert_number_refused (field, field->maximum + 1e-6);
      assert_number_refused (field, INFINITY);
      assert_number_refused (field, -INFINITY);
      assert_number_refused (field, -1e300);
      if (!field->optional)
        assert_number_refused (field, NAN);
      break;
    case NAPPE_FIELD_COUNT:
    case NAPPE_FIELD_CHOICE:
      assert_integer_refused (field, (int) field->minimum - 1);
      assert_integer_refused (field, (int) field->maximum + 1);
      assert_integer_refused (field, G_MAXINT);
      break;
    case NAPPE_FIELD_FLAG: break;
    case NAPPE_FIELD_REFERENCE: assert_text_refused (field, "No Such Form", NAPPE_BUILD_ERROR_ID); G_GNUC_FALLTHROUGH;
    case NAPPE_FIELD_TEXT:
    case NAPPE_FIELD_ITEM:
      assert_text_refused (field, NULL, NAPPE_BUILD_ERROR_TYPE);
      assert_text_refused (field, "\xff\xfe", NAPPE_BUILD_ERROR_TYPE);
      assert_text_refused (field, "bell\a", NAPPE_BUILD_ERROR_TYPE);
      assert_text_refused (field, too_long, NAPPE_BUILD_ERROR_RANGE);
      break;
    case NAPPE_FIELD_CURVE:
      assert_curve_refused (field, (NappeCurve){ .n = 1, .flow = { 0 }, .head = { 1 } });
      assert_curve_refused (field, (NappeCurve){ .n = 17 });
      assert_curve_refused (field, (NappeCurve){ .n = 2, .flow = { 0, 0 }, .head = { 2, 1 } });
      assert_curve_refused (field, (NappeCurve){ .n = 2, .flow = { 0, 1e-3 }, .head = { 2, 2 } });
      assert_curve_refused (field, (NappeCurve){ .n = 2, .flow = { 0, NAN }, .head = { 2, 1 } });
      assert_curve_refused (field, (NappeCurve){ .n = 2, .flow = { -1, 1e-3 }, .head = { 2, 1 } });
      break;
    }
}

/* A value at an end of the field's range. */
static void
extreme_value (const NappeField *field, gboolean greatest, GValue *value)
{
  const NappeCurve curve = { .n = greatest ? 16 : 2, .flow = { 0 }, .head = { 16 } };
  g_autofree char *text = g_strnfill (greatest ? (gsize) field->maximum : 0, 'a');

  holder_init (value, field);
  switch (field->type)
    {
    case NAPPE_FIELD_NUMBER: g_value_set_double (value, greatest ? field->maximum : field->minimum); break;
    case NAPPE_FIELD_COUNT:
    case NAPPE_FIELD_CHOICE: g_value_set_int (value, (int) (greatest ? field->maximum : field->minimum)); break;
    case NAPPE_FIELD_FLAG: g_value_set_boolean (value, greatest); break;
    case NAPPE_FIELD_TEXT:
    case NAPPE_FIELD_REFERENCE:
    case NAPPE_FIELD_ITEM: g_value_set_string (value, text); break;
    case NAPPE_FIELD_CURVE: g_value_set_boxed (value, &curve); break;
    }
  if (field->type == NAPPE_FIELD_CURVE)
    {
      NappeCurve *points = g_value_get_boxed (value);
      for (guint i = 0; i < points->n; i++)
        {
          points->flow[i] = i * 0.001;
          points->head[i] = 16.0 - i;
        }
    }
}

static void
check_writing (NappePart *part, const NappeField *field, gboolean greatest)
{
  g_autoptr (GError) error = NULL;
  g_auto (GValue) value = G_VALUE_INIT;
  g_auto (GValue) back = G_VALUE_INIT;
  g_auto (GValue) snapped = G_VALUE_INIT;

  extreme_value (field, greatest, &value);
  g_assert_true (nappe_field_check (field, &value, &error));
  g_assert_no_error (error);
  nappe_part_write (part, field, &value);
  nappe_part_read (part, field, &back);
  g_assert_true (nappe_field_value_equal (field, &value, &back));

  nappe_part_read (part, field, &snapped);
  nappe_field_snap (field, &snapped);
  g_assert_true (nappe_field_check (field, &snapped, &error));
  g_assert_no_error (error);
}

static void
check_initial (NappePart *part, const NappeField *field)
{
  g_autoptr (GError) error = NULL;
  g_auto (GValue) value = G_VALUE_INIT;
  g_auto (GValue) snapped = G_VALUE_INIT;

  nappe_part_read (part, field, &value);
  g_assert_true (nappe_field_is_initial (field, &value));
  g_assert_true (nappe_field_check (field, &value, &error));
  g_assert_no_error (error);
  nappe_part_read (part, field, &snapped);
  nappe_field_snap (field, &snapped);
  g_assert_true (nappe_field_value_equal (field, &value, &snapped));
}

static void
check_property (NappePart *part, const NappeField *field)
{
  g_autofree char *name = g_strdelimit (g_strdup (field->name), "_", '-');
  GParamSpec *spec = g_object_class_find_property (G_OBJECT_GET_CLASS (part), name);
  g_auto (GValue) through_property = G_VALUE_INIT;
  g_auto (GValue) through_table = G_VALUE_INIT;

  g_assert_nonnull (spec);
  g_assert_cmpuint (spec->value_type, ==, nappe_field_value_type (field));
  g_assert_cmpstr (g_param_spec_get_nick (spec), ==, field->label);
  holder_init (&through_property, field);
  g_object_get_property (G_OBJECT (part), name, &through_property);
  nappe_part_read (part, field, &through_table);
  g_assert_true (nappe_field_value_equal (field, &through_property, &through_table));
}

static void
check_keys (NappePart *part)
{
  const NappePartClass *klass = NAPPE_PART_GET_CLASS (part);
  g_autoptr (GHashTable) keys = g_hash_table_new (g_str_hash, g_str_equal);

  g_hash_table_add (keys, (gpointer) "id");
  g_hash_table_add (keys, (gpointer) "name");
  for (gsize i = 0; i < klass->n_fields; i++)
    {
      g_assert_true (g_hash_table_add (keys, (gpointer) nappe_field_key (&klass->fields[i])));
      g_assert_true (nappe_part_find_field (part, klass->fields[i].name) == &klass->fields[i]);
    }
  for (gsize i = 0; i < klass->n_slots; i++)
    {
      g_assert_true (g_hash_table_add (keys, (gpointer) klass->slots[i].name));
      g_assert_true (nappe_part_find_slot (part, klass->slots[i].name) == &klass->slots[i]);
    }
  g_assert_null (nappe_part_find_field (part, "no_such_field"));
  g_assert_null (nappe_part_find_slot (part, "no_such_slot"));
}

static void
check_choices (const NappeField *field)
{
  guint n = 0;

  while (field->choices[n].nick != NULL)
    {
      g_assert_nonnull (field->choices[n].label);
      g_assert_cmpint (nappe_field_choice_index (field, field->choices[n].nick), ==, (int) n);
      n++;
    }
  g_assert_cmpuint (n, ==, (guint) field->maximum + 1);
  g_assert_cmpint (nappe_field_choice_index (field, "no-such-choice"), ==, -1);
}

/* A changed field makes a copy differ and is copied along. */
static void
check_copying (NappePart *part, const NappeField *field)
{
  g_autoptr (NappePart) before = nappe_part_copy (part);
  g_autoptr (NappePart) after = NULL;
  g_auto (GValue) value = G_VALUE_INIT;

  g_assert_true (nappe_part_equal (part, before));
  extreme_value (field, TRUE, &value);
  if (nappe_field_is_initial (field, &value))
    {
      g_value_unset (&value);
      extreme_value (field, FALSE, &value);
    }
  nappe_part_write (part, field, &value);
  g_assert_false (nappe_part_equal (part, before));
  after = nappe_part_copy (part);
  g_assert_true (nappe_part_equal (part, after));
  g_assert_true (nappe_part_equal (after, part));
}

static void
test_kind (gconstpointer data)
{
  GType type = GPOINTER_TO_SIZE (data);
  g_autoptr (NappePart) part = g_object_new (type, NULL);
  const NappePartClass *klass = NAPPE_PART_GET_CLASS (part);

  g_assert_cmpstr (nappe_part_get_id (part), ==, "");
  g_assert_cmpstr (nappe_part_get_name (part), ==, "");
  g_assert_true (nappe_part_id_is_valid (nappe_part_get_kind (part)));
  g_assert_cmpstr (nappe_part_display_name (part), ==, klass->label);
  g_assert_null (nappe_part_get_owner (part));
  check_keys (part);
  for (gsize i = 0; i < klass->n_fields; i++)
    {
      const NappeField *field = &klass->fields[i];
      g_autoptr (NappePart) fresh = g_object_new (type, NULL);
      check_initial (part, field);
      check_refusals (field);
      check_copying (fresh, field);
      check_writing (part, field, FALSE);
      check_property (part, field);
      check_writing (part, field, TRUE);
      check_property (part, field);
      if (field->type == NAPPE_FIELD_CHOICE)
        check_choices (field);
    }
}

static void
test_ids (void)
{
  static const char *const good[] = { "a", "0", "main-siphon", "drain.2", "a_b", "0-9.z" };
  static const char *const bad[] = { "", "-a", ".a", "_a", "A", "a b", "ä", "a/b", "a\n" };
  g_autofree char *longest = g_strnfill (NAPPE_PART_ID_MAX, 'x');
  g_autofree char *too_long = g_strnfill (NAPPE_PART_ID_MAX + 1, 'x');

  for (gsize i = 0; i < G_N_ELEMENTS (good); i++)
    g_assert_true (nappe_part_id_is_valid (good[i]));
  for (gsize i = 0; i < G_N_ELEMENTS (bad); i++)
    g_assert_false (nappe_part_id_is_valid (bad[i]));
  g_assert_true (nappe_part_id_is_valid (longest));
  g_assert_false (nappe_part_id_is_valid (too_long));
}

static gpointer
copy_tag (gpointer tag)
{
  return g_strconcat (tag, "+", NULL);
}

static void
test_unknown_is_copied (void)
{
  g_autoptr (NappePart) part = g_object_new (NAPPE_TYPE_TANK, NULL);
  g_autoptr (NappePart) copy = NULL;

  nappe_part_set_unknown (part, g_strdup ("first"), copy_tag, g_free);
  nappe_part_set_unknown (part, g_strdup ("tag"), copy_tag, g_free);
  copy = nappe_part_copy (part);
  g_assert_cmpstr (nappe_part_get_unknown (copy), ==, "tag+");
}

/* Children know where they stand, survive their owner, and are given back by detach. */
static void
test_ownership (void)
{
  NappePart *line = g_object_new (NAPPE_TYPE_RETURN_LINE, NULL);
  const NappeSlot *run = nappe_part_find_slot (line, "run");
  g_autoptr (NappePart) first = g_object_new (NAPPE_TYPE_PIECE, NULL);
  g_autoptr (NappePart) second = g_object_new (NAPPE_TYPE_PIECE, NULL);
  g_autoptr (NappePart) pump = g_object_new (NAPPE_TYPE_PUMP, NULL);
  guint index;

  nappe_part_attach (line, run, 0, second);
  nappe_part_attach (line, run, 0, first);
  nappe_part_attach (line, nappe_part_find_slot (line, "pump"), 0, pump);
  g_assert_true (nappe_part_single (line, nappe_part_find_slot (line, "pump")) == pump);
  g_assert_true (nappe_part_place (second, &index) == run);
  g_assert_cmpuint (index, ==, 1);
  g_assert_true (nappe_part_get_root (second) == line);
  g_object_unref (nappe_part_detach (line, run, 0));
  g_assert_null (nappe_part_get_owner (first));
  nappe_part_place (second, &index);
  g_assert_cmpuint (index, ==, 0);
  g_assert_finalize_object (line);
  g_assert_null (nappe_part_get_owner (second));
  g_assert_null (nappe_part_get_owner (pump));
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  for (gsize i = 0; i < G_N_ELEMENTS (kinds); i++)
    {
      GType type = kinds[i]();
      g_autofree char *path = g_strconcat ("/part/", g_type_name (type), NULL);
      g_test_add_data_func (path, GSIZE_TO_POINTER (type), test_kind);
    }
  g_test_add_func ("/part/ids", test_ids);
  g_test_add_func ("/part/unknown-is-copied", test_unknown_is_copied);
  g_test_add_func ("/part/ownership", test_ownership);
  return g_test_run ();
}
