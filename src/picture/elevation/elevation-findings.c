/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Findings: their numbered marks where they belong, and the key that says what the marks mean. */
#include "picture/elevation/elevation-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "picture/label-layout.h"
#include "picture/marks.h"

/* A row of the key, and the gaps in it [px]. */
#define ROW 26.0
#define AFTER_MARK 7.0
#define AFTER_ENTRY 22.0
#define KEY_MARGIN 24.0

static guint
most_rows (const NappeElevation *self)
{
  return self->small ? 2 : 3;
}

/* Where the writing of the key has come to. */
typedef struct
{
  double x;
  guint row;
  NappeSeverity severity; /* of the last entry; FINE: none yet */
  gboolean draw;
} Cursor;

static const NappeTextStyle title_style = { .align_y = 0.5, .size = NAPPE_TEXT_SMALL, .role = NAPPE_ROLE_INK };
static const NappeTextStyle word_style = { .align_y = 0.5, .size = NAPPE_TEXT_SMALL, .weight = NAPPE_TEXT_STRONG,
                                           .role = NAPPE_ROLE_SOFT };

static double
row_middle (const NappeElevation *self, guint row)
{
  return self->key_top + (row + 0.5) * ROW * self->options->text_scale;
}

/* One entry: the severity's word when it is the first of its kind, mark, title. FALSE: no room left. */
static gboolean
write_entry (NappeElevation *self, Cursor *cursor, NappeFinding *finding, guint left_over)
{
  NappeSeverity severity = nappe_finding_get_severity (finding);
  double end = nappe_scene_width (self->scene) - KEY_MARGIN, widest = end - KEY_MARGIN - NAPPE_MARK_FINDING_SIZE - AFTER_MARK;
  gboolean first = severity != cursor->severity;
  const char *word = nappe_severity_label (severity);
  double word_width = first ? nappe_scene_measure (self->scene, word, &word_style).width + 10 : 0;
  g_autofree char *title = nappe_label_shorten (self->scene, nappe_finding_get_title (finding), &title_style,
                                                widest - word_width - 4);
  double title_width = nappe_scene_measure (self->scene, title, &title_style).width;
  double width = word_width + NAPPE_MARK_FINDING_SIZE + AFTER_MARK + title_width;
  gboolean last_row = cursor->row + 1 >= most_rows (self);
  double reserve = last_row && left_over > 0 ? 90 * self->options->text_scale : 0;
  if (cursor->x > KEY_MARGIN && cursor->x + width > end - reserve)
    {
      if (last_row)
        return FALSE;
      cursor->row++;
      cursor->x = KEY_MARGIN;
    }
  if (cursor->draw)
    {
      double x = cursor->x, y = row_middle (self, cursor->row);
      NappeTextStyle style = word_style;
      style.x = x;
      style.y = y;
      if (first)
        nappe_scene_text (self->scene, NAPPE_LAYER_NOTE, word, &style);
      x += word_width;
      nappe_mark_finding (self->scene, x + NAPPE_MARK_FINDING_SIZE / 2, y, severity, nappe_finding_get_number (finding));
      style = title_style;
      style.x = x + NAPPE_MARK_FINDING_SIZE + AFTER_MARK;
      style.y = y;
      nappe_scene_text (self->scene, NAPPE_LAYER_NOTE, title, &style);
    }
  cursor->x += width + AFTER_ENTRY;
  cursor->severity = severity;
  return TRUE;
}

/* Writes a soft text in the key after a sample of `indent` px; FALSE when there is no room for it. */
static gboolean
write_soft (NappeElevation *self, Cursor *cursor, const char *text, double indent, NappeRole role)
{
  NappeTextStyle style = title_style;
  style.role = role;
  double width = indent + nappe_scene_measure (self->scene, text,
                                               &style).width, end = nappe_scene_width (self->scene) - KEY_MARGIN;
  if (cursor->x + width > end && cursor->row + 1 < most_rows (self))
    {
      cursor->row++;
      cursor->x = KEY_MARGIN;
    }
  if (cursor->x + width > end)
    return FALSE;
  style.x = cursor->x + indent;
  style.y = row_middle (self, cursor->row);
  if (cursor->draw)
    nappe_scene_text (self->scene, NAPPE_LAYER_NOTE, text, &style);
  cursor->x += width + AFTER_ENTRY;
  return TRUE;
}

/* The dashed levels of the other state. */
static void
write_sample (NappeElevation *self, Cursor *cursor)
{
  NappeStyle dashes = { .stroke = NAPPE_ROLE_OTHER_STATE, .weight = 1.3, .dashed = TRUE };
  gboolean cut = self->options->shown == NAPPE_SHOW_RUNNING;
  if (!self->other)
    return;
  if (!write_soft (self, cursor, cut ? _("level after a power cut") : _("level while running"), 36, NAPPE_ROLE_OTHER_TEXT)
      || !cursor->draw)
    return;
  double end = cursor->x - AFTER_ENTRY, y = row_middle (self, cursor->row);
  NappeTextStyle style = title_style;
  double start = end - nappe_scene_measure (self->scene, cut ? _("level after a power cut") : _("level while running"),
                                            &style).width - 36;
  nappe_scene_stroke (self->scene, NAPPE_LAYER_NOTE, start, y, start + 29, y, &dashes);
}

