/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Results as members of JSON objects: "flow_litres_per_hour", and where a band is known "flow_low_…", "flow_high_…" beside
 * it and "flow_band", "sampling" or "first-order". */
#pragma once

#include "command/json-writer.h"
#include "results/result.h"

G_BEGIN_DECLS

/* One number under its own key; nothing for a word. */
void nappe_json_result (NappeJsonWriter *self, const NappeResult *result);
/* All numbers but the lines of a head ledger; or, with keys (ends with NULL), those alone and in that order. */
void nappe_json_results (NappeJsonWriter *self, const GPtrArray *results, const char *const *keys);
/* A working: formula and inputs. */
void nappe_json_working (NappeJsonWriter *self, const NappeWorking *working);
/* Results with their workings, for people and programs that want to see how each was reached: an array of objects. */
void nappe_json_worked_results (NappeJsonWriter *self, const char *key, const GPtrArray *results);

G_END_DECLS
