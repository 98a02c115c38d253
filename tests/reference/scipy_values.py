#!/usr/bin/env python3
"""Values of SciPy's functions, as the outside reference of the numerical core.

Reads {"task": ..., ...} as JSON from standard input and writes JSON:
  erf       {"x"}                          {"erfc", "erfcx"}
  pchip     {"cases": [{"x", "y", "at"}]}  a list of values per case, constant beyond both ends
  gaussian  {"columns", "rows", "pixels", "sigmas": [[along, across], ...]}   a blurred plane per pair
"""
import json
import sys

import numpy as np
from scipy import special
from scipy.interpolate import PchipInterpolator
from scipy.ndimage import gaussian_filter


def pchip(case):
    x = np.array(case["x"])
    return PchipInterpolator(x, case["y"])(np.clip(case["at"], x[0], x[-1])).tolist()


def gaussian(task):
    plane = np.array(task["pixels"]).reshape(task["rows"], task["columns"])
    return [gaussian_filter(plane, (across, along), mode="nearest", truncate=4).ravel().tolist()
            for along, across in task["sigmas"]]


TASKS = {
    "erf": lambda task: {name: getattr(special, name)(task["x"]).tolist() for name in ("erfc", "erfcx")},
    "pchip": lambda task: [pchip(case) for case in task["cases"]],
    "gaussian": gaussian,
}

task = json.load(sys.stdin)
json.dump(TASKS[task["task"]](task), sys.stdout)
