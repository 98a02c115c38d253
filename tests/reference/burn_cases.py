#!/usr/bin/env python3
"""Several bitmaps through the brute-force simulation at nominal dose, for one start of the interpreter.

Reads JSON from standard input: {"cases": [{"params", "columns", "rows", "burn" or "luminance", "target"}]}
  params      as of simulate.py
  burn        bytes 0 and 1, row after row
  luminance   instead of burn: luminance factors already predicted, 32-bit
  target      optional: wanted luminance factors, 32-bit
Writes a list of {"darkest", "lightest", "luminance" (64-bit)} and, with a target, {"rms", "bias"} of the visual
difference. Planes are base64 text of little-endian numbers.
"""
import base64
import json
import sys

sys.dont_write_bytecode = True  # leaves no cache folder among the tests

import numpy as np  # noqa: E402

from appearance import predict, reachable_luminance, visual_difference  # noqa: E402
from simulate import DEFAULTS  # noqa: E402


def run(case):
    p = {**DEFAULTS, **case["params"]}

    def plane(name, kind):
        values = np.frombuffer(base64.b64decode(case[name]), dtype=kind)
        return values.astype(float).reshape(case["rows"], case["columns"])

    darkest, lightest = reachable_luminance(p)
    luminance = predict(plane("burn", "u1"), p)[1][0] if "burn" in case else plane("luminance", "<f4")
    result = {"darkest": darkest, "lightest": lightest,
              "luminance": base64.b64encode(luminance.astype("<f8").tobytes()).decode()}
    if "target" in case:
        difference = visual_difference(luminance, plane("target", "<f4"), p)
        result.update({"rms": float(np.sqrt(np.mean(difference ** 2))), "bias": float(difference.mean())})
    return result


json.dump([run(case) for case in json.load(sys.stdin)["cases"]], sys.stdout)
