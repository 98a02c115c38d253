"""Checks of the random fields and of section 13 against closed forms."""
import math

import numpy as np

from appearance import lightness, luminance_of_lightness, predict, visual_difference
from checks import check, job
from fields import RandomField
from realisations import QUICK_SEEDS, LOCAL_SEED, affine_parts
from simulate import simulate
from variation import part_gain, root_of_parts

CLEAR_EYE = {"adaptLuminance": 1e9, "viewDistanceMm": 1e-3}
L_BARE, L_PER_DOSE = 90.0, -50.0
# Lightness that falls by 50 per dose: what the closed forms below are for.
STRAIGHT = [[dose, float(luminance_of_lightness(L_BARE + L_PER_DOSE * dose))] for dose in np.linspace(0, 1.5, 301)]
SIGMAS = {"common": 0.07, "local": 0.05, "localLengthMm": 0.5, "line": 0.06, "spot": 0.1}


def solid_part(part, seeds, rows=100, columns=90):
    """A part's gain on a solid fill without ripple (pitch 0.02 mm, spot 0.08 mm) that is exactly as light as wanted."""
    p = {**job(0.02, 0.08, response=STRAIGHT, **CLEAR_EYE, marginPx=20, spread=SIGMAS, seeds=seeds),
         "samplesPerSpotRandom": 16, "samplesPerSpot": 16}
    wanted = np.full((rows, columns), float(luminance_of_lightness(L_BARE + L_PER_DOSE)))
    return part_gain(part, np.ones((rows, columns)), wanted, p)[0]


@check("u and t of a prediction that is an affine map of the wanted lightness: 0 and the rms of the map's error")
def _():
    wanted = np.random.default_rng(7).random((30, 40)) * 60
    return affine_parts(3 + 0.9 * wanted, wanted), [0, np.mean((3 - 0.1 * wanted) ** 2)], 1e-10


@check("u is what an affine map does not reach, t what it does: together the mean square, as they are orthogonal")
def _():
    x = np.cos(2 * math.pi * np.arange(64) / 64)[None, :] * np.ones((8, 1))
    ripple = np.cos(2 * math.pi * 5 * np.arange(64) / 64)
    return affine_parts(1 + 1.5 * x + 0.4 * ripple, x), [0.08, 1 + 0.125], 1e-12


@check("random fields: mean 0, variance 1, correlation exp(-(r/l)^2) along and across, unequal pitch")
def _():
    field = RandomField((40, 64), (0.1, 0.05), 0.4)
    draws = np.stack([field.draw((9, seed)) for seed in range(1500)])
    got = [draws.mean(), (draws ** 2).mean()]
    expected = [0.0, 1.0]
    for rows, columns in ((0, 4), (0, 8), (2, 0), (4, 0), (3, 6), (0, 40), (30, 0)):
        a, b = draws[:, :40 - rows, :64 - columns], draws[:, rows:, columns:]
        got.append(np.mean(a * b))
        expected.append(math.exp(-((rows * 0.1) ** 2 + (columns * 0.05) ** 2) / 0.16))
    return got, expected, 0.015


@check("the same seed gives the same field, another seed another")
def _():
    field = RandomField((30, 30), (0.1, 0.1), 0.5)
    first, again, other = (field.draw((1, seed)) for seed in (5, 5, 6))
    return [np.ptp(first - again), float(np.std(first - other) > 0.5)], [0, 1], 0


@check("common part on a straight response: no unevenness, a shift of 50 L* times sigma")
def _():
    return solid_part("common", 1), [0, (50 * 0.07) ** 2], 1e-3


@check("spot part on a solid fill without ripple: nothing")
def _():
    return solid_part("spot", 1), [0, 0], 1e-3


@check("local part on a straight response: variance and square of the mean of 50 exp(field) inside, averaged over the seeds")
def _():
    field = RandomField((100, 90), (0.02, 0.02), SIGMAS["localLengthMm"])
    doses = [np.exp(SIGMAS["local"] * field.draw((LOCAL_SEED, seed))[20:-20, 20:-20]) for seed in range(QUICK_SEEDS)]
    expected = [np.mean([np.var(50 * dose) for dose in doses]), np.mean([(50 * dose.mean() - 50) ** 2 for dose in doses])]
    return solid_part("local", 20) / expected, [1, 1], 0.01  # twenty whole pieces scatter about the quick ones


