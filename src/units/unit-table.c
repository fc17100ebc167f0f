/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "units/unit-table.h"

#include <glib/gi18n-lib.h>
#include <string.h>

/*
 * Factors are exact by definition: inch 25.4 mm, pound 0.45359237 kg (international yard and pound agreement, 1959),
 * US gallon 231 in3, standard gravity 9.80665 m/s2 (so pound-force 4.4482216152605 N); all in NIST SP 811. They are
 * written as whole numbers where they can be, so that 3/4 in is 19.05 mm to the last bit.
 */
#define GALLON 3785411784.0 /* in 1e-12 m3 */

enum {
  UNIT_ONE, UNIT_PERCENT,
  UNIT_MM, UNIT_M, UNIT_IN, UNIT_FT,
  UNIT_M2, UNIT_FT2,
  UNIT_LITRE, UNIT_GALLON,
  UNIT_LITRE_HOUR, UNIT_GALLON_HOUR,
  UNIT_M_S, UNIT_FT_S,
  UNIT_DEGREE, UNIT_CELSIUS, UNIT_FAHRENHEIT, UNIT_G_KG,
  UNIT_WATT, UNIT_VOLT,
  UNIT_KG, UNIT_POUND,
  UNIT_KG_M3, UNIT_POUND_FT3,
  UNIT_PER_HOUR, UNIT_SECOND,
  UNIT_KPA, UNIT_PSI,
  UNIT_ONLY_TYPED, /* from here on: understood, never shown */
};

