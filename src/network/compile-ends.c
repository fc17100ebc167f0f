/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Where lines end and meet: outlets in vessels, and lines that join another at one of its tees. */
#include "network/compile-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

const NappeOutletLayout *
nappe_line_outlet_at (const NappeLineLayout *line, gint leg)
{
  for (guint i = 0; i < line->n_outlets; i++)
    if (line->outlets[i].tee_leg == leg)
      return &line->outlets[i];
  return NULL;
}

/* The leg of a line's trunk that is the piece with an id, or -1. */
static gint
trunk_leg (const NappeLineLayout *line, const char *piece)
{
  for (guint i = 0; i < line->trunk.n_legs; i++)
    if (g_str_equal (nappe_part_get_id (NAPPE_PART (line->trunk.legs[i].piece)), piece))
      return (gint) i;
  return -1;
}

static gboolean
is_tee (const NappeLeg *leg)
{
  return leg->item != NULL && leg->item->kind == NAPPE_ITEM_FITTING && g_strcmp0 (leg->item->shape, "tee") == 0;
}

/* The tee in the trunk of another return line at which an outlet joins that line, or NULL. */
static const NappeLeg *
joined_tee (NappeCompiler *self, const NappeLineLayout *line, const NappeOutletLayout *outlet)
{
  for (guint i = 0; i < self->layout->n_returns && NAPPE_IS_RETURN_LINE (line->part); i++)
    {
      const NappeLineLayout *other = &self->layout->returns[i];
      gint leg = other == line ? -1 : trunk_leg (other, outlet->part->into);

      if (leg >= 0 && is_tee (&other->trunk.legs[leg]))
        return &other->trunk.legs[leg];
    }
  return NULL;
}

/* Whether another line joins this one at a leg of its trunk. */
static gboolean
is_joined (NappeCompiler *self, const NappeLineLayout *line, guint leg)
{
  const char *id = nappe_part_get_id (NAPPE_PART (line->trunk.legs[leg].piece));

  if (!NAPPE_IS_RETURN_LINE (line->part) || !is_tee (&line->trunk.legs[leg]))
    return FALSE;
  for (guint i = 0; i < self->layout->n_returns; i++)
    {
      const NappeLineLayout *other = &self->layout->returns[i];

      for (guint outlet = 0; outlet < other->n_outlets && other != line; outlet++)
        if (g_str_equal (other->outlets[outlet].part->into, id))
          return TRUE;
    }
  return FALSE;
}

gboolean
nappe_line_branches_at (NappeCompiler *self, const NappeLineLayout *line, guint leg)
{
  return nappe_line_outlet_at (line, (gint) leg) != NULL || is_joined (self, line, leg);
}

/* The junction at a tee. One where another line joins bears the tee's id, by which the two lines find it whichever is
 * compiled first. */
static guint
junction (NappeCompiler *self, const NappeLeg *tee, gboolean joined)
{
  NappePart *piece = joined ? NAPPE_PART (tee->piece) : NULL;
  gint node = joined ? nappe_compiler_vessel (self, nappe_part_get_id (piece)) : -1;

  return node >= 0 ? (guint) node : nappe_compiler_add_node (self, piece, NAPPE_NODE_JUNCTION);
}

guint
nappe_line_junction_at (NappeCompiler *self, const NappeLineLayout *line, guint leg)
{
  return junction (self, &line->trunk.legs[leg], is_joined (self, line, leg));
}

NappeLineEnd
nappe_line_end (NappeCompiler *self, const NappeLineLayout *line, const NappeOutletLayout *outlet)
{
  const char *into = outlet->part->into;
  const NappeLeg *tee = joined_tee (self, line, outlet);

  if (tee != NULL)
    return (NappeLineEnd){ (gint) junction (self, tee, TRUE), tee };
  NappePart *part = nappe_build_find (self->build, into);
  gint node = part != NULL && NAPPE_IS_PIECE (part) ? -1 : nappe_compiler_vessel (self, into);
  if (node >= 0)
    return (NappeLineEnd){ node, NULL };
  if (part != NULL && NAPPE_IS_PIECE (part) && trunk_leg (line, into) >= 0)
    nappe_compiler_problem (self, line->part,
                            /* Translators: %s is the id of a tee. */
                            _ ("An outlet of this line joins the line itself at “%s”; that is a circle, which is not reckoned."),
                            into);
  else if (part != NULL && NAPPE_IS_PIECE (part))
    nappe_compiler_problem (self, line->part,
                            /* Translators: a pipe's end names a piece of pipe that it cannot join; %s is its id. */
                            _ ("An outlet of this line ends at “%s”, which is no tee in the run of another return line."),
                            into);
  else
    nappe_compiler_problem (self, line->part,
                            /* Translators: a pipe's end names no vessel; %s is the id that it names. */
                            _ ("An outlet of this line ends nowhere: there is no vessel “%s”."), into);
  return (NappeLineEnd){ -1, NULL };
}

/* Height of an outlet's siphon-break hole, z [m]; -INFINITY: none. A hole above the top of the pipe's bore is drilled into
 * nothing and lets no air in: were it reckoned, a power cut would look better than it is. */
static double
siphon_break (NappeCompiler *self, const NappeLink *link, const NappeOutletLayout *outlet, double bore)
{
  double height = outlet->part->siphon_break_height, hole = self->layout->tank.floor + height;

  if (!nappe_is_given (height))
    return -INFINITY;
  if (hole <= link->highest + 0.5 * bore)
    return hole;
  nappe_compiler_problem (self, NAPPE_PART (outlet->part),
                          _ ("The siphon-break hole of this outlet lies higher than all of its pipe; it is not reckoned."));
  return -INFINITY;
}

/* The end of a link that leads through an outlet, through a pipe of a bore [m]. */
static void
set_outlet (NappeCompiler *self, NappeLink *link, const NappeOutletLayout *outlet, const NappeLineEnd *end, double bore)
{
  const char *id = nappe_part_get_id (NAPPE_PART (outlet->part));

  link->to = (guint) end->node;
  link->highest = fmax (link->highest, outlet->route.highest);
  link->siphon_break = siphon_break (self, link, outlet, bore);
  if (link->kind == NAPPE_LINK_PIPE)
    g_strlcpy (link->id, id, sizeof link->id);
  if (end->tee != NULL)
    return;
  g_strlcpy (link->outlet, id, sizeof link->outlet);
  link->sill = outlet->route.end.z;
  /* Backflow stops when air enters: at the hole, or else at the mouth. */
  link->siphon_break = fmax (link->siphon_break, outlet->route.end.z);
}

void
nappe_line_finish (NappeRunBuilder *run, NappeLink *link, const NappeOutletLayout *outlet, const NappeLineEnd *end)
{
  nappe_run_add_legs (run, &outlet->route, 0, outlet->route.n_legs);
  if (end->tee != NULL)
    {
      nappe_run_change_bore (run, end->tee->piece, nappe_line_bore (run->line, end->tee->bore));
      nappe_run_add_tee_branch (run, end->tee);
    }
  nappe_run_end (run, link, end->tee == NULL);
  if (end->node >= 0)
    set_outlet (run->compiler, link, outlet, end, run->bore);
}
