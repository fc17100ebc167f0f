/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/*
 * Every number of the program is kept in SI. This is the one place where a number
 * meets a file (fixed metric unit, C locale) or a person (chosen units, locale).
 */

typedef enum {
  NAPPE_QUANTITY_NUMBER,      /* plain number, no unit */
  NAPPE_QUANTITY_COUNT,       /* whole number of things, >= 0 */
  NAPPE_QUANTITY_SHARE,       /* 0..1 inside; percent in files and on screen */
  NAPPE_QUANTITY_LENGTH,      /* [m]; file mm */
  NAPPE_QUANTITY_AREA,        /* [m2]; file m2 */
  NAPPE_QUANTITY_VOLUME,      /* [m3]; file litres */
  NAPPE_QUANTITY_FLOW,        /* [m3/s]; file litres per hour */
  NAPPE_QUANTITY_SPEED,       /* [m/s]; file m/s */
  NAPPE_QUANTITY_HEAD,        /* [m] of the water at hand; file metres */
  NAPPE_QUANTITY_ANGLE,       /* [degrees], inside too */
  NAPPE_QUANTITY_TEMPERATURE, /* [°C], inside too */
  NAPPE_QUANTITY_SALINITY,    /* [g/kg], inside too */
  NAPPE_QUANTITY_POWER,       /* [W] */
  NAPPE_QUANTITY_VOLTAGE,     /* [V] */
  NAPPE_QUANTITY_MASS,        /* [kg] */
  NAPPE_QUANTITY_DENSITY,     /* [kg/m3] */
  NAPPE_QUANTITY_RATE,        /* [1/s], such as turnover; file and screen per hour */
  NAPPE_QUANTITY_DURATION,    /* [s] */
  NAPPE_QUANTITY_PRESSURE,    /* [Pa]; file and screen kPa */
  NAPPE_QUANTITY_N            /* number of quantities, not a quantity */
} NappeQuantity;

typedef enum {
  NAPPE_UNITS_METRIC, /* mm, L, L/h, °C, kg */
  NAPPE_UNITS_US      /* in, US gal (231 in3), gal/h, °F, lb */
} NappeUnitSystem;

#define NAPPE_UNITS_ERROR (nappe_units_error_quark ())
GQuark nappe_units_error_quark (void);

typedef enum {
  NAPPE_UNITS_ERROR_EMPTY,          /* nothing but space */
  NAPPE_UNITS_ERROR_NOT_A_NUMBER,   /* unreadable, or readable in two ways ("1,250") */
  NAPPE_UNITS_ERROR_UNKNOWN_UNIT,   /* a number, then a unit not known here */
  NAPPE_UNITS_ERROR_WRONG_QUANTITY, /* a known unit, of another quantity */
  NAPPE_UNITS_ERROR_OUT_OF_RANGE    /* too large for any tank, or below absolute zero */
} NappeUnitsError;

/* Ending of a member name in a file: "mm", "litres", "litres_per_hour", "percent", …;
 * "" for NUMBER and COUNT. Never NULL. Static. */
const char *nappe_quantity_file_suffix (NappeQuantity quantity);

/* in_file_unit: number as written in the file. Returns SI, correctly rounded. */
double nappe_quantity_from_file (NappeQuantity quantity,
                                 double        in_file_unit);

/* Returns a number v in the file's unit with nappe_quantity_from_file (v) == si whenever
 * there is one (always for an si that came from a file), preferring few decimal digits. */
double nappe_quantity_to_file (NappeQuantity quantity,
                               double        si);

/* The shortest decimal text that reads back as exactly si; C locale, "508" not "508.0".
 * When no text of 17 digits does, the nearest one. si must be finite; a number that is not
 * gives "0" and a critical message. (transfer full) */
char *nappe_quantity_file_text (NappeQuantity quantity,
                                double        si);

/* The value nearest to si that nappe_quantity_file_text writes without loss, so that saving
 * and opening again changes nothing. Idempotent. */
double nappe_quantity_snap (NappeQuantity quantity,
                            double        si);

/* Reads what a person typed: "25", "25 mm", "1 1/4 in", "1-1/4\"", "2 ft 6 in", "600 gal/h",
 * "50 %", "1,5 m". Decimal sign: '.' or the locale's or ','; digits may be grouped by spaces.
 * A bare number is in the system's display unit.
 * si: (out) the value in SI, untouched on error. Errors: NAPPE_UNITS_ERROR. */
gboolean nappe_quantity_parse (NappeQuantity   quantity,
                               const char     *text,
                               NappeUnitSystem system,
                               double         *si,
                               GError        **error);

/* A number whose unit stands apart from it, as in the heading of a table: "L/h", "gpm", "m³/h".
 * si: (out) the value in SI, untouched on error. Errors: NAPPE_UNITS_ERROR, for a unit that is not known or of another
 * quantity. */
gboolean nappe_quantity_from_unit (NappeQuantity quantity,
                                   double        number,
                                   const char   *unit,
                                   double       *si,
                                   GError      **error);

/* Value, thin space (U+2009; none before % and °, narrow no-break U+202F before °C), unit. Locale's
 * decimal sign, thousands by thin space ("1 250"), minus U+2212. Never "-0".
 * significant: digits wanted; <= 0 for the quantity's usual resolution (lengths 1 mm or 0.1 in,
 * flows 3 significant digits, volumes 0.1 L, speeds 0.01 m/s, heads 0.01 m, temperatures 0.1,
 * shares 1 %). Infinite gives "∞", not-a-number gives "—". (transfer full) */
char *nappe_quantity_format (NappeQuantity   quantity,
                             double          si,
                             NappeUnitSystem system,
                             int             significant);

/* The same without the unit. (transfer full) */
char *nappe_quantity_format_number (NappeQuantity   quantity,
                                    double          si,
                                    NappeUnitSystem system,
                                    int             significant);

/* A text for a narrow place, whose numbers keep their digits and their unit on one line: thin spaces become narrow
 * no-break ones (U+202F), and word joiners (U+2060) hold a dash between two numbers. For showing alone, not for searching
 * in. (transfer full) */
char *nappe_text_unbroken (const char *text);

/* Display unit: "mm", "in", "L/h", "%", …; "" for NUMBER and COUNT. Static, not translated. */
const char *nappe_quantity_unit (NappeQuantity   quantity,
                                 NappeUnitSystem system);

/* SI to the number shown in the display unit, and back. */
double nappe_quantity_to_display (NappeQuantity   quantity,
                                  double          si,
                                  NappeUnitSystem system);
double nappe_quantity_from_display (NappeQuantity   quantity,
                                    double          displayed,
                                    NappeUnitSystem system);

G_END_DECLS
