/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The members of the JSON report that list parts; for report-json.c alone. */
#pragma once

#include "command/case.h"
#include "command/json-writer.h"

G_BEGIN_DECLS

/* Writes vessels, weirs, drains, pumps, chambers, outlets, baffles, level_runs, head_ledgers, water, heat and loads. */
void nappe_report_json_parts (NappeJsonWriter *json, const NappeCase *self);

G_END_DECLS
