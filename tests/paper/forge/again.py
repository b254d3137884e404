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
        "qpdf_for_the_web_with_object_streams": {"linearize": True, "object_stream_mode": mode.generate},
        "qpdf_unpacked": {"stream_decode_level": pikepdf.StreamDecodeLevel.all, "compress_streams": False},
    }.items():
        with pikepdf.open(FORGED) as pdf:
            keep(f"saved_by_{name}", same, saved(pdf, **options))
    keep("saved_by_pypdf", same, written(pypdf.PdfWriter(clone_from=FORGED)))
    for name, options in {
        "mupdf": {},
        "mupdf_without_what_is_left": {"garbage": 1},
        "mupdf_renumbered": {"garbage": 2},
        "mupdf_without_doubles": {"garbage": 3},
        "mupdf_without_double_streams": {"garbage": 4},
        "mupdf_packed": {"garbage": 4, "deflate": True, "use_objstms": 1},
    }.items():
        with pymupdf.open(FORGED) as document:
            keep(f"saved_by_{name}", same, document.tobytes(**options))
    for garbage in 0, 3:
        with pymupdf.open(FORGED) as document:
            document.scrub(clean_pages=False)
            keep(f"scrubbed_but_for_its_pages_by_mupdf_{garbage}", same, document.tobytes(garbage=garbage))
    # All pages, but put into a file that says nothing of how it is printed.
    writer = pypdf.PdfWriter()
    writer.append(FORGED)
    keep("pages_put_together_by_pypdf", "some-pages", written(writer))


    writer = pypdf.PdfWriter()
    writer.append(pypdf.PdfReader(FORGED))
    keep("file_put_in_by_pypdf", "some-pages", written(writer))
    writer = pypdf.PdfWriter()
    for page in pypdf.PdfReader(FORGED).pages:
        writer.add_page(page)
    keep("each_page_put_in_by_pypdf", "some-pages", written(writer))


def drawn_anew():
    """Pages whose drawing another program wrote in words of its own, without the code in their comments."""
    for name, options in {"": {}, "_and_packed": {"garbage": 4, "deflate": True}}.items():
        with pymupdf.open(FORGED) as document:
            keep(f"cleaned_by_mupdf{name}", "unclear", document.tobytes(clean=True, **options))
    with pymupdf.open(FORGED) as document:
        document.scrub()
        keep("scrubbed_by_mupdf", "unclear", document.tobytes())
    writer = pypdf.PdfWriter(clone_from=FORGED)
    for page in writer.pages:
        page.compress_content_streams()
    keep("contents_packed_by_pypdf", "unclear", written(writer))


def first_pages():
    """The first four pages, or as many as there are."""
    with pikepdf.open(FORGED) as pdf:
        count = len(pdf.pages)
    fewer = "some-pages" if ALONE or count > 4 else "same-pages"
    for mode in pikepdf.ObjectStreamMode.disable, pikepdf.ObjectStreamMode.generate:
        options = {"linearize": True, "object_stream_mode": mode}
        with pikepdf.open(FORGED) as pdf:
            del pdf.pages[4:]
            keep(f"all_but_four_dropped_by_qpdf_{mode.name}", fewer, saved(pdf, **options))
        with pikepdf.open(FORGED) as pdf, pikepdf.new() as some:
            some.pages.extend(pdf.pages[:4])
            keep(f"four_pages_by_qpdf_{mode.name}", "some-pages", saved(some, **options))
    reader = pypdf.PdfReader(FORGED)
    writer = pypdf.PdfWriter()
    writer.append(reader, pages=(0, min(4, count)))
    keep("four_pages_by_pypdf", "some-pages", written(writer))
    writer = pypdf.PdfWriter()
    for page in reader.pages[:4]:
        writer.add_page(page)
    keep("each_of_four_pages_by_pypdf", "some-pages", written(writer))


def pages_taken_out():
    first_pages()
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
