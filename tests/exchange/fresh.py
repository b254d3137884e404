"""Draws frames by chance into files and writes beside each what is true of it, as the public cases do.

python fresh.py FOLDER SEED      makes a folder per case: files, and expected.json for check.py

Drawings are written by ezdxf 1.4.5, workbooks by openpyxl 3.1.5, solids by a general-purpose solid-modelling kernel (the package
cadquery-ocp-novtk), tables by Python's csv. What a block becomes where it is inserted is computed by ezdxf as well.
"""

import csv
import io
import json
import math
import random
import sys
from pathlib import Path

import ezdxf
import openpyxl
from ezdxf import math as em
from ezdxf.math import Matrix44, OCS, Vec3

SIZES = {"HOOP": (44.5, 2.6), "RAIL": (38.0, 2.0), "BRACE": (30.0, 2.0), "WEB": (25.0, 1.5)}
MM = {1: 25.4, 2: 304.8, 4: 1.0, 5: 10.0, 6: 1000.0, 10: 914.4}


class Tube:
    """A tube by its corners in design axes, mm."""

    def __init__(self, name, section, points, radius=0.0):
        self.name, self.section, self.points, self.radius = name, section, [Vec3(p) for p in points], radius

    def moved(self, matrix, name, scale=1.0):
        return Tube(name, self.section, list(matrix.transform_vertices(self.points)), self.radius * scale)

    def pieces(self):
        """Lines as (a, b), arcs as (a, b, centre, normal, middle)."""
        start, pieces = self.points[0], []
        for before, corner, after in zip(self.points, self.points[1:], self.points[2:]):
            u, v = (before - corner).normalize(), (after - corner).normalize()
            turn = math.pi - u.angle_between(v)
            a, b = (corner + w * (self.radius * math.tan(turn / 2)) for w in (u, v))
            inward = (u + v).normalize()
            centre = corner + inward * (self.radius / math.cos(turn / 2))
            pieces += [(start, a), (a, b, centre, (-u).cross(v).normalize(), centre - inward * self.radius)]
            start = b
        return pieces + [(start, self.points[-1])]

    def truth(self):
        bends = []
        for before, corner, after in zip(self.points, self.points[1:], self.points[2:]):
            turn = 180 - math.degrees((before - corner).angle_between(after - corner))
            bends.append({"corner": list(corner.xyz), "radius": self.radius, "angle": turn})
        od, wall = SIZES[self.section]
        ends = [list(self.points[0].xyz), list(self.points[-1].xyz)]
        return {"id": self.name, "section": self.section, "od": od, "wall": wall, "ends": ends, "bends": bends, "partner": None}

    def is_image_of(self, other):
        image = [Vec3(p.x, -p.y, p.z) for p in other.points]
        same = lambda one: len(one) == len(self.points) and all(a.distance(b) < 1e-6 for a, b in zip(one, self.points))
        return self.section == other.section and (same(image) or same(image[::-1]))


def straight_or_bent(rng, name, bent, within=700.0):
    """A tube by chance, none of whose bends overlap."""
    section = rng.choice(list(SIZES))
    radius = round(3 * SIZES[section][0], 1)
    point = Vec3(*(rng.uniform(-within, within) for _ in range(3)))
    way = Vec3(*(rng.gauss(0, 1) for _ in range(3))).normalize()
    turns = [math.radians(rng.uniform(15, 115)) for _ in range(rng.randint(1, 4) if bent else 0)]
    takes = [0.0, *(radius * math.tan(turn / 2) for turn in turns), 0.0]
    points = [point]
    for index in range(len(turns) + 1):
        point = point + way * (takes[index] + takes[index + 1] + rng.uniform(60, 500))
        points.append(point)
        if index < len(turns):
            axis = way.cross(Vec3(*(rng.gauss(0, 1) for _ in range(3)))).normalize()
            way = Matrix44.axis_rotate(axis, turns[index]).transform_direction(way).normalize()
    return Tube(name, section, points, radius)


