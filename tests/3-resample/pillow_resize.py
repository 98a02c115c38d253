"""Resize one picture with Pillow in mode "F", as the outside reference of the resampling stage.

Reads JSON from standard input: {"columns", "rows", "pixels": [...], "jobs": [{"filter", "columns", "rows", "box":
[left, top, right, bottom]}, ...]}. Writes a JSON list with one list of pixels per job. Pillow's bilinear is the
triangle, its bicubic has a = -0.5 and so is Catmull-Rom; it keeps the box in single precision.
"""
import json
import struct
import sys

from PIL import Image

FILTERS = {
    "box": Image.BOX,
    "triangle": Image.BILINEAR,
    "catmull-rom": Image.BICUBIC,
    "lanczos3": Image.LANCZOS,
}


def floats_from(image):
    raw = image.tobytes()
    return struct.unpack(f"={len(raw) // 4}f", raw)


task = json.load(sys.stdin)
packed = struct.pack(f"={len(task['pixels'])}f", *task["pixels"])
source = Image.frombytes("F", (task["columns"], task["rows"]), packed)
results = [
    floats_from(source.resize((job["columns"], job["rows"]), FILTERS[job["filter"]], box=tuple(job["box"])))
    for job in task["jobs"]
]
json.dump(results, sys.stdout)
