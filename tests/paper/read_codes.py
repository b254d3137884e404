"""Draws each page at 300 dots an inch with PyMuPDF and decodes the one code on it with ZXing; prints the texts as JSON."""

import json
import sys

import numpy
import pymupdf
import zxingcpp

texts = []
with pymupdf.open(sys.argv[1]) as document:
    for page in document:
        # The corner of the title block that holds the code, with a little of its surroundings.
        corner = page.rect
        corner.x0, corner.y0 = corner.x1 - 110, corner.y1 - 110
        picture = page.get_pixmap(dpi=300, colorspace=pymupdf.csGRAY, clip=corner)
        grey = numpy.frombuffer(picture.samples, numpy.uint8).reshape(picture.height, picture.stride)[:, : picture.width]
        found = zxingcpp.read_barcodes(numpy.ascontiguousarray(grey), formats=zxingcpp.BarcodeFormat.QRCode)
        texts.append(found[0].text if len(found) == 1 else "")
json.dump(texts, sys.stdout)
