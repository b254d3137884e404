"""Holds a list of parts against the schema of CycloneDX 1.5 and against the crates that cargo-deny looked at.

python supply_chain.py PARTS.json LOOKED_AT.json     (the second is of `cargo-deny list --format json --layout crate`)
"""

import json
import sys
from importlib.resources import files
from pathlib import Path

import jsonschema_rs

# The package cyclonedx-python-lib ships the published schema and those that it refers to.
published = files("cyclonedx.schema") / "_res"
schemas = {name: json.loads((published / f"{name}.SNAPSHOT.schema.json").read_text()) for name in ("bom-1.5", "spdx", "jsf-0.82")}
known = jsonschema_rs.Registry([(f"http://cyclonedx.org/schema/{name}.SNAPSHOT.schema.json", schema) for name, schema in schemas.items()])
validator = jsonschema_rs.validator_for(schemas["bom-1.5"], registry=known, validate_formats=True)

parts = json.loads(Path(sys.argv[1]).read_text())
faults = [f"{list(fault.instance_path)}: {fault.message}" for fault in validator.iter_errors(parts)]
assert not faults, faults
assert not validator.is_valid(parts | {"specVersion": 15}), "the schema takes anything"

components = [parts["metadata"]["component"], *parts["components"]]
listed = {f"{part['name']} {part['version']}" for part in components}
assert len(listed) == len(components) > 100, "each once"
looked_at = {" ".join(crate.split()[:2]) for crate in json.loads(Path(sys.argv[2]).read_text())}
assert listed <= looked_at, f"in the program and not looked at: {sorted(listed - looked_at)}"

assert not [part["name"] for part in components if "licenses" not in part], "a part has no licence"
ours = {"matchmark", "matchmark-core", "matchmark-export", "matchmark-import", "matchmark-service", "matchmark-store"}
assert {part["name"] for part in components if "hashes" not in part} == ours, "a part of others has no checksum"
