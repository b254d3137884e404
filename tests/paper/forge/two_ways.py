"""Forgeries that show other pages to readers that look for the end of a file as text, put together again what they take for broken,
or trust what a file says of itself twice. Each is written by hand into the file as qpdf saves it plainly, with a catalog and a page
of its own where it needs them; ISO 32000-1, 7.5 says what a reader looks for, and Annex F and H what else readers look for.
"""

import io
import re
import zlib

import pikepdf
from common import FORGED, keep, saved

OVER = b"q 1 1 1 rg 40 40 500 500 re f 1 0 0 RG 3 w 60 380 480 120 re S Q"


class Plain:
    """A file with one table of objects in words: its objects, its trailer, and what is put behind them."""

    def __init__(self):
        with pikepdf.open(FORGED) as pdf:
            self.data = saved(pdf, object_stream_mode=pikepdf.ObjectStreamMode.disable)
        start = int(re.search(rb"startxref\s+(\d+)\s+%%EOF\s*$", self.data).group(1))
        head = re.match(rb"xref\n0 (\d+)\n", self.data[start:])
        self.size = int(head.group(1))
        rows = start + head.end()
        self.entries = self.data[rows : rows + 20 * self.size]
        self.trailer = re.search(rb"trailer\s*<<(.*)>>\s*startxref", self.data[start:], re.S).group(1)
        self.body = self.data[:start]

    def add(self, content):
        """A new object in the table; returns its number."""
        self.entries += b"%010d 00000 n \n" % len(self.body)
        self.body += b"%d 0 obj\n%s\nendobj\n" % (self.size, content)
        self.size += 1
        return self.size - 1

    def stream(self, content):
        return b"<< /Length %d >>\nstream\n%s\nendstream" % (len(content), content)

    def other_tree(self):
        """A catalog with the first page alone, drawn over; returns its number."""
        with pikepdf.open(io.BytesIO(self.data)) as pdf:
            page = pdf.pages[0].obj
            resources = page.Resources
            resources = b"%d 0 R" % resources.objgen[0] if resources.objgen[0] else resources.unparse()
            contents = b" ".join(b"%d 0 R" % part.objgen[0] for part in page.Contents)
            box = page.MediaBox.unparse()
        over = self.add(self.stream(OVER))
        tree = self.size + 1
        leaf = b"<< /Type /Page /Parent %d 0 R /MediaBox %s /Resources %s /Contents [ %s %d 0 R ] >>"
        leaf = self.add(leaf % (tree, box, resources, contents, over))
        self.add(b"<< /Type /Pages /Count 1 /Kids [ %d 0 R ] >>" % leaf)
        return self.add(b"<< /Type /Catalog /Pages %d 0 R >>" % tree)

    def table(self):
        trailer = re.sub(rb"/Size \d+", b"/Size %d" % self.size, self.trailer)
        return b"xref\n0 %d\n%strailer <<%s>>\n" % (self.size, self.entries, trailer)

    def end(self, start=None):
        return b"startxref\n%d\n%%%%EOF\n" % (len(self.body) if start is None else start)

    def whole(self):
        return self.body + self.table() + self.end()

    def change(self, old, new):
        """In the last object that has it, of which the table then says where it is."""
        at = self.body.rindex(old)
        self.body = self.body[:at] + new + self.body[at + len(old) :]
        more = len(new) - len(old)

        def moved(entry):
            offset = int(entry.group(1))
            return b"%010d %s" % (offset + (more if offset > at else 0), entry.group(2))

        self.entries = re.sub(rb"(\d{10}) (\d{5} n)", moved, self.entries)

    def fact(self, text):
        """A program that saved the file, as its document information may name it."""
        facts = re.search(rb"/Info (\d+) 0 R", self.trailer)
        if facts:
            self.trailer = self.trailer.replace(facts.group(0), b"")
            with pikepdf.open(io.BytesIO(self.data)) as pdf:
                said = b" ".join(b"%s %s" % (key.encode(), pdf.docinfo[key].unparse()) for key in ["/Title", "/Author", "/Subject"])
            self.entries = strike_out(self, int(facts.group(1)))
        else:
            said = b""
        self.trailer += b" /Info %d 0 R " % self.add(b"<< %s /Producer %s >>" % (said, text))


