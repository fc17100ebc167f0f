/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Label boxes of drains and returns, and the names of the sump's chambers. */
#include "picture/elevation/elevation-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "picture/label-layout.h"
#include "picture/wording.h"

/* Widest name in a label, and beside a thing [px]. */
#define WIDEST_NAME 170.0

static const NappeTextStyle strong_style = { .size = NAPPE_TEXT_SMALL, .weight = NAPPE_TEXT_STRONG, .role = NAPPE_ROLE_INK };

/* Texts of one label. */
typedef struct
{
  char *name, *value;
  GPtrArray *lines; /* char * */
} Words;

static void
clear_words (Words *words)
{
  g_free (words->name);
  g_free (words->value);
  g_ptr_array_unref (words->lines);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Words, clear_words)

static char *
amount (const NappeElevation *self, NappeQuantity quantity, double value)
{
  return nappe_quantity_format (quantity, value, self->options->units, 0);
}

/* Water that leaves a line in a power cut; NaN: the study does not say. */
static double
run_down (const NappeElevation *self, const char *id)
{
  const NappePowerCut *cut = &self->study->cut_check_failed;
  for (guint i = 0; i < cut->n_ledger; i++)
    if (g_str_equal (cut->ledger[i].id, id))
      return cut->ledger[i].volume;
  return NAN;
}

static void
say_power_cut (const NappeElevation *self, const NappeDrawnPipe *pipe, Words *words)
{
  double volume = run_down (self, nappe_elevation_id (pipe->line->part));
  if (isnan (volume))
    return;
  words->value = amount (self, NAPPE_QUANTITY_VOLUME, volume);
  /* Translators: under the litres that a pipe held when the power failed */
  g_ptr_array_add (words->lines, g_strdup (_("runs down into the sump")));
}

static void
say_moment (const NappeElevation *self, const NappeDrawnPipe *pipe, Words *words)
{
  const char *word = nappe_elevation_moment_word (self, pipe);
  if (fabs (pipe->flow) > 0)
    words->value = amount (self, NAPPE_QUANTITY_FLOW, fabs (pipe->flow));
  g_ptr_array_add (words->lines, g_strdup (word));
}

static void
say_drain (const NappeElevation *self, const NappeDrawnPipe *pipe, Words *words)
{
  const NappeDrainReport *report = nappe_study_drain (self->study, nappe_elevation_id (pipe->line->part));
  if (!report)
    return;
  g_autofree char *speed = amount (self, NAPPE_QUANTITY_SPEED, report->velocity);
  g_autofree char *opening = amount (self, NAPPE_QUANTITY_SHARE, report->opening);
  g_autofree char *reserve = amount (self, NAPPE_QUANTITY_FLOW, report->reserve);
  gboolean dry = report->state == NAPPE_DRAIN_DRY;
  words->value = dry ? g_strdup (nappe_wording_drain_state (report->state)) : amount (self, NAPPE_QUANTITY_FLOW, report->flow);
  if (!dry)
    /* Translators: how a drain runs, and the water's speed: "full bore, 0.95 m/s" */
    g_ptr_array_add (words->lines, g_strdup_printf (_("%s, %s"), nappe_wording_drain_state (report->state), speed));
  if (nappe_is_given (report->opening))
    /* Translators: a valve, and how far open it is: "valve 25 % open" */
    g_ptr_array_add (words->lines, g_strdup_printf (_("valve %s open"), opening));
  if (isfinite (report->reserve) && report->reserve > 0)
    /* Translators: the flow that a drain could carry beyond its present one */
    g_ptr_array_add (words->lines, g_strdup_printf (dry ? _("can carry %s") : _("can carry %s more"), reserve));
}

static void
say_return (const NappeElevation *self, const NappeDrawnPipe *pipe, Words *words)
{
  const NappePumpReport *report = nappe_study_pump (self->study, nappe_elevation_id (pipe->line->part));
  if (!report)
    return;
  g_autofree char *head = amount (self, NAPPE_QUANTITY_HEAD, report->head);
  words->value = amount (self, NAPPE_QUANTITY_FLOW, report->flow);
  /* Translators: the head that a pump works against: "2.38 m of head" */
  g_ptr_array_add (words->lines, g_strdup_printf (_("%s of head"), head));
  if (self->layout->n_returns == 1 && self->study->display_turnover > 0)
    {
      g_autofree char *turnover = nappe_quantity_format_number (NAPPE_QUANTITY_RATE, self->study->display_turnover,
                                                                self->options->units, 2);
      /* Translators: how often the display's water is pumped round in an hour */
      g_ptr_array_add (words->lines, g_strdup_printf (_("%s turnovers an hour"), turnover));
    }
}

