#!/usr/bin/env python3
"""Brute-force simulation of the engraving model, independent of the product's code, as an external check.

    python3 simulate.py params.json [--planes out.npz]    one JSON object on stdout
    python3 simulate.py --self-test                       analytic checks, exit status 1 on a failure

Needs numpy, scipy and Pillow. Every sum is evaluated directly: no FFT for the dose, no tables, float64 throughout.
Rows of the bitmap are scan lines; "along" is x (columns), "across" is y (rows). Lengths in mm, times as named.

params.json
  burn             PNG, 1-bit or 8-bit grey; value v burns the fraction 1 - v/255 (black = full burn)
  pitchAlongMm, pitchAcrossMm, spotAlongMm, spotAcrossMm       spot = 1/e^2 diameter
  response         [[dose, luminance factor], ...], doses rising
  target           optional: a photo; a .npy or raw little-endian .f32 plane of the bitmap's size; or a number
                   from Python also an array of wanted luminance factors
  targetKind       "linear" (default: linear luminance Y, goes through toneMap) or "luminanceFactor" (used as it is;
                   for planes and numbers only)
  toneMap          "lightness" (default) or "luminance"
  fit              "cover" (default: centred crop to the engraved aspect ratio) or "stretch"
  sampling         1: samples per pixel = ceil(pitch / (spot / 5)) * sampling, in each direction
  samplesPerSpot   instead of sampling: at least so many samples to a spot; 15 is converged to 0.01 L* on steep materials,
                   30 to 0.05 where the response is a wall and lines stand apart
  viewDistanceMm 300, adaptLuminance 50 (cd/m^2), doseSpread 0.1
  marginPx         by default 16, or the pixels of one spot if they are more
  border           "mirror" (default, endless half-sample reflection), "circular", or a number of symmetric padding px
  firingLagUs 0, firingLossUs 0, speedMmPerS 400, lineShiftMm 0, twoWay true   machine effects; odd lines travel back
  lineExponent     1: q of lines that do not add (section 14)
  spread           optional {"common", "local", "localLengthMm", "line", "spot"}: variation by brute force (section 13)
  seeds            48 realisations of each random part; samplesPerSpotRandom 10, their samples

burnFraction covers the whole bitmap; meanDose, meanLuminance and the visual errors leave the margin out on every side.
With `spread` there are also unevenness and toneShift, and expectedVisualError is made of them. Without, it is the mean of the
visual errors at the doses 1 - doseSpread, 1 and 1 + doseSpread.
Nothing burns outside the bitmap. The target is fixed by the nominal dose, also when the dose is off by the spread.
"""
import json
import sys

sys.dont_write_bytecode = True  # leaves no cache folder among the tests

import numpy as np  # noqa: E402

from appearance import predict, reachable_luminance, visual_difference, inside  # noqa: E402
from exposure import detail_limits, sample_counts  # noqa: E402
from pictures import load_burn, load_target  # noqa: E402
from variation import variation  # noqa: E402

DEFAULTS = {
    "toneMap": "lightness", "targetKind": "linear", "fit": "cover", "sampling": 1, "viewDistanceMm": 300.0,
    "adaptLuminance": 50.0, "doseSpread": 0.1, "marginPx": None, "border": "mirror",
    "samplesPerSpot": None, "samplesPerSpotRandom": 10, "seeds": 48, "spread": None, "lineExponent": 1.0,
    "firingLagUs": 0.0, "firingLossUs": 0.0, "speedMmPerS": 400.0, "lineShiftMm": 0.0, "twoWay": True,
}


def simulate(params, burn=None):
    """(result for JSON, planes). `burn` may be given as an array of burn fractions instead of a file."""
    p = {**DEFAULTS, **params}
    burn = load_burn(p["burn"]) if burn is None else np.asarray(burn, dtype=float)
    darkest, lightest = reachable_luminance(p)
    spread = p["doseSpread"]
    mean_dose, luminance = predict(burn, p, (1 - spread, 1.0, 1 + spread))
    counts = sample_counts(p)
    result = {
        "darkestLuminance": darkest, "lightestLuminance": lightest,
        "burnFraction": float(burn.mean()), "meanDose": float(inside(mean_dose, p).mean()),
        "meanLuminance": float(inside(luminance[1], p).mean()),
        "samplesAlong": counts[0], "samplesAcross": counts[1],
        "detail": detail_limits(p),
    }
    planes = {"meanDose": mean_dose, "meanLuminance": luminance[1]}
    if p.get("target") is not None:
        target = load_target(p, burn.shape, darkest, lightest)
        planes["target"] = target
        differences = [visual_difference(plane, target, p) for plane in luminance]
        rms = [float(np.sqrt(np.mean(d ** 2))) for d in differences]
        result.update({
            "visualErrorRms": rms[1], "visualErrorBias": float(differences[1].mean()),
            "visualErrorAtDose": dict(zip(("-s", "0", "+s"), rms)), "expectedVisualError": float(np.mean(rms)),
        })
        if p["spread"] is not None:
            result.update(variation(burn, luminance[1], target, p))
    return result, planes


def main(arguments):
    if "--help" in arguments or not arguments:
        print(__doc__)
        return 0 if arguments else 2
    if arguments[0] == "--self-test":
        from selftest import run
        return run()
    with open(arguments[0], encoding="utf-8") as file:
        result, planes = simulate(json.load(file))
    if "--planes" in arguments:
        np.savez(arguments[arguments.index("--planes") + 1], **planes)
    print(json.dumps(result, indent=2))
    return 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
