/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "picture/handles-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "build/coupling.h"
#include "picture/picture-private.h"
#include "picture/scene-private.h"

/* Steps to both sides that a handle looks for a free place. */
#define STEPS_ASIDE 6

void
nappe_handle_keep_words (NappeHandle *self, GStringChunk *words)
{
  const char **const all[] = { &self->part, &self->field, &self->label, &self->picked, &self->least_why, &self->most_why };
  for (gsize i = 0; i < G_N_ELEMENTS (all); i++)
    *all[i] = g_string_chunk_insert_const (words, *all[i]);
}

void
nappe_scene_handle_least (NappeScene *self, NappeHandle *handle, double least, const char *why)
{
  if (!handle || !(least > handle->least))
    return;
  handle->least = fmin (least, handle->value);
  handle->least_why = g_string_chunk_insert_const (self->words, why);
}

void
nappe_scene_handle_most (NappeScene *self, NappeHandle *handle, double most, const char *why)
{
  if (!handle || !(most < handle->most))
    return;
  handle->most = fmax (most, handle->value);
  handle->most_why = g_string_chunk_insert_const (self->words, why);
}

/* What follows may come to its own end first. */
static void
heed_followers (NappeScene *self, NappeHandle *handle, NappeBuild *build, NappePart *part)
{
  g_autoptr (GArray) followers = nappe_build_followers (build, part, handle->field);
  for (guint i = 0; i < followers->len; i++)
    {
      const NappeFollower *follower = &g_array_index (followers, NappeFollower, i);
      double down, up;
      nappe_follower_range (follower, &down, &up);
      /* A pipe without a name is known by its line. */
      NappePart *named = NAPPE_IS_PIECE (follower->part) && *nappe_part_get_name (follower->part) == '\0'
                             ? nappe_part_get_owner (follower->part)
                             : follower->part;
      /* Translators: why a part cannot be dragged farther; the label of a number and the name of the part it belongs to,
         which changes along */
      g_autofree char *why = g_strdup_printf (_("“%1$s” of “%2$s” goes no farther."), _(follower->field->label),
                                              nappe_part_display_name (named));
      nappe_scene_handle_least (self, handle, handle->value + down, why);
      nappe_scene_handle_most (self, handle, handle->value + up, why);
    }
}

void
nappe_scene_guide (NappeScene *self, gboolean upright, double at)
{
  NappeGuide guide = { upright, at };
  if (isfinite (at))
    g_array_append_val (self->guides, guide);
}

static gboolean
is_taken (const NappeScene *self, const char *picked, double x, double y)
{
  for (guint i = 0; i < self->handles->len; i++)
    {
      const NappeHandle *other = &g_array_index (self->handles, NappeHandle, i);
      if (g_str_equal (other->picked, picked) && fabs (other->x - x) < NAPPE_HANDLE_APART
          && fabs (other->y - y) < NAPPE_HANDLE_APART)
        return TRUE;
    }
  return FALSE;
}

/* Where a handle moves up and down it may stand a little aside, and the other way round. */
static void
give_way (const NappeScene *self, NappeHandle *handle)
{
  double *free_axis = handle->upright ? &handle->x : &handle->y, start = *free_axis;
  for (int step = 1; step <= 2 * STEPS_ASIDE && is_taken (self, handle->picked, handle->x, handle->y); step++)
    *free_axis = start + (step % 2 ? 1 : -1) * ((step + 1) / 2) * NAPPE_HANDLE_APART;
}

NappeHandle *
nappe_scene_handle (NappeScene *self, NappeBuild *build, gpointer picked, gpointer part, const char *field, gboolean upright,
                    double x, double y, double per_pixel)
{
  const NappeField *number = nappe_part_find_field (part, field);
  double value = nappe_part_number (part, number);
  if (!nappe_is_given (value) || !isfinite (x) || !isfinite (y) || !isfinite (per_pixel))
    return NULL;
  NappeHandle handle = {
    .part = g_string_chunk_insert_const (self->words, nappe_part_get_id (part)), .field = number->name, .upright = upright,
    .x = x, .y = y, .per_pixel = per_pixel, .value = value, .least = number->minimum, .most = number->maximum,
    .label = _(number->label), .picked = g_string_chunk_insert_const (self->words, nappe_part_get_id (picked)),
    /* Translators: why a part cannot be dragged farther */
    .least_why = _("Less than that cannot be entered."),
    /* Translators: why a part cannot be dragged farther */
    .most_why = _("More than that cannot be entered."),
  };
  heed_followers (self, &handle, build, part);
  give_way (self, &handle);
  nappe_scene_guide (self, upright, upright ? handle.y : handle.x);
  g_array_append_val (self->handles, handle);
  return &g_array_index (self->handles, NappeHandle, self->handles->len - 1);
}

const NappeHandle *
nappe_scene_handles (const NappeScene *self, guint *n)
{
  *n = self->handles->len;
  return (const NappeHandle *) self->handles->data;
}

const NappeGuide *
nappe_picture_guides (NappePicture *self, guint *n)
{
  *n = self->scene->guides->len;
  return (const NappeGuide *) self->scene->guides->data;
}

const NappeHandle *
nappe_picture_handles (NappePicture *self, guint *n)
{
  return nappe_scene_handles (self->scene, n);
}
