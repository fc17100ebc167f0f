/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Title, equipment tags, findings, legend and the items for assistive technology. */
#include "picture/flow/flow-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "picture/curves/course-words.h"
#include "picture/pins.h"
#include "picture/wording.h"

#define TITLE_TOP 16.0 /* [px] */
#define LEGEND_HEIGHT 560.0 /* of a picture that is high enough for a legend [px] */
#define SPILL_SHOWN 1e-6 /* less water on the floor is none [m3] */

void
nappe_flow_anchor (NappeFlow *flow, const char *id, double x, double y, double to_x, double to_y)
{
  NappeFlowAnchor *place = g_new0 (NappeFlowAnchor, 1);

  *place = (NappeFlowAnchor) { x, y, to_x, to_y };
  g_hash_table_insert (flow->anchors, g_strdup (id), place);
}

/* What is shown, in which units, or why there is nothing to show, short where the width is. Transfer full. */
static char *
subtitle (NappeFlow *flow, double width)
{
  gboolean cut = flow->options->shown == NAPPE_SHOW_POWER_CUT;
  const char *why = nappe_wording_rest (flow->study->running.rest);
  const char *length = nappe_quantity_unit (NAPPE_QUANTITY_LENGTH, flow->options->units);
  const char *rate = nappe_quantity_unit (NAPPE_QUANTITY_FLOW, flow->options->units);

  if (flow->state == NULL)
    /* Translators: subtitle of the flow diagram; %s is a whole sentence that says why */
    return g_strdup_printf (_("Flow diagram, drawn dry. %s"),
                            why != NULL ? why : cut ? _("The levels after a power cut are not known.") : "");
  if (flow->at_moment)
    {
      const char *title = flow->options->course->plan->title;
      g_autofree char *time = nappe_course_time_text (flow->options->moment, flow->options->units);
      /* Translators: subtitle of the flow diagram; a case, the time since it began, a unit of flow, a unit of length */
      g_autofree char *whole
          = g_strdup_printf (_("%1$s · after %2$s · flows (%3$s), levels (%4$s) above the floor · not to scale"),
                             title != NULL ? title : "", time, rate, length);
      if (nappe_flow_text_width (flow, whole, NAPPE_TEXT_REGULAR) <= width)
        return g_steal_pointer (&whole);
      /* Translators: short subtitle of a picture; the name of a case, and the time since it began */
      return g_strdup_printf (_("%1$s · after %2$s"), title != NULL ? title : "", time);
    }
  if (!cut)
    /* Translators: subtitle of the flow diagram; a unit of flow, a unit of length */
    return g_strdup_printf (_("Flow diagram, running · flows (%s), levels (%s) above the floor · not to scale"), rate,
                            length);
  g_autofree char *back = nappe_quantity_format (NAPPE_QUANTITY_VOLUME, flow->study->cut_check_failed.run_back,
                                                 flow->options->units, 0);
  if (nappe_wording_has_check_valve (flow->study->network))
    /* Translators: subtitle of the flow diagram; a volume, a unit of length */
    return g_strdup_printf (_("Flow diagram after a power cut, check valve failed · %s run down · levels (%s) above the floor"),
                            back, length);
  /* Translators: subtitle of the flow diagram; a volume, a unit of length */
  return g_strdup_printf (_("Flow diagram after a power cut · %s run down · levels (%s) above the floor"), back, length);
}

double
nappe_flow_title_height (const NappeFlow *flow)
{
  double title = nappe_text_shaper_line_height (nappe_scene_shaper (flow->scene), NAPPE_TEXT_TITLE);

  if (flow->options->title)
    return TITLE_TOP + title + flow->text_line + 6.0;
  return flow->state == NULL ? 8.0 + flow->text_line : 0.0;
}

