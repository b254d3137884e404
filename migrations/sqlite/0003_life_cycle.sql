-- Saves of drafts and states of revisions; orders, moves, boxes, notes and access codes of kits; notices and their delivery;
-- what ends a token.

-- The draft of a design is its newest save.
CREATE TABLE draft_saves (
    design   TEXT NOT NULL REFERENCES designs (id),
    number   INTEGER NOT NULL CHECK (number > 0),
    body     TEXT NOT NULL,
    sha256   TEXT NOT NULL,
    saved_at TEXT NOT NULL,
    saved_by TEXT NOT NULL,
    -- `save 3` or `revision B` when it was restored, else empty.
    source   TEXT NOT NULL,
    PRIMARY KEY (design, number)
) STRICT;

INSERT INTO draft_saves (design, number, body, sha256, saved_at, saved_by, source)
SELECT design, 1, body, sha256, updated_at, 'system', '' FROM drafts;

DROP TABLE drafts;

-- NULL for a first issue, and for revisions from before changes had a class.
ALTER TABLE revisions ADD COLUMN class TEXT CHECK (class IN ('mandatory', 'recommended', 'optional'));

-- One below the other: the newest of a revision counts. The texts of a recall are empty for other states.
CREATE TABLE revision_states (
    design     TEXT NOT NULL,
    letter     TEXT NOT NULL,
    number     INTEGER NOT NULL CHECK (number > 0),
    state      TEXT NOT NULL CHECK (state IN ('withdrawn', 'recalled', 'reinstated')),
    reason     TEXT NOT NULL,
    hazard     TEXT NOT NULL,
    what_to_do TEXT NOT NULL,
    remedies   TEXT NOT NULL,
    at         TEXT NOT NULL,
    token      TEXT NOT NULL,
    PRIMARY KEY (design, letter, number),
    FOREIGN KEY (design, letter) REFERENCES revisions (design, letter),
    CHECK ((state = 'recalled') = (hazard <> '' AND what_to_do <> '' AND remedies <> ''))
) STRICT;

CREATE TABLE recall_acknowledgements (
    kit    TEXT NOT NULL REFERENCES kits (serial),
    design TEXT NOT NULL,
    letter TEXT NOT NULL,
    number INTEGER NOT NULL,
    at     TEXT NOT NULL,
    token  TEXT NOT NULL,
    PRIMARY KEY (kit, letter, number),
    FOREIGN KEY (design, letter, number) REFERENCES revision_states (design, letter, number)
) STRICT;

ALTER TABLE kits ADD COLUMN order_number TEXT NOT NULL DEFAULT '';
-- JSON array of boxes.
ALTER TABLE kits ADD COLUMN boxes TEXT NOT NULL DEFAULT '[]';
ALTER TABLE kits ADD COLUMN access_sha256 TEXT;

CREATE INDEX kits_by_order ON kits (order_number, serial);
CREATE INDEX kits_by_customer ON kits (customer, serial);

-- Name and address in small letters, to search by.
ALTER TABLE customers ADD COLUMN folded TEXT NOT NULL DEFAULT '';
ALTER TABLE customers ADD COLUMN erased_at TEXT;

UPDATE customers SET folded = lower(name) || char(10) || lower(email);

-- They repeated names and addresses.
DELETE FROM idempotency WHERE route = 'kits';

CREATE TABLE kit_moves (
    kit           TEXT NOT NULL REFERENCES kits (serial),
    number        INTEGER NOT NULL CHECK (number > 0),
    from_revision TEXT NOT NULL,
    to_revision   TEXT NOT NULL,
    reason        TEXT NOT NULL,
    at            TEXT NOT NULL,
    token         TEXT NOT NULL,
    PRIMARY KEY (kit, number)
) STRICT;

-- May name people, so that they can be emptied.
CREATE TABLE kit_notes (
    kit    TEXT NOT NULL REFERENCES kits (serial),
    number INTEGER NOT NULL CHECK (number > 0),
    text   TEXT NOT NULL,
    at     TEXT NOT NULL,
    token  TEXT NOT NULL,
    PRIMARY KEY (kit, number)
) STRICT;

CREATE TABLE notices (
    design        TEXT NOT NULL,
    number        INTEGER NOT NULL CHECK (number > 0),
    from_revision TEXT NOT NULL,
    to_revision   TEXT NOT NULL,
    class         TEXT NOT NULL CHECK (class IN ('mandatory', 'recommended', 'optional')),
    text          TEXT NOT NULL,
    at            TEXT NOT NULL,
    token         TEXT NOT NULL,
    PRIMARY KEY (design, number),
    FOREIGN KEY (design, from_revision) REFERENCES revisions (design, letter),
    FOREIGN KEY (design, to_revision) REFERENCES revisions (design, letter)
) STRICT;

