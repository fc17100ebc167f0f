/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <glib/gi18n-lib.h>
#include <locale.h>

#include "config.h"
#include "studio/application/application.h"

static int
print_version (GApplication *application, GVariantDict *options, gpointer user_data)
{
  if (!g_variant_dict_contains (options, "version"))
    return -1;
  g_print ("nappe-studio %s\n", NAPPE_VERSION);
  return 0;
}

int
main (int argc, char **argv)
{
  const char *folder = g_getenv ("NAPPE_LOCALE_DIR");
  g_autoptr (NappeApplication) application = NULL;

  setlocale (LC_ALL, "");
  bindtextdomain (GETTEXT_PACKAGE, folder != NULL ? folder : NAPPE_LOCALE_DIR);
  bind_textdomain_codeset (GETTEXT_PACKAGE, "UTF-8");
  textdomain (GETTEXT_PACKAGE);
  application = nappe_application_new ();
  g_signal_connect (application, "handle-local-options", G_CALLBACK (print_version), NULL);
  return g_application_run (G_APPLICATION (application), argc, argv);
}
