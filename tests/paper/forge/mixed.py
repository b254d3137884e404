"""Puts pages of two files that were not issued together into one, with three libraries, and then shows something else in some of these
files.

usage: mixed.py FILE FOLDER OTHER: FILE is a pack, OTHER another, or a stop sheet, or the pages of a notice. Writes one file a row to FOLDER and prints
[[name, answer, []], ...] as `main.py` does.
"""

import io
import json
import sys

import pikepdf
import pymupdf
import pypdf
from common import FORGED, OTHER, ROWS, keep, saved, written
from pikepdf import Array, Dictionary, Name, String
from pypdf.annotations import FreeText
from two_ways import OVER

MODES = pikepdf.ObjectStreamMode.disable, pikepdf.ObjectStreamMode.generate
with pikepdf.open(FORGED) as one, pikepdf.open(OTHER) as two:
    COUNT, MORE = len(one.pages), len(two.pages)
# Of the other file, its last pages: not all where there are more than two.
LAST = slice(min(2, MORE - 1), None)


def together(change=lambda pdf: None, old=slice(0, None), new=slice(0, None), **options):
    """Pages of the old pack and behind them pages of the new one, in what is left of the file of the old one."""
    with pikepdf.open(FORGED) as pdf, pikepdf.open(OTHER) as other:
        kept = list(range(len(pdf.pages)))[old]
        for index in reversed(range(len(pdf.pages))):
            if index not in kept:
                del pdf.pages[index]
        pdf.pages.extend(other.pages[new])
        change(pdf)
        return saved(pdf, **options)


def as_signed():
    for mode in MODES:
        keep(f"all_by_qpdf_{mode.name}", "unclear", together(object_stream_mode=mode))
        keep(f"some_by_qpdf_{mode.name}", "unclear", together(old=slice(0, 3), new=LAST, object_stream_mode=mode))
    keep("all_by_qpdf_for_the_web", "unclear", together(linearize=True))
    with pikepdf.open(FORGED) as pdf, pikepdf.open(OTHER) as other, pikepdf.new() as new:
        new.pages.extend([other.pages[MORE - 1], pdf.pages[0], other.pages[0], pdf.pages[2]] if MORE > 1 else [pdf.pages[0], other.pages[0], pdf.pages[2]])
        keep("pages_in_turn_by_qpdf", "unclear", saved(new))
    for name, files in [("", [FORGED, OTHER]), ("_the_other_first", [OTHER, FORGED])]:
        writer = pypdf.PdfWriter()
        for file in files:
            writer.append(file)
        keep(f"all_by_pypdf{name}", "unclear", written(writer))
        writer = pypdf.PdfWriter(clone_from=files[0])
        writer.append(files[1])
        keep(f"all_added_by_pypdf{name}", "unclear", written(writer))
        with pymupdf.open(files[0]) as document, pymupdf.open(files[1]) as other:
            document.insert_pdf(other)
            keep(f"all_by_mupdf{name}", "unclear", document.tobytes(garbage=3))
        with pymupdf.open() as new:
            for file in files:
                with pymupdf.open(file) as document:
                    new.insert_pdf(document)
            keep(f"all_in_a_new_file_by_mupdf{name}", "unclear", new.tobytes())
    writer = pypdf.PdfWriter()
    for source, count in [(FORGED, 3), (OTHER, 2)]:
        for page in pypdf.PdfReader(source).pages[:count]:
            writer.add_page(page)
    keep("some_by_pypdf", "unclear", written(writer))
    with pymupdf.open() as some, pymupdf.open(FORGED) as document, pymupdf.open(OTHER) as other:
        some.insert_pdf(document, from_page=0, to_page=2)
        some.insert_pdf(other, from_page=MORE - 1)
        keep("some_by_mupdf", "unclear", some.tobytes())


def drawn_over(pdf):
    stream = pdf.pages[-1].obj.Contents[0]
    stream.write(stream.read_bytes() + OVER)


def first_drawn_over(pdf):
    stream = pdf.pages[0].obj.Contents[0]
    stream.write(stream.read_bytes() + OVER)