def strike_out(file, number):
    """Takes an object out of the body; returns the table without it."""
    at = re.search(rb"(?<=\n)%d 0 obj\n.*?endobj\n\s*" % number, file.body, re.S)
    file.body = file.body[: at.start()] + b" " * len(at.group(0)) + file.body[at.end() :]
    row = 20 * number
    return file.entries[:row] + b"0000000000 65535 f \n" + file.entries[row + 20 :]


def other_table(root, prev, at):
    return b"xref\n0 1\n0000000000 65535 f \ntrailer\n<< /Size 9999 /Root %d 0 R /Prev %d >>\nstartxref\n%d\n%%%%EOF" % (root, prev, at)


def behind_the_end():
    """Readers look for the last `startxref` as text, wherever it stands."""
    for name, before, after in [("a_comment", b"%", b""), ("a_string", b"(", b")"), ("plain_sight", b"", b"")]:
        file = Plain()
        root = file.other_tree()
        data = file.whole() + before
        flat = other_table(root, len(file.body), len(data))
        keep(f"another_end_in_{name}_behind_the_end", "unclear", data + flat.replace(b"\n", b" ") + after)
    file = Plain()
    root = file.other_tree()
    number, file.size = file.size, file.size + 1
    before = file.entries
    file.entries += b"%010d 00000 n \n" % 0
    place = len(file.whole())
    file.entries = before + b"%010d 00000 n \n" % place
    at = place + len(b"%d 0 obj\n<< /Length 000 >>\nstream\n" % number)
    flat = other_table(root, len(file.body), at)
    keep(
        "another_end_in_a_stream_behind_the_end",
        "unclear",
        file.whole() + b"%d 0 obj\n<< /Length %03d >>\nstream\n%s\nendstream\nendobj\n" % (number, len(flat), flat),
    )
    file = Plain()
    root = file.other_tree()
    start = b"startxref\n%d\n" % len(file.body)
    data = file.body + file.table() + start + b"%"
    keep("another_end_in_a_comment_before_the_end", "unclear", data + other_table(root, len(file.body), len(data)).replace(b"\n", b" "))
    keep("an_end_out_of_sight", "unclear", Plain().whole() + b" " * 4000)
    keep("an_end_twice", "unclear", Plain().whole() + b"%%EOF\n")


def what_nobody_refers_to():
    file = Plain()
    file.other_tree()
    keep("a_tree_nobody_refers_to", "unclear", file.whole())
    file = Plain()
    file.add(b"<< /Something /Else >>")
    keep("an_object_nobody_refers_to", "unclear", file.whole())
    file = Plain()
    root = file.other_tree()
    file.fact(b"%d 0 R" % root)
    keep("a_tree_behind_a_fact", "unclear", file.whole())
    file = Plain()
    root = file.other_tree()
    file.fact(b"[ (a saver) %d 0 R ]" % (root - 2))
    keep("a_page_behind_a_fact", "unclear", file.whole())