void
nappe_flow_draw_title (NappeFlow *flow)
{
  const char *name = *flow->build->title != '\0' ? flow->build->title : _("Flow diagram");
  double width = nappe_scene_width (flow->scene) - 2.0 * NAPPE_FLOW_MARGIN;
  g_autofree char *line = subtitle (flow, width);
  g_autofree char *first = nappe_flow_shorten (flow, name, NAPPE_TEXT_TITLE, NAPPE_TEXT_STRONG, width - 60.0);
  g_autofree char *second = nappe_flow_shorten (flow, line, NAPPE_TEXT_SMALL, NAPPE_TEXT_REGULAR, width);
  NappeTextStyle title = { .x = NAPPE_FLOW_MARGIN, .y = TITLE_TOP, .size = NAPPE_TEXT_TITLE, .weight = NAPPE_TEXT_STRONG,
                           .role = NAPPE_ROLE_INK };
  NappeTextStyle under = { .x = NAPPE_FLOW_MARGIN, .y = nappe_flow_title_height (flow) - flow->text_line,
                           .size = NAPPE_TEXT_SMALL, .role = flow->state != NULL ? NAPPE_ROLE_SOFT : NAPPE_ROLE_DANGER };

  flow->title_right = NAPPE_FLOW_MARGIN;
  flow->title_y = TITLE_TOP + 12.0;
  if (flow->options->title)
    {
      NappeBox box = nappe_scene_text (flow->scene, NAPPE_LAYER_NOTE, first, &title);
      flow->title_right = box.x + box.width;
      flow->title_y = box.y + 0.5 * box.height;
    }
  /* Without a title the line is said only when it explains why nothing flows. */
  if (flow->options->title || flow->state == NULL)
    nappe_scene_text (flow->scene, NAPPE_LAYER_NOTE, second, &under);
}

/* Row after row, from below in a vessel, from above its rim for a light: the first place that is free. */
static gboolean
find_tag_place (const NappeFlow *flow, const NappeBox *vessel, double width, double height, gboolean light, gboolean clear,
                NappeBox *place)
{
  for (int row = 0; row < 60; row++)
    for (int column = 0; column < 9; column++)
      {
        double y = light ? vessel->y - 3.0 - height + row * 4.0 : vessel->y + vessel->height - 6.0 - height - row * 4.0;
        double share = (0.5 + (column % 2 == 0 ? 0.125 : -0.125) * ((column + 1) / 2));
        *place = (NappeBox) { vessel->x + 7.0 + (vessel->width - 14.0 - width) * share, y, width, height };
        if ((!light && y < vessel->y + 3.0) || y + height > vessel->y + vessel->height - 4.0)
          return FALSE;
        if (clear ? nappe_flow_is_clear (flow, place, 2.0) : nappe_label_is_free (flow->scene, place, 2.0))
          return TRUE;
      }
  return FALSE;
}

static void
draw_tag (NappeFlow *flow, NappeEquipment *equipment, const NappeBox *vessel)
{
  const char *id = nappe_part_get_id (NAPPE_PART (equipment));
  double most = MIN (vessel->width - 22.0, 130.0), height, width = 0.0;
  gboolean light = equipment->kind == NAPPE_EQUIPMENT_LIGHT;
  g_autoptr (GPtrArray) lines = NULL;
  NappeStyle frame = { .fill = NAPPE_ROLE_EQUIPMENT, .stroke = NAPPE_ROLE_INK, .weight = NAPPE_LINE_HAIR };
  NappeBox place;

  lines = nappe_flow_wrap (flow, nappe_part_display_name (NAPPE_PART (equipment)), NAPPE_TEXT_REGULAR, MAX (most, 20.0), 2);
  for (guint i = 0; i < lines->len; i++)
    width = MAX (width, nappe_flow_text_width (flow, g_ptr_array_index (lines, i), NAPPE_TEXT_REGULAR));
  width += 10.0;
  height = lines->len * flow->text_line + 4.0;
  if (!find_tag_place (flow, vessel, width, height, light, TRUE, &place)
      && !find_tag_place (flow, vessel, width, height, light, FALSE, &place))
    return;
  nappe_scene_box (flow->scene, NAPPE_LAYER_NOTE, place, &frame);
  nappe_scene_block (flow->scene, NAPPE_BLOCK_MARK, place);
  nappe_scene_hit (flow->scene, id, place);
  nappe_flow_anchor (flow, id, place.x + place.width - 4.0, place.y - 14.0, place.x + 0.5 * width, place.y);
  g_hash_table_insert (flow->tags, g_strdup (id), g_memdup2 (&place, sizeof place));
  for (guint i = 0; i < lines->len; i++)
    {
      NappeTextStyle style = { .x = place.x + 0.5 * width, .y = place.y + 2.0 + i * flow->text_line, .align_x = 0.5,
                               .size = NAPPE_TEXT_SMALL, .role = NAPPE_ROLE_INK };
      nappe_scene_text (flow->scene, NAPPE_LAYER_NOTE, g_ptr_array_index (lines, i), &style);
    }
}

