/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "picture/board.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "picture/label-layout.h"
#include "picture/marks.h"

#define MARGIN 24.0
#define SMALL_MARGIN 12.0
/* Paper with less room than this gets the short notes, or none [px]. */
#define ROOMY_WIDTH 760.0
#define ROOMY_HEIGHT 460.0
#define TINY_WIDTH 320.0
#define TINY_HEIGHT 260.0
#define REMARK_ROW 19.0

void
nappe_board_begin (NappeBoard *self, NappeScene *scene, const NappePictureOptions *options, NappeBuild *build,
                   const NappeLayout *layout, const NappeStudy *study, const NappeVerdict *verdict)
{
  double width = options->width / options->text_scale, height = options->height / options->text_scale;
  *self = (NappeBoard) { .scene = scene, .options = options, .build = build, .layout = layout, .study = study };
  self->catalogue = study && study->network ? study->network->catalogue : NULL;
  self->small = width < ROOMY_WIDTH || height < ROOMY_HEIGHT;
  self->tiny = width < TINY_WIDTH || height < TINY_HEIGHT;
  self->verdict = options->shown != NAPPE_SHOW_MOMENT ? verdict : NULL;
  self->seen = g_hash_table_new (g_str_hash, g_str_equal);
  self->pins = g_array_new (FALSE, FALSE, sizeof (NappePin));
  double edge = self->small ? SMALL_MARGIN : MARGIN;
  self->room = (NappeBox) { edge, edge, MAX (options->width - 2 * edge, 8), MAX (options->height - 2 * edge, 8) };
}

void
nappe_board_end (NappeBoard *self)
{
  g_hash_table_unref (self->seen);
  g_array_unref (self->pins);
  g_clear_pointer (&self->findings, g_ptr_array_unref);
}

void
nappe_board_see (NappeBoard *self, gpointer part)
{
  g_hash_table_add (self->seen, (gpointer) nappe_part_get_id (part));
}

static void
take_from_top (NappeBoard *self, double height)
{
  self->room.y += height;
  self->room.height = MAX (self->room.height - height, 8);
}

/* The key stands on `bottom`. Returns its height [px]. */
static double
draw_key (NappeBoard *self, double bottom)
{
  NappeFindingKey key = { .scene = self->scene, .scale = self->options->text_scale, .left = self->room.x,
                          .right = self->room.x + self->room.width, .most_rows = self->small ? 2 : 3 };
  nappe_finding_key_write (&key, self->findings);
  key.top = bottom - nappe_finding_key_height (&key);
  key.draw = TRUE;
  nappe_finding_key_write (&key, self->findings);
  return nappe_finding_key_height (&key);
}

void
nappe_board_frame (NappeBoard *self, const char *what, const char *const *remarks, guint n)
{
  double scale = self->options->text_scale, widest = self->room.width, bottom = self->room.y + self->room.height;
  NappeTextStyle title = { .x = self->room.x,
                           .y = MAX (self->room.y - 8, 7),
                           .size = NAPPE_TEXT_TITLE,
                           .weight = NAPPE_TEXT_STRONG,
                           .role = NAPPE_ROLE_INK };
  NappeTextStyle soft = { .x = self->room.x, .size = NAPPE_TEXT_BODY, .role = NAPPE_ROLE_SOFT };
  if (self->options->title)
    {
      const char *build_title = *self->build->title ? self->build->title : what;
      g_autofree char *name = nappe_label_shorten (self->scene, build_title, &title, widest);
      g_autofree char *line = nappe_label_shorten (self->scene, what, &soft, widest);
      nappe_label_place_text (self->scene, NAPPE_LAYER_NOTE, name, &title, 1, NULL);
      soft.y = title.y + 32 * scale;
      nappe_label_place_text (self->scene, NAPPE_LAYER_NOTE, line, &soft, 1, NULL);
      take_from_top (self, 48 * scale);
    }
  soft.size = NAPPE_TEXT_SMALL;
  soft.align_y = 1;
  for (guint i = 0; i < n && !self->tiny; i++)
    {
      soft.y = bottom - (n - 1 - i) * REMARK_ROW * scale;
      g_autofree char *line = nappe_label_shorten (self->scene, remarks[i], &soft, widest);
      nappe_label_place_text (self->scene, NAPPE_LAYER_NOTE, line, &soft, 1, NULL);
    }
  self->findings = nappe_findings_about (self->verdict, self->seen);
  if (self->tiny)
    return;
  double remark_height = (n * REMARK_ROW + 6) * scale, key_height = draw_key (self, bottom - remark_height + 2);
  self->room.height = MAX (self->room.height - remark_height - key_height, 8);
}

void
nappe_board_pin (NappeBoard *self, gpointer part, double x, double y, double to_x, double to_y)
{
  NappePin pin = { nappe_part_get_id (part), x, y, to_x, to_y };
  if (nappe_box_contains (&self->room, x, y))
    g_array_append_val (self->pins, pin);
}