def for_readers_that_repair():
    """They look for `N G obj` and `trailer` through the whole file."""
    file = Plain()
    root = int(re.search(rb"/Root (\d+) 0 R", file.trailer).group(1))
    for name, text in {
        "an_object": b"(\n%d 0 obj\n<< /Type /Catalog /Pages 1 0 R >>\nendobj\n)" % root,
        "a_trailer": b"(\ntrailer\n<< /Root 1 0 R /Size 9 >>\n)",
        "an_end": b"(\nstartxref\n9\n)",
        "a_table": b"(\nxref\n0 1\n0000000000 65535 f \n)",
        "the_end_of_an_object": b"(\nendobj\n)",
        "a_header": b"(\n%PDF-1.4\n)",
    }.items():
        file = Plain()
        file.fact(text)
        keep(f"{name}_in_a_string", "unclear", file.whole())
    file = Plain()
    file.fact(b"(a saver)")
    same = file.whole()
    keep("a_saver_in_a_string", "some-pages" if b"/ViewerPreferences" not in same else "same-pages", same)
    file = Plain()
    with pikepdf.open(io.BytesIO(file.data)) as pdf:
        if "/Metadata" in pdf.Root:
            packet = pdf.Root.Metadata.read_bytes()
            more = b"<!--\n%d 0 obj\n<< /Type /Catalog /Pages 1 0 R >>\nendobj\n-->" % root
            pdf.Root.Metadata.write(packet.replace(b"<rdf:RDF", more + b"<rdf:RDF", 1))
            keep("an_object_in_the_metadata", "unclear", saved(pdf))


def said_twice():
    file = Plain()
    keep("a_comment_between_objects", "unclear", file.body + b"%hidden\n" + file.table() + file.end(len(file.body) + 8))
    file = Plain()
    data = file.whole()
    keep("a_header_again", "unclear", moved_by(data, data.index(b"\n") + 1, b"%PDF-1.4\n"))
    file = Plain()
    file = Plain()
    file.entries = file.entries.replace(b" \n", b"\n")
    keep("a_table_of_short_rows", "unclear", file.whole())
    file = Plain()
    short = file.whole().replace(b"/Size %d" % file.size, b"/Size %d" % (file.size - 1))
    keep("an_object_beyond_the_size", "unclear", short)
    file = Plain()
    file.trailer += b" /Prev %d.0 " % len(file.body)
    keep("a_table_before_by_a_broken_number", "unclear", file.whole())
    file = Plain()
    leaf = re.findall(rb"/Type /Page(?:\s|/|>)", file.body)[-1]
    note = b"<< /Type /Annot /Subtype /FreeText /Rect [ 100 100 300 300 ] /F 4 /Contents (625) /DA (/Helv 9 Tf) >>"
    note = file.add(b"[ %s ]" % note)
    if b"/Annots" not in file.body:
        file.change(leaf, b"/Annots %d 1 R " % note + leaf)
        keep("a_note_by_another_generation", "unclear", file.whole())
    with pikepdf.open(FORGED) as pdf:
        data = saved(pdf, linearize=True)
        pages = [page.objgen[0] for page in pdf.pages]
    said = re.search(rb"/O (\d+)", data)
    other = b"/O %0*d" % (len(said.group(1)), 1)
    keep("another_first_page_for_the_web", "unclear", data.replace(said.group(0), other, 1))
    said = re.search(rb"/L (\d+)", data)
    keep("another_length_for_the_web", "unclear", data.replace(said.group(0), b"/L %0*d" % (len(said.group(1)), 9), 1))
    if len(pages) > 1:
        said = re.search(rb"/H \[ (\d+) (\d+) \]", data)
        at = data.index(b"stream\n", int(said.group(1))) + 7
        end = data.index(b"\nendstream", at)
        hints = bytearray(zlib.decompress(data[at:end]))
        # Least number of objects of a page (Annex F, table F.3): all pages but the first move on by one.
        hints[3] += 1
        packed = zlib.compress(bytes(hints), 9)
        if len(packed) <= end - at:
            keep("hints_to_other_pages", "unclear", data[:at] + packed.ljust(end - at) + data[end:])


def moved_by(data, at, more):
    """Some bytes put in, and the table of objects moved."""
    start = int(re.search(rb"startxref\s+(\d+)", data).group(1))
    entry = lambda found: b"%010d %s" % (int(found.group(1)) + len(more), found.group(2))
    table = re.sub(rb"(\d{10}) (\d{5} n)", entry, data[start:])
    table = re.sub(rb"startxref\s+\d+", b"startxref\n%d" % (start + len(more)), table)
    return data[:at] + more + data[at:start] + table


def two_ways():
    behind_the_end()
    what_nobody_refers_to()
    for_readers_that_repair()
    said_twice()