-- Kits of one revision with the same choices have the same work to do.
CREATE TABLE notice_groups (
    design     TEXT NOT NULL,
    number     INTEGER NOT NULL,
    part       INTEGER NOT NULL CHECK (part > 0),
    revision   TEXT NOT NULL,
    -- JSON object: choice by option.
    choices    TEXT NOT NULL,
    -- JSON: the parts, check dimensions and steps concerned; empty when the kits could not be compared.
    changes    TEXT NOT NULL,
    PRIMARY KEY (design, number, part),
    FOREIGN KEY (design, number) REFERENCES notices (design, number)
) STRICT;

CREATE TABLE notice_kits (
    kit             TEXT NOT NULL REFERENCES kits (serial),
    design          TEXT NOT NULL,
    number          INTEGER NOT NULL,
    part            INTEGER NOT NULL,
    acknowledged_at TEXT,
    acknowledged_by TEXT,
    done_at         TEXT,
    done_by         TEXT,
    PRIMARY KEY (kit, number),
    FOREIGN KEY (design, number, part) REFERENCES notice_groups (design, number, part),
    CHECK (done_at IS NULL OR acknowledged_at IS NOT NULL)
) STRICT;

CREATE INDEX notice_kits_by_notice ON notice_kits (design, number, kit);

-- What is to be told to whom over which channel; names no person.
CREATE TABLE deliveries (
    id         TEXT PRIMARY KEY NOT NULL,
    channel    TEXT NOT NULL CHECK (channel IN ('webhook', 'mail')),
    event      TEXT NOT NULL CHECK (event IN ('notice', 'recall')),
    kit        TEXT NOT NULL REFERENCES kits (serial),
    -- JSON of the event.
    payload    TEXT NOT NULL,
    state      TEXT NOT NULL CHECK (state IN ('waiting', 'sent', 'dead')),
    attempts   INTEGER NOT NULL,
    due_at     TEXT NOT NULL,
    error      TEXT NOT NULL,
    created_at TEXT NOT NULL
) STRICT;

CREATE INDEX deliveries_due ON deliveries (state, due_at);

ALTER TABLE tokens ADD COLUMN name TEXT NOT NULL DEFAULT '';
ALTER TABLE tokens ADD COLUMN via TEXT NOT NULL DEFAULT 'token' CHECK (via IN ('token', 'access-code'));
ALTER TABLE tokens ADD COLUMN expires_at TEXT;
ALTER TABLE tokens ADD COLUMN revoked_at TEXT;

CREATE INDEX tokens_of_kit ON tokens (kit);

-- Failed sign-ins of a kit or an address since the first that still counts.
CREATE TABLE sign_in_failures (
    subject TEXT PRIMARY KEY NOT NULL,
    count   INTEGER NOT NULL,
    since   TEXT NOT NULL
) STRICT;

CREATE TRIGGER draft_saves_never_change BEFORE UPDATE ON draft_saves
BEGIN SELECT RAISE(ABORT, 'a saved draft never changes'); END;

CREATE TRIGGER revision_states_never_change BEFORE UPDATE ON revision_states
BEGIN SELECT RAISE(ABORT, 'a recorded state never changes'); END;

CREATE TRIGGER revision_states_never_go BEFORE DELETE ON revision_states
BEGIN SELECT RAISE(ABORT, 'a recorded state is never deleted'); END;

CREATE TRIGGER revision_states_never_replaced BEFORE INSERT ON revision_states
WHEN EXISTS (SELECT 1 FROM revision_states WHERE design = NEW.design AND letter = NEW.letter AND number = NEW.number)
BEGIN SELECT RAISE(ABORT, 'a recorded state is never replaced'); END;

CREATE TRIGGER recall_acknowledgements_never_change BEFORE UPDATE ON recall_acknowledgements
BEGIN SELECT RAISE(ABORT, 'an acknowledgement never changes'); END;

CREATE TRIGGER recall_acknowledgements_never_go BEFORE DELETE ON recall_acknowledgements
BEGIN SELECT RAISE(ABORT, 'an acknowledgement is never deleted'); END;

CREATE TRIGGER kit_moves_never_change BEFORE UPDATE ON kit_moves
BEGIN SELECT RAISE(ABORT, 'a recorded move never changes'); END;

CREATE TRIGGER kit_moves_never_go BEFORE DELETE ON kit_moves
BEGIN SELECT RAISE(ABORT, 'a recorded move is never deleted'); END;

CREATE TRIGGER notices_never_change BEFORE UPDATE ON notices
BEGIN SELECT RAISE(ABORT, 'a notice never changes'); END;

CREATE TRIGGER notices_never_go BEFORE DELETE ON notices
BEGIN SELECT RAISE(ABORT, 'a notice is never deleted'); END;

CREATE TRIGGER notice_groups_never_change BEFORE UPDATE ON notice_groups
BEGIN SELECT RAISE(ABORT, 'a notice never changes'); END;

CREATE TRIGGER notice_groups_never_go BEFORE DELETE ON notice_groups
BEGIN SELECT RAISE(ABORT, 'a notice is never deleted'); END;
