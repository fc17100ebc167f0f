/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The `nappe` command: what its subcommands share. Text goes to standard output, complaints to
 * standard error, one line each, and everything is UTF-8 whatever the locale's encoding. */
#pragma once

#include <glib.h>

#include "units/quantity.h"

G_BEGIN_DECLS

/* What the program tells its caller; part of its interface, see the manual page. */
typedef enum
{
  NAPPE_EXIT_FINE = 0,    /* done; nothing found, or advice alone */
  NAPPE_EXIT_PROBLEM = 1, /* at least one problem, no danger */
  NAPPE_EXIT_DANGER = 2,  /* at least one danger */
  NAPPE_EXIT_FILE = 3,    /* a file cannot be read or written */
  NAPPE_EXIT_USAGE = 64,  /* the command line is wrong, as in sysexits.h */
} NappeExit;

/* The units a person asked for with --units. */
typedef struct
{
  gboolean given;
  NappeUnitSystem system;
} NappeUnitsOption;

/* Reads the value of --units: "metric" or "us"; NULL leaves it not given. FALSE: unknown, said so. */
gboolean nappe_units_option_read (NappeUnitsOption *option, const char *text);

/* The subcommands. The first argument is the name of the subcommand itself; the vector is owned by
 * the caller and ends with NULL. */
NappeExit nappe_command_check (char **arguments);
NappeExit nappe_command_cure (char **arguments);
NappeExit nappe_command_export (char **arguments);
NappeExit nappe_command_own_pump (char **arguments);
NappeExit nappe_command_rules (char **arguments);
NappeExit nappe_command_simulate (char **arguments);
NappeExit nappe_command_what_if (char **arguments);

/* Reads the options of a subcommand; prints its help and ends the program when asked to. FALSE: the
 * options are wrong and a complaint was printed.
 *  name        of the subcommand, "check"
 *  parameters  what follows the options in the usage line, translated, "FILE"
 *  summary     translated
 *  entries     ends with an empty row
 *  words       (out) what is left without the subcommand's name; transfer full */
gboolean nappe_options_read (const char *name, const char *parameters, const char *summary,
                             const GOptionEntry *entries, char **arguments, char ***words);

/* Prints one line that begins with the program's name; line breaks in it become blanks. */
void nappe_complain (const char *format, ...) G_GNUC_PRINTF (1, 2);

/* Writes a text to standard output. FALSE and a complaint when it cannot take it all. */
gboolean nappe_write_out (const char *text);

G_END_DECLS
