"""Reads a frame and its parts with a general-purpose solid-modelling kernel that shares nothing with the writer. Prints JSON.

Takes a folder of frame.step, points.json with points by occurrence that lie on its surface, and NAME.step of parts.
"""

import json
import pathlib
import sys

from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeVertex
from OCP.BRepCheck import BRepCheck_Analyzer
from OCP.BRepExtrema import BRepExtrema_DistShapeShape
from OCP.BRepGProp import BRepGProp
from OCP.GProp import GProp_GProps
from OCP.gp import gp_Pnt
from OCP.IFSelect import IFSelect_RetDone
from OCP.STEPCAFControl import STEPCAFControl_Reader
from OCP.STEPControl import STEPControl_Reader
from OCP.TCollection import TCollection_ExtendedString
from OCP.TDataStd import TDataStd_Name
from OCP.collections import Sequence_TDF_Label
from OCP.TDF import TDF_Label
from OCP.TDocStd import TDocStd_Document
from OCP.TopAbs import TopAbs_SHELL, TopAbs_SOLID
from OCP.TopExp import TopExp_Explorer
from OCP.XCAFDoc import XCAFDoc_DocumentTool, XCAFDoc_ShapeTool


def count(shape, kind):
    explorer, found = TopExp_Explorer(shape, kind), []
    while explorer.More():
        found.append(explorer.Current())
        explorer.Next()
    return found


def weighed(shape):
    properties = GProp_GProps()
    BRepGProp.VolumeProperties_s(shape, properties, 1e-7)
    centre = properties.CentreOfMass()
    return {
        "solids": len(count(shape, TopAbs_SOLID)),
        "valid": BRepCheck_Analyzer(shape).IsValid(),
        "volume": properties.Mass(),
        "centre": [centre.X(), centre.Y(), centre.Z()],
    }


def name(label):
    found = TDataStd_Name()
    return found.Get().ToExtString() if label.FindAttribute(TDataStd_Name.GetID_s(), found) else None


def assembly(path, points):
    document = TDocStd_Document(TCollection_ExtendedString("frame"))
    reader = STEPCAFControl_Reader()
    reader.SetNameMode(True)
    if reader.ReadFile(str(path)) != IFSelect_RetDone or not reader.Transfer(document):
        return None
    tool = XCAFDoc_DocumentTool.ShapeTool_s(document.Main())
    roots, components = Sequence_TDF_Label(), Sequence_TDF_Label()
    tool.GetFreeShapes(roots)
    XCAFDoc_ShapeTool.GetComponents_s(roots.Value(1), components)
    parts = []
    for at in range(1, components.Length() + 1):
        label, product = components.Value(at), TDF_Label()
        XCAFDoc_ShapeTool.GetReferredShape_s(label, product)
        shape = XCAFDoc_ShapeTool.GetShape_s(label)
        shell, off = count(shape, TopAbs_SHELL)[0], 0.0
        for point in points.get(name(label), []):
            vertex = BRepBuilderAPI_MakeVertex(gp_Pnt(*point)).Vertex()
            off = max(off, BRepExtrema_DistShapeShape(vertex, shell).Value())
        parts.append({"id": name(label), "product": name(product), "off": off, **weighed(shape)})
    return {"roots": roots.Length(), "name": name(roots.Value(1)), "parts": parts}


def part(path):
    reader = STEPControl_Reader()
    if reader.ReadFile(str(path)) != IFSelect_RetDone or not reader.TransferRoots():
        return None
    return weighed(reader.OneShape())


folder = pathlib.Path(sys.argv[1])
told = {path.stem: part(path) for path in sorted(folder.glob("part-*.step"))}
told["frame"] = assembly(folder / "frame.step", json.loads((folder / "points.json").read_text()))
json.dump(told, sys.stdout)
