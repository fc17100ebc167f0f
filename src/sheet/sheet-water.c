/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where the water stands: vessels, levels in every state, blocked drains. */
#include "sheet/sheet-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "picture/wording.h"

static gboolean
is_vessel (const NappeNode *node)
{
  return node->kind != NAPPE_NODE_FLOOR && node->kind != NAPPE_NODE_JUNCTION;
}

/* Free surface of a vessel when running, z [m]; NaN when there is no steady state. */
static double
running_level (const NappeSheet *sheet, guint node)
{
  const NappeState *running = &sheet->study->running;
  return running->level != NULL ? nappe_sheet_running (sheet, running->level[node]) : NAN;
}

/* Inside dimensions of the vessel with an id, or NULL. */
static const NappeFrame *
find_frame (const NappeSheet *sheet, const char *id)
{
  const NappeLayout *layout = sheet->layout;

  if (g_str_equal (nappe_part_get_id (sheet->build->tank), id))
    return &layout->tank;
  for (guint i = 0; i < layout->n_boxes; i++)
    {
      const char *box = nappe_part_get_id (NAPPE_PART (layout->boxes[i].part));
      if (g_str_equal (box, id))
        return &layout->boxes[i].frame;
      if (layout->boxes[i].has_inner && g_str_has_prefix (id, box) && g_str_equal (id + strlen (box), NAPPE_INNER_SUFFIX))
        return &layout->boxes[i].inner;
    }
  for (guint i = 0; i < layout->n_vessels; i++)
    if (g_str_equal (nappe_part_get_id (NAPPE_PART (layout->vessels[i].part)), id))
      return &layout->vessels[i].frame;
  for (guint i = 0; i < layout->n_socks; i++)
    if (g_str_equal (nappe_part_get_id (NAPPE_PART (layout->socks[i].part)), id))
      return &layout->socks[i].frame;
  for (guint i = 0; i < layout->n_chambers; i++)
    if (g_str_equal (nappe_part_get_id (NAPPE_PART (layout->chambers[i].part)), id))
      return &layout->chambers[i].frame;
  return NULL;
}

/* What kind of vessel it is. */
static const char *
vessel_kind (const NappeSheet *sheet, const NappeNode *node)
{
  NappePart *part = nappe_build_find (sheet->build, node->id);

  switch (node->kind)
    {
    case NAPPE_NODE_BOX:
      /* Only an inner box has an id that no part has. */
      return part != NULL ? nappe_wording_choice (part, "style") : _("Inner box");
    case NAPPE_NODE_CHAMBER:
    case NAPPE_NODE_VESSEL:
      return part != NULL ? nappe_wording_choice (part, "role") : "";
    case NAPPE_NODE_SOCK:
      return part != NULL ? nappe_wording_choice (part, "kind") : "";
    default:
      return _("Display");
    }
}

static void
add_vessel (const NappeSheet *sheet, NappeTable *table, guint index)
{
  const NappeNode *node = &sheet->study->network->nodes[index];
  const NappeFrame *frame = find_frame (sheet, node->id);
  double level = running_level (sheet, index);
  double running = isnan (level) ? NAN : nappe_node_volume (node, level);

  nappe_table_take (table, nappe_wording_vessel (sheet->build, node));
  nappe_table_add (table, vessel_kind (sheet, node));
  nappe_table_take (table, nappe_sheet_number (sheet, NAPPE_QUANTITY_LENGTH, frame ? frame->right - frame->left : NAN));
  nappe_table_take (table, nappe_sheet_number (sheet, NAPPE_QUANTITY_LENGTH, frame ? frame->back - frame->front : NAN));
  nappe_table_take (table, nappe_sheet_number (sheet, NAPPE_QUANTITY_LENGTH, frame ? frame->rim - frame->floor : NAN));
  nappe_table_take (table, nappe_sheet_number (sheet, NAPPE_QUANTITY_VOLUME, nappe_node_volume (node, node->rim)));
  nappe_table_take (table, nappe_sheet_number (sheet, NAPPE_QUANTITY_VOLUME, running));
}

/* Total row: an empty cell but for the label and the two volumes. */
static void
add_total (const NappeSheet *sheet, NappeTable *table, const char *label, double full, double running)
{
  nappe_table_add (table, label);
  for (int i = 0; i < 4; i++)
    nappe_table_add (table, "");
  nappe_table_take (table, isnan (full) ? g_strdup ("") : nappe_sheet_number (sheet, NAPPE_QUANTITY_VOLUME, full));
  nappe_table_take (table, nappe_sheet_number (sheet, NAPPE_QUANTITY_VOLUME, running));
}

