/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What an editor shows and takes, and what a list offers. Needs no display. */
#include "studio/parts/field-choices.h"
#include "studio/parts/field-text.h"

#include <math.h>

static const NappeField *
tank_field (NappeBuild *build, const char *name)
{
  return nappe_part_find_field (build->tank, name);
}

static double
read_number (const NappeField *field, const char *text, NappeUnitSystem units)
{
  g_auto (GValue) value = G_VALUE_INIT;
  g_autoptr (GError) error = NULL;

  g_assert_true (nappe_field_read_text (field, text, units, &value, &error));
  g_assert_no_error (error);
  return g_value_get_double (&value);
}

static void
test_numbers (void)
{
  g_autoptr (NappeBuild) build = nappe_build_new ();
  const NappeField *length = tank_field (build, "length");

  g_assert_cmpfloat_with_epsilon (read_number (length, "1250", NAPPE_UNITS_METRIC), 1.25, 1e-12);
  g_assert_cmpfloat_with_epsilon (read_number (length, " 1.25 m ", NAPPE_UNITS_METRIC), 1.25, 1e-12);
  /* An inch is 25.4 mm exactly (international yard and pound agreement, 1959). */
  g_assert_cmpfloat_with_epsilon (read_number (length, "48", NAPPE_UNITS_US), 48 * 0.0254, 1e-12);
  g_assert_cmpfloat_with_epsilon (read_number (length, "31 1/4 in", NAPPE_UNITS_METRIC), 0.79375, 1e-12);
}

/* What is shown reads back as what is there, in both unit systems. */
static void
test_shown_reads_back (void)
{
  g_autoptr (NappeBuild) build = nappe_build_new ();
  const NappeField *length = tank_field (build, "length");
  const double lengths[] = { 0.5085, 1.2, 0.0635, 1.219, 2.4385 };

  for (gsize i = 0; i < G_N_ELEMENTS (lengths); i++)
    for (int units = NAPPE_UNITS_METRIC; units <= NAPPE_UNITS_US; units++)
      {
        g_autofree char *text = NULL;

        g_assert_true (nappe_build_set_number (build, build->tank, "length", lengths[i], NULL));
        text = nappe_field_text (build->tank, length, (NappeUnitSystem) units);
        g_assert_cmpfloat_with_epsilon (read_number (length, text, (NappeUnitSystem) units), lengths[i], 1e-5);
      }
}

static void
test_optional (void)
{
  g_autoptr (NappeBuild) build = nappe_build_new ();
  const NappeField *door = nappe_part_find_field (build->stand, "door_length");
  g_autofree char *text = nappe_field_text (build->stand, door, NAPPE_UNITS_METRIC);

  g_assert_cmpstr (text, ==, "");
  g_assert_true (isnan (read_number (door, "", NAPPE_UNITS_METRIC)));
  g_assert_true (isnan (read_number (door, "   ", NAPPE_UNITS_METRIC)));
}

static void
test_refused (void)
{
  static const char *const wrong[] = { "", "abc", "-1", "1e9 m", "12 gal", "nan", "inf", "1 2 3 in" };
  g_autoptr (NappeBuild) build = nappe_build_new ();
  const NappeField *length = tank_field (build, "length");

  for (gsize i = 0; i < G_N_ELEMENTS (wrong); i++)
    {
      g_auto (GValue) value = G_VALUE_INIT;
      g_autoptr (GError) error = NULL;

      g_assert_false (nappe_field_read_text (length, wrong[i], NAPPE_UNITS_METRIC, &value, &error));
      g_assert_nonnull (error);
      g_assert_cmpstr (error->message, !=, "");
      g_assert_false (G_IS_VALUE (&value));
    }
}

