"""The same pages saved again, and some of them taken out, by three libraries."""

import pikepdf
import pymupdf
import pypdf
from common import ALONE, FORGED, keep, saved, written


def saved_again():
    if not ALONE:
        keep("untouched", "issued", open(FORGED, "rb").read())
    same = "some-pages" if ALONE else "same-pages"
    mode = pikepdf.ObjectStreamMode
    for name, options in {
        "qpdf": {},
        "qpdf_object_streams": {"object_stream_mode": mode.generate, "recompress_flate": True},
        "qpdf_for_the_web": {"linearize": True},
        "qpdf_unpacked": {"stream_decode_level": pikepdf.StreamDecodeLevel.all, "compress_streams": False},
    }.items():
        with pikepdf.open(FORGED) as pdf:
            keep(f"saved_by_{name}", same, saved(pdf, **options))
    keep("saved_by_pypdf", same, written(pypdf.PdfWriter(clone_from=FORGED)))
    for name, options in {"mupdf": {}, "mupdf_packed": {"garbage": 4, "deflate": True, "use_objstms": 1}}.items():
        with pymupdf.open(FORGED) as document:
            keep(f"saved_by_{name}", same, document.tobytes(**options))
    # All pages, but put into a file that says nothing of how it is printed.
    writer = pypdf.PdfWriter()
    writer.append(FORGED)
    keep("pages_put_together_by_pypdf", "some-pages", written(writer))


def pages_taken_out():
    with pikepdf.open(FORGED) as pdf:
        last = len(pdf.pages) - 1
        if last == 0:
            return
        with pikepdf.new() as some:
            some.pages.append(pdf.pages[0])
            some.pages.append(pdf.pages[last])
            keep("two_pages_by_qpdf", "some-pages", saved(some))
        with pikepdf.new() as some:
            some.pages.extend([pdf.pages[last], pdf.pages[0]])
            keep("other_order_by_qpdf", "some-pages", saved(some))
        del pdf.pages[1:-1]
        keep("pages_dropped_by_qpdf", "some-pages", saved(pdf))
    writer = pypdf.PdfWriter()
    writer.append(FORGED, pages=(0, 2))
    keep("two_pages_by_pypdf", "some-pages", written(writer))
    with pymupdf.open(FORGED) as document, pymupdf.open() as some:
        some.insert_pdf(document, from_page=0, to_page=1)
        keep("two_pages_by_mupdf", "some-pages", some.tobytes())
    with pymupdf.open(FORGED) as document:
        document.select([0, last])
        keep("two_pages_chosen_by_mupdf", "some-pages", document.tobytes(garbage=3))
