/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "picture/charts/chart-private.h"

#include <glib/gi18n-lib.h>

#include "picture/label-layout.h"
#include "picture/picture-private.h"
#include "picture/wording.h"

#define TITLE_TOP 10.0
#define SENTENCE_TOP 31.0
#define TITLE_HEIGHT 56.0

char *
nappe_chart_number (const NappeChart *self, NappeQuantity quantity, double value)
{
  return nappe_quantity_format (quantity, value, self->options->units, 0);
}

void
nappe_chart_title (NappeChart *self, const char *title, const char *sentence, NappeRole role)
{
  double scale = self->options->text_scale, room = self->options->width - 2 * NAPPE_CHART_EDGE;
  NappeTextStyle head = { .x = NAPPE_CHART_EDGE, .y = TITLE_TOP, .size = NAPPE_TEXT_HEAD, .weight = NAPPE_TEXT_STRONG,
                          .role = NAPPE_ROLE_INK };
  NappeTextStyle under = { .x = NAPPE_CHART_EDGE, .y = SENTENCE_TOP * scale, .size = NAPPE_TEXT_SMALL, .role = role };

  if (!self->options->title)
    return;
  g_autofree char *first = nappe_label_shorten (self->scene, title, &head, room);
  g_autofree char *second = nappe_label_shorten (self->scene, sentence, &under, room);
  nappe_scene_text (self->scene, NAPPE_LAYER_NOTE, first, &head);
  nappe_scene_text (self->scene, NAPPE_LAYER_NOTE, second, &under);
  self->top = TITLE_HEIGHT * scale;
}

void
nappe_chart_say (NappeChart *self, const char *part, const char *sentence)
{
  NappeTextStyle style = { .x = self->options->width / 2, .y = (self->top + self->options->height) / 2, .align_x = 0.5,
                           .align_y = 0.5, .size = NAPPE_TEXT_BODY, .role = NAPPE_ROLE_SOFT };
  g_autofree char *text = nappe_label_shorten (self->scene, sentence, &style, self->options->width - 2 * NAPPE_CHART_EDGE);
  NappeBox box = nappe_scene_text (self->scene, NAPPE_LAYER_NOTE, text, &style);

  nappe_chart_pin (self, "", box.x + box.width / 2, box.y + box.height + 20, box.x + box.width / 2, box.y + box.height + 20);
  if (part != NULL)
    nappe_scene_item (self->scene, part, nappe_wording_part (self->build, part), sentence, box);
}

void
nappe_chart_pin (NappeChart *self, const char *part, double x, double y, double to_x, double to_y)
{
  NappePin pin = { g_string_chunk_insert_const (self->words, part), x, y, to_x, to_y };

  g_array_append_val (self->pins, pin);
}

static void
compose (NappeChart *self)
{
  static void (*const draw[NAPPE_CHART_N]) (NappeChart *) = {
    [NAPPE_CHART_PUMP] = nappe_chart_pump,
    [NAPPE_CHART_RUN_DOWN] = nappe_chart_run_down,
    [NAPPE_CHART_TUNING] = nappe_chart_tuning,
    [NAPPE_CHART_HEAD] = nappe_chart_head,
  };

  if ((guint) self->options->kind < NAPPE_CHART_N)
    draw[self->options->kind](self);
}

NappePicture *
nappe_chart_new (const NappeChartOptions *options, NappeBuild *build, const NappeStudy *study)
{
  NappePicture *picture = g_new0 (NappePicture, 1);
  NappeChartOptions sane = *options;
  NappeChart self = { .options = &sane, .build = build, .study = study, .top = NAPPE_CHART_EDGE };

  sane.width = nappe_picture_side (options->width);
  sane.height = nappe_picture_side (options->height);
  sane.text_scale = nappe_picture_text_scale (options->text_scale);
  if (sane.part == NULL)
    sane.part = sane.kind == NAPPE_CHART_RUN_DOWN ? nappe_part_get_id (build->sump) : "";
  picture->width = sane.width;
  picture->height = sane.height;
  picture->title = g_strdup (build->title);
  picture->scene = self.scene = nappe_scene_new (sane.palette, sane.width, sane.height, sane.text_scale);
  self.pins = g_array_new (FALSE, FALSE, sizeof (NappePin));
  self.words = g_string_chunk_new (64);
  g_autoptr (GPtrArray) findings = nappe_chart_findings (&self);
  /* The chart itself has the paper over the key. */
  sane.height -= nappe_chart_draw_key (&self, findings, sane.height);
  compose (&self);
  nappe_pin_findings (self.scene, build, findings, (const NappePin *) (void *) self.pins->data, self.pins->len);
  nappe_scene_say_lost (self.scene);
  nappe_findings_say (self.scene, build, sane.verdict);
  nappe_picture_select (picture, build, sane.selected);
  g_array_unref (self.pins);
  g_string_chunk_free (self.words);
  return picture;
}
