/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Every case that makes sense for a system, and the trials that its planner wrote down. */
#include "study/happening.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#define MINUTE 60.0
#define HOUR 3600.0
#define DAY 86400.0

/* The system is seen running as it should for so long before anything happens [s]. */
#define BEFORE 10.0
/* How long the power is away before it comes back: long enough for all to have run down [s]. */
#define AWAY (10 * MINUTE)
/* Sudden cases: all that can run down or fill up has [s]. */
#define SHORT_LENGTH (30 * MINUTE)
/* What grows over hours: time of growing, and simulated time [s]. */
#define GROWING (4 * HOUR)
#define LONG_LENGTH (6 * HOUR)
/* Head that is left to a worn pump: common practice, from memory. */
#define WORN 0.8
#define HALF_SPEED 0.5
/* Bore of the leak: a sprung seam or a cracked hose barb [m]; the planner's trials take any other. */
#define LEAK_BORE 0.006

static NappePlan *
plan_new (const char *id, char *title, double length)
{
  NappePlan *plan = g_new0 (NappePlan, 1);

  plan->id = g_strdup (id);
  plan->title = title;
  plan->length = length;
  return plan;
}

static NappeHappening *
add (NappePlan *plan, double at, NappeHappenKind kind)
{
  plan->happenings = g_renew (NappeHappening, plan->happenings, plan->n + 1);
  plan->happenings[plan->n] = (NappeHappening){ .at = at, .kind = kind, .change = { .value = 1 } };
  return &plan->happenings[plan->n++];
}

static NappeHappening *
add_change (NappePlan *plan, double at, double over, NappeChangeKind kind, const char *part, double value)
{
  NappeHappening *happening = add (plan, at, NAPPE_HAPPEN_CHANGE);

  happening->over = over;
  happening->change.kind = kind;
  happening->change.value = value;
  g_strlcpy (happening->change.part, part, sizeof happening->change.part);
  return happening;
}

/* What a change can befall when it names no part: drains, not weirs, for blocking. "": not this link. */
static const char *
target (const NappeNetwork *network, guint index, NappeChangeKind kind)
{
  const NappeLink *link = &network->links[index];

  switch (kind)
    {
    case NAPPE_CHANGE_BLOCK:
      return link->kind == NAPPE_LINK_DRAIN ? link->id : "";
    case NAPPE_CHANGE_BLOCK_JOINT:
      return link->kind == NAPPE_LINK_JOINT ? link->id : "";
    case NAPPE_CHANGE_OPENING:
      return link->valve.n_points > 0 ? link->valve.piece : "";
    case NAPPE_CHANGE_SPEED:
    case NAPPE_CHANGE_WEAR:
      return link->kind == NAPPE_LINK_PUMP && link->curve.n >= 2 ? link->id : "";
    case NAPPE_CHANGE_LOAD:
      return link->kind == NAPPE_LINK_SOCK ? link->id : "";
    default:
      return "";
    }
}

/* One change for each part that it can befall. Returns how many there are. */
static guint
add_to_all (NappePlan *plan, const NappeNetwork *network, double at, double over, NappeChangeKind kind, double value)
{
  guint before = plan->n;

  for (guint i = 0; i < network->n_links; i++)
    {
      const char *part = target (network, i, kind);
      gboolean named = *part == '\0';

      for (guint k = before; k < plan->n && !named; k++)
        named = g_str_equal (plan->happenings[k].change.part, part);
      if (!named)
        add_change (plan, at, over, kind, part, value);
    }
  return plan->n - before;
}

/* What people call a part, in quotes. Transfer full. */
static char *
name_of (NappeBuild *build, const char *id)
{
  NappePart *part = nappe_build_find (build, id);
  const char *name = part != NULL ? nappe_part_get_name (part) : "";

  /* Translators: the planner's own name of a part, in quotes. */
  return g_strdup_printf (_ ("“%s”"), *name != '\0' ? name : id);
}

static gboolean
id_is_taken (const GPtrArray *plans, const char *id)
{
  for (guint i = 0; i < plans->len; i++)
    if (g_str_equal (((const NappePlan *) plans->pdata[i])->id, id))
      return TRUE;
  return FALSE;
}

