"""Section 13 by brute force: what the four parts of a machine's variation do to a piece."""
import math

import numpy as np

import realisations
from appearance import response_curve, seen_lightness
from realisations import Piece, affine_parts

PARTS = ("common", "local", "line", "spot")
SPREAD = {"common": 0.08, "local": 0.04, "localLengthMm": 2.0, "line": 0.04, "spot": 0.05}


def standard_error(values):
    return values.std(axis=0, ddof=1) / math.sqrt(len(values))


def mean_squares(part, piece, sigma):
    """Means over the realisations of u^2 and t^2, and the standard errors of the means."""
    if part == "local":
        whole, quick, paired = realisations.local(piece, sigma)
        errors = np.hypot(standard_error(whole - paired), standard_error(quick))
        return (whole - paired).mean(axis=0) + quick.mean(axis=0), errors
    found = getattr(realisations, part)(piece, sigma)
    return found.mean(axis=0), standard_error(found) if part == "line" else np.zeros(2)


def part_gain(part, burn, target, p):
    """How much a part adds to u^2 and t^2 of the nominal piece, and the standard errors of that.

    Both are taken at the same samples: `samplesPerSpotRandom` for the random parts, whose many pieces take the time.
    """
    sigma = p["spread"][part]
    if sigma == 0:
        return np.zeros(2), np.zeros(2)
    samples = p["samplesPerSpotRandom"] if part in ("local", "line") else p["samplesPerSpot"]
    piece = Piece(burn, seen_lightness(target, p), response_curve(p["response"]), {**p, "samplesPerSpot": samples})
    squares, errors = mean_squares(part, piece, sigma)
    return squares - piece.squares(piece.luminance()[0]), errors


def root(gain):
    return math.sqrt(max(0.0, gain))


def root_of_parts(nominal_square, gains, errors):
    """sqrt(u0^2 + sum max(0, gain)), and its standard error."""
    total = math.sqrt(nominal_square + sum(max(0.0, gain) for gain in gains))
    return total, math.sqrt(sum(error ** 2 for error in errors)) / (2 * total) if total > 0 else 0.0


def variation(burn, luminance, target, p):
    """Keys of the report for a piece whose nominal prediction is `luminance`, with what each part adds (their squares add up) and with standard errors."""
    p = {**p, "spread": {**SPREAD, **p["spread"]}}
    nominal = affine_parts(seen_lightness(luminance, p), seen_lightness(target, p))
    gains, errors = (np.array(both) for both in zip(*(part_gain(part, burn, target, p) for part in PARTS)))
    (uneven, uneven_error), (shift, shift_error) = (root_of_parts(nominal[k], gains[:, k], errors[:, k]) for k in (0, 1))
    return {
        "unevenness": uneven, "toneShift": shift, "expectedVisualError": math.hypot(uneven, shift / 3),
        "standardErrors": {"unevenness": uneven_error, "toneShift": shift_error},
        "nominalParts": {"u": math.sqrt(nominal[0]), "t": math.sqrt(nominal[1])},
        "parts": {part: {"unevenness": root(u2), "toneShift": root(t2)} for part, (u2, t2) in zip(PARTS, gains)},
    }
