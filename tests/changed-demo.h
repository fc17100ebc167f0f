/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A demo build with pieces of its text put in place of others, for what no demo has. */
#pragma once

#include "file/file.h"

#include <string.h>

/* changes: pairs of what stands in the file exactly once and what takes its place, closed by NULL. Transfer full. */
static inline NappeBuild *
changed_demo (const char *name, const char *const *changes)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *file = g_strconcat (name, ".nappe", NULL);
  g_autofree char *path = g_build_filename (g_getenv ("NAPPE_DATA_DIR"), "demos", file, NULL);
  g_autofree char *contents = NULL;

  g_file_get_contents (path, &contents, NULL, &error);
  g_assert_no_error (error);
  g_autoptr (GString) text = g_string_new (contents);
  for (guint i = 0; changes[i] != NULL; i += 2)
    g_assert_cmpuint (g_string_replace (text, changes[i], changes[i + 1], 0), ==, 1);
  NappeBuild *build = nappe_file_read_text (text->str, text->len, file, &error);
  g_assert_no_error (error);
  return build;
}
