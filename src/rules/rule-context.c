/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rules/rule-context.h"

#include "results/part-words.h"

#include <glib/gi18n-lib.h>
#include <math.h>

NappeFinding *
nappe_rule_find (NappeRuleContext *context, NappeSeverity severity, const char *title, const char *part)
{
  NappeFinding *finding = nappe_finding_new (context->rule->id, title != NULL ? title : _(context->rule->title),
                                             _(context->rule->source), severity, part);
  g_ptr_array_add (severity == NAPPE_SEVERITY_FINE ? context->verdict->fine : context->verdict->findings, finding);
  return finding;
}

NappeFinding *
nappe_rule_fine (NappeRuleContext *context, const char *part, double value, double limit, NappeQuantity quantity)
{
  NappeFinding *finding = nappe_rule_find (context, NAPPE_SEVERITY_FINE, NULL, part);
  nappe_finding_measure (finding, value, limit, quantity);
  return finding;
}

void
nappe_rule_not_checked (NappeRuleContext *context, const char *reason)
{
  NappeFinding *finding = nappe_rule_find (context, NAPPE_SEVERITY_FINE, NULL, "");
  nappe_finding_set_checked (finding, FALSE);
  nappe_finding_say (finding, "%s", reason);
}

double
nappe_rule_limit (NappeRuleContext *context, NappeLimitName name)
{
  context->consulted[name] = TRUE;
  return nappe_limit_in_build (name, context->build);
}

const NappeHeat *
nappe_rule_heat (NappeRuleContext *context)
{
  if (context->heat == NULL && context->network->catalogue != NULL)
    context->heat = nappe_heat_new (context->build, context->network->catalogue, context->study);
  return context->heat;
}

gboolean
nappe_rule_needs_computed (NappeRuleContext *context)
{
  NappeRest rest = context->study->running.rest;

  if (rest == NAPPE_REST_FOUND || rest == NAPPE_REST_CYCLES)
    return TRUE;
  if (rest == NAPPE_REST_NOT_RUNNABLE)
    nappe_rule_not_checked (context, _("Not checked: the build cannot run as drawn."));
  else
    nappe_rule_not_checked (context, _("Not checked: no running state was found."));
  return FALSE;
}

gboolean
nappe_rule_needs_running (NappeRuleContext *context)
{
  if (!nappe_rule_needs_computed (context))
    return FALSE;
  if (context->study->running.display_flow > nappe_rule_limit (context, NAPPE_LIMIT_TRICKLE))
    return TRUE;
  nappe_rule_not_checked (context, _("Not checked: no water reaches the display."));
  return FALSE;
}

gboolean
nappe_rule_needs_steady (NappeRuleContext *context)
{
  if (!nappe_rule_needs_running (context))
    return FALSE;
  if (context->study->running.rest == NAPPE_REST_FOUND)
    return TRUE;
  nappe_rule_not_checked (
      context, _("Not checked: the levels never come to rest, because a siphon fills and breaks by turns."));
  return FALSE;
}

guint
nappe_rule_overflow_link (NappeRuleContext *context, guint after)
{
  const NappeNetwork *network = context->network;

  for (guint i = after; i < network->n_links; i++)
    if (network->links[i].kind == NAPPE_LINK_RIM && network->links[i].to == network->floor
        && context->study->running.flow[i] > nappe_rule_limit (context, NAPPE_LIMIT_TRICKLE))
      return i;
  return G_MAXUINT;
}

gboolean
nappe_rule_needs_dry_floor (NappeRuleContext *context)
{
  if (nappe_rule_overflow_link (context, 0) == G_MAXUINT)
    return TRUE;
  nappe_rule_not_checked (context, _("Not checked: water runs over a rim already while the pump runs."));
  return FALSE;
}

gboolean
nappe_rule_cut_floods (NappeRuleContext *context)
{
  return !(context->study->cut_check_failed.state.spilled <= nappe_rule_limit (context, NAPPE_LIMIT_SPILL));
}

