/* SPDX-License-Identifier: GPL-3.0-or-later */
/* `nappe rules` */
#include <glib/gi18n-lib.h>

#include "command/command.h"
#include "command/text-table.h"
#include "rules/rules.h"

#define INDENT 4u
#define WIDTH 96u

NappeExit
nappe_command_rules (char **arguments)
{
  const GOptionEntry entries[] = { { NULL } };
  g_auto (GStrv) words = NULL;
  g_autoptr (GString) text = g_string_new (NULL);
  const NappeRuleInfo *rules;
  gsize n;

  if (!nappe_options_read ("rules", "", _("Lists the rules that builds are checked against, with their sources."),
                           entries, arguments, &words))
    return NAPPE_EXIT_USAGE;
  if (words[0] != NULL)
    {
      nappe_complain (_("“nappe rules” takes no further words"));
      return NAPPE_EXIT_USAGE;
    }
  rules = nappe_rules_list (&n);
  for (gsize i = 0; i < n; i++)
    {
      g_string_append_printf (text, "%s\n", rules[i].id);
      nappe_text_wrap (_(rules[i].title), INDENT, WIDTH, text);
      nappe_text_wrap (_(rules[i].source), INDENT, WIDTH, text);
    }
  return nappe_write_out (text->str) ? NAPPE_EXIT_FINE : NAPPE_EXIT_FILE;
}
