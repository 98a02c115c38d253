"""The comparison job with Pillow: a photo to a one-bit PNG of a given size and density.

Arguments: photo, output file, columns, rows, lines per inch.
"""
import sys

from PIL import Image

source, target, columns, rows, lines_per_inch = sys.argv[1:]
grey = Image.open(source).convert("L").resize((int(columns), int(rows)), Image.LANCZOS)
grey.convert("1").save(target, dpi=(int(lines_per_inch), int(lines_per_inch)))
