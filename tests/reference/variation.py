"""Section 13 by brute force: what the four parts of a machine's variation do to a piece.

Every realisation is exposed and looked at as a piece of its own; nothing is linear here but the map that is taken away.
"""
import math

import numpy as np

from appearance import response_curve, seen_lightness
from fields import RandomField
from line_dose import exposed_lines, pixel_luminance

PARTS = ("common", "local", "line", "spot")
SPREAD = {"common": 0.08, "local": 0.04, "localLengthMm": 2.0, "line": 0.04, "spot": 0.05}
LOCAL_SEED, LINE_SEED = 1, 2
FLAT = 1e-12  # variance of L* that is only rounding


def affine_parts(predicted, wanted):
    """(u^2, t^2): mean squares of what the nearest a + b * wanted leaves of `predicted`, and of how far that map is off."""
    centred = wanted - wanted.mean()
    variance = np.mean(centred ** 2)
    slope = np.mean(centred * predicted) / variance if variance > FLAT else 0.0
    smooth = predicted.mean() + slope * centred
    return float(np.mean((predicted - smooth) ** 2)), float(np.mean((smooth - wanted) ** 2))


def common_pieces(burn, p, respond, sigma):
    return pixel_luminance(exposed_lines(burn, p), p, respond, (1 - sigma, 1 + sigma))[1]


def spot_pieces(burn, p, respond, sigma):
    for factor in (1 - sigma, 1 + sigma):
        other = {**p, "spotAlongMm": factor * p["spotAlongMm"], "spotAcrossMm": factor * p["spotAcrossMm"]}
        yield pixel_luminance(exposed_lines(burn, other), other, respond)[1][0]


def local_pieces(burn, p, respond, sigma):
    """ln dose gains a random field, the same at all samples of a pixel, which is small against the field's length."""
    field = RandomField(burn.shape, (p["pitchAcrossMm"], p["pitchAlongMm"]), p["spread"]["localLengthMm"])
    lines = exposed_lines(burn, p)
    for seed in range(p["seeds"]):
        yield pixel_luminance(lines, p, respond, (np.exp(sigma * field.draw((LOCAL_SEED, seed))),))[1][0]


def line_pieces(burn, p, respond, sigma):
    lines = exposed_lines(burn, p)
    for seed in range(p["seeds"]):
        factors = 1 + sigma * np.random.default_rng((LINE_SEED, seed)).standard_normal(burn.shape[0])
        yield pixel_luminance(np.clip(factors, 0, None)[:, None] * lines, p, respond)[1][0]


PIECES = {"common": common_pieces, "spot": spot_pieces, "local": local_pieces, "line": line_pieces}


def part_squares(part, burn, target, p):
    """Means over the realisations of u^2 and t^2 less those of the nominal piece, and the standard errors of the means.

    Both are taken at the same samples: `samplesPerSpotRandom` for the random parts, whose many pieces take the time.
    """
    sigma = p["spread"][part]
    zero = np.zeros(2)
    if sigma == 0:
        return {"gain": zero, "error": zero}
    random = part in ("local", "line")
    q = {**p, "samplesPerSpot": p["samplesPerSpotRandom"]} if random and p.get("samplesPerSpotRandom") else p
    respond, wanted = response_curve(p["response"]), seen_lightness(target, p)
    nominal = pixel_luminance(exposed_lines(burn, q), q, respond)[1][0]
    base = np.array(affine_parts(seen_lightness(nominal, p), wanted))
    squares = np.array([affine_parts(seen_lightness(piece, p), wanted) for piece in PIECES[part](burn, q, respond, sigma)])
    scatter = squares.std(axis=0, ddof=1) / math.sqrt(len(squares)) if random else zero
    return {"gain": squares.mean(axis=0) - base, "error": scatter}


def root_of_parts(nominal_square, gains, errors):
    """sqrt(u0^2 + sum max(0, gain)), and its standard error."""
    total = math.sqrt(nominal_square + sum(max(0.0, gain) for gain in gains))
    return total, math.sqrt(sum(error ** 2 for error in errors)) / (2 * total) if total > 0 else 0.0


def variation(burn, luminance, target, p):
    """Keys of the report for a piece whose nominal prediction is `luminance`, with each part's share and standard errors."""
    p = {**p, "spread": {**SPREAD, **p["spread"]}}
    nominal = affine_parts(seen_lightness(luminance, p), seen_lightness(target, p))
    parts = {part: part_squares(part, burn, target, p) for part in PARTS}
    (uneven, uneven_error), (shift, shift_error) = (
        root_of_parts(nominal[k], [part["gain"][k] for part in parts.values()], [part["error"][k] for part in parts.values()])
        for k in (0, 1))
    return {
        "unevenness": uneven, "toneShift": shift, "expectedVisualError": math.hypot(uneven, shift / 3),
        "standardErrors": {"unevenness": uneven_error, "toneShift": shift_error},
        "nominalParts": {"u": math.sqrt(nominal[0]), "t": math.sqrt(nominal[1])},
        "parts": {name: {"u2": float(part["gain"][0]), "t2": float(part["gain"][1])} for name, part in parts.items()},
    }
