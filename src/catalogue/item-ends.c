/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "catalogue/item-ends.h"

#include <math.h>
#include <string.h>

#include "catalogue/item-members-private.h"
#include "physics/pipe-strength.h"

#define INCH 0.0254
#define SAME_SIZE 1e-4 /* [m]; sizes of one standard are millimetres apart */
#define MEGAPASCAL 1e6
#define PSI 6894.757
#define INCH_STRESS (2000 * PSI)
#define METRIC_STRESS (10 * MEGAPASCAL)
#define FITTING_SHARE 0.6
#define VALVE_PRESSURE (150 * PSI)

static gboolean
is (const char *text, const char *word)
{
  return g_strcmp0 (text, word) == 0;
}

/* ---- sizes ---- */

/* "1-1/4", "3/4", "32": the number at the beginning of a trade size; 0: none. */
static double
leading_number (const char *text)
{
  char *end;
  double whole = g_ascii_strtod (text, &end);

  if (end == text)
    return 0;
  if (*end == '/')
    {
      double part = g_ascii_strtod (end + 1, NULL);
      return part > 0 ? whole / part : 0;
    }
  if (*end == '-' && strchr (end, '/') != NULL)
    return whole + leading_number (end + 1);
  return whole;
}

static gboolean
is_metric (const char *size)
{
  return g_str_has_suffix (size, "mm");
}

/* A trade size in metres; of "2 × 1 in" the larger or the smaller one. */
static double
size_of (const char *text, gboolean smaller)
{
  const char *cross = strstr (text, "×");
  const char *from = smaller && cross != NULL ? cross + strlen ("×") : text;

  while (*from == ' ')
    from++;
  return leading_number (from) * (is_metric (text) ? 1e-3 : INCH);
}

/* ---- ends ---- */

static NappeEndMethod
method_of_word (const char *word)
{
  for (guint i = 0; nappe_item_end_words[i] != NULL; i++)
    if (is (word, nappe_item_end_words[i]))
      return (NappeEndMethod) (i + 1);
  return NAPPE_END_UNKNOWN;
}

/* What the shape alone says. which: 0 in, 1 out, 2 branch. */
static NappeEndMethod
usual_method (const NappeItem *item, guint which)
{
  if (item->kind == NAPPE_ITEM_PIPE)
    return NAPPE_END_SPIGOT;
  if (item->kind == NAPPE_ITEM_HOSE)
    return is (item->material, "pe") ? NAPPE_END_TUBE : NAPPE_END_HOSE;
  if (is (item->shape, "barb"))
    return which == 0 ? NAPPE_END_BARB : NAPPE_END_UNKNOWN;
  if (which == 1 && (is (item->shape, "cap") || is (item->shape, "strainer")))
    return NAPPE_END_NOTHING;
  if (which == 1 && is (item->shape, "adapter"))
    return NAPPE_END_MALE_THREAD;
  return item->kind == NAPPE_ITEM_PUMP || item->kind == NAPPE_ITEM_EQUIPMENT ? NAPPE_END_UNKNOWN : NAPPE_END_SOCKET;
}

static void
size_thread (const NappeItem *item, const char *own_size, NappeItemEnd *end)
{
  gboolean bsp = item->thread != NULL ? is (item->thread, "bsp") : item->nominal != NULL && is_metric (item->nominal);

  end->standard = bsp ? NAPPE_STANDARD_BSP : NAPPE_STANDARD_NPT;
  end->size = own_size != NULL ? size_of (own_size, FALSE) : item->nominal_inches * INCH;
}

static NappeItemEnd
end_of (const NappeItem *item, guint which, const char *word, const char *own_size)
{
  NappeItemEnd end = { .method = word != NULL ? method_of_word (word) : usual_method (item, which) };
  const char *size = own_size != NULL ? own_size : item->nominal;

  if (end.method == NAPPE_END_UNKNOWN || end.method == NAPPE_END_NOTHING)
    return end;
  if (end.method == NAPPE_END_MALE_THREAD || end.method == NAPPE_END_FEMALE_THREAD)
    {
      size_thread (item, own_size, &end);
      return end;
    }
  end.outside = item->kind == NAPPE_ITEM_PIPE || item->kind == NAPPE_ITEM_HOSE ? item->outside_diameter : 0;
  if (end.method == NAPPE_END_TUBE)
    end.size = item->outside_diameter;
  else if (end.method == NAPPE_END_HOSE)
    end.size = item->bore;
  else if (size != NULL)
    end.size = size_of (size, which == 1 && is (item->shape, "reducer"));
  end.standard = end.method == NAPPE_END_HOSE || end.method == NAPPE_END_BARB   ? NAPPE_STANDARD_BORE
                 : end.method == NAPPE_END_TUBE || end.method == NAPPE_END_PUSH ? NAPPE_STANDARD_OUTSIDE
                 : size != NULL && is_metric (size)                             ? NAPPE_STANDARD_METRIC_PIPE
                                                                                : NAPPE_STANDARD_INCH_PIPE;
  if (end.size <= 0)
    end.method = NAPPE_END_UNKNOWN;
  return end;
}

