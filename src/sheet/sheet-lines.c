/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What moves: drains and their tuning, pumps, weirs. */
#include "sheet/sheet-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "picture/wording.h"

/* A careful move of a valve's stem, in turns. */
#define STEM_STEP 0.1

static const NappeLineLayout *
find_drain_layout (const NappeSheet *sheet, const char *id)
{
  for (guint i = 0; i < sheet->layout->n_drains; i++)
    if (g_str_equal (nappe_part_get_id (sheet->layout->drains[i].part), id))
      return &sheet->layout->drains[i];
  return NULL;
}

/* Nominal size of the first pipe of a run; "—" when the catalogue knows none. */
static const char *
line_size (const NappeLineLayout *line)
{
  for (guint i = 0; line != NULL && i < line->trunk.n_legs; i++)
    {
      const NappeItem *item = line->trunk.legs[i].item;
      if (item != NULL && item->nominal != NULL && (item->kind == NAPPE_ITEM_PIPE || item->kind == NAPPE_ITEM_HOSE))
        return item->nominal;
    }
  return "—";
}

static void
add_drain (const NappeSheet *sheet, NappeTable *table, const NappeDrainReport *drain)
{
  const NappeLineLayout *line = find_drain_layout (sheet, drain->id);
  NappePart *part = nappe_build_find (sheet->build, drain->id);
  gboolean running = sheet->study->running.rest == NAPPE_REST_FOUND;

  nappe_table_add (table, nappe_wording_part (sheet->build, drain->id));
  nappe_table_add (table, part != NULL ? nappe_wording_choice (part, "role") : "");
  nappe_table_add (table, line_size (line));
  nappe_table_take (table, nappe_sheet_number (sheet, NAPPE_QUANTITY_LENGTH, line != NULL ? line->crest : NAN));
  nappe_table_take (table, nappe_sheet_number (sheet, NAPPE_QUANTITY_FLOW, nappe_sheet_running (sheet, drain->flow)));
  nappe_table_add (table, running ? nappe_wording_drain_state (drain->state) : "—");
  nappe_table_take (table, nappe_sheet_number (sheet, NAPPE_QUANTITY_SPEED, nappe_sheet_running (sheet, drain->velocity)));
  nappe_table_take (table, nappe_sheet_number (sheet, NAPPE_QUANTITY_FLOW, drain->quiet_flow));
  nappe_table_take (table, nappe_sheet_number (sheet, NAPPE_QUANTITY_FLOW, drain->capacity_inlet));
  nappe_table_take (table, nappe_sheet_number (sheet, NAPPE_QUANTITY_FLOW, drain->capacity_full));
  nappe_table_take (table, nappe_sheet_number (sheet, NAPPE_QUANTITY_FLOW, nappe_sheet_running (sheet, drain->reserve)));
}

void
nappe_sheet_drains (const NappeSheet *sheet)
{
  const NappeStudy *study = sheet->study;
  g_autofree char *height = nappe_sheet_head (sheet, _("inlet above the floor"), NAPPE_QUANTITY_LENGTH);
  g_autofree char *flow = nappe_sheet_head (sheet, _("flow"), NAPPE_QUANTITY_FLOW);
  g_autofree char *speed = nappe_sheet_head (sheet, _("speed"), NAPPE_QUANTITY_SPEED);
  g_autofree char *quiet = nappe_sheet_head (sheet, _("quiet up to"), NAPPE_QUANTITY_FLOW);
  g_autofree char *inlet = nappe_sheet_head (sheet, _("carries unprimed"), NAPPE_QUANTITY_FLOW);
  g_autofree char *full = nappe_sheet_head (sheet, _("carries full"), NAPPE_QUANTITY_FLOW);
  g_autofree char *reserve = nappe_sheet_head (sheet, _("left over"), NAPPE_QUANTITY_FLOW);
  const char *heads[] = { _("drain"), _("role"), _("size"), height, flow, _("runs"), speed, quiet, inlet, full, reserve };
  g_autoptr (NappeTable) table = nappe_table_new ("tttnntnnnnn", heads);

  for (guint i = 0; i < study->n_drains; i++)
    add_drain (sheet, table, &study->drains[i]);
  nappe_sheet_section (sheet, _("Drains"), table, _("There is no drain."));
  if (study->n_drains > 0)
    {
      nappe_pages_skip (sheet->pages, 3.0);
      nappe_pages_paragraph (sheet->pages, NAPPE_LETTERING_SOFT, 0.0,
                             _("What a drain carries is told with the display full to its rim: unprimed by the inlet "
                               "alone, and full bore. Left over is the lesser that can be counted on, less the flow."));
    }
}

/* Share of the pump's flow with its sign; "—" where there is no such bound. */
static char *
signed_share (const NappeSheet *sheet, double share)
{
  g_autofree char *size = nappe_sheet_quantity (sheet, NAPPE_QUANTITY_SHARE, fabs (share));

  if (isnan (share))
    return g_strdup ("—");
  return g_strconcat (share < 0.0 ? "−" : "+", size, NULL);
}

