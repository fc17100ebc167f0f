/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "studio/parts/add-entry.h"

#include <glib/gi18n-lib.h>
#include <string.h>

struct _NappeAddEntry
{
  GObject parent_instance;
  char *title, *detail, *source, *searched; /* source: "" where there is none; searched: case-folded */
  NappeAddGroup group;
  NappePart *(*add) (NappeAddEntry *self, NappeBuild *build, NappeCatalogue *catalogue, NappePart *at, GError **error);
  int role;   /* of a drain or chamber; of a set of drains: all bits */
  char *item; /* catalogue id; NULL: none */
};

G_DEFINE_FINAL_TYPE (NappeAddEntry, nappe_add_entry, G_TYPE_OBJECT)

static const char *const group_labels[] = {
  [NAPPE_ADD_ANY] = N_("Everything"),         [NAPPE_ADD_DRAIN] = N_("Drains and outlets"),
  [NAPPE_ADD_VESSEL] = N_("Chambers and vessels"), [NAPPE_ADD_EQUIPMENT] = N_("Equipment"),
  [NAPPE_ADD_PUMP] = N_("Pumps"),             [NAPPE_ADD_PIPE] = N_("Pipes and hoses"),
  [NAPPE_ADD_FITTING] = N_("Fittings"),       [NAPPE_ADD_VALVE] = N_("Valves"),
  [NAPPE_ADD_BULKHEAD] = N_("Bulkheads"),
};

const char *
nappe_add_group_label (NappeAddGroup group)
{
  return _(group_labels[group]);
}

static void
nappe_add_entry_finalize (GObject *object)
{
  NappeAddEntry *self = NAPPE_ADD_ENTRY (object);

  g_free (self->title);
  g_free (self->detail);
  g_free (self->source);
  g_free (self->searched);
  g_free (self->item);
  G_OBJECT_CLASS (nappe_add_entry_parent_class)->finalize (object);
}

static void
nappe_add_entry_class_init (NappeAddEntryClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = nappe_add_entry_finalize;
}

static void
nappe_add_entry_init (NappeAddEntry *self)
{
}

/* ---- what adding does ---- */

/* The part itself or the nearest one around it of a type; NULL: none. */
static NappePart *
around (NappePart *part, GType type)
{
  while (part != NULL && !G_TYPE_CHECK_INSTANCE_TYPE (part, type))
    part = nappe_part_get_owner (part);
  return part;
}

/* Id of the box that is picked, or of a picked drain; else of the first; "": there is none. */
static const char *
box_at (NappeBuild *build, NappePart *at)
{
  NappePart *drain = around (at, NAPPE_TYPE_DRAIN), *box = around (at, NAPPE_TYPE_OVERFLOW);
  const char *id = box != NULL ? nappe_part_get_id (box) : drain != NULL ? NAPPE_DRAIN (drain)->overflow : "";

  return *id == '\0' && build->overflows->len > 0 ? nappe_part_get_id (build->overflows->pdata[0]) : id;
}

static NappePart *
set_drains (NappeAddEntry *self, NappeBuild *build, NappeCatalogue *catalogue, NappePart *at, GError **error)
{
  const char *box = box_at (build, at);

  return nappe_assembly_set_drains (build, catalogue, box, (guint) self->role, error) ? nappe_build_find (build, box) : NULL;
}

static NappePart *
add_drain (NappeAddEntry *self, NappeBuild *build, NappeCatalogue *catalogue, NappePart *at, GError **error)
{
  const char *into = at != NULL && NAPPE_IS_CHAMBER (at) ? nappe_part_get_id (at) : NULL;

  return (NappePart *) nappe_assembly_add_drain (build, catalogue, box_at (build, at), (NappeDrainRole) self->role,
                                                 NULL, into, error);
}