def covered(pdf):
    page = pdf.pages[-1].obj
    page.Contents.append(pdf.make_stream(OVER))


def turned(pdf):
    pdf.pages[-1].obj.Rotate = 90


def enlarged(pdf):
    pdf.pages[-1].obj.UserUnit = 1.05


def fonts_of_another_page(pdf):
    pdf.pages[-1].obj.Resources.Font.LR = pdf.pages[-1].obj.Resources.Font.LB


def a_note(pdf):
    note = Dictionary(Type=Name.Annot, Subtype=Name.FreeText, Rect=[100, 100, 300, 300], F=4, Contents="625", DA="/Helv 9 Tf")
    pdf.pages[-1].obj.Annots = Array([pdf.make_indirect(note)])


def a_blank_page(pdf):
    pdf.add_blank_page(page_size=(595, 842))


def a_link_to_the_other_pack(pdf):
    """A link as it was signed, but to the page of that number in the other pack, or to its last."""
    links = [link for page in pdf.pages[:COUNT] for link in page.obj.get("/Annots", [])]
    pages = [page.obj.objgen for page in pdf.pages]
    at = pages.index(links[0].Dest[0].objgen)
    links[0].Dest[0] = pdf.pages[min(at + COUNT, len(pages) - 1)].obj


def an_entry_to_the_other_pack(pdf):
    """Of the outline, to a page that signed no such entry."""
    pdf.Root.Outlines.Last.Dest[0] = pdf.pages[max(COUNT, len(pdf.pages) - 2)].obj


def title_of_the_window(pdf):
    pdf.docinfo["/Title"] = "Another frame, revision Z"


def title_of_one_and_settings_of_none(pdf):
    pdf.Root.ViewerPreferences = Dictionary(PrintScaling=Name.AppDefault)


def outline_says_something_else(pdf):
    pdf.Root.Outlines.First.Title = String("Another page")


def links_to_a_part(pdf):
    for page in pdf.pages:
        for link in page.obj.get("/Annots", []):
            link.Dest = Array([link.Dest[0], Name.FitR, 0, 0, 1, 1])


def control_bytes_in_the_outline(pdf):
    pdf.Root.Outlines.First.Title = String(b"\x00" + str(pdf.Root.Outlines.First.Title).encode("pdfdoc", "replace"))


def smaller_media_box(pdf):
    pdf.pages[0].obj.MediaBox = Array([0, 0, 500, 800])


def code_of_the_other_pack(pdf):
    old, new = pdf.pages[0].obj, pdf.pages[COUNT].obj
    old.Contents = Array([*list(old.Contents)[:-1], new.Contents[-1]])


def a_page_of_the_other_drawn_anew():
    with pymupdf.open(OTHER) as other:
        data = io.BytesIO(other.tobytes(clean=True))
    with pikepdf.open(FORGED) as pdf, pikepdf.open(data) as other:
        pdf.pages.append(other.pages[-1])
        keep("a_page_of_the_other_drawn_anew", "forged", saved(pdf))


def something_else():
    for change in [
        drawn_over,
        first_drawn_over,
        covered,
        turned,
        enlarged,
        fonts_of_another_page,
        a_note,
        a_blank_page,
        a_link_to_the_other_pack,
        an_entry_to_the_other_pack,
        title_of_the_window,
        title_of_one_and_settings_of_none,
        outline_says_something_else,
        code_of_the_other_pack,
        links_to_a_part,
        control_bytes_in_the_outline,
        smaller_media_box,
    ]:
        keep(change.__name__, "forged", together(change))
    a_page_of_the_other_drawn_anew()
    writer = pypdf.PdfWriter()
    writer.append(FORGED)
    writer.append(OTHER)
    writer.add_annotation(page_number=0, annotation=FreeText(text="625", rect=(50, 550, 200, 650)))
    keep("a_note_by_pypdf", "forged", written(writer))


as_signed()
something_else()
json.dump([[name, answer, []] for name, answer in ROWS], sys.stdout)