static void
test_count (void)
{
  g_autoptr (NappePart) overflow = g_object_new (NAPPE_TYPE_OVERFLOW, NULL);
  const NappeField *slots = nappe_part_find_field (overflow, "slot_count");
  g_auto (GValue) value = G_VALUE_INIT;

  g_assert_true (nappe_field_read_text (slots, "24", NAPPE_UNITS_METRIC, &value, NULL));
  g_assert_cmpint (g_value_get_int (&value), ==, 24);
  g_value_unset (&value);
  g_assert_false (nappe_field_read_text (slots, "2.5", NAPPE_UNITS_METRIC, &value, NULL));
  g_assert_false (nappe_field_read_text (slots, "-3", NAPPE_UNITS_METRIC, &value, NULL));
}

static void
test_choices (void)
{
  g_autoptr (NappeBuild) build = nappe_build_new ();
  const NappeField *material = tank_field (build, "material");
  g_auto (GStrv) values = NULL;
  g_auto (GStrv) labels = NULL;

  nappe_field_choices (build, build->tank, material, NULL, NAPPE_UNITS_METRIC, &values, &labels);
  g_assert_cmpuint (g_strv_length (values), ==, 3);
  g_assert_cmpuint (g_strv_length (labels), ==, 3);
  g_assert_cmpstr (values[NAPPE_MATERIAL_GLASS], ==, "glass");
}

/* A reference offers the parts that may stand there, and none. */
static void
test_references (void)
{
  g_autoptr (NappeBuild) build = nappe_build_new ();
  g_autoptr (NappePart) overflow = g_object_new (NAPPE_TYPE_OVERFLOW, NULL);
  g_autoptr (NappePart) drain = g_object_new (NAPPE_TYPE_DRAIN, NULL);
  g_auto (GStrv) values = NULL;
  g_auto (GStrv) labels = NULL;

  g_assert_true (nappe_build_insert (build, NAPPE_PART (build), "overflows", G_MAXUINT, overflow, NULL));
  g_assert_true (nappe_build_insert (build, NAPPE_PART (build), "drains", G_MAXUINT, drain, NULL));
  nappe_field_choices (build, drain, nappe_part_find_field (drain, "overflow"), NULL, NAPPE_UNITS_METRIC, &values,
                       &labels);
  g_assert_cmpuint (g_strv_length (values), ==, 2);
  g_assert_cmpuint (g_strv_length (labels), ==, 2);
  g_assert_true (g_strv_contains ((const char *const *) values, ""));
  g_assert_true (g_strv_contains ((const char *const *) values, nappe_part_get_id (overflow)));
}

static void
test_items (void)
{
  g_autoptr (NappeBuild) build = nappe_build_new ();
  g_autoptr (NappePart) line = g_object_new (NAPPE_TYPE_RETURN_LINE, NULL);
  NappePart *pump = NAPPE_RETURN_LINE (line)->pump;
  g_autoptr (NappeCatalogue) catalogue = nappe_catalogue_load_default (NULL, NULL);
  g_auto (GStrv) values = NULL;
  g_auto (GStrv) labels = NULL;

  g_assert_nonnull (catalogue);
  g_assert_true (nappe_build_insert (build, NAPPE_PART (build), "returns", G_MAXUINT, line, NULL));
  nappe_field_choices (build, pump, nappe_part_find_field (pump, "item"), catalogue, NAPPE_UNITS_METRIC, &values,
                       &labels);
  g_assert_cmpuint (g_strv_length (values), >, 3);
  for (guint i = 1; values[i] != NULL; i++)
    g_assert_cmpint (nappe_catalogue_find (catalogue, values[i])->kind, ==, NAPPE_ITEM_PUMP);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, NULL);
  g_test_set_nonfatal_assertions ();
  g_test_add_func ("/studio/field-text/numbers", test_numbers);
  g_test_add_func ("/studio/field-text/shown-reads-back", test_shown_reads_back);
  g_test_add_func ("/studio/field-text/optional", test_optional);
  g_test_add_func ("/studio/field-text/refused", test_refused);
  g_test_add_func ("/studio/field-text/count", test_count);
  g_test_add_func ("/studio/field-choices/choices", test_choices);
  g_test_add_func ("/studio/field-choices/references", test_references);
  g_test_add_func ("/studio/field-choices/items", test_items);
  return g_test_run ();
}
