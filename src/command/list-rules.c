/* SPDX-License-Identifier: GPL-3.0-or-later */
/* `nappe rules` */
#include <glib/gi18n-lib.h>

#include "command/command.h"
#include "command/text-table.h"
#include "handbook/handbook.h"

#define INDENT 4u
#define WIDTH 96u

static NappeExit
list_rules (void)
{
  g_autoptr (GString) text = g_string_new (NULL);
  const NappeRuleInfo *rules;
  gsize n;

  rules = nappe_rules_list (&n);
  for (gsize i = 0; i < n; i++)
    {
      g_string_append_printf (text, "%s\n", rules[i].id);
      nappe_text_wrap (_(rules[i].title), INDENT, WIDTH, text);
      nappe_text_wrap (_(rules[i].source), INDENT, WIDTH, text);
    }
  return nappe_write_out (text->str) ? NAPPE_EXIT_FINE : NAPPE_EXIT_FILE;
}

static NappeCatalogue *
load_catalogue (void)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *folder = nappe_catalogue_default_dir ();
  NappeCatalogue *catalogue = nappe_catalogue_load (folder, NULL, NULL, &error);

  if (catalogue == NULL)
    nappe_complain ("%s", error->message);
  return catalogue;
}

/* One page of the handbook. */
static NappeExit
print_page (const char *rule, NappeUnitSystem units)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (NappeCatalogue) catalogue = NULL;
  g_autoptr (NappeRulePage) page = NULL;
  g_autoptr (NappeRuleExample) example = NULL;

  if (nappe_rules_find (rule) == NULL)
    {
      nappe_complain (_("there is no rule “%s”; “nappe rules” lists them"), rule);
      return NAPPE_EXIT_USAGE;
    }
  catalogue = load_catalogue ();
  page = catalogue != NULL ? nappe_rule_page_read (rule, &error) : NULL;
  example = page != NULL ? nappe_rule_example_new (rule, catalogue, units, &error) : NULL;
  if (example == NULL)
    {
      if (error != NULL)
        nappe_complain ("%s", error->message);
      return NAPPE_EXIT_FILE;
    }
  g_autofree char *text = nappe_handbook_page_text (page, example, NULL, units);
  return nappe_write_out (text) ? NAPPE_EXIT_FINE : NAPPE_EXIT_FILE;
}

static NappeExit
write_handbook (const char *folder, NappeUnitSystem units)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (NappeCatalogue) catalogue = load_catalogue ();
  g_autofree char *line = NULL, *shown = NULL;

  if (catalogue == NULL)
    return NAPPE_EXIT_FILE;
  if (!nappe_handbook_write (folder, catalogue, units, &error))
    {
      nappe_complain ("%s", error->message);
      return NAPPE_EXIT_FILE;
    }
  shown = g_filename_display_name (folder);
  line = g_strdup_printf (_("Wrote %s\n"), shown);
  return nappe_write_out (line) ? NAPPE_EXIT_FINE : NAPPE_EXIT_FILE;
}

NappeExit
nappe_command_rules (char **arguments)
{
  g_autofree char *folder = NULL, *units_text = NULL;
  const GOptionEntry entries[] = {
    { "handbook", 0, 0, G_OPTION_ARG_FILENAME, &folder, N_("Write a page with a figure for each rule"), N_("FOLDER") },
    { "units", 'u', 0, G_OPTION_ARG_STRING, &units_text, N_("Units of the text: metric or us"), N_("UNITS") },
    { NULL }
  };
  g_auto (GStrv) words = NULL;
  NappeUnitsOption units;

  if (!nappe_options_read ("rules", _("[RULE]"),
                           _("Lists the rules that builds are checked against, or explains one of them."), entries,
                           arguments, &words)
      || !nappe_units_option_read (&units, units_text))
    return NAPPE_EXIT_USAGE;
  if (g_strv_length (words) > (folder != NULL ? 0 : 1))
    {
      nappe_complain (_("“nappe rules” takes the id of one rule, or --handbook alone"));
      return NAPPE_EXIT_USAGE;
    }
  if (folder != NULL)
    return write_handbook (folder, units.system);
  return words[0] != NULL ? print_page (words[0], units.system) : list_rules ();
}