static const char *
keep (NappeRuleContext *context, char *text)
{
  g_ptr_array_add (context->texts, text);
  return text;
}

const char *
nappe_rule_text (NappeRuleContext *context, const char *format, ...)
{
  va_list arguments;
  va_start (arguments, format);
  char *text = g_strdup_vprintf (format, arguments);
  va_end (arguments);
  return keep (context, text);
}

const char *
nappe_rule_number (NappeRuleContext *context, NappeQuantity quantity, double value)
{
  return keep (context, nappe_rounded_text (quantity, value, context->units));
}

const char *
nappe_rule_at_least (NappeRuleContext *context, NappeQuantity quantity, double value)
{
  double step = quantity == NAPPE_QUANTITY_VOLUME ? 1e-4 : 1e-3;
  /* What is whole but for the last bits is whole. */
  return nappe_rule_number (context, quantity, step * ceil (value / step - 1e-6));
}

const char *
nappe_rule_duration (NappeRuleContext *context, double seconds)
{
  if (seconds < 120 || !isfinite (seconds))
    return nappe_rule_number (context, NAPPE_QUANTITY_DURATION, seconds);
  double hours = seconds / 3600;
  gboolean long_time = hours >= 3;
  double count = round (long_time ? hours : seconds / 60);
  g_autofree char *number = nappe_quantity_format (NAPPE_QUANTITY_COUNT, count, context->units, 0);
  gulong plural = (gulong)CLAMP (count, 0, 1e9);
  if (long_time)
    /* Translators: a duration; %s is a whole number. */
    return keep (context, g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%s hour", "%s hours", plural), number));
  /* Translators: a duration; %s is a whole number. */
  return keep (context, g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%s minute", "%s minutes", plural), number));
}

const char *
nappe_rule_name (NappeRuleContext *context, const char *id)
{
  const char *known = g_hash_table_lookup (context->names, id);

  if (known != NULL)
    return known;
  known = keep (context, nappe_part_words (context->build, id));
  g_hash_table_insert (context->names, g_strdup (id), (gpointer) known);
  return known;
}

NappeDrain *
nappe_rule_drain (NappeRuleContext *context, const NappeDrainReport *report)
{
  NappePart *part = nappe_build_find (context->build, report->id);
  return part != NULL && NAPPE_IS_DRAIN (part) ? NAPPE_DRAIN (part) : NULL;
}

double
nappe_rule_bore_for (NappeRuleContext *context, const NappeDrainReport *report, double factor)
{
  return context->network->links[report->link].inlet.bore * pow (factor, 0.4);
}

guint
nappe_rule_count_role (NappeRuleContext *context, int role)
{
  guint count = 0;
  for (guint i = 0; i < context->build->drains->len; i++)
    count += NAPPE_DRAIN (context->build->drains->pdata[i])->role == role;
  return count;
}

gboolean
nappe_rule_needs_siphon (NappeRuleContext *context)
{
  if (nappe_rule_count_role (context, NAPPE_DRAIN_SIPHON) > 0)
    return TRUE;
  nappe_rule_not_checked (context, _("Does not apply: the build has no full siphon."));
  return FALSE;
}

void
nappe_rule_check_siphons (NappeRuleContext *context, NappeSiphonCheck check, const char *none)
{
  guint looked = 0;

  for (guint i = 0; i < context->study->n_drains; i++)
    if (context->study->drains[i].role == NAPPE_DRAIN_SIPHON)
      looked += check (context, &context->study->drains[i]);
  if (looked == 0)
    nappe_rule_not_checked (context, none);
}

const NappeNode *
nappe_rule_node (NappeRuleContext *context, const char *id)
{
  gint index = nappe_network_find_node (context->network, id);
  return index >= 0 ? &context->network->nodes[index] : NULL;
}

const NappeItem *
nappe_rule_item (NappeRuleContext *context, const char *id)
{
  return context->network->catalogue != NULL ? nappe_catalogue_find (context->network->catalogue, id) : NULL;
}
