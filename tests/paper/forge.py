"""Forges a signed file in many ways with qpdf (through pikepdf) and pypdf, which share nothing with the writer, and saves it again
unchanged with three libraries.

usage: forge.py FILE FOLDER OTHER [ALONE]: writes one file a row to FOLDER and prints [[name, answer], ...], where the answer is what a
check of the file must say. OTHER is a file of the same kind and key that was made apart from FILE. With ALONE the last page of FILE,
taken out of it, is what is forged and saved again.
"""

import io
import json
import re
import sys

import pikepdf
import pymupdf
import pypdf
from pikepdf import Array, Dictionary, Name, Stream, String

SOURCE, FOLDER, OTHER = sys.argv[1:4]
ALONE = len(sys.argv) > 4
ROWS = []
FORGERIES = []


def forgery(change):
    """A change to the opened file, saved by qpdf."""
    FORGERIES.append(change)
    return change


def keep(name, answer, data):
    with open(f"{FOLDER}/{name}.pdf", "wb") as file:
        file.write(data)
    ROWS.append([name, answer])


def first(pdf):
    return pdf.pages[-1].obj


def own_font(page):
    """The page's fonts as objects of this page alone, so that nothing else changes."""
    fonts = page.Resources.Font
    name = sorted(fonts.keys())[-1]
    return fonts[name]


def more(pdf, data):
    return pdf.make_stream(data)


# What the page draws.


@forgery
def drawing_changed(pdf):
    stream = first(pdf).Contents[0]
    stream.write(stream.read_bytes() + b"\n0 0 m 90 90 l S\n")


@forgery
def drawing_emptied(pdf):
    first(pdf).Contents[0].write(b"")


@forgery
def painted_over_in_the_second_stream(pdf):
    stream = first(pdf).Contents[1]
    stream.write(stream.read_bytes() + b"1 g 100 100 200 200 re f\n")


@forgery
def painted_under_in_the_second_stream(pdf):
    stream = first(pdf).Contents[1]
    stream.write(b"0 g 100 100 200 200 re f\n" + stream.read_bytes())


@forgery
def painted_over_in_a_third_stream(pdf):
    first(pdf).Contents.append(more(pdf, b"1 g 100 100 200 200 re f\n"))


@forgery
def painted_first_in_a_stream_before(pdf):
    first(pdf).Contents.insert(0, more(pdf, b"2 0 0 2 0 0 cm\n"))


@forgery
def painted_between(pdf):
    first(pdf).Contents.insert(1, more(pdf, b"0 g 10 10 50 50 re f\n"))


@forgery
def drawing_taken_away(pdf):
    del first(pdf).Contents[0]


@forgery
def streams_exchanged(pdf):
    page = first(pdf)
    page.Contents = Array([page.Contents[1], page.Contents[0]])


@forgery
def drawing_of_another_page(pdf):
    with pikepdf.open(OTHER) as other:
        first(pdf).Contents[0] = pdf.copy_foreign(other.pages[-1].obj.Contents[0])


@forgery
def an_external_file_as_content(pdf):
    first(pdf).Contents[0]["/F"] = Dictionary(Type=Name.Filespec, F=String("other.bin"))


# The code.


@forgery
def code_emptied(pdf):
    first(pdf).Contents[1].write(b"")


@forgery
def code_taken_away(pdf):
    del first(pdf).Contents[1]


@forgery
def code_of_another_file(pdf):
    with pikepdf.open(OTHER) as other:
        first(pdf).Contents[1] = pdf.copy_foreign(other.pages[-1].obj.Contents[1])


@forgery
def address_of_the_code_changed(pdf):
    stream = first(pdf).Contents[1]
    stream.write(stream.read_bytes().replace(b"QUILLMOOR", b"QUILLMUUR"))


