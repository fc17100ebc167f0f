/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "physics/plate.h"

#include <math.h>

/* Points of the search on each of its scales. */
#define GRID 8
#define GRID_ALONG (2 * GRID + 1)
#define GRID_UP (3 * GRID + 1)
/* Least number of terms; more for a long panel, whose ends are short against its length. Terms fall as 1 / m^3. */
#define TERMS_LEAST 24
#define TERMS_FOR_LENGTH 6.0
/* The search for a peak ends at this share of the grid: peaks are flat, so that the value is far closer. */
#define SEARCH_END 3e-3

/* One term of the deflection, Y (y) sin (alpha x) with x from the left edge and y from the bottom. In eta = alpha y and
 * zeta = alpha (height - y):
 * Y = particular + (c0 + c1 eta) exp (-eta) + (c2 + c3 zeta) exp (-zeta),
 * which neither overflows nor cancels for a tall panel, unlike the usual hyperbolic functions. The particular solution is
 * straight, since the load is. Times the bending stiffness D. */
typedef struct {
  double alpha;            /* m pi / length, m odd [1/m] */
  double base, rise;       /* particular solution at y = 0, and its change over eta */
  double c[4];
} Term;

typedef struct {
  const NappePlate *plate;
  gsize             n;
  Term             *terms;
} Series;

/* Moments per length of panel, and deflection times D. */
typedef struct {
  double along, up, twist; /* [N] */
  double sag;              /* [N m2] */
} Bending;

/* The factors of c0..c3 in the n-th derivative of Y by eta. */
static void
derivative_factors (double eta,
                    double zeta,
                    int    n,
                    double factors[4])
{
  double from_bottom = exp (-eta), from_top = exp (-zeta), sign = n % 2 ? -1.0 : 1.0;

  factors[0] = sign * from_bottom;
  factors[1] = sign * (eta - n) * from_bottom;
  factors[2] = from_top;
  factors[3] = (zeta - n) * from_top;
}

/* Solves rows * c = right by elimination with the greatest pivot. */
static void
solve_four (double rows[4][4],
            double right[4],
            double c[4])
{
  for (int k = 0; k < 4; k++)
    {
      int best = k;

      for (int i = k + 1; i < 4; i++)
        if (fabs (rows[i][k]) > fabs (rows[best][k]))
          best = i;
      for (int j = 0; j < 4; j++)
        {
          double kept = rows[k][j];
          rows[k][j] = rows[best][j];
          rows[best][j] = kept;
        }
      double kept = right[k];
      right[k] = right[best];
      right[best] = kept;
      for (int i = k + 1; i < 4; i++)
        {
          double share = rows[i][k] / rows[k][k];

          for (int j = k; j < 4; j++)
            rows[i][j] -= share * rows[k][j];
          right[i] -= share * right[k];
        }
    }
  for (int k = 3; k >= 0; k--)
    {
      c[k] = right[k];
      for (int j = k + 1; j < 4; j++)
        c[k] -= rows[k][j] * c[j];
      c[k] /= rows[k][k];
    }
}

/* A supported edge neither moves nor bends: Y = Y'' = 0. A free one has no moment and no edge force:
 * Y'' - nu Y = 0, Y''' - (2 - nu) Y' = 0, primes by eta. */
static void
term_init (Term             *term,
           const NappePlate *plate,
           gsize             m)
{
  double alpha = (double) m * G_PI / plate->length, span = alpha * plate->height, nu = plate->poisson;
  double scale = 4.0 / ((double) m * G_PI * pow (alpha, 4));
  double rows[4][4], right[4], other[4];

  term->alpha = alpha;
  term->base = scale * plate->load_bottom;
  term->rise = scale * (plate->load_top - plate->load_bottom) / span;
  derivative_factors (0.0, span, 0, rows[0]);
  derivative_factors (0.0, span, 2, rows[1]);
  right[0] = -term->base;
  right[1] = 0.0;
  double top = term->base + term->rise * span;
  derivative_factors (span, 0.0, plate->top_free ? 2 : 0, rows[2]);
  derivative_factors (span, 0.0, plate->top_free ? 3 : 2, rows[3]);
  right[2] = plate->top_free ? nu * top : -top;
  right[3] = plate->top_free ? (2.0 - nu) * term->rise : 0.0;
  for (int lower = 0; lower < 2 && plate->top_free; lower++)
    {
      derivative_factors (span, 0.0, lower, other);
      for (int j = 0; j < 4; j++)
        rows[2 + lower][j] -= (lower == 0 ? nu : 2.0 - nu) * other[j];
    }
  solve_four (rows, right, term->c);
}

