"""Forgeries of what a page draws: streams, code, fonts, other resources, boxes."""

import re

import pikepdf
from common import OTHER, forged_page, forgery, forgery_without_code
from pikepdf import Array, Dictionary, Name, Stream, String


def own_font(page):
    """The last of the page's fonts."""
    fonts = page.Resources.Font
    return fonts[sorted(fonts.keys())[-1]]


# What the page draws.


@forgery
def drawing_changed(pdf):
    stream = forged_page(pdf).Contents[0]
    stream.write(stream.read_bytes() + b"\n0 0 m 90 90 l S\n")


@forgery
def drawing_emptied(pdf):
    forged_page(pdf).Contents[0].write(b"")


@forgery
def painted_over_in_the_second_stream(pdf):
    stream = forged_page(pdf).Contents[1]
    stream.write(stream.read_bytes() + b"1 g 100 100 200 200 re f\n")


@forgery
def painted_under_in_the_second_stream(pdf):
    stream = forged_page(pdf).Contents[1]
    stream.write(b"0 g 100 100 200 200 re f\n" + stream.read_bytes())


@forgery
def painted_over_in_a_third_stream(pdf):
    forged_page(pdf).Contents.append(pdf.make_stream(b"1 g 100 100 200 200 re f\n"))


@forgery
def painted_first_in_a_stream_before(pdf):
    forged_page(pdf).Contents.insert(0, pdf.make_stream(b"2 0 0 2 0 0 cm\n"))


@forgery
def painted_between(pdf):
    forged_page(pdf).Contents.insert(1, pdf.make_stream(b"0 g 10 10 50 50 re f\n"))


@forgery
def drawing_taken_away(pdf):
    del forged_page(pdf).Contents[0]


@forgery
def streams_exchanged(pdf):
    page = forged_page(pdf)
    page.Contents = Array([page.Contents[1], page.Contents[0]])


@forgery
def drawing_of_another_page(pdf):
    with pikepdf.open(OTHER) as other:
        forged_page(pdf).Contents[0] = pdf.copy_foreign(other.pages[-1].obj.Contents[0])


@forgery
def an_external_file_as_content(pdf):
    forged_page(pdf).Contents[0]["/F"] = Dictionary(Type=Name.Filespec, F=String("other.bin"))


# The code.


@forgery_without_code
def code_emptied(pdf):
    forged_page(pdf).Contents[1].write(b"")


@forgery_without_code
def code_taken_away(pdf):
    del forged_page(pdf).Contents[1]


@forgery
def code_of_another_file(pdf):
    with pikepdf.open(OTHER) as other:
        forged_page(pdf).Contents[1] = pdf.copy_foreign(other.pages[-1].obj.Contents[1])


@forgery
def address_of_the_code_changed(pdf):
    stream = forged_page(pdf).Contents[1]
    stream.write(stream.read_bytes().replace(b"QUILLMOOR", b"QUILLMUUR"))


@forgery
def symbol_changed(pdf):
    stream = forged_page(pdf).Contents[1]
    data = bytearray(stream.read_bytes())
    at = data.index(b" ID ") + 200
    data[at] ^= 0xFF
    stream.write(bytes(data))


@forgery
def symbol_moved(pdf):
    stream = forged_page(pdf).Contents[1]
    stream.write(re.sub(rb"\nq\n(\S+) 0 0 (\S+) ", rb"\nq\n1.000 0 0 \2 ", stream.read_bytes(), count=1))


@forgery
def code_of_another_key(pdf):
    stream = forged_page(pdf).Contents[1]
    data = stream.read_bytes()
    code = re.search(rb"/P/([A-Z2-7]+)\n", data).group(1)
    stream.write(data.replace(code, code[:-20] + b"A" * 20))


@forgery
def account_of_the_file_changed(pdf):
    stream = forged_page(pdf).Contents[1]
    data = stream.read_bytes()
    said = re.search(rb"%document (\S+) ", data).group(1)
    stream.write(data.replace(said, b"0" * len(said)))


@forgery
def a_link_signed_by_hand(pdf):
    stream = forged_page(pdf).Contents[1]
    stream.write(stream.read_bytes().replace(b"\nq\n", b"\n%link 0 0 600 800 1\nq\n", 1))


# Fonts.


