/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <glib/gi18n-lib.h>

#include "catalogue/catalogue-private.h"

/* The names of all shipped items, so that translators see them; a test keeps the list complete. */
static const char *const shipped_names[] = {
  N_ ("Pipe"),
  N_ ("Vinyl hose"),
  N_ ("Silicone hose"),
  N_ ("90° elbow"),
  N_ ("90° sweep bend"),
  N_ ("45° elbow"),
  N_ ("Tee"),
  N_ ("Coupling"),
  N_ ("Union"),
  N_ ("Threaded adapter"),
  N_ ("Strainer"),
  N_ ("Cap"),
  N_ ("Reducer"),
  N_ ("Female threaded adapter"),
  N_ ("Push coupling"),
  N_ ("Polyethylene tube"),
  N_ ("Hose barb"),
  N_ ("Gate valve"),
  N_ ("Ball valve"),
  N_ ("Globe valve"),
  N_ ("Diaphragm valve"),
  N_ ("Swing check valve"),
  N_ ("Bulkhead"),
  N_ ("Fixed-speed pump"),
  N_ ("Variable-speed pump"),
  N_ ("Small protein skimmer"),
  N_ ("Medium protein skimmer"),
  N_ ("Large protein skimmer"),
  N_ ("Heater"),
  N_ ("UV clarifier"),
  N_ ("Small media reactor"),
  N_ ("Large media reactor"),
  N_ ("Chiller"),
  N_ ("Light"),
  N_ ("Refugium light"),
  N_ ("Small top-off pump"),
  N_ ("Large top-off pump"),
  N_ ("Dosing pump"),
  N_ ("Filter sock"),
  N_ ("Holder for three probes"),
  N_ ("Small circulation pump"),
  N_ ("Large circulation pump"),
  NULL,
};

gboolean
nappe_item_name_is_translatable (const char *name)
{
  return g_strv_contains (shipped_names, name);
}

/* What tells items of one name apart; NULL if nothing does. Transfer full. */
static char *
size_text (const NappeItem *item, NappeUnitSystem system)
{
  if (item->nominal != NULL)
    return g_strdup (item->nominal);
  if (item->n_curve > 0)
    return nappe_quantity_format (NAPPE_QUANTITY_FLOW, item->curve_flow[item->n_curve - 1], system, 0);
  return NULL;
}

char *
nappe_item_label (const NappeItem *item, NappeUnitSystem system)
{
  g_autofree char *size = NULL;
  const char *name;

  g_return_val_if_fail (item != NULL, NULL);
  name = nappe_item_name_is_translatable (item->name) ? _(item->name) : item->name;
  size = size_text (item, system);
  if (size == NULL)
    return g_strdup (name);
  /* Translators: the name of a part, then its size: "90° elbow, 1-1/4 in". */
  return g_strdup_printf (_("%s, %s"), name, size);
}

const char *
nappe_item_family_word (const NappeItem *item)
{
  const struct
  {
    const char *family, *word;
  } words[] = {
    { "pvc-sch40", _("PVC, schedule 40") },
    { "pvc-sch80", _("PVC, schedule 80") },
    { "pvc-metric-pn16", _("metric PVC, PN 16") },
    { "pvc-metric-pn10", _("metric PVC, PN 10") },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (words); i++)
    if (g_strcmp0 (item->family, words[i].family) == 0)
      return words[i].word;
  return "";
}

char *
nappe_item_full_label (const NappeItem *item, NappeUnitSystem system)
{
  g_autofree char *label = nappe_item_label (item, system);
  const char *family = nappe_item_family_word (item);

  return *family != '\0' ? g_strdup_printf ("%s · %s", label, family) : g_steal_pointer (&label);
}