/* The chamber that is picked, or left of the picked wall; else the longest. */
static NappePart *
chamber_at (NappeBuild *build, NappePart *at)
{
  const NappeSump *sump = NAPPE_BUILD_SUMP (build);
  NappePart *longest = NULL;
  guint index;

  if (at != NULL && NAPPE_IS_CHAMBER (at))
    return at;
  if (at != NULL && NAPPE_IS_BAFFLE (at) && g_ptr_array_find (sump->baffles, at, &index) && index < sump->chambers->len)
    return sump->chambers->pdata[index];
  for (guint i = 0; i < sump->chambers->len; i++)
    if (longest == NULL || NAPPE_CHAMBER (sump->chambers->pdata[i])->length > NAPPE_CHAMBER (longest)->length)
      longest = sump->chambers->pdata[i];
  return longest;
}

static NappePart *
add_chamber (NappeAddEntry *self, NappeBuild *build, NappeCatalogue *catalogue, NappePart *at, GError **error)
{
  NappePart *beside = chamber_at (build, at);

  if (beside == NULL)
    beside = build->sump;
  return (NappePart *) nappe_assembly_add_chamber (build, catalogue, beside, TRUE, (NappeChamberRole) self->role, error);
}

static NappePart *
add_vessel (NappeAddEntry *self, NappeBuild *build, NappeCatalogue *catalogue, NappePart *at, GError **error)
{
  return (NappePart *) nappe_assembly_add_side_vessel (build, catalogue, error);
}

static NappePart *
add_branch (NappeAddEntry *self, NappeBuild *build, NappeCatalogue *catalogue, NappePart *at, GError **error)
{
  NappePart *line = around (at, NAPPE_TYPE_RETURN_LINE);

  if (line == NULL && build->returns->len > 0)
    line = build->returns->pdata[0];
  if (line == NULL)
    {
      g_set_error_literal (error, NAPPE_ASSEMBLY_ERROR, NAPPE_ASSEMBLY_ERROR_UNFIT, _("Add a pump with its return line first"));
      return NULL;
    }
  return (NappePart *) nappe_assembly_add_branch (build, catalogue, NAPPE_RETURN_LINE (line), error);
}

static NappePart *
add_equipment (NappeAddEntry *self, NappeBuild *build, NappeCatalogue *catalogue, NappePart *at, GError **error)
{
  NappePart *where = at != NULL && NAPPE_IS_EQUIPMENT (at) ? nappe_build_find (build, NAPPE_EQUIPMENT (at)->where) : at;

  if (where != NULL && !NAPPE_IS_CHAMBER (where) && !NAPPE_IS_TANK (where) && !NAPPE_IS_SIDE_VESSEL (where))
    where = NULL;
  return (NappePart *) nappe_assembly_add_equipment (build, catalogue, self->item, where, error);
}

/* In the place of the picked pump, else with a line of its own. */
static NappePart *
add_pump (NappeAddEntry *self, NappeBuild *build, NappeCatalogue *catalogue, NappePart *at, GError **error)
{
  if (at != NULL && NAPPE_IS_PUMP (at))
    return nappe_assembly_replace_pump (build, catalogue, NAPPE_PUMP (at), self->item, error) ? at : NULL;
  return (NappePart *) nappe_assembly_add_return (build, catalogue, self->item, error);
}

static NappePart *
add_piece (NappeAddEntry *self, NappeBuild *build, NappeCatalogue *catalogue, NappePart *at, GError **error)
{
  return (NappePart *) nappe_assembly_add_piece (build, catalogue, at != NULL ? at : NAPPE_PART (build), self->item, error);
}

NappePart *
nappe_add_entry_add (NappeAddEntry *self, NappeBuild *build, NappeCatalogue *catalogue, NappePart *at, GError **error)
{
  return self->add (self, build, catalogue, at, error);
}

/* ---- the list ---- */

static NappeAddEntry *
new_entry (GPtrArray *entries, NappeAddGroup group, const char *title, const char *detail, const char *source)
{
  NappeAddEntry *self = g_object_new (NAPPE_TYPE_ADD_ENTRY, NULL);
  g_autofree char *both = g_strjoin ("\n", title, detail, source, NULL);

  self->group = group;
  self->title = g_strdup (title);
  self->detail = g_strdup (detail);
  self->source = g_strdup (source);
  self->searched = g_utf8_casefold (both, -1);
  g_ptr_array_add (entries, self);
  return self;
}

