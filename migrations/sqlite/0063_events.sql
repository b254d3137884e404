-- What happened, told to other programs. Ids only grow; each write adds its own before the next begins.
CREATE TABLE events (
    id      INTEGER PRIMARY KEY NOT NULL,
    at      TEXT NOT NULL,
    kind    TEXT NOT NULL,
    -- Address in the API.
    subject TEXT NOT NULL,
    -- JSON.
    facts   TEXT NOT NULL
) STRICT;

-- Deliveries of any event, of a kit or of none.
CREATE TABLE deliveries_of_events (
    id         TEXT PRIMARY KEY NOT NULL,
    channel    TEXT NOT NULL CHECK (channel IN ('webhook', 'mail')),
    event      TEXT NOT NULL,
    kit        TEXT REFERENCES kits (serial),
    -- JSON of the event.
    payload    TEXT NOT NULL,
    state      TEXT NOT NULL CHECK (state IN ('waiting', 'sent', 'dead')),
    attempts   INTEGER NOT NULL,
    due_at     TEXT NOT NULL,
    error      TEXT NOT NULL,
    created_at TEXT NOT NULL
) STRICT;

INSERT INTO deliveries_of_events (id, channel, event, kit, payload, state, attempts, due_at, error, created_at)
SELECT id, channel, event, kit, payload, state, attempts, due_at, error, created_at FROM deliveries;

DROP TABLE deliveries;

ALTER TABLE deliveries_of_events RENAME TO deliveries;

CREATE INDEX deliveries_due ON deliveries (state, due_at);
