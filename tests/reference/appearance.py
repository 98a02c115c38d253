"""Sections 3, 4 and 6 of the engraving model: response, lightness, wanted luminance, and the eye.

`p` is the parameter dictionary of simulate.py. Planes are H x W arrays of luminance factors (0..1).
"""
import math

import numpy as np
from scipy.interpolate import PchipInterpolator

from exposure import dose_samples, solid_dose


def response_curve(table):
    """R(dose): PCHIP through the table (Fritsch and Butland 1984, as in SciPy), constant beyond both ends."""
    points = np.asarray(table, dtype=float)
    curve = PchipInterpolator(points[:, 0], points[:, 1])
    return lambda dose: curve(np.clip(dose, points[0, 0], points[-1, 0]))


def reachable_luminance(p):
    """(darkest, lightest) luminance factor of the bare surface and the simulated solid fill."""
    respond = response_curve(p["response"])
    pair = (float(respond(0.0)), float(np.mean(respond(solid_dose(p)))))
    return min(pair), max(pair)


def predict(burn, p, dose_factors=(1.0,)):
    """Per-pixel mean dose, and one per-pixel mean luminance factor for each dose factor."""
    respond = response_curve(p["response"])
    mean_dose = np.zeros(burn.shape)
    luminance = [np.zeros(burn.shape) for _ in dose_factors]
    count = 0
    for dose in dose_samples(burn, p):
        count += 1
        mean_dose += dose
        for plane, factor in zip(luminance, dose_factors):
            plane += respond(dose * factor)
    return mean_dose / count, [plane / count for plane in luminance]


def lightness(luminance):
    """CIE 1976 L* of a luminance factor (CIE 15)."""
    y = np.asarray(luminance, dtype=float)
    return np.where(y > (6 / 29) ** 3, 116 * np.cbrt(y) - 16, (29 / 3) ** 3 * y)


def luminance_of_lightness(l_star):
    """Inverse of `lightness`."""
    l_star = np.asarray(l_star, dtype=float)
    return np.where(l_star > 8, ((l_star + 16) / 116) ** 3, l_star / (29 / 3) ** 3)


def linear_of_srgb(encoded):
    """Linear light of an encoded value 0..1 (IEC 61966-2-1)."""
    encoded = np.asarray(encoded, dtype=float)
    return np.where(encoded <= 0.04045, encoded / 12.92, ((encoded + 0.055) / 1.055) ** 2.4)


def target_luminance(linear, darkest, lightest, tone_map):
    """Section 4: the luminance factor asked of the surface for linear luminance Y (0..1)."""
    if tone_map == "luminance":
        return darkest + (lightest - darkest) * linear
    low, high = lightness(darkest), lightness(lightest)
    return luminance_of_lightness(low + (high - low) * lightness(linear) / 100)


def eye_filtered(plane, p):
    """Plane seen by the eye: modulation exp(-f/k), f in cycles per degree (Nasanen 1984)."""
    k = 0.525 * math.log(p["adaptLuminance"]) + 3.91
    rows, columns = plane.shape
    border = p["border"]
    if border == "mirror":  # one period of the endless reflection
        padded, top, left = np.pad(plane, ((0, rows), (0, columns)), mode="symmetric"), 0, 0
    elif border == "circular":
        padded, top, left = plane, 0, 0
    else:
        padded, top, left = np.pad(plane, int(border), mode="symmetric"), int(border), int(border)
    mm_per_degree = 2 * p["viewDistanceMm"] * math.tan(math.radians(0.5))
    across = np.fft.fftfreq(padded.shape[0], p["pitchAcrossMm"]) * mm_per_degree
    along = np.fft.fftfreq(padded.shape[1], p["pitchAlongMm"]) * mm_per_degree
    modulation = np.exp(-np.hypot(across[:, None], along[None, :]) / k)
    seen = np.fft.ifft2(np.fft.fft2(padded) * modulation).real
    return seen[top:top + rows, left:left + columns]


def inside(plane, margin_px):
    """The plane without its margin."""
    rows, columns = plane.shape
    if min(rows, columns) <= 2 * margin_px:
        raise SystemExit(f"a margin of {margin_px} px leaves nothing of {columns} x {rows} px")
    return plane[margin_px:rows - margin_px, margin_px:columns - margin_px]


def visual_difference(luminance, target, p):
    """L* difference, predicted minus target, both seen by the eye; margin left out. Ringing below 0 is cut."""
    seen = [lightness(np.clip(eye_filtered(plane, p), 0, None)) for plane in (luminance, target)]
    return inside(seen[0] - seen[1], int(p["marginPx"]))