def frame(rng, count=14):
    """Pairs, tubes that have no other hand, and tubes across the middle."""
    tubes = []
    for number in range(count):
        tube = straight_or_bent(rng, f"t{number}", number % 2 == 1)
        tubes.append(tube)
        if number % 3 == 0:
            tubes.append(Tube(f"t{number}.m", tube.section, [Vec3(p.x, -p.y, p.z) for p in tube.points], tube.radius))
    tubes.append(Tube("cross", "WEB", [(111.0, -420.5, 30.0), (111.0, 420.5, 30.0)]))
    return tubes


def put(folder, name, files, tubes, ask, about, point=0.01, radius=0.01, **more):
    case = folder / name
    case.mkdir()
    for file, content in files.items():
        (case / file).write_bytes(content)
    truth = [tube.truth() for tube in tubes]
    for one, tube in zip(truth, tubes):
        for other in tubes:
            if other.is_image_of(tube):
                one["partner"] = "self" if other is tube else other.name
    sections = {name: {"od": od, "wall": wall} for name, (od, wall) in SIZES.items()}
    expected = {"format": "exchange-truth/1", "about": about, "files": list(files), "outcome": "tubes", "must_say": [], "tubes": truth,
                "ask": {"sections": sections, **ask}, "tolerance": {"point": point, "radius": radius, "size": 0.001}, **more}
    (case / "expected.json").write_text(json.dumps(expected))


# DXF

def saved(doc, binary=False):
    if binary:
        stream = io.BytesIO()
        doc.write(stream, fmt="bin")
        return stream.getvalue()
    stream = io.StringIO()
    doc.write(stream)
    return doc.encode(stream.getvalue())


def draw_arc(space, piece, layer):
    """As an entity in its own plane, its normal either way."""
    a, b, centre, normal, _ = piece
    ocs = OCS(normal)
    angle = lambda p: (ocs.from_wcs(p) - ocs.from_wcs(centre)).angle_deg
    space.add_arc(ocs.from_wcs(centre), centre.distance(a), angle(a), angle(b), dxfattribs={"layer": layer, "extrusion": normal})


def draw_ellipse(space, piece, layer):
    a, b, centre, normal, _ = piece
    sweep = (a - centre).angle_between(b - centre)
    space.add_ellipse(centre, a - centre, 1.0, 0.0, sweep, dxfattribs={"layer": layer, "extrusion": normal})


def draw_spline(space, piece, layer):
    a, b, centre, normal, _ = piece
    ocs, radius = OCS(normal), centre.distance(a)
    angle = lambda p: (ocs.from_wcs(p) - ocs.from_wcs(centre)).angle_deg
    flat = em.rational_bspline_from_arc(ocs.from_wcs(centre), radius, angle(a), angle(b))
    spline = space.add_spline(dxfattribs={"layer": layer})
    spline.apply_construction_tool(em.BSpline([ocs.to_wcs(p) for p in flat.control_points], flat.order, flat.knots(), flat.weights()))


def draw(space, tubes, rng, arcs=draw_arc, mm=1.0):
    """Lines and arcs in any order and direction."""
    pieces = [(piece, tube.section) for tube in tubes for piece in tube.pieces()]
    rng.shuffle(pieces)
    for piece, layer in pieces:
        piece = tuple(p / mm for p in piece[:3]) + piece[3:4] + tuple(p / mm for p in piece[4:])
        if len(piece) == 2:
            a, b = piece if rng.random() < 0.5 else piece[::-1]
            space.add_line(a, b, dxfattribs={"layer": layer})
        else:
            if rng.random() < 0.5:
                a, b, centre, normal, middle = piece
                piece = (b, a, centre, -normal, middle)
            arcs(space, piece, layer)


def new(version, insunits):
    doc = ezdxf.new(version, units=insunits if version != "R12" else 0)
    for layer in SIZES:
        doc.layers.add(layer)
    return doc


def drawings(folder, rng):
    for version, insunits, arcs, binary in [
        ("R12", 1, draw_arc, False), ("R2000", 6, draw_arc, True), ("R2004", 5, draw_ellipse, False),
        ("R2007", 2, draw_spline, False), ("R2010", 10, draw_arc, False), ("R2018", 4, draw_ellipse, True),
    ]:
        doc, tubes = new(version, insunits), frame(rng)
        draw(doc.modelspace(), tubes, rng, arcs, MM[insunits])
        ask = {"unit": "in"} if version == "R12" else {}
        put(folder, f"dxf_{version}_{insunits}", {"frame.dxf": saved(doc, binary)}, tubes, ask, "planes by chance", 0.02, 0.05)


