"""Reading bitmaps and photos: burn fractions, linear luminance, and the target plane of section 4."""
import numpy as np
from PIL import Image, ImageOps

from appearance import linear_of_srgb, target_luminance


def load_burn(path):
    """Burn fraction 0..1 of an 8-bit or 1-bit grey PNG."""
    image = Image.open(path)
    if image.mode not in ("1", "L"):
        raise SystemExit(f"{path}: mode {image.mode}, wanted a 1-bit or 8-bit grey PNG")
    return 1 - np.asarray(image.convert("L"), dtype=float) / 255


def load_linear(path):
    """Linear BT.709 luminance 0..1 of a photo; grey counts as R = G = B, 16-bit grey keeps its 16 bits."""
    image = ImageOps.exif_transpose(Image.open(path))
    if image.mode.startswith("I"):
        return linear_of_srgb(np.asarray(image.convert("I"), dtype=float) / 65535)
    if image.mode in ("1", "L"):
        return linear_of_srgb(np.asarray(image.convert("L"), dtype=float) / 255)
    if image.mode not in ("RGB", "P"):
        raise SystemExit(f"{path}: mode {image.mode} is not handled (no alpha, no CMYK)")
    return linear_of_srgb(np.asarray(image.convert("RGB"), dtype=float) / 255) @ np.array([0.2126, 0.7152, 0.0722])


def fitted(linear, columns, rows, aspect, fit="cover"):
    """Linear-light plane cropped to width/height = aspect about its centre and resampled (Lanczos 3, area-aware)."""
    height, width = linear.shape
    if (width, height) == (columns, rows):
        return linear
    crop_width, crop_height = width, height
    if fit == "cover":
        crop_width, crop_height = min(width, height * aspect), min(height, width / aspect)
    left, top = (width - crop_width) / 2, (height - crop_height) / 2
    box = (left, top, min(width, left + crop_width), min(height, top + crop_height))
    plane = Image.fromarray(linear.astype(np.float32))
    return np.clip(np.asarray(plane.resize((columns, rows), Image.LANCZOS, box=box), dtype=float), 0, 1)


def load_target(p, shape, darkest, lightest):
    """Target luminance factor at every pixel."""
    rows, columns = shape
    target = p["target"]
    if isinstance(target, np.ndarray):
        return target
    if isinstance(target, (int, float)):
        plane = np.full(shape, float(target))
    elif target.endswith(".npy"):
        plane = np.load(target).astype(float).reshape(shape)
    elif target.endswith(".f32"):
        plane = np.fromfile(target, dtype="<f4").astype(float).reshape(shape)
    else:
        aspect = columns * p["pitchAlongMm"] / (rows * p["pitchAcrossMm"])
        plane = fitted(load_linear(target), columns, rows, aspect, p["fit"])
    if p["targetKind"] == "luminanceFactor":
        return plane
    return target_luminance(plane, darkest, lightest, p["toneMap"])
