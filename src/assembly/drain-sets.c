/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The drains of an overflow box as a whole: from two to three and back. */
#include "config.h"

#include "assembly/assembly-private.h"

#include <glib/gi18n-lib.h>

/* In the order in which they are added: each finds its height over those before it. */
static const NappeDrainRole order[]
    = { NAPPE_DRAIN_SIPHON, NAPPE_DRAIN_OPEN_CHANNEL, NAPPE_DRAIN_STANDPIPE, NAPPE_DRAIN_EMERGENCY };

static gboolean
is_wanted (guint roles, int role)
{
  return (roles & NAPPE_DRAIN_ROLE_BIT (role)) != 0;
}

static gboolean
has_role (NappeBuild *build, const char *overflow, int role)
{
  for (guint i = 0; i < build->drains->len; i++)
    if (NAPPE_DRAIN (build->drains->pdata[i])->role == role
        && g_str_equal (NAPPE_DRAIN (build->drains->pdata[i])->overflow, overflow))
      return TRUE;
  return FALSE;
}

/* Takes away what is not wanted. What it was made of and where it led serves those that come: pipe, into. */
static gboolean
remove_others (NappeBuild *build, NappeCatalogue *catalogue, const char *overflow, guint roles, const char **pipe, char **into,
               GError **error)
{
  for (guint i = build->drains->len; i > 0; i--)
    {
      NappeDrain *drain = build->drains->pdata[i - 1];
      if (!g_str_equal (drain->overflow, overflow))
        continue;
      const NappeItem *item = nappe_assembly_line_pipe (catalogue, NAPPE_PART (drain));
      if (item != NULL && item->kind == NAPPE_ITEM_PIPE)
        *pipe = item->id;
      if (drain->outlets->len > 0)
        {
          g_free (*into);
          *into = g_strdup (NAPPE_OUTLET (drain->outlets->pdata[0])->into);
        }
      if (!is_wanted (roles, drain->role) && !nappe_build_remove (build, NAPPE_PART (drain), error))
        return FALSE;
    }
  return TRUE;
}

static gboolean
set_drains (NappeBuild *build, NappeCatalogue *catalogue, const char *overflow, guint roles, GError **error)
{
  g_autofree char *into = NULL;
  const char *pipe = NULL;
  guint n = 0;

  if (!remove_others (build, catalogue, overflow, roles, &pipe, &into, error))
    return FALSE;
  /* All that come are of one size, so that the last of them has room too. */
  for (gsize i = 0; i < G_N_ELEMENTS (order); i++)
    n += is_wanted (roles, (int) order[i]) && !has_role (build, overflow, (int) order[i]);
  if (pipe == NULL)
    pipe = nappe_assembly_usual_drain_pipe (catalogue);
  pipe = n == 0 ? pipe
                : nappe_assembly_pipe_for_box (build, catalogue, NAPPE_OVERFLOW (nappe_build_find (build, overflow)),
                                               pipe, n, error);
  if (pipe == NULL)
    return FALSE;
  for (gsize i = 0; i < G_N_ELEMENTS (order); i++)
    if (is_wanted (roles, (int) order[i]) && !has_role (build, overflow, (int) order[i])
        && nappe_assembly_add_drain (build, catalogue, overflow, order[i], pipe,
                                     order[i] == NAPPE_DRAIN_EMERGENCY ? NULL : into, error) == NULL)
      return FALSE;
  return nappe_assembly_tune (build, catalogue, overflow, error);
}

gboolean
nappe_assembly_set_drains (NappeBuild *build, NappeCatalogue *catalogue, const char *overflow, guint roles, GError **error)
{
  NappePart *box = nappe_build_find (build, overflow);
  gboolean same = TRUE;
  g_autofree char *label = NULL;

  if (box == NULL || !NAPPE_IS_OVERFLOW (box))
    return nappe_assembly_fail (error, NAPPE_ASSEMBLY_ERROR_UNFIT,
                                g_strdup (_("A drain stands in an overflow box: add one first")));
  for (gsize i = 0; i < G_N_ELEMENTS (order); i++)
    same = same && is_wanted (roles, (int) order[i]) == has_role (build, overflow, (int) order[i]);
  if (same)
    return nappe_assembly_fail (error, NAPPE_ASSEMBLY_ERROR_UNFIT,
                                /* Translators: %s is an overflow box. */
                                g_strdup_printf (_("“%s” has these drains already"), nappe_part_display_name (box)));
  /* Translators: label of a step to undo; %s is an overflow box. */
  label = g_strdup_printf (_("Change the drains of “%s”"), nappe_part_display_name (box));
  nappe_build_begin (build, label);
  return nappe_assembly_end (build, set_drains (build, catalogue, overflow, roles, error));
}
