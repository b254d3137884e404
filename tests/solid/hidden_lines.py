"""Removes hidden lines with a general-purpose solid-modelling kernel and holds the views of the engine against it.

Takes a folder with scene.json: parts (name, and place: origin, x, y and z axis), and views (right, up and towards, and lines, each a
list of points in mm). Parts are solids NAME.step in the same folder. Prints for each view how much of either side lies on the other.
"""

import json
import pathlib
import sys

import numpy
from OCP.BRep import BRep_Builder
from OCP.BRepAdaptor import BRepAdaptor_Curve
from OCP.BRepBuilderAPI import BRepBuilderAPI_Transform
from OCP.BRepLib import BRepLib
from OCP.GCPnts import GCPnts_QuasiUniformDeflection
from OCP.gp import gp_Ax2, gp_Ax3, gp_Dir, gp_Pnt, gp_Trsf
from OCP.HLRAlgo import HLRAlgo_Projector
from OCP.HLRBRep import HLRBRep_Algo, HLRBRep_HLRToShape
from OCP.IFSelect import IFSelect_RetDone
from OCP.STEPControl import STEPControl_Reader
from OCP.TopAbs import TopAbs_EDGE
from OCP.TopExp import TopExp_Explorer
from OCP.TopoDS import TopoDS, TopoDS_Compound

# What counts as the same line, and from one place of a line to the next that is looked at, mm.
NEAR = 0.3
STEP = 1.5


def placed(folder, part):
    reader = STEPControl_Reader()
    assert reader.ReadFile(str(folder / f"{part['name']}.step")) == IFSelect_RetDone
    reader.TransferRoots()
    origin, x, _, z = part["place"]
    move = gp_Trsf()
    move.SetTransformation(gp_Ax3(gp_Pnt(*origin), gp_Dir(*z), gp_Dir(*x)), gp_Ax3())
    return BRepBuilderAPI_Transform(reader.OneShape(), move, True).Shape()


def polylines(shape):
    if shape is None or shape.IsNull():
        return
    BRepLib.BuildCurves3d_s(shape)
    explorer = TopExp_Explorer(shape, TopAbs_EDGE)
    while explorer.More():
        curve = BRepAdaptor_Curve(TopoDS.Edge(explorer.Current()))
        points = GCPnts_QuasiUniformDeflection(curve, 0.02)
        if points.IsDone():
            yield [[points.Value(k).X(), points.Value(k).Y()] for k in range(1, points.NbPoints() + 1)]
        explorer.Next()


def visible(shapes, view):
    whole = TopoDS_Compound()
    builder = BRep_Builder()
    builder.MakeCompound(whole)
    for shape in shapes:
        builder.Add(whole, shape)
    algorithm = HLRBRep_Algo()
    algorithm.Add(whole)
    algorithm.Projector(HLRAlgo_Projector(gp_Ax2(gp_Pnt(0, 0, 0), gp_Dir(*view["towards"]), gp_Dir(*view["right"]))))
    algorithm.Update()
    algorithm.Hide()
    found = HLRBRep_HLRToShape(algorithm)
    return [line for shape in (found.VCompound(), found.OutLineVCompound()) for line in polylines(shape)]


def segments(lines):
    pairs = [(a, b) for line in lines for a, b in zip(line, line[1:])]
    return numpy.array(pairs, dtype=float).reshape(-1, 2, 2)


def places(pairs):
    found = []
    for a, b in pairs:
        count = max(1, int(numpy.ceil(numpy.hypot(*(b - a)) / STEP)))
        parts = (numpy.arange(count) + 0.5) / count
        found.append(a + (b - a) * parts[:, None])
    return numpy.concatenate(found) if found else numpy.zeros((0, 2))


def covered(these, those):
    """Share of places of `these` lines that lie on `those`, and the places that do not."""
    at = places(these)
    start, along = those[:, 0], those[:, 1] - those[:, 0]
    square = numpy.maximum((along**2).sum(axis=1), 1e-12)
    near = numpy.zeros(len(at), dtype=bool)
    for first in range(0, len(at), 256):
        off = at[first : first + 256, None] - start
        part = numpy.clip((off * along).sum(axis=2) / square, 0.0, 1.0)
        away = off - part[..., None] * along
        near[first : first + 256] = (away**2).sum(axis=2).min(axis=1) < NEAR**2
    return float(near.mean()), at[~near][:20].round(1).tolist()


folder = pathlib.Path(sys.argv[1])
scene = json.loads((folder / "scene.json").read_text())
shapes = [placed(folder, part) for part in scene["parts"]]
answers = []
for view in scene["views"]:
    theirs, ours = segments(visible(shapes, view)), segments(view["lines"])
    answers.append({"ours": covered(ours, theirs), "theirs": covered(theirs, ours), "lines": [len(ours), len(theirs)]})
print(json.dumps(answers))
