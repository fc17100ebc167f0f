/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gio/gio.h>

/* The last part of a file's name as messages show it: UTF-8. (transfer full) */
char *nappe_file_short_name (GFile *file);
