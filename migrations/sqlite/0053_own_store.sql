-- Whose the place of the blobs is, and which blobs this database wrote.

-- A name that the place of the blobs bears too.
CREATE TABLE identity (
    one INTEGER PRIMARY KEY NOT NULL CHECK (one = 1),
    id  TEXT NOT NULL
) STRICT;

-- Blobs that were written for packs, until a sweep has seen that a pack speaks of them or that none does.
CREATE TABLE written_blobs (
    sha256 TEXT PRIMARY KEY NOT NULL,
    bytes  INTEGER NOT NULL,
    at     TEXT NOT NULL
) STRICT;
