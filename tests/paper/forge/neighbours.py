"""Forgeries beside what savers do: in files for the web whose objects lie in object streams (ISO 32000-1, 7.5.7 and Annex F), in what is
left over when pages are taken out, and in what nothing leads to. Bytes are exchanged for as many others, so that no place moves.
"""

import io
import re

import pikepdf
import pypdf
from common import ALONE, FORGED, OTHER, keep, saved, written
from pikepdf import String
from two_ways import OVER, Plain

SAME = "some-pages" if ALONE else "same-pages"
GENERATE = pikepdf.ObjectStreamMode.generate


class Web:
    """A file for the web with object streams, nothing in it packed."""

    def __init__(self):
        with pikepdf.open(FORGED) as pdf:
            unpacked = pikepdf.StreamDecodeLevel.all
            self.data = saved(pdf, linearize=True, object_stream_mode=GENERATE, compress_streams=False, stream_decode_level=unpacked)

    def change(self, old, new):
        at = self.data.index(old)
        assert len(new) <= len(old), (old, new)
        self.data = self.data[:at] + new.ljust(len(old)) + self.data[at + len(old) :]

    def change_number(self, key, number):
        old = re.search(re.escape(key) + rb"(\d+)", self.data)
        self.change(old.group(0), key + b"%0*d" % (len(old.group(1)), number))

    def in_stream(self, change):
        """Changes the objects in the last object stream, given and returned as [number, text], and what stands behind them."""
        found = list(re.finditer(rb"/Type /ObjStm /Length (\d+) /N (\d+) /First (\d+) >>\nstream\n", self.data))[-1]
        length, _, first = (int(number) for number in found.groups())
        end = found.end() + length
        content = self.data[found.end() : end]
        numbers = [int(number) for number in content[:first].split()]
        ends = [*numbers[3::2], length - first]
        objects = [[number, content[first + start : first + end]] for number, start, end in zip(numbers[::2], numbers[1::2], ends)]
        objects, behind = change(objects)
        texts, head, at = b"", b"", 0
        for number, text in objects:
            head += b"%d %d " % (number, len(texts))
            texts += text
        new = head + texts + behind
        old = found.group(0)
        says = b"/Type /ObjStm /Length %d /N %d /First %d >>\nstream\n"
        length -= len(says % (length, len(objects), len(head))) - len(old)
        if len(new) > length:
            return False
        said = says % (length, len(objects), len(head))
        self.data = self.data[: found.start()] + said + new.ljust(length) + self.data[end:]
        return True


def without_dates(objects):
    """Room among the objects: what savers say of a file may be missing."""
    return [[number, re.sub(rb"/(CreationDate|ModDate) \([^)]*\) ", b"", text)] for number, text in objects]


def in_object_streams():
    for name, answer, change in [
        ("nothing", SAME, lambda objects: (objects, b"")),
        ("another_object", "unclear", lambda objects: ([*objects, [9999, b"<< /A 1 >>\n"]], b"")),
        ("an_object_twice", "unclear", lambda objects: ([*objects, [objects[0][0], b"<< /A 1 >>\n"]], b"")),
        ("something_behind_the_objects", "unclear", lambda objects: (objects, b"<< /A 1 >>\n")),
        ("objects_exchanged", "unclear", lambda objects: ([[objects[1][0], objects[0][1]], [objects[0][0], objects[1][1]], *objects[2:]], b"")),
    ]:
        file = Web()
        if file.in_stream(lambda objects: change(without_dates(objects))):
            keep(f"{name}_in_an_object_stream", answer, file.data)


