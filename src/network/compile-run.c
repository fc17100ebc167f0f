/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A run of pieces as stretches. Losses of fittings are reckoned on the bore of the pipe they stand in;
 * every change of bore between two pipes adds a sudden contraction or expansion. What has one bore goes into one
 * stretch, since losses only add up; what each piece adds is kept beside it. Only the entrance of a drain and a line's
 * first valve have stretches of their own, since scenarios change them. */
#include "network/compile-private.h"

#include "physics/bend.h"
#include "physics/fitting.h"
#include "physics/growth.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* Loss of a joint with nothing in it, so that no run is without any [-]. */
#define BARE_JOINT_K 0.01
/* A change of bore below this share is the same pipe by another table. */
#define SAME_BORE 0.005
/* Radius of a hose's bend over its outside diameter where none is given: common practice, near the least that
 * hose without a spiral takes before it kinks. */
#define USUAL_BEND 4.0

static double
growth_of (NappePart *line)
{
  return NAPPE_IS_DRAIN (line) ? NAPPE_DRAIN (line)->growth : NAPPE_IS_RETURN_LINE (line) ? NAPPE_RETURN_LINE (line)->growth : 0;
}

double
nappe_line_bore (NappePart *line, double bore)
{
  return nappe_growth_bore (bore, growth_of (line));
}

static gboolean
same_bore (double one, double other)
{
  return fabs (one - other) < SAME_BORE * other;
}

void
nappe_run_begin (NappeRunBuilder *self, NappeCompiler *compiler, NappePart *line, double bore)
{
  *self = (NappeRunBuilder){ .compiler = compiler, .line = line, .bore = bore };
  self->first_stretch = compiler->stretches->len;
  self->first_loss = compiler->losses->len;
  self->first_content = compiler->contents->len;
  self->first_level_piece = compiler->level_pieces->len;
  self->valve.turns = NAN;
}

/* Stretches that hold nothing but what scenarios change. */
static gboolean
stands_alone (const NappeRunBuilder *self, guint stretch)
{
  return (self->has_entrance && stretch == self->first_stretch)
         || (*self->valve.piece != '\0' && stretch == self->valve.stretch);
}

/* The stretch that takes a loss: one of this bore. Pipe of another roughness needs one of its own. */
static guint
find_stretch (NappeRunBuilder *self, const NappeLoss *loss, double bore, double roughness)
{
  GArray *pool = self->compiler->stretches;

  for (guint i = self->first_stretch; i < pool->len; i++)
    {
      const NappeStretch *stretch = &g_array_index (pool, NappeStretch, i);
      gboolean fits = loss->length <= 0 || stretch->length <= 0 || stretch->roughness == roughness;

      if (fits && !stands_alone (self, i) && same_bore (bore, stretch->bore))
        return i;
    }
  return pool->len;
}

static void
add_to_stretch (NappeRunBuilder *self, const NappeLoss *loss, double bore, double roughness)
{
  GArray *pool = self->compiler->stretches;

  if (loss->stretch == pool->len)
    {
      NappeStretch fresh = { .bore = bore };
      g_array_append_val (pool, fresh);
    }
  NappeStretch *stretch = &g_array_index (pool, NappeStretch, loss->stretch);
  if (loss->length > 0)
    stretch->roughness = roughness;
  stretch->length += loss->length;
  stretch->k += loss->k;
  stretch->k1 += loss->k1;
  g_array_append_val (self->compiler->losses, *loss);
}

static NappeLoss
loss_of (NappeLossKind kind, NappePiece *piece)
{
  NappeLoss loss = { .kind = kind };

  if (piece != NULL)
    g_strlcpy (loss.piece, nappe_part_get_id (NAPPE_PART (piece)), sizeof loss.piece);
  return loss;
}

static void
add_loss (NappeRunBuilder *self, NappeLoss loss, double bore, double roughness)
{
  loss.stretch = find_stretch (self, &loss, bore, roughness);
  add_to_stretch (self, &loss, bore, roughness);
}

void
nappe_run_add_entrance (NappeRunBuilder *self, double k)
{
  NappeLoss loss = loss_of (NAPPE_LOSS_ENTRANCE, NULL);

  g_return_if_fail (self->compiler->stretches->len == self->first_stretch);
  loss.k = k;
  self->has_entrance = TRUE;
  loss.stretch = self->first_stretch;
  add_to_stretch (self, &loss, self->bore, 0);
}