def polylines(folder, rng):
    """Tubes bent in one plane as flat polylines with bulges, in planes by chance."""
    doc, tubes = new("R2010", 4), []
    for number in range(10):
        ocs = OCS(Vec3(*(rng.gauss(0, 1) for _ in range(3))).normalize())
        height, radius = rng.uniform(-300, 300), 114.0
        corner, heading = Vec3(rng.uniform(-400, 400), rng.uniform(-400, 400)), rng.uniform(0, 360)
        points = [corner]
        for turn in [0.0, *(rng.choice([-1, 1]) * rng.uniform(20, 85) for _ in range(3))]:
            heading += turn
            corner = corner + Vec3.from_deg_angle(heading, rng.uniform(260, 500))
            points.append(corner)
        flat = Tube("", "RAIL", points, radius)
        vertices = []
        for piece in flat.pieces():
            bulge = 0.0
            if len(piece) > 2:
                turn = (piece[0] - piece[2]).angle_between(piece[1] - piece[2])
                bulge = math.tan(turn / 4) * (1 if piece[3].z > 0 else -1)
            vertices.append((piece[0].x, piece[0].y, bulge))
        vertices.append((*points[-1].vec2, 0.0))
        doc.modelspace().add_lwpolyline(vertices, "xyb", dxfattribs={"layer": "RAIL", "extrusion": ocs.uz, "elevation": height})
        tubes.append(Tube(f"p{number}", "RAIL", [ocs.to_wcs(Vec3(p.x, p.y, height)) for p in points], radius))
    put(folder, "dxf_bulges", {"frame.dxf": saved(doc)}, tubes, {}, "bulges in tilted planes")


def blocks(folder, rng):
    """Blocks turned, mirrored, scaled, tilted, in rows, and in blocks; in inches."""
    for case in range(4):
        doc, tubes = new("R2010", 1), []
        inner, outer = doc.blocks.new("INNER", base_point=(3, -2, 1)), doc.blocks.new("OUTER", base_point=(-1, 4, 2))
        of_inner = [straight_or_bent(rng, f"i{n}", n % 2 == 0, 300) for n in range(4)]
        of_outer = [straight_or_bent(rng, f"o{n}", n % 2 == 0, 300) for n in range(3)]
        draw(inner, of_inner, rng, mm=25.4)
        draw(outer, of_outer, rng, mm=25.4)
        tilt = Vec3(*(rng.gauss(0, 1) for _ in range(3))).normalize()
        nested = outer.add_blockref("INNER", (5, 6, 7), dxfattribs={"rotation": rng.uniform(0, 360), "yscale": -1, "extrusion": tilt})
        inserts = []
        for number in range(2):
            scale = rng.choice([0.5, 1.0, 2.0])
            signs = [rng.choice([-1, 1]) for _ in range(3)]
            tilt = Vec3(*(rng.gauss(0, 1) for _ in range(3))).normalize()
            attributes = {"rotation": rng.uniform(0, 360), "extrusion": tilt,
                          "xscale": scale * signs[0], "yscale": scale * signs[1], "zscale": scale * signs[2]}
            place = [rng.uniform(-40, 40) for _ in range(3)]
            inserts.append((doc.modelspace().add_blockref("OUTER", place, dxfattribs=attributes), scale))
        mm = Matrix44.scale(25.4, 25.4, 25.4)
        back = Matrix44.scale(1 / 25.4, 1 / 25.4, 1 / 25.4)
        for number, (insert, scale) in enumerate(inserts):
            matrix = back @ insert.matrix44() @ mm
            tubes += [tube.moved(matrix, f"{tube.name}-{number}", scale) for tube in of_outer]
            matrix = back @ nested.matrix44() @ insert.matrix44() @ mm
            tubes += [tube.moved(matrix, f"{tube.name}-{number}", scale) for tube in of_inner]
        put(folder, f"dxf_blocks_{case}", {"frame.dxf": saved(doc)}, tubes, {}, "blocks in blocks")


# Tables