@forgery
def symbol_changed(pdf):
    stream = first(pdf).Contents[1]
    data = bytearray(stream.read_bytes())
    at = data.index(b" ID ") + 200
    data[at] ^= 0xFF
    stream.write(bytes(data))


@forgery
def symbol_moved(pdf):
    stream = first(pdf).Contents[1]
    stream.write(re.sub(rb"\nq\n(\S+) 0 0 (\S+) ", rb"\nq\n1.000 0 0 \2 ", stream.read_bytes(), count=1))


@forgery
def code_of_another_key(pdf):
    stream = first(pdf).Contents[1]
    data = stream.read_bytes()
    code = re.search(rb"/P/([A-Z2-7]+)\n", data).group(1)
    stream.write(data.replace(code, code[:-20] + b"A" * 20))


@forgery
def account_of_the_file_changed(pdf):
    stream = first(pdf).Contents[1]
    data = stream.read_bytes()
    said = re.search(rb"%document (\S+) ", data).group(1)
    stream.write(data.replace(said, b"0" * len(said)))


@forgery
def a_link_signed_by_hand(pdf):
    stream = first(pdf).Contents[1]
    stream.write(stream.read_bytes().replace(b"\nq\n", b"\n%link 0 0 600 800 1\nq\n", 1))


# Fonts.


@forgery
def font_program_exchanged(pdf):
    fonts = sorted(first(pdf).Resources.Font.keys())
    one, other = (first(pdf).Resources.Font[name].DescendantFonts[0].FontDescriptor for name in fonts[:2])
    one.FontFile2, other.FontFile2 = other.FontFile2, one.FontFile2


@forgery
def fonts_exchanged(pdf):
    fonts = first(pdf).Resources.Font
    fonts.LR, fonts.LB = fonts.LB, fonts.LR


@forgery
def font_program_changed(pdf):
    program = own_font(first(pdf)).DescendantFonts[0].FontDescriptor.FontFile2
    data = bytearray(program.read_bytes())
    data[-100] ^= 1
    program.write(bytes(data))


@forgery
def font_program_taken_away(pdf):
    del own_font(first(pdf)).DescendantFonts[0].FontDescriptor["/FontFile2"]


@forgery
def glyphs_mapped_otherwise(pdf):
    font = own_font(first(pdf)).DescendantFonts[0]
    font.CIDToGIDMap = more(pdf, b"".join((number ^ 1).to_bytes(2, "big") for number in range(256)))


@forgery
def encoding_changed(pdf):
    own_font(first(pdf)).Encoding = Name("/Identity-V")


@forgery
def text_map_changed(pdf):
    font = own_font(first(pdf))
    font.ToUnicode.write(font.ToUnicode.read_bytes().replace(b"<0031>", b"<0037>").replace(b"<0032>", b"<0038>") + b" ")


@forgery
def text_map_taken_away(pdf):
    del own_font(first(pdf))["/ToUnicode"]


@forgery
def widths_changed(pdf):
    own_font(first(pdf)).DescendantFonts[0].W[1][3] = 2000


@forgery
def default_width_changed(pdf):
    own_font(first(pdf)).DescendantFonts[0].DW = 1


@forgery
def look_replaced_by_type_3(pdf):
    first(pdf).Resources.Font.LR = Dictionary(
        Type=Name.Font,
        Subtype=Name.Type3,
        FontBBox=[0, 0, 1, 1],
        FontMatrix=[1, 0, 0, 1, 0, 0],
        CharProcs=Dictionary(),
        Encoding=Dictionary(Type=Name.Encoding, Differences=[]),
        FirstChar=0,
        LastChar=0,
        Widths=[1],
    )


# Other resources.


@forgery
def graphics_state_added(pdf):
    first(pdf).Resources.ExtGState = Dictionary(G=Dictionary(Type=Name.ExtGState, LW=10))


