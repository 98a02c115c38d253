"""A camera that takes a picture of an engraved card: its own exposure, its own optics, nothing of the product's code.

Reads JSON from standard input:
  burn        base64 of bytes 0 and 1 (or shares of full power as 32-bit floats, "kind": "f4"), row after row; columns, rows
  params      as of simulate.py; of `spread` the parts local, localLengthMm and line are drawn, with `seed`. common and spot differ
              from piece to piece, so they are factors: doseFactor 1, spotFactor 1
  seed        of everything random
  cameras     see CAMERA; the card is engraved once for all of them
  stopsAfter  share of the lines that are engraved before the machine stops; default 1
  areas       [left, top, width, height] in mm on the card, of which means are asked; default none
Writes for each camera {"picture": base64 of a JPEG or PNG, "places": [[x, y] in pixels of the card's corners, from the upper left
clockwise], "means": [luminance factor of each area before the camera saw it]}.
"""
import base64
import io
import json
import math
import sys

sys.dont_write_bytecode = True  # leaves no cache folder among the tests

import numpy as np  # noqa: E402
from PIL import Image  # noqa: E402
from scipy.ndimage import gaussian_filter, map_coordinates  # noqa: E402

from appearance import response_curve  # noqa: E402
from fields import RandomField  # noqa: E402
from line_dose import exposed_lines, pixel_luminance  # noqa: E402
from simulate import DEFAULTS  # noqa: E402

CAMERA = {
    "columns": 1600, "rows": 1200,
    "fill": 0.85,  # of the picture's width or height, by the card without a tilt
    "tiltDeg": 0.0, "tiltTowardsDeg": 0.0, "rollDeg": 0.0, "mirrored": False,
    "distanceMm": 300.0,
    "radial": 0.0,  # of the distance from the middle, at half the diagonal: barrel below 0
    "gradient": 1.0, "gradientTowardsDeg": 0.0,  # brightest over darkest light across the picture
    "vignetting": False,  # cos^4 of the angle from the axis
    "blurPx": 0.0, "noise": 0.0,  # relative, of a bright pixel
    "curve": "srgb",  # or "power": 1/2.2, or "phone": sRGB with an S on top
    "exposure": 0.9,  # code of a luminance factor of 1 in even light, linear
    "jpeg": 95,  # 0: PNG
    "grain": 0.0, "grainMm": [6.0, 0.4],  # standard deviation of ln luminance factor, and its lengths
    "marginMm": 15.0,
    "bendMm": 0.0,  # the middle of the card is so much nearer to the camera than its left and right end
    "papers": [],  # [left, top, width, height in mm from the card's corner, luminance factor] of paper that lies beside the card
}


def engraved(case):
    """Luminance factor of every pixel of the card."""
    p = {**DEFAULTS, **case["params"]}
    kind = case.get("kind", "u1")
    burn = np.frombuffer(base64.b64decode(case["burn"]), dtype=kind).astype(float).reshape(case["rows"], case["columns"])
    factor = p.get("spotFactor", 1.0)
    p = {**p, "spotAlongMm": factor * p["spotAlongMm"], "spotAcrossMm": factor * p["spotAcrossMm"]}
    spread = p["spread"] or {}
    random = np.random.default_rng((case["seed"], 1))
    lines = exposed_lines(burn, p) * p.get("doseFactor", 1.0)
    lines *= np.clip(1 + spread.get("line", 0.0) * random.standard_normal(burn.shape[0]), 0, None)[:, None]
    lines[round(case.get("stopsAfter", 1.0) * burn.shape[0]):] = 0
    dose_factor = 1.0
    if spread.get("local", 0.0) > 0:
        field = RandomField(burn.shape, (p["pitchAcrossMm"], p["pitchAlongMm"]), spread["localLengthMm"])
        dose_factor = np.exp(spread["local"] * field.draw((case["seed"], 2)))
    return pixel_luminance(lines, p, response_curve(p["response"]), (dose_factor,))[1][0], p