def number(value, comma):
    text = f"{value:.6f}".rstrip("0").rstrip(".")
    return text.replace(".", ",") if comma else text


def rows_of_tubes(tubes, rng, unit, sign):
    """A row a tube, columns in any order."""
    columns = ["name", "section", *(f"{axis}{end} [{sign}]" for end in (1, 2) for axis in "xyz"), "od [mm]", "wall [mm]"]
    rng.shuffle(columns)
    rows = []
    for tube in tubes:
        ends = [tube.points[0], tube.points[-1]]
        values = {"name": tube.name, "section": tube.section, "od [mm]": SIZES[tube.section][0], "wall [mm]": SIZES[tube.section][1]}
        for end in (1, 2):
            for axis in "xyz":
                values[f"{axis}{end} [{sign}]"] = getattr(ends[end - 1], axis) / unit
        rows.append([values[column] for column in columns])
    return columns, rows


def tables(folder, rng):
    for delimiter, comma, encoding, end, sign, unit in [
        (";", True, "utf-8-sig", "\r\n", "mm", 1.0), (",", False, "utf-8", "\n", "in", 25.4), ("\t", True, "utf-16", "\r\n", "m", 1000.0),
        (";", True, "cp1252", "\n", "cm", 10.0), ("|", False, "utf-8", "\r\n", "mm", 1.0),
    ]:
        tubes = [tube for tube in frame(rng) if len(tube.points) == 2]
        for index, tube in enumerate(tubes):
            tube.name = "Längsträger, vorn" if index < 2 else tube.name
        columns, rows = rows_of_tubes(tubes, rng, unit, sign)
        stream = io.StringIO()
        writer = csv.writer(stream, delimiter=delimiter, lineterminator=end)
        writer.writerow(columns)
        for row in rows:
            if rng.random() < 0.3:
                writer.writerow([] if rng.random() < 0.5 else [""] * len(columns))
            writer.writerow([number(cell, comma) if isinstance(cell, float) else cell for cell in row])
        name = f"csv_{encoding}_{sign}"
        for index, tube in enumerate(tubes):
            tube.name = f"{tube.name}#{index}"
        put(folder, name, {"tubes.csv": stream.getvalue().encode(encoding)}, tubes, {}, "one row a tube")


def points_and_members(folder, rng):
    """Points and members in two files or two sheets, bends by a list of points."""
    tubes = frame(rng)
    names, points, members = {}, [], []
    for tube in tubes:
        path = []
        for point in tube.points:
            key = tuple(round(c, 9) for c in point.xyz)
            if key not in names:
                names[key] = f"P{len(names) + 1}"
                points.append([names[key], *point.xyz])
            path.append(names[key])
        members.append([tube.name, tube.section, " ".join(path), tube.radius if len(path) > 2 else None, *SIZES[tube.section]])
    rng.shuffle(points)
    heads = ["Point", "X [mm]", "Y [mm]", "Z [mm]"], ["Member", "Section", "Path", "Radius [mm]", "OD [mm]", "Wall [mm]"]
    files = {}
    for file, head, rows in (("points.csv", heads[0], points), ("members.csv", heads[1], members)):
        stream = io.StringIO()
        csv.writer(stream).writerows([head, *rows])
        files[file] = stream.getvalue().encode()
    put(folder, "csv_points_and_members", files, tubes, {}, "a path of points")
    book = openpyxl.Workbook()
    sheet = book.active
    sheet.title = "Points"
    sheet.append(["Frame of a cart", None, None])
    sheet.append([])
    for row in [heads[0], *points]:
        sheet.append([None, *row])
    other = book.create_sheet("Members")
    for row in [heads[1], *members]:
        other.append(row)
    book.create_sheet("Notes").append(["Nothing here is a tube."])
    stream = io.BytesIO()
    book.save(stream)
    put(folder, "xlsx_points_and_members", {"frame.xlsx": stream.getvalue()}, tubes, {}, "two sheets, a title and an empty column")


# STEP

