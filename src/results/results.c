/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "results/result-list.h"

typedef struct
{
  GType (*type) (void);
  void (*add) (NappeResultList *list);
} KindRow;

static const KindRow kinds[] = {
  { nappe_build_get_type, nappe_results_add_build },
  { nappe_tank_get_type, nappe_results_add_tank },
  { nappe_overflow_get_type, nappe_results_add_overflow },
  { nappe_drain_get_type, nappe_results_add_drain },
  { nappe_outlet_get_type, nappe_results_add_outlet },
  { nappe_piece_get_type, nappe_results_add_piece },
  { nappe_pump_get_type, nappe_results_add_pump },
  { nappe_return_line_get_type, nappe_results_add_return_line },
  { nappe_sump_get_type, nappe_results_add_sump },
  { nappe_chamber_get_type, nappe_results_add_chamber },
  { nappe_baffle_get_type, nappe_results_add_baffle },
  { nappe_side_vessel_get_type, nappe_results_add_spout },
  { nappe_equipment_get_type, nappe_results_add_equipment },
  { nappe_room_get_type, nappe_results_add_heat },
  { nappe_water_condition_get_type, nappe_results_add_water },
  { nappe_stand_get_type, nappe_results_add_loads },
};

static void
add_part (NappeResultList *list)
{
  NappePart *part = *list->part == '\0' ? NAPPE_PART (list->build) : nappe_build_find (list->build, list->part);
  gint node;

  for (gsize i = 0; part != NULL && i < G_N_ELEMENTS (kinds); i++)
    if (G_TYPE_CHECK_INSTANCE_TYPE (part, kinds[i].type ()))
      {
        kinds[i].add (list);
        return;
      }
  /* The inner box of an overflow is no part of the build. */
  node = part == NULL ? nappe_network_find_node (list->network, list->part) : -1;
  if (node >= 0)
    nappe_results_add_vessel (list, (guint) node);
}

GPtrArray *
nappe_results_of_part (const NappeResultSources *sources, const char *part)
{
  NappeResultList list = {
    .build = sources->build,
    .study = sources->study,
    .network = sources->study->network,
    .spread = sources->spread,
    .heat = sources->heat,
    .loads = sources->loads != NULL && sources->loads->known ? sources->loads : NULL,
    .part = part,
    .results = g_ptr_array_new_with_free_func ((GDestroyNotify) nappe_result_free),
  };

  add_part (&list);
  return list.results;
}