@forgery
def picture_among_resources(pdf):
    first(pdf).Resources.XObject = Dictionary(
        X=Stream(pdf, b"\x00", Type=Name.XObject, Subtype=Name.Image, Width=1, Height=1, ColorSpace=Name.DeviceGray, BitsPerComponent=8)
    )


@forgery
def colour_space_changed(pdf):
    first(pdf).Resources.ColorSpace = Dictionary(DefaultGray=Array([Name.CalGray, Dictionary(WhitePoint=[1, 1, 1], Gamma=9)]))


@forgery
def resources_inherited_instead(pdf):
    page = first(pdf)
    pdf.Root.Pages.Resources = Dictionary(Font=Dictionary(LR=page.Resources.Font.LB, LB=page.Resources.Font.LR))
    del page["/Resources"]


# Boxes, turn, unit.


@forgery
def media_box_larger(pdf):
    page = first(pdf)
    page.MediaBox = Array([0, 0, 700, 990])
    page.CropBox = page.MediaBox


@forgery
def media_box_moved(pdf):
    first(pdf).MediaBox = Array([-20, -20, 595, 842])


@forgery
def crop_box_smaller(pdf):
    first(pdf).CropBox = Array([50, 50, 300, 300])


@forgery
def crop_box_inherited(pdf):
    del first(pdf)["/CropBox"]
    pdf.Root.Pages.CropBox = Array([50, 50, 300, 300])


@forgery
def trim_box_smaller(pdf):
    first(pdf).TrimBox = Array([50, 50, 300, 300])


@forgery
def bleed_box_added(pdf):
    first(pdf).BleedBox = Array([50, 50, 300, 300])


@forgery
def art_box_added(pdf):
    first(pdf).ArtBox = Array([50, 50, 300, 300])


@forgery
def turned(pdf):
    first(pdf).Rotate = 90


@forgery
def turned_from_above(pdf):
    pdf.Root.Pages.Rotate = 180


@forgery
def user_unit(pdf):
    first(pdf).UserUnit = 1.05


# What lies over a page and what it does.


@forgery
def a_stamp(pdf):
    look = Stream(pdf, b"1 g 0 0 200 200 re f", Type=Name.XObject, Subtype=Name.Form, BBox=[0, 0, 200, 200])
    stamp = Dictionary(Type=Name.Annot, Subtype=Name.Stamp, Rect=[100, 100, 300, 300], F=4, AP=Dictionary(N=look))
    first(pdf).Annots = Array([pdf.make_indirect(stamp)])


@forgery
def a_text_on_top(pdf):
    note = Dictionary(Type=Name.Annot, Subtype=Name.FreeText, Rect=[100, 100, 300, 300], F=4, Contents="625", DA="/Helv 9 Tf")
    first(pdf).Annots = Array([pdf.make_indirect(note)])


@forgery
def a_link_elsewhere(pdf):
    link = Dictionary(Type=Name.Annot, Subtype=Name.Link, Rect=[0, 0, 600, 800], Border=[0, 0, 0], F=4)
    link.A = Dictionary(S=Name.URI, URI="https://elsewhere.example/")
    first(pdf).Annots = Array([pdf.make_indirect(link)])


@forgery
def a_link_that_was_not_signed(pdf):
    link = Dictionary(Type=Name.Annot, Subtype=Name.Link, Rect=[0, 0, 600, 800], Border=[0, 0, 0], F=4)
    link.Dest = Array([pdf.pages[0].obj, Name.Fit])
    first(pdf).Annots = Array([pdf.make_indirect(link)])


@forgery
def a_frame_of_a_link(pdf):
    link = Dictionary(Type=Name.Annot, Subtype=Name.Link, Rect=[100, 100, 300, 300], Border=[0, 0, 9], F=4)
    first(pdf).Annots = Array([pdf.make_indirect(link)])