void
nappe_run_change_bore (NappeRunBuilder *self, NappePiece *piece, double bore)
{
  NappeLoss loss = loss_of (NAPPE_LOSS_BORE, piece);
  double from = self->bore;

  self->bore = bore;
  if (from <= 0 || same_bore (from, bore))
    return;
  loss.k = bore < from ? nappe_k_contraction (from, bore) : nappe_k_expansion (bore, from);
  add_loss (self, loss, fmin (bore, from), 0);
}

/* Keeps a drain's sideways pipe for how full it runs. */
static void
note_level_piece (NappeRunBuilder *self, const NappeLeg *leg)
{
  NappeLevelPiece level = { .bore = self->bore, .fall = (leg->from.z - leg->to.z) / leg->piece->length };

  if (!NAPPE_IS_DRAIN (self->line) || leg->piece->toward == NAPPE_TOWARD_DOWN || leg->piece->toward == NAPPE_TOWARD_UP)
    return;
  g_strlcpy (level.piece, nappe_part_get_id (NAPPE_PART (leg->piece)), sizeof level.piece);
  g_array_append_val (self->compiler->level_pieces, level);
}

/* Angle between the directions of two pieces [rad]: square, or straight back. */
static double
turn_between (int one, int other)
{
  /* Opposites stand in pairs in NappeToward. */
  return one == other ? 0 : one / 2 == other / 2 ? G_PI : G_PI_2;
}

/* The arc in which a hose turns into the next one. Its own length is in those of the two hoses. */
static void
add_hose_bend (NappeRunBuilder *self, const NappeLeg *next)
{
  const NappeLeg *hose = self->hose;
  double angle = hose != NULL ? turn_between (hose->piece->toward, next->piece->toward) : 0;

  if (angle <= 0)
    return;
  double radius = nappe_is_given (hose->piece->bend_radius) ? hose->piece->bend_radius : USUAL_BEND * hose->outside;
  NappeBend bend = nappe_bend (angle, radius / self->bore);
  NappeLoss loss = loss_of (NAPPE_LOSS_BEND, hose->piece);
  loss.k = bend.k;
  loss.length = bend.diameters * self->bore;
  add_loss (self, loss, self->bore, nappe_growth_roughness (hose->item->bore, hose->item->roughness, growth_of (self->line)));
}

static void
add_pipe (NappeRunBuilder *self, const NappeLeg *leg)
{
  NappeLoss loss = loss_of (NAPPE_LOSS_PIPE, leg->piece);
  double growth = growth_of (self->line);

  if (leg->item->kind == NAPPE_ITEM_HOSE)
    add_hose_bend (self, leg);
  nappe_run_change_bore (self, leg->piece, nappe_growth_bore (leg->item->bore, growth));
  loss.length = leg->piece->length;
  if (loss.length <= 0)
    return;
  add_loss (self, loss, self->bore, nappe_growth_roughness (leg->item->bore, leg->item->roughness, growth));
  /* A level pipe fills over the height of its bore. */
  double middle = 0.5 * (leg->from.z + leg->to.z), half = 0.5 * fmax (fabs (leg->from.z - leg->to.z), self->bore);
  NappeContent content = { middle - half, middle + half, G_PI_4 * self->bore * self->bore * loss.length };
  g_array_append_val (self->compiler->contents, content);
  note_level_piece (self, leg);
}

/* The first valve that can be turned gets a stretch of its own. */
static void
note_valve (NappeRunBuilder *self, const NappeLeg *leg, double k)
{
  const NappeItem *item = leg->item;

  g_strlcpy (self->valve.piece, nappe_part_get_id (NAPPE_PART (leg->piece)), sizeof self->valve.piece);
  g_strlcpy (self->valve.kind, item->valve_kind, sizeof self->valve.kind);
  self->valve.opening = leg->piece->opening;
  self->valve.turns = item->turns > 0 ? item->turns : NAN;
  self->valve.bore = self->bore;
  self->valve.k = k;
  self->valve.stretch = self->compiler->stretches->len;
  self->valve.points = item->points;
  self->valve.n_points = item->n_points;
}

