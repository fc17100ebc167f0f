/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A build with every kind of loss in its lines: a siphon with a tee, a valve, a reducer and a hose that turns twice, and two
 * return lines of which the second joins the first at a tee. Tests change its text before it is read. */
#pragma once

#include "file/file.h"

#include <string.h>

static const char line_build_text[]
    = "{ 'format': 'nappe-build', 'version': 1, 'title': 'Lines', 'units': 'metric',\n"
      "  'stand': { 'length_mm': 1000, 'width_mm': 550, 'height_mm': 800 },\n"
      "  'tank': { 'length_mm': 900, 'width_mm': 500, 'height_mm': 500 },\n"
      "  'overflows': [ { 'id': 'box', 'style': 'internal', 'side': 'back', 'x_mm': 300, 'length_mm': 300, 'width_mm': 120,\n"
      "      'rim_height_mm': 480, 'weir_length_mm': 500, 'weir_height_mm': 460 } ],\n"
      "  'drains': [\n"
      "    { 'id': 'siphon', 'overflow': 'box', 'role': 'siphon', 'inlet': 'downturned-elbow', 'crest_height_mm': 380,\n"
      "      'mouth_height_mm': 350, 'x_mm': 80, SIPHON 'run': [\n"
      "        { 'id': 'pipe-1', 'item': 'pvc40-pipe-1.5', 'length_mm': 380 },\n"
      "        { 'id': 'bulkhead', 'item': 'pvc40-bulkhead-1.5' },\n"
      "        { 'id': 'tee', 'item': 'pvc40-tee-1.5' },\n"
      "        { 'id': 'reducer', 'item': 'pvc40-reducer-1.5x1' },\n"
      "        { 'id': 'pipe-2', 'item': 'pvc40-pipe-1', 'length_mm': 150 },\n"
      "        { 'id': 'valve', 'item': 'pvc40-gate-valve-1', 'opening_percent': 60 },\n"
      "        { 'id': 'second-valve', 'item': 'pvc40-ball-valve-1', 'opening_percent': SECOND },\n"
      "        { 'id': 'barb', 'item': 'barb-25' },\n"
      "        { 'id': 'hose-1', 'item': 'hose-vinyl-25', 'length_mm': 150, BEND 'toward': 'down' },\n"
      "        { 'id': 'hose-2', 'item': 'hose-vinyl-25', 'length_mm': 100, 'toward': 'right' },\n"
      "        { 'id': 'hose-3', 'item': 'hose-vinyl-25', 'length_mm': 200, 'toward': 'THIRD' } ],\n"
      "      'outlets': [ { 'id': 'siphon-end', 'into': 'middle' },\n"
      "        { 'id': 'feed', 'tee': 'tee', 'into': 'middle', 'run': [\n"
      "          { 'id': 'feed-pipe', 'item': 'pvc40-pipe-0.5', 'length_mm': 500, 'toward': 'right', 'fall_mm': 200 } ] } ] },\n"
      "    { 'id': 'emergency', 'overflow': 'box', 'role': 'emergency', 'crest_height_mm': 430, 'x_mm': 200, 'run': [\n"
      "        { 'id': 'emergency-pipe', 'item': 'pvc40-pipe-1.5', 'length_mm': 1000 } ],\n"
      "      'outlets': [ { 'id': 'emergency-end', 'into': 'LAST' } ] } ],\n"
      "  'sump': { 'length_mm': 700, 'width_mm': 400, 'height_mm': 400, 'chambers': [\n"
      "      { 'id': 'middle', 'role': 'drain', 'length_mm': 344 },\n"
      "      { 'id': 'end', 'role': 'return', 'length_mm': 350, 'kept_level_mm': 200 } ],\n"
      "    'baffles': [ { 'id': 'wall', 'top_height_mm': 220, 'thickness_mm': 6 } ] },\n"
      "  'returns': [ RETURNS ] MORE }\n";

#define LINE_BUILD_FIRST                                                                                        \
  "{ 'id': 'first', 'pump': { 'id': 'first-pump', 'item': 'dc-pump-4000', 'chamber': 'SOURCE', 'outlet_height_mm': 100, COUNT" \
  "      'inlet_height_mm': 40 }, 'run': [\n"                                                                   \
  "      { 'id': 'first-pipe', 'item': 'pvc40-pipe-1', 'length_mm': 600, 'toward': 'up' },\n"                   \
  "      { 'id': 'first-tee', 'item': 'pvc40-tee-1' },\n"                                                       \
  "      { 'id': 'first-elbow', 'item': 'pvc40-elbow90-1', 'count': 2 },\n"                                     \
  "      { 'id': 'first-top', 'item': 'pvc40-pipe-1', 'length_mm': 800, 'toward': 'up' } ],\n"                  \
  "    'outlets': [ { 'id': 'first-end', 'into': 'tank' } ] }"
#define LINE_BUILD_SECOND                                                                                       \
  "{ 'id': 'second', 'pump': { 'id': 'second-pump', 'item': 'dc-pump-2000', 'chamber': 'end', 'outlet_height_mm': 100,\n" \
  "      'inlet_height_mm': 40 }, 'run': [\n"                                                                   \
  "      { 'id': 'second-pipe', 'item': 'pvc40-pipe-0.75', 'length_mm': 600, 'toward': 'up' },\n"               \
  "      { 'id': 'second-check', 'item': 'pvc40-check-valve-0.75' },\n"                                         \
  "      { 'id': 'second-tee', 'item': 'pvc40-tee-0.75' } ],\n"                                                 \
  "    'outlets': [ { 'id': 'second-end', 'into': 'JOINS' } ] }"
#define LINE_BUILD_BOTH LINE_BUILD_FIRST ", " LINE_BUILD_SECOND
#define LINE_BUILD_TURNED LINE_BUILD_SECOND ", " LINE_BUILD_FIRST

/* The build with some of its words in capitals replaced: pairs of word and text, then NULL. The others get plain values. */
static inline NappeBuild *
line_build (const char *word, ...)
{
  static const char *const usual[] = { "SIPHON", "", "SECOND", "50", "BEND", "", "THIRD", "down", "LAST", "middle", "MORE", "",
                                       "SOURCE", "end", "COUNT", "", "JOINS", "first-tee", "'", "\"", NULL };
  g_autoptr (GError) error = NULL;
  g_autoptr (GString) text = g_string_new (line_build_text);

  /* Twice, for what is put in may hold words as well. */
  for (guint pass = 0; pass < 2; pass++)
    {
      va_list pairs;

      va_start (pairs, word);
      for (const char *each = word; each != NULL; each = va_arg (pairs, const char *))
        g_string_replace (text, each, va_arg (pairs, const char *), 0);
      va_end (pairs);
      g_string_replace (text, "RETURNS", LINE_BUILD_BOTH, 0);
    }
  for (guint i = 0; usual[i] != NULL; i += 2)
    g_string_replace (text, usual[i], usual[i + 1], 0);
  NappeBuild *build = nappe_file_read_text (text->str, text->len, "lines", &error);
  g_assert_no_error (error);
  return build;
}
