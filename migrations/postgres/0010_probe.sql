-- A row that is written to see whether anything can be.

CREATE TABLE probe (
    one BIGINT PRIMARY KEY NOT NULL CHECK (one = 1),
    at  TEXT NOT NULL
);

INSERT INTO probe (one, at) VALUES (1, '');
