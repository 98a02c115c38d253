"""Pillow's conversion of a grey picture to one bit, timed in memory: one conversion for every line of standard input.

Arguments: file of grey bytes, columns, rows. Each answer: seconds, share of white, checksum of the packed bits.
"""
import hashlib
import sys
import time

from PIL import Image

source, columns, rows = sys.argv[1:]
size = (int(columns), int(rows))
with open(source, "rb") as file:
    grey = Image.frombytes("L", size, file.read())
for _ in sys.stdin:
    start = time.perf_counter()
    bits = grey.convert("1")
    seconds = time.perf_counter() - start
    white = bits.histogram()[255] / (size[0] * size[1])
    print(seconds, white, hashlib.sha256(bits.tobytes()).hexdigest()[:8], flush=True)
