/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The sign of a finding: its shape says how bad it is (triangle, diamond, disc; a ring when fine),
 * its number which one it is; colour only helps. It looks like the marks in the pictures. */
#pragma once

#include <gtk/gtk.h>

#include "rules/finding.h"

G_BEGIN_DECLS

#define NAPPE_TYPE_SEVERITY_MARK (nappe_severity_mark_get_type ())
G_DECLARE_FINAL_TYPE (NappeSeverityMark, nappe_severity_mark, NAPPE, SEVERITY_MARK, GtkWidget)

GtkWidget *nappe_severity_mark_new (void);
/* number: 0 draws none. */
void nappe_severity_mark_set (NappeSeverityMark *self, NappeSeverity severity, guint number);

G_END_DECLS
