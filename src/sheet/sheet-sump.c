/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Chambers of the sump, sideways pipes, and where the head of each full line goes. */
#include "sheet/sheet-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "picture/wording.h"
#include "results/state-words.h"
#include "study/head-ledger.h"

/* A number with as many digits as asked for, where the usual resolution would show none; "—" for NaN. */
static char *
fine_number (const NappeSheet *sheet, NappeQuantity quantity, double value, int digits)
{
  return nappe_quantity_format_number (quantity, value, sheet->options->units, digits);
}

static void
add_chamber (const NappeSheet *sheet, NappeTable *table, const NappeChamberReport *chamber)
{
  NappePart *part = nappe_build_find (sheet->build, chamber->id);
  gboolean flows = chamber->flow > 0.0;

  nappe_table_add (table, nappe_wording_part (sheet->build, chamber->id));
  nappe_table_add (table, part != NULL ? nappe_wording_choice (part, "role") : "");
  nappe_table_take (table, nappe_sheet_number (sheet, NAPPE_QUANTITY_LENGTH, chamber->level));
  nappe_table_take (table, nappe_sheet_number (sheet, NAPPE_QUANTITY_LENGTH, chamber->depth));
  nappe_table_take (table, nappe_sheet_number (sheet, NAPPE_QUANTITY_VOLUME, chamber->volume));
  nappe_table_take (table, nappe_sheet_number (sheet, NAPPE_QUANTITY_FLOW, chamber->flow));
  nappe_table_take (table, flows ? fine_number (sheet, NAPPE_QUANTITY_SPEED, chamber->speed_along, 2) : g_strdup ("—"));
  nappe_table_take (table, flows ? fine_number (sheet, NAPPE_QUANTITY_SPEED, chamber->speed_down, 2) : g_strdup ("—"));
  nappe_table_take (table, flows ? nappe_sheet_number (sheet, NAPPE_QUANTITY_DURATION, chamber->residence) : g_strdup ("—"));
  nappe_table_take (table, flows ? fine_number (sheet, NAPPE_QUANTITY_LENGTH, chamber->bubble_stopped, 2) : g_strdup ("—"));
}

/* What an adjustable baffle may do to the chamber before it. */
static void
say_settings (const NappeSheet *sheet)
{
  for (guint i = 0; i < sheet->study->n_chambers; i++)
    {
      const NappeChamberReport *chamber = &sheet->study->chambers[i];
      if (isnan (chamber->level_low) || isnan (chamber->level_high))
        continue;
      g_autofree char *low = nappe_sheet_quantity (sheet, NAPPE_QUANTITY_LENGTH, chamber->level_low);
      g_autofree char *high = nappe_sheet_quantity (sheet, NAPPE_QUANTITY_LENGTH, chamber->level_high);
      /* Translators: a chamber's name, then its lowest and highest level */
      g_autofree char *text
          = g_strdup_printf (_("The adjustable baffle sets the level in “%1$s” from %2$s to %3$s above the floor."),
                             nappe_wording_part (sheet->build, chamber->id), low, high);
      nappe_pages_paragraph (sheet->pages, NAPPE_LETTERING_SOFT, 0.0, text);
    }
}

void
nappe_sheet_chambers (const NappeSheet *sheet)
{
  const NappeStudy *study = sheet->study;
  g_autofree char *level = nappe_sheet_head (sheet, _("level above the floor"), NAPPE_QUANTITY_LENGTH);
  g_autofree char *depth = nappe_sheet_head (sheet, _("water depth"), NAPPE_QUANTITY_LENGTH);
  g_autofree char *volume = nappe_sheet_head (sheet, _("water"), NAPPE_QUANTITY_VOLUME);
  g_autofree char *flow = nappe_sheet_head (sheet, _("flow through it"), NAPPE_QUANTITY_FLOW);
  g_autofree char *along = nappe_sheet_head (sheet, _("speed along"), NAPPE_QUANTITY_SPEED);
  g_autofree char *down = nappe_sheet_head (sheet, _("speed down"), NAPPE_QUANTITY_SPEED);
  g_autofree char *stay = nappe_sheet_head (sheet, _("stays for"), NAPPE_QUANTITY_DURATION);
  g_autofree char *bubble = nappe_sheet_head (sheet, _("smallest bubble stopped"), NAPPE_QUANTITY_LENGTH);
  const char *heads[] = { _("chamber"), _("role"), level, depth, volume, flow, along, down, stay, bubble };
  g_autoptr (NappeTable) table = nappe_table_new ("ttnnnnnnnn", heads);
  gboolean running = study->running.rest == NAPPE_REST_FOUND;

  for (guint i = 0; running && i < study->n_chambers; i++)
    add_chamber (sheet, table, &study->chambers[i]);
  nappe_sheet_section (sheet, _("Chambers of the sump"), table,
                       running ? _("The sump has no chamber.") : _("There is no steady state to speak of."));
  if (nappe_table_n_rows (table) == 0)
    return;
  nappe_pages_skip (sheet->pages, 3.0);
  nappe_pages_paragraph (sheet->pages, NAPPE_LETTERING_SOFT, 0.0,
                         _("A bubble is stopped where it rises faster than the water sinks over the whole chamber; where the "
                           "water falls in a jet it carries larger ones down."));
  say_settings (sheet);
}

