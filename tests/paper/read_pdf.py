"""Reads a PDF with PyMuPDF, a reader that shares nothing with the writer, and prints what stands on each page as JSON.

Millimetres from the lower left corner of the page. Lines are chains of points; curves come as 32 points each.
"""

import json
import sys

import pymupdf

MM = 25.4 / 72


def points_of(item):
    kind = item[0]
    if kind == "l":
        return [item[1], item[2]]
    if kind == "c":
        a, b, c, d = item[1:5]
        steps = [k / 32 for k in range(33)]
        return [a * (1 - t) ** 3 + b * 3 * t * (1 - t) ** 2 + c * 3 * t * t * (1 - t) + d * t**3 for t in steps]
    if kind == "re":
        r = item[1]
        return [r.tl, r.tr, r.br, r.bl, r.tl]
    return []


def lines_of(page):
    for drawing in page.get_drawings():
        chain = []
        for item in drawing["items"]:
            points = points_of(item)
            if chain and points and abs(chain[-1] - points[0]) < 1e-4:
                chain.extend(points[1:])
                continue
            if len(chain) > 1:
                yield drawing, chain
            chain = list(points)
        if len(chain) > 1:
            yield drawing, chain


pages = []
with pymupdf.open(sys.argv[1]) as document:
    for page in document:
        height = page.rect.height
        lines = [
            {
                "width": (drawing["width"] or 0) * MM,
                "dashed": drawing["dashes"] not in (None, "", "[] 0"),
                "points": [[p.x * MM, (height - p.y) * MM] for p in chain],
            }
            for drawing, chain in lines_of(page)
        ]
        pages.append({"size": [page.rect.width * MM, height * MM], "text": page.get_text(), "lines": lines})
json.dump(pages, sys.stdout)
