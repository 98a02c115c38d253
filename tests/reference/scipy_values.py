#!/usr/bin/env python3
"""Values of SciPy's functions, as the outside reference of the numerical core.

Reads {"task": ..., ...} as JSON from standard input and writes JSON:
  erf       {"x"}                          {"erfc", "erfcx"}
  pchip     {"cases": [{"x", "y", "at"}]}  a list of values per case, constant beyond both ends
  nnls      {"cases": [{"rows", "values"}]}  the solution of each, by Lawson and Hanson
  monotone  {"cases": [{"rows", "values", "errors", "roughness", "darkens"}]}  coefficients of each: weighted least squares with a
                                           smoothing of second differences of steps, none below 0, monotone
  response  {"table", "pitchOverSpot", "smoothing", "knots", "values"}
                                           {"values", "departure"}: the response solved for, at the knots, and how far the
                                           fills of the given values are from the table, in L*
  gaussian  {"columns", "rows", "pixels", "sigmas": [[along, across], ...]}   a blurred plane per pair
"""
import json
import sys

import numpy as np
from scipy import special
from scipy.interpolate import PchipInterpolator
from scipy.ndimage import gaussian_filter
from scipy.optimize import least_squares, lsq_linear, nnls


def pchip(case):
    x = np.array(case["x"])
    return PchipInterpolator(x, case["y"])(np.clip(case["at"], x[0], x[-1])).tolist()


def gaussian(task):
    plane = np.array(task["pixels"]).reshape(task["rows"], task["columns"])
    return [gaussian_filter(plane, (across, along), mode="nearest", truncate=4).ravel().tolist()
            for along, across in task["sigmas"]]


def monotone(case):
    """Unknowns: the coefficients after a change of variables, the lowest one and steps away from it."""
    rows, errors = np.array(case["rows"]), np.array(case["errors"])
    count = rows.shape[1]
    steps = np.tril(np.ones((count, count)))
    if case["darkens"]:
        steps = steps[::-1]
    smooth = np.diff(np.eye(count), n=3, axis=0) / case["roughness"]
    matrix = np.vstack((rows / errors[:, None], smooth)) @ steps
    values = np.concatenate((np.array(case["values"]) / errors, np.zeros(len(smooth))))
    return (steps @ lsq_linear(matrix, values, (0, np.inf), method="bvls", tol=1e-14).x).tolist()


def lightness(y):
    return np.where(y > 216 / 24389, 116 * np.cbrt(np.maximum(y, 0)) - 16, 24389 / 27 * y)


def fills(knots, values, doses, pitch):
    """Mean response of parallel Gaussian lines; pitch in spot diameters. Periodic, so the trapezoidal sum converges fast."""
    y = np.arange(3000) / 3000 * pitch
    lines = np.arange(-30, 31) * pitch
    ripple = pitch * np.sqrt(8 / np.pi) * np.exp(-8 * (y[:, None] - lines) ** 2).sum(1)
    curve = PchipInterpolator(knots, values)
    return curve(np.clip(np.outer(doses, ripple), knots[0], knots[-1])).mean(1)


def response(task):
    """The falling or rising curve whose fills come nearest to the table, with a smooth correction to it, by a trust region."""
    table, knots = np.array(task["table"]), np.array(task["knots"])
    doses, tones = table.T
    pitch, count = task["pitchOverSpot"], len(doses)
    sign = np.sign(tones[-1] - tones[0])
    base = tones[np.minimum(np.arange(len(knots)), count - 1)]
    weight = np.where(base > 216 / 24389, 116 / 3 * base ** (-2 / 3), 24389 / 27)
    trust = np.where(np.arange(2, len(knots)) < count, 1, 0.1)
    step = np.diff(np.log(knots + 0.1 * knots[-1]))

    def curve(steps):
        return tones[0] + sign * np.concatenate([[0], np.cumsum(steps)])

    def errors(steps):
        values = curve(steps)
        bends = trust * np.diff(np.diff(weight * (values - base)) / step) / np.sqrt((step[1:] + step[:-1]) / 2)
        differences = weight[1:count] * (fills(knots, values, doses[1:], pitch) - tones[1:])
        return np.concatenate([differences, task["smoothing"] * bends])

    start = np.maximum(1e-4, sign * np.diff(base))
    found = least_squares(errors, start, bounds=(0, 1), xtol=1e-14, ftol=1e-14, gtol=1e-14, max_nfev=2000)
    given = fills(knots, np.array(task["values"]), doses[1:], pitch)
    return {"values": curve(found.x).tolist(), "departure": float(np.abs(lightness(given) - lightness(tones[1:])).max())}


TASKS = {
    "erf": lambda task: {name: getattr(special, name)(task["x"]).tolist() for name in ("erfc", "erfcx")},
    "pchip": lambda task: [pchip(case) for case in task["cases"]],
    "nnls": lambda task: [nnls(np.array(case["rows"]), case["values"])[0].tolist() for case in task["cases"]],
    "monotone": lambda task: [monotone(case) for case in task["cases"]],
    "response": response,
    "gaussian": gaussian,
}

task = json.load(sys.stdin)
json.dump(TASKS[task["task"]](task), sys.stdout)
