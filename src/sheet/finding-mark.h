/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "sheet/pages.h"

G_BEGIN_DECLS

/* The finding's sign with its number, as in the pictures but smaller, around x, y [pt]. */
void nappe_sheet_draw_mark (NappePages *pages, double x, double y, NappeFinding *finding);

G_END_DECLS
