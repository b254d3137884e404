"""Holds a PDF against what ISO 19005-2:2011 (PDF/A-2) asks of level B, clause by clause, and prints every fault as JSON.

Read with qpdf (through pikepdf), fontTools and Little CMS (through Pillow), which share nothing with the writer, and with a few lines
over the bytes themselves where a reader would be too forgiving. Written from the clauses as they are commonly cited; the ones marked
"from memory" were not looked up in the standard's own text. What packs never hold (forms, signatures, transparency, files within the
file) is refused as a whole, which is stricter than the standard. No validator is asked: this is not one.
"""

import io
import json
import re
import sys
import xml.etree.ElementTree as ElementTree

import pikepdf
from fontTools.ttLib import TTFont
from PIL import ImageCms

FAULTS = []

# ISO 32000-1, Annex A: all operators of content streams, those of PostScript XObjects left out.
OPERATORS = set(
    "b B b* B* BDC BI BMC BT BX c cm CS cs d d0 d1 Do DP EI EMC ET EX f F f* G g gs h i ID j J K k l m M MP n q Q re RG rg ri s S "
    "sc SC scn SCN sh T* Tc Td TD Tf Tj TJ TL Tm Tr Ts Tw Tz v w W W* y ' \"".split()
) | {"INLINE IMAGE"}
# Those that set a colour other than grey.
OTHER_COLOURS = set("RG rg K k CS cs SC sc SCN scn sh".split())
# ISO 19005-2, 6.5.1.
ACTIONS = {"/GoTo", "/GoToR", "/GoToE", "/Thread", "/URI", "/Named", "/SubmitForm"}
RDF = "{http://www.w3.org/1999/02/22-rdf-syntax-ns#}"
DC = "{http://purl.org/dc/elements/1.1/}"
XMP = "{http://ns.adobe.com/xap/1.0/}"
PDF = "{http://ns.adobe.com/pdf/1.3/}"
PDFAID = "{http://www.aiim.org/pdfa/ns/id/}"
# Properties of the predefined schemas that packs use (ISO 16684-1), with the form of their values.
PROPERTIES = {
    DC + "title": "Alt",
    DC + "description": "Alt",
    DC + "creator": "Seq",
    XMP + "CreateDate": None,
    XMP + "ModifyDate": None,
    XMP + "CreatorTool": None,
    PDF + "Producer": None,
    PDFAID + "part": None,
    PDFAID + "conformance": None,
}


def ask(clause, holds, fault):
    if not holds:
        FAULTS.append({"clause": clause, "fault": fault})


def header_and_trailer(data):
    ask("6.1.2", re.match(rb"%PDF-1\.[0-7](\r\n|\r|\n)%[\x80-\xff]{4,}", data), "header, or its line of four high bytes")
    ask("6.1.3", re.search(rb"%%EOF(\r\n|\r|\n)?\Z", data), "something follows the last end-of-file mark")
    trailers = re.findall(rb"trailer\s*<<(.*?)>>\s*startxref", data, re.S)
    ask("6.1.3", len(trailers) == 1, "one trailer is expected")
    trailer = trailers[-1] if trailers else b""
    ask("6.1.3", re.search(rb"/ID\s*\[\s*<[0-9A-Fa-f]{32,}>\s*<[0-9A-Fa-f]{32,}>", trailer), "no identifiers in the trailer")
    ask("6.1.3", b"/Encrypt" not in trailer, "encrypted")
    ask("6.1.4", re.search(rb"\nxref(\r\n|\r|\n)\d+ \d+\s", data), "xref and its first subsection are not one line end apart")


def tokens(text):
    """Names, numbers and strings of an object's text, without comments and structure."""
    pattern = rb"\((?:[^()\\]|\\.|\((?:[^()\\]|\\.)*\))*\)|<<|>>|<[^<>]*>|/[^\s()<>\[\]{}/%]*|%[^\r\n]*|[+-]?\d*\.?\d+|[A-Za-z]+"
    return [found.group() for found in re.finditer(pattern, text, re.S)]