static const NappeBox *
vessel_box (const NappeFlow *flow, const char *id)
{
  gint chamber = nappe_flow_find_chamber (flow, id), box = nappe_flow_find_box (flow, id);
  gint side = nappe_flow_find_vessel (flow, id);

  if (side >= 0)
    return &flow->vessels[side];
  if (chamber >= 0)
    return &flow->chambers[chamber];
  if (box >= 0)
    return &flow->boxes[box];
  return g_str_equal (id, nappe_part_get_id (flow->build->tank)) ? &flow->display : NULL;
}

void
nappe_flow_draw_equipment (NappeFlow *flow)
{
  for (guint i = 0; i < flow->build->equipment->len; i++)
    {
      NappeEquipment *equipment = g_ptr_array_index (flow->build->equipment, i);
      const NappeBox *vessel = vessel_box (flow, equipment->where);
      /* Socks that something leads into are drawn as what they are. */
      if (vessel != NULL && !g_hash_table_contains (flow->tags, nappe_part_get_id (NAPPE_PART (equipment))))
        draw_tag (flow, equipment, vessel);
    }
}

/* What is found about the whole build stands beside the title. */
void
nappe_flow_draw_findings (NappeFlow *flow)
{
  g_autoptr (GArray) pins = g_array_new (FALSE, FALSE, sizeof (NappePin));
  GHashTableIter iter;
  gpointer id, place;

  if (flow->verdict == NULL)
    return;
  g_hash_table_iter_init (&iter, flow->anchors);
  while (g_hash_table_iter_next (&iter, &id, &place))
    {
      const NappeFlowAnchor *anchor = place;
      NappePin pin = { id, anchor->x, anchor->y, anchor->to_x, anchor->to_y };
      g_array_append_val (pins, pin);
    }
  nappe_pins_add_whole (pins, flow->scene, flow->title_right, flow->title_y);
  nappe_pin_findings (flow->scene, flow->build, flow->verdict->findings, (const NappePin *) (void *) pins->data, pins->len);
}

/* Water on the floor: a puddle along the foot of the diagram with its litres. */
static double
draw_spill (NappeFlow *flow, double y)
{
  NappeStyle floor = { .stroke = NAPPE_ROLE_INK, .weight = NAPPE_LINE_CUT };
  NappeStyle puddle = { .fill = NAPPE_ROLE_MOVING };
  double x = flow->sump.x, spilled = flow->state != NULL ? flow->state->spilled : 0.0;

  if (!(spilled > SPILL_SHOWN))
    return NAPPE_FLOW_MARGIN;
  g_autofree char *amount = nappe_quantity_format (NAPPE_QUANTITY_VOLUME, spilled, flow->options->units, 0);
  /* Translators: %s is a volume of water */
  g_autofree char *text = g_strdup_printf (_("%s on the floor"), amount);
  NappeTextStyle style = { .x = x + 190.0, .y = y, .align_y = 0.5, .size = NAPPE_TEXT_BODY, .weight = NAPPE_TEXT_STRONG,
                           .role = NAPPE_ROLE_DANGER };
  NappeBox box = nappe_scene_text (flow->scene, NAPPE_LAYER_NOTE, text, &style);

  nappe_scene_move (flow->scene, x, y + 5.0);
  nappe_scene_curve (flow->scene, x + 20.0, y - 5.0, x + 160.0, y - 5.0, x + 180.0, y + 5.0);
  nappe_scene_close (flow->scene);
  nappe_scene_paint (flow->scene, NAPPE_LAYER_GROUND, &puddle);
  nappe_scene_stroke (flow->scene, NAPPE_LAYER_GROUND, x - 8.0, y + 5.0, x + 188.0, y + 5.0, &floor);
  return box.x + box.width + 24.0;
}

