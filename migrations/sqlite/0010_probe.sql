-- A row that is written to see whether anything can be.

CREATE TABLE probe (
    one INTEGER PRIMARY KEY NOT NULL CHECK (one = 1),
    at  TEXT NOT NULL
) STRICT;

INSERT INTO probe (one, at) VALUES (1, '');
