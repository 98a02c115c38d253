"""Section 2 and 8 of the engraving model: bitmap to dose, summed directly, and the modulation of the exposure.

`p` is the parameter dictionary of simulate.py. Rows are scan lines: along = x = columns, across = y = rows.
"""
import math

import numpy as np
from scipy.special import log_ndtr, ndtr

TAIL_SIGMAS = 6.0  # two-sided mass beyond: 2e-9


def samples_per_pixel(pitch_mm, spot_mm, sampling=1):
    """Samples across one pixel so neighbours are no more than spot/5 apart (1e-9 allows for rounding)."""
    return max(1, math.ceil(pitch_mm / (spot_mm / 5) - 1e-9)) * int(sampling)


def sample_counts(p):
    """Samples of a pixel (along, across): at least `samplesPerSpot` to a spot, or by default five times `sampling`."""
    pairs = ((p["pitchAlongMm"], p["spotAlongMm"]), (p["pitchAcrossMm"], p["spotAcrossMm"]))
    if p["samplesPerSpot"]:
        return tuple(max(1, math.ceil(pitch * p["samplesPerSpot"] / spot - 1e-9)) for pitch, spot in pairs)
    return tuple(samples_per_pixel(pitch, spot, p["sampling"]) for pitch, spot in pairs)


def sample_offsets(count):
    """Midpoints of `count` equal parts of a pixel, in pixels from its centre."""
    return (np.arange(count) + 0.5) / count - 0.5


def switched_step(x_mm, sigma_mm, lag_mm):
    """Dose at x from a beam switched on at 0 and left on: Gaussian spot, first-order lag of length lag_mm = v * tau.

    Without lag the normal distribution function; with it the distribution function of the exponentially modified
    Gaussian (Grushka, "Characterization of exponentially modified Gaussian peaks in chromatography", 1972).
    """
    step = ndtr(x_mm / sigma_mm)
    if lag_mm > 0:
        exponent = -x_mm / lag_mm + 0.5 * (sigma_mm / lag_mm) ** 2
        step = step - np.exp(exponent + log_ndtr(x_mm / sigma_mm - sigma_mm / lag_mm))
    return step


def kernel_along(x_mm, pitch_mm, sigma_mm, lag_mm=0.0):
    """Relative dose at distance x along the line from the centre of one on-pixel (section 2, the erf factor)."""
    half = pitch_mm / 2
    return switched_step(x_mm + half, sigma_mm, lag_mm) - switched_step(x_mm - half, sigma_mm, lag_mm)


def kernel_across(y_mm, pitch_mm, sigma_mm):
    """Relative dose at distance y across from one line (section 2, pitchAcross * g)."""
    return pitch_mm * np.exp(-0.5 * (y_mm / sigma_mm) ** 2) / (sigma_mm * math.sqrt(2 * math.pi))


def weighted_shifts(plane, axis, reach, weight_of):
    """sum over shifts s of weight_of(s) * plane[index - s]; zero outside. weight_of may depend on the row."""
    length = plane.shape[axis]
    total = np.zeros_like(plane)
    for shift in range(-reach, reach + 1):
        if abs(shift) >= length:
            continue
        to = [slice(None), slice(None)]
        source = [slice(None), slice(None)]
        to[axis] = slice(max(0, shift), length + min(0, shift))
        source[axis] = slice(max(0, -shift), length + min(0, -shift))
        total[tuple(to)] += (weight_of(shift) * np.ones_like(plane))[tuple(to)] * plane[tuple(source)]
    return total


def exposed_along(burn, offset_px, p):
    """Every line exposed on its own, seen at offset_px (in pixels) from each pixel's centre."""
    pitch, sigma = p["pitchAlongMm"], p["spotAlongMm"] / 4
    lag = p["firingLagUs"] * 1e-6 * p["speedMmPerS"]
    odd = (np.arange(burn.shape[0]) % 2 == 1)[:, None]
    direction = np.where(odd & bool(p["twoWay"]), -1.0, 1.0)
    line_shift = np.where(odd & bool(p["twoWay"]), p["lineShiftMm"], 0.0)
    reach = math.ceil((TAIL_SIGMAS * sigma + 30 * lag + abs(p["lineShiftMm"])) / pitch + 1)

    def weight_of(shift):
        return kernel_along(direction * ((shift + offset_px) * pitch - line_shift), pitch, sigma, lag)
    return weighted_shifts(burn, 1, reach, weight_of)


def spread_across(lines, offset_px, p):
    """The exposed lines summed across, seen at offset_px (in pixels) from each line's centre."""
    pitch, sigma = p["pitchAcrossMm"], p["spotAcrossMm"] / 4
    reach = math.ceil(TAIL_SIGMAS * sigma / pitch + 1)
    return weighted_shifts(lines, 0, reach, lambda s: kernel_across((s + offset_px) * pitch, pitch, sigma))


def dose_samples(burn, p):
    """Yield the dose plane at every sample position inside the pixels, one H x W plane after another."""
    along_count, across_count = sample_counts(p)
    for along in sample_offsets(along_count):
        lines = exposed_along(burn, along, p)
        for across in sample_offsets(across_count):
            yield spread_across(lines, across, p)


def solid_dose(p):
    """Dose of an endless solid fill at the sample positions across one pitch; along the line it is constant.

    With `samplesPerSpot` four times as many: the ends of all tones are worth it.
    """
    pitch, sigma = p["pitchAcrossMm"], p["spotAcrossMm"] / 4
    lines = np.arange(-math.ceil(40 * sigma / pitch) - 2, math.ceil(40 * sigma / pitch) + 3)
    offsets = sample_offsets(sample_counts(p)[1] * (4 if p["samplesPerSpot"] else 1))
    doses = kernel_across((offsets[:, None] - lines[None, :]) * pitch, pitch, sigma)
    return (doses ** p["lineExponent"]).sum(axis=1) ** (1 / p["lineExponent"])


def exposure_mtf(frequency, pitch_mm, spot_mm, along, lag_mm=0.0):
    """Section 8: modulation of the exposure at `frequency` (line pairs per mm); the pixel box and lag act along only."""
    radius = spot_mm / 2
    modulation = math.exp(-(math.pi * radius * frequency) ** 2 / 2)
    if along:
        modulation *= abs(np.sinc(pitch_mm * frequency)) / math.hypot(1, 2 * math.pi * frequency * lag_mm)
    return float(modulation)


def mtf_limit(level, pitch_mm, spot_mm, along, lag_mm=0.0):
    """Frequency where the modulation has fallen to `level`, capped by Nyquist 1/(2 pitch)."""
    low, high = 0.0, 1 / (2 * pitch_mm)
    if exposure_mtf(high, pitch_mm, spot_mm, along, lag_mm) >= level:
        return high
    for _ in range(100):
        middle = (low + high) / 2
        if exposure_mtf(middle, pitch_mm, spot_mm, along, lag_mm) >= level:
            low = middle
        else:
            high = middle
    return low


def detail_limits(p):
    """The `detail` block of the report without the photo's own limit."""
    lag = p["firingLagUs"] * 1e-6 * p["speedMmPerS"]
    along, across = (p["pitchAlongMm"], p["spotAlongMm"], True, lag), (p["pitchAcrossMm"], p["spotAcrossMm"], False)
    return {"alongLpPerMm": {"at50": mtf_limit(0.5, *along), "at10": mtf_limit(0.1, *along)},
            "acrossLpPerMm": {"at50": mtf_limit(0.5, *across), "at10": mtf_limit(0.1, *across)}}
