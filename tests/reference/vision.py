"""Where a card lies in a picture, found by a general-purpose vision library (OpenCV) from its code and its solid patches.

Reads JSON from standard input:
  picture      base64 of a JPEG or PNG
  codeCorners  [[x, y] in mm on the card: upper left, upper right, lower right, lower left of the code]
  patches      [[x, y] in mm of the middles of solid patches]
  patchMm      their side
  corners      [[x, y] in mm of points whose places in the picture are asked]
Writes {"corners": [[x, y] in pixels]}; pixel k is centred on k + 1/2.
"""
import base64
import json
import math
import sys

sys.dont_write_bytecode = True  # leaves no cache folder among the tests

import cv2  # noqa: E402
import numpy as np  # noqa: E402


def blobs(grey):
    """Middles and areas of what is dark in a picture of uneven light."""
    light = cv2.GaussianBlur(cv2.dilate(grey, np.ones((5, 5))), (0, 0), 60)
    even = cv2.convertScaleAbs(grey / (light + 1.0), alpha=200)
    _, dark = cv2.threshold(even, 0, 255, cv2.THRESH_BINARY_INV | cv2.THRESH_OTSU)
    _, _, facts, middles = cv2.connectedComponentsWithStats(dark, connectivity=4)
    return middles + 0.5, facts[:, cv2.CC_STAT_AREA]


class Lens:
    """The same one number as in camera.py: a ray at the distance s from the middle is seen at d = s (1 + radial d^2)."""

    def __init__(self, size):
        self.middle = np.array(size) / 2
        self.half = np.hypot(*size) / 2

    def straight(self, points, radial):
        off = points - self.middle
        return self.middle + off / (1 + radial * (np.hypot(*off.T) / self.half)[:, None] ** 2)

    def bent(self, points, radial):
        seen = points
        for _ in range(30):
            seen = self.middle + (points - self.middle) * (1 + radial * (np.hypot(*(seen - self.middle).T) / self.half)[:, None] ** 2)
        return seen


def mapped(homography, points):
    return cv2.perspectiveTransform(points[None], homography)[0]


def locate(grey, case):
    _, code = cv2.QRCodeDetector().detect(grey)
    patches, corners = (np.array(case[key], dtype=float) for key in ("patches", "corners"))
    lens = Lens(grey.shape[::-1])
    middles, areas = blobs(grey)
    view, _ = cv2.findHomography(np.array(case["codeCorners"]), code[0] + 0.5)
    start = np.mean(case["codeCorners"], axis=0)
    radial = 0.0
    # From the code outwards: the first view is good near the code only.
    for reach in np.linspace(12, np.hypot(*(patches - start).T).max() + 1, 8):
        near = patches[np.hypot(*(patches - start).T) < reach]
        there = lens.bent(mapped(view, near), radial)
        beside = lens.bent(mapped(view, near + [case["patchMm"], 0]), radial)
        sides = np.hypot(*(beside - there).T)
        off = np.hypot(middles[None, :, 0] - there[:, None, 0], middles[None, :, 1] - there[:, None, 1])
        nearest = off.argmin(axis=1)
        fits = (off.min(axis=1) < 0.6 * sides) & (np.abs(areas[nearest] / sides**2 - 1) < 0.4)
        if fits.sum() < 8:
            continue
        seen, known = middles[nearest][fits], near[fits]
        view, radial = fitted(lens, known, seen)
    return lens.bent(mapped(view, corners), radial)


def fitted(lens, known, seen):
    """The homography of RANSAC, at the bend of the lens that leaves the smallest median residual."""
    best = (math.inf, None, 0.0)
    for radial in np.linspace(-0.04, 0.04, 41):
        straight = lens.straight(seen, radial)
        view, _ = cv2.findHomography(known, straight, cv2.RANSAC, 2.0)
        residual = np.median(np.hypot(*(mapped(view, known) - straight).T))
        if residual < best[0]:
            best = (residual, view, radial)
    return best[1:]


if __name__ == "__main__":
    asked = json.load(sys.stdin)
    cv2.setRNGSeed(1)
    picture = cv2.imdecode(np.frombuffer(base64.b64decode(asked["picture"]), np.uint8), cv2.IMREAD_GRAYSCALE)
    json.dump({"corners": locate(picture, asked).tolist()}, sys.stdout)
