-- What happened, told to other programs. Ids only grow; each write adds its own before the next begins.
CREATE TABLE events (
    id      BIGINT PRIMARY KEY NOT NULL,
    at      TEXT NOT NULL,
    kind    TEXT NOT NULL,
    -- Address in the API.
    subject TEXT NOT NULL,
    -- JSON.
    facts   TEXT NOT NULL
);

-- Deliveries of any event, of a kit or of none.
ALTER TABLE deliveries DROP CONSTRAINT deliveries_event_check;

ALTER TABLE deliveries ALTER COLUMN kit DROP NOT NULL;
