/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A network as it may really have been built: each of its values departs from what was planned as real parts, published
 * laws and hands do (spread.h says by how much). */
#pragma once

#include "study/study.h"

G_BEGIN_DECLS

/* Changes a network, which is as planned. running: its running state, from which the heads over its edges are taken, since the
 * laws are surer at high ones. sample: which of the endless departures; the same number gives the same one everywhere. */
void nappe_network_depart (NappeNetwork *self, const NappeState *running, guint sample);

G_END_DECLS