/* exp, sine and cosine of alpha times a length for one term after the other. alpha grows evenly from term to term, by twice the
 * first one, so that one product gives the next value: nearly all the time of a panel went into reckoning each anew. */
typedef struct {
  double value, factor;
} Decay;

typedef struct {
  double sine, cosine, step_sine, step_cosine;
} Turn;

static Decay
decay_start (double alpha,
             double length)
{
  double first = exp (-alpha * length);

  return (Decay){ first, first * first };
}

static void
decay_next (Decay *decay)
{
  decay->value *= decay->factor;
}

static Turn
turn_start (double alpha,
            double length)
{
  double sine = sin (alpha * length), cosine = cos (alpha * length);

  return (Turn){ sine, cosine, 2.0 * sine * cosine, cosine * cosine - sine * sine };
}

static void
turn_next (Turn *turn)
{
  double sine = turn->sine * turn->step_cosine + turn->cosine * turn->step_sine;

  turn->cosine = turn->cosine * turn->step_cosine - turn->sine * turn->step_sine;
  turn->sine = sine;
}

/* Y and its first two derivatives by eta at height y, the same as by derivative_factors. from_bottom, from_top: exp (-eta) and
 * exp (-zeta). */
static void
term_at (const Term *term,
         double      y,
         double      height,
         double      from_bottom,
         double      from_top,
         double      value[3])
{
  double eta = term->alpha * y, zeta = term->alpha * (height - y);
  double low = (term->c[0] + term->c[1] * eta) * from_bottom, low_rise = term->c[1] * from_bottom;
  double high = (term->c[2] + term->c[3] * zeta) * from_top, high_rise = term->c[3] * from_top;

  value[0] = term->base + term->rise * eta + low + high;
  value[1] = term->rise - low + low_rise + high - high_rise;
  value[2] = low - 2.0 * low_rise + high - 2.0 * high_rise;
}

/* Adds a term whose Y and derivatives are known to what acts at x. */
static void
bending_add (Bending      *bending,
             const Term   *term,
             const double  value[3],
             double        sine,
             double        cosine,
             double        nu)
{
  double square = term->alpha * term->alpha;

  bending->along += square * (value[0] - nu * value[2]) * sine;
  bending->up += square * (nu * value[0] - value[2]) * sine;
  bending->twist += square * (1.0 - nu) * value[1] * cosine;
  bending->sag += value[0] * sine;
}

static Bending
bending_at (const Series *series,
            double        x,
            double        y)
{
  Bending bending = { 0 };
  double alpha = series->terms[0].alpha, height = series->plate->height;
  Decay bottom = decay_start (alpha, y), top = decay_start (alpha, height - y);
  Turn turn = turn_start (alpha, x);

  for (gsize i = 0; i < series->n; i++)
    {
      double value[3];

      term_at (&series->terms[i], y, height, bottom.value, top.value, value);
      bending_add (&bending, &series->terms[i], value, turn.sine, turn.cosine, series->plate->poisson);
      decay_next (&bottom);
      decay_next (&top);
      turn_next (&turn);
    }
  return bending;
}

/* The greater principal moment, of either sign: glass breaks on the side that is pulled. */
static double
principal (const Bending *bending)
{
  double difference = bending->along - bending->up;

  return 0.5 * fabs (bending->along + bending->up) + sqrt (0.25 * difference * difference + bending->twist * bending->twist);
}

static double
greatest_bending (const Bending *bending)
{
  return fmax (fabs (bending->along), fabs (bending->up));
}

static double
sag (const Bending *bending)
{
  return fabs (bending->sag);
}

/* Walks uphill from x, y in ever smaller steps; without step_x along the upright line alone. */
static double
climb (const Series *series,
       double      (*of) (const Bending *bending),
       double        x,
       double        y,
       double        step_x,
       double        step_y)
{
  double height = series->plate->height, half = 0.5 * series->plate->length;
  Bending here = bending_at (series, x, y);
  double best = of (&here);

  for (double share = 1.0; share > SEARCH_END;)
    {
      const double tries[4][2] = { { 0, share * step_y }, { 0, -share * step_y }, { share * step_x, 0 }, { -share * step_x, 0 } };
      gboolean higher = FALSE;

      for (int i = 0; i < (step_x > 0.0 ? 4 : 2) && !higher; i++)
        {
          double next_x = CLAMP (x + tries[i][0], 0.0, half), next_y = CLAMP (y + tries[i][1], 0.0, height);
          Bending there = bending_at (series, next_x, next_y);

          /* A gain below the series' own error would keep it walking to no end. */
          if (of (&there) <= best * (1.0 + 1e-9))
            continue;
          best = of (&there);
          x = next_x;
          y = next_y;
          higher = TRUE;
        }
      if (!higher)
        share *= 0.5;
    }
  return best;
}

