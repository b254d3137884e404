"""Reads solids with a general-purpose solid-modelling kernel that shares nothing with the writer, and prints what it makes of them.

Takes a folder of pairs: NAME.step, and NAME.json with points that lie on the solid's surface. Prints one JSON object by name.
"""

import json
import pathlib
import sys

from OCP.BRep import BRep_Tool
from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeVertex
from OCP.BRepCheck import BRepCheck_Analyzer
from OCP.BRepExtrema import BRepExtrema_DistShapeShape
from OCP.BRepGProp import BRepGProp
from OCP.GProp import GProp_GProps
from OCP.gp import gp_Pnt
from OCP.IFSelect import IFSelect_RetDone
from OCP.STEPControl import STEPControl_Reader
from OCP.TopAbs import TopAbs_EDGE, TopAbs_FACE, TopAbs_SHELL, TopAbs_SOLID, TopAbs_VERTEX
from OCP.TopExp import TopExp_Explorer
from OCP.TopoDS import TopoDS


def parts(shape, kind, cast):
    explorer = TopExp_Explorer(shape, kind)
    while explorer.More():
        yield cast(explorer.Current())
        explorer.Next()


def look(path, points):
    reader = STEPControl_Reader()
    if reader.ReadFile(str(path)) != IFSelect_RetDone or not reader.TransferRoots():
        return {"read": False}
    shape = reader.OneShape()
    solids = list(parts(shape, TopAbs_SOLID, TopoDS.Solid))
    shells = list(parts(shape, TopAbs_SHELL, TopoDS.Shell))
    faces = list(parts(shape, TopAbs_FACE, TopoDS.Face))
    edges = list(parts(shape, TopAbs_EDGE, TopoDS.Edge))
    vertices = list(parts(shape, TopAbs_VERTEX, TopoDS.Vertex))
    properties = GProp_GProps()
    BRepGProp.VolumeProperties_s(shape, properties, 1e-7)
    centre = properties.CentreOfMass()
    off = 0.0
    for point in points:
        vertex = BRepBuilderAPI_MakeVertex(gp_Pnt(*point)).Vertex()
        off = max(off, BRepExtrema_DistShapeShape(vertex, shells[0]).Value())
    return {
        "read": True,
        "solids": len(solids),
        "valid": BRepCheck_Analyzer(shape).IsValid(),
        "closed": all(BRep_Tool.IsClosed_s(shell) for shell in shells),
        "faces": len(faces),
        "volume": properties.Mass(),
        "centre": [centre.X(), centre.Y(), centre.Z()],
        "edge_tolerance": max(BRep_Tool.Tolerance_s(edge) for edge in edges),
        "vertex_tolerance": max(BRep_Tool.Tolerance_s(vertex) for vertex in vertices),
        "off": off,
    }


folder = pathlib.Path(sys.argv[1])
seen = {path.stem: look(path, json.loads(path.with_suffix(".json").read_text())) for path in sorted(folder.glob("*.step"))}
json.dump(seen, sys.stdout)