/* Where the leader of a label ends: on the longest upright of the pipe, at a share of its height. */
static gboolean
label_point (const NappeElevation *self, const NappeDrawnPipe *pipe, double share, double *x, double *y)
{
  double longest = 0;
  for (guint i = pipe->lead; i + 1 < pipe->points->len; i++)
    {
      const NappePipePoint *a = &g_array_index (pipe->points, NappePipePoint, i), *b = a + 1;
      double length = hypot (b->x - a->x, b->z - a->z);
      /* Uprights can be told apart side by side; level stretches often run together. */
      if (fabs (b->z - a->z) < fabs (b->x - a->x))
        length *= 0.4;
      if (nappe_elevation_is_behind (self, pipe, i))
        length *= 0.1;
      if (length <= longest)
        continue;
      longest = length;
      double high = fmax (a->z, b->z), low = fmin (a->z, b->z);
      double z = fabs (b->z - a->z) > 1e-6 ? high - (high - low) * share : a->z;
      double along = fabs (b->z - a->z) > 1e-6 ? (z - a->z) / (b->z - a->z) : 0.5;
      *x = nappe_elevation_x (self, a->x + (b->x - a->x) * along);
      *y = nappe_elevation_y (self, z);
    }
  return longest > 0;
}

static void
place_label (NappeElevation *self, const NappeDrawnPipe *pipe, const Words *words, double share)
{
  NappeLabelSpec spec = { .part = nappe_elevation_id (pipe->outlet ? (gconstpointer) pipe->outlet->part : pipe->line->part),
                          .name = words->name, .value = words->value };
  double middle = nappe_elevation_x (self, (self->layout->tank.left + self->layout->tank.right) / 2);
  for (guint i = 0; i < words->lines->len && i < NAPPE_LABEL_LINES_MAX; i++)
    spec.lines[i] = words->lines->pdata[i];
  if (self->small && words->lines->len > 1)
    spec.lines[1] = NULL;
  spec.area = (NappeBox) { self->rule_x + 8, 8, self->dimension_x - 12 - self->rule_x - 8,
                           nappe_scene_height (self->scene) - 16 };
  /* A few heights: the first that has room wins. */
  static const double tries[] = { 0, 0.12, -0.12, 0.24, -0.24, 0.36, -0.36 };
  for (guint i = 0; i < G_N_ELEMENTS (tries); i++)
    if (label_point (self, pipe, CLAMP (share + tries[i], 0.05, 0.95), &spec.x, &spec.y)
        && nappe_box_contains (&self->view, spec.x, spec.y))
      {
        spec.way = spec.x < middle ? -1 : 1;
        if (nappe_label_place (self->scene, &spec, NULL))
          return;
      }
}

static void
label_pipe (NappeElevation *self, const NappeDrawnPipe *pipe, double share)
{
  g_auto (Words) words = { .lines = g_ptr_array_new_with_free_func (g_free) };
  gpointer part = pipe->outlet ? (gpointer) pipe->outlet->part : (gpointer) pipe->line->part;
  words.name = nappe_label_shorten (self->scene, nappe_part_display_name (NAPPE_PART (part)), &strong_style,
                                    WIDEST_NAME * self->options->text_scale);
  if (pipe->outlet)
    {
      if (isfinite (pipe->flow))
        words.value = amount (self, NAPPE_QUANTITY_FLOW, fabs (pipe->flow));
    }
  else if (self->at_moment)
    say_moment (self, pipe, &words);
  else if (self->shown && self->options->shown == NAPPE_SHOW_POWER_CUT)
    say_power_cut (self, pipe, &words);
  else if (self->shown && pipe->drain)
    say_drain (self, pipe, &words);
  else if (self->shown)
    say_return (self, pipe, &words);
  place_label (self, pipe, &words, share);
}

/* Level in an overflow's inner box; NULL: none, or not known. */
static char *
inner_line (NappeElevation *self, const NappeBoxLayout *box)
{
  double level = box->has_inner ? nappe_elevation_level (self, self->shown, nappe_elevation_inner_id (self, box)) : NAN;
  g_autofree char *height = amount (self, NAPPE_QUANTITY_LENGTH, level);
  /* Translators: of an overflow whose weir pours into an inner box: the level of the water in that box */
  return isnan (level) ? NULL : g_strdup_printf (_("inner box at %s"), height);
}

