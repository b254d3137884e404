"""What all forgeries share: where they come from and go to."""

import io
import sys

SOURCE, FOLDER, OTHER = sys.argv[1:4]
ALONE = len(sys.argv) > 4
# Of the file that is forged: itself, or its last page taken out of it.
FORGED = f"{FOLDER}/alone.pdf" if ALONE else SOURCE
ROWS = []
FORGERIES = []


def forgery(change):
    """A change to the opened file, saved by qpdf."""
    FORGERIES.append((change, "forged"))
    return change


def forgery_in_doubt(change):
    """One after which the file is not read alike by all."""
    FORGERIES.append((change, "unclear"))
    return change


def forgery_without_code(change):
    """One that leaves a page without a code: a page alone may as well have been drawn anew by some program."""
    FORGERIES.append((change, "without-code"))
    return change


def keep(name, answer, data):
    with open(f"{FOLDER}/{name}.pdf", "wb") as file:
        file.write(data)
    ROWS.append([name, answer])


def forged_page(pdf):
    return pdf.pages[-1].obj


def saved(pdf, **options):
    buffer = io.BytesIO()
    pdf.save(buffer, **options)
    return buffer.getvalue()


def written(writer):
    buffer = io.BytesIO()
    writer.write(buffer)
    return buffer.getvalue()