@forgery
def a_form_field(pdf):
    field = Dictionary(Type=Name.Annot, Subtype=Name.Widget, FT=Name.Tx, T="length", V="812", Rect=[50, 50, 200, 80], F=4)
    field = pdf.make_indirect(field)
    first(pdf).Annots = Array([field])
    pdf.Root.AcroForm = Dictionary(Fields=[field], NeedAppearances=True)


@forgery
def a_form_without_fields(pdf):
    pdf.Root.AcroForm = Dictionary(Fields=[])


@forgery
def a_deed_of_the_page(pdf):
    first(pdf).AA = Dictionary(O=Dictionary(S=Name.JavaScript, JS="app.alert('x')"))


@forgery
def a_thumbnail(pdf):
    first(pdf).Thumb = Stream(pdf, b"\x00", Width=1, Height=1, ColorSpace=Name.DeviceGray, BitsPerComponent=8)


@forgery
def a_transparency_group(pdf):
    first(pdf).Group = Dictionary(S=Name.Transparency, CS=Name.DeviceRGB)


@forgery
def a_scale_for_measuring(pdf):
    measure = Dictionary(Type=Name.Measure, R="1 in = 2 in", X=[Dictionary(U="mm", C=0.5)], D=[], A=[])
    first(pdf).VP = Array([Dictionary(Type=Name.Viewport, BBox=[0, 0, 600, 900], Measure=measure)])


@forgery
def shown_for_a_second(pdf):
    first(pdf).Dur = 1


# The file as a whole.


@forgery
def print_scaling_changed(pdf):
    pdf.Root.ViewerPreferences = Dictionary(PrintScaling=Name.AppDefault, PickTrayByPDFSize=True, DisplayDocTitle=True)


@forgery
def copies_by_default(pdf):
    pdf.Root.ViewerPreferences = Dictionary(PrintScaling=Name("/None"), NumCopies=50)


@forgery
def only_some_pages_printed(pdf):
    pdf.Root.ViewerPreferences = Dictionary(PrintScaling=Name("/None"), PrintPageRange=[0, 0])


@forgery
def opened_with_a_deed(pdf):
    pdf.Root.OpenAction = Dictionary(S=Name.JavaScript, JS="this.print()")


@forgery
def opened_elsewhere(pdf):
    pdf.Root.OpenAction = Array([pdf.pages[0].obj, Name.XYZ, None, None, 0.5])


@forgery
def deeds_of_the_file(pdf):
    pdf.Root.AA = Dictionary(WP=Dictionary(S=Name.JavaScript, JS="1"))


@forgery
def a_script_by_name(pdf):
    script = Dictionary(S=Name.JavaScript, JS="app.alert('x')")
    pdf.Root.Names = Dictionary(JavaScript=Dictionary(Names=[String("a"), script]))


@forgery
def a_file_within(pdf):
    pdf.attachments["other.txt"] = pikepdf.AttachedFileSpec(pdf, b"other")


@forgery
def layers(pdf):
    layer = pdf.make_indirect(Dictionary(Type=Name.OCG, Name="a"))
    pdf.Root.OCProperties = Dictionary(OCGs=[layer], D=Dictionary(OFF=[layer]))


@forgery
def page_labels(pdf):
    pdf.Root.PageLabels = Dictionary(Nums=[0, Dictionary(S=Name.D, St=100)])


@forgery
def opened_over_the_whole_screen(pdf):
    pdf.Root.PageMode = Name.FullScreen


@forgery
def grey_means_another(pdf):
    pdf.Root.OutputIntents[0].DestOutputProfile.write(b"other")


@forgery
def title_of_the_window(pdf):
    pdf.docinfo["/Title"] = "Another frame, revision Z"


@forgery
def a_fact_of_its_own(pdf):
    pdf.docinfo["/Approved"] = "yes"


@forgery
def metadata_changed(pdf):
    data = pdf.Root.Metadata.read_bytes()
    pdf.Root.Metadata.write(data.replace(b"</dc:title>", b"</dc:title> "))