def objects(data):
    """Every indirect object by the cross-reference table: its text, and its stream's bytes or None."""
    start = int(re.search(rb"startxref\s+(\d+)", data).group(1))
    table = data[start:]
    entries = re.findall(rb"(\d{10}) (\d{5}) n", table[: table.index(b"trailer")])
    ask("6.1.13", len(entries) <= 8388607, "too many objects")
    for offset, _ in entries:
        at = int(offset)
        end = data.index(b"endobj", at)
        head = re.compile(rb"\d+ \d+ obj(\r\n|\r|\n)").match(data, at)
        ask("6.1.9", head, f"object at {at}: spacing of its head")
        ask("6.1.9", at == 0 or data[at - 1 : at] in b"\r\n", f"object at {at}: no line end before it")
        stream = re.compile(rb"stream(\r\n|\n)").search(data, at, end)
        body = None
        if stream:
            text = data[at : stream.start()]
            length = re.search(rb"/Length (\d+)", text)
            ask("6.1.7.1", length, f"object at {at}: no length")
            size = int(length.group(1))
            body = data[stream.end() : stream.end() + size]
            end = data.index(b"endobj", stream.end() + size)
            tail = data[stream.end() + size : end]
            ask("6.1.7.1", re.fullmatch(rb"(\r\n|\r|\n)endstream\s*", tail), f"object at {at}: length, or the line end before endstream")
            ask("6.1.7.1", not re.search(rb"/(F|FFilter|FDecodeParms)[\s/<\[(]", text), f"object at {at}: its stream lies outside")
            ask("6.1.7.2", b"LZW" not in text and b"/Crypt" not in text, f"object at {at}: filter")
        else:
            text = data[at:end]
        ask("6.1.9", data[end - 1 : end] in (b"\r", b"\n"), f"object at {at}: no line end before endobj")
        ask("6.1.9", data[end + 6 : end + 7] in (b"\r", b"\n"), f"object at {at}: no line end after endobj")
        yield at, text, body


def limits(at, text):
    for token in tokens(text):
        if token.startswith(b"/"):
            name = re.sub(rb"#([0-9A-Fa-f]{2})", lambda code: bytes([int(code.group(1), 16)]), token[1:])
            ask("6.1.13", len(name) <= 127, f"object at {at}: a name is too long")
            try:
                name.decode()
            except UnicodeDecodeError:
                ask("6.1.8", False, f"object at {at}: a name is not UTF-8")
        elif token.startswith(b"<") and token not in (b"<<", b">>"):
            digits = re.sub(rb"\s", b"", token[1:-1])
            ask("6.1.6", len(digits) % 2 == 0 and re.fullmatch(rb"[0-9A-Fa-f]*", digits), f"object at {at}: hexadecimal string")
            ask("6.1.13", len(digits) <= 2 * 32767, f"object at {at}: a string is too long")
        elif token.startswith(b"("):
            ask("6.1.13", len(token) <= 32767, f"object at {at}: a string is too long")
        elif re.fullmatch(rb"[+-]?\d*\.?\d+", token):
            number(token.decode(), f"object at {at}")


def number(token, where):
    value = float(token)
    if "." in token:
        ask("6.1.13", abs(value) <= 3.403e38 and (value == 0 or abs(value) >= 1.175e-38), f"{where}: real {token}")
    else:
        ask("6.1.13", -(2**31) <= value <= 2**31 - 1, f"{where}: integer {token}")


def content(page, where, used):
    """Operators, nesting, colours and which glyphs are shown, of a page's content."""
    ask("6.2.2", "/Resources" in page, f"{where}: resources are inherited")
    fonts = page.get("/Resources", {}).get("/Font", {})
    depth, font = 0, None
    for operands, operator in pikepdf.parse_content_stream(page):
        name = str(operator)
        ask("6.2.2", name in OPERATORS, f"{where}: operator {name}")
        ask("6.2.4.3", name not in OTHER_COLOURS, f"{where}: {name} sets a colour that the output intent says nothing of")
        if name == "q":
            depth += 1
            ask("6.1.13", depth <= 28, f"{where}: q nested {depth} deep")
        elif name == "Q":
            depth -= 1
            ask("6.2.2", depth >= 0, f"{where}: Q without q")
        elif name == "ri":
            intents = {"/RelativeColorimetric", "/AbsoluteColorimetric", "/Perceptual", "/Saturation"}
            ask("6.2.6", str(operands[0]) in intents, f"{where}: rendering intent")
        elif name == "Tf":
            font = str(operands[0])
            ask("6.2.11.4.1", font in fonts, f"{where}: font {font} is not among its resources")
        elif name in ("Tj", "TJ"):
            texts = operands[0] if name == "TJ" else [operands[0]]
            for text in texts:
                if isinstance(text, pikepdf.String):
                    codes = bytes(text)
                    used.setdefault(fonts[font].objgen, set()).update(
                        int.from_bytes(codes[place : place + 2], "big") for place in range(0, len(codes), 2)
                    )
        elif name == "INLINE IMAGE":
            image = operands[0]
            ask("6.2.8.1", not image.obj.get("/Interpolate", image.obj.get("/I", False)), f"{where}: an image is interpolated")
            ask("6.2.4.3", image.image_mask, f"{where}: an inline image that is no mask")
            ask("6.1.10", "LZW" not in str(image.obj.get("/Filter", image.obj.get("/F", ""))), f"{where}: filter of an image")
        for operand in operands if name != "INLINE IMAGE" else []:
            if isinstance(operand, (int, float)) or type(operand).__name__ == "Decimal":
                number(str(operand), where)
    ask("6.2.2", depth == 0, f"{where}: {depth} q without Q")