static void
add_valve (NappeRunBuilder *self, const NappeLeg *leg)
{
  const NappeItem *item = leg->item;
  NappeLoss loss = loss_of (NAPPE_LOSS_VALVE, leg->piece);
  gboolean first = item->n_points > 0 && *self->valve.piece == '\0';

  loss.k = item->n_points > 0 ? nappe_valve_k (item->points, item->n_points, leg->piece->opening)
                              : nappe_k_darby_fixed (item->ki, item->kd, item->nominal_inches);
  loss.k1 = item->k1;
  if (g_strcmp0 (item->valve_kind, "check") == 0 && !self->has_check)
    {
      self->has_check = TRUE;
      self->n_before_check = self->compiler->contents->len - self->first_content;
    }
  self->shut |= !isfinite (loss.k);
  if (!first)
    {
      add_loss (self, loss, self->bore, 0);
      return;
    }
  note_valve (self, leg, loss.k);
  loss.stretch = self->valve.stretch;
  add_to_stretch (self, &loss, self->bore, 0);
}

static void
add_fitting (NappeRunBuilder *self, const NappeLeg *leg)
{
  const NappeItem *item = leg->item;
  NappeLoss loss = loss_of (NAPPE_LOSS_FITTING, leg->piece);
  double count = MAX (leg->piece->count, 1);

  if (g_strcmp0 (item->shape, "reducer") == 0)
    return; /* the change of bore of the pipes on both sides is its loss */
  /* A barb is narrower than the hose on it; its coefficient belongs to its own bore. */
  gboolean own_bore = g_strcmp0 (item->shape, "barb") == 0 && item->bore > 0;
  loss.k = count * nappe_k_darby_fixed (item->ki, item->kd, item->nominal_inches);
  loss.k1 = count * item->k1;
  add_loss (self, loss, own_bore ? nappe_line_bore (self->line, item->bore) : self->bore, 0);
}

static void
add_leg (NappeRunBuilder *self, const NappeLeg *leg)
{
  if (leg->item == NULL)
    {
      self->hose = NULL;
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
  self->hose = leg->item->kind == NAPPE_ITEM_HOSE ? leg : NULL;
}

void
nappe_run_add_legs (NappeRunBuilder *self, const NappeRoute *route, guint first, guint end)
{
  if (self->bore <= 0 && first < route->n_legs)
    self->bore = nappe_line_bore (self->line, route->legs[first].bore);
  for (guint i = first; i < end && i < route->n_legs; i++)
    add_leg (self, &route->legs[i]);
}

void
nappe_run_add_tee_branch (NappeRunBuilder *self, const NappeLeg *tee)
{
  NappeLoss loss = loss_of (NAPPE_LOSS_BRANCH, tee->piece);

  if (tee->item == NULL)
    return;
  loss.k = nappe_k_darby_fixed (tee->item->branch_ki, tee->item->branch_kd, tee->item->nominal_inches);
  loss.k1 = tee->item->branch_k1;
  add_loss (self, loss, self->bore, 0);
}

void
nappe_run_end (NappeRunBuilder *self, NappeLink *link, gboolean with_exit)
{
  NappeLoss loss = loss_of (NAPPE_LOSS_EXIT, NULL);

  if (self->bore <= 0)
    self->bore = nappe_line_bore (self->line, NAPPE_UNKNOWN_BORE);
  loss.k = with_exit ? nappe_k_exit () : BARE_JOINT_K;
  add_loss (self, loss, self->bore, 0);
  link->first_stretch = self->first_stretch;
  link->n_stretches = self->compiler->stretches->len - self->first_stretch;
  link->first_loss = self->first_loss;
  link->n_losses = self->compiler->losses->len - self->first_loss;
  link->first_content = self->first_content;
  link->n_contents = self->compiler->contents->len - self->first_content;
  for (guint i = self->first_level_piece; i < self->compiler->level_pieces->len; i++)
    g_array_index (self->compiler->level_pieces, NappeLevelPiece, i).link
        = (guint) (link - (NappeLink *) (void *) self->compiler->links->data);
  link->valve = self->valve;
  link->shut = self->shut;
  link->one_way = self->has_check;
  link->n_before_check = self->n_before_check;
}