def on_its_board(card, p, c, seed):
    """The card with bare surface round it, and the grain of the wood. Returns the plane and the place of its corner in mm."""
    along, across = (math.ceil(c["marginMm"] / pitch) for pitch in (p["pitchAlongMm"], p["pitchAcrossMm"]))
    bare = float(response_curve(p["response"])(0.0))
    board = np.pad(card, ((across, across), (along, along)), constant_values=bare)
    if c["grain"] > 0:
        noise = np.random.default_rng((seed, 3)).standard_normal(board.shape)
        lengths = c["grainMm"][1] / p["pitchAcrossMm"], c["grainMm"][0] / p["pitchAlongMm"]
        smooth = gaussian_filter(noise, lengths, mode="wrap")
        board = board * np.exp(c["grain"] * smooth / smooth.std())
    for left, top, width, height, factor in c["papers"]:
        from_x, from_y = along + round(left / p["pitchAlongMm"]), across + round(top / p["pitchAcrossMm"])
        to_x, to_y = from_x + round(width / p["pitchAlongMm"]), from_y + round(height / p["pitchAcrossMm"])
        board[max(0, from_y):to_y, max(0, from_x):to_x] = factor
    return board, (-along * p["pitchAlongMm"], -across * p["pitchAcrossMm"])


class View:
    """Where a point of the picture, in pixels, lies on the card, in mm from its upper left corner."""

    def __init__(self, size_mm, c):
        self.size_mm, self.c = size_mm, c
        tilt, towards, roll = (math.radians(c[name]) for name in ("tiltDeg", "tiltTowardsDeg", "rollDeg"))
        axis = np.array([-math.sin(towards), math.cos(towards), 0.0])
        cross = np.array([[0, 0, axis[1]], [0, 0, -axis[0]], [-axis[1], axis[0], 0]])
        tilted = np.eye(3) + math.sin(tilt) * cross + (1 - math.cos(tilt)) * cross @ cross
        turned = np.array([[math.cos(roll), -math.sin(roll), 0], [math.sin(roll), math.cos(roll), 0], [0, 0, 1]])
        spin = tilted @ turned @ np.diag([-1.0 if c["mirrored"] else 1.0, 1.0, 1.0])
        width, height = size_mm
        box = np.abs(turned[:2, :2]) @ np.array([width, height])
        focal = c["fill"] * c["distanceMm"] * min(c["columns"] / box[0], c["rows"] / box[1])
        lens = np.array([[focal, 0, c["columns"] / 2], [0, focal, c["rows"] / 2], [0, 0, 1]])
        plane = np.column_stack([spin[:, 0], spin[:, 1], np.array([0, 0, c["distanceMm"]])])
        middle = np.array([[1, 0, -width / 2], [0, 1, -height / 2], [0, 0, 1]])
        self.spin, self.lens = spin, lens
        self.to_picture = lens @ plane @ middle
        self.from_picture = np.linalg.inv(self.to_picture)
        self.half_diagonal = math.hypot(c["columns"], c["rows"]) / 2

    def on_card(self, x, y):
        # Straight rays, found from bent ones.
        dx, dy = x - self.c["columns"] / 2, y - self.c["rows"] / 2
        bend = 1 + self.c["radial"] * (np.hypot(dx, dy) / self.half_diagonal) ** 2
        u, v = dx / bend + self.c["columns"] / 2, dy / bend + self.c["rows"] / 2
        if self.c["bendMm"]:
            return self.on_bent_card(u, v)
        a = self.from_picture
        w = a[2, 0] * u + a[2, 1] * v + a[2, 2]
        return (a[0, 0] * u + a[0, 1] * v + a[0, 2]) / w, (a[1, 0] * u + a[1, 1] * v + a[1, 2]) / w

    def height(self, x):
        """Of a bent card above the plane of its ends, towards the camera (which looks along the positive axis)."""
        return -self.c["bendMm"] * np.clip(1 - (2 * x / self.size_mm[0]) ** 2, -1, 1)

    def on_bent_card(self, u, v):
        # Where each ray meets the card at the height that the last round found.
        rays = np.linalg.inv(self.lens) @ np.stack([u.ravel(), v.ravel(), np.ones(u.size)])
        rays, eye = self.spin.T @ rays, self.spin.T @ np.array([0, 0, -self.c["distanceMm"]])
        height = np.zeros(u.size)
        for _ in range(8):
            far = (height - eye[2]) / rays[2]
            x, y = eye[0] + far * rays[0], eye[1] + far * rays[1]
            height = self.height(x)
        return (x + self.size_mm[0] / 2).reshape(u.shape), (y + self.size_mm[1] / 2).reshape(u.shape)

    def corners(self):
        width, height = self.size_mm
        return [self.in_picture(x, y) for x, y in ((0, 0), (width, 0), (width, height), (0, height))]

    def in_picture(self, x, y):
        u, v, w = self.to_picture @ np.array([x, y, 1.0])
        dx, dy = u / w - self.c["columns"] / 2, v / w - self.c["rows"] / 2
        straight = math.hypot(dx, dy)
        bent = straight
        for _ in range(50):
            bent = straight * (1 + self.c["radial"] * (bent / self.half_diagonal) ** 2)
        scale = bent / straight if straight > 0 else 1.0
        return [dx * scale + self.c["columns"] / 2, dy * scale + self.c["rows"] / 2]


