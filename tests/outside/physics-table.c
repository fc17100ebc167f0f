/* SPDX-License-Identifier: GPL-3.0-or-later */

/* Prints values of the laws as lines "law,argument,…,value", SI throughout, for comparison with outside libraries. */

#include "physics/bend.h"
#include "physics/drop-inlet.h"
#include "physics/evaporation.h"
#include "physics/fitting.h"
#include "physics/friction.h"
#include "physics/manning.h"
#include "physics/plate.h"
#include "physics/pump-curve.h"
#include "physics/stretch.h"
#include "physics/water.h"
#include "physics/weir.h"

#include <locale.h>
#include <math.h>
#include <stdio.h>

static void
print_water (void)
{
  NappeWater water;

  for (int t = 0; t <= 40; t += 5)
    for (int s = 0; s <= 40; s += 5)
      {
        nappe_water_init (&water, t, s);
        printf ("density,%d,%d,%.17g\n", t, s, water.density);
        printf ("viscosity,%d,%d,%.17g\n", t, s, water.viscosity);
        printf ("specific-heat,%d,%d,%.17g\n", t, s, water.specific_heat);
        printf ("vapour-pressure,%d,%d,%.17g\n", t, s, water.vapour_pressure);
      }
  for (int t = 1; t <= 95; t += 2)
    {
      printf ("saturation,%d,%.17g\n", t, nappe_saturation_pressure (t));
      printf ("latent-heat,%d,%.17g\n", t, nappe_latent_heat (t));
    }
}

static void
print_friction (void)
{
  const double roughnesses[] = { 0.0, 1e-6, 5.6e-5, 1e-3, 1e-2, 0.05 };

  for (gsize r = 0; r < G_N_ELEMENTS (roughnesses); r++)
    for (int i = 0; i <= 140; i++)
      {
        double reynolds = pow (10.0, i / 20.0);
        const char *law = reynolds <= 2000.0   ? "friction-laminar"
                          : reynolds >= 4000.0 ? "friction-turbulent"
                                               : "friction-between";

        printf ("%s,%.17g,%.17g,%.17g\n", law, reynolds, roughnesses[r], nappe_friction_factor (reynolds, roughnesses[r]));
      }
}

static void
print_fittings (void)
{
  const double inches[] = { 0.5, 0.75, 1.0, 1.25, 1.5, 2.0, 3.0 };

  for (gsize i = 0; i < G_N_ELEMENTS (inches); i++)
    for (double reynolds = 1e3; reynolds < 2e6; reynolds *= 10.0)
      {
        printf ("darby,800,0.14,4,%.17g,%.17g,%.17g\n", inches[i], reynolds,
                nappe_k_darby (800, 0.14, 4, inches[i], reynolds));
        printf ("hooper,1500,4,%.17g,%.17g,%.17g\n", inches[i], reynolds,
                nappe_k_hooper (1500, 4, inches[i], reynolds));
      }
  for (int i = 1; i <= 20; i++)
    printf ("expansion,1,%.17g,%.17g\n", i / 20.0, nappe_k_expansion (1.0, i / 20.0));
  for (int i = 2; i <= 8; i++)
    printf ("plate,%.17g,%.17g\n", i / 10.0, nappe_k_plate (i / 10.0));
}

/* Hoses that turn by 30 to 180 degrees in arcs of 0.5 to 10 bores. */
static void
print_bends (void)
{
  const double bore = 0.0254, roughness = 6e-6, ratios[] = { 0.5, 1.0, 2.0, 4.0, 5.0, 10.0 };

  for (int degrees = 30; degrees <= 180; degrees += 30)
    for (gsize i = 0; i < G_N_ELEMENTS (ratios); i++)
      for (double reynolds = 4e3; reynolds < 2e6; reynolds *= 5.0)
        printf ("bend,%.17g,%d,%.17g,%.17g,%.17g,%.17g\n", bore, degrees, ratios[i] * bore, roughness, reynolds,
                nappe_bend_k (degrees * G_PI / 180.0, ratios[i], nappe_friction_factor (reynolds, roughness / bore)));
}

static void
print_weirs (void)
{
  const double lengths[] = { 0.2, 0.5, 2.0 }, heights[] = { 0.1, 0.4, 1.0 };

  for (gsize i = 0; i < G_N_ELEMENTS (lengths); i++)
    for (gsize j = 0; j < G_N_ELEMENTS (heights); j++)
      for (int mm = 5; mm <= 100; mm += 5)
        {
          NappeWeir weir = { .length = lengths[i], .height = heights[j], .open_share = 1.0 };

          printf ("weir,%.17g,%.17g,%.17g,%.17g\n", mm / 1000.0, heights[j], lengths[i],
                  nappe_weir_flow (&weir, mm / 1000.0, -1.0, NULL, NULL));
        }
}

