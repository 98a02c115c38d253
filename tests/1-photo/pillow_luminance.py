"""Mean linear luminance of a picture by Pillow, as the outside reference of the photo stage.

Takes file names, prints one number per line: 0.2126 R + 0.7152 G + 0.0722 B (ITU-R BT.709) on light linearised by
IEC 61966-2-1, after the embedded profile, if any, has been converted to sRGB by LittleCMS with perceptual intent.
"""
import io
import sys

from PIL import Image, ImageCms


def linear(code):
    value = code / 255
    return value / 12.92 if value <= 0.04045 else ((value + 0.055) / 1.055) ** 2.4


for name in sys.argv[1:]:
    image = Image.open(name)
    profile = image.info.get("icc_profile")
    if profile:
        image = ImageCms.profileToProfile(
            image, io.BytesIO(profile), ImageCms.createProfile("sRGB"), renderingIntent=0, outputMode="RGB"
        )
    counts = image.convert("RGB").histogram()
    pixels = image.width * image.height
    print(
        sum(
            weight * sum(linear(code) * counts[256 * channel + code] for code in range(256)) / pixels
            for channel, weight in enumerate((0.2126, 0.7152, 0.0722))
        )
    )
