"""Analytic checks of exact bursts, of lines that do not add, and of responses that are solved from fills."""
import math

import numpy as np

import exposure
from appearance import predict
from bursts import power_steps
from checks import check, job
from fills import fill_table, solved_response
from line_dose import dose_bands, exposed_lines, pixel_luminance

LOSS = {"firingLossUs": 50.0, "speedMmPerS": 400.0}  # 0.02 mm


def pixel_dose(burn, p):
    return predict(burn, p)[0]


def one_row(columns, **power):
    row = np.zeros((1, columns))
    for place, value in power.items():
        row[0, int(place[1:])] = value
    return row


@check("a lone pixel that loses half of its length has half the dose, its middle a quarter pixel later, both ways of travel")
def _():
    burn = np.zeros((2, 41))
    burn[:, 20] = 1
    p = job(pitch=0.04, **LOSS, samplesPerSpot=40)
    lines = exposed_lines(burn, p)
    x = exposure.sample_offsets(lines.shape[1]) * 41 * 0.04
    return [lines.sum(axis=1) / exposure.sample_counts(p)[0], lines @ x / lines.sum(axis=1)], [[0.5, 0.5], [0.01, -0.01]], 1e-9


@check("a loss of a pixel or more leaves nothing of a lone pixel, and one pixel less of a longer burst")
def _():
    burn = one_row(60, p10=1, p30=1, p31=1, p32=1)
    return [exposed_lines(burn, job(pitch=pitch, **LOSS)).mean() * 60 for pitch in (0.02, 0.04, 0.015)], \
        [2.0, 0.5 + 2.5, 3 - 0.02 / 0.015], 1e-9


@check("the energy of a line is the sum of its trimmed bursts, with lag, shift and an elliptical spot")
def _():
    row = (np.random.default_rng(3).random(400) < 0.6).astype(float)
    row[:60] = row[-60:] = 0
    lengths = [len(part) for part in "".join("10"[v == 0] for v in row).split("0") if part]
    p = {**job(), "spotAlongMm": 0.09, "firingLagUs": 40.0, "lineShiftMm": 0.03, **LOSS}
    trimmed = sum(n * 0.05 - 0.02 for n in lengths)
    longer_mm = sum(n * 0.05 + 0.02 for n in lengths)
    longer = {**p, "firingLossUs": -50.0}
    burn = np.zeros((25, 400))
    burn[12] = row
    return [pixel_dose(burn, p).sum(), pixel_dose(burn, longer).sum()], [trimmed / 0.05, longer_mm / 0.05], 1e-6


def in_order(positions, steps):
    order = np.lexsort((-steps, positions))
    return [*positions[order], *steps[order]]


@check("negative loss: gaps no longer than it close, longer ones shrink by it; the last pixel's power goes on")
def _():
    row = one_row(12, p1=1, p3=0.5, p6=1)[0]
    return [*in_order(*power_steps(row, 0.05, -0.05)), *in_order(*power_steps(row, 0.05, -0.07))], \
        [0.05, 0.15, 0.15, 0.25, 0.3, 0.4, 1, 0.5, -1, -0.5, 1, -1,
         0.05, 0.15, 0.15, 0.27, 0.3, 0.42, 1, 0.5, -1, -0.5, 1, -1], 1e-12


@check("a burst of several powers loses its first part, whatever that part's power")
def _():
    return in_order(*power_steps(one_row(9, p2=0.25, p3=1, p4=0.5)[0], 0.05, 0.06)), \
        [0.16, 0.16, 0.2, 0.25, 0.75, 0.25, -0.5, -0.5], 1e-12


@check("a line without bursts, and one whose bursts are all too short")
def _():
    return [power_steps(np.zeros(5), 0.05, 0)[0].size, power_steps(one_row(9, p2=1, p4=1)[0], 0.05, 0.06)[0].size], [0, 0], 0


@check("bursts against the direct sum over pixels: two ways, lag, shift, elliptical spot, unequal pitch, power levels")
def _():
    p = {**job(), "pitchAcrossMm": 0.07, "spotAcrossMm": 0.15, "firingLagUs": 60.0, "lineShiftMm": 0.021}
    burn = np.random.default_rng(4).choice([0, 1 / 3, 2 / 3, 1], (19, 23))
    direct = sum(exposure.dose_samples(burn, p)) / math.prod(exposure.sample_counts(p))
    return pixel_dose(burn, p), direct, 1e-8


@check("a factor of one line adds that line's own dose once more")
def _():
    burn = (np.random.default_rng(5).random((21, 21)) < 0.5).astype(float)
    alone = np.zeros_like(burn)
    alone[8] = burn[8]
    factors = np.ones((21, 1))
    factors[8] = 2
    got = pixel_luminance(factors * exposed_lines(burn, job()), job(), lambda dose: dose)[0]
    return got, pixel_dose(burn, job()) + sum(exposure.dose_samples(alone, job())) / 9, 1e-8


@check("a field of dose factors on a linear response scales the luminance pixel by pixel")
def _():
    burn = (np.random.default_rng(6).random((160, 240)) < 0.5).astype(float)  # more than one band
    field = 1 + np.arange(240)[None, :] / 100 + np.arange(160)[:, None] / 70
    mean, (seen,) = pixel_luminance(exposed_lines(burn, job()), job(), lambda dose: 3 * dose, (field,))
    direct = sum(exposure.dose_samples(burn, job())) / 9
    return [seen, mean], [3 * field * direct, direct], 1e-8


@check("lines that do not add: half-way between two lines of dose d is 2^(1/q) d")
def _():
    got, expected = [], []
    for q in (1, 1.5, 2):
        p = job(pitch=0.03, spot=0.12, lineExponent=q, samplesPerSpot=12)  # three samples to a pixel, one on its line
        burn = np.zeros((31, 91))
        burn[[14, 16]] = 1
        dose = np.concatenate([band for _, band in dose_bands(exposed_lines(burn, p), p)])
        single = 0.03 * math.exp(-0.5) / (0.03 * math.sqrt(2 * math.pi))  # one pitch away: one sigma
        got += [dose[15, 1, 135]]
        expected += [2 ** (1 / q) * single]
    return got, expected, 1e-9


@check("the solid fill of lines that do not add: direct sum on a line and between two")
def _():
    p = job(pitch=0.1, spot=0.1, lineExponent=1.5, sampling=2)
    offsets = exposure.sample_offsets(10)
    lines = [[(4 / math.sqrt(2 * math.pi) * math.exp(-8 * (o - k) ** 2)) ** 1.5 for k in range(-5, 6)] for o in offsets]
    return exposure.solid_dose(p), [sum(line) ** (2 / 3) for line in lines], 1e-9


@check("fills of a known response at the matched pitch give back that response")
def _():
    p = job(pitch=0.115, samplesPerSpot=15)
    known = [[0, 0.6], [0.2, 0.55], [0.4, 0.4], [0.6, 0.2], [0.8, 0.1], [1, 0.06]]
    solved, residual = solved_response(fill_table(known, [dose for dose, _ in known], p), p)
    lightening = [[dose, 0.66 - y] for dose, y in known]
    other, _ = solved_response(fill_table(lightening, [dose for dose, _ in known], p), p)
    return [[y for _, y in solved], [y for _, y in other], [residual] * 6], \
        [[y for _, y in known], [y for _, y in lightening], [0] * 6], 1e-4


@check("fills without ripple are read as they are")
def _():
    known = [[0, 0.1], [0.3, 0.2], [0.7, 0.5], [1, 0.6]]
    return fill_table(known, [0, 0.3, 0.7, 1], job(pitch=0.02)), known, 1e-9
