/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "published-rows.h"

#include "physics/water.h"

#define INCH 0.0254
#define FOOT 0.3048
#define GPM (3.785411784e-3 / 60.0)
#define CUBIC_FOOT (FOOT * FOOT * FOOT)

/* Input of the row at hand. */
#define IN(name) published_row_input (row, name)

/* How to find what a row holds: the first law whose prefix begins the row's id. */
typedef struct {
  const char *prefix; /* NULL ends a table */
  double (*law) (const PublishedRow *row);
} PublishedLaw;

extern const PublishedLaw published_pipe_laws[];
extern const PublishedLaw published_open_laws[];
extern const PublishedLaw published_water_laws[];
extern const PublishedLaw published_pump_laws[];
extern const PublishedLaw published_surface_laws[];

double published_area (double bore);

/* Water of which only the viscosity [m2/s] matters. */
NappeWater published_water_of_kinematic (double kinematic);

/* 25 °C, 35 g/kg. */
NappeWater published_usual_seawater (void);

/* Where a function that falls through 0 between low and high does so. */
double published_falling_root (double (*function) (double x, const PublishedRow *row),
                               const PublishedRow *row,
                               double              low,
                               double              high);
