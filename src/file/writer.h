/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Shared between the files of the writer alone. */
#pragma once

#include <json-glib/json-glib.h>

#include "build/part.h"

/* A part and all below as they stand in a file. Transfer full. */
JsonObject *nappe_writer_object_of (NappePart *part);
