"""Analytic checks of the brute-force simulation. Expected values never come from the code under test."""
import math
import tempfile

import numpy as np
from PIL import Image
from scipy.integrate import quad

import appearance
import exposure
import pictures
import checks_bursts  # noqa: F401
import checks_variation  # noqa: F401
from checks import check, job, run_checks
from simulate import simulate

# Poisson summation of equally spaced Gaussians: 1 + sum 2 q^(m^2) cos(2 pi m y / pitch), q = exp(-pi^2 / (8 s^2)),
# s = pitch / spot diameter. Values to nine digits from the series, confirmed by direct summation.
MODULATION = {0.4: 0.000896079646, 0.5: 0.0143837666, 0.588705011: 0.0568942235, 0.7: 0.161267047,
              0.8: 0.29071688, 1.0: 0.574196874}
EXTREMES = {0.5: (0.985616239, 1.01438377), 0.7: (0.838803889, 1.16136526), 1.0: (0.431927781, 1.59683976)}


def solid_extremes(s):
    """Dose of a large solid bitmap on a line and midway between two lines, away from the edges."""
    p = job(pitch=s * 0.1, spot=0.1)
    lines = exposure.exposed_along(np.ones((65, 65)), 0.0, p)
    return [exposure.spread_across(lines, offset, p)[32, 32] for offset in (0.5, 0.0)]


@check("ripple modulation (max - min) / (max + min) of a solid fill, six pitches")
def _():
    pairs = [solid_extremes(s) for s in MODULATION]
    return [(high - low) / (high + low) for low, high in pairs], list(MODULATION.values()), 1e-8


@check("ripple minimum and maximum of a solid fill, three pitches")
def _():
    return [solid_extremes(s) for s in EXTREMES], list(EXTREMES.values()), 2e-8


@check("ripple first harmonic 2 exp(-2 pi^2 sigma^2 / pitch^2)")
def _():
    got = []
    for s in MODULATION:
        p = job(pitch=s * 0.1, spot=0.1, sampling=8)
        dose = exposure.solid_dose(p)
        phase = 2 * math.pi * exposure.sample_offsets(dose.size)
        got.append(2 * np.mean(dose * np.cos(phase)))
    return got, [2 * math.exp(-2 * (math.pi * 0.025 / (s * 0.1)) ** 2) for s in MODULATION], 1e-9


@check("solid fill averages 1, endless and as the middle of a bitmap, overdrive 0.5 to 5")
def _():
    got = []
    for overdrive in (0.5, 1.15, 2.3, 5):
        p = job(pitch=0.115 / overdrive)
        got.append(exposure.solid_dose(p).mean())
        got.append(np.mean([d[40, 40] for d in exposure.dose_samples(np.ones((81, 81)), p)]))
    return got, [1.0] * 8, 1e-8


@check("one isolated pixel, or part of one, integrates to its pixel area")
def _():
    p = {**job(), "pitchAcrossMm": 0.08, "spotAlongMm": 0.09, "spotAcrossMm": 0.15, "sampling": 2}
    burn = np.zeros((21, 21))
    burn[10, 10] = 0.4
    mean = sum(exposure.dose_samples(burn, p)) / (
        exposure.samples_per_pixel(0.05, 0.09, 2) * exposure.samples_per_pixel(0.08, 0.15, 2))
    return mean.sum(), 0.4, 1e-8


@check("section 2 as written: a loop over on-pixels with erf and g")
def _():
    p = {**job(), "pitchAcrossMm": 0.07, "spotAcrossMm": 0.13}
    burn = (np.random.default_rng(1).random((15, 17)) < 0.4).astype(float)
    along, across = 0.3, -0.2
    got = exposure.spread_across(exposure.exposed_along(burn, along, p), across, p)
    sigma_x, sigma_y, a = 0.115 / 4, 0.13 / 4, 0.025
    expected = np.zeros_like(burn)
    for row in range(15):
        for column in range(17):
            x, y = (column + along) * 0.05, (row + across) * 0.07
            for j, i in zip(*np.nonzero(burn)):
                dx, dy = x - i * 0.05, y - j * 0.07
                box = math.erf((dx + a) / (math.sqrt(2) * sigma_x)) - math.erf((dx - a) / (math.sqrt(2) * sigma_x))
                g = math.exp(-dy * dy / (2 * sigma_y ** 2)) / (sigma_y * math.sqrt(2 * math.pi))
                expected[row, column] += 0.07 * g * box / 2
    return got, expected, 1e-8