/* How far the box rises for a tenth of a turn of the valve's stem, or a degree of its handle, towards shut: what a hand
 * can do. Transfer full. */
static char *
turn_text (const NappeSheet *sheet, const NappeDrainReport *drain)
{
  gboolean handle = g_str_equal (drain->valve_kind, "ball");
  double step = handle ? 1.0 : STEM_STEP;
  g_autofree char *rise = nappe_quantity_format_number (NAPPE_QUANTITY_LENGTH, step * drain->rise_per_turn,
                                                        sheet->options->units, 2);

  if (isnan (drain->rise_per_turn) || sheet->study->running.rest != NAPPE_REST_FOUND)
    return g_strdup ("—");
  if (handle)
    /* Translators: how far the water rises when the handle of a valve is moved by one degree; %s is a length's number */
    return g_strdup_printf (_("%s for 1°"), rise);
  /* Translators: how far the water rises when the stem of a valve is turned by a tenth; %s is a length's number */
  return g_strdup_printf (_("%s for 1/10 turn"), rise);
}

static void
add_tuning (const NappeSheet *sheet, NappeTable *table, const NappeDrainReport *drain)
{
  const NappeTuningWindow *window = &drain->window;
  gboolean known = window->known && sheet->study->running.rest == NAPPE_REST_FOUND;

  nappe_table_add (table, nappe_wording_part (sheet->build, drain->id));
  nappe_table_take (table, nappe_sheet_quantity (sheet, NAPPE_QUANTITY_SHARE, drain->opening));
  nappe_table_take (table, nappe_sheet_quantity (sheet, NAPPE_QUANTITY_SHARE, drain->opening_wanted));
  nappe_table_take (table, nappe_sheet_number (sheet, NAPPE_QUANTITY_FLOW, drain->flow_valve_open));
  nappe_table_take (table, signed_share (sheet, known ? window->breaks : NAN));
  nappe_table_take (table, signed_share (sheet, known ? window->channel_dry : NAN));
  nappe_table_take (table, signed_share (sheet, known ? window->channel_loud : NAN));
  nappe_table_take (table, signed_share (sheet, known ? window->emergency_wet : NAN));
  nappe_table_take (table, nappe_sheet_number (sheet, NAPPE_QUANTITY_LENGTH,
                                               known ? window->rise_per_percent : NAN));
  nappe_table_take (table, turn_text (sheet, drain));
}

void
nappe_sheet_tuning (const NappeSheet *sheet)
{
  const NappeStudy *study = sheet->study;
  g_autofree char *open = nappe_sheet_head (sheet, _("carries with the valve open"), NAPPE_QUANTITY_FLOW);
  g_autofree char *rise = nappe_sheet_head (sheet, _("box rises for 1 % of closing"), NAPPE_QUANTITY_LENGTH);
  g_autofree char *turn = nappe_sheet_head (sheet, _("and for a small move"), NAPPE_QUANTITY_LENGTH);
  const char *heads[] = { _("valve of"), _("drawn open"), _("opening that tunes it"), open, _("siphon breaks at"),
                          _("channel runs dry at"), _("channel loud at"), _("emergency wet at"), rise, turn };
  g_autoptr (NappeTable) table = nappe_table_new ("tnnnnnnnnn", heads);

  for (guint i = 0; i < study->n_drains; i++)
    if (!isnan (study->drains[i].opening) || study->drains[i].window.known)
      add_tuning (sheet, table, &study->drains[i]);
  if (nappe_table_n_rows (table) == 0)
    return;
  nappe_sheet_section (sheet, _("Valves and tuning window"), table, "");
  nappe_pages_skip (sheet->pages, 3.0);
  nappe_pages_paragraph (sheet->pages, NAPPE_LETTERING_SOFT, 0.0,
                         _("Bounds are changes of the pump’s flow: at −7 % the bound is met when the flow falls by 7 %. "
                           "Losses of a throttled valve are known to a factor of two: tune by the level, not by the figure."));
}

static void
add_pump (const NappeSheet *sheet, NappeTable *table, const NappePumpReport *report)
{
  const struct
  {
    const char *label;
    NappeQuantity quantity;
    double value;
  } rows[] = {
    { _("flow"), NAPPE_QUANTITY_FLOW, nappe_sheet_running (sheet, report->flow) },
    { _("head at that flow"), NAPPE_QUANTITY_HEAD, nappe_sheet_running (sheet, report->head) },
    /* A line that ends in another has no height of its own to lift to. */
    { _("of it static"), NAPPE_QUANTITY_HEAD,
      isfinite (report->static_head) ? nappe_sheet_running (sheet, report->static_head) : NAN },
    { _("shut-off head"), NAPPE_QUANTITY_HEAD, report->shut_off_head },
    { _("end of its curve"), NAPPE_QUANTITY_FLOW, report->end_flow },
    { _("lift to the line’s highest point at a restart"), NAPPE_QUANTITY_HEAD, nappe_sheet_running (sheet, report->lift_head) },
    { _("water over the inlet"), NAPPE_QUANTITY_LENGTH, nappe_sheet_running (sheet, report->submergence) },
    { _("advised over the inlet (ANSI/HI 9.8)"), NAPPE_QUANTITY_LENGTH, report->submergence_wanted },
  };

  nappe_sheet_pair (table, _("line"), g_strdup (nappe_wording_part (sheet->build, report->line)));
  if (sheet->study->network->links[report->link].count > 1)
    nappe_sheet_pair (table, _("equal pumps side by side"),
                      nappe_sheet_quantity (sheet, NAPPE_QUANTITY_COUNT, sheet->study->network->links[report->link].count));
  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    nappe_sheet_pair (table, rows[i].label, nappe_sheet_quantity (sheet, rows[i].quantity, rows[i].value));
}

