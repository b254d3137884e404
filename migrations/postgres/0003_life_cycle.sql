-- Saves of drafts and states of revisions; orders, moves, boxes, notes and access codes of kits; notices and their delivery;
-- what ends a token.

-- The draft of a design is its newest save.
CREATE TABLE draft_saves (
    design   TEXT COLLATE "C" NOT NULL REFERENCES designs (id),
    number   BIGINT NOT NULL CHECK (number > 0),
    body     TEXT NOT NULL,
    sha256   TEXT COLLATE "C" NOT NULL,
    saved_at TEXT NOT NULL,
    saved_by TEXT NOT NULL,
    -- `save 3` or `revision B` when it was restored, else empty.
    source   TEXT NOT NULL,
    PRIMARY KEY (design, number)
);

INSERT INTO draft_saves (design, number, body, sha256, saved_at, saved_by, source)
SELECT design, 1, body, sha256, updated_at, 'system', '' FROM drafts;

DROP TABLE drafts;

-- NULL for a first issue, and for revisions from before changes had a class.
ALTER TABLE revisions ADD COLUMN class TEXT CHECK (class IN ('mandatory', 'recommended', 'optional'));

-- One below the other: the newest of a revision counts. The texts of a recall are empty for other states.
CREATE TABLE revision_states (
    design     TEXT COLLATE "C" NOT NULL,
    letter     TEXT COLLATE "C" NOT NULL,
    number     BIGINT NOT NULL CHECK (number > 0),
    state      TEXT COLLATE "C" NOT NULL CHECK (state IN ('withdrawn', 'recalled', 'reinstated')),
    reason     TEXT NOT NULL,
    hazard     TEXT NOT NULL,
    what_to_do TEXT NOT NULL,
    remedies   TEXT NOT NULL,
    at         TEXT NOT NULL,
    token      TEXT NOT NULL,
    PRIMARY KEY (design, letter, number),
    FOREIGN KEY (design, letter) REFERENCES revisions (design, letter),
    CHECK ((state = 'recalled') = (hazard <> '' AND what_to_do <> '' AND remedies <> ''))
);

CREATE TABLE recall_acknowledgements (
    kit    TEXT COLLATE "C" NOT NULL REFERENCES kits (serial),
    design TEXT COLLATE "C" NOT NULL,
    letter TEXT COLLATE "C" NOT NULL,
    number BIGINT NOT NULL,
    at     TEXT NOT NULL,
    token  TEXT NOT NULL,
    PRIMARY KEY (kit, letter, number),
    FOREIGN KEY (design, letter, number) REFERENCES revision_states (design, letter, number)
);

ALTER TABLE kits ADD COLUMN order_number TEXT COLLATE "C" NOT NULL DEFAULT '';
-- JSON array of boxes.
ALTER TABLE kits ADD COLUMN boxes TEXT NOT NULL DEFAULT '[]';
ALTER TABLE kits ADD COLUMN access_sha256 TEXT COLLATE "C";

CREATE INDEX kits_by_order ON kits (order_number, serial);
CREATE INDEX kits_by_customer ON kits (customer, serial);

-- Name and address in small letters, to search by.
ALTER TABLE customers ADD COLUMN folded TEXT COLLATE "C" NOT NULL DEFAULT '';
ALTER TABLE customers ADD COLUMN erased_at TEXT;

UPDATE customers SET folded = lower(name) || chr(10) || lower(email);

-- They repeated names and addresses.
DELETE FROM idempotency WHERE route = 'kits';

CREATE TABLE kit_moves (
    kit           TEXT COLLATE "C" NOT NULL REFERENCES kits (serial),
    number        BIGINT NOT NULL CHECK (number > 0),
    from_revision TEXT COLLATE "C" NOT NULL,
    to_revision   TEXT COLLATE "C" NOT NULL,
    reason        TEXT NOT NULL,
    at            TEXT NOT NULL,
    token         TEXT NOT NULL,
    PRIMARY KEY (kit, number)
);

-- May name people, so that they can be emptied.
CREATE TABLE kit_notes (
    kit    TEXT COLLATE "C" NOT NULL REFERENCES kits (serial),
    number BIGINT NOT NULL CHECK (number > 0),
    text   TEXT NOT NULL,
    at     TEXT NOT NULL,
    token  TEXT NOT NULL,
    PRIMARY KEY (kit, number)
);

CREATE TABLE notices (
    design        TEXT COLLATE "C" NOT NULL,
    number        BIGINT NOT NULL CHECK (number > 0),
    from_revision TEXT COLLATE "C" NOT NULL,
    to_revision   TEXT COLLATE "C" NOT NULL,
    class         TEXT NOT NULL CHECK (class IN ('mandatory', 'recommended', 'optional')),
    text          TEXT NOT NULL,
    at            TEXT NOT NULL,
    token         TEXT NOT NULL,
    PRIMARY KEY (design, number),
    FOREIGN KEY (design, from_revision) REFERENCES revisions (design, letter),
    FOREIGN KEY (design, to_revision) REFERENCES revisions (design, letter)
);

-- Kits of one revision with the same choices have the same work to do.
CREATE TABLE notice_groups (
    design     TEXT COLLATE "C" NOT NULL,
    number     BIGINT NOT NULL,
    part       BIGINT NOT NULL CHECK (part > 0),
    revision   TEXT COLLATE "C" NOT NULL,
    -- JSON object: choice by option.
    choices    TEXT NOT NULL,
    -- JSON: the parts, check dimensions and steps concerned; empty when the kits could not be compared.
    changes    TEXT NOT NULL,
    PRIMARY KEY (design, number, part),
    FOREIGN KEY (design, number) REFERENCES notices (design, number)
);