/* Heights and places along that show a peak wherever it lies: even over the whole panel, and even over a stretch as
 * long as the shorter side beside the edges, where a long or tall panel has all its bending. */
static void
place_grid (const NappePlate *plate,
            double            along[GRID_ALONG],
            double            up[GRID_UP])
{
  double half = 0.5 * plate->length, height = plate->height;
  double side = fmin (plate->length, height);

  for (int i = 0; i < GRID; i++)
    {
      double share = (double) i / GRID;

      along[i] = fmin (half, side) * share;
      along[GRID + i] = half * share;
      up[i] = height * share;
      up[GRID + i] = side * share;
      up[2 * GRID + i] = height - side * share;
    }
  along[GRID_ALONG - 1] = half;
  up[GRID_UP - 1] = height;
}

/* What acts at each point of the grid: Y of each term is needed once for each height alone. The first half of the terms, which
 * fall as 1 / m^3, shows well enough where to climb from. */
static void
fill_grid (const Series *series,
           const double  along[GRID_ALONG],
           const double  up[GRID_UP],
           Bending       grid[GRID_UP][GRID_ALONG])
{
  double alpha = series->terms[0].alpha, height = series->plate->height;
  Turn turns[GRID_ALONG];
  Decay bottom[GRID_UP], top[GRID_UP];

  for (int i = 0; i < GRID_ALONG; i++)
    turns[i] = turn_start (alpha, along[i]);
  for (int j = 0; j < GRID_UP; j++)
    {
      bottom[j] = decay_start (alpha, up[j]);
      top[j] = decay_start (alpha, height - up[j]);
      for (int i = 0; i < GRID_ALONG; i++)
        grid[j][i] = (Bending){ 0 };
    }
  for (gsize k = 0; k < (series->n + 1) / 2; k++)
    {
      for (int j = 0; j < GRID_UP; j++)
        {
          double value[3];

          term_at (&series->terms[k], up[j], height, bottom[j].value, top[j].value, value);
          for (int i = 0; i < GRID_ALONG; i++)
            bending_add (&grid[j][i], &series->terms[k], value, turns[i].sine, turns[i].cosine, series->plate->poisson);
          decay_next (&bottom[j]);
          decay_next (&top[j]);
        }
      for (int i = 0; i < GRID_ALONG; i++)
        turn_next (&turns[i]);
    }
}

/* The greatest value of a function of the bending: on the grid, then uphill from there. in_middle: along the upright middle
 * line alone; else from the best place near the upright edge, so that a peak there is not passed by for an equal one in the
 * middle. */
static double
greatest (const Series *series,
          const double  along[GRID_ALONG],
          const double  up[GRID_UP],
          Bending       grid[GRID_UP][GRID_ALONG],
          double      (*of) (const Bending *bending),
          gboolean      in_middle)
{
  const NappePlate *plate = series->plate;
  int first = in_middle ? GRID_ALONG - 1 : 0, end = in_middle ? GRID_ALONG : GRID;
  int at_i = first, at_j = 0;
  double side = fmin (plate->length, plate->height);

  for (int j = 0; j < GRID_UP; j++)
    for (int i = first; i < end; i++)
      if (of (&grid[j][i]) > of (&grid[at_j][at_i]))
        {
          at_i = i;
          at_j = j;
        }
  return climb (series, of, along[at_i], up[at_j], in_middle ? 0.0 : side / GRID, side / GRID);
}

void
nappe_plate_solve (const NappePlate *plate,
                   NappePlateResult *result)
{
  double thickness = plate->thickness;
  double stiffness = plate->elasticity * pow (thickness, 3) / (12.0 * (1.0 - plate->poisson * plate->poisson));
  double to_stress = 6.0 / (thickness * thickness);
  Series series = { .plate = plate, .n = TERMS_LEAST + (gsize) (TERMS_FOR_LENGTH * plate->length / plate->height) };
  double along[GRID_ALONG], up[GRID_UP];
  g_autofree Term *terms = g_new (Term, series.n);
  Bending grid[GRID_UP][GRID_ALONG];

  series.terms = terms;
  for (gsize i = 0; i < series.n; i++)
    term_init (&terms[i], plate, 2 * i + 1);
  place_grid (plate, along, up);
  fill_grid (&series, along, up, grid);
  result->stress_middle = to_stress * greatest (&series, along, up, grid, greatest_bending, TRUE);
  result->stress = fmax (result->stress_middle, to_stress * greatest (&series, along, up, grid, principal, FALSE));
  result->deflection = greatest (&series, along, up, grid, sag, TRUE) / stiffness;
  result->small = result->deflection < 0.5 * thickness;
}
