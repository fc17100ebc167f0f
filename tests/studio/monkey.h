/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Somebody who knows nothing and tries everything: random things done to a window, the same for the same seed. */
#pragma once

#include "studio-fixture.h"

G_BEGIN_DECLS

typedef struct
{
  StudioFixture fixture; /* its window is NULL once it was closed */
  GRand *rand;
  GString *did;          /* the last thing done, for people */
  GFile *file;           /* what the window was opened on */
  char *folder;          /* with files of all sorts */
  guint depth;           /* of things done while others are under way */
} Monkey;

/* Does one thing, says it in `did`. */
void monkey_act (Monkey *self);

/* A whole number below `n`, which is above 0. */
guint monkey_pick (Monkey *self, guint n);
/* One of the texts, or of those that no program should trip over. Static or owned by the array. */
const char *monkey_text (Monkey *self, const GPtrArray *likely);

/* Whether an action of the window asks for a file. The toolkit's chooser is not what is tried here. */
gboolean monkey_chooses_file (const char *action);

/* What a person does with a pointer and keys, in monkey-hands.c. */
void monkey_touch_widget (Monkey *self);
void monkey_drag_handle (Monkey *self);
void monkey_pick_part (Monkey *self);
/* Ids of parts of the build, newly made. */
GPtrArray *monkey_parts (Monkey *self);

/* Lets the program run for a moment. */
void monkey_breathe (Monkey *self, guint rounds);

G_END_DECLS
