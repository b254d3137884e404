"""Loads a file for containers as its program reads it, where that program itself needs an engine or a cluster.

python example_files.py kubernetes|context PATH
"""

import sys
import tempfile
from pathlib import Path


def kubernetes(path: Path) -> None:
    """Each object against the published schemas of Kubernetes (package kubernetes-validate)."""
    import kubernetes_validate
    import yaml

    objects = [item for item in yaml.safe_load_all(path.read_text()) if item]
    assert len(objects) >= 5, f"{len(objects)} objects"
    for item in objects:
        kubernetes_validate.validate(item, kubernetes_validate.latest_version(), strict=True)


def context(root: Path) -> None:
    """What Docker's own client library would send to the builder of a working copy that holds secrets."""
    from docker.utils import exclude_paths

    secrets = ["signing.key", "data/matchmark.db", "data/signing.key", "deploy/compose/secrets/signing-key",
               "deploy/compose/secrets/database-url", "signing-key", "server/signing.key", "matchmark.toml", ".env",
               "backup/signing.key", "target/debug/matchmark", ".git/config"]
    needed = ["Cargo.toml", "Cargo.lock", "core/src/lib.rs", "server/src/main.rs", "server/demo/rev_a.json", "tests/Cargo.toml",
              "tests/lib.rs", "migrations/sqlite/0001_spine.sql", "migrations/postgres/0001_spine.sql"]
    patterns = [line.strip() for line in (root / ".dockerignore").read_text().splitlines()]
    patterns = [line for line in patterns if line and not line.startswith("#")]
    with tempfile.TemporaryDirectory() as scratch:
        for name in secrets + needed:
            file = Path(scratch) / name
            file.parent.mkdir(parents=True, exist_ok=True)
            file.write_text("")
        sent = exclude_paths(scratch, patterns, dockerfile="deploy/Containerfile")
    assert not [name for name in secrets if name in sent], [name for name in secrets if name in sent]
    assert not [name for name in needed if name not in sent], [name for name in needed if name not in sent]


if __name__ == "__main__":
    {"kubernetes": kubernetes, "context": context}[sys.argv[1]](Path(sys.argv[2]))
