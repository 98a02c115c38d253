#!/usr/bin/env python3
"""How much an eye sees of the steps in engraved straight edges, by brute force.

Reads JSON from standard input: {"cases": [{"params", "columns", "rows", "burn", "bars", "viewDistancesMm"}]}, as edge_widths.py
does. Writes for each case a list, by bar, of the lists, by distance, of the largest rms difference in L* along the edge: luminance
factors at points round one edge of the bar, through the eye's filter, less their mean along the edge.
"""
import base64
import json
import math
import sys

sys.dont_write_bytecode = True  # leaves no cache folder among the tests

import numpy as np  # noqa: E402

from appearance import eye_filtered, lightness, response_curve  # noqa: E402
from edge_widths import dose_at  # noqa: E402
from simulate import DEFAULTS  # noqa: E402

STEP_MM = 0.01
AROUND_MM = 0.45  # to both sides of the edge


def roughness(luminance, distances_mm, p):
    def seen_at(distance_mm):
        eye = {**p, "viewDistanceMm": distance_mm, "pitchAlongMm": STEP_MM, "pitchAcrossMm": STEP_MM, "border": "mirror"}
        seen = lightness(np.clip(eye_filtered(luminance, eye), 0, None))
        return float(np.sqrt(((seen - seen.mean(axis=1, keepdims=True)) ** 2).mean(axis=1)).max())
    return [seen_at(distance_mm) for distance_mm in distances_mm]


def points_round_edge(bar):
    """Places on the piece, [across, along] the bar, round the edge that is drawn half a width from its middle."""
    angle = math.radians(bar["angleDeg"])
    along = np.arange(-bar["lengthMm"] / 2, bar["lengthMm"] / 2, STEP_MM)[None, :]
    across = (bar["widthMm"] / 2 + np.arange(-AROUND_MM, AROUND_MM, STEP_MM))[:, None]
    x = bar["xMm"] + along * math.cos(angle) - across * math.sin(angle)
    y = bar["yMm"] + along * math.sin(angle) + across * math.cos(angle)
    return x, y


def run(case):
    p = {**DEFAULTS, **case["params"]}
    burn = np.frombuffer(base64.b64decode(case["burn"]), dtype="u1").astype(float)
    burn = burn.reshape(case["rows"], case["columns"])
    respond = response_curve(p["response"])
    return [roughness(respond(dose_at(*points_round_edge(bar), burn, p)), case["viewDistancesMm"], p)
            for bar in case["bars"]]


json.dump([run(case) for case in json.load(sys.stdin)["cases"]], sys.stdout)
