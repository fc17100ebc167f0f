/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Another drain in an overflow box.
 *
 * Heights, common practice: the siphon's inlet lowest; the open channel's 25 to 45 mm over it, so that the trickle over it tunes
 * the siphon; the emergency's 30 mm over the next one, so that it stays dry; all below the weir, so that it falls free. */
#include "config.h"

#include "assembly/assembly-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "build/coupling.h"
#include "study/study.h"

/* [m] */
#define CHANNEL_OVER_SIPHON 0.025
#define CHANNEL_MOST 0.045
#define EMERGENCY_OVER_CHANNEL 0.030
#define EMERGENCY_OVER_FLOWING 0.050 /* over an inlet that carries all there is unprimed */
#define BELOW_WEIR 0.035
#define LEAST_BELOW_WEIR 0.012
#define LEAST_CREST 0.025
#define MOUTH_BELOW_CREST 0.035
#define MOUTH_OVER_FLOOR 0.020
/* Of the height between the siphon's inlet and the highest one: the higher the channel, the wider the siphon's band. */
#define CHANNEL_SHARE 0.5
/* The end of a pipe below, and of one that should stay dry above, the crest that its chamber spills over [m]. */
#define END_BELOW 0.005
#define END_ABOVE 0.040
/* Room over the sump's rim and under the tank for sideways pipes; how far those of several drains are apart [m]. */
#define OVER_SUMP 0.05
#define UNDER_TANK 0.15
#define APART 0.07
/* Share of the height between them at which they lie. */
#define USUAL_SHARE 0.5
/* Steps in which places are tried [m]. */
#define GRID 0.005
#define BESIDE_PIPE 0.010
/* Of a new siphon's valve until the study says better. */
#define FIRST_OPENING 0.5
/* A siphon changes the flow a little as it is tuned: so often it is asked; finer than that no handle is set. */
#define TUNING_ROUNDS 4
#define TUNING_STEP 0.001
#define USUAL_PIPE "1-1/2 in"

typedef struct
{
  NappeBuild *build;
  NappeCatalogue *catalogue;
  NappeOverflow *box;
  NappeDrainRole role;
  NappePlumbing plumbing;
  const char *into;
  double crest;
} Job;

static double
weir_over_floor (const NappeOverflow *box)
{
  return box->weir_height - box->floor_height;
}

/* The lowest or highest crest among the box's drains of a role; NaN: there is none. */
static double
crest_of (const Job *job, int role, gboolean highest)
{
  const char *box = nappe_part_get_id (NAPPE_PART (job->box));
  double crest = NAN;

  for (guint i = 0; i < job->build->drains->len; i++)
    {
      const NappeDrain *drain = job->build->drains->pdata[i];
      if (drain->role == role && g_str_equal (drain->overflow, box))
        crest = highest ? fmax (crest, drain->crest_height) : fmin (crest, drain->crest_height);
    }
  return crest;
}

/* The first that is given. */
static double
first_given (double a, double b, double c)
{
  return nappe_is_given (a) ? a : nappe_is_given (b) ? b : c;
}

static double
emergency_crest (const Job *job)
{
  double siphon = crest_of (job, NAPPE_DRAIN_SIPHON, TRUE), channel = crest_of (job, NAPPE_DRAIN_OPEN_CHANNEL, TRUE);
  double standpipe = crest_of (job, NAPPE_DRAIN_STANDPIPE, TRUE);
  double over = nappe_is_given (siphon) ? EMERGENCY_OVER_CHANNEL : EMERGENCY_OVER_FLOWING;

  if (!nappe_is_given (siphon) && !nappe_is_given (channel) && !nappe_is_given (standpipe))
    return weir_over_floor (job->box) - BELOW_WEIR;
  return fmax (fmax (siphon + (nappe_is_given (channel) ? 0 : CHANNEL_OVER_SIPHON) + EMERGENCY_OVER_CHANNEL, channel + over),
               standpipe + EMERGENCY_OVER_FLOWING);
}

