/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rules/lever.h"

#include <math.h>

static void
clear_move (gpointer data)
{
  g_free (((NappeLeverMove *)data)->part);
}

static void
add_move (NappeLever *self, const char *part, const char *field, double factor)
{
  NappeLeverMove move = { g_strdup (part), g_intern_string (field), factor };
  g_array_append_val (self->moves, move);
}

static NappeLever *
lever_new (NappeLeverKind kind, const char *part, const char *field)
{
  NappeLever *self = g_new0 (NappeLever, 1);
  self->kind = kind;
  self->moves = g_array_new (FALSE, FALSE, sizeof (NappeLeverMove));
  g_array_set_clear_func (self->moves, clear_move);
  self->choices = g_ptr_array_new_with_free_func (g_free);
  self->from = NAN;
  add_move (self, part, field, 1);
  return self;
}

NappeLever *
nappe_lever_new_number (const char *part, const char *field, double least, double most)
{
  NappeLever *self = lever_new (NAPPE_LEVER_NUMBER, part, field);
  self->least = least;
  self->most = most;
  return self;
}

void
nappe_lever_begin_at (NappeLever *self, double from)
{
  self->from = from;
}

void
nappe_lever_follow (NappeLever *self, const char *part, const char *field, double factor)
{
  add_move (self, part, field, factor);
}

NappeLever *
nappe_lever_new_choice (const char *part, const char *field)
{
  return lever_new (NAPPE_LEVER_CHOICE, part, field);
}

void
nappe_lever_add_choice (NappeLever *self, const char *value)
{
  g_ptr_array_add (self->choices, g_strdup (value));
}

NappeLever *
nappe_lever_new_size (const char *line, gboolean larger)
{
  NappeLever *self = lever_new (NAPPE_LEVER_SIZE, line, NULL);
  self->larger = larger;
  return self;
}

void
nappe_lever_free (NappeLever *self)
{
  if (self == NULL)
    return;
  g_array_unref (self->moves);
  g_ptr_array_unref (self->choices);
  g_free (self);
}
