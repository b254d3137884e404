-- Designs, their drafts and revisions; kits, customers and packs; tokens; the audit log.
-- Times are RFC 3339 in UTC with milliseconds, hashes are lower-case hex, documents are TEXT exactly as written.

CREATE TABLE designs (
    id         TEXT PRIMARY KEY NOT NULL,
    name       TEXT NOT NULL,
    created_at TEXT NOT NULL
) STRICT;

CREATE TABLE drafts (
    design     TEXT PRIMARY KEY NOT NULL REFERENCES designs (id),
    body       TEXT NOT NULL,
    sha256     TEXT NOT NULL,
    updated_at TEXT NOT NULL
) STRICT;

CREATE TABLE revisions (
    design          TEXT NOT NULL REFERENCES designs (id),
    number          INTEGER NOT NULL CHECK (number > 0),
    letter          TEXT NOT NULL,
    change_note     TEXT NOT NULL,
    acknowledged    TEXT NOT NULL,
    document        TEXT NOT NULL,
    document_sha256 TEXT NOT NULL,
    previous_chain  TEXT NOT NULL,
    chain           TEXT NOT NULL,
    published_at    TEXT NOT NULL,
    published_by    TEXT NOT NULL,
    PRIMARY KEY (design, number),
    UNIQUE (design, letter)
) STRICT;

-- The only table with personal data, so that it can be erased while kits and packs stay as issued.
CREATE TABLE customers (
    id    TEXT PRIMARY KEY NOT NULL,
    name  TEXT NOT NULL,
    email TEXT NOT NULL
) STRICT;

CREATE TABLE kits (
    serial     TEXT PRIMARY KEY NOT NULL,
    design     TEXT NOT NULL,
    revision   TEXT NOT NULL,
    customer   TEXT NOT NULL REFERENCES customers (id),
    created_at TEXT NOT NULL,
    FOREIGN KEY (design, revision) REFERENCES revisions (design, letter)
) STRICT;

CREATE INDEX kits_by_revision ON kits (design, revision, serial);

CREATE TABLE packs (
    kit       TEXT NOT NULL REFERENCES kits (serial),
    number    INTEGER NOT NULL CHECK (number > 0),
    design    TEXT NOT NULL,
    revision  TEXT NOT NULL,
    paper     TEXT NOT NULL,
    sha256    TEXT NOT NULL,
    size      INTEGER NOT NULL,
    engine    TEXT NOT NULL,
    issued_at TEXT NOT NULL,
    issued_by TEXT NOT NULL,
    PRIMARY KEY (kit, number),
    FOREIGN KEY (design, revision) REFERENCES revisions (design, letter)
) STRICT;

CREATE TABLE downloads (
    kit    TEXT NOT NULL,
    number INTEGER NOT NULL,
    token  TEXT NOT NULL,
    at     TEXT NOT NULL,
    FOREIGN KEY (kit, number) REFERENCES packs (kit, number)
) STRICT;

CREATE INDEX downloads_by_pack ON downloads (kit, number);

CREATE TABLE tokens (
    id         TEXT PRIMARY KEY NOT NULL,
    sha256     TEXT NOT NULL UNIQUE,
    role       TEXT NOT NULL CHECK (role IN ('publisher', 'support', 'builder')),
    kit        TEXT REFERENCES kits (serial),
    created_at TEXT NOT NULL,
    CHECK ((role = 'builder') = (kit IS NOT NULL))
) STRICT;

CREATE TABLE idempotency (
    token          TEXT NOT NULL,
    route          TEXT NOT NULL,
    key            TEXT NOT NULL,
    request_sha256 TEXT NOT NULL,
    response       TEXT NOT NULL,
    created_at     TEXT NOT NULL,
    PRIMARY KEY (token, route, key)
) STRICT;

CREATE TABLE audit (
    number   INTEGER PRIMARY KEY NOT NULL CHECK (number > 0),
    at       TEXT NOT NULL,
    actor    TEXT NOT NULL,
    action   TEXT NOT NULL,
    subject  TEXT NOT NULL,
    previous TEXT NOT NULL,
    hash     TEXT NOT NULL
) STRICT;

-- What was published, issued or recorded never changes. An insert that would replace a row is refused as well,
-- because SQLite deletes the replaced row without running its DELETE trigger.

CREATE TRIGGER revisions_never_change BEFORE UPDATE ON revisions
BEGIN SELECT RAISE(ABORT, 'a published revision never changes'); END;

CREATE TRIGGER revisions_never_go BEFORE DELETE ON revisions
BEGIN SELECT RAISE(ABORT, 'a published revision is never deleted'); END;

CREATE TRIGGER revisions_never_replaced BEFORE INSERT ON revisions
WHEN EXISTS (SELECT 1 FROM revisions WHERE design = NEW.design AND (number = NEW.number OR letter = NEW.letter))
BEGIN SELECT RAISE(ABORT, 'a published revision is never replaced'); END;

CREATE TRIGGER packs_never_change BEFORE UPDATE ON packs
BEGIN SELECT RAISE(ABORT, 'an issued pack never changes'); END;

CREATE TRIGGER packs_never_go BEFORE DELETE ON packs
BEGIN SELECT RAISE(ABORT, 'an issued pack is never deleted'); END;

CREATE TRIGGER packs_never_replaced BEFORE INSERT ON packs
WHEN EXISTS (SELECT 1 FROM packs WHERE kit = NEW.kit AND number = NEW.number)
BEGIN SELECT RAISE(ABORT, 'an issued pack is never replaced'); END;

CREATE TRIGGER audit_never_changes BEFORE UPDATE ON audit
BEGIN SELECT RAISE(ABORT, 'the audit log never changes'); END;

CREATE TRIGGER audit_never_goes BEFORE DELETE ON audit
BEGIN SELECT RAISE(ABORT, 'the audit log is never deleted'); END;

CREATE TRIGGER audit_never_replaced BEFORE INSERT ON audit
WHEN EXISTS (SELECT 1 FROM audit WHERE number = NEW.number)
BEGIN SELECT RAISE(ABORT, 'the audit log is never replaced'); END;