guint
nappe_item_ends (const NappeItem *item, NappeItemEnd ends[NAPPE_ITEM_ENDS])
{
  g_return_val_if_fail (item != NULL, 0);
  if (item->kind == NAPPE_ITEM_PUMP || item->kind == NAPPE_ITEM_EQUIPMENT)
    return 0;
  ends[0] = end_of (item, 0, item->end_in, item->size_in);
  ends[1] = end_of (item, 1, item->end_out, item->size_out);
  if (!is (item->shape, "tee"))
    return 2;
  ends[2] = end_of (item, 2, item->end_branch, item->size_branch);
  return 3;
}

NappeItemEnd
nappe_item_outlet_end (const NappeItem *item)
{
  return item != NULL ? end_of (item, 1, item->end_out, item->size_out) : (NappeItemEnd){ .method = NAPPE_END_UNKNOWN };
}

/* ---- joints ---- */

static gboolean
is_cemented (const NappeItemEnd *end)
{
  return end->method == NAPPE_END_SOCKET || end->method == NAPPE_END_SPIGOT;
}

static gboolean
is_thread (const NappeItemEnd *end)
{
  return end->method == NAPPE_END_MALE_THREAD || end->method == NAPPE_END_FEMALE_THREAD;
}

static gboolean
either (const NappeItemEnd *one, const NappeItemEnd *other, NappeEndMethod method)
{
  return one->method == method || other->method == method;
}

static gboolean
same_size (const NappeItemEnd *one, const NappeItemEnd *other)
{
  return fabs (one->size - other->size) <= SAME_SIZE;
}

static NappeJointFit
join_hose (const NappeItemEnd *hose, const NappeItemEnd *other, double play)
{
  if (other->method == NAPPE_END_BARB || other->method == NAPPE_END_HOSE)
    return fabs (hose->size - other->size) <= play ? NAPPE_JOINT_FITS : NAPPE_JOINT_BORE;
  if (other->method == NAPPE_END_PUSH)
    return NAPPE_JOINT_TUBE;
  /* A hose may be pushed over a pipe whose outside is its bore. */
  if (other->method == NAPPE_END_SPIGOT && other->outside > 0 && fabs (hose->size - other->outside) <= play)
    return NAPPE_JOINT_FITS;
  return NAPPE_JOINT_METHOD;
}

NappeJointFit
nappe_ends_join (const NappeItemEnd *one, const NappeItemEnd *other, double hose_play)
{
  if (either (one, other, NAPPE_END_UNKNOWN))
    return NAPPE_JOINT_UNKNOWN;
  if (either (one, other, NAPPE_END_NOTHING))
    return NAPPE_JOINT_NOTHING;
  if (is_cemented (one) && is_cemented (other))
    return one->standard != other->standard                  ? NAPPE_JOINT_SYSTEM
           : !same_size (one, other)                         ? NAPPE_JOINT_SIZE
           : one->method == other->method && one->method == NAPPE_END_SPIGOT ? NAPPE_JOINT_PIPES
                                                                             : NAPPE_JOINT_FITS;
  if (is_thread (one) && is_thread (other))
    return one->standard != other->standard ? NAPPE_JOINT_THREADS
           : !same_size (one, other)        ? NAPPE_JOINT_SIZE
           : one->method == other->method   ? NAPPE_JOINT_GENDER
                                            : NAPPE_JOINT_FITS;
  if (one->method == NAPPE_END_HOSE || other->method == NAPPE_END_HOSE)
    return one->method == NAPPE_END_HOSE ? join_hose (one, other, hose_play) : join_hose (other, one, hose_play);
  /* Tube goes on in the same tube, and into a push fitting. */
  if (either (one, other, NAPPE_END_TUBE) && (one->method == other->method || either (one, other, NAPPE_END_PUSH)))
    return same_size (one, other) ? NAPPE_JOINT_FITS : NAPPE_JOINT_TUBE;
  return NAPPE_JOINT_METHOD;
}

