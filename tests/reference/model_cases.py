#!/usr/bin/env python3
"""Whole jobs through the brute-force simulation, converged and with all of section 13, for one start of the interpreter.

Reads JSON from standard input: {"cases": [{"params", "columns", "rows", "fullPower", "burn", "linear"}]}
  params      as of simulate.py
  burn        bytes 0..fullPower, row after row
  linear      linear luminance of the photo on the same grid, 16-bit
Writes a list of the results of simulate.py. Planes are base64 text of little-endian numbers.
"""
import base64
import json
import sys

sys.dont_write_bytecode = True  # leaves no cache folder among the tests

import numpy as np  # noqa: E402

from appearance import reachable_luminance, target_luminance  # noqa: E402
from simulate import DEFAULTS, simulate  # noqa: E402


def run(case):
    p = {**DEFAULTS, **case["params"]}

    def plane(name, kind, full):
        values = np.frombuffer(base64.b64decode(case[name]), dtype=kind)
        return values.astype(float).reshape(case["rows"], case["columns"]) / full

    wanted = target_luminance(plane("linear", "<u2", 65535), *reachable_luminance(p), p["toneMap"])
    return simulate({**p, "target": wanted}, plane("burn", "u1", case["fullPower"]))[0]


json.dump([run(case) for case in json.load(sys.stdin)["cases"]], sys.stdout)
