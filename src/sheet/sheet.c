/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "config.h"

#include "sheet/sheet-private.h"

#include <cairo-pdf.h>
#include <glib/gi18n-lib.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#define WORD_JOINER "\xe2\x81\xa0" /* U+2060 */

char *
nappe_sheet_quantity (const NappeSheet *sheet, NappeQuantity quantity, double value)
{
  return nappe_quantity_format (quantity, value, sheet->options->units, 0);
}

char *
nappe_sheet_number (const NappeSheet *sheet, NappeQuantity quantity, double value)
{
  /* Nothing flows: that is exact, decimals would say otherwise. */
  if (value == 0.0 && (quantity == NAPPE_QUANTITY_FLOW || quantity == NAPPE_QUANTITY_SPEED))
    return g_strdup ("0");
  return nappe_quantity_format_number (quantity, value, sheet->options->units, 0);
}

char *
nappe_sheet_head (const NappeSheet *sheet, const char *text, NappeQuantity quantity)
{
  const char *unit = nappe_quantity_unit (quantity, sheet->options->units);

  if (*unit == '\0')
    return g_strdup (text);
  /* A line must not break behind the stroke of "m/s". */
  g_auto (GStrv) parts = g_strsplit (unit, "/", -1);
  g_autofree char *whole = g_strjoinv ("/" WORD_JOINER, parts);
  /* Translators: head of a table's column: what it holds, its unit */
  return g_strdup_printf (_("%s, %s"), text, whole);
}

double
nappe_sheet_running (const NappeSheet *sheet, double value)
{
  return sheet->study->running.rest == NAPPE_REST_FOUND ? value : NAN;
}

void
nappe_sheet_section (const NappeSheet *sheet, const char *heading, NappeTable *table, const char *empty)
{
  gboolean has_rows = nappe_table_n_rows (table) > 0;

  nappe_pages_heading (sheet->pages, heading, has_rows ? nappe_table_first_height (table, sheet->pages) : 14.0);
  if (has_rows)
    nappe_table_draw (table, sheet->pages);
  else
    nappe_pages_paragraph (sheet->pages, NAPPE_LETTERING_BODY, 0.0, empty);
}

void
nappe_sheet_pair (NappeTable *table, const char *label, char *value)
{
  nappe_table_add (table, label);
  nappe_table_take (table, value);
}

/* An ISO day that cairo can put in the metadata; "" for anything else. */
static const char *
chosen_date (const NappeSheetOptions *options, NappeBuild *build)
{
  const char *date = options->date != NULL ? options->date : build->date;
  return date != NULL ? date : "";
}

static gboolean
is_iso_day (const char *date)
{
  if (strlen (date) != 10)
    return FALSE;
  for (int i = 0; i < 10; i++)
    if (i == 4 || i == 7 ? date[i] != '-' : !g_ascii_isdigit (date[i]))
      return FALSE;
  return g_date_valid_dmy ((GDateDay) atoi (date + 8), (GDateMonth) atoi (date + 5), (GDateYear) atoi (date));
}

/* Both dates are always set: cairo would else write the clock's, and no two papers would be equal. */
static void
set_metadata (cairo_surface_t *surface, const NappeSheet *sheet)
{
  const char *day = is_iso_day (sheet->date) ? sheet->date : "2000-01-01";
  g_autofree char *moment = g_strconcat (day, "T00:00:00Z", NULL);
  g_autofree char *creator = g_strdup_printf ("Nappe %s", NAPPE_VERSION);

  cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_TITLE, sheet->build->title);
  if (*sheet->build->author != '\0')
    cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_AUTHOR, sheet->build->author);
  cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_SUBJECT, _("Specification sheet"));
  cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_CREATOR, creator);
  cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_CREATE_DATE, moment);
  cairo_pdf_surface_set_metadata (surface, CAIRO_PDF_METADATA_MOD_DATE, moment);
}