@forgery
def outline_says_something_else(pdf):
    pdf.Root.Outlines.First.Title = String("Another page")


@forgery
def outline_does_something_else(pdf):
    item = pdf.Root.Outlines.First
    del item["/Dest"]
    item.A = Dictionary(S=Name.URI, URI="https://elsewhere.example/")


@forgery
def outline_in_colour(pdf):
    pdf.Root.Outlines.First.C = Array([1, 0, 0])


@forgery
def a_page_added(pdf):
    pdf.add_blank_page(page_size=(595, 842))


@forgery
def a_page_of_another_file(pdf):
    with pikepdf.open(OTHER) as other:
        pdf.pages.append(other.pages[0])


@forgery
def the_tree_says_something_else(pdf):
    pdf.Root.Pages.Something = Dictionary(A=1)


def saved(pdf, **options):
    buffer = io.BytesIO()
    pdf.save(buffer, **options)
    return buffer.getvalue()


def by_qpdf():
    for change in FORGERIES:
        with pikepdf.open(SOURCE) as pdf:
            try:
                change(pdf)
            except (AttributeError, KeyError):
                # A page taken out has no outline, metadata and settings to change.
                if not ALONE:
                    raise
                continue
            keep(change.__name__, "forged", saved(pdf))
    with pikepdf.open(SOURCE) as pdf:
        keep("locked", "forged", saved(pdf, encryption=pikepdf.Encryption(owner="x", user="")))
    with pikepdf.open(SOURCE) as pdf:
        drawing_changed(pdf)
        keep("drawing_changed_in_object_streams", "forged", saved(pdf, object_stream_mode=pikepdf.ObjectStreamMode.generate))


def by_pypdf():
    """Added to at the end, as ISO 32000-1, 7.5.6 allows; the same change as a new file."""
    for incremental in (True, False):
        writer = pypdf.PdfWriter(SOURCE, incremental=incremental)
        writer.pages[-1][pypdf.generic.NameObject("/Rotate")] = pypdf.generic.NumberObject(90)
        buffer = io.BytesIO()
        writer.write(buffer)
        keep(f"turned_by_pypdf_{'at_the_end' if incremental else 'anew'}", "forged", buffer.getvalue())
    writer = pypdf.PdfWriter(clone_from=SOURCE)
    writer.add_js("app.alert('x')")
    keep("a_script_by_pypdf", "forged", written(writer))
    writer = pypdf.PdfWriter(clone_from=SOURCE)
    note = pypdf.annotations.FreeText(text="625", rect=(50, 550, 200, 650))
    writer.add_annotation(page_number=len(writer.pages) - 1, annotation=note)
    keep("a_note_by_pypdf", "forged", written(writer))


def written(writer):
    buffer = io.BytesIO()
    writer.write(buffer)
    return buffer.getvalue()


def by_hand():
    """What no library writes: two readers may take these differently."""
    data = open(SOURCE, "rb").read()
    # The old page hides behind a second object of its number, with a table that leads to the new one.
    number = re.search(rb"\n(\d+) 0 obj\n<</Type/Page/", data).group(1)
    page = re.search(rb"\n" + number + rb" 0 obj\n.*?endobj\n", data, re.S).group()[1:]
    at = data.index(b"\n" + number + b" 0 obj\n<</Type/Page/") + 1
    start = int(re.search(rb"startxref\s+(\d+)", data).group(1))
    size = int(re.search(rb"/Size (\d+)", data).group(1))
    root = re.search(rb"/Root (\d+ \d+ R)", data).group(1)

    def update(body, entry):
        table = b"xref\n%d 1\n%s trailer\n<</Size %d/Root %s/Prev %d>>\n" % (int(number), entry, size, root, start)
        return data + b"\n" + body + table + b"startxref\n%d\n%%%%EOF" % (len(data) + 1 + len(body))

    entry = b"%010d 00000 n \n" % (len(data) + 1)
    keep("page_again_at_the_end", "forged", update(page.replace(b"/Type/Page/", b"/Type/Page/Rotate 90/"), entry))
    keep("page_struck_out_at_the_end", "forged", update(b"", b"0000000000 65535 f \n"))
    spaced = page[:-8] + b" " * 8 + page[-8:]
    keep("entry_twice_in_a_page", "forged", moved(data, at, page, page.replace(b"/Type/Page/", b"/Rotate 0/Type/Page/Rotate 90/")))
    keep("key_in_other_letters", "forged", moved(data, at, page, page.replace(b"/Type/Page/", b"/R#6ftate 90/Type/Page/")))
    keep("spaces_only", "same-pages", moved(data, at, page, spaced))
    keep("something_behind_the_end", "forged", data + b"\n1 0 obj\n<<>>\nendobj\n")
    keep("something_before_the_start", "forged", data.replace(b"\n1 0 obj", b"\n9999 0 obj\n<<>>\nendobj\n1 0 obj", 1))


