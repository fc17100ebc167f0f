/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Every field of every kind of part, in its row as the panel shows it: what cannot be taken is refused while it is typed, with a
 * reason, and changes nothing. */
#include <math.h>
#include <string.h>

#include "file/file.h"
#include "studio-fixture.h"
#include "studio/parts/field-row.h"
#include "studio/parts/field-text.h"

static NappeBuild *
build_of (StudioFixture *self)
{
  return nappe_document_get_build (self->document);
}

static void
add_kind (NappePart *part, gpointer user_data)
{
  g_hash_table_insert (user_data, (gpointer) nappe_part_get_kind (part), part);
}

/* One part of each kind that the build has. NappePart, not owned. Transfer container. */
static GList *
one_of_each_kind (NappeBuild *build)
{
  g_autoptr (GHashTable) kinds = g_hash_table_new (g_str_hash, g_str_equal);

  nappe_part_visit (NAPPE_PART (build), add_kind, kinds);
  return g_hash_table_get_values (kinds);
}

/* Types a text and presses Return. TRUE: it was taken. */
static gboolean
type (NappeFieldRow *row, GtkWidget *entry, const char *text)
{
  gboolean refused;

  gtk_editable_set_text (GTK_EDITABLE (entry), text);
  refused = nappe_field_row_has_error (row);
  gtk_widget_activate_action (GTK_WIDGET (row), "field.apply", NULL);
  return !refused && !nappe_field_row_has_error (row);
}

static void
take_back (StudioFixture *self)
{
  while (nappe_build_can_undo (build_of (self)))
    nappe_build_undo (build_of (self));
}

static void
expect_refusal (StudioFixture *self, NappePart *part, const NappeField *field, NappeFieldRow *row, GtkWidget *entry,
                const char *text)
{
  g_autofree char *shown = nappe_field_text (part, field, NAPPE_UNITS_METRIC);

  if (type (row, entry, text) || nappe_build_can_undo (build_of (self)))
    {
      g_test_message ("%s of %s takes “%s”", field->name, nappe_part_get_kind (part), text);
      g_test_fail ();
    }
  take_back (self);
  gtk_editable_set_text (GTK_EDITABLE (entry), shown);
  g_assert_false (nappe_field_row_has_error (row));
}

/* A unit of another quantity; none of the fields is one of both. */
static const char *
wrong_unit (const NappeField *field)
{
  return field->quantity == NAPPE_QUANTITY_POWER || field->quantity == NAPPE_QUANTITY_TEMPERATURE ? "5 mm" : "5 W";
}

static void
check_number (StudioFixture *self, NappePart *part, const NappeField *field)
{
  const char *const nonsense[] = { "abc", "1e999", "-1e999", "nan", "inf", "1 2 x", "1e30", "--3" };
  g_autoptr (GtkWidget) widget
      = g_object_ref_sink (nappe_field_row_new (build_of (self), part, field, nappe_document_get_catalogue (self->document),
                                                NAPPE_UNITS_METRIC));
  NappeFieldRow *row = NAPPE_FIELD_ROW (widget);
  GtkWidget *entry = studio_fixture_find (widget, GTK_TYPE_ENTRY, NULL);
  g_autofree char *same = nappe_field_text (part, field, NAPPE_UNITS_METRIC);

  g_assert_nonnull (entry);
  for (gsize i = 0; i < G_N_ELEMENTS (nonsense); i++)
    expect_refusal (self, part, field, row, entry, nonsense[i]);
  expect_refusal (self, part, field, row, entry, wrong_unit (field));
  if (!field->optional)
    expect_refusal (self, part, field, row, entry, "");
  else if (*same != '\0')
    {
      g_assert_true (type (row, entry, ""));
      g_assert_false (nappe_is_given (nappe_part_number (part, field)));
      take_back (self);
    }
}

