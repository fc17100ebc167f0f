/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "file/file-name.h"

char *
nappe_file_short_name (GFile *file)
{
  g_autofree char *name = g_file_get_basename (file);

  return name != NULL ? g_filename_display_name (name) : g_file_get_uri (file);
}
