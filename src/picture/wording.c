/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "picture/wording.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "results/state-words.h"

const char *
nappe_wording_drain_state (NappeDrainState state)
{
  return nappe_drain_state_word (state);
}

const char *
nappe_wording_rest (NappeRest rest)
{
  switch (rest)
    {
    case NAPPE_REST_CYCLES:
      return _("No steady state: a siphon primes, empties its box, breaks and starts again.");
    case NAPPE_REST_NOT_FOUND:
      return _("The running state could not be computed.");
    case NAPPE_REST_NOT_RUNNABLE:
      return _("The build cannot run as it is drawn.");
    case NAPPE_REST_FOUND:
    default:
      return NULL;
    }
}

gboolean
nappe_wording_has_check_valve (const NappeNetwork *network)
{
  for (guint i = 0; i < network->n_links; i++)
    if (network->links[i].one_way)
      return TRUE;
  return FALSE;
}

const char *
nappe_wording_choice (NappePart *part, const char *field_name)
{
  const NappeField *field = nappe_part_find_field (part, field_name);
  GValue read = G_VALUE_INIT;
  int value;

  if (field == NULL || field->type != NAPPE_FIELD_CHOICE)
    return "";
  nappe_part_read (part, field, &read);
  value = g_value_get_int (&read);
  g_value_unset (&read);
  for (int i = 0; field->choices[i].nick != NULL; i++)
    if (i == value)
      return g_dgettext (GETTEXT_PACKAGE, field->choices[i].label);
  return "";
}

char *
nappe_wording_vessel (NappeBuild *build, const NappeNode *node)
{
  if (!g_str_has_suffix (node->id, NAPPE_INNER_SUFFIX))
    return g_strdup (nappe_wording_part (build, node->id));
  g_autofree char *overflow = g_strndup (node->id, strlen (node->id) - strlen (NAPPE_INNER_SUFFIX));
  /* Translators: the box behind the weir of an overflow that has two; %s is the overflow */
  return g_strdup_printf (_("%s, inner box"), nappe_wording_part (build, overflow));
}

const char *
nappe_wording_part (NappeBuild *build, const char *id)
{
  NappePart *part;

  if (*id == '\0')
    return _("the whole build");
  part = nappe_build_find (build, id);
  return part != NULL ? nappe_part_display_name (part) : id;
}