static void
add_drains (GPtrArray *entries)
{
  const struct
  {
    NappeDrainRole role;
    const char *title;
  } drains[] = {
    { NAPPE_DRAIN_SIPHON, _("Siphon") },
    { NAPPE_DRAIN_OPEN_CHANNEL, _("Open channel") },
    { NAPPE_DRAIN_EMERGENCY, _("Emergency drain") },
    { NAPPE_DRAIN_STANDPIPE, _("Vented standpipe") },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (drains); i++)
    {
      NappeAddEntry *entry = new_entry (entries, NAPPE_ADD_DRAIN, drains[i].title,
                                        _("A drain in the picked overflow box, with its pipe down to the sump"), "");
      entry->role = (int) drains[i].role;
      entry->add = add_drain;
    }
  new_entry (entries, NAPPE_ADD_DRAIN, _("Return nozzle"), _("A tee in the picked return line, with another outlet"), "")
      ->add = add_branch;
}

static void
add_drain_sets (GPtrArray *entries)
{
  const guint siphon = NAPPE_DRAIN_ROLE_BIT (NAPPE_DRAIN_SIPHON), channel = NAPPE_DRAIN_ROLE_BIT (NAPPE_DRAIN_OPEN_CHANNEL),
              emergency = NAPPE_DRAIN_ROLE_BIT (NAPPE_DRAIN_EMERGENCY), standpipe = NAPPE_DRAIN_ROLE_BIT (NAPPE_DRAIN_STANDPIPE);
  const struct
  {
    guint roles;
    const char *title;
  } sets[] = {
    { siphon | channel | emergency, _("Siphon, open channel and emergency") },
    { siphon | emergency, _("Siphon and emergency") },
    { standpipe | emergency, _("Vented standpipe and emergency") },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (sets); i++)
    {
      NappeAddEntry *entry = new_entry (entries, NAPPE_ADD_DRAIN, sets[i].title,
                                        _("The drains of the picked overflow box: others go, what is missing comes"), "");
      entry->role = (int) sets[i].roles;
      entry->add = set_drains;
    }
}

static void
add_vessels (GPtrArray *entries)
{
  const struct
  {
    NappeChamberRole role;
    const char *title;
  } chambers[] = {
    { NAPPE_CHAMBER_SKIMMER, _("Skimmer chamber") },   { NAPPE_CHAMBER_SOCK, _("Sock chamber") },
    { NAPPE_CHAMBER_REFUGIUM, _("Refugium") },         { NAPPE_CHAMBER_REACTOR, _("Reactor chamber") },
    { NAPPE_CHAMBER_BUBBLE_TRAP, _("Bubble trap") },   { NAPPE_CHAMBER_DRAIN, _("Drain chamber") },
    { NAPPE_CHAMBER_RESERVOIR, _("Top-off reservoir") },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (chambers); i++)
    {
      NappeAddEntry *entry = new_entry (entries, NAPPE_ADD_VESSEL, chambers[i].title,
                                        _("A chamber with its wall, in half of the picked chamber"), "");
      entry->role = (int) chambers[i].role;
      entry->add = add_chamber;
    }
  new_entry (entries, NAPPE_ADD_VESSEL, _("Side refugium"),
             _("On the back of the tank, with a feed pump; when its one spout is blocked, water runs on the floor"), "")
      ->add = add_vessel;
}

/* Appends " · bore 35 mm" where there is such a size. */
static void
append_size (GString *text, const char *word, NappeQuantity quantity, double value, NappeUnitSystem units)
{
  g_autofree char *size = nappe_quantity_format (quantity, value, units, 0);

  if (value > 0)
    g_string_append_printf (text, "%s%s %s", text->len > 0 ? " · " : "", word, size);
}

