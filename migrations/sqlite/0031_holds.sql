-- Kits whose drawings are not handed out for the present, in a dispute or after a theft.

-- Reasons may name people, so that they can be emptied.
CREATE TABLE kit_holds (
    kit         TEXT NOT NULL REFERENCES kits (serial),
    number      INTEGER NOT NULL CHECK (number > 0),
    -- For the supplier's own people.
    reason      TEXT NOT NULL,
    -- Whom the holder of the kit is to ask; shown to them.
    ask         TEXT NOT NULL,
    at          TEXT NOT NULL,
    token       TEXT NOT NULL,
    lifted_at   TEXT,
    lifted_by   TEXT,
    lift_reason TEXT NOT NULL DEFAULT '',
    PRIMARY KEY (kit, number),
    CHECK ((lifted_at IS NULL) = (lifted_by IS NULL))
) STRICT;

-- One at a time.
CREATE UNIQUE INDEX kit_holds_standing ON kit_holds (kit) WHERE lifted_at IS NULL;

CREATE TRIGGER kit_holds_never_go BEFORE DELETE ON kit_holds
BEGIN SELECT RAISE(ABORT, 'a recorded hold is never deleted'); END;