CREATE TABLE notice_kits (
    kit             TEXT COLLATE "C" NOT NULL REFERENCES kits (serial),
    design          TEXT COLLATE "C" NOT NULL,
    number          BIGINT NOT NULL,
    part            BIGINT NOT NULL,
    acknowledged_at TEXT,
    acknowledged_by TEXT,
    done_at         TEXT,
    done_by         TEXT,
    PRIMARY KEY (kit, number),
    FOREIGN KEY (design, number, part) REFERENCES notice_groups (design, number, part),
    CHECK (done_at IS NULL OR acknowledged_at IS NOT NULL)
);

CREATE INDEX notice_kits_by_notice ON notice_kits (design, number, kit);

-- What is to be told to whom over which channel; names no person.
CREATE TABLE deliveries (
    id         TEXT COLLATE "C" PRIMARY KEY NOT NULL,
    channel    TEXT NOT NULL CHECK (channel IN ('webhook', 'mail')),
    event      TEXT NOT NULL CHECK (event IN ('notice', 'recall')),
    kit        TEXT COLLATE "C" NOT NULL REFERENCES kits (serial),
    -- JSON of the event.
    payload    TEXT NOT NULL,
    state      TEXT COLLATE "C" NOT NULL CHECK (state IN ('waiting', 'sent', 'dead')),
    attempts   BIGINT NOT NULL,
    due_at     TEXT COLLATE "C" NOT NULL,
    error      TEXT NOT NULL,
    created_at TEXT NOT NULL
);

CREATE INDEX deliveries_due ON deliveries (state, due_at);

ALTER TABLE tokens ADD COLUMN name TEXT NOT NULL DEFAULT '';
ALTER TABLE tokens ADD COLUMN via TEXT NOT NULL DEFAULT 'token' CHECK (via IN ('token', 'access-code'));
ALTER TABLE tokens ADD COLUMN expires_at TEXT;
ALTER TABLE tokens ADD COLUMN revoked_at TEXT;

CREATE INDEX tokens_of_kit ON tokens (kit);

-- Failed sign-ins of a kit or an address since the first that still counts.
CREATE TABLE sign_in_failures (
    subject TEXT COLLATE "C" PRIMARY KEY NOT NULL,
    count   BIGINT NOT NULL,
    since   TEXT NOT NULL
);

CREATE TRIGGER draft_saves_never_change BEFORE UPDATE ON draft_saves FOR EACH ROW EXECUTE FUNCTION refuse('a saved draft never changes');

CREATE TRIGGER revision_states_never_change BEFORE UPDATE ON revision_states FOR EACH ROW EXECUTE FUNCTION refuse('a recorded state never changes');

CREATE TRIGGER revision_states_never_go BEFORE DELETE ON revision_states FOR EACH ROW EXECUTE FUNCTION refuse('a recorded state is never deleted');
CREATE TRIGGER revision_states_never_emptied BEFORE TRUNCATE ON revision_states EXECUTE FUNCTION refuse('a recorded state is never deleted');

CREATE TRIGGER recall_acknowledgements_never_change BEFORE UPDATE ON recall_acknowledgements FOR EACH ROW EXECUTE FUNCTION refuse('an acknowledgement never changes');

CREATE TRIGGER recall_acknowledgements_never_go BEFORE DELETE ON recall_acknowledgements FOR EACH ROW EXECUTE FUNCTION refuse('an acknowledgement is never deleted');
CREATE TRIGGER recall_acknowledgements_never_emptied BEFORE TRUNCATE ON recall_acknowledgements EXECUTE FUNCTION refuse('an acknowledgement is never deleted');

CREATE TRIGGER kit_moves_never_change BEFORE UPDATE ON kit_moves FOR EACH ROW EXECUTE FUNCTION refuse('a recorded move never changes');

CREATE TRIGGER kit_moves_never_go BEFORE DELETE ON kit_moves FOR EACH ROW EXECUTE FUNCTION refuse('a recorded move is never deleted');
CREATE TRIGGER kit_moves_never_emptied BEFORE TRUNCATE ON kit_moves EXECUTE FUNCTION refuse('a recorded move is never deleted');

CREATE TRIGGER notices_never_change BEFORE UPDATE ON notices FOR EACH ROW EXECUTE FUNCTION refuse('a notice never changes');

CREATE TRIGGER notices_never_go BEFORE DELETE ON notices FOR EACH ROW EXECUTE FUNCTION refuse('a notice is never deleted');
CREATE TRIGGER notices_never_emptied BEFORE TRUNCATE ON notices EXECUTE FUNCTION refuse('a notice is never deleted');

CREATE TRIGGER notice_groups_never_change BEFORE UPDATE ON notice_groups FOR EACH ROW EXECUTE FUNCTION refuse('a notice never changes');

CREATE TRIGGER notice_groups_never_go BEFORE DELETE ON notice_groups FOR EACH ROW EXECUTE FUNCTION refuse('a notice is never deleted');
CREATE TRIGGER notice_groups_never_emptied BEFORE TRUNCATE ON notice_groups EXECUTE FUNCTION refuse('a notice is never deleted');