def font(reference, codes):
    """A font of a page: composite, embedded, and its program says what the PDF says."""
    where = str(reference.get("/BaseFont"))
    ask("6.2.11.2", reference.Subtype == "/Type0", f"{where}: a composite font is expected")
    encoding = str(reference.Encoding)
    ask("6.2.11.3.3", encoding in ("/Identity-H", "/Identity-V"), f"{where}: encoding {encoding}")
    down = reference.DescendantFonts[0]
    ask("6.2.11.3.1", "/CIDSystemInfo" in down, f"{where}: no character collection")
    ask("6.2.11.2", down.BaseFont == reference.BaseFont, f"{where}: two names")
    map_ = down.get("/CIDToGIDMap")
    ask("6.2.11.3.2", map_ is not None and (isinstance(map_, pikepdf.Stream) or map_ == "/Identity"), f"{where}: CIDToGIDMap")
    program = down.FontDescriptor.get("/FontFile2")
    ask("6.2.11.4.1", program is not None, f"{where}: not embedded")
    if program is None:
        return
    face = TTFont(io.BytesIO(program.read_bytes()))
    glyphs = face.getGlyphOrder()
    advances, scale = face["hmtx"].metrics, 1000.0 / face["head"].unitsPerEm
    widths, row = {}, list(down.get("/W", []))
    while row:
        first, second = int(row.pop(0)), row.pop(0)
        if isinstance(second, pikepdf.Array):
            widths.update({first + step: float(width) for step, width in enumerate(second)})
        else:
            width = float(row.pop(0))
            widths.update({code: width for code in range(first, int(second) + 1)})
    default = float(down.get("/DW", 1000))
    table = map_.read_bytes() if isinstance(map_, pikepdf.Stream) else None
    said = to_unicode(reference)
    for code in sorted(codes):
        glyph = code if table is None else int.from_bytes(table[2 * code : 2 * code + 2], "big")
        ask("6.2.11.4.1", glyph < len(glyphs), f"{where}: glyph of {code} is not in the program")
        ask("6.2.11.8", glyph != 0, f"{where}: {code} shows .notdef")
        if glyph < len(glyphs):
            true = advances[glyphs[glyph]][0] * scale
            ask("6.2.11.5", abs(widths.get(code, default) - true) <= 1.0, f"{where}: width of {code}, {widths.get(code, default)} for {true:.2f}")
        ask("6.2.11.7.2", said.get(code, 0) not in (0, 0xFEFF, 0xFFFE), f"{where}: no character for {code}")
    if "/CIDSet" in down.FontDescriptor:
        bits = down.FontDescriptor.CIDSet.read_bytes()
        listed = {place for place in range(8 * len(bits)) if bits[place // 8] & 0x80 >> place % 8}
        # Every CID of the program; composites may bring glyphs along (from memory of 6.2.11.4.2).
        ask("6.2.11.4.2", set(codes) <= listed, f"{where}: CIDSet is not complete")


def to_unicode(reference):
    """Code to character, of bfchar and bfrange lines."""
    if "/ToUnicode" not in reference:
        return {}
    text, said = reference.ToUnicode.read_bytes().decode("latin-1"), {}
    for block in re.findall(r"beginbfchar(.*?)endbfchar", text, re.S):
        for code, character in re.findall(r"<([0-9A-Fa-f]+)>\s*<([0-9A-Fa-f]+)>", block):
            said[int(code, 16)] = int(character[:4], 16)
    for block in re.findall(r"beginbfrange(.*?)endbfrange", text, re.S):
        for low, high, character in re.findall(r"<([0-9A-Fa-f]+)>\s*<([0-9A-Fa-f]+)>\s*<([0-9A-Fa-f]+)>", block):
            for code in range(int(low, 16), int(high, 16) + 1):
                said[code] = int(character[:4], 16) + code - int(low, 16)
    return said


def output_intent(catalog):
    intents = [intent for intent in catalog.get("/OutputIntents", []) if intent.get("/S") == "/GTS_PDFA1"]
    ask("6.2.3", len(intents) == 1, "one output intent GTS_PDFA1 is expected")
    if not intents:
        return
    ask("6.2.3", "/OutputConditionIdentifier" in intents[0], "the output intent has no identifier")
    ask("6.2.3", "/DestOutputProfile" in intents[0], "the output intent has no profile")
    stream = intents[0].DestOutputProfile
    profile = stream.read_bytes()
    ask("6.2.3", len(profile) == int.from_bytes(profile[:4], "big") and profile[36:40] == b"acsp", "profile: size or signature")
    ask("6.2.3", profile[8] in (2, 4) and profile[12:16] in (b"prtr", b"mntr"), "profile: version or class")
    channels = {b"GRAY": 1, b"RGB ": 3, b"CMYK": 4}.get(profile[16:20])
    ask("6.2.3", channels == int(stream.N), "profile: number of channels")
    # ICC.1:2010, 7.2.16: the illuminant of the connection space; 8.3.4 and 8.2: what a grey profile must hold.
    ask("6.2.3", profile[68:80] == bytes.fromhex("0000f6d6000100000000d32d"), "profile: illuminant is not D50")
    tags = {profile[132 + 12 * place : 136 + 12 * place] for place in range(int.from_bytes(profile[128:132], "big"))}
    ask("6.2.3", {b"desc", b"cprt", b"wtpt", b"kTRC"} <= tags, f"profile: tags {tags}")
    try:
        read = ImageCms.ImageCmsProfile(io.BytesIO(profile))
        ImageCms.buildTransform(read, ImageCms.createProfile("sRGB"), "L", "RGB")
    except (ImageCms.PyCMSError, OSError) as error:
        ask("6.2.3", False, f"profile: cannot be used: {error}")


def metadata(pdf):
    ask("6.6.2.1", "/Metadata" in pdf.Root, "no metadata")
    if "/Metadata" not in pdf.Root:
        return
    stream = pdf.Root.Metadata
    ask("6.6.2.1", stream.get("/Type") == "/Metadata" and stream.get("/Subtype") == "/XML", "metadata: type")
    text = stream.read_bytes().decode("utf-8")
    head = re.match(r"<\?xpacket (.*?)\?>", text)
    ask("6.6.2.1", head and "bytes=" not in head.group(1) and "encoding=" not in head.group(1), "head of the packet")
    ask("6.6.2.1", re.search(r"<\?xpacket end=[\"'][rw][\"']\?>\s*\Z", text), "end of the packet")
    tree = ElementTree.fromstring(re.sub(r"<\?xpacket.*?\?>", "", text).replace("\ufeff", ""))
    properties = {}
    for description in tree.iter(RDF + "Description"):
        for element in description:
            ask("6.6.2.3.1", element.tag in PROPERTIES, f"property {element.tag} is in no schema")
            form = PROPERTIES.get(element.tag)
            if form:
                items = element.find(RDF + form)
                ask("6.6.2.3.1", items is not None, f"{element.tag} is no {form}")
                properties[element.tag] = [item.text or "" for item in items] if items is not None else []
            else:
                properties[element.tag] = [element.text or ""]
    ask("6.6.4", properties.get(PDFAID + "part") == ["2"], "part is not 2")
    ask("6.6.4", properties.get(PDFAID + "conformance") == ["B"], "conformance is not B")
    info = pdf.trailer.get("/Info", {})
    for key, tag in [
        ("/Title", DC + "title"),
        ("/Author", DC + "creator"),
        ("/Subject", DC + "description"),
        ("/Creator", XMP + "CreatorTool"),
        ("/Producer", PDF + "Producer"),
    ]:
        if key in info:
            ask("6.6.3", properties.get(tag) == [str(info[key])], f"{key} is {info[key]!s} and {properties.get(tag)}")
    for key, tag in [("/CreationDate", XMP + "CreateDate"), ("/ModDate", XMP + "ModifyDate")]:
        if key in info:
            said = re.sub(r"[-:TZ]", "", (properties.get(tag) or [""])[0])
            ask("6.6.3", str(info[key]) == f"D:{said}Z", f"{key} is {info[key]!s} and {said}")


def annotations(page, where):
    for annotation in page.get("/Annots", []):
        kind = str(annotation.get("/Subtype"))
        # The standard allows most kinds with an appearance; packs have links only, which need none.
        ask("6.3.1", kind == "/Link", f"{where}: annotation {kind}")
        flags = int(annotation.get("/F", 0))
        # Bits 1 Invisible, 2 Hidden, 3 Print, 6 NoView, 9 ToggleNoView (ISO 32000-1, 12.5.3).
        ask("6.3.2", flags & 4 and not flags & (1 | 2 | 32 | 256), f"{where}: flags {flags}")
        action = annotation.get("/A")
        ask("6.5.1", action is None or str(action.get("/S")) in ACTIONS, f"{where}: action")
        ask("6.5.2", "/AA" not in annotation, f"{where}: additional actions")
    ask("6.5.2", "/AA" not in page, f"{where}: additional actions")
    ask("6.10", "/PresSteps" not in page, f"{where}: transitions")
    for box in ("/MediaBox", "/CropBox", "/TrimBox"):
        if box in page:
            left, low, right, high = (float(side) for side in page[box])
            ask("6.1.13", all(3 <= side <= 14400 for side in (right - left, high - low)), f"{where}: {box}")


def refused_as_a_whole(pdf):
    root = pdf.Root
    names = root.get("/Names", {})
    for clause, holder, key in [
        ("6.1.12", root, "/Perms"),
        ("6.4.1", root, "/AcroForm"),
        ("6.5.2", root, "/AA"),
        ("6.5.1", names, "/JavaScript"),
        ("6.8", names, "/EmbeddedFiles"),
        ("6.9", root, "/OCProperties"),
        ("6.10", names, "/AlternatePresentations"),
        ("6.11", root, "/Requirements"),
    ]:
        ask(clause, key not in holder, f"{key} is there")
    action = root.get("/OpenAction")
    ask("6.5.1", not isinstance(action, pikepdf.Dictionary) or str(action.get("/S")) in ACTIONS, "open action")
    for each in pdf.objects:
        if not isinstance(each, (pikepdf.Dictionary, pikepdf.Stream)):
            continue
        kind, subtype = str(each.get("/Type", "")), str(each.get("/Subtype", ""))
        ask("6.2.5", kind != "/ExtGState", "an extended graphics state: transparency, transfer functions, halftones")
        ask("6.2.9", subtype not in ("/Form", "/PS"), "a form or PostScript object")
        ask("6.8", kind != "/Filespec" and kind != "/EmbeddedFile", "a file within the file")
        if subtype == "/Image":
            ask("6.2.8.1", not any(key in each for key in ("/Alternates", "/OPI")), "an image with alternates")
            ask("6.2.4.3", each.get("/ColorSpace", "/DeviceGray") == "/DeviceGray", "an image in colour")
        if "/Group" in each:
            ask("6.2.10", False, "a transparency group")


data = open(sys.argv[1], "rb").read()
header_and_trailer(data)
for at, text, _ in objects(data):
    limits(at, text)
with pikepdf.open(sys.argv[1]) as pdf:
    for problem in pdf.check_pdf_syntax() if hasattr(pdf, "check_pdf_syntax") else pdf.check():
        ask("ISO 32000-1", False, f"qpdf: {problem}")
    refused_as_a_whole(pdf)
    output_intent(pdf.Root)
    metadata(pdf)
    used, fonts = {}, {}
    for place, page in enumerate(pdf.pages):
        content(page.obj, f"page {place + 1}", used)
        annotations(page.obj, f"page {place + 1}")
        for each in page.obj.get("/Resources", {}).get("/Font", {}).values():
            fonts[each.objgen] = each
    for place, each in fonts.items():
        font(each, used.get(place, set()))
json.dump(FAULTS, sys.stdout)
