-- Keys that nobody is to trust any more, by whatever they signed: known or feared to be in strange hands.

CREATE TABLE revoked_keys (
    -- Ed25519, 64 hexadecimal digits.
    public_key TEXT COLLATE "C" PRIMARY KEY,
    at         TEXT NOT NULL,
    reason     TEXT NOT NULL
);

CREATE TRIGGER revoked_keys_never_change BEFORE UPDATE ON revoked_keys FOR EACH ROW EXECUTE FUNCTION refuse('a revoked key stays revoked');
CREATE TRIGGER revoked_keys_never_go BEFORE DELETE ON revoked_keys FOR EACH ROW EXECUTE FUNCTION refuse('a revoked key stays revoked');
CREATE TRIGGER revoked_keys_never_emptied BEFORE TRUNCATE ON revoked_keys EXECUTE FUNCTION refuse('a revoked key stays revoked');