void
nappe_sheet_vessels (const NappeSheet *sheet)
{
  const NappeNetwork *network = sheet->study->network;
  const NappeState *running = &sheet->study->running;
  g_autofree char *length = nappe_sheet_head (sheet, _("inside length"), NAPPE_QUANTITY_LENGTH);
  g_autofree char *width = nappe_sheet_head (sheet, _("inside width"), NAPPE_QUANTITY_LENGTH);
  g_autofree char *height = nappe_sheet_head (sheet, _("inside height"), NAPPE_QUANTITY_LENGTH);
  g_autofree char *full = nappe_sheet_head (sheet, _("holds to its rim"), NAPPE_QUANTITY_VOLUME);
  g_autofree char *now = nappe_sheet_head (sheet, _("water when running"), NAPPE_QUANTITY_VOLUME);
  const char *heads[] = { _("vessel"), _("kind"), length, width, height, full, now };
  g_autoptr (NappeTable) table = nappe_table_new ("ttnnnnn", heads);
  double capacity = 0.0;

  for (guint i = 0; i < network->n_nodes; i++)
    if (is_vessel (&network->nodes[i]))
      {
        add_vessel (sheet, table, i);
        capacity += nappe_node_volume (&network->nodes[i], network->nodes[i].rim);
      }
  if (nappe_table_n_rows (table) > 0)
    {
      add_total (sheet, table, _("in pipes"), NAN, nappe_sheet_running (sheet, running->pipes));
      add_total (sheet, table, _("all water"), capacity, nappe_sheet_running (sheet, running->vessels + running->pipes));
      nappe_table_emphasise (table);
    }
  nappe_sheet_section (sheet, _("Vessels"), table, _("There are no vessels."));
  nappe_pages_skip (sheet->pages, 3.0);
  nappe_pages_paragraph (sheet->pages, NAPPE_LETTERING_SOFT, 0.0,
                         _("Volumes are net of rock, sand, media and what else stands in a vessel."));
}

static double
cut_level (const NappePowerCut *cut, guint node)
{
  return cut->known && cut->state.level != NULL ? cut->state.level[node] : NAN;
}

/* A power cut, or the levels while running when there is none. */
typedef struct
{
  const char *head;         /* of its column, translated */
  const NappePowerCut *cut; /* NULL: running */
} Case;

#define N_CASES 4

/* Without a check valve there is none that could fail or hold. Returns how many cases there are. */
static guint
list_cases (const NappeStudy *study, Case *cases)
{
  gboolean valve = nappe_wording_has_check_valve (study->network);
  guint n = 0;

  cases[n++] = (Case) { _("running"), NULL };
  cases[n++] = (Case) { valve ? _("power cut, check valve failed") : _("power cut"), &study->cut_check_failed };
  if (valve)
    cases[n++] = (Case) { _("power cut, check valve holds"), &study->cut_check_holds };
  cases[n++] = (Case) { _("power cut, siphon breaks blocked"), &study->cut_break_blocked };
  return n;
}

static void
add_levels (const NappeSheet *sheet, NappeTable *table, guint index, const Case *cases, guint n)
{
  const NappeNode *node = &sheet->study->network->nodes[index];
  double highest = -INFINITY;

  nappe_table_take (table, nappe_wording_vessel (sheet->build, node));
  nappe_table_take (table, nappe_sheet_number (sheet, NAPPE_QUANTITY_LENGTH, node->floor));
  nappe_table_take (table, nappe_sheet_number (sheet, NAPPE_QUANTITY_LENGTH, node->rim));
  for (guint i = 0; i < n; i++)
    {
      double level = cases[i].cut != NULL ? cut_level (cases[i].cut, index) : running_level (sheet, index);
      nappe_table_take (table, nappe_sheet_number (sheet, NAPPE_QUANTITY_LENGTH, level));
      highest = fmax (highest, level);
    }
  nappe_table_take (table, nappe_sheet_number (sheet, NAPPE_QUANTITY_LENGTH,
                                               isfinite (highest) ? fmax (0.0, node->rim - highest) : NAN));
}

