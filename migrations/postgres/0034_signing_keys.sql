-- Public keys that this service signed with, one below the other: the newest of each purpose is the one in force.

CREATE TABLE signing_keys (
    purpose    TEXT COLLATE "C" NOT NULL CHECK (purpose IN ('pages', 'status')),
    number     BIGINT NOT NULL CHECK (number > 0),
    -- Ed25519, 64 hexadecimal digits.
    public_key TEXT NOT NULL,
    at         TEXT NOT NULL,
    PRIMARY KEY (purpose, number)
);

CREATE TRIGGER signing_keys_never_change BEFORE UPDATE ON signing_keys FOR EACH ROW EXECUTE FUNCTION refuse('a recorded key never changes');
CREATE TRIGGER signing_keys_never_go BEFORE DELETE ON signing_keys FOR EACH ROW EXECUTE FUNCTION refuse('a recorded key is never deleted');
CREATE TRIGGER signing_keys_never_emptied BEFORE TRUNCATE ON signing_keys EXECUTE FUNCTION refuse('a recorded key is never deleted');