/* What a piece is called: the planner's name, else the catalogue's; "" for none. Transfer full. */
static char *
piece_label (const NappeSheet *sheet, const char *id)
{
  NappePart *part = *id != '\0' ? nappe_build_find (sheet->build, id) : NULL;
  const NappeItem *item = NAPPE_IS_PIECE (part) ? nappe_catalogue_find (sheet->study->network->catalogue,
                                                                        NAPPE_PIECE (part)->item)
                                                : NULL;

  if (part == NULL)
    return g_strdup ("");
  if (*nappe_part_get_name (part) != '\0' || item == NULL)
    return g_strdup (nappe_part_display_name (part));
  return nappe_item_label (item, sheet->options->units);
}

static void
add_level_run (const NappeSheet *sheet, NappeTable *table, const NappeLevelRun *run)
{
  const NappeDrainReport *drain = nappe_study_drain (sheet->study, run->drain);
  gboolean level = !(run->fall > 0.0) && (drain == NULL || drain->state != NAPPE_DRAIN_FULL);

  nappe_table_add (table, nappe_wording_part (sheet->build, run->drain));
  nappe_table_take (table, piece_label (sheet, run->piece));
  nappe_table_take (table, nappe_sheet_number (sheet, NAPPE_QUANTITY_LENGTH, run->bore));
  nappe_table_take (table, fine_number (sheet, NAPPE_QUANTITY_SHARE, run->fall, run->fall == 0.0 ? 1 : 2));
  nappe_table_take (table, nappe_sheet_number (sheet, NAPPE_QUANTITY_FLOW, run->flow));
  nappe_table_take (table, nappe_sheet_number (sheet, NAPPE_QUANTITY_LENGTH, run->flow > 0.0 && !level ? run->depth : NAN));
  nappe_table_take (table, run->fall > 0.0 ? nappe_sheet_number (sheet, NAPPE_QUANTITY_FLOW, run->full_flow) : g_strdup ("—"));
  if (level)
    /* Translators: of a sideways pipe: it lies level or climbs, so that its depth of water is not known */
    nappe_table_add (table, run->flow > 0.0 ? _("has no fall") : nappe_wording_drain_state (NAPPE_DRAIN_DRY));
  else
    /* Translators: of a sideways pipe: it runs full of water, or partly full */
    nappe_table_add (table, run->full          ? _("full")
                            : run->flow > 0.0 ? _("partly full")
                                              : nappe_wording_drain_state (NAPPE_DRAIN_DRY));
}

void
nappe_sheet_level_runs (const NappeSheet *sheet)
{
  const NappeStudy *study = sheet->study;
  g_autofree char *bore = nappe_sheet_head (sheet, _("bore"), NAPPE_QUANTITY_LENGTH);
  g_autofree char *fall = nappe_sheet_head (sheet, _("fall"), NAPPE_QUANTITY_SHARE);
  g_autofree char *flow = nappe_sheet_head (sheet, _("flow"), NAPPE_QUANTITY_FLOW);
  g_autofree char *depth = nappe_sheet_head (sheet, _("water depth"), NAPPE_QUANTITY_LENGTH);
  g_autofree char *most = nappe_sheet_head (sheet, _("carries full by its fall"), NAPPE_QUANTITY_FLOW);
  const char *heads[] = { _("drain"), _("pipe"), bore, fall, flow, depth, most, _("runs") };
  g_autoptr (NappeTable) table = nappe_table_new ("ttnnnnnt", heads);

  if (study->running.rest != NAPPE_REST_FOUND)
    return;
  for (guint i = 0; i < study->n_level_runs; i++)
    add_level_run (sheet, table, &study->level_runs[i]);
  if (nappe_table_n_rows (table) == 0)
    return;
  nappe_sheet_section (sheet, _("Sideways pipes of drains"), table, "");
  nappe_pages_skip (sheet->pages, 3.0);
  nappe_pages_paragraph (sheet->pages, NAPPE_LETTERING_SOFT, 0.0,
                         _("Partly full pipes by Manning's law. A pipe without fall, or with more flow than its fall carries, "
                           "fills and backs up."));
}

