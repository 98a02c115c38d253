"""Bursts of the beam along one line as exact intervals: where the power changes, and by how much (section 2).

Positions are in mm in the direction of travel, from the edge of the first pixel that the beam meets. A burst is a run of pixels of
any power above 0.
"""
import numpy as np


def runs(on):
    """[first, end) of every run of true values, one row each."""
    edges = np.flatnonzero(np.diff(np.concatenate(([0], on.astype(int), [0]))))
    return edges.reshape(-1, 2)


def power_steps(row, pitch_mm, loss_mm):
    """(positions, steps) of the power of a line whose pixels are given in the order in which the beam meets them.

    loss_mm is the travel during the firing loss. Above 0 a burst starts that much later, and a burst no longer than that is not
    there. Below 0 a burst ends that much later with the power of its last pixel, until the next one starts at the latest.
    """
    firsts, ends = runs(row > 0).T
    starts_mm = firsts * pitch_mm + max(0.0, loss_mm)
    stops_mm = np.minimum(ends * pitch_mm + max(0.0, -loss_mm), np.append(firsts[1:], np.inf) * pitch_mm)
    burns = starts_mm < stops_mm
    burst, pixels = np.repeat(np.arange(len(firsts)), ends - firsts), np.flatnonzero(row > 0)
    before = np.where(pixels == firsts[burst], 0.0, row[pixels - 1])
    positions = np.concatenate((np.maximum(pixels * pitch_mm, starts_mm[burst])[burns[burst]], stops_mm[burns]))
    steps = np.concatenate(((row[pixels] - before)[burns[burst]], -row[ends - 1][burns]))
    return positions[steps != 0], steps[steps != 0]
