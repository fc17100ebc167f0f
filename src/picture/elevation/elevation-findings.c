/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Findings: their numbered marks where they belong, and the key that says what the marks mean. */
#include "picture/elevation/elevation-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "picture/pins.h"

/* Paper beside the key [px]. */
#define KEY_MARGIN 24.0
/* The sample of a dashed level, and its room [px]. */
#define SAMPLE 29.0
#define SAMPLE_ROOM 36.0

/* The dashed levels of the other state. */
static void
write_sample (NappeElevation *self, NappeFindingKey *key)
{
  NappeStyle dashes = { .stroke = NAPPE_ROLE_OTHER_STATE, .weight = 1.3, .dashed = TRUE };
  gboolean cut = self->options->shown == NAPPE_SHOW_RUNNING;
  if (!self->other)
    return;
  double start = nappe_finding_key_soft (key, cut ? _("level after a power cut") : _("level while running"), SAMPLE_ROOM,
                                         NAPPE_ROLE_OTHER_TEXT), y = nappe_finding_key_middle (key);
  if (key->draw && !isnan (start))
    nappe_scene_stroke (self->scene, NAPPE_LAYER_NOTE, start, y, start + SAMPLE, y, &dashes);
}

/* What else the reader must know: pipes that were drawn apart. */
static void
write_remark (NappeElevation *self, NappeFindingKey *key)
{
  /* While measuring nothing is known yet of the pipes: their remark is given its room. */
  gboolean measuring = self->pipes->len == 0;
  if (!measuring && !(self->moved * self->scale > 0.5))
    return;
  g_autofree char *offset = nappe_quantity_format (NAPPE_QUANTITY_LENGTH, measuring ? 0.1 : self->moved,
                                                   self->options->units, 0);
  /* Translators: under the drawing; %s is a length */
  g_autofree char *text = g_strdup_printf (_("Pipes that lie behind each other are drawn up to %s apart; heights are true."),
                                           offset);
  nappe_finding_key_soft (key, text, 0, NAPPE_ROLE_SOFT);
}

/* Goes through the key, drawing or only measuring. Returns its height [px]. */
static double
write_key (NappeElevation *self, gboolean draw)
{
  NappeFindingKey key = { .scene = self->scene, .scale = self->options->text_scale, .left = KEY_MARGIN,
                          .right = nappe_scene_width (self->scene) - KEY_MARGIN, .top = self->key_top,
                          .most_rows = self->small ? 2 : 3, .draw = draw };
  g_autoptr (GPtrArray) none = g_ptr_array_new ();
  const GPtrArray *findings = self->verdict ? self->verdict->findings : none;
  guint written = nappe_finding_key_write (&key, findings);
  if (self->verdict && findings->len == 0)
    {
      guint fine = nappe_verdict_count_checked (self->verdict);
      /* Translators: under the drawing; %u rules found nothing to say */
      g_autofree char *text = g_strdup_printf (ngettext ("No findings: %u rule checked and fine.",
                                                         "No findings: %u rules checked and fine.", fine), fine);
      nappe_finding_key_soft (&key, text, 0, NAPPE_ROLE_INK);
    }
  if (written == findings->len)
    {
      write_sample (self, &key);
      write_remark (self, &key);
    }
  return nappe_finding_key_height (&key);
}

double
nappe_elevation_key_height (NappeElevation *self)
{
  return write_key (self, FALSE);
}

void
nappe_elevation_draw_key (NappeElevation *self)
{
  write_key (self, TRUE);
}

void
nappe_elevation_draw_findings (NappeElevation *self)
{
  if (self->verdict)
    nappe_pin_findings (self->scene, self->build, self->verdict->findings, (const NappePin *) (void *) self->pins->data,
                        self->pins->len);
}