static char *
detail_of (const NappeItem *item, NappeUnitSystem units)
{
  GString *text = g_string_new (nappe_item_family_word (item));
  gboolean line = item->kind != NAPPE_ITEM_PUMP && item->kind != NAPPE_ITEM_EQUIPMENT;

  if (line)
    {
      /* Translators: a size follows: “bore 35 mm”. */
      append_size (text, _("bore"), NAPPE_QUANTITY_LENGTH, item->bore, units);
      append_size (text, _("outside"), NAPPE_QUANTITY_LENGTH, item->outside_diameter, units);
    }
  append_size (text, _("length"), NAPPE_QUANTITY_LENGTH, line ? item->length : item->length_overall, units);
  append_size (text, _("width"), NAPPE_QUANTITY_LENGTH, item->width, units);
  append_size (text, _("height"), NAPPE_QUANTITY_LENGTH, item->height, units);
  /* Translators: the height follows to which a pump lifts water. */
  append_size (text, _("lifts"), NAPPE_QUANTITY_HEAD, item->n_curve > 0 ? item->curve_head[0] : 0, units);
  append_size (text, _("power"), NAPPE_QUANTITY_POWER, item->power, units);
  return g_string_free (text, FALSE);
}

static void
add_item (GPtrArray *entries, const NappeItem *item, NappeUnitSystem units)
{
  static const NappeAddGroup groups[NAPPE_ITEM_KIND_COUNT] = {
    [NAPPE_ITEM_PIPE] = NAPPE_ADD_PIPE,         [NAPPE_ITEM_HOSE] = NAPPE_ADD_PIPE,   [NAPPE_ITEM_FITTING] = NAPPE_ADD_FITTING,
    [NAPPE_ITEM_VALVE] = NAPPE_ADD_VALVE,       [NAPPE_ITEM_BULKHEAD] = NAPPE_ADD_BULKHEAD,
    [NAPPE_ITEM_PUMP] = NAPPE_ADD_PUMP,         [NAPPE_ITEM_EQUIPMENT] = NAPPE_ADD_EQUIPMENT,
  };
  g_autofree char *title = nappe_item_label (item, units), *detail = detail_of (item, units);
  NappeAddEntry *entry = new_entry (entries, groups[item->kind], title, detail, item->source);

  entry->item = g_strdup (item->id);
  entry->add = item->kind == NAPPE_ITEM_EQUIPMENT ? add_equipment : item->kind == NAPPE_ITEM_PUMP ? add_pump : add_piece;
}

GPtrArray *
nappe_add_entries (NappeCatalogue *catalogue, NappeUnitSystem units)
{
  GPtrArray *entries = g_ptr_array_new_with_free_func (g_object_unref);
  const NappeItemKind order[] = { NAPPE_ITEM_EQUIPMENT, NAPPE_ITEM_PUMP,    NAPPE_ITEM_PIPE,    NAPPE_ITEM_HOSE,
                                  NAPPE_ITEM_FITTING,   NAPPE_ITEM_VALVE,   NAPPE_ITEM_BULKHEAD };

  add_drains (entries);
  add_drain_sets (entries);
  add_vessels (entries);
  for (gsize k = 0; k < G_N_ELEMENTS (order); k++)
    {
      g_autoptr (GPtrArray) items = nappe_catalogue_of_kind (catalogue, order[k]);
      for (guint i = 0; i < items->len; i++)
        add_item (entries, items->pdata[i], units);
    }
  return entries;
}

const char *
nappe_add_entry_get_title (NappeAddEntry *self)
{
  return self->title;
}

const char *
nappe_add_entry_get_detail (NappeAddEntry *self)
{
  return self->detail;
}

void
nappe_add_entry_tell (NappeAddEntry *self, const char *text)
{
  char *detail = g_strjoin (" · ", text, self->detail, NULL);

  g_free (self->detail);
  self->detail = detail;
}

const char *
nappe_add_entry_get_item (NappeAddEntry *self)
{
  return self->item;
}

const char *
nappe_add_entry_get_source (NappeAddEntry *self)
{
  return self->source;
}

NappeAddGroup
nappe_add_entry_get_group (NappeAddEntry *self)
{
  return self->group;
}

gboolean
nappe_add_entry_matches (NappeAddEntry *self, const char *const *words)
{
  for (; *words != NULL; words++)
    if (strstr (self->searched, *words) == NULL)
      return FALSE;
  return TRUE;
}
