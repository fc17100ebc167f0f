/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "picture/palette.h"

#include <math.h>

typedef struct
{
  guint32 rgb;
  double alpha;
} Tint;

/* Text roles keep 4.5 : 1 against PAPER and PLATE, the numbers on marks against their mark. The
 * problem's amber is light and its number dark, so that the three severities differ in lightness
 * for people who do not tell red from green. */
static const Tint light[NAPPE_ROLE_N] = {
  [NAPPE_ROLE_PAPER] = { 0xFAF8F3, 1 },
  [NAPPE_ROLE_INK] = { 0x22303A, 1 },
  [NAPPE_ROLE_SOFT] = { 0x586974, 1 },
  [NAPPE_ROLE_HAIR] = { 0xC2CBD0, 1 },
  [NAPPE_ROLE_PLATE] = { 0xFDFCF9, 1 },
  [NAPPE_ROLE_WATER_TOP] = { 0xB4DCE2, 1 },
  [NAPPE_ROLE_WATER_DEEP] = { 0x6FB3C3, 1 },
  [NAPPE_ROLE_SURFACE] = { 0x136F86, 1 },
  [NAPPE_ROLE_MOVING] = { 0x2F97AF, 1 },
  [NAPPE_ROLE_TRICKLE] = { 0xA9CBE0, 1 },
  [NAPPE_ROLE_AIR] = { 0xF7F9F9, 1 },
  [NAPPE_ROLE_ARROW] = { 0xFFFFFF, 1 },
  [NAPPE_ROLE_GLASS] = { 0xCFE3DB, 1 },
  [NAPPE_ROLE_ACRYLIC] = { 0xDDE8EE, 1 },
  [NAPPE_ROLE_PVC] = { 0xEEF1F2, 1 },
  [NAPPE_ROLE_STAND] = { 0xE3DBCB, 1 },
  [NAPPE_ROLE_STAND_INSIDE] = { 0xF1ECE1, 1 },
  [NAPPE_ROLE_ROCK] = { 0x4C6B75, 0.30 },
  [NAPPE_ROLE_EQUIPMENT] = { 0xFFFFFF, 1 },
  [NAPPE_ROLE_OTHER_STATE] = { 0x9C67C4, 1 },
  [NAPPE_ROLE_OTHER_TEXT] = { 0x7B4B94, 1 },
  [NAPPE_ROLE_DANGER] = { 0xC23E26, 1 },
  [NAPPE_ROLE_PROBLEM] = { 0xEAAA2E, 1 },
  [NAPPE_ROLE_ADVICE] = { 0x2F66B0, 1 },
  [NAPPE_ROLE_ON_DANGER] = { 0xFFFFFF, 1 },
  [NAPPE_ROLE_ON_PROBLEM] = { 0x22303A, 1 },
  [NAPPE_ROLE_ON_ADVICE] = { 0xFFFFFF, 1 },
  [NAPPE_ROLE_SELECTED] = { 0x136F86, 0.22 },
};

static const Tint dark[NAPPE_ROLE_N] = {
  [NAPPE_ROLE_PAPER] = { 0x1B2226, 1 },
  [NAPPE_ROLE_INK] = { 0xE4E9EA, 1 },
  [NAPPE_ROLE_SOFT] = { 0x9DADB5, 1 },
  [NAPPE_ROLE_HAIR] = { 0x3B474E, 1 },
  [NAPPE_ROLE_PLATE] = { 0x20282D, 1 },
  [NAPPE_ROLE_WATER_TOP] = { 0x2E6F80, 1 },
  [NAPPE_ROLE_WATER_DEEP] = { 0x1D4C5C, 1 },
  [NAPPE_ROLE_SURFACE] = { 0x7FD3E3, 1 },
  [NAPPE_ROLE_MOVING] = { 0x57C4DA, 1 },
  [NAPPE_ROLE_TRICKLE] = { 0x3F7F8E, 1 },
  [NAPPE_ROLE_AIR] = { 0x263036, 1 },
  [NAPPE_ROLE_ARROW] = { 0x14272E, 1 },
  [NAPPE_ROLE_GLASS] = { 0x3B5458, 1 },
  [NAPPE_ROLE_ACRYLIC] = { 0x40525C, 1 },
  [NAPPE_ROLE_PVC] = { 0x3A454B, 1 },
  [NAPPE_ROLE_STAND] = { 0x34393A, 1 },
  [NAPPE_ROLE_STAND_INSIDE] = { 0x23292C, 1 },
  [NAPPE_ROLE_ROCK] = { 0x9FB8BC, 0.22 },
  [NAPPE_ROLE_EQUIPMENT] = { 0x2A3338, 1 },
  [NAPPE_ROLE_OTHER_STATE] = { 0xC397F0, 1 },
  [NAPPE_ROLE_OTHER_TEXT] = { 0xC397F0, 1 },
  [NAPPE_ROLE_DANGER] = { 0xF96B4B, 1 },
  [NAPPE_ROLE_PROBLEM] = { 0xFFDC80, 1 },
  [NAPPE_ROLE_ADVICE] = { 0x7FB2FF, 1 },
  [NAPPE_ROLE_ON_DANGER] = { 0x1B2226, 1 },
  [NAPPE_ROLE_ON_PROBLEM] = { 0x1B2226, 1 },
  [NAPPE_ROLE_ON_ADVICE] = { 0x1B2226, 1 },
  [NAPPE_ROLE_SELECTED] = { 0x7FD3E3, 0.24 },
};