void
nappe_sheet_levels (const NappeSheet *sheet)
{
  const NappeStudy *study = sheet->study;
  g_autoptr (GPtrArray) heads = g_ptr_array_new_with_free_func (g_free);
  g_autoptr (GString) kinds = g_string_new ("tnn");
  Case cases[N_CASES];
  guint n = list_cases (study, cases);
  const char *why = nappe_wording_rest (study->running.rest);

  g_ptr_array_add (heads, g_strdup (_("vessel")));
  g_ptr_array_add (heads, nappe_sheet_head (sheet, _("floor"), NAPPE_QUANTITY_LENGTH));
  g_ptr_array_add (heads, nappe_sheet_head (sheet, _("rim"), NAPPE_QUANTITY_LENGTH));
  for (guint i = 0; i < n; i++)
    {
      g_ptr_array_add (heads, nappe_sheet_head (sheet, cases[i].head, NAPPE_QUANTITY_LENGTH));
      g_string_append_c (kinds, 'n');
    }
  g_ptr_array_add (heads, nappe_sheet_head (sheet, _("least distance to the rim"), NAPPE_QUANTITY_LENGTH));
  g_string_append_c (kinds, 'n');
  g_autoptr (NappeTable) table = nappe_table_new (kinds->str, (const char *const *) heads->pdata);
  for (guint i = 0; i < study->network->n_nodes; i++)
    if (is_vessel (&study->network->nodes[i]))
      add_levels (sheet, table, i, cases, n);
  nappe_sheet_section (sheet, _("Levels above the floor of the room"), table, _("There are no vessels."));
  if (why != NULL)
    nappe_pages_paragraph (sheet->pages, NAPPE_LETTERING_SOFT, 0.0, why);
}

static char *
blockage_label (const NappeSheet *sheet, const NappeBlockage *blockage)
{
  const NappeNetwork *network = sheet->study->network;

  if (blockage->all_drains)
    return g_strdup (_("all drains"));
  if (blockage->n_blocked >= 2)
    /* Translators: two drains blocked together */
    return g_strdup_printf (_("%s and %s"),
                            nappe_wording_part (sheet->build, network->links[blockage->blocked[0]].id),
                            nappe_wording_part (sheet->build, network->links[blockage->blocked[1]].id));
  return g_strdup (nappe_wording_part (sheet->build, network->links[blockage->blocked[0]].id));
}

void
nappe_sheet_blockages (const NappeSheet *sheet)
{
  const NappeStudy *study = sheet->study;
  g_autofree char *rise = nappe_sheet_head (sheet, _("display rises"), NAPPE_QUANTITY_LENGTH);
  g_autofree char *left = nappe_sheet_head (sheet, _("left below its rim"), NAPPE_QUANTITY_LENGTH);
  g_autofree char *spilled = nappe_sheet_head (sheet, _("on the floor"), NAPPE_QUANTITY_VOLUME);
  g_autofree char *top_off = nappe_sheet_head (sheet, _("top-off adds"), NAPPE_QUANTITY_VOLUME);
  const char *heads[] = { _("blocked while the pump runs"), rise, left, spilled, top_off,
                          _("rim reached at the earliest after"), _("ends") };
  g_autoptr (NappeTable) table = nappe_table_new ("tnnnnnt", heads);

  for (guint i = 0; i < study->n_blockages; i++)
    {
      const NappeBlockage *blockage = &study->blockages[i];
      nappe_table_take (table, blockage_label (sheet, blockage));
      nappe_table_take (table, nappe_sheet_number (sheet, NAPPE_QUANTITY_LENGTH, blockage->display_rise));
      nappe_table_take (table, nappe_sheet_number (sheet, NAPPE_QUANTITY_LENGTH, blockage->freeboard));
      nappe_table_take (table, nappe_sheet_number (sheet, NAPPE_QUANTITY_VOLUME, blockage->state.spilled));
      nappe_table_take (table, nappe_sheet_number (sheet, NAPPE_QUANTITY_VOLUME, blockage->top_off_added));
      nappe_table_take (table, isinf (blockage->time_to_rim)
                                   ? g_strdup (_("never"))
                                   : nappe_sheet_quantity (sheet, NAPPE_QUANTITY_DURATION, blockage->time_to_rim));
      nappe_table_add (table, blockage->floods                    ? _("over the rim")
                              : blockage->state.draws_air         ? _("pump starved")
                              : blockage->state.rest == NAPPE_REST_FOUND ? _("a new rest")
                                                                  : _("not known"));
    }
  nappe_sheet_section (sheet, _("Blocked drains"), table, _("No blockage was studied."));
}
