/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "catalogue/item-members-private.h"

#include <string.h>

#define PIPE (1u << NAPPE_ITEM_PIPE)
#define HOSE (1u << NAPPE_ITEM_HOSE)
#define FITTING (1u << NAPPE_ITEM_FITTING)
#define VALVE (1u << NAPPE_ITEM_VALVE)
#define BULKHEAD (1u << NAPPE_ITEM_BULKHEAD)
#define PUMP (1u << NAPPE_ITEM_PUMP)
#define EQUIPMENT (1u << NAPPE_ITEM_EQUIPMENT)
#define TUBES (PIPE | HOSE)
#define JOINTS (FITTING | VALVE | BULKHEAD)
#define PLUMBING (TUBES | JOINTS)
#define DEVICES (PUMP | EQUIPMENT)
#define ALL (PLUMBING | DEVICES)

const char *const nappe_item_kind_words[]
    = { "pipe", "hose", "fitting", "valve", "bulkhead", "pump", "equipment", NULL };
static const char *const shape_words[] = { "elbow-90", "sweep-90", "elbow-45", "tee", "coupling", "union",
                                           "reducer", "adapter", "strainer", "barb", "cap", NULL };
static const char *const valve_words[] = { "gate", "ball", "globe", "diaphragm", "check", NULL };
static const char *const equipment_words[] = { "skimmer", "heater", "reactor", "uv", "chiller", "light", "top-off",
                                               "dosing", "probe", "media", "sock", "other", NULL };

const char *const nappe_item_end_words[] = { "socket", "spigot", "male-thread", "female-thread", "barb", "hose", "push",
                                             "tube", "none", NULL };
static const char *const thread_words[] = { "npt", "bsp", NULL };
static const char *const material_words[] = { "pvc", "abs", "pp", "pe", "nylon", "vinyl", "silicone", "brass", "copper",
                                              "zinc", "steel", "stainless", NULL };

#define TEXT(name, kinds, needed, only)                                                                       \
  {                                                                                                           \
    #name, NAPPE_MEMBER_TEXT, G_STRUCT_OFFSET (NappeItem, name), kinds, needed, NAPPE_QUANTITY_NUMBER, 0, 0, only\
  }
#define NUMBER(name, kinds, needed, quantity, least, most)                                                    \
  {                                                                                                           \
    #name, NAPPE_MEMBER_NUMBER, G_STRUCT_OFFSET (NappeItem, name), kinds, needed, NAPPE_QUANTITY_##quantity, least,\
        most, NULL                                                                                            \
  }
#define FLAG(name, kinds)                                                                                     \
  {                                                                                                           \
    #name, NAPPE_MEMBER_BOOLEAN, G_STRUCT_OFFSET (NappeItem, name), kinds, 0, NAPPE_QUANTITY_NUMBER             \
  }
#define LIST(name, index, kinds, needed, quantity, least, most)                                               \
  {                                                                                                           \
    name, NAPPE_MEMBER_LIST, index, kinds, needed, NAPPE_QUANTITY_##quantity, least, most, NULL               \
  }

