"""Reads pages of labels: words with PyMuPDF, codes with zxing-cpp from a picture of the page. Prints them as JSON."""

import json
import pathlib
import sys

import pymupdf
import numpy
import zxingcpp

told = []
for page in pymupdf.open(pathlib.Path(sys.argv[1]) / "labels.pdf"):
    pixels = page.get_pixmap(dpi=400, colorspace=pymupdf.csGRAY)
    picture = numpy.frombuffer(pixels.samples, numpy.uint8).reshape(pixels.height, pixels.width)
    codes = [code.text for code in zxingcpp.read_barcodes(picture, formats=zxingcpp.BarcodeFormat.QRCode)]
    told.append({"size": [page.rect.width / 72 * 25.4, page.rect.height / 72 * 25.4], "text": page.get_text(), "codes": codes})
json.dump(told, sys.stdout)