def light(x, y, c):
    """Light that falls on the card and reaches the sensor, 1 in the middle."""
    dx, dy = x - c["columns"] / 2, y - c["rows"] / 2
    towards = math.radians(c["gradientTowardsDeg"])
    half = math.hypot(c["columns"], c["rows"]) / 2
    even = c["gradient"] ** (0.5 * (dx * math.cos(towards) + dy * math.sin(towards)) / half)
    if not c["vignetting"]:
        return even
    return even * np.cos(np.arctan(np.hypot(dx, dy) / (1.4 * c["columns"]))) ** 4


def encoded(linear, curve):
    """Code 0..1 of linear light. "phone" lifts the contrast of the middle on top of sRGB."""
    linear = np.clip(linear, 0, 1)
    if curve == "power":
        return linear ** (1 / 2.2)
    code = np.where(linear <= 0.0031308, 12.92 * linear, 1.055 * np.power(linear, 1 / 2.4, where=linear > 0) - 0.055)
    return code + (0.06 * np.sin(2 * math.pi * (code - 0.5)) if curve == "phone" else 0)


def photographs(case):
    card, p = engraved(case)
    means = [mean_over(card, area, p) for area in case.get("areas", [])]
    return [{**photograph(case, card, p, {**CAMERA, **camera}), "means": means} for camera in case["cameras"]]


def mean_over(card, area, p):
    """Mean over an area in mm, of the pixels whose middles lie in it."""
    left, top, width, height = area
    rows = slice(round(top / p["pitchAcrossMm"]), round((top + height) / p["pitchAcrossMm"]))
    return float(card[rows, round(left / p["pitchAlongMm"]):round((left + width) / p["pitchAlongMm"])].mean())


def photograph(case, card, p, c):
    pitch = p["pitchAlongMm"], p["pitchAcrossMm"]
    view = View((case["columns"] * pitch[0], case["rows"] * pitch[1]), c)
    board, (left, top) = on_its_board(card, p, c, case["seed"])
    y, x = np.mgrid[0:c["rows"], 0:c["columns"]] + 0.5
    u, v = view.on_card(x, y)
    # A pixel averages over its own size on the card.
    px_mm = c["fill"] and abs(np.median(np.diff(u, axis=1))) + abs(np.median(np.diff(v, axis=1)))
    blurred = gaussian_filter(board, [0.29 * px_mm / pitch[1], 0.29 * px_mm / pitch[0]])
    seen = map_coordinates(blurred, [(v - top) / pitch[1] - 0.5, (u - left) / pitch[0] - 0.5], order=1, mode="nearest")
    sensed = c["exposure"] * light(x, y, c) * seen
    if c["blurPx"] > 0:
        sensed = gaussian_filter(sensed, c["blurPx"])
    noise = np.random.default_rng((case["seed"], 4)).standard_normal(sensed.shape)
    sensed = sensed + c["noise"] * np.sqrt(np.clip(sensed, 0, None) + 0.02) * noise
    code = np.round(255 * np.clip(encoded(sensed, c["curve"]), 0, 1)).astype("u1")
    out = io.BytesIO()
    picture = Image.fromarray(code)
    if c["jpeg"] > 0:
        picture.convert("RGB").save(out, "JPEG", quality=c["jpeg"])
    else:
        picture.save(out, "PNG")
    return {"picture": base64.b64encode(out.getvalue()).decode("ascii"), "places": view.corners()}


if __name__ == "__main__":
    json.dump([photographs(case) for case in json.load(sys.stdin)["cases"]], sys.stdout)