static double
suitable_crest (const Job *job)
{
  double top = weir_over_floor (job->box) - BELOW_WEIR, emergency = crest_of (job, NAPPE_DRAIN_EMERGENCY, FALSE);
  double siphon = crest_of (job, NAPPE_DRAIN_SIPHON, TRUE), channel = crest_of (job, NAPPE_DRAIN_OPEN_CHANNEL, FALSE);

  switch (job->role)
    {
    case NAPPE_DRAIN_SIPHON:
      return first_given (siphon, channel - CHANNEL_OVER_SIPHON,
                          first_given (emergency, top, 0) - EMERGENCY_OVER_CHANNEL - CHANNEL_OVER_SIPHON);
    case NAPPE_DRAIN_OPEN_CHANNEL:
      return first_given (channel, siphon + CLAMP (CHANNEL_SHARE * (top - siphon), CHANNEL_OVER_SIPHON, CHANNEL_MOST),
                          first_given (emergency, top, 0) - EMERGENCY_OVER_FLOWING);
    case NAPPE_DRAIN_EMERGENCY: return emergency_crest (job);
    case NAPPE_DRAIN_STANDPIPE:
      return first_given (crest_of (job, NAPPE_DRAIN_STANDPIPE, TRUE), emergency - EMERGENCY_OVER_FLOWING,
                          top - EMERGENCY_OVER_FLOWING);
    }
  g_return_val_if_reached (top);
}

static gboolean
choose_crest (Job *job, GError **error)
{
  job->crest = fmin (fmax (suitable_crest (job), LEAST_CREST), weir_over_floor (job->box) - LEAST_BELOW_WEIR);
  if (job->crest >= LEAST_CREST)
    return TRUE;
  return nappe_assembly_fail (error, NAPPE_ASSEMBLY_ERROR_ROOM,
                              /* Translators: %s is an overflow box. */
                              g_strdup_printf (_("“%s” is too shallow for another inlet under its weir"),
                                               nappe_part_display_name (NAPPE_PART (job->box))));
}

/* Inlets that should stand above the new one are raised; where the weir leaves no room, as far as it does. */
static gboolean
raise_emergencies (const Job *job, GError **error)
{
  double least = job->role == NAPPE_DRAIN_EMERGENCY
                     ? 0
                     : fmin (emergency_crest (job), weir_over_floor (job->box) - LEAST_BELOW_WEIR);

  for (guint i = 0; i < job->build->drains->len; i++)
    {
      NappeDrain *drain = job->build->drains->pdata[i];
      if (drain->role == NAPPE_DRAIN_EMERGENCY && drain->crest_height < least
          && g_str_equal (drain->overflow, nappe_part_get_id (NAPPE_PART (job->box)))
          && !nappe_build_set_coupled (job->build, NAPPE_PART (drain), "crest_height", least, error))
        return FALSE;
    }
  return TRUE;
}

/* ---- where it stands ---- */

/* The frame of what has an id, among what a drain can end in; NULL: it has none. level: of its water over its floor [m]. */
static const NappeFrame *
frame_of (const Job *job, const NappeLayout *layout, double *level)
{
  for (guint i = 0; i < layout->n_chambers; i++)
    if (g_str_equal (nappe_part_get_id (NAPPE_PART (layout->chambers[i].part)), job->into))
      {
        *level = nappe_assembly_chamber_level (job->build, i);
        return &layout->chambers[i].frame;
      }
  for (guint i = 0; i < layout->n_socks; i++)
    if (g_str_equal (nappe_part_get_id (NAPPE_PART (layout->socks[i].part)), job->into))
      {
        const NappeFrame *frame = &layout->socks[i].frame;
        *level = layout->sump.floor + nappe_assembly_chamber_level (job->build, layout->socks[i].chamber) - frame->floor;
        return frame;
      }
  for (guint i = 0; i < layout->n_vessels; i++)
    if (g_str_equal (nappe_part_get_id (NAPPE_PART (layout->vessels[i].part)), job->into))
      {
        *level = layout->vessels[i].part->spout_height;
        return &layout->vessels[i].frame;
      }
  return NULL;
}

/* How far a place is from the ends of all lines that end in the frame [m]. */
static double
clear_of_ends (const NappeLayout *layout, const NappeFrame *frame, double x)
{
  double clear = INFINITY;

  for (guint i = 0; i < layout->n_drains; i++)
    for (guint o = 0; o < layout->drains[i].n_outlets; o++)
      {
        const NappeRoute *route = &layout->drains[i].outlets[o].route;
        if (route->end.x >= frame->left && route->end.x <= frame->right)
          clear = fmin (clear, fabs (route->end.x - x));
      }
  return clear;
}

