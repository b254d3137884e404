-- Part numbers of a revision; the choices a kit was sold with; what its builder measured.

-- JSON as the engine writes it; empty for revisions published before parts had numbers.
ALTER TABLE revisions ADD COLUMN numbers TEXT NOT NULL DEFAULT '';

-- JSON object: choice by option.
ALTER TABLE kits ADD COLUMN choices TEXT NOT NULL DEFAULT '{}';

-- Kept one below the other: the newest of a gauge counts.
CREATE TABLE measurements (
    kit    TEXT NOT NULL REFERENCES kits (serial),
    number INTEGER NOT NULL CHECK (number > 0),
    gauge  TEXT NOT NULL,
    value  REAL NOT NULL,
    at     TEXT NOT NULL,
    token  TEXT NOT NULL,
    PRIMARY KEY (kit, number)
) STRICT;

CREATE TRIGGER measurements_never_change BEFORE UPDATE ON measurements
BEGIN SELECT RAISE(ABORT, 'a measured value never changes: measure again'); END;

CREATE TRIGGER measurements_never_go BEFORE DELETE ON measurements
BEGIN SELECT RAISE(ABORT, 'a measured value is never deleted'); END;

CREATE TRIGGER measurements_never_replaced BEFORE INSERT ON measurements
WHEN EXISTS (SELECT 1 FROM measurements WHERE kit = NEW.kit AND number = NEW.number)
BEGIN SELECT RAISE(ABORT, 'a measured value is never replaced'); END;