def in_files_for_the_web():
    file = Web()
    first = file.data.index(b"\n%s 0 obj" % re.search(rb"/O (\d+)", file.data).group(1)) + 1
    file.change_number(b"/H [ ", first)
    keep("hints_elsewhere_with_object_streams", "unclear", file.data)
    file = Web()
    file.change_number(b"/O ", 1)
    keep("another_first_page_with_object_streams", "unclear", file.data)
    file = Web()
    hints = int(re.search(rb"/H \[ (\d+)", file.data).group(1))
    place = file.data.index(b"stream\n", hints) + 7 + 3
    if int(re.search(rb"/N (\d+)", file.data).group(1)) > 1:
        file.data = file.data[:place] + bytes([file.data[place] + 1]) + file.data[place + 1 :]
        keep("hints_to_other_pages_with_object_streams", "unclear", file.data)
    said = re.compile(rb"/Size \d+ (/ID \[<[0-9a-f]+><[0-9a-f]+>\])")
    for name, entry in [("another_root", b"/Root 1 0 R"), ("other_objects", b"/Index [ 3 9 ]"), ("a_table_before", b"/Prev 9")]:
        file = Web()
        second = file.data.rindex(b"/Type /XRef")
        old = said.search(file.data, second).group(1)
        file.data = file.data[:second] + file.data[second:].replace(old, entry.ljust(len(old)))
        keep(f"{name}_in_the_second_table", "unclear", file.data)
    file = Web()
    length, second = len(file.data), int(re.search(rb"/Prev (\d+)", file.data).group(1))
    file.data = re.sub(rb"startxref\n\d+", b"startxref\n%d" % second, file.data)
    file.change_number(b"/L ", len(file.data))
    keep("begun_at_the_second_table", "unclear", file.data)
    # Between the first table and the catalog is room.
    for name, answer, text in [
        ("an_end_that_leads_nowhere", SAME, b"startxref\n0\n%%EOF\n"),
        ("an_end_that_leads_elsewhere", "unclear", b"startxref\n9\n%%EOF\n"),
        ("a_trailer", "unclear", b"trailer << /Root 1 0 R >>\n"),
        ("an_object", "unclear", b"9999 0 obj\n<< >>\nendobj\n"),
    ]:
        file = Web()
        file.change(b"\n" + b" " * 60, b"\n" + text) if file.data.count(b"\n" + b" " * 60) < 2 else second_room(file, text)
        keep(f"{name}_behind_the_first_table", answer, file.data)
    for name, change in [("turned", turned), ("drawn_over", drawn_over)]:
        with pikepdf.open(FORGED) as pdf:
            change(pdf)
            keep(f"{name}_and_for_the_web_with_object_streams", "forged", saved(pdf, linearize=True, object_stream_mode=GENERATE))


def null_on_a_page_for_the_web():
    """What a page of the first part has is put above it in the tree, which stands behind, and is null on the page itself: readers that show
    the first part before the rest is there have nothing to go by. qpdf would put it back on the page, so that it has another name till it is saved.
    """
    for key, other in [(b"/MediaBox", b"/MediaBo_"), (b"/Resources", b"/Resourc_s")]:
        with pikepdf.open(FORGED) as pdf:
            page = pdf.pages[0].obj
            if key == b"/Resources" and not page.Resources.is_indirect:
                page.Resources = pdf.make_indirect(page.Resources)
            pdf.Root.Pages[other.decode()] = page[key.decode()]
            data = saved(pdf, linearize=True, object_stream_mode=pikepdf.ObjectStreamMode.disable)
        start = data.index(b"\n%s 0 obj" % re.search(rb"/O (\d+)", data).group(1))
        value = re.compile(re.escape(key) + rb" (\[[^]]*\]|\d+ 0 R)").search(data, start, data.index(b"endobj", start))
        null = (key + b" null").ljust(len(value.group(0)))
        data = data[: value.start()] + null + data[value.end() :]
        assert data.count(other) == 1
        keep(f"{key[1:].decode()}_null_on_a_page_for_the_web", "unclear", data.replace(other, key))


def second_room(file, text):
    """Behind the first table, not behind the first object."""
    at = file.data.index(b"endobj\n" + b" " * 40, file.data.index(b"/Type /XRef")) + 7
    file.data = file.data[:at] + text + file.data[at + len(text) :]


def turned(pdf):
    pdf.pages[-1].obj.Rotate = 90


def drawn_over(pdf):
    stream = pdf.pages[-1].obj.Contents[0]
    stream.write(stream.read_bytes() + OVER)


def entry_changed(pdf):
    pdf.Root.Outlines.Last.Title = String("Another page")


