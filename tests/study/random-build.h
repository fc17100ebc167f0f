/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Sensible builds out of a generator: what a planner might enter, of every style, from one drain to six. */
#pragma once

#include "file/file.h"

/* Text of a build file (transfer full). The same state of the generator gives the same text. Lines of the text
 * are short, so that a build that fails can be printed and looked at. */
char *random_build_text (GRand *random);
