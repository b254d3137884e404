-- Public keys that this service signed with, one below the other: the newest of each purpose is the one in force.

CREATE TABLE signing_keys (
    purpose    TEXT NOT NULL CHECK (purpose IN ('pages', 'status')),
    number     INTEGER NOT NULL CHECK (number > 0),
    -- Ed25519, 64 hexadecimal digits.
    public_key TEXT NOT NULL,
    at         TEXT NOT NULL,
    PRIMARY KEY (purpose, number)
) STRICT;

CREATE TRIGGER signing_keys_never_change BEFORE UPDATE ON signing_keys
BEGIN SELECT RAISE(ABORT, 'a recorded key never changes'); END;

CREATE TRIGGER signing_keys_never_go BEFORE DELETE ON signing_keys
BEGIN SELECT RAISE(ABORT, 'a recorded key is never deleted'); END;

CREATE TRIGGER signing_keys_never_replaced BEFORE INSERT ON signing_keys
WHEN EXISTS (SELECT 1 FROM signing_keys WHERE purpose = NEW.purpose AND number = NEW.number)
BEGIN SELECT RAISE(ABORT, 'a recorded key is never replaced'); END;
