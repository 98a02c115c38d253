"""The dose of section 2 from exact bursts, and of section 14 for lines that do not add, at samples inside every pixel.

Along: the steps of the power times the response of the beam to a step, at every sample. Across: a product of matrices with the
Gaussians of the lines, so that factors of the lines are a diagonal matrix between the two. exposure.py sums the same dose pixel by
pixel, without firing loss; selftest.py holds one against the other. `p` is the parameter dictionary of simulate.py.
"""
import math

import numpy as np

from bursts import power_steps
from exposure import TAIL_SIGMAS, kernel_across, sample_counts, switched_step

TAIL_LAGS = 30.0  # exp(-30) is left of the lag
BAND_SAMPLES = 200_000  # fits the processor's cache


def step_sum(positions, steps, first_mm, spacing_mm, count, sigma_mm, lag_mm):
    """Dose at first_mm + k * spacing_mm, k < count, of a beam whose power changes by `steps` at `positions`."""
    width = math.ceil((2 * TAIL_SIGMAS * sigma_mm + TAIL_LAGS * lag_mm) / spacing_mm) + 2
    start = np.floor((positions - TAIL_SIGMAS * sigma_mm - first_mm) / spacing_mm).astype(int)
    places = start[:, None] + np.arange(width)
    changing = steps[:, None] * switched_step(first_mm + places * spacing_mm - positions[:, None], sigma_mm, lag_mm)
    inside = (places >= 0) & (places < count)
    total = np.bincount(places[inside], weights=changing[inside], minlength=count)
    settled = np.bincount(np.clip(start + width, 0, count), weights=steps, minlength=count + 1)[:count]
    return total + np.cumsum(settled)


def exposed_lines(burn, p):
    """Relative dose of every line along itself: rows x (columns * samples along), 1 under a beam that stays on."""
    pitch, samples = p["pitchAlongMm"], sample_counts(p)[0]
    per_us = 1e-6 * p["speedMmPerS"]
    beam = p["spotAlongMm"] / 4, p["firingLagUs"] * per_us
    spacing, count = pitch / samples, burn.shape[1] * samples
    lines = np.empty((burn.shape[0], count))
    for j, row in enumerate(burn):
        back = j % 2 == 1 and p["twoWay"]
        # On the way back the samples are met from the right; the shift moves the line to the right, the samples nearer.
        first = spacing / 2 + (p["lineShiftMm"] if back else 0.0)
        positions, steps = power_steps(row[::-1] if back else row, pitch, p["firingLossUs"] * per_us)
        line = step_sum(positions, steps, first, spacing, count, *beam)
        lines[j] = line[::-1] if back else line
    return lines


def dose_bands(lines, p):
    """Yield (first pixel row, dose) of bands of whole pixel rows; dose is pixel rows x samples x (columns * samples)."""
    pitch, sigma, samples = p["pitchAcrossMm"], p["spotAcrossMm"] / 4, sample_counts(p)[1]
    rows, power = lines.shape[0], p["lineExponent"]
    reach = math.ceil(TAIL_SIGMAS * sigma / pitch + 1)
    padded = np.pad(lines if power == 1 else np.clip(lines, 0, None) ** power, ((reach, reach), (0, 0)))
    most = max(1, min(rows, BAND_SAMPLES // (samples * lines.shape[1])))
    for top in range(0, rows, most):
        count = min(most, rows - top)
        places = (np.arange(count * samples) + 0.5) / samples - 0.5
        distance = places[:, None] - (np.arange(count + 2 * reach) - reach)[None, :]
        dose = kernel_across(distance * pitch, pitch, sigma) ** power @ padded[top:top + count + 2 * reach]
        yield top, (dose if power == 1 else dose ** (1 / power)).reshape(count, samples, -1)


def pixel_means(samples, columns):
    """Mean over the samples of each pixel; `samples` as yielded by dose_bands."""
    count, across, length = samples.shape
    return samples.mean(axis=1).reshape(count, columns, length // columns).mean(axis=2)


def pixel_luminance(lines, p, respond, dose_factors=(1.0,)):
    """Per-pixel mean dose, and one per-pixel mean luminance factor for each dose factor: a number, or a plane of pixels."""
    rows, columns = lines.shape[0], lines.shape[1] // sample_counts(p)[0]
    mean_dose = np.empty((rows, columns))
    luminance = [np.empty((rows, columns)) for _ in dose_factors]
    for top, dose in dose_bands(lines, p):
        here = slice(top, top + dose.shape[0])
        mean_dose[here] = pixel_means(dose, columns)
        for plane, factor in zip(luminance, dose_factors):
            if np.ndim(factor):
                factor = np.repeat(factor[here], lines.shape[1] // columns, axis=1)[:, None, :]
            plane[here] = pixel_means(respond(dose * factor), columns)
    return mean_dose, luminance