@check("line part on a straight response: overlapping lines average to pitch / (2 sqrt(pi) sigma) of their variance")
def _():
    # Weights of a line over samples a quarter pitch apart, averaged over the four samples of a pixel, squared and summed.
    samples = (np.arange(-120, 120) + 0.5) / 4
    weights = np.exp(-0.5 * samples ** 2) / math.sqrt(2 * math.pi)  # sigma is one pitch
    own = np.mean(weights.reshape(-1, 4), axis=1)
    assert abs(np.sum(own ** 2) - 1 / (2 * math.sqrt(math.pi))) < 0.02
    rows, reach = 60, np.arange(60)
    shared = np.array([np.sum(own[:60 - k] * own[k:]) for k in range(60)])
    in_mean = (shared[0] + 2 * np.sum((1 - reach[1:] / rows) * shared[1:])) / rows
    return solid_part("line", 600, columns=44) / (50 * 0.06) ** 2, [np.sum(own ** 2) - in_mean, in_mean], 0.006


@check("spot part on every eighth line: the harmonics of a comb of Gaussians, at both spots")
def _():
    slope = -0.01
    p = {**job(0.02, 0.08, response=[[0, 0.5], [2, 0.5 + 2 * slope]], **CLEAR_EYE, marginPx=16, spread=SIGMAS),
         "samplesPerSpot": 40}
    burn = np.zeros((80, 80))
    burn[4::8] = 1
    per_dose = slope * 116 / 3 * 0.5 ** (-2 / 3)  # dL*/dY at Y = 0.5

    def square(sigma):
        harmonics = np.arange(1, 30)
        amplitude = 2 * np.exp(-2 * (math.pi * sigma * harmonics / 0.16) ** 2) * np.sinc(harmonics / 8)
        # Samples of a period of eight pixels: harmonics m and 8 - m fall together, those beyond 4 are below 1e-4.
        return (per_dose / 8) ** 2 * np.sum(amplitude ** 2 / 2)
    gain = part_gain("spot", burn, np.full(burn.shape, 0.5 + slope / 8), p)[0]
    expected = (square(0.018) + square(0.022)) / 2 - square(0.02)
    return gain[0] / expected, 1, 0.02


@check("parts add as squares, and a part that helps adds nothing")
def _():
    total, error = root_of_parts(4.0, [5.0, -3.0, 7.0], [0.3, 0.0, 0.4])
    return [total, error], [4.0, 0.5 / 8], 1e-12


@check("whole run with all parts 0: unevenness and shift are those of the nominal piece")
def _():
    rng = np.random.default_rng(8)
    burn = (rng.random((60, 60)) < 0.4).astype(float)
    p = job(spread={name: 0 for name in ("common", "local", "line", "spot")}, target=0.5, marginPx=16)
    result, planes = simulate(p, burn)
    difference = visual_difference(predict(burn, p)[1][0], planes["target"], p)
    # The target is flat, so all of the smooth map is the mean.
    return [result["unevenness"], result["toneShift"], result["expectedVisualError"]], \
        [difference.std(), abs(difference.mean()), math.hypot(difference.std(), difference.mean() / 3)], 1e-10


@check("converged: steep at 15 samples to a spot within 0.003 L*, lines apart 0.008, a wall of 0.05 in dose at 30 within 0.05")
def _():
    steep = [[0, 0.6], [0.2, 0.577], [0.3, 0.45], [0.35, 0.325], [0.4, 0.2], [0.5, 0.077], [0.6, 0.054], [1, 0.05]]
    wall = [[0, 0.59], [0.3, 0.58], [0.35, 0.07], [0.5, 0.052], [1, 0.052]]
    burn = (np.random.default_rng(10).random((48, 48)) < 0.4).astype(float)

    def seen(pitch, spot, response, samples):
        return lightness(predict(burn, job(pitch, spot, response=response, samplesPerSpot=samples))[1][0].mean())
    cases = ((0.05, 0.115, steep, 15, 0.003), (0.1, 0.11, steep, 15, 0.008), (0.095, 0.069, wall, 30, 0.05))
    return [(seen(*case[:4]) - seen(*case[:3], 80)) / case[4] for case in cases], [0, 0, 0], 1