/* Where in a frame the pipe comes down: straight below where it starts if it can, beside other pipes, within the walls. */
static double
place_of_end (const Job *job, const NappeLayout *layout, const NappeFrame *frame, double from)
{
  double half = 0.5 * job->plumbing.pipe->outside_diameter, wanted = 2 * half + BESIDE_PIPE;
  double left = frame->left + half + BESIDE_PIPE, right = frame->right - half - BESIDE_PIPE;
  double nearest = CLAMP (from, left, fmax (left, right)), best = NAN;

  for (double x = left; x <= right; x += GRID)
    if (clear_of_ends (layout, frame, x) >= wanted && (isnan (best) || fabs (x - from) < fabs (best - from)))
      best = x;
  if (clear_of_ends (layout, frame, nearest) >= wanted || isnan (best))
    return nearest;
  return best;
}

static double
height_of_turn (const Job *job, const NappeLayout *layout, double floor)
{
  double high = fmin (floor, layout->stand.rim) - UNDER_TANK, low = fmin (layout->sump.rim + OVER_SUMP, high);
  double rank = job->build->drains->len % 3 - 1.0;

  return CLAMP (low + USUAL_SHARE * (high - low) + rank * APART, low, high);
}

/* A gate valve sets a siphon finely; else a ball valve. */
static const NappeItem *
tuning_valve (const NappePlumbing *plumbing, GError **error)
{
  const NappeItem *valve = nappe_plumbing_fit (plumbing, NAPPE_ITEM_VALVE, "gate", NULL);

  return valve != NULL ? valve : nappe_plumbing_fit (plumbing, NAPPE_ITEM_VALVE, "ball", error);
}

/* From the box's floor to where the drain ends. */
static gboolean
find_way (const Job *job, const NappeLayout *layout, const NappeDrain *drain, NappeWay *way, GError **error)
{
  const NappeFrame *box = NULL, *target;
  double level = 0, below = job->role == NAPPE_DRAIN_EMERGENCY ? -END_ABOVE : END_BELOW;

  for (guint i = 0; i < layout->n_boxes; i++)
    if (layout->boxes[i].part == job->box)
      box = &layout->boxes[i].frame;
  target = frame_of (job, layout, &level);
  if (target == NULL || box == NULL)
    return nappe_assembly_fail (error, NAPPE_ASSEMBLY_ERROR_UNFIT, g_strdup (_("A drain cannot end there")));
  double half = fmin (0.5 * job->plumbing.pipe->outside_diameter + BESIDE_PIPE, 0.5 * (target->back - target->front));
  way->from = (NappePoint){ box->left + drain->x, 0.5 * (box->front + box->back), box->floor };
  way->via = height_of_turn (job, layout, box->floor);
  way->to = (NappePoint){ place_of_end (job, layout, target, way->from.x),
                          CLAMP (way->from.y, target->front + half, target->back - half),
                          fmin (target->floor + level - below, target->rim) };
  if (way->to.z < box->floor - UNDER_TANK)
    return TRUE;
  return nappe_assembly_fail (error, NAPPE_ASSEMBLY_ERROR_ROOM,
                              /* Translators: %s is an overflow box. */
                              g_strdup_printf (_("There is no fall from “%s” to where the drain would end"),
                                               nappe_part_display_name (NAPPE_PART (job->box))));
}

static gboolean
lay_run (const Job *job, NappeDrain *drain, const NappeItem *bulkhead, GError **error)
{
  g_autoptr (NappeLayout) layout = nappe_layout_new (job->build, job->catalogue);
  const NappePlumbing *plumbing = &job->plumbing;
  const NappeItem *joint = nappe_plumbing_fit (plumbing, NAPPE_ITEM_FITTING, "union", error), *valve = NULL;
  NappeWay way = { .fall = NAPPE_ASSEMBLY_FALL, .before = NAPPE_TOWARD_DOWN };

  if (joint != NULL && job->role == NAPPE_DRAIN_SIPHON)
    valve = tuning_valve (plumbing, error);
  if (joint == NULL || (job->role == NAPPE_DRAIN_SIPHON && valve == NULL) || !find_way (job, layout, drain, &way, error))
    return FALSE;
  way.early = valve == NULL ? joint : NULL;
  way.late[0] = valve;
  way.late[1] = valve != NULL ? joint : NULL;
  GPtrArray *run = nappe_plumbing_new_run ();
  nappe_plumbing_add_pipe (plumbing, run, job->crest, NAPPE_TOWARD_DOWN, 0);
  nappe_plumbing_add (run, bulkhead);
  nappe_plumbing_lead (plumbing, run, &way);
  for (guint i = 0; i < run->len; i++)
    if (valve != NULL && g_str_equal (NAPPE_PIECE (run->pdata[i])->item, valve->id))
      nappe_assembly_write_number (run->pdata[i], "opening", FIRST_OPENING);
  nappe_plumbing_take (NAPPE_PART (drain), run);
  return TRUE;
}