void
nappe_board_pin_around (NappeBoard *self, gpointer part, const NappeBox *box)
{
  double out = nappe_mark_finding_size (self->scene) * 0.62, inset = fmin (fmin (box->width, box->height) * 0.2, 6);
  for (guint i = 0; i < 4; i++)
    {
      double x = i % 2 ? box->x : box->x + box->width, y = i / 2 ? box->y + box->height : box->y;
      double right = i % 2 ? -1 : 1, down = i / 2 ? 1 : -1;
      nappe_board_pin (self, part, x + right * out, y + down * out * 0.5, x - right * inset, y - down * inset);
    }
}

void
nappe_board_draw_findings (NappeBoard *self)
{
  nappe_pin_findings (self->scene, self->build, self->findings, (const NappePin *) (void *) self->pins->data, self->pins->len);
}

char *
nappe_board_number (const NappeBoard *self, double metres)
{
  return nappe_quantity_format_number (NAPPE_QUANTITY_LENGTH, metres, self->options->units, 0);
}

char *
nappe_board_length (const NappeBoard *self, double metres)
{
  return nappe_quantity_format (NAPPE_QUANTITY_LENGTH, metres, self->options->units, 0);
}

double
nappe_board_line_room (const NappeBoard *self)
{
  return nappe_text_shaper_line_height (nappe_scene_shaper (self->scene), NAPPE_TEXT_SMALL) / 2 + 2;
}

gboolean
nappe_board_cut_off (const NappeBox *area, NappeBox *place)
{
  double left = fmax (area->x, place->x), right = fmin (area->x + area->width, place->x + place->width);
  double top = fmax (area->y, place->y), bottom = fmin (area->y + area->height, place->y + place->height);
  *place = (NappeBox) { left, top, fmax (right - left, 0), fmax (bottom - top, 0) };
  return right > left && bottom > top;
}

gboolean
nappe_board_dimension (NappeBoard *self, double x1, double y1, double x2, double y2, const char *text)
{
  NappeBox line = nappe_box_grown (nappe_box_between (x1, y1, x2, y2), nappe_board_line_room (self));
  if (!nappe_mark_dimension_fits (self->scene, x1, y1, x2, y2, text) || !nappe_label_is_free (self->scene, &line, 0))
    return FALSE;
  nappe_mark_dimension (self->scene, x1, y1, x2, y2, text);
  return TRUE;
}

void
nappe_board_extend (NappeBoard *self, double x1, double y1, double x2, double y2)
{
  NappeStyle style = { .stroke = NAPPE_ROLE_HAIR, .weight = NAPPE_LINE_HAIR };
  nappe_scene_stroke (self->scene, NAPPE_LAYER_GROUND, x1, y1, x2, y2, &style);
}

void
nappe_board_hit (NappeBoard *self, gpointer part, NappeBox box)
{
  nappe_scene_hit (self->scene, nappe_part_get_id (part), box);
}

/* Size of what neither the build nor the catalogue measures [m]. */
#define UNKNOWN_LENGTH 0.10
#define UNKNOWN_HEIGHT 0.20
#define PUMP_LENGTH 0.11

static double
first_given (double own, double catalogue, double fallback)
{
  return nappe_is_given (own) ? own : catalogue > 0 ? catalogue : fallback;
}

NappeFootprint
nappe_footprint (NappeCatalogue *catalogue, const NappeEquipment *part)
{
  const NappeItem *item = catalogue ? nappe_catalogue_find (catalogue, part->item) : NULL;
  double length = first_given (part->length, item ? item->length_overall : 0, NAN);
  double width = first_given (part->width, item ? item->width : 0, NAN);
  return (NappeFootprint) { .length = first_given (length, width, UNKNOWN_LENGTH),
                            .width = first_given (width, length, UNKNOWN_LENGTH),
                            .height = first_given (part->height, item ? item->height : 0, UNKNOWN_HEIGHT),
                            .assumed = !nappe_is_given (length) || !nappe_is_given (width) };
}

NappeFootprint
nappe_pump_footprint (NappeCatalogue *catalogue, const NappePump *part)
{
  const NappeItem *item = catalogue ? nappe_catalogue_find (catalogue, part->item) : NULL;
  double length = item && item->length_overall > 0 ? item->length_overall : PUMP_LENGTH;
  return (NappeFootprint) { .length = length, .width = item && item->width > 0 ? item->width : length,
                            .height = item && item->height > 0 ? item->height : UNKNOWN_HEIGHT,
                            .assumed = !item || !(item->length_overall > 0) || !(item->width > 0) };
}

char *
nappe_board_name (const char *plain, int count)
{
  /* Translators: how many equal pumps or pieces of equipment, and their name: "2 × Return pump" */
  return count > 1 ? g_strdup_printf (_("%1$d × %2$s"), count, plain) : g_strdup (plain);
}

NappeStyle
nappe_board_pane (int material)
{
  NappeRole other = material == NAPPE_MATERIAL_ACRYLIC ? NAPPE_ROLE_ACRYLIC : NAPPE_ROLE_PVC;
  NappeRole fill = material == NAPPE_MATERIAL_GLASS ? NAPPE_ROLE_GLASS : other;
  return (NappeStyle) { .fill = fill, .stroke = NAPPE_ROLE_INK, .weight = NAPPE_LINE_HAIR };
}
