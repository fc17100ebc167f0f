/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "picture/flow/flow-diagram.h"

#include <math.h>

#include "picture/flow/flow-private.h"
#include "picture/moment.h"
#include "study/state.h"

static void
choose_states (NappeFlow *flow)
{
  const NappeStudy *study = flow->study;
  const NappeState *running = study->running.rest == NAPPE_REST_FOUND ? &study->running : NULL;
  const NappeState *cut = study->cut_check_failed.known ? &study->cut_check_failed.state : NULL;
  gboolean show_cut = flow->options->shown == NAPPE_SHOW_POWER_CUT;

  flow->at_moment = nappe_moment_take (&flow->moment, flow->options, study);
  if (flow->options->shown == NAPPE_SHOW_MOMENT)
    {
      flow->state = flow->at_moment ? &flow->moment : NULL;
      flow->other = flow->at_moment ? running : NULL;
      flow->verdict = NULL;
    }
  else
    {
      flow->state = show_cut ? cut : running;
      flow->other = show_cut ? running : cut;
    }
  flow->flowing = flow->state != NULL && flow->state != cut;
  /* A line is as wide at every moment as the same flow is while the build runs. */
  for (guint i = 0; flow->flowing && running != NULL && i < study->n_pumps; i++)
    flow->largest = fmax (flow->largest, study->pumps[i].flow);
  for (guint i = 0; flow->flowing && running != NULL && i < study->n_drains; i++)
    flow->largest = fmax (flow->largest, study->drains[i].flow);
}

static void
clear_column (gpointer data)
{
  nappe_flow_clear_words (data);
}

void
nappe_flow_diagram_compose (NappeScene *scene, const NappePictureOptions *options, NappeBuild *build,
                            const NappeLayout *layout, const NappeStudy *study, const NappeVerdict *verdict)
{
  NappeFlow flow = { .scene = scene, .options = options, .build = build, .layout = layout, .study = study,
                     .verdict = verdict, .squeeze = 1.0 };

  flow.columns = g_array_new (FALSE, FALSE, sizeof (NappeFlowColumn));
  g_array_set_clear_func (flow.columns, clear_column);
  flow.anchors = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  flow.tags = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
  flow.boxes = g_new0 (NappeBox, layout->n_boxes + 1);
  flow.inners = g_new0 (NappeBox, layout->n_boxes + 1);
  flow.vessels = g_new0 (NappeBox, layout->n_vessels + 1);
  flow.chambers = g_new0 (NappeBox, layout->n_chambers + 1);
  flow.socks = g_new0 (NappeBox, layout->n_socks + 1);
  flow.has_mark = g_new0 (gboolean, layout->n_chambers + 1);
  flow.unmarked = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  flow.text_line = nappe_text_shaper_line_height (nappe_scene_shaper (scene), NAPPE_TEXT_SMALL);
  choose_states (&flow);
  nappe_flow_plan (&flow);
  nappe_flow_draw_title (&flow);
  nappe_flow_draw_vessels (&flow);
  nappe_flow_draw_lines (&flow);
  nappe_flow_draw_top_off (&flow);
  nappe_flow_draw_column_labels (&flow);
  nappe_flow_draw_falls (&flow);
  nappe_flow_draw_levels (&flow);
  nappe_flow_name_chambers (&flow);
  nappe_flow_say_weirs (&flow);
  /* Side vessels are small: a mark among their names would leave no room for a level. */
  nappe_flow_name_side (&flow);
  nappe_flow_draw_legend (&flow);
  nappe_flow_draw_findings (&flow);
  nappe_flow_name_vessels (&flow);
  nappe_flow_name_socks (&flow);
  nappe_flow_draw_equipment (&flow);
  nappe_flow_add_items (&flow);
  g_array_unref (flow.columns);
  g_hash_table_unref (flow.anchors);
  g_hash_table_unref (flow.tags);
  g_free (flow.boxes);
  g_free (flow.inners);
  g_free (flow.vessels);
  g_free (flow.chambers);
  g_free (flow.socks);
  g_free (flow.has_mark);
  g_hash_table_unref (flow.unmarked);
  if (flow.at_moment)
    nappe_state_clear (&flow.moment);
}