static const NappeUnit units[] = {
  [UNIT_ONE] = { NAPPE_QUANTITY_NUMBER, "", "", 1, 1, 0 },
  [UNIT_PERCENT] = { NAPPE_QUANTITY_SHARE, "%", "|%|percent|per cent|", 1, 100, 0 },

  [UNIT_MM] = { NAPPE_QUANTITY_LENGTH, "mm", "|mm|millimetre|millimetres|millimeter|millimeters|", 1, 1000, 0 },
  [UNIT_M] = { NAPPE_QUANTITY_LENGTH, "m", "|m|metre|metres|meter|meters|", 1, 1, 0 },
  [UNIT_IN] = { NAPPE_QUANTITY_LENGTH, "in", "|in|in.|inch|inches|\"|″|′′|''|”|", 254, 1e4, 0 },
  [UNIT_FT] = { NAPPE_QUANTITY_LENGTH, "ft", "|ft|ft.|foot|feet|'|′|’|", 3048, 1e4, 0 },

  [UNIT_M2] = { NAPPE_QUANTITY_AREA, "m²", "|m2|", 1, 1, 0 },
  [UNIT_FT2] = { NAPPE_QUANTITY_AREA, "ft²", "|ft2|sq ft|", 9290304, 1e8, 0 },

  [UNIT_LITRE] = { NAPPE_QUANTITY_VOLUME, "L", "|l|litre|litres|liter|liters|", 1, 1000, 0 },
  [UNIT_GALLON] = { NAPPE_QUANTITY_VOLUME, "gal", "|gal|us gal|gallon|gallons|", GALLON, 1e12, 0 },

  [UNIT_LITRE_HOUR] = { NAPPE_QUANTITY_FLOW, "L/h", "|l/h|l/hr|lph|litres per hour|liters per hour|", 1, 3.6e6, 0 },
  [UNIT_GALLON_HOUR] = { NAPPE_QUANTITY_FLOW, "gal/h", "|gal/h|gal/hr|gph|gallons per hour|", GALLON, 3.6e15, 0 },

  [UNIT_M_S] = { NAPPE_QUANTITY_SPEED, "m/s", "|m/s|", 1, 1, 0 },
  [UNIT_FT_S] = { NAPPE_QUANTITY_SPEED, "ft/s", "|ft/s|", 3048, 1e4, 0 },

  [UNIT_DEGREE] = { NAPPE_QUANTITY_ANGLE, "°", "|°|deg|degree|degrees|", 1, 1, 0 },
  [UNIT_CELSIUS] = { NAPPE_QUANTITY_TEMPERATURE, "°C", "|°c|° c|c|celsius|", 1, 1, 0 },
  [UNIT_FAHRENHEIT] = { NAPPE_QUANTITY_TEMPERATURE, "°F", "|°f|° f|f|fahrenheit|", 5, 9, -32 },
  [UNIT_G_KG] = { NAPPE_QUANTITY_SALINITY, "g/kg", "|g/kg|‰|ppt|psu|", 1, 1, 0 },

  [UNIT_WATT] = { NAPPE_QUANTITY_POWER, "W", "|w|watt|watts|", 1, 1, 0 },
  [UNIT_VOLT] = { NAPPE_QUANTITY_VOLTAGE, "V", "|v|volt|volts|", 1, 1, 0 },

  [UNIT_KG] = { NAPPE_QUANTITY_MASS, "kg", "|kg|", 1, 1, 0 },
  [UNIT_POUND] = { NAPPE_QUANTITY_MASS, "lb", "|lb|lbs|pound|pounds|", 45359237, 1e8, 0 },

  [UNIT_KG_M3] = { NAPPE_QUANTITY_DENSITY, "kg/m³", "|kg/m3|", 1, 1, 0 },
  [UNIT_POUND_FT3] = { NAPPE_QUANTITY_DENSITY, "lb/ft³", "|lb/ft3|", 453592370000, 28316846592, 0 },

  [UNIT_PER_HOUR] = { NAPPE_QUANTITY_RATE, "/h", "|/h|/hr|per h|per hour|times per hour|", 1, 3600, 0 },
  [UNIT_SECOND] = { NAPPE_QUANTITY_DURATION, "s", "|s|sec|second|seconds|", 1, 1, 0 },

  [UNIT_KPA] = { NAPPE_QUANTITY_PRESSURE, "kPa", "|kpa|", 1000, 1, 0 },
  [UNIT_PSI] = { NAPPE_QUANTITY_PRESSURE, "psi", "|psi|", 44482216152605, 6451600000, 0 },

  [UNIT_ONLY_TYPED] = { NAPPE_QUANTITY_LENGTH, "cm", "|cm|centimetre|centimetres|centimeter|centimeters|", 1, 100, 0 },
  { NAPPE_QUANTITY_AREA, "cm²", "|cm2|", 1, 1e4, 0 },
  { NAPPE_QUANTITY_AREA, "mm²", "|mm2|", 1, 1e6, 0 },
  { NAPPE_QUANTITY_AREA, "in²", "|in2|sq in|", 64516, 1e8, 0 },
  { NAPPE_QUANTITY_VOLUME, "mL", "|ml|cm3|", 1, 1e6, 0 },
  { NAPPE_QUANTITY_VOLUME, "m³", "|m3|", 1, 1, 0 },
  { NAPPE_QUANTITY_VOLUME, "in³", "|in3|cu in|", 16387064, 1e12, 0 },
  { NAPPE_QUANTITY_VOLUME, "ft³", "|ft3|cu ft|", 28316846592, 1e12, 0 },
  { NAPPE_QUANTITY_FLOW, "L/min", "|l/min|lpm|", 1, 6e4, 0 },
  { NAPPE_QUANTITY_FLOW, "L/s", "|l/s|", 1, 1000, 0 },
  { NAPPE_QUANTITY_FLOW, "mL/min", "|ml/min|", 1, 6e7, 0 },
  { NAPPE_QUANTITY_FLOW, "L/d", "|l/d|l/day|", 1, 8.64e7, 0 },
  { NAPPE_QUANTITY_FLOW, "m³/h", "|m3/h|", 1, 3600, 0 },
  { NAPPE_QUANTITY_FLOW, "m³/s", "|m3/s|", 1, 1, 0 },
  { NAPPE_QUANTITY_FLOW, "gal/min", "|gal/min|gpm|", GALLON, 6e13, 0 },
  { NAPPE_QUANTITY_FLOW, "ft³/s", "|ft3/s|cfs|", 28316846592, 1e12, 0 },
  { NAPPE_QUANTITY_SPEED, "cm/s", "|cm/s|", 1, 100, 0 },
  { NAPPE_QUANTITY_SPEED, "mm/s", "|mm/s|", 1, 1000, 0 },
  { NAPPE_QUANTITY_SPEED, "in/s", "|in/s|", 254, 1e4, 0 },
  { NAPPE_QUANTITY_SPEED, "ft/min", "|ft/min|", 3048, 6e5, 0 },
  { NAPPE_QUANTITY_POWER, "kW", "|kw|", 1000, 1, 0 },
  { NAPPE_QUANTITY_MASS, "g", "|g|", 1, 1000, 0 },
  { NAPPE_QUANTITY_MASS, "t", "|t|", 1000, 1, 0 },
  { NAPPE_QUANTITY_MASS, "oz", "|oz|", 28349523125, 1e12, 0 },
  { NAPPE_QUANTITY_DENSITY, "g/cm³", "|g/cm3|g/ml|kg/l|", 1000, 1, 0 },
  { NAPPE_QUANTITY_RATE, "/d", "|/d|/day|per day|", 1, 86400, 0 },
  { NAPPE_QUANTITY_RATE, "/min", "|/min|per minute|", 1, 60, 0 },
  { NAPPE_QUANTITY_RATE, "/s", "|/s|per second|", 1, 1, 0 },
  { NAPPE_QUANTITY_DURATION, "ms", "|ms|", 1, 1000, 0 },
  { NAPPE_QUANTITY_DURATION, "min", "|min|minute|minutes|", 60, 1, 0 },
  { NAPPE_QUANTITY_DURATION, "h", "|h|hr|hrs|hour|hours|", 3600, 1, 0 },
  { NAPPE_QUANTITY_DURATION, "d", "|d|day|days|", 86400, 1, 0 },
  { NAPPE_QUANTITY_PRESSURE, "Pa", "|pa|", 1, 1, 0 },
  { NAPPE_QUANTITY_PRESSURE, "mbar", "|mbar|hpa|", 100, 1, 0 },
  { NAPPE_QUANTITY_PRESSURE, "bar", "|bar|", 1e5, 1, 0 },
};