/* A comma is a decimal point, in any unit of length; what follows the number may refuse it with its own reason. */
static void
check_comma (StudioFixture *self, NappePart *part, const NappeField *field)
{
  g_autoptr (GtkWidget) widget
      = g_object_ref_sink (nappe_field_row_new (build_of (self), part, field, nappe_document_get_catalogue (self->document),
                                                NAPPE_UNITS_METRIC));
  GtkWidget *entry = studio_fixture_find (widget, GTK_TYPE_ENTRY, NULL);
  double now = nappe_part_number (part, field), wanted = (nappe_is_given (now) ? now : field->minimum) + 0.0005;
  g_autofree char *text = g_strdup_printf ("%.2f cm", 100 * wanted);

  if (wanted > field->maximum)
    return;
  wanted = g_ascii_strtod (text, NULL) / 100;
  *strchr (text, '.') = ',';
  if (type (NAPPE_FIELD_ROW (widget), entry, text))
    g_assert_cmpfloat_with_epsilon (nappe_part_number (part, field), wanted, 1e-7);
  else
    g_assert_true (nappe_field_row_has_error (NAPPE_FIELD_ROW (widget)));
  take_back (self);
}

static void
check_part (StudioFixture *self, NappePart *part, guint *numbers)
{
  const NappePartClass *klass = NAPPE_PART_GET_CLASS (part);

  for (gsize i = 0; i < klass->n_fields; i++)
    {
      const NappeField *field = &klass->fields[i];
      if (field->type != NAPPE_FIELD_NUMBER && field->type != NAPPE_FIELD_COUNT)
        continue;
      (*numbers)++;
      check_number (self, part, field);
      if (field->type == NAPPE_FIELD_NUMBER && field->quantity == NAPPE_QUANTITY_LENGTH)
        check_comma (self, part, field);
    }
}

static void
test_every_field (StudioFixture *self, gconstpointer data)
{
  guint numbers = 0;

  studio_fixture_load (self, "three-drain.nappe");
  g_autofree char *before = nappe_file_write_text (build_of (self), NULL), *after = NULL;
  g_autoptr (GList) parts = one_of_each_kind (build_of (self));
  for (GList *part = parts; part != NULL; part = part->next)
    check_part (self, part->data, &numbers);
  g_assert_cmpuint (numbers, >, 100);
  after = nappe_file_write_text (build_of (self), NULL);
  g_assert_cmpstr (after, ==, before);
}

/* What is typed carries along what belongs to it, in one step; the reason stands there when it cannot. */
static void
test_typed_carries (StudioFixture *self, gconstpointer data)
{
  studio_fixture_load (self, "three-drain.nappe");
  NappeBuild *build = build_of (self);
  NappePart *stand = build->stand, *pipe = nappe_build_find (build, "emergency-pipe-3");
  g_autoptr (GtkWidget) widget
      = g_object_ref_sink (nappe_field_row_new (build, stand, nappe_part_find_field (stand, "height"),
                                                nappe_document_get_catalogue (self->document), NAPPE_UNITS_METRIC));
  GtkWidget *entry = studio_fixture_find (widget, GTK_TYPE_ENTRY, NULL);
  double length = NAPPE_PIECE (pipe)->length;

  g_assert_true (type (NAPPE_FIELD_ROW (widget), entry, "36 in"));
  g_assert_cmpfloat_with_epsilon (NAPPE_PIECE (pipe)->length, length + 36 * 0.0254 - 0.85, 1e-6);
  nappe_build_undo (build);
  g_assert_false (nappe_build_can_undo (build));
  /* Digits of any script. */
  g_assert_true (type (NAPPE_FIELD_ROW (widget), entry, "٩٠ cm"));
  g_assert_cmpfloat_with_epsilon (NAPPE_STAND (stand)->height, 0.9, 1e-9);
  nappe_build_undo (build);
  g_assert_false (type (NAPPE_FIELD_ROW (widget), entry, "10 cm"));
  g_assert_true (nappe_field_row_has_error (NAPPE_FIELD_ROW (widget)));
  g_assert_false (nappe_build_can_undo (build));
}

static const StudioTest tests[] = {
  { "/studio/fields/every-field", test_every_field },
  { "/studio/fields/typed-carries", test_typed_carries },
};

int
main (int argc, char **argv)
{
  return studio_fixture_run (&argc, &argv, tests, G_N_ELEMENTS (tests));
}
