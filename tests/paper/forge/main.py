"""Forges a signed file in many ways with qpdf (through pikepdf) and pypdf, which share nothing with the writer, and saves it again
unchanged with three libraries.

usage: main.py FILE FOLDER OTHER [ALONE]: writes one file a row to FOLDER and prints [[name, answer, seen], ...], where the answer is
what a check of the file must say and `seen`, where that is neither "forged" nor "unclear", what two readers that share nothing show of each page. The
first row is FILE. OTHER is a file of the same kind and key that was made apart from FILE. With ALONE the last page of FILE,
taken out of it, is what is forged and saved again.
"""

import hashlib
import json
import subprocess
import sys

import pikepdf
import pymupdf
from common import ALONE, FOLDER, FORGED, ROWS, SOURCE

if ALONE:
    with pikepdf.open(SOURCE) as pdf, pikepdf.new() as page:
        page.pages.append(pdf.pages[-1])
        page.save(FORGED)

from again import drawn_anew, pages_taken_out, saved_again
from by_hand import by_hand
from libraries import by_pypdf, by_qpdf
from neighbours import neighbours
from said import said
from two_ways import two_ways



def seen(path):
    """The picture of each page by MuPDF and its text by poppler."""
    with pymupdf.open(path) as document:
        pictures = [hashlib.sha256(page.get_pixmap(dpi=36).samples).hexdigest() for page in document]
    text = subprocess.run(["pdftotext", path, "-"], check=True, capture_output=True).stdout
    texts = [" ".join(page.split()) for page in text.decode().split("\f")][:-1]
    return [pictures, texts]


by_qpdf()
by_pypdf()
if not ALONE:
    by_hand()
two_ways()
said()
neighbours()
saved_again()
drawn_anew()
pages_taken_out()
rows = [[name, answer, [] if answer in ("forged", "unclear") else seen(f"{FOLDER}/{name}.pdf")] for name, answer in ROWS]
json.dump([["file", "issued", seen(SOURCE)], *rows], sys.stdout)