/* Takes the plan. A planner's trial may have an id that a standard case has; then a number is put behind it. */
static void
append (GPtrArray *plans, NappePlan *plan)
{
  g_autofree char *wanted = g_strdup (plan->id);

  for (guint number = 2; id_is_taken (plans, plan->id); number++)
    {
      g_free (plan->id);
      plan->id = g_strdup_printf ("%s-%u", wanted, number);
    }
  g_ptr_array_add (plans, plan);
}

/* Takes the plan and forgets it when there is nothing that it could befall. */
static void
append_if (GPtrArray *plans, NappePlan *plan, gboolean befalls)
{
  if (befalls)
    append (plans, plan);
  else
    nappe_plan_free (plan);
}

static void
add_power_cuts (GPtrArray *plans)
{
  NappePlan *plan = plan_new ("power-cut", g_strdup (_ ("Power cut")), SHORT_LENGTH);

  add (plan, BEFORE, NAPPE_HAPPEN_POWER_OFF);
  append (plans, plan);
  plan = plan_new ("restart", g_strdup (_ ("Power cut and restart after ten minutes")), SHORT_LENGTH);
  add (plan, BEFORE, NAPPE_HAPPEN_POWER_OFF);
  add (plan, BEFORE + AWAY, NAPPE_HAPPEN_POWER_ON);
  append (plans, plan);
}

static void
add_drain (GPtrArray *plans, const NappeLink *drain, const char *name)
{
  g_autofree char *sudden_id = g_strdup_printf ("block-%s", drain->id);
  g_autofree char *slow_id = g_strdup_printf ("block-slowly-%s", drain->id);
  /* Translators: a case of the time simulation; %s is a drain in quotes. */
  NappePlan *sudden = plan_new (sudden_id, g_strdup_printf (_ ("%s blocked"), name), SHORT_LENGTH);
  /* Translators: a case of the time simulation; %s is a drain in quotes. */
  NappePlan *slow = plan_new (slow_id, g_strdup_printf (_ ("%s blocked slowly, over four hours"), name), LONG_LENGTH);

  add_change (sudden, BEFORE, 0, NAPPE_CHANGE_BLOCK, drain->id, 1);
  add_change (slow, BEFORE, GROWING, NAPPE_CHANGE_BLOCK, drain->id, 1);
  append (plans, sudden);
  append (plans, slow);
}

static void
add_blockages (GPtrArray *plans, NappeBuild *build, const NappeNetwork *network)
{
  NappePlan *all = plan_new ("block-all", g_strdup (_ ("All drains blocked")), SHORT_LENGTH);

  for (guint i = 0; i < network->n_links; i++)
    if (network->links[i].kind == NAPPE_LINK_DRAIN)
      {
        g_autofree char *name = name_of (build, network->links[i].id);
        add_drain (plans, &network->links[i], name);
      }
  append_if (plans, all, add_to_all (all, network, BEFORE, 0, NAPPE_CHANGE_BLOCK, 1) > 1);
}

static gboolean
can_happen (const NappeNetwork *network, NappePlan *plan)
{
  return nappe_plan_check (plan, network, NULL);
}

/* What sticks in a power cut. */
static void
add_stuck (GPtrArray *plans, const NappeNetwork *network)
{
  NappePlan *top_off = plan_new ("top-off-stuck", g_strdup (_ ("Top-off stuck on")), LONG_LENGTH);
  NappePlan *holes
      = plan_new ("holes-blocked", g_strdup (_ ("Power cut with the siphon-break holes blocked")), SHORT_LENGTH);
  NappePlan *checks
      = plan_new ("check-valves-stuck", g_strdup (_ ("Power cut with the check valves stuck open")), SHORT_LENGTH);

  add (top_off, BEFORE, NAPPE_HAPPEN_TOP_OFF_STICKS);
  add (holes, 0, NAPPE_HAPPEN_BLOCK_HOLE);
  add (holes, BEFORE, NAPPE_HAPPEN_POWER_OFF);
  add (checks, 0, NAPPE_HAPPEN_CHECK_STICKS);
  add (checks, BEFORE, NAPPE_HAPPEN_POWER_OFF);
  append_if (plans, top_off, can_happen (network, top_off));
  append_if (plans, holes, can_happen (network, holes));
  append_if (plans, checks, can_happen (network, checks));
}

