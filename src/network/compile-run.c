/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A run of pieces as stretches. Losses of fittings are reckoned on the bore of the pipe they stand in;
 * every change of bore between two pipes adds a sudden contraction or expansion. Stretches of one bore
 * are merged, since their losses only add up. */
#include "network/compile-private.h"

#include "physics/fitting.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* Loss of a joint with nothing in it, so that no run is without any [-]. */
#define BARE_JOINT_K 0.01
/* A change of bore below this share is the same pipe by another table. */
#define SAME_BORE 0.005

void
nappe_run_begin (NappeRunBuilder *self, NappeCompiler *compiler, NappePart *line, double bore)
{
  *self = (NappeRunBuilder){ .compiler = compiler, .line = line, .bore = bore };
  self->first_stretch = compiler->stretches->len;
  self->first_content = compiler->contents->len;
  self->first_level_piece = compiler->level_pieces->len;
}

guint
nappe_run_add_loss (NappeRunBuilder *self, double bore, double k, double k1)
{
  NappeStretch stretch = { .bore = bore, .k = k, .k1 = k1 };

  g_array_append_val (self->compiler->stretches, stretch);
  return self->compiler->stretches->len - 1;
}

/* The stretch that holds pipe of this bore and roughness, made when there is none yet. The first stretch of a drain and
 * a valve's are left alone, since scenarios change them. */
static NappeStretch *
pipe_stretch (NappeRunBuilder *self, double bore, double roughness)
{
  GArray *pool = self->compiler->stretches;

  for (guint i = self->first_stretch; i < pool->len; i++)
    {
      NappeStretch *stretch = &g_array_index (pool, NappeStretch, i);

      if (stretch->length > 0 && fabs (stretch->bore - bore) < SAME_BORE * bore && stretch->roughness == roughness)
        return stretch;
    }
  NappeStretch stretch = { .bore = bore, .roughness = roughness };
  g_array_append_val (pool, stretch);
  return &g_array_index (pool, NappeStretch, pool->len - 1);
}

static void
change_bore (NappeRunBuilder *self, double bore)
{
  double from = self->bore;

  self->bore = bore;
  if (from <= 0 || fabs (from - bore) < SAME_BORE * bore)
    return;
  if (bore < from)
    nappe_run_add_loss (self, bore, nappe_k_contraction (from, bore), 0);
  else
    nappe_run_add_loss (self, from, nappe_k_expansion (bore, from), 0);
}

/* Keeps a drain's sideways pipe for how full it runs. */
static void
note_level_piece (NappeRunBuilder *self, const NappeLeg *leg)
{
  NappeLevelPiece level = { .bore = leg->item->bore, .fall = (leg->from.z - leg->to.z) / leg->piece->length };

  if (!NAPPE_IS_DRAIN (self->line) || leg->piece->toward == NAPPE_TOWARD_DOWN || leg->piece->toward == NAPPE_TOWARD_UP)
    return;
  g_strlcpy (level.piece, nappe_part_get_id (NAPPE_PART (leg->piece)), sizeof level.piece);
  g_array_append_val (self->compiler->level_pieces, level);
}

static void
add_pipe (NappeRunBuilder *self, const NappeLeg *leg)
{
  double length = leg->piece->length;

  change_bore (self, leg->item->bore);
  if (length <= 0)
    return;
  pipe_stretch (self, leg->item->bore, leg->item->roughness)->length += length;
  /* A level pipe fills over the height of its bore. */
  double middle = 0.5 * (leg->from.z + leg->to.z), half = 0.5 * fmax (fabs (leg->from.z - leg->to.z), leg->item->bore);
  NappeContent content = { middle - half, middle + half, 0.25 * G_PI * leg->item->bore * leg->item->bore * length };
  g_array_append_val (self->compiler->contents, content);
  note_level_piece (self, leg);
}

static void
add_valve (NappeRunBuilder *self, const NappeLeg *leg)
{
  const NappeItem *item = leg->item;
  double fixed = nappe_k_darby_fixed (item->ki, item->kd, item->nominal_inches);
  double opening = leg->piece->opening;
  double k = item->n_points > 0 ? nappe_valve_k (item->points, item->n_points, opening) : fixed;
  guint stretch = nappe_run_add_loss (self, self->bore, k, item->k1);

  self->has_check |= g_strcmp0 (item->valve_kind, "check") == 0;
  self->shut |= !isfinite (k);
  if (item->n_points == 0 || *self->valve.piece != '\0')
    return;
  g_strlcpy (self->valve.piece, nappe_part_get_id (NAPPE_PART (leg->piece)), sizeof self->valve.piece);
  g_strlcpy (self->valve.kind, item->valve_kind, sizeof self->valve.kind);
  self->valve.opening = opening;
  self->valve.bore = self->bore;
  self->valve.k = k;
  self->valve.stretch = stretch;
  self->valve.points = item->points;
  self->valve.n_points = item->n_points;
}

