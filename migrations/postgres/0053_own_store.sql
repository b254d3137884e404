-- Whose the place of the blobs is, and which blobs this database wrote.

-- A name that the place of the blobs bears too.
CREATE TABLE identity (
    one BIGINT PRIMARY KEY NOT NULL CHECK (one = 1),
    id  TEXT NOT NULL
);

-- Blobs that were written for packs, until a sweep has seen that a pack speaks of them or that none does.
CREATE TABLE written_blobs (
    sha256 TEXT COLLATE "C" PRIMARY KEY NOT NULL,
    bytes  BIGINT NOT NULL,
    at     TEXT NOT NULL
);
