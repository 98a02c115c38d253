"""The list of analytic checks, filled by selftest.py and the modules that it imports. Expected values never come from the code under test."""
import numpy as np

from simulate import DEFAULTS

CHECKS = []


def check(name):
    """Register a check that returns (got, expected, absolute tolerance)."""
    return lambda function: CHECKS.append((name, function))


def job(pitch=0.05, spot=0.115, **more):
    return {**DEFAULTS, "pitchAlongMm": pitch, "pitchAcrossMm": pitch, "spotAlongMm": spot, "spotAcrossMm": spot,
            "response": [[0, 0.6], [0.5, 0.3], [1, 0.1]], **more}


def run_checks():
    """Run all checks, print one line each; 0 when all hold."""
    failures = 0
    for name, function in CHECKS:
        got, expected, tolerance = function()
        error = float(np.max(np.abs(np.asarray(got, dtype=float) - np.asarray(expected, dtype=float))))
        passed = error <= tolerance
        failures += not passed
        print(f"{'ok  ' if passed else 'FAIL'}  {name}: largest error {error:.2g}, allowed {tolerance:g}")
    print(f"{len(CHECKS) - failures} of {len(CHECKS)} checks hold")
    return 1 if failures else 0
