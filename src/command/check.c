/* SPDX-License-Identifier: GPL-3.0-or-later */
/* `nappe check` */
#include <glib/gi18n-lib.h>

#include "command/report.h"

NappeExit
nappe_command_check (char **arguments)
{
  gboolean json = FALSE;
  g_autofree char *units_text = NULL;
  NappeReportOptions options = { FALSE, FALSE };
  const GOptionEntry entries[] = {
    { "json", 'j', 0, G_OPTION_ARG_NONE, &json, N_("Print JSON for other programs"), NULL },
    { "all", 'a', 0, G_OPTION_ARG_NONE, &options.all, N_("Also list what was checked and is fine"), NULL },
    { "working", 'w', 0, G_OPTION_ARG_NONE, &options.working, N_("Show how each number was worked out"), NULL },
    { "units", 'u', 0, G_OPTION_ARG_STRING, &units_text, N_("Units of the text: metric or us"), N_("UNITS") },
    { NULL }
  };
  g_auto (GStrv) words = NULL;
  NappeUnitsOption units;
  g_autoptr (NappeCase) opened = NULL;
  g_autofree char *text = NULL;

  if (!nappe_options_read ("check", _("FILE"), _("Says what is wrong with a build, why, and what would cure it."),
                           entries, arguments, &words)
      || !nappe_units_option_read (&units, units_text))
    return NAPPE_EXIT_USAGE;
  if (g_strv_length (words) != 1)
    {
      nappe_complain (_("“nappe check” wants one build file, or “-” for standard input"));
      return NAPPE_EXIT_USAGE;
    }
  opened = nappe_case_open (words[0], &units);
  if (opened == NULL)
    return NAPPE_EXIT_FILE;
  text = json ? nappe_report_json (opened, &options) : nappe_report_text (opened, &options);
  return nappe_write_out (text) ? nappe_case_exit (opened) : NAPPE_EXIT_FILE;
}
