"""Forgeries of what lies over a page, of what it does, and of the file as a whole."""

import pikepdf
from common import OTHER, forged_page, forgery, forgery_in_doubt
from pikepdf import Array, Dictionary, Name, Stream, String

# What lies over a page and what it does.


@forgery
def a_stamp(pdf):
    look = Stream(pdf, b"1 g 0 0 200 200 re f", Type=Name.XObject, Subtype=Name.Form, BBox=[0, 0, 200, 200])
    stamp = Dictionary(Type=Name.Annot, Subtype=Name.Stamp, Rect=[100, 100, 300, 300], F=4, AP=Dictionary(N=look))
    forged_page(pdf).Annots = Array([pdf.make_indirect(stamp)])


@forgery
def a_text_on_top(pdf):
    note = Dictionary(Type=Name.Annot, Subtype=Name.FreeText, Rect=[100, 100, 300, 300], F=4, Contents="625", DA="/Helv 9 Tf")
    forged_page(pdf).Annots = Array([pdf.make_indirect(note)])


@forgery
def a_link_elsewhere(pdf):
    link = Dictionary(Type=Name.Annot, Subtype=Name.Link, Rect=[0, 0, 600, 800], Border=[0, 0, 0], F=4)
    link.A = Dictionary(S=Name.URI, URI="https://elsewhere.example/")
    forged_page(pdf).Annots = Array([pdf.make_indirect(link)])


@forgery
def a_link_that_was_not_signed(pdf):
    link = Dictionary(Type=Name.Annot, Subtype=Name.Link, Rect=[0, 0, 600, 800], Border=[0, 0, 0], F=4)
    link.Dest = Array([pdf.pages[0].obj, Name.Fit])
    forged_page(pdf).Annots = Array([pdf.make_indirect(link)])


@forgery
def a_frame_of_a_link(pdf):
    link = Dictionary(Type=Name.Annot, Subtype=Name.Link, Rect=[100, 100, 300, 300], Border=[0, 0, 9], F=4)
    forged_page(pdf).Annots = Array([pdf.make_indirect(link)])


@forgery
def a_form_field(pdf):
    field = Dictionary(Type=Name.Annot, Subtype=Name.Widget, FT=Name.Tx, T="length", V="812", Rect=[50, 50, 200, 80], F=4)
    field = pdf.make_indirect(field)
    forged_page(pdf).Annots = Array([field])
    pdf.Root.AcroForm = Dictionary(Fields=[field], NeedAppearances=True)


@forgery
def a_form_without_fields(pdf):
    pdf.Root.AcroForm = Dictionary(Fields=[])


@forgery
def a_deed_of_the_page(pdf):
    forged_page(pdf).AA = Dictionary(O=Dictionary(S=Name.JavaScript, JS="app.alert('x')"))


@forgery
def a_thumbnail(pdf):
    forged_page(pdf).Thumb = Stream(pdf, b"\x00", Width=1, Height=1, ColorSpace=Name.DeviceGray, BitsPerComponent=8)


@forgery
def a_transparency_group(pdf):
    forged_page(pdf).Group = Dictionary(S=Name.Transparency, CS=Name.DeviceRGB)


@forgery
def a_scale_for_measuring(pdf):
    measure = Dictionary(Type=Name.Measure, R="1 in = 2 in", X=[Dictionary(U="mm", C=0.5)], D=[], A=[])
    forged_page(pdf).VP = Array([Dictionary(Type=Name.Viewport, BBox=[0, 0, 600, 900], Measure=measure)])


@forgery
def shown_for_a_second(pdf):
    forged_page(pdf).Dur = 1


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
def title_in_the_metadata(pdf):
    data = pdf.Root.Metadata.read_bytes()
    pdf.Root.Metadata.write(data.replace(b"Bench frame", b"Other frame"))


@forgery
def metadata_says_more(pdf):
    data = pdf.Root.Metadata.read_bytes()
    pdf.Root.Metadata.write(data.replace(b"</rdf:Description>", b"<dc:rights>Approved</dc:rights></rdf:Description>"))


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


@forgery_in_doubt
def a_page_of_another_file(pdf):
    """It is as signed, but was not issued with the others."""
    with pikepdf.open(OTHER) as other:
        pdf.pages.append(other.pages[0])


@forgery_in_doubt
def the_tree_says_something_else(pdf):
    pdf.Root.Pages.Something = Dictionary(A=1)