/* A side vessel: its name and level, and what pours over its spout. */
static void
label_vessel (NappeElevation *self, const NappeVesselLayout *vessel)
{
  const char *id = nappe_elevation_id (vessel->part);
  gint link = self->study ? nappe_network_find_link (self->study->network, NAPPE_LINK_WEIR, id) : -1;
  double flow = link >= 0 && self->shown && self->shown->flow ? self->shown->flow[link] : 0;
  double level = nappe_elevation_level (self, self->shown, id);
  g_autofree char *name = nappe_label_shorten (self->scene, nappe_part_display_name (NAPPE_PART (vessel->part)), &strong_style,
                                               WIDEST_NAME * self->options->text_scale);
  g_autofree char *height = isnan (level) ? NULL : amount (self, NAPPE_QUANTITY_LENGTH, level);
  g_autofree char *poured = amount (self, NAPPE_QUANTITY_FLOW, flow);
  /* Translators: the flow over the spout of a side vessel */
  g_autofree char *text = flow > 0 ? g_strdup_printf (_("%s over its spout"), poured) : NULL;
  const NappeFrame *tank = &self->layout->tank, *frame = &vessel->frame;
  gboolean right = frame->left + frame->right > tank->left + tank->right;
  NappeLabelSpec spec = { .part = id, .name = name, .value = height, .lines = { text }, .way = right ? 1 : -1 };
  spec.x = nappe_elevation_x (self, right ? frame->right : frame->left) + (right ? -1 : 1) * 5;
  spec.y = nappe_elevation_y (self, frame->rim - (frame->rim - frame->floor) * 0.3);
  spec.area = (NappeBox) { self->rule_x + 8, 8, self->dimension_x - self->rule_x - 20, nappe_scene_height (self->scene) - 16 };
  if (nappe_box_contains (&self->view, spec.x, spec.y))
    nappe_label_place (self->scene, &spec, NULL);
}

/* An overflow box: its name, and the water over its weir. */
static void
label_box (NappeElevation *self, const NappeBoxLayout *box)
{
  const char *id = nappe_elevation_id (box->part);
  const NappeWeirReport *weir = self->study && self->shown && self->options->shown == NAPPE_SHOW_RUNNING
      ? nappe_study_weir (self->study, id) : NULL;
  g_autofree char *name = nappe_label_shorten (self->scene, nappe_part_display_name (NAPPE_PART (box->part)), &strong_style,
                                               WIDEST_NAME * self->options->text_scale);
  g_autofree char *film = weir ? amount (self, NAPPE_QUANTITY_LENGTH, weir->film) : NULL;
  double level = nappe_elevation_level (self, self->shown, id);
  g_autofree char *height = isnan (level) ? NULL : amount (self, NAPPE_QUANTITY_LENGTH, level);
  /* Translators: the height of the water over a weir */
  g_autofree char *text = weir && weir->film > 0 ? g_strdup_printf (_("%s of water over the weir"), film) : NULL;
  g_autofree char *inner = inner_line (self, box);
  const NappeFrame *tank = &self->layout->tank;
  gboolean right = box->frame.left + box->frame.right > tank->left + tank->right;
  NappeLabelSpec spec = { .part = id, .name = name, .value = height, .lines = { text ? text : inner, text ? inner : NULL },
                          .way = right ? 1 : -1 };
  spec.x = nappe_elevation_x (self, right ? box->frame.right : box->frame.left) + (right ? -1 : 1) * 5;
  spec.y = nappe_elevation_y (self, (box->weir + fmax (box->weir_top, box->weir)) / 2);
  spec.area = (NappeBox) { self->rule_x + 8, 8, self->dimension_x - self->rule_x - 20, nappe_scene_height (self->scene) - 16 };
  if (nappe_box_contains (&self->view, spec.x, spec.y))
    nappe_label_place (self->scene, &spec, NULL);
}

/* Labels lie over vessels and the stand's inside only when there is no paper left beside them. */
static void
prefer_paper (NappeElevation *self)
{
  const NappeFrame *frames[] = { &self->layout->tank, &self->layout->sump, &self->layout->stand };
  for (guint i = 0; i < G_N_ELEMENTS (frames); i++)
    {
      double low = i == 2 ? 0 : frames[i]->floor;
      NappeBox box = nappe_elevation_box (self, frames[i]->left, frames[i]->right, low, frames[i]->rim);
      nappe_scene_block (self->scene, NAPPE_BLOCK_SOFT, box);
    }
}

