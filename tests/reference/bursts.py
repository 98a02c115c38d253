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
    found = runs(row > 0)
    positions, steps = [np.zeros(0)], [np.zeros(0)]
    for (first, end), next_first in zip(found, [*found[1:, 0], np.inf]):
        start_mm, end_mm = first * pitch_mm + max(0.0, loss_mm), end * pitch_mm + max(0.0, -loss_mm)
        if start_mm >= end_mm:
            continue
        power = row[first:end]
        positions += [np.maximum(np.arange(first, end) * pitch_mm, start_mm), [min(end_mm, next_first * pitch_mm)]]
        steps += [np.diff(power, prepend=0.0), [-power[-1]]]
    positions, steps = np.concatenate(positions), np.concatenate(steps)
    return positions[steps != 0], steps[steps != 0]