static void
add_ageing (GPtrArray *plans, const NappeNetwork *network)
{
  NappePlan *socks = plan_new ("socks-loaded", g_strdup (_ ("Filter socks loading, over four hours")), LONG_LENGTH);
  NappePlan *worn = plan_new ("pumps-worn", g_strdup (_ ("Pumps worn to four fifths of their head")), SHORT_LENGTH);
  NappePlan *slow = plan_new ("pumps-half-speed", g_strdup (_ ("Pumps at half speed")), SHORT_LENGTH);

  append_if (plans, socks, add_to_all (socks, network, BEFORE, GROWING, NAPPE_CHANGE_LOAD, 1) > 0);
  append_if (plans, worn, add_to_all (worn, network, BEFORE, 0, NAPPE_CHANGE_WEAR, WORN) > 0);
  add (slow, BEFORE, NAPPE_HAPPEN_SPEED)->change.value = HALF_SPEED;
  append_if (plans, slow, can_happen (network, slow));
}

static void
add_valves (GPtrArray *plans, NappeBuild *build, const NappeNetwork *network)
{
  for (guint i = 0; i < network->n_links; i++)
    if (network->links[i].kind == NAPPE_LINK_DRAIN && nappe_network_valve_link (network, i) >= 0)
      {
        const char *drain = network->links[i].id;
        g_autofree char *id = g_strdup_printf ("valve-shut-%s", drain);
        g_autofree char *name = name_of (build, drain);
        /* Translators: a case of the time simulation; %s is a drain in quotes. */
        NappePlan *plan = plan_new (id, g_strdup_printf (_ ("Valve of %s closed by hand"), name), SHORT_LENGTH);

        add_change (plan, BEFORE, 0, NAPPE_CHANGE_OPENING, drain, 0);
        append (plans, plan);
      }
}

static void
add_leak (GPtrArray *plans, const NappeNetwork *network)
{
  NappePlan *plan = plan_new ("leak", g_strdup (_ ("A leak at half the height of the display")), SHORT_LENGTH);
  const NappeNode *display = network->display < network->n_nodes ? &network->nodes[network->display] : NULL;

  if (display != NULL)
    {
      NappeHappening *leak = add (plan, BEFORE, NAPPE_HAPPEN_LEAK);
      leak->bore = LEAK_BORE;
      leak->height = 0.5 * (display->rim - display->floor);
      g_strlcpy (leak->change.part, display->id, sizeof leak->change.part);
    }
  append_if (plans, plan, display != NULL && can_happen (network, plan));
}

static void
add_absence (GPtrArray *plans, const NappeNetwork *network)
{
  NappePlan *plan = plan_new ("reservoir-empty", g_strdup (_ ("Two days away with the reservoir empty")), 2 * DAY);

  add (plan, 0, NAPPE_HAPPEN_NO_TOP_OFF);
  append_if (plans, plan, can_happen (network, plan));
}

/* What a written happening becomes when it is a change of scenario.h. */
static gboolean
change_of (int what, NappeChangeKind *kind)
{
  switch (what)
    {
    case NAPPE_WHAT_BLOCK:
      *kind = NAPPE_CHANGE_BLOCK;
      return TRUE;
    case NAPPE_WHAT_BLOCK_JOINT:
      *kind = NAPPE_CHANGE_BLOCK_JOINT;
      return TRUE;
    case NAPPE_WHAT_OPENING:
      *kind = NAPPE_CHANGE_OPENING;
      return TRUE;
    case NAPPE_WHAT_SPEED:
      *kind = NAPPE_CHANGE_SPEED;
      return TRUE;
    case NAPPE_WHAT_WEAR:
      *kind = NAPPE_CHANGE_WEAR;
      return TRUE;
    case NAPPE_WHAT_LOAD:
      *kind = NAPPE_CHANGE_LOAD;
      return TRUE;
    default:
      return FALSE;
    }
}