@check("firing lag: box * exp(-t/tau) * Gaussian by quadrature, both travel directions")
def _():
    p = {**job(), "firingLagUs": 100.0, "speedMmPerS": 400.0}  # 0.04 mm
    burn = np.zeros((2, 41))
    burn[:, 20] = 1
    got = exposure.exposed_along(burn, 0.25, p)[:, 12:31]

    def lagged(x):
        def fired(u):  # box through the lag, switched on from -0.025 to 0.025
            start = 1 - math.exp(-max(u + 0.025, 0) / 0.04)
            return start - (1 - math.exp(-max(u - 0.025, 0) / 0.04))
        sigma = 0.115 / 4
        gauss = lambda u: math.exp(-((x - u) / sigma) ** 2 / 2) / (sigma * math.sqrt(2 * math.pi))
        return quad(lambda u: fired(u) * gauss(u), -0.025, 1.2, points=[0.025, x] if x > -0.025 else [0.025], limit=200)[0]
    x = (np.arange(12, 31) - 20 + 0.25) * 0.05
    return got, [[lagged(v) for v in x], [lagged(-v) for v in x]], 1e-7


@check("line shift moves the centroid of odd lines only")
def _():
    burn = np.zeros((2, 41))
    burn[:, 20] = 1
    moment, total = np.zeros(2), np.zeros(2)
    for offset in exposure.sample_offsets(8):  # pixel-spaced samples alone would alias into the centroid
        dose = exposure.exposed_along(burn, offset, job(lineShiftMm=0.013))
        moment += dose @ ((np.arange(41) - 20 + offset) * 0.05)
        total += dose.sum(axis=1)
    return moment / total, [0.0, 0.013], 1e-7


@check("samples: at most spot / 5 apart; an exact ratio is not rounded up")
def _():
    count = exposure.samples_per_pixel
    return [count(0.1, 0.115), count(0.05, 0.115), count(0.025, 0.115), count(0.023, 0.115), count(0.1, 0.115, 4)], \
        [5, 3, 2, 1, 20], 0


@check("PCHIP: table points, both ends held, slope 1.5 between secants 1 and 3 (harmonic mean)")
def _():
    curve = appearance.response_curve([[0, 0.0], [0.1, 0.1], [0.2, 0.4]])
    slope = (curve(0.1 + 1e-6) - curve(0.1 - 1e-6)) / 2e-6
    return [*curve([-1, 0, 0.1, 0.2, 9]), slope], [0, 0, 0.1, 0.4, 0.4, 1.5], 1e-4


@check("bare surface and ripple-free solid fill are the ends of the table; polarity turns with it")
def _():
    dark = appearance.reachable_luminance(job(pitch=0.02, spot=0.115))
    light = appearance.reachable_luminance(job(pitch=0.02, spot=0.115, response=[[0, 0.1], [1, 0.7]]))
    return [*dark, *light], [0.1, 0.6, 0.1, 0.7], 1e-6


@check("gaps count: hard-edged material at half the matched density")
def _():
    # Response ~ a step at dose 0.5. Mark width of a Gaussian line d sqrt(ln(peak/threshold)/2), section 9;
    # peak = pitch / (sigma sqrt(2 pi)); neighbours add nothing at pitch = 2 d.
    p = job(pitch=0.2, spot=0.1, sampling=200, response=[[0, 1], [0.4999, 1], [0.5001, 0], [1, 0]])
    width = 0.1 * math.sqrt(math.log(0.2 / (0.025 * math.sqrt(2 * math.pi)) / 0.5) / 2)
    return np.mean(appearance.response_curve(p["response"])(exposure.solid_dose(p))), 1 - width / 0.2, 1e-3


@check("L* (CIE 15) and its inverse; sRGB (IEC 61966-2-1)")
def _():
    code = np.array([1, 10, 11, 64, 128, 192, 254]) / 255
    y = np.array([0.001, 0.008856, 0.18, 0.5, 1.0])
    return [*appearance.linear_of_srgb(code), *appearance.lightness([0.18, 1.0, 0.0]),
            *appearance.luminance_of_lightness(appearance.lightness(y))], \
        [0.000303526984, 0.00303526984, 0.00334653576, 0.0512694584, 0.2158605, 0.527115126, 0.991102097,
         116 * 0.18 ** (1 / 3) - 16, 100, 0, *y], 1e-9


@check("target: ends of the photo reach the ends of the job in both mappings")
def _():
    ends = np.array([0.0, 1.0])
    return [appearance.target_luminance(ends, 0.08, 0.55, m) for m in ("lightness", "luminance")], \
        [[0.08, 0.55], [0.08, 0.55]], 1e-12


@check("eye filter leaves a constant unchanged, every border")
def _():
    flat = np.full((40, 50), 0.37)
    return [np.ptp(appearance.eye_filtered(flat, job(border=b))) + abs(
        appearance.eye_filtered(flat, job(border=b))[3, 3] - 0.37) for b in ("mirror", "circular", 64)], [0, 0, 0], 1e-12