void
nappe_sheet_pumps (const NappeSheet *sheet)
{
  const NappeStudy *study = sheet->study;
  const char *heads[] = { _("operating point"), _("value") };

  for (guint i = 0; i < study->n_pumps; i++)
    {
      const NappePumpReport *report = &study->pumps[i];
      g_autoptr (NappeTable) table = nappe_table_new ("tn", heads);
      g_autofree char *heading = g_strdup_printf (_("Pump: %s"), nappe_wording_part (sheet->build, report->id));
      add_pump (sheet, table, report);
      if (i == 0)
        {
          nappe_sheet_pair (table, _("turnover of the display"),
                            nappe_sheet_quantity (sheet, NAPPE_QUANTITY_RATE,
                                                  nappe_sheet_running (sheet, study->display_turnover)));
          nappe_sheet_pair (table, _("water that the pumps can lift before they draw air"),
                            nappe_sheet_quantity (sheet, NAPPE_QUANTITY_VOLUME, study->pump_liftable));
        }
      nappe_sheet_section (sheet, heading, table, "");
    }
  if (study->n_pumps == 0)
    {
      nappe_pages_heading (sheet->pages, _("Pump"), 14.0);
      nappe_pages_paragraph (sheet->pages, NAPPE_LETTERING_BODY, 0.0, _("There is no pump."));
    }
}

static void
add_weir (const NappeSheet *sheet, NappeTable *table, const NappeWeirReport *weir)
{
  NappePart *part = nappe_build_find (sheet->build, weir->id);
  const NappeOverflow *box = NAPPE_IS_OVERFLOW (part) ? NAPPE_OVERFLOW (part) : NULL;
  const NappeNetwork *network = sheet->study->network;
  double crest = network->links[weir->link].sill;
  g_autofree char *low = nappe_sheet_number (sheet, NAPPE_QUANTITY_LENGTH, nappe_sheet_running (sheet, weir->film_low));
  g_autofree char *high = nappe_sheet_number (sheet, NAPPE_QUANTITY_LENGTH, nappe_sheet_running (sheet, weir->film_high));

  nappe_table_add (table, nappe_wording_part (sheet->build, weir->id));
  nappe_table_add (table, box == NULL           ? ""
                          : box->slot_count > 0 ? _("toothed")
                                                : _("smooth"));
  nappe_table_take (table, nappe_sheet_number (sheet, NAPPE_QUANTITY_LENGTH, box != NULL ? box->weir_length : NAN));
  nappe_table_take (table, nappe_sheet_number (sheet, NAPPE_QUANTITY_LENGTH, crest));
  nappe_table_take (table, nappe_sheet_number (sheet, NAPPE_QUANTITY_FLOW, nappe_sheet_running (sheet, weir->flow)));
  nappe_table_take (table, nappe_sheet_number (sheet, NAPPE_QUANTITY_LENGTH, nappe_sheet_running (sheet, weir->film)));
  /* Translators: a range, lowest to highest */
  nappe_table_take (table, g_strdup_printf (_("%s to %s"), low, high));
  nappe_table_take (table, nappe_sheet_number (sheet, NAPPE_QUANTITY_LENGTH, nappe_sheet_running (sheet, weir->fall)));
}

void
nappe_sheet_weirs (const NappeSheet *sheet)
{
  const NappeStudy *study = sheet->study;
  g_autofree char *length = nappe_sheet_head (sheet, _("length"), NAPPE_QUANTITY_LENGTH);
  g_autofree char *crest = nappe_sheet_head (sheet, _("crest above the floor"), NAPPE_QUANTITY_LENGTH);
  g_autofree char *flow = nappe_sheet_head (sheet, _("flow"), NAPPE_QUANTITY_FLOW);
  g_autofree char *film = nappe_sheet_head (sheet, _("water over the crest"), NAPPE_QUANTITY_LENGTH);
  g_autofree char *range = nappe_sheet_head (sheet, _("likely range"), NAPPE_QUANTITY_LENGTH);
  g_autofree char *fall = nappe_sheet_head (sheet, _("fall into the box"), NAPPE_QUANTITY_LENGTH);
  const char *heads[] = { _("weir of"), _("edge"), length, crest, flow, film, range, fall };
  g_autoptr (NappeTable) table = nappe_table_new ("ttnnnnnn", heads);

  for (guint i = 0; i < study->n_weirs; i++)
    add_weir (sheet, table, &study->weirs[i]);
  nappe_sheet_section (sheet, _("Weirs"), table, _("There is no weir."));
}
