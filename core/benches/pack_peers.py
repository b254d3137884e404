"""The pages of the bench `pack` by two general-purpose PDF writers: reportlab and fpdf2, on one core.

Run by that bench with the Python of MATCHMARK_PYTHON, if it has both.
"""

import io
import math
import time

PAGES, POINTS, TICKS, TEXTS = 100, 400, 90, 60


def curve(page):
    for step in range(POINTS):
        turn = step / POINTS * math.tau
        yield 60 + 30 * turn, 300 + 60 * math.sin(turn + page)


def words(line, page):
    return f"line {line} of page {page}: overall 812.4 mm, set-out 437 mm"


def by_reportlab():
    from reportlab.pdfgen.canvas import Canvas

    canvas = Canvas(io.BytesIO(), pagesize=(595.276, 841.89), pageCompression=1)
    for page in range(PAGES):
        path = canvas.beginPath()
        for step, (x, y) in enumerate(curve(page)):
            (path.moveTo if step == 0 else path.lineTo)(x, y)
        canvas.drawPath(path)
        for tick in range(TICKS):
            canvas.line(60 + 2 * tick, 200, 60 + 2 * tick, 205)
        canvas.setFont("Helvetica", 8)
        for line in range(TEXTS):
            canvas.drawString(40, 780 - 9 * line, words(line, page))
        canvas.showPage()
    canvas.save()


def by_fpdf2():
    from fpdf import FPDF

    document = FPDF(unit="pt", format="A4")
    document.set_font("Helvetica", size=8)
    for page in range(PAGES):
        document.add_page()
        document.polyline(list(curve(page)))
        for tick in range(TICKS):
            document.line(60 + 2 * tick, 200, 60 + 2 * tick, 205)
        for line in range(TEXTS):
            document.text(40, 780 - 9 * line, words(line, page))
    document.output()


for name, write in [("reportlab", by_reportlab), ("fpdf2", by_fpdf2)]:
    try:
        write()
    except ImportError:
        print(f"{name}: not there, left out")
        continue
    best = math.inf
    for _ in range(3):
        started = time.perf_counter()
        write()
        best = min(best, time.perf_counter() - started)
    print(f"{name}: {PAGES / best:.0f} pages a second")