@check("eye filter attenuates a sinusoid by exp(-f/k)")
def _():
    # Half-sample symmetric cosines are eigenfunctions of a mirrored filter. 1 cycle/degree = 0.190981084 cycles/mm at 300 mm.
    p = {**job(pitch=0.05), "pitchAcrossMm": 0.08}
    got, expected = [], []
    for m, n in ((3, 0), (0, 7), (10, 5)):
        x, y = (np.arange(120) + 0.5) / 120, (np.arange(90) + 0.5) / 90
        wave = np.cos(math.pi * n * y)[:, None] * np.cos(math.pi * m * x)[None, :]
        seen = appearance.eye_filtered(0.5 + 0.3 * wave, p) - 0.5
        got.append(np.sum(seen * wave) / np.sum(wave * wave))
        per_mm = math.hypot(m / (2 * 120 * 0.05), n / (2 * 90 * 0.08))
        expected.append(0.3 * math.exp(-per_mm / 0.190981084 / (0.525 * math.log(50) + 3.91)))
    return got, expected, 1e-8


@check("margin: 16 pixels, or those of one spot where they are more, along and across")
def _():
    flat = {**job(0.005, 0.1), "spotAlongMm": 0.04}
    return [appearance.margins(job()), appearance.margins(flat), appearance.inside(np.zeros((50, 60)), flat).shape], \
        [[16, 16], [20, 16], [10, 28]], 0


@check("pictures read back: BT.709 luminance of colours, 8-bit and 16-bit grey, burn fraction with black = 1")
def _():
    with tempfile.TemporaryDirectory() as folder:
        path = folder + "/p.png"

        def read(image, load):
            image.save(path)
            return load(path).ravel()
        colours = np.array([[[255, 0, 0], [0, 255, 0], [0, 0, 255]]], dtype=np.uint8)
        grey = np.array([[0, 102, 255]], dtype=np.uint8)
        got = [*read(Image.fromarray(colours), pictures.load_linear), *read(Image.fromarray(grey), pictures.load_linear),
               *read(Image.fromarray(grey.astype(np.uint16) * 257), pictures.load_linear),
               *read(Image.fromarray(grey), pictures.load_burn),
               *read(Image.fromarray(grey).point(lambda v: 255 * (v > 127)).convert("1"), pictures.load_burn)]
    middle = ((0.4 + 0.055) / 1.055) ** 2.4
    return got, [0.2126, 0.7152, 0.0722, 0, middle, 1, 0, middle, 1, 1, 0.6, 0, 1, 1, 0], 1e-9


@check("resampling keeps a constant and the mean of a smooth plane")
def _():
    x = np.linspace(0, 1, 400)
    plane = 0.5 + 0.3 * np.cos(2 * math.pi * x)[None, :] * np.cos(2 * math.pi * x)[:, None]
    small = pictures.fitted(plane, 100, 100, 1.0)
    flat = pictures.fitted(np.full((333, 500), 0.25), 64, 64, 1.0)
    return [small.mean() - plane.mean(), np.ptp(flat), flat.mean()], [0, 0, 0.25], 1e-3


@check("MTF limits: Gaussian alone, with the pixel box, capped by Nyquist")
def _():
    # 6.51793479 and 11.8796905: sqrt(2 ln(1/m)) / (pi w), w = 0.0575; 4.51295658: root with sinc(0.1 f) (Boreman).
    return [exposure.mtf_limit(0.5, 0.01, 0.115, False), exposure.mtf_limit(0.1, 0.01, 0.115, False),
            exposure.mtf_limit(0.5, 0.1, 0.115, True), exposure.mtf_limit(0.1, 0.1, 0.115, True)], \
        [6.51793479, 11.8796905, 4.51295658, 5.0], 1e-7


@check("whole run: a blank and a solid bitmap on their own targets have no error inside")
def _():
    p = job(pitch=0.02, spot=0.04, marginPx=40)
    blank, _ = simulate({**p, "target": 1}, np.zeros((100, 100)))
    solid, _ = simulate({**p, "target": 0, "doseSpread": 0, "border": 0, "adaptLuminance": 1e9,
                         "viewDistanceMm": 1e-3}, np.ones((100, 100)))
    return [blank["visualErrorRms"], blank["expectedVisualError"], solid["visualErrorRms"], solid["meanDose"]], \
        [0, 0, 0, 1], 1e-6


@check("whole run: the bitmap turned half round gives the same mean dose and luminance")
def _():
    burn = (np.random.default_rng(2).random((60, 80)) < 0.3).astype(float)
    first, _ = simulate({**job(), "marginPx": 0}, burn)
    second, _ = simulate({**job(), "marginPx": 0}, burn[::-1, ::-1])
    return [second["meanDose"], second["meanLuminance"]], [first["meanDose"], first["meanLuminance"]], 1e-12


def run():
    return run_checks()