static NappeHappenKind
kind_of (int what)
{
  switch (what)
    {
    case NAPPE_WHAT_POWER_ON:
      return NAPPE_HAPPEN_POWER_ON;
    case NAPPE_WHAT_BLOCK_HOLE:
      return NAPPE_HAPPEN_BLOCK_HOLE;
    case NAPPE_WHAT_CHECK_STICKS:
      return NAPPE_HAPPEN_CHECK_STICKS;
    case NAPPE_WHAT_TOP_OFF_STICKS:
      return NAPPE_HAPPEN_TOP_OFF_STICKS;
    case NAPPE_WHAT_NO_TOP_OFF:
      return NAPPE_HAPPEN_NO_TOP_OFF;
    case NAPPE_WHAT_LEAK:
      return NAPPE_HAPPEN_LEAK;
    case NAPPE_WHAT_POWER_OFF:
    default:
      return NAPPE_HAPPEN_POWER_OFF;
    }
}

/* A change without a part befalls all that it can; where there is none, it stays and is refused when it is played. */
static void
add_step (NappePlan *plan, const NappeNetwork *network, const NappeTrialStep *step)
{
  NappeChangeKind kind;

  if (change_of (step->what, &kind))
    {
      if (*step->part != '\0' || add_to_all (plan, network, step->at, step->over, kind, step->value) == 0)
        add_change (plan, step->at, step->over, kind, step->part, step->value);
      return;
    }
  NappeHappening *happening = add (plan, step->at, kind_of (step->what));
  happening->change.value = step->value;
  happening->bore = step->bore;
  happening->height = step->height;
  g_strlcpy (happening->change.part, step->part, sizeof happening->change.part);
}

static int
compare_times (gconstpointer a, gconstpointer b, gpointer unused)
{
  const NappeHappening *first = a, *second = b;

  return (first->at > second->at) - (first->at < second->at);
}

static void
add_trial (GPtrArray *plans, const NappeNetwork *network, NappeTrial *trial)
{
  NappePart *part = NAPPE_PART (trial);
  const char *name = nappe_part_get_name (part);
  NappePlan *plan = plan_new (nappe_part_get_id (part), g_strdup (*name != '\0' ? name : nappe_part_get_id (part)),
                              trial->length);

  for (guint i = 0; i < trial->happenings->len; i++)
    add_step (plan, network, trial->happenings->pdata[i]);
  /* Stable: what happens at the same time keeps the order of the file. */
  g_qsort_with_data (plan->happenings, (int) plan->n, sizeof *plan->happenings, compare_times, NULL);
  append (plans, plan);
}

GPtrArray *
nappe_plans_of (NappeBuild *build, const NappeStudy *study)
{
  GPtrArray *plans = g_ptr_array_new_with_free_func ((GDestroyNotify) nappe_plan_free);
  const NappeNetwork *network = study->network;

  add_power_cuts (plans);
  add_blockages (plans, build, network);
  add_stuck (plans, network);
  add_ageing (plans, network);
  add_valves (plans, build, network);
  add_leak (plans, network);
  add_absence (plans, network);
  for (guint i = 0; i < build->trials->len; i++)
    add_trial (plans, network, build->trials->pdata[i]);
  return plans;
}

NappePlan *
nappe_plan_find (NappeBuild *build, const NappeStudy *study, const char *id, GError **error)
{
  g_autoptr (GPtrArray) plans = nappe_plans_of (build, study);
  g_autoptr (GString) known = g_string_new (NULL);

  for (guint i = 0; i < plans->len; i++)
    {
      const NappePlan *plan = plans->pdata[i];
      if (g_strcmp0 (plan->id, id) == 0)
        return nappe_plan_copy (plan);
      /* Translators: between the words of a list. */
      g_string_append_printf (known, "%s%s", i > 0 ? _ (", ") : "", plan->id);
    }
  g_set_error (error, NAPPE_SCENARIO_ERROR, NAPPE_SCENARIO_ERROR_PART,
               /* Translators: the id of a case of the time simulation, and a list of ids. */
               _ ("There is no case “%s”; there are: %s"), id != NULL ? id : "", known->str);
  return NULL;
}
