/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A build with all that is computed about it, for tests that draw. */
#pragma once

#include <string.h>

#include "file/file.h"
#include "rules/rules.h"

typedef struct
{
  NappeCatalogue *catalogue;
  NappeBuild *build;
  NappeLayout *layout;
  NappeStudy *study;
  NappeVerdict *verdict;
} DemoBuild;

/* Read once: under the sanitizers that takes longer than all else. Not owned. */
static inline NappeCatalogue *
demo_shared_catalogue (void)
{
  static NappeCatalogue *catalogue;

  if (catalogue == NULL)
    {
      g_autoptr (GError) error = NULL;
      g_autofree char *folder = nappe_catalogue_default_dir ();
      catalogue = nappe_catalogue_load (folder, NULL, NULL, &error);
      g_assert_no_error (error);
    }
  return catalogue;
}

/* Transfer full. */
static inline NappeCatalogue *
demo_catalogue (void)
{
  return nappe_catalogue_ref (demo_shared_catalogue ());
}

/* Computes all about a build, which it takes. */
static inline void
demo_compute (DemoBuild *self, NappeBuild *build, NappeUnitSystem units)
{
  self->catalogue = demo_catalogue ();
  self->build = build;
  self->layout = nappe_layout_new (build, self->catalogue);
  self->study = nappe_study_build (build, self->catalogue);
  self->verdict = nappe_rules_run (build, self->study, units);
}

/* name: of a file in data/demos, without its ending; with a folder: of a file in tests. */
static inline NappeBuild *
demo_read (const char *name)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *file_name = g_strconcat (name, ".nappe", NULL);
  g_autofree char *path = strchr (name, '/') != NULL
                              ? g_test_build_filename (G_TEST_DIST, file_name, NULL)
                              : g_build_filename (g_getenv ("NAPPE_DATA_DIR"), "demos", file_name, NULL);
  g_autoptr (GFile) file = g_file_new_for_path (path);
  NappeBuild *build = nappe_file_read (file, NULL, &error);

  g_assert_no_error (error);
  return build;
}

static inline void
demo_load (DemoBuild *self, const char *name, NappeUnitSystem units)
{
  demo_compute (self, demo_read (name), units);
}

static inline void
demo_clear (DemoBuild *self)
{
  nappe_verdict_free (self->verdict);
  nappe_study_unref (self->study);
  nappe_layout_free (self->layout);
  g_object_unref (self->build);
  nappe_catalogue_unref (self->catalogue);
}

static const char *const demo_names[] = { "three-drain", "two-drain", "single-drain" };
/* The demos, and builds of the tests with every other kind of part. */
static const char *const drawn_names[] = { "three-drain", "two-drain", "single-drain", "demo-builds/slim", "demo-builds/rim",
                                           "demo-builds/hang-on", "demo-builds/two-pumps" };
