"""Forgeries of what a file says of itself (ISO 32000-1, 7.9.2.2) and of where its outline and its links lead (12.3.2.2). A text that
says nothing else to most viewers is another text all the same.
"""

import io

import pikepdf
import pymupdf
from common import ALONE, FORGED, keep, saved
from pikepdf import Array, Dictionary, Name, String

SAME = "some-pages" if ALONE else "same-pages"


def utf16(text):
    return b"\xfe\xff" + text.encode("utf-16-be")


def pdf_doc(text):
    return text.encode("pdfdoc", "replace")


# What is added within a text that is otherwise as it was, as PDFDocEncoding has no such character (Annex D.2), or as UTF-16 has it.
OTHER_TEXTS = {
    "control_bytes": lambda text: pdf_doc(text[:3]) + b"\x00\x01" + pdf_doc(text[3:]),
    "an_escape": lambda text: pdf_doc(text) + b"\x1b",
    "a_tab": lambda text: pdf_doc(text[:3]) + b"\t" + pdf_doc(text[3:]),
    "bytes_without_a_character": lambda text: pdf_doc(text[:3]) + b"\x7f\x9f\xad" + pdf_doc(text[3:]),
    "a_zero": lambda text: utf16(text[:3] + "\0" + text[3:]),
    "a_language": lambda text: utf16(text[:3] + "\x1ben\x1b" + text[3:]),
    "a_mark_of_order": lambda text: utf16("\ufeff" + text),
    "half_a_character": lambda text: utf16(text) + b"\x00",
    "half_a_pair": lambda text: utf16(text) + b"\xd8\x00",
    "utf_8": lambda text: b"\xef\xbb\xbf" + text.encode(),
    "the_other_order": lambda text: b"\xff\xfe" + text.encode("utf-16-le"),
}


def texts(pdf):
    """Where a file has a text, by a name."""
    for key in ["Title", "Author", "Subject"]:
        if f"/{key}" in pdf.docinfo:
            yield key.lower(), pdf.docinfo, f"/{key}"
    if "/Outlines" in pdf.Root:
        yield "the_first_entry", pdf.Root.Outlines.First, "/Title"
        yield "the_last_entry", pdf.Root.Outlines.Last, "/Title"


def changed(name, answer, change):
    with pikepdf.open(FORGED) as pdf:
        change(pdf)
        keep(name, answer, saved(pdf))


def other_texts():
    with pikepdf.open(FORGED) as pdf:
        places = [name for name, _, _ in texts(pdf)]
    for place in places:

        def say(pdf, write):
            _, where, key = next(text for text in texts(pdf) if text[0] == place)
            where[key] = String(write(str(where[key])))

        for name, write in OTHER_TEXTS.items():
            changed(f"{name}_in_{place}", "forged", lambda pdf: say(pdf, write))
        changed(f"the_same_in_utf_16_in_{place}", SAME, lambda pdf: say(pdf, utf16))
    label = Dictionary(S=Name.D, P=String(b"\xfe\xff\x00\x1b\x00e\x00n\x00\x1b"))
    changed("page_labels_with_a_language", "forged", lambda pdf: pdf.Root.__setattr__("PageLabels", Dictionary(Nums=[0, label])))


# What may follow the page in a destination (table 151).
OTHER_VIEWS = {
    "a_part": [Name.FitR, 0, 0, 1, 1],
    "far_away": [Name.XYZ, -5000, -5000, 0.01],
    "the_foot": [Name.XYZ, 0, 0, 0],
    "much_larger": [Name.XYZ, None, None, 64],
    "a_line": [Name.FitH, 1],
    "a_column": [Name.FitV, 5000],
    "what_is_drawn": [Name.FitB],
    "nothing_known": [Name.Fat],
    "more": [Name.Fit, 3],
    "no_view": [],
}


def links(pdf):
    return [link for page in pdf.pages for link in page.obj.get("/Annots", [])]


def entries(pdf):
    entry = pdf.Root.Outlines.First if "/Outlines" in pdf.Root else None
    while entry is not None:
        yield entry
        entry = entry.get("/Next")


def other_views():
    with pikepdf.open(FORGED) as pdf:
        found = [(name, which) for name, which in [("links", links), ("entries", entries)] if list(which(pdf))]

    def lead(which, view):
        def change(pdf):
            for place in which(pdf):
                place.Dest = Array([place.Dest[0], *view])

        return change

    def act(which):
        def change(pdf):
            for place in which(pdf):
                place.A = Dictionary(S=Name.GoTo, D=place.Dest)
                del place["/Dest"]

        return change

    for name, which in found:
        for kind, view in OTHER_VIEWS.items():
            changed(f"{name}_to_{kind}", "forged", lead(which, view))
        changed(f"{name}_as_actions", SAME, act(which))

        def only_last(pdf):
            last = list(which(pdf))[-1]
            last.Dest = Array([last.Dest[0], Name.FitR, 0, 0, 1, 1])

        changed(f"last_of_{name}_to_a_part", "forged", only_last)


def colours_of_entries():
    """A saver greys an entry whose page it takes out. It may; another colour says something, and so does grey on an entry that leads on."""
    with pikepdf.open(FORGED) as pdf:
        if ALONE or len(pdf.pages) < 3:
            return
    for garbage in 0, 3:
        for place in 0, 1, -1:
            with pymupdf.open(FORGED) as document:
                document.delete_page(place)
                keep(f"page_{place}_deleted_by_mupdf_{garbage}", "some-pages", document.tobytes(garbage=garbage))
    with pymupdf.open(FORGED) as document:
        document.delete_page(1)
        data = document.tobytes()
    for name, change in [
        ("an_entry_that_leads_nowhere_in_red", lambda entry: entry.__setattr__("C", Array([1, 0, 0])) if "/C" in entry else None),
        ("entries_that_lead_on_in_grey", lambda entry: entry.__setattr__("C", Array([0.8, 0.8, 0.8]))),
        ("an_entry_that_leads_nowhere_in_bold", lambda entry: entry.__setattr__("F", 2) if "/C" in entry else None),
        ("an_entry_that_leads_nowhere_says_more", lambda entry: entry.__setattr__("Title", String("More")) if "/C" in entry else None),
    ]:
        with pikepdf.open(io.BytesIO(data)) as pdf:
            for entry in entries(pdf):
                change(entry)
            keep(name, "forged", saved(pdf))


def said():
    other_texts()
    other_views()
    colours_of_entries()