void
nappe_elevation_draw_labels (NappeElevation *self)
{
  guint drain = 0, n_drains = self->layout->n_drains;
  prefer_paper (self);
  for (guint i = 0; i < self->layout->n_drains + self->layout->n_returns; i++)
    {
      const NappeLineLayout *line = i < n_drains ? &self->layout->drains[i] : &self->layout->returns[i - n_drains];
      for (guint k = 0; k < self->pipes->len; k++)
        {
          const NappeDrawnPipe *pipe = self->pipes->pdata[k];
          if (pipe->line != line || pipe->outlet)
            continue;
          double share = pipe->drain ? 0.34 + 0.5 * (drain + 0.5) / n_drains : 0.5;
          drain += pipe->drain;
          label_pipe (self, pipe, share);
        }
    }
  for (guint i = 0; i < self->layout->n_boxes && !self->small; i++)
    label_box (self, &self->layout->boxes[i]);
  for (guint i = 0; i < self->layout->n_vessels && !self->small; i++)
    label_vessel (self, &self->layout->vessels[i]);
  /* Branches that carry a flow of their own come after the lines that they leave. */
  for (guint k = 0; k < self->pipes->len && !self->small; k++)
    {
      const NappeDrawnPipe *pipe = self->pipes->pdata[k];
      if (pipe->outlet && pipe->line->n_outlets > 1 && self->options->shown != NAPPE_SHOW_POWER_CUT)
        label_pipe (self, pipe, 0.5);
    }
}

/* Whether a line down to a name would run through another text. */
static gboolean
line_is_clear (const NappeElevation *self, double x, double from, double to)
{
  guint n;
  const NappeBlock *blocks = nappe_scene_blocks (self->scene, &n);
  for (guint i = 0; i < n; i++)
    if (blocks[i].kind == NAPPE_BLOCK_TEXT && nappe_box_meets_line (&blocks[i].box, x, from, x, to))
      return FALSE;
  return TRUE;
}

/* Heights of the surfaces that found no room beside their marks, "262 / 238". */
static char *
heights_of (const NappeElevation *self, guint first, guint end)
{
  GString *text = g_string_new (NULL);
  for (guint i = first; i < end; i++)
    {
      const char *id = nappe_elevation_id (self->layout->chambers[i].part);
      if (!g_ptr_array_find (self->unnumbered, id, NULL))
        continue;
      g_autofree char *height = nappe_elevation_length_text (self, nappe_elevation_level (self, self->shown, id));
      g_string_append_printf (text, "%s%s", text->len ? " / " : "", height);
    }
  return g_string_free (text, FALSE);
}

/* Under the floor of the room, in one of two rows, with a line up when the name is wider than its chamber. */
static void
name_chambers (NappeElevation *self, guint first, guint end)
{
  const NappeChamberLayout *from = &self->layout->chambers[first], *to = &self->layout->chambers[end - 1];
  NappeStyle line = { .stroke = NAPPE_ROLE_SOFT, .weight = NAPPE_LINE_HAIR };
  NappeTextStyle style = { .align_x = 0.5, .size = NAPPE_TEXT_SMALL, .role = NAPPE_ROLE_SOFT };
  double scale = self->options->text_scale;
  double floor = nappe_elevation_y (self, 0), bottom = nappe_elevation_y (self, from->frame.floor);
  const char *own = end - first == 1 ? nappe_part_get_name (NAPPE_PART (from->part)) : "";
  const char *whole = *own ? own : nappe_wording_choice (NAPPE_PART (from->part), "role");
  g_autofree char *heights = heights_of (self, first, end);
  g_autofree char *short_name = nappe_label_shorten (self->scene, whole, &style, WIDEST_NAME * scale);
  g_autofree char *name = g_strconcat (short_name, *heights ? "  " : "", heights, NULL);
  double length = (to->frame.right - from->frame.left) * self->scale;
  style.x = nappe_elevation_x (self, (from->frame.left + to->frame.right) / 2);
  for (guint row = 0; row < 2; row++)
    {
      style.y = floor + (14 + row * 19) * scale;
      NappeBox box;
      if (!line_is_clear (self, style.x, floor, style.y) || !nappe_label_place_text (self->scene, NAPPE_LAYER_NOTE, name,
                                                                                     &style, 1, &box))
        continue;
      nappe_scene_hit (self->scene, nappe_elevation_id (from->part), box);
      if (row > 0 || box.width > length + 16)
        nappe_scene_stroke (self->scene, NAPPE_LAYER_NOTE, style.x, box.y + 1, style.x, bottom, &line);
      return;
    }
}

/* Neighbours of one role, such as the two sides of a bubble trap, share one name. */
void
nappe_elevation_name_chambers (NappeElevation *self)
{
  for (guint first = 0, end; first < self->layout->n_chambers && !self->small; first = end)
    {
      end = first + 1;
      while (end < self->layout->n_chambers
             && self->layout->chambers[end].part->role == self->layout->chambers[first].part->role)
        end++;
      name_chambers (self, first, end);
    }
}