/* Only what print changes against light: white paper and lighter tints. */
static const Tint print[NAPPE_ROLE_N] = {
  [NAPPE_ROLE_PAPER] = { 0xFFFFFF, 1 },
  [NAPPE_ROLE_INK] = { 0x1C272F, 1 },
  [NAPPE_ROLE_SOFT] = { 0x52626C, 1 },
  [NAPPE_ROLE_PLATE] = { 0xFFFFFF, 1 },
  [NAPPE_ROLE_WATER_TOP] = { 0xD2EBEF, 1 },
  [NAPPE_ROLE_WATER_DEEP] = { 0x9DCFDA, 1 },
  [NAPPE_ROLE_MOVING] = { 0x3F9FB6, 1 },
  [NAPPE_ROLE_TRICKLE] = { 0xB4D4EA, 1 },
  [NAPPE_ROLE_AIR] = { 0xFFFFFF, 1 },
  [NAPPE_ROLE_GLASS] = { 0xE0EEE8, 1 },
  [NAPPE_ROLE_ACRYLIC] = { 0xE8EFF3, 1 },
  [NAPPE_ROLE_PVC] = { 0xF6F8F8, 1 },
  [NAPPE_ROLE_STAND] = { 0xEFE9DD, 1 },
  [NAPPE_ROLE_STAND_INSIDE] = { 0xF9F7F2, 1 },
  [NAPPE_ROLE_ROCK] = { 0x4C6B75, 0.22 },
};

/* Only what strong contrast changes against light: letters keep 7 : 1, lines 3 : 1. */
static const Tint light_contrast[NAPPE_ROLE_N] = {
  [NAPPE_ROLE_PAPER] = { 0xFFFFFF, 1 },
  [NAPPE_ROLE_INK] = { 0x0B1216, 1 },
  [NAPPE_ROLE_SOFT] = { 0x33424B, 1 },
  [NAPPE_ROLE_HAIR] = { 0x6B7A83, 1 },
  [NAPPE_ROLE_PLATE] = { 0xFFFFFF, 1 },
  [NAPPE_ROLE_SURFACE] = { 0x0A4A5C, 1 },
  [NAPPE_ROLE_MOVING] = { 0x14687F, 1 },
  [NAPPE_ROLE_TRICKLE] = { 0x84BFCC, 1 },
  [NAPPE_ROLE_AIR] = { 0xFFFFFF, 1 },
  [NAPPE_ROLE_STAND] = { 0xD8CDB8, 1 },
  [NAPPE_ROLE_STAND_INSIDE] = { 0xF8F5EF, 1 },
  [NAPPE_ROLE_ROCK] = { 0x2F4A54, 0.45 },
  [NAPPE_ROLE_OTHER_STATE] = { 0x8E50B2, 1 },
  [NAPPE_ROLE_OTHER_TEXT] = { 0x5A2C75, 1 },
  [NAPPE_ROLE_DANGER] = { 0xA3240E, 1 },
  [NAPPE_ROLE_ADVICE] = { 0x1E4C8C, 1 },
  [NAPPE_ROLE_ON_PROBLEM] = { 0x0B1216, 1 },
  [NAPPE_ROLE_SELECTED] = { 0x0A4A5C, 0.40 },
};

