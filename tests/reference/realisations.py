"""Realisations of the four parts of section 13: each is exposed and looked at as a piece of its own.

A function yields (u^2, t^2) of one realisation after another. Random ones are seeded.
"""
import math

import numpy as np

from appearance import seen_lightness
from fields import RandomField
from line_dose import exposed_lines, pixel_luminance

LOCAL_SEED, LINE_SEED = 1, 2
FLAT = 1e-12  # variance of L* that is only rounding
QUICK_SEEDS = 480


def affine_parts(predicted, wanted):
    """(u^2, t^2): mean squares of what the nearest a + b * wanted leaves of `predicted`, and of how far that map is off."""
    centred = wanted - wanted.mean()
    variance = np.mean(centred ** 2)
    slope = np.mean(centred * predicted) / variance if variance > FLAT else 0.0
    smooth = predicted.mean() + slope * centred
    return np.array([np.mean((predicted - smooth) ** 2), np.mean((smooth - wanted) ** 2)])


class Piece:
    """A bitmap with the lightness wanted of it, and how it is exposed and looked at."""

    def __init__(self, burn, wanted, respond, p):
        self.burn, self.wanted, self.respond, self.p = burn, wanted, respond, p
        self.lines = exposed_lines(burn, p)

    def luminance(self, factors=(1.0,)):
        return pixel_luminance(self.lines, self.p, self.respond, factors)[1]

    def squares(self, luminance):
        return affine_parts(seen_lightness(luminance, self.p), self.wanted)


def common(piece, sigma):
    """The dose of the whole piece, at 1 - sigma and 1 + sigma."""
    return np.array([piece.squares(plane) for plane in piece.luminance((1 - sigma, 1 + sigma))])


def spot(piece, sigma):
    """The spot of the whole piece, at 1 - sigma and 1 + sigma times its diameter."""
    found = []
    for factor in (1 - sigma, 1 + sigma):
        p = {**piece.p, "spotAlongMm": factor * piece.p["spotAlongMm"], "spotAcrossMm": factor * piece.p["spotAcrossMm"]}
        other = Piece(piece.burn, piece.wanted, piece.respond, p)
        found.append(other.squares(other.luminance()[0]))
    return np.array(found)


def line(piece, sigma):
    """The dose of each line for itself."""
    found = []
    for seed in range(piece.p["seeds"]):
        factors = 1 + sigma * np.random.default_rng((LINE_SEED, seed)).standard_normal(piece.burn.shape[0])
        lines = np.clip(factors, 0, None)[:, None] * piece.lines
        found.append(piece.squares(pixel_luminance(lines, piece.p, piece.respond)[1][0]))
    return np.array(found)


def local(piece, sigma):
    """(realisations, quick ones, quick ones of the same seeds): ln dose gains a random field.

    A piece holds few blotches, so realisations scatter widely. Quick ones take each pixel's luminance from a parabola through the
    pieces at -sigma, 0 and sigma. They scatter in the same way, and many of them make up for it (a control variate). The field is
    the same at all samples of a pixel, which is small against the field's length.
    """
    p, shape = piece.p, piece.burn.shape
    field = RandomField(shape, (p["pitchAcrossMm"], p["pitchAlongMm"]), p["spread"]["localLengthMm"])
    nominal, less, more = piece.luminance((1.0, math.exp(-sigma), math.exp(sigma)))
    slope, bend = (more - less) / 2, (more + less) / 2 - nominal
    whole, quick = [], []
    for seed in range(max(p["seeds"], QUICK_SEEDS)):
        here = field.draw((LOCAL_SEED, seed))
        quick.append(piece.squares(nominal + slope * here + bend * here ** 2))
        if seed < p["seeds"]:
            whole.append(piece.squares(piece.luminance((np.exp(sigma * here),))[0]))
    return np.array(whole), np.array(quick), np.array(quick[:p["seeds"]])