def entry_added(pdf):
    last = pdf.Root.Outlines.Last
    more = pdf.make_indirect(pikepdf.Dictionary(Title=String("Another page"), Parent=pdf.Root.Outlines, Prev=last))
    last.Next = more
    pdf.Root.Outlines.Last = more
    pdf.Root.Outlines.Count += 1


def entry_dropped(pdf):
    last = pdf.Root.Outlines.Last.Prev
    del last.Next
    pdf.Root.Outlines.Last = last


def entries_exchanged(pdf):
    last = pdf.Root.Outlines.Last
    last.Title, last.Prev.Title = last.Prev.Title, last.Title


def where_pages_are_missing():
    """The outline then leads nowhere, and no page is there that signed it."""
    with pikepdf.open(FORGED) as pdf:
        if ALONE or len(pdf.pages) < 5:
            return
    for change in [entry_changed, entry_added, entry_dropped, entries_exchanged]:
        for mode in pikepdf.ObjectStreamMode.disable, GENERATE:
            with pikepdf.open(FORGED) as pdf:
                del pdf.pages[4:]
                change(pdf)
                keep(f"{change.__name__}_of_pages_taken_out_{mode.name}", "forged", saved(pdf, linearize=True, object_stream_mode=mode))


def nothing_leads_to():
    """Each in a file that is otherwise the same."""
    with pikepdf.open(io.BytesIO(Plain().data)) as pdf:
        page = pdf.pages[-1].obj
        del page.Parent
        entries = page.unparse(resolved=True)[:-2]
        facts = pdf.docinfo.unparse(resolved=True) if "/Info" in pdf.trailer else None
        packet = pdf.Root.Metadata.read_bytes() if "/Metadata" in pdf.Root else None
    note = b"/Annots [ << /Type /Annot /Subtype /FreeText /Rect [ 9 9 99 99 ] /F 4 /Contents (625) /DA (/Helv 9 Tf) >> ] "
    blank = b"<< /Type /Page /MediaBox [ 0 0 595 842 ] "
    for name, answer, text in [
        ("a_page_as_signed", SAME, entries + b">>"),
        ("nothing", SAME, b"null"),
        ("a_page_turned", "forged", entries + b"/Rotate 90 >>"),
        ("a_page_with_a_note", "forged", re.sub(rb"/Annots \[.*?\]\s*(?=/)", b"", entries, flags=re.S) + note + b">>"),
        ("an_empty_page", "unclear", blank + b">>"),
        ("an_empty_page_with_a_note", "forged", blank + note + b">>"),
        ("another_catalog", "unclear", b"<< /Type /Catalog >>"),
        ("a_note", "forged", note[10:-2]),
        ("a_drawing", "unclear", Plain.stream(None, OVER)),
        ("what_was_deleted", SAME, Plain.stream(None, b"deleted")),
        ("more_than_what_was_deleted", "unclear", Plain.stream(None, b"deleted ").replace(b"<<", b"<< /Type /XObject")),
        ("other_facts", "unclear", b"<< /Title (Another frame) /Producer (a saver) >>"),
        *([("facts_as_signed", SAME, facts), ("more_facts", "unclear", facts[:-2] + b"/Approved (yes) >>")] if facts else []),
    ]:
        file = Plain()
        file.add(text)
        keep(f"nothing_leads_to_{name}", answer, file.whole())
    for name, answer, said in [("metadata_as_signed", SAME, packet), ("other_metadata", "unclear", packet and packet.replace(b"frame", b"other"))]:
        if packet:
            file = Plain()
            file.add(b"<< /Type /Metadata /Subtype /XML /Length %d >>\nstream\n%s\nendstream" % (len(said), said))
            keep(f"nothing_leads_to_{name}", answer, file.whole())
    for name, answer, above in [("a_page", "forged", False), ("a_page_and_its_tree", "unclear", True)]:
        writer = pypdf.PdfWriter(clone_from=FORGED)
        page = pypdf.PdfReader(OTHER).pages[0]
        if not above:
            del page["/Parent"]
        page.clone(writer)
        keep(f"nothing_leads_to_{name}_of_another_file", answer, written(writer))


def neighbours():
    in_object_streams()
    in_files_for_the_web()
    null_on_a_page_for_the_web()
    where_pages_are_missing()
    nothing_leads_to()
