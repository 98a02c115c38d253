"""Seeded Gaussian random fields with the correlation exp(-(r/l)^2) of section 13."""
import math

import numpy as np
from scipy.fft import fft2, ifft2, next_fast_len

FAR = 4.0  # lengths between a piece and its repetition: correlation exp(-16)


class RandomField:
    """Fields of mean 0 and variance 1 over the pixels of a piece, cut from a larger torus (circulant embedding)."""

    def __init__(self, shape, pitches_mm, length_mm):
        self.shape = shape
        self.torus = [next_fast_len(math.ceil(n + FAR * length_mm / pitch)) for n, pitch in zip(shape, pitches_mm)]
        squares = [(np.minimum(np.arange(n), n - np.arange(n)) * pitch / length_mm) ** 2
                   for n, pitch in zip(self.torus, pitches_mm)]
        spectrum = fft2(np.exp(-(squares[0][:, None] + squares[1][None, :]))).real
        self.amplitude = np.sqrt(np.clip(spectrum, 0, None))

    def draw(self, seed):
        noise = np.random.default_rng(seed).standard_normal(self.torus)
        field = ifft2(fft2(noise) * self.amplitude).real
        return field[:self.shape[0], :self.shape[1]]