@forgery
def font_program_exchanged(pdf):
    fonts = sorted(forged_page(pdf).Resources.Font.keys())
    one, other = (forged_page(pdf).Resources.Font[name].DescendantFonts[0].FontDescriptor for name in fonts[:2])
    one.FontFile2, other.FontFile2 = other.FontFile2, one.FontFile2


@forgery
def fonts_exchanged(pdf):
    fonts = forged_page(pdf).Resources.Font
    fonts.LR, fonts.LB = fonts.LB, fonts.LR


@forgery
def font_program_changed(pdf):
    program = own_font(forged_page(pdf)).DescendantFonts[0].FontDescriptor.FontFile2
    data = bytearray(program.read_bytes())
    data[-100] ^= 1
    program.write(bytes(data))


@forgery
def font_program_taken_away(pdf):
    del own_font(forged_page(pdf)).DescendantFonts[0].FontDescriptor["/FontFile2"]


@forgery
def glyphs_mapped_otherwise(pdf):
    font = own_font(forged_page(pdf)).DescendantFonts[0]
    font.CIDToGIDMap = pdf.make_stream(b"".join((number ^ 1).to_bytes(2, "big") for number in range(256)))


@forgery
def encoding_changed(pdf):
    own_font(forged_page(pdf)).Encoding = Name("/Identity-V")


@forgery
def text_map_changed(pdf):
    font = own_font(forged_page(pdf))
    font.ToUnicode.write(font.ToUnicode.read_bytes().replace(b"<0031>", b"<0037>").replace(b"<0032>", b"<0038>") + b" ")


@forgery
def text_map_taken_away(pdf):
    del own_font(forged_page(pdf))["/ToUnicode"]


@forgery
def widths_changed(pdf):
    own_font(forged_page(pdf)).DescendantFonts[0].W[1][3] = 2000


@forgery
def default_width_changed(pdf):
    own_font(forged_page(pdf)).DescendantFonts[0].DW = 1


@forgery
def look_replaced_by_type_3(pdf):
    forged_page(pdf).Resources.Font.LR = Dictionary(
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
    forged_page(pdf).Resources.ExtGState = Dictionary(G=Dictionary(Type=Name.ExtGState, LW=10))


@forgery
def picture_among_resources(pdf):
    forged_page(pdf).Resources.XObject = Dictionary(
        X=Stream(pdf, b"\x00", Type=Name.XObject, Subtype=Name.Image, Width=1, Height=1, ColorSpace=Name.DeviceGray, BitsPerComponent=8)
    )


@forgery
def colour_space_changed(pdf):
    forged_page(pdf).Resources.ColorSpace = Dictionary(DefaultGray=Array([Name.CalGray, Dictionary(WhitePoint=[1, 1, 1], Gamma=9)]))


@forgery
def resources_inherited_instead(pdf):
    page = forged_page(pdf)
    pdf.Root.Pages.Resources = Dictionary(Font=Dictionary(LR=page.Resources.Font.LB, LB=page.Resources.Font.LR))
    del page["/Resources"]


# Boxes, turn, unit.


@forgery
def media_box_larger(pdf):
    page = forged_page(pdf)
    page.MediaBox = Array([0, 0, 700, 990])
    page.CropBox = page.MediaBox


@forgery
def media_box_moved(pdf):
    forged_page(pdf).MediaBox = Array([-20, -20, 595, 842])


@forgery
def crop_box_smaller(pdf):
    forged_page(pdf).CropBox = Array([50, 50, 300, 300])


@forgery
def crop_box_inherited(pdf):
    del forged_page(pdf)["/CropBox"]
    pdf.Root.Pages.CropBox = Array([50, 50, 300, 300])


@forgery
def trim_box_smaller(pdf):
    forged_page(pdf).TrimBox = Array([50, 50, 300, 300])


@forgery
def bleed_box_added(pdf):
    forged_page(pdf).BleedBox = Array([50, 50, 300, 300])


@forgery
def art_box_added(pdf):
    forged_page(pdf).ArtBox = Array([50, 50, 300, 300])


@forgery
def turned(pdf):
    forged_page(pdf).Rotate = 90


@forgery
def turned_from_above(pdf):
    pdf.Root.Pages.Rotate = 180


@forgery
def user_unit(pdf):
    forged_page(pdf).UserUnit = 1.05
