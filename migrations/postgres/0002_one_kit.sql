-- Part numbers of a revision; the choices a kit was sold with; what its builder measured.

-- JSON as the engine writes it; empty for revisions published before parts had numbers.
ALTER TABLE revisions ADD COLUMN numbers TEXT NOT NULL DEFAULT '';

-- JSON object: choice by option.
ALTER TABLE kits ADD COLUMN choices TEXT NOT NULL DEFAULT '{}';

-- Kept one below the other: the newest of a gauge counts.
CREATE TABLE measurements (
    kit    TEXT COLLATE "C" NOT NULL REFERENCES kits (serial),
    number BIGINT NOT NULL CHECK (number > 0),
    gauge  TEXT COLLATE "C" NOT NULL,
    value  DOUBLE PRECISION NOT NULL,
    at     TEXT NOT NULL,
    token  TEXT COLLATE "C" NOT NULL,
    PRIMARY KEY (kit, number)
);

CREATE TRIGGER measurements_never_change BEFORE UPDATE ON measurements FOR EACH ROW EXECUTE FUNCTION refuse('a measured value never changes: measure again');
CREATE TRIGGER measurements_never_go BEFORE DELETE ON measurements FOR EACH ROW EXECUTE FUNCTION refuse('a measured value is never deleted');
CREATE TRIGGER measurements_never_emptied BEFORE TRUNCATE ON measurements EXECUTE FUNCTION refuse('a measured value is never deleted');