/* The same against dark. */
static const Tint dark_contrast[NAPPE_ROLE_N] = {
  [NAPPE_ROLE_PAPER] = { 0x0B0F11, 1 },
  [NAPPE_ROLE_INK] = { 0xFFFFFF, 1 },
  [NAPPE_ROLE_SOFT] = { 0xD3DDE1, 1 },
  [NAPPE_ROLE_HAIR] = { 0x7C8B94, 1 },
  [NAPPE_ROLE_PLATE] = { 0x11171A, 1 },
  [NAPPE_ROLE_SURFACE] = { 0xA8E8F3, 1 },
  [NAPPE_ROLE_MOVING] = { 0x7FDDF0, 1 },
  [NAPPE_ROLE_AIR] = { 0x11171A, 1 },
  [NAPPE_ROLE_ARROW] = { 0x0B0F11, 1 },
  [NAPPE_ROLE_STAND] = { 0x474E50, 1 },
  [NAPPE_ROLE_STAND_INSIDE] = { 0x171C1F, 1 },
  [NAPPE_ROLE_EQUIPMENT] = { 0x1A2125, 1 },
  [NAPPE_ROLE_OTHER_STATE] = { 0xCF9AE8, 1 },
  [NAPPE_ROLE_OTHER_TEXT] = { 0xCF9AE8, 1 },
  [NAPPE_ROLE_DANGER] = { 0xFF8062, 1 },
  [NAPPE_ROLE_PROBLEM] = { 0xFFE7A3, 1 },
  [NAPPE_ROLE_ADVICE] = { 0x8FBCFF, 1 },
  [NAPPE_ROLE_ON_DANGER] = { 0x0B0F11, 1 },
  [NAPPE_ROLE_ON_PROBLEM] = { 0x0B0F11, 1 },
  [NAPPE_ROLE_ON_ADVICE] = { 0x0B0F11, 1 },
  [NAPPE_ROLE_SELECTED] = { 0xA8E8F3, 0.42 },
};

static const struct
{
  const Tint *all, *changes; /* NULL: none */
} palettes[NAPPE_PALETTE_N] = {
  [NAPPE_PALETTE_LIGHT] = { light, NULL },
  [NAPPE_PALETTE_DARK] = { dark, NULL },
  [NAPPE_PALETTE_PRINT] = { light, print },
  [NAPPE_PALETTE_LIGHT_CONTRAST] = { light, light_contrast },
  [NAPPE_PALETTE_DARK_CONTRAST] = { dark, dark_contrast },
};

static NappeColour
colour_from (Tint tint)
{
  NappeColour colour = { ((tint.rgb >> 16) & 0xFF) / 255.0, ((tint.rgb >> 8) & 0xFF) / 255.0, (tint.rgb & 0xFF) / 255.0,
                         tint.alpha };
  return colour;
}

NappeColour
nappe_palette_colour (NappePaletteKind palette, NappeRole role)
{
  if (role <= NAPPE_ROLE_NONE || role >= NAPPE_ROLE_N)
    return (NappeColour) { 0, 0, 0, 0 };
  if (palettes[palette].changes != NULL && palettes[palette].changes[role].alpha > 0)
    return colour_from (palettes[palette].changes[role]);
  return colour_from (palettes[palette].all[role]);
}

/* WCAG 2.1, relative luminance. */
static double
linear (double channel)
{
  return channel <= 0.03928 ? channel / 12.92 : pow ((channel + 0.055) / 1.055, 2.4);
}

static double
luminance (NappeColour colour)
{
  return 0.2126 * linear (colour.red) + 0.7152 * linear (colour.green) + 0.0722 * linear (colour.blue);
}

double
nappe_colour_contrast (NappeColour a, NappeColour b)
{
  double first = luminance (a) + 0.05, second = luminance (b) + 0.05;
  return first > second ? first / second : second / first;
}

NappeRole
nappe_severity_role (NappeSeverity severity)
{
  switch (severity)
    {
    case NAPPE_SEVERITY_DANGER:
      return NAPPE_ROLE_DANGER;
    case NAPPE_SEVERITY_PROBLEM:
      return NAPPE_ROLE_PROBLEM;
    case NAPPE_SEVERITY_ADVICE:
      return NAPPE_ROLE_ADVICE;
    case NAPPE_SEVERITY_FINE:
    default:
      return NAPPE_ROLE_SOFT;
    }
}

NappeRole
nappe_severity_text_role (NappeSeverity severity)
{
  switch (severity)
    {
    case NAPPE_SEVERITY_DANGER:
      return NAPPE_ROLE_ON_DANGER;
    case NAPPE_SEVERITY_PROBLEM:
      return NAPPE_ROLE_ON_PROBLEM;
    case NAPPE_SEVERITY_ADVICE:
      return NAPPE_ROLE_ON_ADVICE;
    case NAPPE_SEVERITY_FINE:
    default:
      return NAPPE_ROLE_PAPER;
    }
}
