"""Renders pages of a PDF and holds them against pictures kept from before.

Takes the PDF, the folder of pictures, and pairs TITLE=NAME: the entry of the outline that leads to a page, and its picture NAME.png.
With MATCHMARK_RENEW_PICTURES set the pictures are written anew. Prints by name the share of the page that looks otherwise.
"""

import json
import os
import pathlib
import sys

import numpy
import pymupdf

DOTS_AN_INCH = 60
# How much lighter or darker a place may be, of 255, before it counts, after both pictures have been blurred over 3 by 3 dots.
SHADE = 48


def grey(pixmap):
    return numpy.frombuffer(pixmap.samples, dtype=numpy.uint8).reshape(pixmap.height, pixmap.width).astype(float)


def blurred(picture):
    padded = numpy.pad(picture, 1, mode="edge")
    height, width = picture.shape
    return sum(padded[y : y + height, x : x + width] for y in range(3) for x in range(3)) / 9.0


document = pymupdf.open(sys.argv[1])
folder = pathlib.Path(sys.argv[2])
page_of = {title: page - 1 for _, title, page in reversed(document.get_toc())}
answers = {}
for pair in sys.argv[3:]:
    title, name = pair.split("=")
    drawn = document[page_of[title]].get_pixmap(dpi=DOTS_AN_INCH, colorspace=pymupdf.csGRAY)
    path = folder / f"{name}.png"
    if os.environ.get("MATCHMARK_RENEW_PICTURES"):
        drawn.save(str(path))
    kept = pymupdf.Pixmap(str(path))
    if (kept.width, kept.height) != (drawn.width, drawn.height):
        answers[name] = 1.0
        continue
    off = numpy.abs(blurred(grey(drawn)) - blurred(grey(kept)))
    answers[name] = float((off > SHADE).mean())
print(json.dumps(answers))
