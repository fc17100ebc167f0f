/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "command/case.h"

#include <gio/gio.h>
#include <glib/gi18n-lib.h>
#include <stdio.h>
#include <string.h>

#include "file/file.h"
#include "picture/wording.h"

/* Most bytes taken from standard input: one more than the file room takes, so that it says so. */
#define STREAM_MAX ((gsize) NAPPE_FILE_SIZE_MAX + 1)

/* The spread takes no more (study/spread.h). */
#define MOST_THREADS 8u

static NappeBuild *
read_stream (FILE *stream, const char *name, GError **error)
{
  g_autoptr (GByteArray) bytes = g_byte_array_new ();
  guint8 block[65536];
  gsize n;

  while (bytes->len < STREAM_MAX && (n = fread (block, 1, sizeof block, stream)) > 0)
    g_byte_array_append (bytes, block, (guint) n);
  return nappe_file_read_text ((const char *) bytes->data, bytes->len, name, error);
}

static NappeBuild *
read_build (const char *path, const char *name, GError **error)
{
  g_autoptr (GFile) file = NULL;

  if (strcmp (path, "-") == 0)
    return read_stream (stdin, name, error);
  file = g_file_new_for_commandline_arg (path);
  return nappe_file_read (file, NULL, error);
}

static NappeCatalogue *
load_catalogue (void)
{
  g_autoptr (GPtrArray) warnings = NULL;
  g_autoptr (GError) error = NULL;
  NappeCatalogue *catalogue = nappe_catalogue_load_default (&warnings, &error);

  if (catalogue == NULL)
    {
      nappe_complain (_("cannot read the catalogue: %s"), error->message);
      return NULL;
    }
  for (guint i = 0; i < warnings->len; i++)
    nappe_complain (_("own catalogue: %s"), (const char *) g_ptr_array_index (warnings, i));
  return catalogue;
}

static void
compute (NappeCase *self)
{
  self->layout = nappe_layout_new (self->build, self->catalogue);
  self->study = nappe_study_new (nappe_network_compile (self->build, self->layout, self->catalogue), NULL);
  self->verdict = nappe_rules_run (self->build, self->study, self->units);
}

NappeCase *
nappe_case_open (const char *path, const NappeUnitsOption *units)
{
  g_autoptr (NappeCase) self = g_new0 (NappeCase, 1);
  g_autoptr (GError) error = NULL;

  self->name = strcmp (path, "-") == 0 ? g_strdup (_("standard input")) : g_filename_display_basename (path);
  self->build = read_build (path, self->name, &error);
  if (self->build == NULL)
    {
      nappe_complain ("%s", error->message);
      return NULL;
    }
  self->catalogue = load_catalogue ();
  if (self->catalogue == NULL)
    return NULL;
  self->units = units->given ? units->system : (NappeUnitSystem) self->build->units;
  compute (self);
  return g_steal_pointer (&self);
}

static void
add_heat (NappeCase *self)
{
  if (self->heat == NULL)
    self->heat = nappe_heat_new (self->build, self->catalogue, self->study);
}

void
nappe_case_add_results (NappeCase *self)
{
  add_heat (self);
  self->loads = nappe_loads_new (self->build, self->catalogue, self->study);
  self->spread = nappe_spread_new (self->study, NAPPE_SPREAD_SAMPLES, NAPPE_SPREAD_BLOCKAGE_SAMPLES,
                                   CLAMP (g_get_num_processors (), 1, MOST_THREADS), NULL);
}

void
nappe_case_play (NappeCase *self)
{
  g_autoptr (GPtrArray) courses = NULL;

  add_heat (self);
  courses = nappe_rules_play (self->build, self->study, self->heat->evaporation,
                              CLAMP (g_get_num_processors (), 1, MOST_THREADS), NULL);
  nappe_verdict_free (self->verdict);
  self->verdict = nappe_rules_run_timed (self->build, self->study, courses, self->units);
}

/* All but build, catalogue and name. */
static void
drop_results (NappeCase *self)
{
  g_clear_pointer (&self->spread, nappe_spread_free);
  g_clear_pointer (&self->loads, nappe_loads_free);
  g_clear_pointer (&self->heat, nappe_heat_free);
  g_clear_pointer (&self->verdict, nappe_verdict_free);
  g_clear_pointer (&self->study, nappe_study_unref);
  g_clear_pointer (&self->layout, nappe_layout_free);
}

void
nappe_case_judge_again (NappeCase *self, gboolean in_time)
{
  drop_results (self);
  compute (self);
  if (in_time)
    nappe_case_play (self);
}

GPtrArray *
nappe_case_results (const NappeCase *self, const char *part)
{
  const NappeResultSources sources = {
    .build = self->build, .study = self->study, .spread = self->spread, .heat = self->heat, .loads = self->loads,
  };

  return nappe_results_of_part (&sources, part);
}

char *
nappe_case_name (const NappeCase *self, const char *id)
{
  g_autofree char *outer = NULL;

  if (!g_str_has_suffix (id, NAPPE_INNER_SUFFIX))
    return g_strdup (nappe_wording_part (self->build, id));
  outer = g_strndup (id, strlen (id) - strlen (NAPPE_INNER_SUFFIX));
  /* Translators: the box inside the tank that belongs to an overflow; %s is the overflow's name. */
  return g_strdup_printf (_("%s, inner box"), nappe_wording_part (self->build, outer));
}

void
nappe_case_free (NappeCase *self)
{
  drop_results (self);
  g_clear_object (&self->build);
  g_clear_pointer (&self->catalogue, nappe_catalogue_unref);
  g_free (self->name);
  g_free (self);
}

NappeExit
nappe_case_exit (const NappeCase *self)
{
  switch (nappe_verdict_worst (self->verdict))
    {
    case NAPPE_SEVERITY_DANGER:
      return NAPPE_EXIT_DANGER;
    case NAPPE_SEVERITY_PROBLEM:
      return NAPPE_EXIT_PROBLEM;
    case NAPPE_SEVERITY_ADVICE:
    case NAPPE_SEVERITY_FINE:
    default:
      return NAPPE_EXIT_FINE;
    }
}

char *
nappe_case_number (const NappeCase *self, NappeQuantity quantity, double si)
{
  return nappe_rounded_text (quantity, si, self->units);
}
