#!/usr/bin/env python3
"""Small patterns repeated many times and burned by brute force: doses of one period, and their mean luminance factors.

Reads JSON from standard input: {"cards": [{"params", "tiles": [{"columns", "rows", "codes", "levels", "factors"}]}]}
  params   as of simulate.py, with pitch, spot, response and samplesPerSpot
  codes    power levels 0 .. levels - 1, row after row; the first row is a line of even number
  factors  of the dose: one mean luminance factor is written for each
  doses    true if the doses of a period are wanted too
Writes, for each card, a list of {"means": [...], "meanDose", "doses": [[...]]} for its tiles. The period that is read lies in the middle, so
that bursts and spots from all sides reach it.
"""
import json
import math
import sys

sys.dont_write_bytecode = True  # leaves no cache folder among the tests

import numpy as np  # noqa: E402

from appearance import response_curve  # noqa: E402
from exposure import TAIL_SIGMAS, sample_counts  # noqa: E402
from line_dose import TAIL_LAGS, dose_bands, exposed_lines  # noqa: E402
from simulate import DEFAULTS  # noqa: E402


def repeats_around(reach_mm, period_mm):
    """Periods that a reach covers, and one more."""
    return math.ceil(reach_mm / period_mm) + 1


def period_doses(tile, p):
    """Dose at the samples of one period of a tile repeated over a piece: pixel rows x samples across x samples along."""
    codes = np.array(tile["codes"], dtype=float).reshape(tile["rows"], tile["columns"]) / (tile["levels"] - 1)
    if tile["rows"] % 2 and p["twoWay"]:
        codes = np.vstack((codes, codes))
    rows, columns = codes.shape
    per_us = 1e-6 * p["speedMmPerS"]
    reach = (TAIL_SIGMAS * p["spotAlongMm"] / 4 + TAIL_LAGS * p["firingLagUs"] * per_us
             + abs(p["firingLossUs"]) * per_us + abs(p["lineShiftMm"]))
    along = repeats_around(reach, columns * p["pitchAlongMm"])
    across = repeats_around(TAIL_SIGMAS * p["spotAcrossMm"] / 4, rows * p["pitchAcrossMm"])
    # An even number of rows lies above the period that is read, so its first row is a line of even number.
    burn = np.tile(codes, (2 * across + 1 if rows % 2 == 0 else 4 * across + 1, 2 * along + 1))
    top = (across if rows % 2 == 0 else 2 * across) * rows
    dose = np.concatenate([band for _, band in dose_bands(exposed_lines(burn, p), p)])
    left = along * columns * sample_counts(p)[0]
    return dose[top:top + rows, :, left:left + columns * sample_counts(p)[0]]


def run(card):
    p = {**DEFAULTS, **card["params"]}
    respond = response_curve(p["response"])
    results = []
    for tile in card["tiles"]:
        dose = period_doses(tile, p)
        result = {"means": [float(respond(dose * factor).mean()) for factor in tile["factors"]],
                  "meanDose": float(dose.mean())}
        if tile.get("doses"):
            result["doses"] = dose.reshape(-1, dose.shape[2]).tolist()
        results.append(result)
    return results


print(json.dumps([run(card) for card in json.load(sys.stdin)["cards"]]))
