"""Forges a signed file in many ways with qpdf (through pikepdf) and pypdf, which share nothing with the writer, and saves it again
unchanged with three libraries.

usage: main.py FILE FOLDER OTHER [ALONE]: writes one file a row to FOLDER and prints [[name, answer], ...], where the answer is what a
check of the file must say. OTHER is a file of the same kind and key that was made apart from FILE. With ALONE the last page of FILE,
taken out of it, is what is forged and saved again.
"""

import json
import sys

import pikepdf
from common import ALONE, FORGED, ROWS, SOURCE

if ALONE:
    with pikepdf.open(SOURCE) as pdf, pikepdf.new() as page:
        page.pages.append(pdf.pages[-1])
        page.save(FORGED)

from again import pages_taken_out, saved_again
from by_hand import by_hand
from libraries import by_pypdf, by_qpdf

by_qpdf()
by_pypdf()
if not ALONE:
    by_hand()
saved_again()
pages_taken_out()
json.dump(ROWS, sys.stdout)
