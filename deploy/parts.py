"""A CycloneDX 1.5 list of what the program matchmark is built of, from cargo and Cargo.lock: see deploy/parts.

Crates that are used in tests and benches alone are left out. What runs while the program is compiled (build scripts, macros) is in
the list with the scope `excluded`, because it is not in the program.
"""

import hashlib
import json
import platform
import subprocess
import tomllib
import uuid

PROGRAM = "matchmark"


def metadata() -> dict:
    target = f"{platform.machine()}-unknown-linux-gnu"
    command = ["cargo", "metadata", "--format-version", "1", "--locked", "--filter-platform", target]
    return json.loads(subprocess.run(command, check=True, stdout=subprocess.PIPE).stdout)


def purl(package: dict) -> str:
    return f"pkg:cargo/{package['name']}@{package['version']}"


def compiled(*edges: str) -> set:
    """Names and versions of what is compiled over these edges."""
    command = ["cargo", "tree", "--quiet", "--locked", "-p", PROGRAM, "--edges", ",".join(edges), "--prefix", "none", "--format", "{p}"]
    lines = subprocess.run(command, check=True, stdout=subprocess.PIPE, text=True).stdout.splitlines()
    return {(name, version.removeprefix("v")) for name, version, *_ in map(str.split, lines)}


def component(package: dict, checksums: dict, is_inside: bool) -> dict:
    known = {"type": "library", "bom-ref": purl(package), "name": package["name"], "version": package["version"],
             "scope": "required" if is_inside else "excluded", "purl": purl(package)}
    if package["description"]:
        known["description"] = " ".join(package["description"].split())
    if package["license"]:
        # Two licences with a stroke between them is how old crates write "or".
        known["licenses"] = [{"expression": package["license"].replace("/", " OR ")}]
    if package["repository"]:
        known["externalReferences"] = [{"type": "vcs", "url": package["repository"]}]
    if checksum := checksums.get((package["name"], package["version"])):
        known["hashes"] = [{"alg": "SHA-256", "content": checksum}]
    return known


def main() -> None:
    found = metadata()
    packages = {package["id"]: package for package in found["packages"]}
    nodes = {node["id"]: node for node in found["resolve"]["nodes"]}
    with open("Cargo.lock", "rb") as file:
        lock = file.read()
    checksums = {(package["name"], package["version"]): package.get("checksum") for package in tomllib.loads(lock.decode())["package"]}
    inside, whole = compiled("normal", "no-proc-macro"), compiled("normal", "build")
    ordered = sorted(((package["name"], package["version"]), identifier) for identifier, package in packages.items()
                     if (package["name"], package["version"]) in whole)
    listed = {identifier for _, identifier in ordered}
    program = next(component(packages[identifier], checksums, True) for (name, _), identifier in ordered if name == PROGRAM)
    components = [component(packages[identifier], checksums, key in inside) for key, identifier in ordered if key[0] != PROGRAM]
    program["type"] = "application"
    del program["scope"]
    dependencies = [{"ref": purl(packages[identifier]), "dependsOn": sorted(
        {purl(packages[other["pkg"]]) for other in nodes[identifier]["deps"] if other["pkg"] in listed})} for _, identifier in ordered]
    # Made from the lock file, so that the same parts have the same number.
    serial = uuid.UUID(bytes=hashlib.sha256(lock).digest()[:16], version=4)
    print(json.dumps({"bomFormat": "CycloneDX", "specVersion": "1.5", "serialNumber": f"urn:uuid:{serial}", "version": 1,
                      "metadata": {"component": program}, "components": components, "dependencies": dependencies}, indent=1))


if __name__ == "__main__":
    main()