/* ---- as the others ---- */

static const char *
pipe_of_run (const Job *job, GPtrArray *run)
{
  for (guint i = 0; i < run->len; i++)
    {
      const NappeItem *item = nappe_catalogue_find (job->catalogue, NAPPE_PIECE (run->pdata[i])->item);
      if (item != NULL && item->kind == NAPPE_ITEM_PIPE)
        return item->id;
    }
  return NULL;
}

const char *
nappe_assembly_usual_drain_pipe (NappeCatalogue *catalogue)
{
  const NappeItem *item = nappe_catalogue_match (catalogue, NAPPE_ITEM_PIPE, "pvc-sch40", NULL, USUAL_PIPE);

  return item != NULL ? item->id : "";
}

/* The pipe and the end of the box's other drains: the pipe of the last of them, the chamber itself for an emergency drain,
 * which no sock must hold back. */
static void
follow_others (Job *job, const char **pipe)
{
  for (guint i = 0; i < job->build->drains->len; i++)
    {
      const NappeDrain *drain = job->build->drains->pdata[i];
      const NappeOutlet *outlet = drain->outlets->len > 0 ? drain->outlets->pdata[0] : NULL;
      gboolean same = g_str_equal (drain->overflow, nappe_part_get_id (NAPPE_PART (job->box)));
      const char *other = same ? pipe_of_run (job, drain->run) : NULL;
      if (*pipe == NULL && other != NULL && (drain->role == NAPPE_DRAIN_EMERGENCY || i + 1 == job->build->drains->len))
        *pipe = other;
      if (job->into == NULL && same && outlet != NULL)
        job->into = outlet->into;
    }
  if (*pipe == NULL)
    *pipe = nappe_assembly_usual_drain_pipe (job->catalogue);
  if (job->into == NULL)
    {
      GPtrArray *chambers = NAPPE_BUILD_SUMP (job->build)->chambers;
      guint last = nappe_assembly_return_chamber (job->build), index = last > 0 || chambers->len == 0 ? 0 : chambers->len - 1;
      for (guint i = 0; i < chambers->len; i++)
        if (NAPPE_CHAMBER (chambers->pdata[i])->role == NAPPE_CHAMBER_DRAIN)
          index = i;
      job->into = index < chambers->len ? nappe_part_get_id (chambers->pdata[index]) : "";
    }
  NappePart *end = nappe_build_find (job->build, job->into);
  if (job->role == NAPPE_DRAIN_EMERGENCY && end != NULL && NAPPE_IS_EQUIPMENT (end))
    job->into = NAPPE_EQUIPMENT (end)->where;
}

static const char *
name_of_role (NappeDrainRole role)
{
  switch (role)
    {
    case NAPPE_DRAIN_SIPHON: return _("Siphon");
    case NAPPE_DRAIN_OPEN_CHANNEL: return _("Open channel");
    case NAPPE_DRAIN_EMERGENCY: return _("Emergency drain");
    case NAPPE_DRAIN_STANDPIPE: return _("Standpipe");
    }
  g_return_val_if_reached (_("Drain"));
}

static NappeDrain *
new_drain (const Job *job)
{
  NappeDrain *drain = g_object_new (NAPPE_TYPE_DRAIN, NULL);
  NappePart *part = NAPPE_PART (drain);
  g_autoptr (NappeOutlet) outlet = g_object_new (NAPPE_TYPE_OUTLET, NULL);

  nappe_assembly_name (job->build, part, name_of_role (job->role));
  nappe_assembly_write_text (part, "overflow", nappe_part_get_id (NAPPE_PART (job->box)));
  nappe_assembly_write_number (part, "role", job->role);
  nappe_assembly_write_number (part, "crest_height", job->crest);
  nappe_assembly_write_number (part, "vented", job->role == NAPPE_DRAIN_OPEN_CHANNEL || job->role == NAPPE_DRAIN_STANDPIPE);
  if (job->role == NAPPE_DRAIN_SIPHON)
    {
      nappe_assembly_write_number (part, "inlet", NAPPE_INLET_DOWNTURNED_ELBOW);
      nappe_assembly_write_number (part, "mouth_height",
                                   fmax (job->crest - MOUTH_BELOW_CREST, fmin (job->crest, MOUTH_OVER_FLOOR)));
    }
  nappe_assembly_write_text (NAPPE_PART (outlet), "into", job->into);
  nappe_part_attach (part, nappe_part_find_slot (part, "outlets"), 0, NAPPE_PART (outlet));
  return drain;
}

