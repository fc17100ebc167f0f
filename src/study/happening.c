/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Plans as values, and whether one can be played. Making them is in plans.c. */
#include "study/happening.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* Bores of leaks that are taken [m]. */
#define LEAK_BORE_MAX 0.5
/* A siphon-break hole lies at least so high over the mouth of its nozzle; any lower the mouth itself lets air in [m]. */
#define HOLE_LEAST 1e-6

void
nappe_plan_free (NappePlan *self)
{
  if (self == NULL)
    return;
  g_free (self->id);
  g_free (self->title);
  g_free (self->happenings);
  g_free (self);
}

NappePlan *
nappe_plan_copy (const NappePlan *self)
{
  NappePlan *copy = g_new0 (NappePlan, 1);

  *copy = *self;
  copy->id = g_strdup (self->id);
  copy->title = g_strdup (self->title);
  copy->happenings = g_memdup2 (self->happenings, self->n * sizeof *self->happenings);
  return copy;
}

static gboolean
refuse (GError **error, NappeScenarioError code, char *text)
{
  g_set_error_literal (error, NAPPE_SCENARIO_ERROR, (int) code, text);
  g_free (text);
  return FALSE;
}

/* Whether something befalls a link: all of them with part "". */
static gboolean
befalls (const NappeHappening *happening, const NappeLink *link)
{
  const char *part = happening->change.part;

  switch (happening->kind)
    {
    case NAPPE_HAPPEN_BLOCK_HOLE:
      return *link->outlet != '\0' && link->siphon_break > link->sill + HOLE_LEAST
             && (*part == '\0' || g_str_equal (link->outlet, part));
    case NAPPE_HAPPEN_CHECK_STICKS:
      return link->one_way && (*part == '\0' || g_str_equal (link->line, part));
    case NAPPE_HAPPEN_SPEED:
      return link->kind == NAPPE_LINK_PUMP && link->curve.n >= 2;
    default:
      return FALSE;
    }
}

static gboolean
finds_link (const NappeHappening *happening, const NappeNetwork *network)
{
  for (guint i = 0; i < network->n_links; i++)
    if (befalls (happening, &network->links[i]))
      return TRUE;
  return FALSE;
}

/* Says of what there is none. */
static gboolean
refuse_link (const NappeHappening *happening, GError **error)
{
  const char *part = happening->change.part;
  char *text;

  if (happening->kind == NAPPE_HAPPEN_SPEED)
    text = g_strdup (_ ("There is no pump with a known curve."));
  else if (happening->kind == NAPPE_HAPPEN_BLOCK_HOLE && *part == '\0')
    text = g_strdup (_ ("There is no siphon-break hole."));
  else if (happening->kind == NAPPE_HAPPEN_BLOCK_HOLE)
    /* Translators: %s is the id of a part; so in the sentences below. */
    text = g_strdup_printf (_ ("“%s” is no outlet with a siphon-break hole."), part);
  else if (*part == '\0')
    text = g_strdup (_ ("There is no check valve."));
  else
    text = g_strdup_printf (_ ("“%s” is no return line with a check valve."), part);
  return refuse (error, NAPPE_SCENARIO_ERROR_PART, text);
}

static gboolean
check_leak (const NappeHappening *happening, const NappeNetwork *network, GError **error)
{
  const char *part = happening->change.part;
  gint index = nappe_network_find_node (network, part);
  const NappeNode *node = index >= 0 ? &network->nodes[index] : NULL;

  if (node == NULL || node->area <= 0 || node->kind == NAPPE_NODE_SOCK || node->kind == NAPPE_NODE_FLOOR)
    return refuse (error, NAPPE_SCENARIO_ERROR_PART,
                   g_strdup_printf (_ ("“%s” is no tank, box, chamber or vessel that could leak."), part));
  if (!(happening->bore > 0 && happening->bore <= LEAK_BORE_MAX))
    return refuse (error, NAPPE_SCENARIO_ERROR_RANGE,
                   g_strdup_printf (_ ("The bore of the leak in “%s” must be more than nothing and at most %d mm."), part,
                                    (int) (1000 * LEAK_BORE_MAX)));
  if (!(happening->height >= 0 && happening->height < node->rim - node->floor))
    return refuse (error, NAPPE_SCENARIO_ERROR_RANGE,
                   g_strdup_printf (_ ("The leak in “%s” must lie between its floor and its rim."), part));
  return TRUE;
}

