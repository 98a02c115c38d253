"""Section 3: tables that are measured on solid fills, and the response that makes simulated fills reproduce such a table."""
import numpy as np
from scipy.optimize import least_squares

from appearance import response_curve
from exposure import solid_dose


def fill_table(response, doses, p):
    """[[dose, luminance factor], ...] that a photometer reads on solid fills of mean dose `doses`, at the pitch and spot of `p`."""
    respond, ripple = response_curve(response), solid_dose(p)
    return [[float(dose), float(np.mean(respond(dose * ripple)))] for dose in doses]


def solved_response(table, p):
    """(response, rms residual): points at the doses of the table, monotone like it, whose simulated fills come nearest to it."""
    doses, wanted = np.asarray(table, dtype=float).T
    sense = 1.0 if wanted[-1] >= wanted[0] else -1.0

    def points(unknown):
        return np.column_stack([doses, unknown[0] + sense * np.concatenate(([0], np.cumsum(unknown[1:])))])

    def misses(unknown):
        return np.array(fill_table(points(unknown), doses, p))[:, 1] - wanted

    start = np.concatenate(([wanted[0]], np.maximum(sense * np.diff(wanted), 1e-6)))
    found = least_squares(misses, start, bounds=(0, 1), xtol=1e-14, ftol=1e-14, gtol=1e-14)
    return points(found.x).tolist(), float(np.sqrt(np.mean(found.fun ** 2)))