def moved(data, at, old, new):
    """The same bytes with one object replaced, and the table of objects after it."""
    data = data[:at] + new + data[at + len(old) :]
    more = len(new) - len(old)
    start = data.index(b"\nxref\n") + 1
    table = re.sub(
        rb"(\d{10}) (\d{5} n)",
        lambda entry: b"%010d %s" % (int(entry.group(1)) + (more if int(entry.group(1)) > at else 0), entry.group(2)),
        data[start:],
    )
    table = re.sub(rb"startxref\s+\d+", b"startxref\n%d" % start, table)
    return data[:start] + table


def saved_again():
    if not ALONE:
        keep("untouched", "issued", open(SOURCE, "rb").read())
    same = "some-pages" if ALONE else "same-pages"
    mode = pikepdf.ObjectStreamMode
    for name, options in {
        "qpdf": {},
        "qpdf_object_streams": {"object_stream_mode": mode.generate, "recompress_flate": True},
        "qpdf_for_the_web": {"linearize": True},
        "qpdf_unpacked": {"stream_decode_level": pikepdf.StreamDecodeLevel.all, "compress_streams": False},
    }.items():
        with pikepdf.open(SOURCE) as pdf:
            keep(f"saved_by_{name}", same, saved(pdf, **options))
    keep("saved_by_pypdf", same, written(pypdf.PdfWriter(clone_from=SOURCE)))
    for name, options in {"mupdf": {}, "mupdf_packed": {"garbage": 4, "deflate": True, "use_objstms": 1}}.items():
        with pymupdf.open(SOURCE) as document:
            keep(f"saved_by_{name}", same, document.tobytes(**options))
    # All pages, but put into a file that says nothing of how it is printed.
    writer = pypdf.PdfWriter()
    writer.append(SOURCE)
    keep("pages_put_together_by_pypdf", "some-pages", written(writer))


def pages_taken_out():
    with pikepdf.open(SOURCE) as pdf:
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
    writer.append(SOURCE, pages=(0, 2))
    keep("two_pages_by_pypdf", "some-pages", written(writer))
    with pymupdf.open(SOURCE) as document, pymupdf.open() as some:
        some.insert_pdf(document, from_page=0, to_page=1)
        keep("two_pages_by_mupdf", "some-pages", some.tobytes())
    with pymupdf.open(SOURCE) as document:
        document.select([0, last])
        keep("two_pages_chosen_by_mupdf", "some-pages", document.tobytes(garbage=3))


if ALONE:
    with pikepdf.open(SOURCE) as pdf, pikepdf.new() as page:
        page.pages.append(pdf.pages[-1])
        SOURCE = f"{FOLDER}/alone.pdf"
        page.save(SOURCE)
by_qpdf()
by_pypdf()
if not ALONE:
    by_hand()
saved_again()
pages_taken_out()
json.dump(ROWS, sys.stdout)
