/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The handbook of the rules, written out: a page each with its example computed and drawn, and a list of all. */
#pragma once

#include "handbook/rule-example.h"

G_BEGIN_DECLS

/* One page as Markdown, with the example's finding, working and a link to its figure. figure: file name of that, or NULL
 * for none. Transfer full. */
char *nappe_handbook_page_text (const NappeRulePage *page, const NappeRuleExample *example, const char *figure,
                                NappeUnitSystem units);

/* Writes README.md, ID.md and ID.svg for each rule into a folder that is made when it is not there. FALSE with an error of
 * G_FILE_ERROR, NAPPE_HANDBOOK_ERROR, NAPPE_FILE_ERROR or NAPPE_PICTURE_ERROR; what was written then stays. */
gboolean nappe_handbook_write (const char *folder, NappeCatalogue *catalogue, NappeUnitSystem units, GError **error);

G_END_DECLS
