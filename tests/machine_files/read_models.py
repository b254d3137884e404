"""Reads a model with trimesh, which shares nothing with the writer: volume, centre and closedness of each node. Prints JSON."""

import json
import pathlib
import sys

import trimesh

scene = trimesh.load(pathlib.Path(sys.argv[1]) / "frame.glb", merge_primitives=False)
nodes = {}
for name in scene.graph.nodes_geometry:
    matrix, geometry = scene.graph[name]
    mesh = scene.geometry[geometry].copy()
    mesh.apply_transform(matrix)
    mesh = trimesh.Trimesh(mesh.vertices, mesh.faces, process=False)
    mesh.merge_vertices(digits_vertex=7)
    mesh.update_faces(mesh.nondegenerate_faces())
    nodes[name] = {
        "closed": bool(mesh.is_watertight and mesh.is_winding_consistent),
        "volume": float(mesh.volume) * 1e9,
        "centre": [float(value) * 1000 for value in mesh.center_mass],
        "bounds": (mesh.bounds * 1000).tolist(),
        "extras": scene.graph.transforms.node_data[name].get("metadata", {}).get("extras")
        or scene.graph.transforms.node_data[name].get("extras"),
    }
json.dump(nodes, sys.stdout)
