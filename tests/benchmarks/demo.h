/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The largest demo, read once. */
#pragma once

#include "file/file.h"
#include "rules/rules.h"

typedef struct
{
  NappeCatalogue *catalogue;
  NappeBuild *build;
  NappeLayout *layout;
  NappeStudy *study;
  NappeVerdict *verdict;
} Demo;

static inline void
demo_load (Demo *self)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *path = g_build_filename (g_getenv ("NAPPE_DATA_DIR"), "demos", "three-drain.nappe", NULL);
  g_autoptr (GFile) file = g_file_new_for_path (path);

  self->catalogue = nappe_catalogue_load_default (NULL, &error);
  g_assert_no_error (error);
  self->build = nappe_file_read (file, NULL, &error);
  g_assert_no_error (error);
  self->layout = nappe_layout_new (self->build, self->catalogue);
  self->study = nappe_study_build (self->build, self->catalogue);
  self->verdict = nappe_rules_run (self->build, self->study, NAPPE_UNITS_METRIC);
}

static inline void
demo_clear (Demo *self)
{
  nappe_verdict_free (self->verdict);
  nappe_study_unref (self->study);
  nappe_layout_free (self->layout);
  g_object_unref (self->build);
  nappe_catalogue_unref (self->catalogue);
}
