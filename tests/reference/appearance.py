"""Sections 3, 4 and 6 of the engraving model: response, lightness, wanted luminance, and the eye.

`p` is the parameter dictionary of simulate.py. Planes are H x W arrays of luminance factors (0..1).
"""
import math

import numpy as np
from scipy.fft import dctn, idctn
from scipy.interpolate import PchipInterpolator

from exposure import solid_dose
from line_dose import exposed_lines, pixel_luminance


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
    return pixel_luminance(exposed_lines(burn, p), p, response_curve(p["response"]), dose_factors)


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
    mm_per_degree = 2 * p["viewDistanceMm"] * math.tan(math.radians(0.5))
    pitches = p["pitchAcrossMm"], p["pitchAlongMm"]

    def modulation(frequencies):
        across, along = (per_mm * mm_per_degree for per_mm in frequencies)
        return np.exp(-np.hypot(across[:, None], along[None, :]) / k)

    if p["border"] == "mirror":  # the cosine transform is that of the endless half-sample reflection
        frequencies = [np.arange(n) / (2 * n * pitch) for n, pitch in zip(plane.shape, pitches)]
        return idctn(dctn(plane) * modulation(frequencies))
    border = 0 if p["border"] == "circular" else int(p["border"])
    padded = np.pad(plane, border, mode="symmetric")
    frequencies = [np.fft.fftfreq(n, pitch) for n, pitch in zip(padded.shape, pitches)]
    seen = np.fft.ifft2(np.fft.fft2(padded) * modulation(frequencies)).real
    return seen[border:border + plane.shape[0], border:border + plane.shape[1]]


def margins(p):
    """Pixels left out at the top and bottom, and at the left and right: 16 or one spot, whichever is more."""
    if p["marginPx"] is not None:
        return int(p["marginPx"]), int(p["marginPx"])
    spots = p["spotAcrossMm"] / p["pitchAcrossMm"], p["spotAlongMm"] / p["pitchAlongMm"]
    return tuple(max(16, math.ceil(spot - 1e-9)) for spot in spots)


def inside(plane, p):
    """The plane without its margin."""
    rows, columns = plane.shape
    across, along = margins(p)
    if rows <= 2 * across or columns <= 2 * along:
        raise SystemExit(f"margins of {along} and {across} px leave nothing of {columns} x {rows} px")
    return plane[across:rows - across, along:columns - along]


def seen_lightness(luminance, p):
    """L* through the eye, without the margin. Ringing below 0 is cut."""
    return inside(lightness(np.clip(eye_filtered(luminance, p), 0, None)), p)


def visual_difference(luminance, target, p):
    """L* difference, predicted minus target, both seen by the eye; margin left out."""
    return seen_lightness(luminance, p) - seen_lightness(target, p)