/* The ranges are wide: they stop slips of a unit or a decimal sign, not unusual parts. */
const NappeItemMember nappe_item_members[] = {
  TEXT (name, ALL, ALL, NULL),
  TEXT (family, PLUMBING, PLUMBING, NULL),
  TEXT (fittings_family, PLUMBING, 0, NULL),
  TEXT (nominal, ALL, PLUMBING, NULL),
  TEXT (shape, FITTING, FITTING, shape_words),
  TEXT (valve_kind, VALVE, VALVE, valve_words),
  TEXT (equipment_kind, EQUIPMENT, EQUIPMENT, equipment_words),
  NUMBER (bore, PLUMBING, PLUMBING, LENGTH, 0.001, 0.5),
  NUMBER (outside_diameter, PLUMBING, TUBES, LENGTH, 0.001, 1),
  NUMBER (wall, TUBES, TUBES, LENGTH, 0.0001, 0.05),
  NUMBER (roughness, TUBES, TUBES, LENGTH, 0, 0.001),
  NUMBER (nominal_inches, PLUMBING, PLUMBING, NUMBER, 0.05, 20),
  NUMBER (socket_depth, PLUMBING, 0, LENGTH, 0, 0.5),
  NUMBER (k1, JOINTS, 0, NUMBER, 0, 1e5),
  NUMBER (ki, JOINTS, 0, NUMBER, 0, 1e4),
  NUMBER (kd, JOINTS, 0, NUMBER, 0, 100),
  NUMBER (branch_k1, FITTING, 0, NUMBER, 0, 1e5),
  NUMBER (branch_ki, FITTING, 0, NUMBER, 0, 1e4),
  NUMBER (branch_kd, FITTING, 0, NUMBER, 0, 100),
  NUMBER (bore_out, FITTING, 0, LENGTH, 0.001, 0.5),
  NUMBER (length, JOINTS, 0, LENGTH, 0, 2),
  TEXT (end_in, PLUMBING, 0, nappe_item_end_words),
  TEXT (end_out, PLUMBING | PUMP, 0, nappe_item_end_words),
  TEXT (end_branch, FITTING, 0, nappe_item_end_words),
  TEXT (size_in, PLUMBING, 0, NULL),
  TEXT (size_out, PLUMBING | PUMP, 0, NULL),
  TEXT (size_branch, FITTING, 0, NULL),
  TEXT (thread, JOINTS | PUMP, 0, thread_words),
  TEXT (material, PLUMBING | PUMP, 0, material_words),
  NUMBER (pressure_rating, PLUMBING, 0, PRESSURE, 1e3, 1e8),
  FLAG (union_ends, VALVE | BULKHEAD | PUMP),
  NUMBER (bend_radius_min, HOSE, 0, LENGTH, 0.001, 2),
  FLAG (reinforced, HOSE),
  LIST ("opening", NAPPE_LIST_OPENING, VALVE, 0, SHARE, 0.001, 1),
  LIST ("k", NAPPE_LIST_K, VALVE, 0, NUMBER, 1e-4, 1e7),
  NUMBER (turns, VALVE, 0, NUMBER, 0.1, 200),
  NUMBER (hole_diameter, BULKHEAD, BULKHEAD, LENGTH, 0.002, 0.5),
  NUMBER (flange_diameter, BULKHEAD, 0, LENGTH, 0.002, 1),
  NUMBER (edge_distance_min, BULKHEAD, 0, LENGTH, 0, 1),
  NUMBER (wall_max, BULKHEAD, 0, LENGTH, 0.001, 0.2),
  LIST ("curve_flow", NAPPE_LIST_FLOW, PUMP, PUMP, FLOW, 0, 0.1),
  LIST ("curve_head", NAPPE_LIST_HEAD, PUMP, PUMP, HEAD, 0, 100),
  NUMBER (inlet_bore, PUMP, 0, LENGTH, 0.001, 0.5),
  NUMBER (outlet_bore, PUMP, 0, LENGTH, 0.001, 0.5),
  FLAG (variable_speed, PUMP),
  NUMBER (min_depth, PUMP, 0, LENGTH, 0, 2),
  NUMBER (power, DEVICES, PUMP, POWER, 0, 20000),
  NUMBER (length_overall, DEVICES, 0, LENGTH, 0, 5),
  NUMBER (width, DEVICES, 0, LENGTH, 0, 5),
  NUMBER (height, DEVICES, 0, LENGTH, 0, 5),
  NUMBER (flow, EQUIPMENT, 0, FLOW, 0, 0.1),
  NUMBER (depth_min, EQUIPMENT, 0, LENGTH, 0, 3),
  NUMBER (depth_max, EQUIPMENT, 0, LENGTH, 0, 3),
};

const guint nappe_item_member_count = G_N_ELEMENTS (nappe_item_members);
G_STATIC_ASSERT (G_N_ELEMENTS (nappe_item_members) <= 64);

char *
nappe_item_member_file_name (const NappeItemMember *member)
{
  const char *suffix = nappe_quantity_file_suffix (member->quantity);

  return *suffix == '\0' ? g_strdup (member->name) : g_strconcat (member->name, "_", suffix, NULL);
}

gboolean
nappe_item_member_is_named (const NappeItemMember *member, const char *name)
{
  const char *suffix = nappe_quantity_file_suffix (member->quantity);
  gsize length = strlen (member->name);

  if (strncmp (name, member->name, length) != 0)
    return FALSE;
  name += length;
  return *suffix == '\0' ? *name == '\0' : *name == '_' && g_str_equal (name + 1, suffix);
}
