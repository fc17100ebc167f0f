/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where the water stands: vessels, levels in every state, what runs down in a power cut. */
#include "sheet/sheet-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "picture/wording.h"

static gboolean
is_vessel (const NappeNode *node)
{
  return node->kind == NAPPE_NODE_DISPLAY || node->kind == NAPPE_NODE_BOX || node->kind == NAPPE_NODE_CHAMBER;
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
    if (g_str_equal (nappe_part_get_id (NAPPE_PART (layout->boxes[i].part)), id))
      return &layout->boxes[i].frame;
  for (guint i = 0; i < layout->n_chambers; i++)
    if (g_str_equal (nappe_part_get_id (NAPPE_PART (layout->chambers[i].part)), id))
      return &layout->chambers[i].frame;
  return NULL;
}

static void
add_vessel (const NappeSheet *sheet, NappeTable *table, guint index)
{
  const NappeNode *node = &sheet->study->network->nodes[index];
  const NappeFrame *frame = find_frame (sheet, node->id);
  NappePart *part = nappe_build_find (sheet->build, node->id);
  double level = running_level (sheet, index);
  double running = isnan (level) ? NAN : nappe_node_volume (node, level);

  nappe_table_add (table, nappe_wording_part (sheet->build, node->id));
  nappe_table_add (table, node->kind == NAPPE_NODE_CHAMBER && part != NULL ? nappe_wording_choice (part, "role")
                          : node->kind == NAPPE_NODE_BOX && part != NULL   ? nappe_wording_choice (part, "style")
                                                                          : _("Display"));
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

void
nappe_sheet_levels (const NappeSheet *sheet)
{
  const NappeStudy *study = sheet->study;
  const NappeNetwork *network = study->network;
  g_autofree char *floor = nappe_sheet_head (sheet, _("floor"), NAPPE_QUANTITY_LENGTH);
  g_autofree char *rim = nappe_sheet_head (sheet, _("rim"), NAPPE_QUANTITY_LENGTH);
  g_autofree char *running = nappe_sheet_head (sheet, _("running"), NAPPE_QUANTITY_LENGTH);
  g_autofree char *failed = nappe_sheet_head (sheet, _("power cut, check valve failed"), NAPPE_QUANTITY_LENGTH);
  g_autofree char *holds = nappe_sheet_head (sheet, _("power cut, check valve holds"), NAPPE_QUANTITY_LENGTH);
  g_autofree char *blocked = nappe_sheet_head (sheet, _("power cut, siphon breaks blocked"), NAPPE_QUANTITY_LENGTH);
  g_autofree char *left = nappe_sheet_head (sheet, _("least distance to the rim"), NAPPE_QUANTITY_LENGTH);
  const char *heads[] = { _("vessel"), floor, rim, running, failed, holds, blocked, left };
  g_autoptr (NappeTable) table = nappe_table_new ("tnnnnnnn", heads);
  const char *why = nappe_wording_rest (study->running.rest);

  for (guint i = 0; i < network->n_nodes; i++)
    {
      const NappeNode *node = &network->nodes[i];
      double levels[] = { running_level (sheet, i), cut_level (&study->cut_check_failed, i),
                          cut_level (&study->cut_check_holds, i), cut_level (&study->cut_break_blocked, i) };
      double highest = -INFINITY;
      if (!is_vessel (node))
        continue;
      nappe_table_add (table, nappe_wording_part (sheet->build, node->id));
      nappe_table_take (table, nappe_sheet_number (sheet, NAPPE_QUANTITY_LENGTH, node->floor));
      nappe_table_take (table, nappe_sheet_number (sheet, NAPPE_QUANTITY_LENGTH, node->rim));
      for (guint j = 0; j < G_N_ELEMENTS (levels); j++)
        {
          nappe_table_take (table, nappe_sheet_number (sheet, NAPPE_QUANTITY_LENGTH, levels[j]));
          highest = fmax (highest, levels[j]);
        }
      nappe_table_take (table, nappe_sheet_number (sheet, NAPPE_QUANTITY_LENGTH,
                                                   isfinite (highest) ? fmax (0.0, node->rim - highest) : NAN));
    }
  nappe_sheet_section (sheet, _("Levels above the floor of the room"), table, _("There are no vessels."));
  if (why != NULL)
    nappe_pages_paragraph (sheet->pages, NAPPE_LETTERING_SOFT, 0.0, why);
}

#define N_CUTS 3

static void
get_cuts (const NappeStudy *study, const NappePowerCut *cuts[N_CUTS])
{
  cuts[0] = &study->cut_check_failed;
  cuts[1] = &study->cut_check_holds;
  cuts[2] = &study->cut_break_blocked;
}

static gboolean
is_same_source (const NappeLedgerLine *a, const NappeLedgerLine *b)
{
  return a->kind == b->kind && g_str_equal (a->id, b->id);
}

/* All that came from one source: a line of several pipes has an entry for each. NaN: not known. */
static double
ledger_volume (const NappePowerCut *cut, const NappeLedgerLine *line)
{
  double volume = 0.0;

  if (!cut->known)
    return NAN;
  for (guint i = 0; i < cut->n_ledger; i++)
    if (is_same_source (&cut->ledger[i], line))
      volume += cut->ledger[i].volume;
  return volume;
}

/* Whether a source came up before: in an earlier case, or earlier in this one. */
static gboolean
was_listed (const NappePowerCut *const *cuts, int cut, guint index)
{
  const NappeLedgerLine *line = &cuts[cut]->ledger[index];

  for (int i = 0; i <= cut; i++)
    for (guint j = 0; cuts[i]->known && j < (i < cut ? cuts[i]->n_ledger : index); j++)
      if (is_same_source (&cuts[i]->ledger[j], line))
        return TRUE;
  return FALSE;
}

static char *
ledger_label (const NappeSheet *sheet, const NappeLedgerLine *line)
{
  const char *name = nappe_wording_part (sheet->build, line->id);

  switch (line->kind)
    {
    case NAPPE_LEDGER_DRAIN_PIPES:
    case NAPPE_LEDGER_RETURN_PIPES:
      /* Translators: water that stands in the pipes of a line; %s is the line's name */
      return g_strdup_printf (_("pipes of %s"), name);
    case NAPPE_LEDGER_CHAMBER:
      /* Translators: water that a chamber of the sump takes up; %s is its name */
      return g_strdup_printf (_("taken up by %s"), name);
    case NAPPE_LEDGER_DISPLAY:
    case NAPPE_LEDGER_BOX:
    default:
      return g_strdup (name);
    }
}

static void
add_ledger_row (const NappeSheet *sheet, NappeTable *table, const NappePowerCut *const *cuts,
                const NappeLedgerLine *line)
{
  double sign = line->kind == NAPPE_LEDGER_CHAMBER ? -1.0 : 1.0;

  nappe_table_take (table, ledger_label (sheet, line));
  for (int i = 0; i < N_CUTS; i++)
    nappe_table_take (table, nappe_sheet_number (sheet, NAPPE_QUANTITY_VOLUME, sign * ledger_volume (cuts[i], line)));
}

static void
add_ledger (const NappeSheet *sheet, NappeTable *table, const NappePowerCut *const *cuts, gboolean chambers)
{
  for (int i = 0; i < N_CUTS; i++)
    for (guint j = 0; cuts[i]->known && j < cuts[i]->n_ledger; j++)
      if ((cuts[i]->ledger[j].kind == NAPPE_LEDGER_CHAMBER) == chambers && !was_listed (cuts, i, j))
        add_ledger_row (sheet, table, cuts, &cuts[i]->ledger[j]);
}

static void
add_cut_total (const NappeSheet *sheet, NappeTable *table, const char *label, const NappePowerCut *const *cuts,
               gsize offset)
{
  nappe_table_add (table, label);
  for (int i = 0; i < N_CUTS; i++)
    nappe_table_take (table, nappe_sheet_number (sheet, NAPPE_QUANTITY_VOLUME,
                                                 cuts[i]->known ? G_STRUCT_MEMBER (double, cuts[i], offset) : NAN));
}

void
nappe_sheet_power_cut (const NappeSheet *sheet)
{
  const NappePowerCut *cuts[N_CUTS];
  g_autofree char *failed = nappe_sheet_head (sheet, _("check valve failed"), NAPPE_QUANTITY_VOLUME);
  g_autofree char *holds = nappe_sheet_head (sheet, _("check valve holds"), NAPPE_QUANTITY_VOLUME);
  g_autofree char *blocked = nappe_sheet_head (sheet, _("check valve failed and siphon breaks blocked"),
                                               NAPPE_QUANTITY_VOLUME);
  const char *heads[] = { _("water that comes down, by where it was"), failed, holds, blocked };
  g_autoptr (NappeTable) table = nappe_table_new ("tnnn", heads);

  get_cuts (sheet->study, cuts);
  if (cuts[0]->known || cuts[1]->known || cuts[2]->known)
    {
      add_ledger (sheet, table, cuts, FALSE);
      add_cut_total (sheet, table, _("all that comes down"), cuts, G_STRUCT_OFFSET (NappePowerCut, run_back));
      nappe_table_emphasise (table);
      add_ledger (sheet, table, cuts, TRUE);
      add_cut_total (sheet, table, _("room in the sump above its running levels"), cuts,
                     G_STRUCT_OFFSET (NappePowerCut, sump_free));
      add_cut_total (sheet, table, _("on the floor of the room"), cuts, G_STRUCT_OFFSET (NappePowerCut, state.spilled));
      nappe_table_emphasise (table);
    }
  nappe_sheet_section (sheet, _("Power cut"), table, _("The levels after a power cut are not known."));
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
