/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "study-fixture.h"

#include "file/file.h"

const char *const demo_names[3] = { "three-drain", "two-drain", "single-drain" };

void
study_fixture_again (StudyFixture *self)
{
  g_clear_pointer (&self->study, nappe_study_unref);
  self->study = nappe_study_build (self->build, self->catalogue);
  g_assert_nonnull (self->study);
}

void
study_fixture_load (StudyFixture *self, const char *name)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (NappeCatalogue) catalogue = nappe_catalogue_load_default (NULL, &error);

  g_assert_no_error (error);
  study_fixture_read (self, catalogue, name);
  study_fixture_again (self);
}

void
study_fixture_read (StudyFixture *self, NappeCatalogue *catalogue, const char *name)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *file = g_strconcat (name, ".nappe", NULL);
  g_autofree char *path = g_build_filename (g_getenv ("NAPPE_DATA_DIR"), "demos", file, NULL);
  g_autoptr (GFile) source = g_file_new_for_path (path);

  *self = (StudyFixture){ .catalogue = nappe_catalogue_ref (catalogue) };
  self->build = nappe_file_read (source, NULL, &error);
  g_assert_no_error (error);
}

void
study_fixture_clear (StudyFixture *self)
{
  g_clear_pointer (&self->study, nappe_study_unref);
  g_clear_object (&self->build);
  g_clear_pointer (&self->catalogue, nappe_catalogue_unref);
}

void
study_fixture_set (StudyFixture *self, const char *id, const char *field, double value)
{
  g_autoptr (GError) error = NULL;
  NappePart *part = nappe_build_find (self->build, id);

  g_assert_nonnull (part);
  nappe_build_set_number (self->build, part, field, value, &error);
  g_assert_no_error (error);
}

double
study_total (const NappeState *state)
{
  return state->vessels + state->pipes + state->spilled;
}
