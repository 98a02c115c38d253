"""The comparison job as a Pillow user would write it: grey first, then the resize, then one bit.

Arguments: photo, output file, columns, rows, lines per inch; with a sixth, `draft`, the JPEG decoder is asked for grey at no
more than the size that is needed.
"""
import sys

from PIL import Image

source, target, columns, rows, lines_per_inch, *draft = sys.argv[1:]
size = (int(columns), int(rows))
photo = Image.open(source)
if draft:
    photo.draft("L", size)
photo.convert("L").resize(size, Image.LANCZOS).convert("1").save(target, dpi=2 * (int(lines_per_inch),))