/* Where a section of a line ends: at an outlet, or at a tee. Transfer full. */
static char *
section_label (const NappeSheet *sheet, guint link)
{
  NappePart *part = nappe_build_find (sheet->build, sheet->study->network->links[link].outlet);

  if (!NAPPE_IS_OUTLET (part))
    return g_strdup (_("up to the tee"));
  /* Translators: sum of the losses of a line of pipes; %s is the outlet or the vessel that it ends in */
  return g_strdup_printf (_("up to %s"), *nappe_part_get_name (part) != '\0'
                                             ? nappe_part_get_name (part)
                                             : nappe_wording_part (sheet->build, NAPPE_OUTLET (part)->into));
}

static void
add_loss (const NappeSheet *sheet, NappeTable *table, const NappeHeadLine *line)
{
  nappe_table_take (table, piece_label (sheet, line->piece));
  nappe_table_add (table, nappe_loss_word (line->kind));
  nappe_table_take (table, nappe_sheet_number (sheet, NAPPE_QUANTITY_FLOW, line->flow));
  nappe_table_take (table, nappe_sheet_number (sheet, NAPPE_QUANTITY_LENGTH, line->bore));
  nappe_table_take (table, nappe_sheet_number (sheet, NAPPE_QUANTITY_SPEED, line->velocity));
  nappe_table_take (table, fine_number (sheet, NAPPE_QUANTITY_NUMBER, line->k, 2));
  nappe_table_take (table, nappe_sheet_number (sheet, NAPPE_QUANTITY_LENGTH, line->head));
}

static void
write_ledger (const NappeSheet *sheet, const char *line)
{
  g_autoptr (NappeHeadLedger) ledger = nappe_head_ledger_new (sheet->study, &sheet->study->running, line);
  g_autofree char *flow = nappe_sheet_head (sheet, _("flow"), NAPPE_QUANTITY_FLOW);
  g_autofree char *bore = nappe_sheet_head (sheet, _("bore"), NAPPE_QUANTITY_LENGTH);
  g_autofree char *speed = nappe_sheet_head (sheet, _("speed"), NAPPE_QUANTITY_SPEED);
  g_autofree char *head = nappe_sheet_head (sheet, _("head lost"), NAPPE_QUANTITY_LENGTH);
  /* Translators: head of a column: loss coefficient, head lost over velocity head */
  const char *heads[] = { _("piece"), _("loss by"), flow, bore, speed, _("K"), head };
  g_autoptr (NappeTable) table = nappe_table_new ("ttnnnnn", heads);
  /* Translators: heading over a table of the head lost along a line of pipes; %s is the line */
  g_autofree char *heading = g_strdup_printf (_("Head along %s"), nappe_wording_part (sheet->build, line));

  for (guint i = 0; i < ledger->n; i++)
    {
      const NappeHeadLine *loss = &ledger->lines[i];
      add_loss (sheet, table, loss);
      if (i + 1 < ledger->n && ledger->lines[i + 1].link == loss->link)
        continue;
      nappe_table_take (table, section_label (sheet, loss->link));
      for (guint k = 0; k < 5; k++)
        nappe_table_add (table, "");
      nappe_table_take (table, nappe_sheet_number (sheet, NAPPE_QUANTITY_LENGTH, loss->passed));
      nappe_table_emphasise (table);
    }
  if (nappe_table_n_rows (table) > 0)
    nappe_sheet_section (sheet, heading, table, "");
}

void
nappe_sheet_head_ledgers (const NappeSheet *sheet)
{
  const NappeLayout *layout = sheet->layout;

  if (sheet->study->running.rest != NAPPE_REST_FOUND)
    return;
  for (guint i = 0; i < layout->n_returns; i++)
    write_ledger (sheet, nappe_part_get_id (layout->returns[i].part));
  for (guint i = 0; i < layout->n_drains; i++)
    write_ledger (sheet, nappe_part_get_id (layout->drains[i].part));
}
