/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The two forms of what `nappe check` says. */
#pragma once

#include "command/case.h"

G_BEGIN_DECLS

typedef struct
{
  gboolean all;     /* also what was checked and is fine */
  gboolean working; /* text: also the working and the source of each finding */
} NappeReportOptions;

/* For people. Transfer full. */
char *nappe_report_text (const NappeCase *self, const NappeReportOptions *options);

/* For programs, see nappe(1). Transfer full. */
char *nappe_report_json (const NappeCase *self, const NappeReportOptions *options);

G_END_DECLS
