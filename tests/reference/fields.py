"""Seeded Gaussian random fields with the correlation exp(-(r/l)^2) of section 13.

The correlation is a product of one along and one across, so a field is a small matrix of normal numbers between the square roots of
two correlation matrices. That is exact on the grid, without a border.
"""
import numpy as np

SMALLEST = 1e-9  # eigenvalues below, against n, are left out


def correlation_root(count, pitch_mm, length_mm):
    """count x rank matrix F with F F^T = exp(-((i - j) pitch / length)^2)."""
    places = np.arange(count) * pitch_mm / length_mm
    values, vectors = np.linalg.eigh(np.exp(-(places[:, None] - places[None, :]) ** 2))
    kept = values > SMALLEST * count
    return vectors[:, kept] * np.sqrt(values[kept])


class RandomField:
    """Fields of mean 0 and variance 1 over the pixels of a piece."""

    def __init__(self, shape, pitches_mm, length_mm):
        self.across, self.along = (correlation_root(n, pitch, length_mm) for n, pitch in zip(shape, pitches_mm))

    def draw(self, seed):
        noise = np.random.default_rng(seed).standard_normal((self.across.shape[1], self.along.shape[1]))
        return self.across @ noise @ self.along.T