static gboolean
is_straight (const NappeItem *item)
{
  static const char *const shapes[] = { "coupling", "reducer", "adapter", "barb", NULL };
  return item->kind == NAPPE_ITEM_FITTING && g_strv_contains (shapes, item->shape);
}

/* Whether an item joins both ends, one way round or the other. An end that it does not tell fits one at most. */
static gboolean
bridges (const NappeItem *item, const NappeItemEnd *one, const NappeItemEnd *other, double play)
{
  NappeItemEnd ends[NAPPE_ITEM_ENDS];

  if (nappe_item_ends (item, ends) != 2)
    return FALSE;
  for (guint turn = 0; turn < 2; turn++)
    {
      NappeJointFit near = nappe_ends_join (one, &ends[turn], play);
      NappeJointFit far = nappe_ends_join (other, &ends[1 - turn], play);
      if ((near == NAPPE_JOINT_FITS && (far == NAPPE_JOINT_FITS || far == NAPPE_JOINT_UNKNOWN))
          || (near == NAPPE_JOINT_UNKNOWN && far == NAPPE_JOINT_FITS))
        return TRUE;
    }
  return FALSE;
}

const NappeItem *
nappe_catalogue_adapter (const NappeCatalogue *catalogue, const char *family, const NappeItemEnd *one,
                         const NappeItemEnd *other, double hose_play)
{
  const NappeItem *found = NULL;

  g_return_val_if_fail (catalogue != NULL, NULL);
  for (guint i = 0; i < nappe_catalogue_count (catalogue); i++)
    {
      const NappeItem *item = nappe_catalogue_nth (catalogue, i);
      if (!is_straight (item) || (found != NULL && !is (item->family, family))
          || !bridges (item, one, other, hose_play))
        continue;
      if (is (item->family, family))
        return item;
      found = item;
    }
  return found;
}

/* ---- material and strength ---- */

const char *
nappe_item_material (const NappeItem *item)
{
  if (item->material != NULL)
    return item->material;
  return item->family != NULL && g_str_has_prefix (item->family, "pvc") ? "pvc" : NULL;
}

static double
pipe_pressure (const NappeItem *pipe)
{
  gboolean metric = pipe->nominal != NULL && is_metric (pipe->nominal);
  double stress = metric ? METRIC_STRESS : INCH_STRESS;

  if (pipe->pressure_rating > 0)
    return pipe->pressure_rating;
  if (!is (nappe_item_material (pipe), "pvc"))
    return NAN;
  return nappe_pipe_pressure (stress, pipe->outside_diameter, pipe->wall);
}

/* The pipe that goes into a fitting: of a reducer the larger one, which stands less. */
static const NappeItem *
pipe_of (const NappeItem *item, const NappeCatalogue *catalogue)
{
  NappeItemEnd ends[NAPPE_ITEM_ENDS];

  if (catalogue == NULL || nappe_item_ends (item, ends) == 0)
    return NULL;
  for (guint i = 0; i < nappe_catalogue_count (catalogue); i++)
    {
      const NappeItem *pipe = nappe_catalogue_nth (catalogue, i);
      NappeItemEnd own[NAPPE_ITEM_ENDS];
      if (pipe->kind == NAPPE_ITEM_PIPE && is (pipe->family, item->family) && nappe_item_ends (pipe, own) > 0
          && nappe_ends_join (&own[0], &ends[0], 0) == NAPPE_JOINT_FITS)
        return pipe;
    }
  return NULL;
}

double
nappe_item_pressure (const NappeItem *item, const NappeCatalogue *catalogue)
{
  g_return_val_if_fail (item != NULL, NAN);
  if (item->kind == NAPPE_ITEM_PIPE || item->pressure_rating > 0)
    return item->kind == NAPPE_ITEM_PIPE ? pipe_pressure (item) : item->pressure_rating;
  if (item->kind == NAPPE_ITEM_HOSE)
    return NAN;
  const NappeItem *pipe = pipe_of (item, catalogue);
  double share = pipe != NULL ? FITTING_SHARE * pipe_pressure (pipe) : NAN;
  gboolean seals = item->kind == NAPPE_ITEM_VALVE || item->kind == NAPPE_ITEM_BULKHEAD || is (item->shape, "union");

  return seals ? fmin (share, VALVE_PRESSURE) : share;
}

double
nappe_item_least_bend (const NappeItem *item)
{
  return item->bend_radius_min > 0 ? item->bend_radius_min : NAN;
}