/* A legend entry: sign at x, y, then its word. Returns the x behind it, or x when there is no room. */
static double
add_legend_word (NappeFlow *flow, double x, double y, const char *word)
{
  NappeTextStyle style = { .x = x, .y = y, .align_y = 0.5, .size = NAPPE_TEXT_SMALL, .role = NAPPE_ROLE_SOFT };
  NappeBox box = nappe_scene_text (flow->scene, NAPPE_LAYER_NOTE, word, &style);
  return box.x + box.width + 20.0;
}

static gboolean
legend_fits (NappeFlow *flow, double x, const char *word)
{
  return x + 24.0 + nappe_flow_text_width (flow, word, NAPPE_TEXT_REGULAR)
         < nappe_scene_width (flow->scene) - NAPPE_FLOW_MARGIN;
}

static gboolean
has_valve (const NappeRoute *route, const char *kind)
{
  for (guint i = 0; i < route->n_legs; i++)
    if (route->legs[i].item != NULL && route->legs[i].item->kind == NAPPE_ITEM_VALVE
        && g_strcmp0 (route->legs[i].item->valve_kind, kind) == 0)
      return TRUE;
  return FALSE;
}

static gboolean
uses_valve (const NappeFlow *flow, const char *kind)
{
  for (guint i = 0; i < flow->columns->len; i++)
    {
      const NappeFlowColumn *column = nappe_flow_column (flow, i);
      const NappeLineLayout *line = nappe_flow_line (flow, column);
      if (line == NULL)
        continue;
      if (has_valve (&line->trunk, kind)
          || ((column->kind == NAPPE_COLUMN_DRAIN_BRANCH || column->kind == NAPPE_COLUMN_RETURN_BRANCH)
              && has_valve (&line->outlets[column->outlet].route, kind)))
        return TRUE;
    }
  return FALSE;
}

gboolean
nappe_flow_has_legend (const NappeFlow *flow)
{
  gboolean spills = flow->state != NULL && flow->state->spilled > SPILL_SHOWN;
  return spills || nappe_scene_height (flow->scene) >= LEGEND_HEIGHT * flow->options->text_scale;
}

void
nappe_flow_draw_legend (NappeFlow *flow)
{
  static const struct
  {
    const char *kind, *word; /* English, marked N_() */
  } valves[] = { { "gate", N_ ("gate valve") }, { "ball", N_ ("ball valve") }, { "check", N_ ("check valve") } };
  double y = nappe_scene_height (flow->scene) - 10.0 - 0.5 * flow->text_line, x = draw_spill (flow, y);
  NappeStyle dashed = { .stroke = NAPPE_ROLE_OTHER_STATE, .weight = 1.1, .dashed = TRUE };
  const char *other = flow->flowing && !flow->at_moment ? _("level after a power cut") : _("level when running");

  if (!nappe_flow_has_legend (flow))
    return;
  for (guint i = 0; i < G_N_ELEMENTS (valves); i++)
    {
      const char *word = g_dgettext (GETTEXT_PACKAGE, valves[i].word);
      if (!uses_valve (flow, valves[i].kind) || !legend_fits (flow, x, word))
        continue;
      nappe_mark_valve (flow->scene, x + 7.0, y, 1.0, 0.0, 6.0, valves[i].kind, 1.0);
      x = add_legend_word (flow, x + 20.0, y, word);
    }
  if (flow->layout->n_returns > 0 && legend_fits (flow, x, _("pump")))
    {
      nappe_mark_pump (flow->scene, x + 7.0, y, 6.5, 1.0, 0.0);
      x = add_legend_word (flow, x + 20.0, y, _("pump"));
    }
  if (flow->other != NULL && legend_fits (flow, x + 10.0, other))
    {
      nappe_scene_stroke (flow->scene, NAPPE_LAYER_NOTE, x, y, x + 24.0, y, &dashed);
      x = add_legend_word (flow, x + 30.0, y, other);
    }
  if (flow->flowing && legend_fits (flow, x, _("the wider a line, the more flows in it")))
    add_legend_word (flow, x, y, _("the wider a line, the more flows in it"));
}

