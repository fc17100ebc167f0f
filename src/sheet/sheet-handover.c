/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The design's basis, the cautions, and who signs for it. */
#include "sheet/sheet-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

static void
add_text (NappeTable *table, const char *label, const char *text)
{
  if (text != NULL && *text != '\0')
    nappe_sheet_pair (table, label, g_strdup (text));
}

void
nappe_sheet_basis (const NappeSheet *sheet)
{
  NappeBuild *build = sheet->build;
  const NappeTargets *targets = NAPPE_BUILD_TARGETS (build);
  const char *heads[] = { _("what"), _("value") };
  g_autoptr (NappeTable) table = nappe_table_new ("tt", heads);
  g_autofree char *least = nappe_sheet_quantity (sheet, NAPPE_QUANTITY_RATE, targets->turnover_min);
  g_autofree char *most = nappe_sheet_quantity (sheet, NAPPE_QUANTITY_RATE, targets->turnover_max);

  add_text (table, _("title"), build->title);
  add_text (table, _("summary"), build->summary);
  add_text (table, _("customer"), build->customer);
  add_text (table, _("shop"), build->shop);
  add_text (table, _("author"), build->author);
  add_text (table, _("date"), sheet->date);
  add_text (table, _("revision"), build->revision);
  add_text (table, _("file"), sheet->options->file_name);
  add_text (table, _("SHA-256 of the file"), sheet->options->file_hash);
  nappe_sheet_pair (table, _("water temperature"),
                    nappe_sheet_quantity (sheet, NAPPE_QUANTITY_TEMPERATURE, NAPPE_BUILD_WATER (build)->temperature));
  nappe_sheet_pair (table, _("salinity"),
                    nappe_sheet_quantity (sheet, NAPPE_QUANTITY_SALINITY, NAPPE_BUILD_WATER (build)->salinity));
  /* Translators: a range, lowest to highest */
  nappe_sheet_pair (table, _("turnover wanted"), g_strdup_printf (_("%s to %s"), least, most));
  nappe_sheet_pair (table, _("distance wanted below the sump’s rim after a power cut"),
                    nappe_sheet_quantity (sheet, NAPPE_QUANTITY_LENGTH, targets->sump_freeboard));
  nappe_sheet_pair (table, _("distance wanted below the tank’s rim with the main drain blocked"),
                    nappe_sheet_quantity (sheet, NAPPE_QUANTITY_LENGTH, targets->display_freeboard));
  nappe_sheet_pair (table, _("drift of the pump’s flow to be expected"),
                    nappe_sheet_quantity (sheet, NAPPE_QUANTITY_SHARE, targets->pump_drift));
  nappe_sheet_section (sheet, _("Basis of the design"), table, "");
}

typedef struct
{
  const char *title, *text; /* English, marked N_() */
} Caution;

static const Caution cautions[] = {
  { N_ ("Mains and water"),
    N_ ("Keep sockets and power supplies above and beside the water, never below it. Give every cable a drip loop. Feed the "
        "system through a residual-current device (ground-fault interrupter) and test it every month. Unplug before you "
        "put a hand in the water. Have fixed wiring done by a licensed electrician to the local code.") },
  { N_ ("Glass"),
    N_ ("Never drill tempered glass: it bursts. Have the temper of every pane confirmed before drilling. Keep the distance "
        "from a hole to the edge and to other holes that the bulkhead and the glass maker ask for. Wear eye protection and "
        "gloves, keep the drill wet, and have a second person hold the pane.") },
  { N_ ("Weight"),
    N_ ("A litre of seawater weighs more than a kilogram, and rock, sand and glass come on top. Have the floor's bearing "
        "capacity confirmed by a qualified person, above all upstairs, near walls and on joists. The stand must be level "
        "and carry the tank where its maker wants it carried.") },
  { N_ ("Solvents"),
    N_ ("Primer and cement for plastic pipe are flammable and their vapour is harmful: no flame, no spark, open windows, "
        "gloves. Let joints cure for the time on the can before water or pressure comes on them, and rinse before animals "
        "come near.") },
  { N_ ("Water on the floor"),
    N_ ("Test with fresh water first, then with a real power cut, and with each drain plugged in turn, before animals and "
        "salt go in. Mark the levels on the glass. The figures here come from published laws with the spread stated; they "
        "do not replace that test.") },
  { N_ ("Drinking water and sewers"),
    N_ ("A top-off or water change that is joined to the house's supply needs a backflow preventer, and a drain to the "
        "sewer an air gap, as the local plumbing code asks. Leave that work to licensed practice.") },
};

void
nappe_sheet_cautions (const NappeSheet *sheet)
{
  NappePages *pages = sheet->pages;

  nappe_pages_heading (pages, _("Cautions"), 60.0);
  nappe_pages_paragraph (pages, NAPPE_LETTERING_BODY, 0.0,
                         _("This sheet is a design aid and no approval. Local codes and the instructions of makers come "
                           "first; where they ask for a licensed person, have one do the work."));
  nappe_pages_skip (pages, 6.0);
  for (gsize i = 0; i < G_N_ELEMENTS (cautions); i++)
    {
      nappe_pages_need (pages, 40.0);
      nappe_pages_paragraph (pages, NAPPE_LETTERING_STRONG, 0.0, g_dgettext (GETTEXT_PACKAGE, cautions[i].title));
      nappe_pages_paragraph (pages, NAPPE_LETTERING_BODY, 0.0, g_dgettext (GETTEXT_PACKAGE, cautions[i].text));
      nappe_pages_skip (pages, 5.0);
    }
}

void
nappe_sheet_signatures (const NappeSheet *sheet)
{
  NappePages *pages = sheet->pages;
  const char *roles[] = { _("planned by"), _("checked by"), _("accepted by the customer") };
  double left = nappe_pages_left (pages), gap = 24.0, y;
  double width = (nappe_pages_right (pages) - left - 2.0 * gap) / 3.0;

  nappe_pages_heading (pages, _("Signatures"), 62.0);
  y = nappe_pages_y (pages) + 34.0;
  for (gsize i = 0; i < G_N_ELEMENTS (roles); i++)
    {
      double x = left + (double) i * (width + gap);
      nappe_pages_rule (pages, x, y, x + 0.68 * width, y, 0.6, NAPPE_ROLE_INK);
      nappe_pages_rule (pages, x + 0.74 * width, y, x + width, y, 0.6, NAPPE_ROLE_INK);
      nappe_pages_draw_text (pages, NAPPE_LETTERING_SOFT, x, y + 2.0, 0.68 * width, 0, roles[i]);
      nappe_pages_draw_text (pages, NAPPE_LETTERING_SOFT, x + 0.74 * width, y + 2.0, 0.26 * width, 0, _("date"));
    }
  nappe_pages_set_y (pages, y + 28.0);
}
