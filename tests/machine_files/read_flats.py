"""Reads flat patterns: DXF with ezdxf, SVG with the XML parser of Python. Prints what is in them as JSON.

An audit without errors proves little, since the loader adds what is missing: handles, owners and tables are looked at here as they
stand in the file.
"""

import collections
import json
import math
import pathlib
import re
import sys
import xml.etree.ElementTree as ElementTree

import ezdxf
from ezdxf.lldxf.tagger import ascii_tags_loader

TABLES = ["VPORT", "LTYPE", "LAYER", "STYLE", "VIEW", "UCS", "APPID", "DIMSTYLE", "BLOCK_RECORD"]


def area(points):
    """Of a closed run of x, y, bulge: chords, and a segment of a circle over each bulge."""
    total = 0.0
    for (x, y, bulge), (next_x, next_y, _) in zip(points, points[1:] + points[:1]):
        total += (x * next_y - next_x * y) / 2
        if bulge:
            angle, chord = 4 * math.atan(bulge), math.hypot(next_x - x, next_y - y)
            radius = chord * (1 + bulge * bulge) / (4 * abs(bulge))
            total += math.copysign(radius * radius * (abs(angle) - math.sin(abs(angle))) / 2, bulge)
    return total


def raw(path):
    """Faults of handles, owners and tables."""
    records, record = [], None
    with path.open(encoding="ascii") as file:
        for tag in ascii_tags_loader(file):
            if tag.code == 0:
                record = {"kind": tag.value, "tags": []}
                records.append(record)
            elif record is not None:
                record["tags"].append((tag.code, tag.value))
    handles, faults, tables = set(), [], []
    owners = []
    for record in records:
        first = {}
        for code, value in record["tags"]:
            first.setdefault(code, value)
        if record["kind"] == "TABLE":
            tables.append(first[2])
        if record["kind"] in ("SECTION", "ENDSEC", "ENDTAB", "EOF"):
            continue
        handle = first.get(105 if record["kind"] == "DIMSTYLE" else 5)
        if handle is None or handle in handles:
            faults.append(f"{record['kind']} has the handle {handle}")
        handles.add(handle)
        owners.append((record["kind"], first.get(330)))
    faults += [f"{kind} is owned by {owner}" for kind, owner in owners if owner != "0" and owner not in handles]
    if tables != TABLES:
        faults.append(f"tables {tables}")
    seed = int(next(v for r in records for (c, n), (_, v) in zip(r["tags"], r["tags"][1:]) if n == "$HANDSEED"), 16)
    if seed <= max(int(handle, 16) for handle in handles if handle):
        faults.append("the seed of handles is taken")
    return faults


def drawing(path):
    document = ezdxf.readfile(path)
    audit = document.audit()
    entities = collections.defaultdict(list)
    for entity in document.modelspace():
        kind, layer = entity.dxftype(), entity.dxf.layer
        if kind == "LWPOLYLINE":
            points = [list(point) for point in entity.get_points("xyb")]
            told = {"closed": entity.closed, "points": points, "area": area(points) if entity.closed else 0.0}
        elif kind == "CIRCLE":
            told = {"centre": [entity.dxf.center.x, entity.dxf.center.y], "radius": entity.dxf.radius}
        else:
            told = {"text": entity.plain_text(), "at": [entity.dxf.insert.x, entity.dxf.insert.y]}
        entities[layer].append({"kind": kind, **told})
    return {
        "version": document.dxfversion,
        "units": document.header["$INSUNITS"],
        "errors": len(audit.errors),
        "fixes": len(audit.fixes),
        "faults": raw(path),
        # The reader adds a layer for points of dimensions to each file that has none.
        "layers": sorted(layer.dxf.name for layer in document.layers if layer.dxf.name != "Defpoints"),
        "entities": entities,
    }


def steps(d):
    """The corners of a path of M, L, A and Z with a bulge each, y turned up."""
    points = []
    for letter, numbers in re.findall(r"([MLAZ])([^MLAZ]*)", d):
        numbers = [float(number) for number in numbers.split()]
        if letter in "ML":
            points.append([numbers[0], -numbers[1], 0.0])
        elif letter == "A":
            radius, large, sweep, x, y = numbers[0], numbers[3], numbers[4], numbers[5], -numbers[6]
            chord = math.hypot(x - points[-1][0], y - points[-1][1])
            half = math.asin(min(1.0, chord / (2 * radius)))
            angle = 2 * (math.pi - half if large else half)
            points[-1][2] = math.tan(angle / 4) * (-1 if sweep else 1)
            points.append([x, y, 0.0])
    if d.endswith("Z") and math.dist(points[0][:2], points[-1][:2]) < 1e-6:
        points.pop()
    return points


def picture(path):
    root = ElementTree.parse(path).getroot()
    ids = [element.get("id") for element in root.iter() if element.get("id")]
    name = lambda element: element.tag.split("}")[1]
    groups = {}
    for group in root:
        if name(group) == "g":
            found = []
            for element in group:
                told = {"id": element.get("id"), "kind": name(element)}
                if told["kind"] == "path":
                    points = steps(element.get("d"))
                    told |= {"closed": element.get("d").endswith("Z"), "area": area(points), "points": points}
                elif told["kind"] == "circle":
                    told |= {"centre": [float(element.get("cx")), -float(element.get("cy"))], "radius": float(element.get("r"))}
                found.append(told)
            groups[group.get("id")] = found
    unit = root.get("width").endswith("mm") and root.get("viewBox").split()[2] + "mm" == root.get("width")
    return {"unique": len(ids) == len(set(ids)), "mm": unit, "groups": groups}


folder = pathlib.Path(sys.argv[1])
told = {path.name: drawing(path) for path in sorted(folder.glob("*.dxf"))}
told |= {path.name: picture(path) for path in sorted(folder.glob("*.svg"))}
json.dump(told, sys.stdout)