/* What else the reader must know: pipes that were drawn apart. */
static void
write_remark (NappeElevation *self, Cursor *cursor)
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
  write_soft (self, cursor, text, 0, NAPPE_ROLE_SOFT);
}

/* Goes through the key, drawing or only measuring. Returns the rows used. */
static guint
write_key (NappeElevation *self, gboolean draw)
{
  Cursor cursor = { KEY_MARGIN, 0, NAPPE_SEVERITY_FINE, draw };
  guint n = self->verdict ? self->verdict->findings->len : 0, i;
  for (i = 0; i < n; i++)
    if (!write_entry (self, &cursor, self->verdict->findings->pdata[i], n - i - 1))
      break;
  if (i < n && draw)
    {
      /* Translators: %u further findings have no room on the drawing */
      g_autofree char *more = g_strdup_printf (ngettext ("and %u more", "and %u more", n - i), n - i);
      NappeTextStyle style = word_style;
      style.x = cursor.x;
      style.y = row_middle (self, cursor.row);
      nappe_scene_text (self->scene, NAPPE_LAYER_NOTE, more, &style);
    }
  if (self->verdict && n == 0)
    {
      guint fine = nappe_verdict_count_checked (self->verdict);
      /* Translators: under the drawing; %u rules found nothing to say */
      g_autofree char *text = g_strdup_printf (ngettext ("No findings: %u rule checked and fine.",
                                                         "No findings: %u rules checked and fine.", fine), fine);
      write_soft (self, &cursor, text, 0, NAPPE_ROLE_INK);
    }
  if (i == n)
    {
      write_sample (self, &cursor);
      write_remark (self, &cursor);
    }
  return cursor.x > KEY_MARGIN ? cursor.row + 1 : cursor.row;
}

double
nappe_elevation_key_height (NappeElevation *self)
{
  return write_key (self, FALSE) * ROW * self->options->text_scale;
}

void
nappe_elevation_draw_key (NappeElevation *self)
{
  write_key (self, TRUE);
}

/* Whether a mark may stand there: on a pipe or a wall, but on no text, mark or dimension. */
static gboolean
mark_fits (const NappeElevation *self, double x, double y)
{
  double half = NAPPE_MARK_FINDING_SIZE * 0.6 + 1;
  NappeBox box = { x - half, y - half, 2 * half, 2 * half };
  NappeBox paper = { 4, 4, nappe_scene_width (self->scene) - 8, nappe_scene_height (self->scene) - 8 };
  guint n;
  const NappeBlock *blocks = nappe_scene_blocks (self->scene, &n);
  if (!nappe_box_within (&box, &paper))
    return FALSE;
  for (guint i = 0; i < n; i++)
    if (blocks[i].kind != NAPPE_BLOCK_SOFT && blocks[i].kind != NAPPE_BLOCK_PIPE && nappe_box_overlaps (&box, &blocks[i].box))
      return FALSE;
  return TRUE;
}

static void
put_mark (NappeElevation *self, NappeFinding *finding, double x, double y)
{
  NappeBox box = nappe_mark_finding (self->scene, x, y, nappe_finding_get_severity (finding),
                                     nappe_finding_get_number (finding));
  nappe_scene_hit (self->scene, nappe_finding_get_part (finding), box);
}

/* On one of the part's own places, else around the first of them with a line to it. */
static gboolean
pin (NappeElevation *self, NappeFinding *finding, const char *part)
{
  const NappeAnchor *first = NULL;
  for (guint i = 0; i < self->anchors->len; i++)
    {
      const NappeAnchor *anchor = &g_array_index (self->anchors, NappeAnchor, i);
      if (!g_str_equal (anchor->part, part))
        continue;
      if (!first)
        first = anchor;
      if (!mark_fits (self, anchor->x, anchor->y))
        continue;
      put_mark (self, finding, anchor->x, anchor->y);
      return TRUE;
    }
  NappeStyle leader = { .stroke = NAPPE_ROLE_SOFT, .weight = NAPPE_LINE_HAIR };
  for (guint ring = 1; first && ring <= 5; ring++)
    for (guint step = 0; step < 16; step++)
      {
        double angle = step * G_PI / 8, x = first->x + cos (angle) * ring * 28, y = first->y + sin (angle) * ring * 28;
        if (!mark_fits (self, x, y))
          continue;
        nappe_scene_stroke (self->scene, NAPPE_LAYER_NOTE, first->x, first->y, x, y, &leader);
        put_mark (self, finding, x, y);
        return TRUE;
      }
  return first != NULL;
}

/* A finding about a piece or an outlet that is not drawn by itself belongs to what it stands in. */
static void
pin_to_part_or_owner (NappeElevation *self, NappeFinding *finding)
{
  NappePart *part = nappe_build_find (self->build, nappe_finding_get_part (finding));
  while (part && !pin (self, finding, nappe_part_get_id (part)))
    part = nappe_part_get_owner (part);
}

void
nappe_elevation_draw_findings (NappeElevation *self)
{
  for (guint i = 0; self->verdict && i < self->verdict->findings->len; i++)
    pin_to_part_or_owner (self, self->verdict->findings->pdata[i]);
}