/* What must be said of the share of those that are no changes of scenario.h. */
static gboolean
check_share (const NappeHappening *happening, GError **error)
{
  if (happening->change.value >= 0 && happening->change.value <= 1)
    return TRUE;
  return refuse (error, NAPPE_SCENARIO_ERROR_RANGE, g_strdup (_ ("The share must lie between 0 and 1.")));
}

static gboolean
check_times (const NappeHappening *happening, GError **error)
{
  if (happening->at >= 0 && happening->at <= NAPPE_PLAN_LONGEST && happening->over >= 0
      && happening->over <= NAPPE_PLAN_LONGEST)
    return TRUE;
  return refuse (error, NAPPE_SCENARIO_ERROR_RANGE,
                 g_strdup_printf (_ ("Its times must lie between 0 and %d days."), (int) (NAPPE_PLAN_LONGEST / 86400)));
}

static gboolean
check_top_off (const NappeNetwork *network, GError **error)
{
  if (network->reservoir_volume > 0)
    return TRUE;
  return refuse (error, NAPPE_SCENARIO_ERROR_PART, g_strdup (_ ("There is no top-off with a reservoir.")));
}

/* scratch: a copy that changes are tried on; what a change can befall does not depend on earlier ones. */
static gboolean
check_happening (const NappeHappening *happening, NappeNetwork *scratch, GError **error)
{
  if (!check_times (happening, error))
    return FALSE;
  switch (happening->kind)
    {
    case NAPPE_HAPPEN_CHANGE:
      return nappe_scenario_change (scratch, &happening->change, error);
    case NAPPE_HAPPEN_LEAK:
      return check_leak (happening, scratch, error);
    case NAPPE_HAPPEN_BLOCK_HOLE:
    case NAPPE_HAPPEN_CHECK_STICKS:
    case NAPPE_HAPPEN_SPEED:
      return check_share (happening, error) && (finds_link (happening, scratch) || refuse_link (happening, error));
    case NAPPE_HAPPEN_TOP_OFF_STICKS:
    case NAPPE_HAPPEN_NO_TOP_OFF:
      return check_share (happening, error) && check_top_off (scratch, error);
    case NAPPE_HAPPEN_POWER_OFF:
    case NAPPE_HAPPEN_POWER_ON:
      return TRUE;
    default:
      return refuse (error, NAPPE_SCENARIO_ERROR_RANGE, g_strdup (_ ("No such kind of happening is known.")));
    }
}

static gboolean
check_whole (const NappePlan *self, GError **error)
{
  if (!(self->length > 0 && self->length <= NAPPE_PLAN_LONGEST))
    return refuse (error, NAPPE_SCENARIO_ERROR_RANGE,
                   /* Translators: the name of a case, and a count. */
                   g_strdup_printf (_ ("%s: the simulated time must be more than nothing and at most %d days."),
                                    self->title, (int) (NAPPE_PLAN_LONGEST / 86400)));
  if (self->n > NAPPE_PLAN_HAPPENINGS_MAX)
    return refuse (error, NAPPE_SCENARIO_ERROR_RANGE,
                   /* Translators: the name of a case, and two counts. */
                   g_strdup_printf (_ ("%s: %u happenings are too many; at most %d are played."), self->title, self->n,
                                    NAPPE_PLAN_HAPPENINGS_MAX));
  for (guint i = 1; i < self->n; i++)
    if (self->happenings[i].at < self->happenings[i - 1].at)
      return refuse (error, NAPPE_SCENARIO_ERROR_RANGE,
                     /* Translators: the name of a case, and the number of a happening in it. */
                     g_strdup_printf (_ ("%s: happening %u comes before the one that stands before it."), self->title,
                                      i + 1));
  return TRUE;
}

gboolean
nappe_plan_check (const NappePlan *self, const NappeNetwork *network, GError **error)
{
  g_autoptr (NappeNetwork) scratch = NULL;

  if (!check_whole (self, error))
    return FALSE;
  scratch = nappe_network_copy (network);
  for (guint i = 0; i < self->n; i++)
    if (!check_happening (&self->happenings[i], scratch, error))
      {
        /* Translators: the name of a case, the number of a happening in it, and what is wrong with it. */
        g_prefix_error (error, _ ("%s, happening %u: "), self->title, i + 1);
        return FALSE;
      }
  return TRUE;
}
