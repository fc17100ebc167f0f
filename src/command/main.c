/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Chooses the subcommand. */
#include <glib/gi18n-lib.h>
#include <locale.h>
#include <string.h>

#include "command/command.h"
#include "command/text-table.h"
#include "config.h"

typedef struct
{
  const char *name;
  const char *summary;
  NappeExit (*run) (char **arguments);
} Subcommand;

static const Subcommand subcommands[] = {
  { "check", N_("Say what is wrong with a build, why, and what would cure it"), nappe_command_check },
  { "cure", N_("Find the smallest changes that clear the findings, and put them in"), nappe_command_cure },
  { "export", N_("Write a picture or the specification sheet of a build"), nappe_command_export },
  { "what-if", N_("Say where the water goes when something is changed while it runs"), nappe_command_what_if },
  { "simulate", N_("Play in time what befalls a build: power cuts, blocked drains, your own trials"), nappe_command_simulate },
  { "own-pump", N_("Put a pump into your own catalogue, its curve from a table (CSV)"), nappe_command_own_pump },
  { "rules", N_("List the rules that builds are checked against"), nappe_command_rules },
};

static const Subcommand *
find_subcommand (const char *name)
{
  for (gsize i = 0; i < G_N_ELEMENTS (subcommands); i++)
    if (strcmp (subcommands[i].name, name) == 0)
      return &subcommands[i];
  return NULL;
}

static void
set_up_language (void)
{
  const char *folder = g_getenv ("NAPPE_LOCALE_DIR");

  setlocale (LC_ALL, "");
  bindtextdomain (GETTEXT_PACKAGE, folder != NULL ? folder : NAPPE_LOCALE_DIR);
  bind_textdomain_codeset (GETTEXT_PACKAGE, "UTF-8");
  textdomain (GETTEXT_PACKAGE);
}

static NappeExit
print_help (void)
{
  g_autoptr (GString) text = g_string_new (NULL);
  g_autoptr (NappeTextTable) table = nappe_text_table_new (2);

  nappe_text_table_set_left (table, 1);
  for (gsize i = 0; i < G_N_ELEMENTS (subcommands); i++)
    {
      nappe_text_table_add (table, subcommands[i].name);
      nappe_text_table_add (table, _(subcommands[i].summary));
    }
  nappe_text_table_add (table, "help");
  nappe_text_table_add (table, _("Explain a command: nappe help check"));
  g_string_append (text, _("Usage: nappe COMMAND [OPTION…] [FILE]"));
  g_string_append_printf (text, "\n\n%s\n\n%s\n",
                          _("Checks and draws the water handling of a saltwater aquarium."), _("Commands:"));
  nappe_text_table_print (table, 2, text);
  g_string_append_printf (text, "\n%s\n", _("“nappe --version” prints the version."));
  return nappe_write_out (text->str) ? NAPPE_EXIT_FINE : NAPPE_EXIT_FILE;
}

static NappeExit
print_version (void)
{
  return nappe_write_out ("nappe " NAPPE_VERSION "\n") ? NAPPE_EXIT_FINE : NAPPE_EXIT_FILE;
}

static NappeExit
help_about (const char *name)
{
  const Subcommand *subcommand;
  char *arguments[] = { NULL, (char *) "--help", NULL };

  if (name == NULL)
    return print_help ();
  subcommand = find_subcommand (name);
  if (subcommand == NULL)
    {
      nappe_complain (_("there is no command “%s”; “nappe help” lists them"), name);
      return NAPPE_EXIT_USAGE;
    }
  arguments[0] = (char *) name;
  return subcommand->run (arguments);
}

int
main (int argc, char **argv)
{
  g_auto (GStrv) arguments = NULL;
  const Subcommand *subcommand;

  set_up_language ();
  arguments = g_strdupv (argv + (argc > 0 ? 1 : 0));
  if (arguments[0] == NULL)
    {
      nappe_complain (_("say what to do; “nappe help” lists the commands"));
      return NAPPE_EXIT_USAGE;
    }
  if (strcmp (arguments[0], "--version") == 0)
    return print_version ();
  if (strcmp (arguments[0], "--help") == 0 || strcmp (arguments[0], "-h") == 0)
    return print_help ();
  if (strcmp (arguments[0], "help") == 0)
    return help_about (arguments[1]);
  subcommand = find_subcommand (arguments[0]);
  if (subcommand != NULL)
    return subcommand->run (arguments);
  nappe_complain (_("there is no command “%s”; “nappe help” lists them"), arguments[0]);
  return NAPPE_EXIT_USAGE;
}