def solids(folder, rng):
    """Parts in sub-assemblies, each placed twice."""
    from OCP.BRep import BRep_Builder
    from OCP.BRepAlgoAPI import BRepAlgoAPI_Cut
    from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeEdge, BRepBuilderAPI_MakeFace, BRepBuilderAPI_MakeWire
    from OCP.BRepOffsetAPI import BRepOffsetAPI_MakePipe
    from OCP.GC import GC_MakeArcOfCircle
    from OCP.gp import gp_Ax2, gp_Circ, gp_Dir, gp_Pnt, gp_Quaternion, gp_Trsf, gp_Vec
    from OCP.Interface import Interface_Static
    from OCP.STEPCAFControl import STEPCAFControl_Writer
    from OCP.TCollection import TCollection_ExtendedString
    from OCP.TDataStd import TDataStd_Name
    from OCP.TDocStd import TDocStd_Document
    from OCP.TopLoc import TopLoc_Location
    from OCP.XCAFDoc import XCAFDoc_DocumentTool

    def point(p):
        return gp_Pnt(*p.xyz)

    def disc(at, way, radius):
        circle = gp_Circ(gp_Ax2(point(at), gp_Dir(*way.xyz)), radius)
        return BRepBuilderAPI_MakeFace(BRepBuilderAPI_MakeWire(BRepBuilderAPI_MakeEdge(circle).Edge()).Wire()).Face()

    def solid(tube):
        wire = BRepBuilderAPI_MakeWire()
        for piece in tube.pieces():
            if len(piece) == 2:
                wire.Add(BRepBuilderAPI_MakeEdge(point(piece[0]), point(piece[1])).Edge())
            else:
                wire.Add(BRepBuilderAPI_MakeEdge(GC_MakeArcOfCircle(point(piece[0]), point(piece[4]), point(piece[1])).Value()).Edge())
        od, wall = SIZES[tube.section]
        way = (tube.points[1] - tube.points[0]).normalize()
        swept = [BRepOffsetAPI_MakePipe(wire.Wire(), disc(tube.points[0], way, r)).Shape() for r in (od / 2, od / 2 - wall)]
        return BRepAlgoAPI_Cut(*swept).Shape()

    for unit in ("MM", "INCH"):
        doc = TDocStd_Document(TCollection_ExtendedString("fresh"))
        shapes = XCAFDoc_DocumentTool.ShapeTool_s(doc.Main())
        called = lambda label, name: TDataStd_Name.Set_s(label, TCollection_ExtendedString(name))

        def placed():
            """A place by chance, as the kernel has it and as a matrix."""
            axis = Vec3(*(rng.gauss(0, 1) for _ in range(3))).normalize()
            angle, to = rng.uniform(0, 6), [rng.uniform(-900, 900) for _ in range(3)]
            move = gp_Trsf()
            move.SetRotation(gp_Quaternion(gp_Vec(*axis.xyz), angle))
            move.SetTranslationPart(gp_Vec(*to))
            return TopLoc_Location(move), Matrix44.axis_rotate(axis, angle) @ Matrix44.translate(*to)

        parts = [straight_or_bent(rng, f"part {n}", n % 2 == 1, 200) for n in range(4)]
        labels = []
        for part in parts:
            labels.append(shapes.AddShape(solid(part), False))
            called(labels[-1], part.section)
        below, above = shapes.NewShape(), shapes.NewShape()
        called(below, "below")
        called(above, "above")
        in_below, tubes = [], []
        for part, label in zip(parts, labels):
            for _ in range(2):
                location, matrix = placed()
                shapes.AddComponent(below, label, location)
                in_below.append((part, matrix))
        for turn in range(2):
            location, matrix = placed()
            shapes.AddComponent(above, below, location)
            tubes += [part.moved(inner @ matrix, f"{turn}-{n}") for n, (part, inner) in enumerate(in_below)]
        shapes.UpdateAssemblies()
        writer = STEPCAFControl_Writer()
        Interface_Static.SetCVal_s("write.step.unit", unit)
        writer.Transfer(doc)
        path = folder / "out.step"
        writer.Write(str(path))
        content = path.read_bytes()
        path.unlink()
        put(folder, f"step_assembly_{unit}", {"frame.step": content}, tubes, {}, "parts placed twice in what is placed twice")


def main():
    folder, rng = Path(sys.argv[1]), random.Random(int(sys.argv[2]))
    for make in (drawings, polylines, blocks, tables, points_and_members, solids):
        make(folder, rng)


main()