static void
add_vessel_item (NappeFlow *flow, gpointer part, const NappeBox *box)
{
  const char *id = nappe_part_get_id (NAPPE_PART (part));
  g_autofree char *description = nappe_flow_describe_vessel (flow, id);

  nappe_scene_item (flow->scene, id, nappe_part_display_name (NAPPE_PART (part)), description, *box);
}

static void
add_column_items (NappeFlow *flow)
{
  for (guint i = 0; i < flow->columns->len; i++)
    {
      const NappeFlowColumn *column = nappe_flow_column (flow, i);
      const char *id = nappe_flow_column_part (flow, column);
      g_autofree char *description = nappe_flow_describe_column (flow, column);
      double top = flow->display.y + flow->display.height;
      NappeBox box = { column->left, top, column->width, flow->lanes_bottom - top };
      nappe_scene_item (flow->scene, id, nappe_wording_part (flow->build, id), description, box);
    }
}

/* A line that stays above has no column to stand for it. */
static void
add_local_item (NappeFlow *flow, const NappeLineLayout *line, const NappeFlowAnchor *pump)
{
  NappeFlowColumn words = { .kind = NAPPE_COLUMN_RETURN, .line = (guint) (line - flow->layout->returns), .chamber = -1 };

  nappe_flow_column_words (flow, &words);
  g_autofree char *description = nappe_flow_describe_column (flow, &words);
  nappe_scene_item (flow->scene, nappe_part_get_id (line->part), nappe_part_display_name (line->part),
                    *description != '\0' ? description : nappe_part_display_name (line->part),
                    (NappeBox) { pump->to_x - 9.0, flow->header, 18.0, MAX (pump->to_y - flow->header, 18.0) });
  nappe_flow_clear_words (&words);
}

void
nappe_flow_add_items (NappeFlow *flow)
{
  const NappeLayout *layout = flow->layout;

  add_vessel_item (flow, flow->build->tank, &flow->display);
  for (guint i = 0; i < layout->n_boxes; i++)
    {
      gboolean has_inner = flow->inners[i].width > 0.0;
      NappeBox both = has_inner ? nappe_box_union (&flow->boxes[i], &flow->inners[i]) : flow->boxes[i];
      add_vessel_item (flow, layout->boxes[i].part, &both);
    }
  for (guint i = 0; i < layout->n_vessels; i++)
    add_vessel_item (flow, layout->vessels[i].part, &flow->vessels[i]);
  add_column_items (flow);
  for (guint i = 0; i < layout->n_chambers; i++)
    add_vessel_item (flow, layout->chambers[i].part, &flow->chambers[i]);
  for (guint i = 0; i < layout->n_returns; i++)
    {
      NappePart *pump = NAPPE_RETURN_LINE (layout->returns[i].part)->pump;
      const NappeFlowAnchor *anchor = g_hash_table_lookup (flow->anchors, nappe_part_get_id (pump));
      if (anchor == NULL)
        continue;
      if (nappe_flow_is_local (flow, &layout->returns[i]))
        add_local_item (flow, &layout->returns[i], anchor);
      nappe_scene_item (flow->scene, nappe_part_get_id (pump), nappe_part_display_name (pump),
                          nappe_part_display_name (layout->returns[i].part),
                          (NappeBox) { anchor->to_x - 12.0, anchor->to_y - 12.0, 24.0, 24.0 });
    }
  for (guint i = 0; i < flow->build->equipment->len; i++)
    {
      NappeEquipment *equipment = g_ptr_array_index (flow->build->equipment, i);
      const char *id = nappe_part_get_id (NAPPE_PART (equipment));
      const NappeBox *tag = g_hash_table_lookup (flow->tags, id);
      const NappeBox *vessel = vessel_box (flow, equipment->where);
      g_autofree char *description = nappe_flow_describe_equipment (flow, equipment);
      /* Where there is no room for a tag, the vessel stands for it. */
      if (tag != NULL || vessel != NULL)
        nappe_scene_item (flow->scene, id, nappe_part_display_name (NAPPE_PART (equipment)), description,
                          tag != NULL ? *tag : *vessel);
    }
}
