-- Packs for all kits of a revision, issued one after the other by whichever process holds the lease.

CREATE TABLE pack_jobs (
    number       INTEGER PRIMARY KEY NOT NULL CHECK (number > 0),
    design       TEXT NOT NULL,
    revision     TEXT NOT NULL,
    -- Paper for all kits; NULL when each keeps its own.
    paper        TEXT,
    created_at   TEXT NOT NULL,
    created_by   TEXT NOT NULL,
    cancelled_at TEXT,
    finished_at  TEXT,
    -- The process that works on it, and until when nobody else may.
    leased_by    TEXT NOT NULL DEFAULT '',
    leased_until TEXT NOT NULL DEFAULT '',
    FOREIGN KEY (design, revision) REFERENCES revisions (design, letter)
) STRICT;

CREATE INDEX pack_jobs_unfinished ON pack_jobs (finished_at, number);

CREATE TABLE pack_job_kits (
    job     INTEGER NOT NULL REFERENCES pack_jobs (number),
    kit     TEXT NOT NULL REFERENCES kits (serial),
    state   TEXT NOT NULL CHECK (state IN ('waiting', 'issued', 'current', 'refused', 'left')),
    -- In order of their results, from 1.
    place   INTEGER CHECK (place > 0),
    -- The pack issued, or the one that is current.
    pack    INTEGER,
    -- JSON: code and detail of a refusal; else empty.
    problem TEXT NOT NULL DEFAULT '',
    at      TEXT,
    PRIMARY KEY (job, kit),
    UNIQUE (job, place)
) STRICT;