#define UNIT(name) (&units[UNIT_##name])

static const NappeQuantityTraits traits[NAPPE_QUANTITY_N] = {
  [NAPPE_QUANTITY_NUMBER] = { "", UNIT (ONE), { UNIT (ONE), UNIT (ONE) }, { -1, -1 }, 4,
    N_("a plain number"), N_("12.5") },
  [NAPPE_QUANTITY_COUNT] = { "", UNIT (ONE), { UNIT (ONE), UNIT (ONE) }, { 0, 0 }, 0,
    N_("a whole number"), N_("12") },
  [NAPPE_QUANTITY_SHARE] = { "percent", UNIT (PERCENT), { UNIT (PERCENT), UNIT (PERCENT) }, { 0, 0 }, 0,
    N_("a share"), N_("50 %") },
  [NAPPE_QUANTITY_LENGTH] = { "mm", UNIT (MM), { UNIT (MM), UNIT (IN) }, { 0, 1 }, 0,
    N_("a length"), N_("300 mm or 12 in") },
  [NAPPE_QUANTITY_AREA] = { "m2", UNIT (M2), { UNIT (M2), UNIT (FT2) }, { -1, -1 }, 3,
    N_("an area"), N_("0.5 m² or 5 ft²") },
  [NAPPE_QUANTITY_VOLUME] = { "litres", UNIT (LITRE), { UNIT (LITRE), UNIT (GALLON) }, { 1, 1 }, 0,
    N_("a volume"), N_("100 L or 25 gal") },
  [NAPPE_QUANTITY_FLOW] = { "litres_per_hour", UNIT (LITRE_HOUR), { UNIT (LITRE_HOUR), UNIT (GALLON_HOUR) },
    { -1, -1 }, 3, N_("a flow"), N_("2000 L/h or 500 gal/h") },
  [NAPPE_QUANTITY_SPEED] = { "m_per_s", UNIT (M_S), { UNIT (M_S), UNIT (FT_S) }, { 2, 2 }, 0,
    N_("a speed"), N_("0.5 m/s or 1.5 ft/s") },
  [NAPPE_QUANTITY_HEAD] = { "metres", UNIT (M), { UNIT (M), UNIT (FT) }, { 2, 2 }, 0,
    N_("a head of water"), N_("2 m or 6 ft") },
  [NAPPE_QUANTITY_ANGLE] = { "degrees", UNIT (DEGREE), { UNIT (DEGREE), UNIT (DEGREE) }, { 0, 0 }, 0,
    N_("an angle"), N_("45°") },
  [NAPPE_QUANTITY_TEMPERATURE] = { "celsius", UNIT (CELSIUS), { UNIT (CELSIUS), UNIT (FAHRENHEIT) }, { 1, 1 }, 0,
    N_("a temperature"), N_("25 °C or 77 °F") },
  [NAPPE_QUANTITY_SALINITY] = { "g_per_kg", UNIT (G_KG), { UNIT (G_KG), UNIT (G_KG) }, { 1, 1 }, 0,
    N_("a salinity"), N_("35 g/kg") },
  [NAPPE_QUANTITY_POWER] = { "watts", UNIT (WATT), { UNIT (WATT), UNIT (WATT) }, { -1, -1 }, 3,
    N_("a power"), N_("40 W") },
  [NAPPE_QUANTITY_VOLTAGE] = { "volts", UNIT (VOLT), { UNIT (VOLT), UNIT (VOLT) }, { -1, -1 }, 3,
    N_("a voltage"), N_("24 V") },
  [NAPPE_QUANTITY_MASS] = { "kg", UNIT (KG), { UNIT (KG), UNIT (POUND) }, { -1, -1 }, 3,
    N_("a mass"), N_("12 kg or 26 lb") },
  [NAPPE_QUANTITY_DENSITY] = { "kg_per_m3", UNIT (KG_M3), { UNIT (KG_M3), UNIT (POUND_FT3) }, { -1, -1 }, 4,
    N_("a density"), N_("1023 kg/m³") },
  [NAPPE_QUANTITY_RATE] = { "per_hour", UNIT (PER_HOUR), { UNIT (PER_HOUR), UNIT (PER_HOUR) }, { 1, 1 }, 0,
    N_("a rate"), N_("10 per hour") },
  [NAPPE_QUANTITY_DURATION] = { "seconds", UNIT (SECOND), { UNIT (SECOND), UNIT (SECOND) }, { -1, -1 }, 3,
    N_("a time"), N_("90 s or 1 h 30 min") },
  [NAPPE_QUANTITY_PRESSURE] = { "kpa", UNIT (KPA), { UNIT (KPA), UNIT (PSI) }, { -1, -1 }, 3,
    N_("a pressure"), N_("50 kPa or 7 psi") },
};

