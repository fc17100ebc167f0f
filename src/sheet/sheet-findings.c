/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the rules found, each with its working, source and remedy, and what they found fine. */
#include "sheet/sheet-private.h"

#include <glib/gi18n-lib.h>

#include "results/part-words.h"
#include "sheet/finding-mark.h"

#define INDENT 24.0 /* of a finding's text beside its mark [pt] */

/* Transfer full. */
static char *
caption_of (const NappeSheet *sheet, NappeFinding *finding)
{
  const char *part = nappe_finding_get_part (finding);
  return *part != '\0' ? nappe_part_caption (sheet->build, part) : g_strdup (_("the whole build"));
}

static void
draw_unless_empty (NappePages *pages, NappeLettering lettering, const char *text)
{
  if (*text != '\0')
    nappe_pages_paragraph (pages, lettering, INDENT, text);
}

static void
draw_finding (const NappeSheet *sheet, NappeFinding *finding)
{
  NappePages *pages = sheet->pages;
  const char *remedy = nappe_finding_get_remedy (finding);
  g_autofree char *working = nappe_finding_working_text (finding, sheet->options->units);
  g_autofree char *part = caption_of (sheet, finding);
  /* Translators: severity of a finding, then the part it is about */
  g_autofree char *about = g_strdup_printf (_("%s: %s"), nappe_severity_label (nappe_finding_get_severity (finding)),
                                            part);
  g_autofree char *source = g_strdup_printf (_("Source: %s"), nappe_finding_get_source (finding));

  nappe_pages_need (pages, 64.0);
  /* What was answered bears no number, and so no mark. */
  if (nappe_finding_get_number (finding) > 0)
    nappe_sheet_draw_mark (pages, nappe_pages_left (pages) + 8.0, nappe_pages_y (pages) + 7.0, finding);
  nappe_pages_paragraph (pages, NAPPE_LETTERING_STRONG, INDENT, nappe_finding_get_title (finding));
  nappe_pages_paragraph (pages, NAPPE_LETTERING_SOFT, INDENT, about);
  nappe_pages_paragraph (pages, NAPPE_LETTERING_BODY, INDENT, nappe_finding_get_text (finding));
  if (*remedy != '\0')
    {
      g_autofree char *cure = g_strdup_printf (_("Remedy: %s"), remedy);
      nappe_pages_paragraph (pages, NAPPE_LETTERING_BODY, INDENT, cure);
    }
  draw_unless_empty (pages, NAPPE_LETTERING_BODY, nappe_finding_get_changed (finding));
  draw_unless_empty (pages, NAPPE_LETTERING_STRONG, nappe_finding_get_answer (finding));
  if (working != NULL && *g_strchomp (working) != '\0')
    nappe_pages_paragraph (pages, NAPPE_LETTERING_SOFT, INDENT, working);
  nappe_pages_paragraph (pages, NAPPE_LETTERING_SOFT, INDENT, source);
  nappe_pages_skip (pages, 10.0);
}

void
nappe_sheet_findings (const NappeSheet *sheet)
{
  const GPtrArray *findings = sheet->verdict->findings, *answered = sheet->verdict->answered;

  nappe_pages_heading (sheet->pages, _("Findings"), 64.0);
  if (findings->len == 0)
    nappe_pages_paragraph (sheet->pages, NAPPE_LETTERING_BODY, 0.0, _("No rule has anything to say."));
  for (guint i = 0; i < findings->len; i++)
    draw_finding (sheet, g_ptr_array_index (findings, i));
  if (answered->len > 0)
    nappe_pages_heading (sheet->pages, _("Answered findings"), 64.0);
  for (guint i = 0; i < answered->len; i++)
    draw_finding (sheet, g_ptr_array_index (answered, i));
}

void
nappe_sheet_fine (const NappeSheet *sheet)
{
  const GPtrArray *fine = sheet->verdict->fine;
  const char *heads[] = { _("check"), _("part"), _("result"), _("source") };
  const char *other_heads[] = { _("check"), _("why not") };
  g_autoptr (NappeTable) table = nappe_table_new ("tttt", heads);
  g_autoptr (NappeTable) others = nappe_table_new ("tt", other_heads);

  for (guint i = 0; i < fine->len; i++)
    {
      NappeFinding *finding = g_ptr_array_index (fine, i);
      if (!nappe_finding_get_checked (finding))
        {
          nappe_table_add (others, nappe_finding_get_title (finding));
          nappe_table_add (others, nappe_finding_get_text (finding));
          continue;
        }
      nappe_table_add (table, nappe_finding_get_title (finding));
      g_autofree char *part = caption_of (sheet, finding);
      nappe_table_add (table, part);
      nappe_table_add (table, nappe_finding_get_text (finding));
      nappe_table_add (table, nappe_finding_get_source (finding));
    }
  nappe_sheet_section (sheet, _("Checked and fine"), table, _("No check was fine."));
  if (nappe_table_n_rows (others) > 0)
    nappe_sheet_section (sheet, _("Not checked"), others, "");
}
