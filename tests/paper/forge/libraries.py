"""The forgeries written by libraries."""

import files  # noqa: F401
import pages
import pikepdf
import pypdf
from common import ALONE, FORGED, FORGERIES, keep, saved, written
from pypdf.annotations import FreeText


def by_qpdf():
    for change, answer in FORGERIES:
        with pikepdf.open(FORGED) as pdf:
            try:
                change(pdf)
            except (AttributeError, KeyError):
                # A page taken out has no outline, metadata and settings to change.
                if not ALONE:
                    raise
                continue
            alone = answer == "without-code" and len(pdf.pages) == 1
            keep(change.__name__, "unclear" if alone or answer == "unclear" else "forged", saved(pdf))
    with pikepdf.open(FORGED) as pdf:
        keep("locked", "unclear", saved(pdf, encryption=pikepdf.Encryption(owner="x", user="")))
    with pikepdf.open(FORGED) as pdf:
        pages.drawing_changed(pdf)
        keep("drawing_changed_in_object_streams", "forged", saved(pdf, object_stream_mode=pikepdf.ObjectStreamMode.generate))


def by_pypdf():
    """Added to at the end, as ISO 32000-1, 7.5.6 allows; the same change as a new file."""
    for incremental in (True, False):
        writer = pypdf.PdfWriter(FORGED, incremental=incremental)
        writer.pages[-1][pypdf.generic.NameObject("/Rotate")] = pypdf.generic.NumberObject(90)
        name, answer = ("at_the_end", "unclear") if incremental else ("anew", "forged")
        keep(f"turned_by_pypdf_{name}", answer, written(writer))
    writer = pypdf.PdfWriter(clone_from=FORGED)
    writer.add_attachment("other.txt", b"other")
    keep("a_file_within_by_pypdf", "forged", written(writer))
    writer = pypdf.PdfWriter(clone_from=FORGED)
    note = FreeText(text="625", rect=(50, 550, 200, 650))
    writer.add_annotation(page_number=len(writer.pages) - 1, annotation=note)
    keep("a_note_by_pypdf", "forged", written(writer))