const NappeQuantityTraits *
nappe_quantity_traits (NappeQuantity quantity)
{
  g_return_val_if_fail ((guint) quantity < NAPPE_QUANTITY_N, &traits[NAPPE_QUANTITY_NUMBER]);
  return &traits[quantity];
}

double
nappe_unit_to_si (const NappeUnit *unit,
                  double           number)
{
  return (number + unit->offset) * unit->numerator / unit->divisor;
}

double
nappe_unit_from_si (const NappeUnit *unit,
                    double           si)
{
  return si * unit->divisor / unit->numerator - unit->offset;
}

gboolean
nappe_unit_measures (const NappeUnit *unit,
                     NappeQuantity    quantity)
{
  return unit->quantity == quantity
         || (unit->quantity == NAPPE_QUANTITY_LENGTH && quantity == NAPPE_QUANTITY_HEAD);
}

/* Whether a spelling may end before this text: the next character must not carry the word on. */
static gboolean
word_ends_before (const char *text)
{
  gunichar next = g_utf8_get_char (text);

  return next == 0 || g_unichar_isspace (next) || g_unichar_isdigit (next) || next == '.' || next == ',';
}

const NappeUnit *
nappe_unit_find (const char *text,
                 gsize      *length)
{
  const NappeUnit *found = NULL;

  *length = 0;
  for (gsize i = 0; i < G_N_ELEMENTS (units); i++)
    {
      const char *spelling = units[i].spellings;

      while (*spelling == '|' && spelling[1] != '\0')
        {
          const char *end = strchr (++spelling, '|');
          gsize size = (gsize) (end - spelling);

          if (size > *length && strncmp (text, spelling, size) == 0 && word_ends_before (text + size))
            {
              found = &units[i];
              *length = size;
            }
          spelling = end;
        }
    }
  return found;
}
