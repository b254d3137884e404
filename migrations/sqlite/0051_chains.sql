-- A chain of acts for each design, for each kit and for the house; what the acts say of rows; the heads of all chains joined now and then.
-- Acts from before stay in their one chain, '', and every new chain begins at its end.

ALTER TABLE audit ADD COLUMN chain TEXT NOT NULL DEFAULT '';
-- Place within the chain, from 1. The number is the order in which acts arrived.
ALTER TABLE audit ADD COLUMN place INTEGER NOT NULL DEFAULT 0;
-- JSON: the rows that the act left so, each with hashes of what it holds.
ALTER TABLE audit ADD COLUMN facts TEXT NOT NULL DEFAULT '';

CREATE UNIQUE INDEX audit_by_chain ON audit (chain, place) WHERE chain <> '';
CREATE INDEX audit_of_before ON audit (number) WHERE chain = '';

-- Where each chain ends, and up to where a checkpoint has joined it.
CREATE TABLE chain_heads (
    chain  TEXT PRIMARY KEY NOT NULL,
    place  INTEGER NOT NULL,
    hash   TEXT NOT NULL,
    joined INTEGER NOT NULL
) STRICT;

CREATE INDEX chain_heads_open ON chain_heads (chain) WHERE joined < place;

-- One below the other, each with the heads that moved since the one before.
CREATE TABLE checkpoints (
    number   INTEGER PRIMARY KEY NOT NULL CHECK (number > 0),
    at       TEXT NOT NULL,
    -- JSON: chain, place and hash of each.
    heads    TEXT NOT NULL,
    previous TEXT NOT NULL,
    hash     TEXT NOT NULL
) STRICT;

-- What the hashes of rows that may name people are mixed with, so that nobody can guess who was erased. It goes with every change.
CREATE TABLE row_salts (
    of_table TEXT NOT NULL,
    of_row   TEXT NOT NULL,
    salt     TEXT NOT NULL,
    PRIMARY KEY (of_table, of_row)
) STRICT;

-- Tables whose rows are all on record. A step of the schema that changes rows takes the name of their table out, so that the next
-- start puts them on record as they are then.
CREATE TABLE recorded_tables (
    name TEXT PRIMARY KEY NOT NULL,
    at   TEXT NOT NULL
) STRICT;

CREATE TRIGGER audit_never_replaced_in_chain BEFORE INSERT ON audit
WHEN NEW.chain <> '' AND EXISTS (SELECT 1 FROM audit WHERE chain = NEW.chain AND place = NEW.place)
BEGIN SELECT RAISE(ABORT, 'the audit log is never replaced'); END;

CREATE TRIGGER checkpoints_never_change BEFORE UPDATE ON checkpoints
BEGIN SELECT RAISE(ABORT, 'a checkpoint never changes'); END;

CREATE TRIGGER checkpoints_never_go BEFORE DELETE ON checkpoints
BEGIN SELECT RAISE(ABORT, 'a checkpoint is never deleted'); END;

CREATE TRIGGER checkpoints_never_replaced BEFORE INSERT ON checkpoints
WHEN EXISTS (SELECT 1 FROM checkpoints WHERE number = NEW.number)
BEGIN SELECT RAISE(ABORT, 'a checkpoint is never replaced'); END;