static void
add_fitting (NappeRunBuilder *self, const NappeLeg *leg)
{
  const NappeItem *item = leg->item;
  double count = MAX (leg->piece->count, 1);

  if (g_strcmp0 (item->shape, "reducer") == 0)
    return; /* the change of bore of the pipes on both sides is its loss */
  /* A barb is narrower than the hose on it; its coefficient belongs to its own bore. */
  double bore = g_strcmp0 (item->shape, "barb") == 0 && item->bore > 0 ? item->bore : self->bore;
  nappe_run_add_loss (self, bore, count * nappe_k_darby_fixed (item->ki, item->kd, item->nominal_inches),
                      count * item->k1);
}

static void
add_leg (NappeRunBuilder *self, const NappeLeg *leg)
{
  if (leg->item == NULL)
    {
      nappe_compiler_problem (self->compiler, self->line,
                              /* Translators: %s is the catalogue id of a pipe or fitting. */
                              _ ("The catalogue has no part “%s”; the run is reckoned without it."), leg->piece->item);
      return;
    }
  switch (leg->item->kind)
    {
    case NAPPE_ITEM_PIPE:
    case NAPPE_ITEM_HOSE:
      add_pipe (self, leg);
      break;
    case NAPPE_ITEM_VALVE:
      add_valve (self, leg);
      break;
    case NAPPE_ITEM_FITTING:
    case NAPPE_ITEM_BULKHEAD:
      add_fitting (self, leg);
      break;
    default:
      nappe_compiler_problem (self->compiler, self->line,
                              /* Translators: %s is the catalogue id of a pump or other equipment. */
                              _ ("“%s” is no pipe, fitting or valve; the run is reckoned without it."),
                              leg->piece->item);
    }
}

void
nappe_run_add_legs (NappeRunBuilder *self, const NappeRoute *route, guint first, guint end)
{
  if (self->bore <= 0 && first < route->n_legs)
    self->bore = route->legs[first].bore;
  for (guint i = first; i < end && i < route->n_legs; i++)
    add_leg (self, &route->legs[i]);
}

void
nappe_run_add_tee_branch (NappeRunBuilder *self, const NappeLeg *tee)
{
  self->bore = tee->bore;
  if (tee->item != NULL)
    nappe_run_add_loss (self, tee->bore,
                        nappe_k_darby_fixed (tee->item->branch_ki, tee->item->branch_kd, tee->item->nominal_inches),
                        tee->item->branch_k1);
}

/* Lone losses of one bore, other than the first stretch of a drain and the valve's, move into the pipe of that bore. */
static void
merge (NappeRunBuilder *self, guint keep)
{
  GArray *pool = self->compiler->stretches;

  for (guint i = pool->len; i-- > self->first_stretch;)
    {
      NappeStretch *lone = &g_array_index (pool, NappeStretch, i);
      gboolean is_valve = *self->valve.piece != '\0' && i == self->valve.stretch;

      if (lone->length > 0 || i == keep || is_valve || !isfinite (lone->k))
        continue;
      for (guint j = self->first_stretch; j < pool->len; j++)
        {
          NappeStretch *pipe = &g_array_index (pool, NappeStretch, j);

          if (pipe->length <= 0 || fabs (pipe->bore - lone->bore) >= SAME_BORE * pipe->bore)
            continue;
          pipe->k += lone->k;
          pipe->k1 += lone->k1;
          g_array_remove_index (pool, i);
          if (self->valve.stretch > i)
            self->valve.stretch--;
          break;
        }
    }
}

void
nappe_run_end (NappeRunBuilder *self, NappeLink *link, gboolean with_exit)
{
  if (self->bore <= 0)
    self->bore = NAPPE_UNKNOWN_BORE;
  if (with_exit)
    nappe_run_add_loss (self, self->bore, nappe_k_exit (), 0);
  else
    nappe_run_add_loss (self, self->bore, BARE_JOINT_K, 0);
  merge (self, link->kind == NAPPE_LINK_DRAIN ? self->first_stretch : G_MAXUINT);
  link->first_stretch = self->first_stretch;
  link->n_stretches = self->compiler->stretches->len - self->first_stretch;
  link->first_content = self->first_content;
  link->n_contents = self->compiler->contents->len - self->first_content;
  for (guint i = self->first_level_piece; i < self->compiler->level_pieces->len; i++)
    g_array_index (self->compiler->level_pieces, NappeLevelPiece, i).link
        = (guint) (link - (NappeLink *) (void *) self->compiler->links->data);
  link->valve = self->valve;
  link->shut = self->shut;
  link->one_way = self->has_check;
}
