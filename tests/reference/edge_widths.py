#!/usr/bin/env python3
"""Engraved widths of straight bars, by brute force: the dose is summed pixel by pixel at points along normals of the bar.

Reads JSON from standard input: {"cases": [{"params", "columns", "rows", "burn", "bars": [...]}]}
  params      as of simulate.py
  burn        base64 of bytes 0 and 1, row after row
  bars        {"xMm", "yMm": its middle, "angleDeg": its direction (0 = along the lines), "widthMm": as drawn,
               "lengthMm": part of it that is measured}
  ink         1 (default): bars are engraved; 0: bars are bare in an engraved ground
Writes for each case a list of {"widthMm": mean distance between the two places, seen from the bare side, where the dose crosses
the dose of half response, "edgesMm": mean distance of each of the two from where it is drawn, positive for outside of the bar,
"cut": share of normals without a mark (or, for ink 0, without a gap)}. Without any, the width is 0. Where lines leave gaps in
an engraved ground, normals between them meet no mark and are left out.

Half response: luminance factor half-way between bare and dose 1, on the PCHIP curve, found by root finding.
"""
import base64
import json
import math
import sys

sys.dont_write_bytecode = True  # leaves no cache folder among the tests

import numpy as np  # noqa: E402
from scipy.optimize import brentq  # noqa: E402

from appearance import response_curve  # noqa: E402
from exposure import TAIL_SIGMAS, kernel_across, kernel_along  # noqa: E402
from simulate import DEFAULTS  # noqa: E402

NORMALS = 63  # over the measured length
STEP_OF_SPOT = 24  # places along a normal: spot / this


def dose_at(x_mm, y_mm, burn, p):
    """Dose at points of the bitmap, its upper left corner at (0, 0): sum over every pixel that reaches them."""
    along, across = p["pitchAlongMm"], p["pitchAcrossMm"]
    lag = p["firingLagUs"] * 1e-6 * p["speedMmPerS"]
    offset = abs(p["lineShiftMm"]) + 30 * lag
    reach_x = math.ceil((TAIL_SIGMAS * p["spotAlongMm"] / 4 + offset) / along + 1)
    reach_y = math.ceil(TAIL_SIGMAS * p["spotAcrossMm"] / 4 / across + 1)
    rows, columns = burn.shape
    padded = np.pad(burn, ((reach_y, reach_y), (reach_x, reach_x)))
    column = np.clip(np.floor(x_mm / along).astype(int), 0, columns - 1)
    row = np.clip(np.floor(y_mm / across).astype(int), 0, rows - 1)

    def along_weights(direction, shift):
        return [kernel_along(direction * (x_mm - (column + j + 0.5) * along - shift), along, p["spotAlongMm"] / 4, lag)
                for j in range(-reach_x, reach_x + 1)]

    there = along_weights(1.0, 0.0)
    # Without lag and shift both directions are the same.
    back = along_weights(-1.0, p["lineShiftMm"]) if p["twoWay"] and (lag or p["lineShiftMm"]) else there
    total = np.zeros(x_mm.shape)
    for k in range(-reach_y, reach_y + 1):
        weight = kernel_across(y_mm - (row + k + 0.5) * across, across, p["spotAcrossMm"] / 4)
        odd = (row + k) % 2 == 1
        line = np.zeros(x_mm.shape)
        for j in range(-reach_x, reach_x + 1):
            bits = padded[row + k + reach_y, column + j + reach_x]
            i = j + reach_x
            line += bits * (there[i] if back is there else np.where(odd, back[i], there[i]))
        total += weight * line
    return total


def outermost(inside, dose, half, from_mm, step_mm):
    """First place from outside where the dose reaches half, along axis 1, linear between samples. NaN for none."""
    found = inside.any(axis=1)
    first = np.argmax(inside, axis=1)
    lines = np.arange(len(first))
    here, before = dose[lines, first], dose[lines, np.maximum(first - 1, 0)]
    part = np.where(first > 0, (here - half) / np.where(here == before, 1, here - before), 0)
    return np.where(found, from_mm + (first - part) * step_mm, np.nan)


def innermost(dose, half, within, from_mm, step_mm):
    """First place where the dose reaches half, from the barest place of a bare bar outwards. As above; NaN also for no bare place."""
    places = np.arange(dose.shape[1])
    start = np.argmin(np.where(within, dose, np.inf), axis=1)
    marked = (dose >= half) & (places < start[:, None])
    last = np.max(np.where(marked, places, -1), axis=1)
    lines = np.arange(len(last))
    here, after = dose[lines, last], dose[lines, np.minimum(last + 1, places[-1])]
    part = (here - half) / np.where(here == after, 1, here - after)
    bare = dose[lines, start] < half
    return np.where(bare & (last >= 0), from_mm + (last + part) * step_mm, np.nan), bare


def measure(bar, burn, p, half, ink):
    step = min(p["spotAlongMm"], p["spotAcrossMm"]) / STEP_OF_SPOT
    around = 1.5 * max(p["spotAlongMm"], p["spotAcrossMm"], p["pitchAlongMm"], p["pitchAcrossMm"])
    # From outside a drawn edge inwards: the same distance as outside, or through the whole of a narrow bar.
    outside = bar["widthMm"] / 2 + around
    deep = np.arange(-outside, outside if around > bar["widthMm"] / 2 else around - bar["widthMm"] / 2, step)
    angle = math.radians(bar["angleDeg"])
    places = (np.arange(NORMALS) + 0.5) / NORMALS - 0.5
    along_mm = (places * bar["lengthMm"])[:, None]
    ends = []
    for side in (1, -1):
        across_mm = side * deep[None, :]
        x = bar["xMm"] + along_mm * math.cos(angle) - across_mm * math.sin(angle)
        y = bar["yMm"] + along_mm * math.sin(angle) + across_mm * math.cos(angle)
        dose = dose_at(x, y, burn, p)
        if ink:
            end = outermost(dose >= half, dose, half, deep[0], step)
            there = ~np.isnan(end)
        else:
            end, there = innermost(dose, half, deep >= -bar["widthMm"] / 2, deep[0], step)
        ends.append(end)
    low, high = ends[0], -ends[1]
    wide = bar["widthMm"] / 2
    if np.isnan(low).all():
        return {"widthMm": 0.0, "cut": 1.0, "edgesMm": [-wide, -wide]}
    return {"widthMm": float(np.nanmean(high - low)), "cut": float(1 - there.mean()),
            "edgesMm": [float(np.nanmean(-low - wide)), float(np.nanmean(high - wide))]}


def run(case):
    p = {**DEFAULTS, **case["params"]}
    burn = np.frombuffer(base64.b64decode(case["burn"]), dtype="u1").astype(float)
    burn = burn.reshape(case["rows"], case["columns"])
    respond = response_curve(p["response"])
    middle = (float(respond(0.0)) + float(respond(1.0))) / 2
    half = brentq(lambda dose: float(respond(dose)) - middle, 0.0, 1.0)
    return [measure(bar, burn, p, half, case.get("ink", 1)) for bar in case["bars"]]


if __name__ == "__main__":
    json.dump([run(case) for case in json.load(sys.stdin)["cases"]], sys.stdout)
