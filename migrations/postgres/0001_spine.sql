-- Designs, their drafts and revisions; kits, customers and packs; tokens; the audit log.
-- Times are RFC 3339 in UTC with milliseconds, hashes are lower-case hex, documents are TEXT exactly as written.
-- Keys sort by their bytes, whatever the language of the database.

CREATE TABLE designs (
    id         TEXT COLLATE "C" PRIMARY KEY NOT NULL,
    name       TEXT NOT NULL,
    created_at TEXT NOT NULL
);

CREATE TABLE drafts (
    design     TEXT COLLATE "C" PRIMARY KEY NOT NULL REFERENCES designs (id),
    body       TEXT NOT NULL,
    sha256     TEXT COLLATE "C" NOT NULL,
    updated_at TEXT NOT NULL
);

CREATE TABLE revisions (
    design          TEXT COLLATE "C" NOT NULL REFERENCES designs (id),
    number          BIGINT NOT NULL CHECK (number > 0),
    letter          TEXT COLLATE "C" NOT NULL,
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
);

-- The only table with personal data, so that it can be erased while kits and packs stay as issued.
CREATE TABLE customers (
    id    TEXT COLLATE "C" PRIMARY KEY NOT NULL,
    name  TEXT NOT NULL,
    email TEXT NOT NULL
);

CREATE TABLE kits (
    serial     TEXT COLLATE "C" PRIMARY KEY NOT NULL,
    design     TEXT COLLATE "C" NOT NULL,
    revision   TEXT COLLATE "C" NOT NULL,
    customer   TEXT COLLATE "C" NOT NULL REFERENCES customers (id),
    created_at TEXT NOT NULL,
    FOREIGN KEY (design, revision) REFERENCES revisions (design, letter)
);

CREATE INDEX kits_by_revision ON kits (design, revision, serial);

CREATE TABLE packs (
    kit       TEXT COLLATE "C" NOT NULL REFERENCES kits (serial),
    number    BIGINT NOT NULL CHECK (number > 0),
    design    TEXT COLLATE "C" NOT NULL,
    revision  TEXT COLLATE "C" NOT NULL,
    paper     TEXT NOT NULL,
    sha256    TEXT COLLATE "C" NOT NULL,
    size      BIGINT NOT NULL,
    engine    TEXT NOT NULL,
    issued_at TEXT NOT NULL,
    issued_by TEXT NOT NULL,
    PRIMARY KEY (kit, number),
    FOREIGN KEY (design, revision) REFERENCES revisions (design, letter)
);

CREATE TABLE downloads (
    kit    TEXT COLLATE "C" NOT NULL,
    number BIGINT NOT NULL,
    token  TEXT COLLATE "C" NOT NULL,
    at     TEXT NOT NULL,
    FOREIGN KEY (kit, number) REFERENCES packs (kit, number)
);

CREATE INDEX downloads_by_pack ON downloads (kit, number);

CREATE TABLE tokens (
    id         TEXT COLLATE "C" PRIMARY KEY NOT NULL,
    sha256     TEXT COLLATE "C" NOT NULL UNIQUE,
    role       TEXT NOT NULL CHECK (role IN ('publisher', 'support', 'builder')),
    kit        TEXT COLLATE "C" REFERENCES kits (serial),
    created_at TEXT NOT NULL,
    CHECK ((role = 'builder') = (kit IS NOT NULL))
);

CREATE TABLE idempotency (
    token          TEXT COLLATE "C" NOT NULL,
    route          TEXT COLLATE "C" NOT NULL,
    key            TEXT COLLATE "C" NOT NULL,
    request_sha256 TEXT NOT NULL,
    response       TEXT NOT NULL,
    created_at     TEXT NOT NULL,
    PRIMARY KEY (token, route, key)
);

CREATE TABLE audit (
    number   BIGINT PRIMARY KEY NOT NULL CHECK (number > 0),
    at       TEXT NOT NULL,
    actor    TEXT NOT NULL,
    action   TEXT NOT NULL,
    subject  TEXT NOT NULL,
    previous TEXT NOT NULL,
    hash     TEXT NOT NULL
);

-- What was published, issued or recorded never changes.

CREATE FUNCTION refuse() RETURNS trigger LANGUAGE plpgsql AS
$$ BEGIN RAISE EXCEPTION '%', TG_ARGV[0]; END $$;

CREATE TRIGGER revisions_never_change BEFORE UPDATE ON revisions FOR EACH ROW EXECUTE FUNCTION refuse('a published revision never changes');
CREATE TRIGGER revisions_never_go BEFORE DELETE ON revisions FOR EACH ROW EXECUTE FUNCTION refuse('a published revision is never deleted');
CREATE TRIGGER revisions_never_emptied BEFORE TRUNCATE ON revisions EXECUTE FUNCTION refuse('a published revision is never deleted');

CREATE TRIGGER packs_never_change BEFORE UPDATE ON packs FOR EACH ROW EXECUTE FUNCTION refuse('an issued pack never changes');
CREATE TRIGGER packs_never_go BEFORE DELETE ON packs FOR EACH ROW EXECUTE FUNCTION refuse('an issued pack is never deleted');
CREATE TRIGGER packs_never_emptied BEFORE TRUNCATE ON packs EXECUTE FUNCTION refuse('an issued pack is never deleted');

CREATE TRIGGER audit_never_changes BEFORE UPDATE ON audit FOR EACH ROW EXECUTE FUNCTION refuse('the audit log never changes');
CREATE TRIGGER audit_never_goes BEFORE DELETE ON audit FOR EACH ROW EXECUTE FUNCTION refuse('the audit log is never deleted');
CREATE TRIGGER audit_never_emptied BEFORE TRUNCATE ON audit EXECUTE FUNCTION refuse('the audit log is never deleted');
