-- Keys that nobody is to trust any more, by whatever they signed: known or feared to be in strange hands.

CREATE TABLE revoked_keys (
    -- Ed25519, 64 hexadecimal digits.
    public_key TEXT PRIMARY KEY NOT NULL,
    at         TEXT NOT NULL,
    reason     TEXT NOT NULL
) STRICT;

CREATE TRIGGER revoked_keys_never_change BEFORE UPDATE ON revoked_keys
BEGIN SELECT RAISE(ABORT, 'a revoked key stays revoked'); END;

CREATE TRIGGER revoked_keys_never_go BEFORE DELETE ON revoked_keys
BEGIN SELECT RAISE(ABORT, 'a revoked key stays revoked'); END;

CREATE TRIGGER revoked_keys_never_replaced BEFORE INSERT ON revoked_keys
WHEN EXISTS (SELECT 1 FROM revoked_keys WHERE public_key = NEW.public_key)
BEGIN SELECT RAISE(ABORT, 'a revoked key stays revoked'); END;