/* Begins the step, and makes the drain at a place that is free or is made free. NULL: the step is rolled back. */
static NappeDrain *
place_drain (const Job *job, GError **error)
{
  const NappeItem *bulkhead = nappe_plumbing_fit (&job->plumbing, NAPPE_ITEM_BULKHEAD, NULL, error);
  g_autoptr (NappeDrain) drain = new_drain (job);
  g_autofree char *label = NULL;
  double x = 0;

  if (bulkhead == NULL)
    return NULL;
  /* Translators: label of a step to undo; %s is the name of a part. */
  label = g_strdup_printf (_("Add “%s”"), nappe_part_display_name (NAPPE_PART (drain)));
  nappe_build_begin (job->build, label);
  if (nappe_assembly_make_place_in_box (job->build, job->catalogue, job->box, bulkhead, &x, error))
    {
      nappe_assembly_write_number (NAPPE_PART (drain), "x", x);
      if (lay_run (job, drain, bulkhead, error))
        return g_steal_pointer (&drain);
    }
  nappe_build_roll_back (job->build);
  return NULL;
}

static gboolean
finish (const Job *job, NappeDrain *drain, GError **error)
{
  return nappe_build_insert (job->build, NAPPE_PART (job->build), "drains", G_MAXUINT, NAPPE_PART (drain), error)
         && raise_emergencies (job, error)
         && nappe_assembly_tune (job->build, job->catalogue, nappe_part_get_id (NAPPE_PART (job->box)), error);
}

NappeDrain *
nappe_assembly_add_drain (NappeBuild *build, NappeCatalogue *catalogue, const char *overflow, NappeDrainRole role,
                          const char *pipe, const char *into, GError **error)
{
  NappePart *box = nappe_build_find (build, overflow);
  Job job = { .build = build, .catalogue = catalogue, .role = role, .into = into };

  if (box == NULL || !NAPPE_IS_OVERFLOW (box))
    {
      nappe_assembly_fail (error, NAPPE_ASSEMBLY_ERROR_UNFIT, g_strdup (_("A drain stands in an overflow box: add one first")));
      return NULL;
    }
  job.box = NAPPE_OVERFLOW (box);
  follow_others (&job, &pipe);
  pipe = nappe_assembly_pipe_for_box (build, catalogue, job.box, pipe, 1, error);
  if (pipe == NULL || !choose_crest (&job, error) || !nappe_plumbing_begin (&job.plumbing, catalogue, pipe, error))
    return NULL;
  g_autoptr (NappeDrain) drain = place_drain (&job, error);
  return drain != NULL && nappe_assembly_end (build, finish (&job, drain, error)) ? drain : NULL;
}

/* ---- tuning ---- */

/* Sets the valves of the siphons once. *moved: whether one had to be moved. */
static gboolean
set_valves (NappeBuild *build, const NappeStudy *study, const char *overflow, gboolean *moved, GError **error)
{
  for (guint i = 0; i < study->n_drains; i++)
    {
      const NappeDrainReport *report = &study->drains[i];
      NappePart *drain = nappe_build_find (build, report->id), *valve = nappe_build_find (build, report->valve);

      if (drain == NULL || valve == NULL || report->role != NAPPE_DRAIN_SIPHON || isnan (report->opening_wanted)
          || !g_str_equal (NAPPE_DRAIN (drain)->overflow, overflow))
        continue;
      double opening = round (report->opening_wanted / TUNING_STEP) * TUNING_STEP;
      if (fabs (opening - NAPPE_PIECE (valve)->opening) < TUNING_STEP)
        continue;
      if (!nappe_build_set_number (build, valve, "opening", CLAMP (opening, TUNING_STEP, 1), error))
        return FALSE;
      *moved = TRUE;
    }
  return TRUE;
}

gboolean
nappe_assembly_tune (NappeBuild *build, NappeCatalogue *catalogue, const char *overflow, GError **error)
{
  gboolean moved = TRUE;

  for (guint round = 0; moved && round < TUNING_ROUNDS; round++)
    {
      g_autoptr (NappeStudy) study = nappe_study_build (build, catalogue);

      moved = FALSE;
      if (!set_valves (build, study, overflow, &moved, error))
        return FALSE;
    }
  return TRUE;
}
