/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where the program finds the data that come with it. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* The path of a file or folder of the shipped data, "catalogue": below $NAPPE_DATA_DIR if that variable is set, else where
 * the program was installed. It need not exist. Transfer full. */
char *nappe_data_folder (const char *name);

G_END_DECLS
