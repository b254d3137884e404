"""Reads an archive with the zipfile module of Python and holds its files against the hashes of its manifest. Prints JSON."""

import hashlib
import json
import pathlib
import sys
import zipfile

archive = zipfile.ZipFile(pathlib.Path(sys.argv[1]) / "all.zip")
manifest = json.loads(archive.read("manifest.json"))
wrong = [
    told["path"]
    for told in manifest["files"]
    if hashlib.sha256(archive.read(told["path"])).hexdigest() != told["sha256"]
    or archive.getinfo(told["path"]).file_size != told["size"]
]
names = [entry.filename for entry in archive.infolist()]
listed = [told["path"] for told in manifest["files"]] + ["manifest.json"]
json.dump(
    {
        "broken": archive.testzip(),
        "wrong": wrong,
        "same": names == listed,
        "dates": sorted({list(entry.date_time)[0] for entry in archive.infolist()}),
        "manifest": {key: value for key, value in manifest.items() if key != "files"},
        "count": len(listed),
    },
    sys.stdout,
)
