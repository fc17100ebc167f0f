/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

/* Standard acceleration of free fall [m/s2], exact by definition (3rd CGPM, 1901; NIST SP 330). */
#define NAPPE_GRAVITY 9.80665
