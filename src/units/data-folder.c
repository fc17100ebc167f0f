/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "units/data-folder.h"

char *
nappe_data_folder (const char *name)
{
  const char *folder = g_getenv ("NAPPE_DATA_DIR");

  return g_build_filename (folder != NULL && *folder != '\0' ? folder : NAPPE_DATA_DIR, name, NULL);
}