static char *
footer_text (const NappeSheet *sheet)
{
  GString *text = g_string_new (*sheet->build->title != '\0' ? sheet->build->title : _("Untitled build"));

  if (*sheet->build->revision != '\0')
    /* Translators: of a document; %s is its number or letter */
    g_string_append_printf (text, _("  ·  revision %s"), sheet->build->revision);
  if (*sheet->date != '\0')
    g_string_append_printf (text, "  ·  %s", sheet->date);
  if (sheet->options->file_hash != NULL)
    /* Translators: %.12s is the beginning of the file's checksum */
    g_string_append_printf (text, _("  ·  file %.12s"), sheet->options->file_hash);
  return g_string_free (text, FALSE);
}

static void (*const sections[]) (const NappeSheet *sheet) = {
  nappe_sheet_front,        nappe_sheet_drawings, nappe_sheet_vessels,   nappe_sheet_levels,     nappe_sheet_power_cut,
  nappe_sheet_charts,
  nappe_sheet_drains,       nappe_sheet_tuning,   nappe_sheet_level_runs, nappe_sheet_pumps,     nappe_sheet_weirs,
  nappe_sheet_chambers,     nappe_sheet_blockages, nappe_sheet_heat,     nappe_sheet_weight,     nappe_sheet_panels,
  nappe_sheet_findings,     nappe_sheet_fine,     nappe_sheet_head_ledgers, nappe_sheet_basis,   nappe_sheet_cautions,
  nappe_sheet_signatures,
};

/* Returns the number of pages. surface NULL: only counts. */
static guint
write_pages (NappeSheet *sheet, NappeLetters *letters, cairo_surface_t *surface, guint n_pages)
{
  g_autofree char *footer = footer_text (sheet);

  sheet->pages = nappe_pages_new (surface, letters, sheet->options->paper, n_pages, footer);
  for (gsize i = 0; i < G_N_ELEMENTS (sections); i++)
    sections[i](sheet);
  return nappe_pages_finish (sheet->pages);
}

static cairo_status_t
append (void *closure, const unsigned char *data, unsigned int length)
{
  g_byte_array_append (closure, data, length);
  return CAIRO_STATUS_SUCCESS;
}

static cairo_status_t
write_pdf (NappeSheet *sheet, GByteArray *bytes)
{
  g_autoptr (NappeLetters) letters = nappe_letters_new ();
  guint n_pages = write_pages (sheet, letters, NULL, 0);
  double width, height;
  cairo_surface_t *surface;
  cairo_status_t status;

  nappe_pages_paper_size (sheet->options->paper, &width, &height);
  surface = cairo_pdf_surface_create_for_stream (append, bytes, width, height);
  set_metadata (surface, sheet);
  write_pages (sheet, letters, surface, n_pages);
  cairo_surface_finish (surface);
  status = cairo_surface_status (surface);
  cairo_surface_destroy (surface);
  return status;
}

gboolean
nappe_sheet_write (const NappeSheetOptions *options, NappeBuild *build, const NappeLayout *layout,
                   const NappeStudy *study, const NappeVerdict *verdict, const char *path, GError **error)
{
  NappeSheet sheet = { options, chosen_date (options, build), build, layout, study, verdict, NULL };
  g_autoptr (GByteArray) bytes = g_byte_array_new ();
  g_autoptr (GError) reason = NULL;
  cairo_status_t status = write_pdf (&sheet, bytes);

  if (status != CAIRO_STATUS_SUCCESS)
    {
      g_set_error (error, G_FILE_ERROR, G_FILE_ERROR_FAILED, _("The sheet could not be drawn: %s"),
                   cairo_status_to_string (status));
      return FALSE;
    }
  if (g_file_set_contents_full (path, (const char *) bytes->data, (gssize) bytes->len,
                                G_FILE_SET_CONTENTS_CONSISTENT | G_FILE_SET_CONTENTS_DURABLE, 0666, &reason))
    return TRUE;
  g_set_error (error, reason->domain, reason->code, _("The sheet could not be written to “%s”: %s"), path,
               reason->message);
  return FALSE;
}