/* A drain of 1 m of pipe, entrance, three elbows and exit, under 0.1 to 1 m of head. */
static void
print_full_drain (void)
{
  const double bores[] = { 0.0158, 0.0266, 0.0409, 0.0525 };
  NappeWater water;

  nappe_water_init (&water, 25.0, 35.0);
  for (gsize i = 0; i < G_N_ELEMENTS (bores); i++)
    for (int tenths = 1; tenths <= 10; tenths++)
      {
        NappeStretch drain = { .bore = bores[i], .length = 1.0, .roughness = 1.5e-6, .k = 0.5 + 3 * 0.6 + 1.0 };

        printf ("full-drain,%.17g,%.17g,%.17g,%.17g\n", tenths / 10.0, bores[i], drain.k,
                nappe_run_flow (&drain, 1, tenths / 10.0, &water, 0.0, NULL));
      }
  for (gsize i = 0; i < G_N_ELEMENTS (bores); i++)
    for (int r = 1; r <= 8; r++)
      printf ("stack,%.17g,%.17g,%.17g\n", bores[i], r / 24.0, nappe_stack_flow (bores[i], r / 24.0));
}

static void
print_manning (void)
{
  for (int i = 1; i <= 20; i++)
    printf ("manning,0.05,%.17g,0.02,0.009,%.17g\n", 0.05 * i / 20.0, nappe_manning_flow (0.05, 0.05 * i / 20.0, 0.02, 0.009));
}

static void
print_pump (void)
{
  const double flows[] = { 0.0, 2e-4, 5e-4, 8e-4, 1.1e-3 }, heads[] = { 3.6, 3.4, 2.8, 1.7, 0.0 };
  NappePumpCurve curve;
  NappeWater water;
  NappeStretch line = { .bore = 0.0266, .length = 3.0, .roughness = 1.5e-6, .k = 4.5 };

  nappe_water_init (&water, 25.0, 35.0);
  if (!nappe_pump_curve_init (&curve, flows, heads, G_N_ELEMENTS (flows)))
    return;
  for (int i = 0; i < 110; i++)
    printf ("pump,%.17g,%.17g\n", i * 1e-5, nappe_pump_head (&curve, i * 1e-5, 1.0, 1.0, NULL));
  for (int percent = 50; percent <= 120; percent += 10)
    {
      double speed = percent / 100.0, low = 0.0, high = 2e-3;

      for (int step = 0; step < 100; step++)
        {
          double flow = 0.5 * (low + high);
          double excess = nappe_pump_head (&curve, flow, speed, 0.9, NULL) - 0.6 - nappe_stretch_head (&line, flow, &water);

          if (excess > 0.0)
            low = flow;
          else
            high = flow;
        }
      printf ("operating-point,%.17g,0.9,0.6,%.17g\n", speed, low);
    }
}

static void
print_evaporation (void)
{
  for (int t = 15; t <= 35; t += 5)
    for (int room = 15; room <= 30; room += 5)
      for (int percent = 20; percent <= 60; percent += 20)
        {
          NappeWater water;
          NappeAir air = { .temperature = room, .humidity = percent / 100.0, .speed = 0.1 };

          nappe_water_init (&water, t, 35.0);
          printf ("carrier,%d,%d,%.17g,%.17g\n", t, room, air.humidity, nappe_evaporation_carrier (&water, &air));
          printf ("shah,%d,%d,%.17g,%.17g\n", t, room, air.humidity, nappe_evaporation_shah (&water, &air));
        }
}

static void
print_plates (void)
{
  const double ratios[] = { 0.6, 1.0, 1.7, 2.4, 3.0, 4.0 };

  for (gsize i = 0; i < G_N_ELEMENTS (ratios); i++)
    for (int top_free = 0; top_free < 2; top_free++)
      for (int even = 0; even < 2; even++)
        {
          NappePlate plate = { .length = ratios[i], .height = 1, .thickness = 1, .elasticity = 1, .poisson = 0.23,
                               .load_bottom = 1, .load_top = even, .top_free = top_free };
          NappePlateResult result;

          nappe_plate_solve (&plate, &result);
          printf ("plate-middle,%.17g,%d,%d,%.17g\n", ratios[i], top_free, even, result.stress_middle);
          printf ("plate-anywhere,%.17g,%d,%d,%.17g\n", ratios[i], top_free, even, result.stress);
          printf ("plate-deflection,%.17g,%d,%d,%.17g\n", ratios[i], top_free, even, result.deflection);
        }
}

int
main (void)
{
  setlocale (LC_ALL, "C");
  print_water ();
  print_friction ();
  print_fittings ();
  print_bends ();
  print_weirs ();
  print_full_drain ();
  print_manning ();
  print_pump ();
  print_evaporation ();
  print_plates ();
  return 0;
}
