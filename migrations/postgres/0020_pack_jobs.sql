-- Packs for all kits of a revision, issued one after the other by whichever process holds the lease.

CREATE TABLE pack_jobs (
    number       BIGINT PRIMARY KEY NOT NULL CHECK (number > 0),
    design       TEXT COLLATE "C" NOT NULL,
    revision     TEXT COLLATE "C" NOT NULL,
    -- Paper for all kits; NULL when each keeps its own.
    paper        TEXT COLLATE "C",
    created_at   TEXT COLLATE "C" NOT NULL,
    created_by   TEXT COLLATE "C" NOT NULL,
    cancelled_at TEXT COLLATE "C",
    finished_at  TEXT COLLATE "C",
    -- The process that works on it, and until when nobody else may.
    leased_by    TEXT COLLATE "C" NOT NULL DEFAULT '',
    leased_until TEXT COLLATE "C" NOT NULL DEFAULT '',
    FOREIGN KEY (design, revision) REFERENCES revisions (design, letter)
);

CREATE INDEX pack_jobs_unfinished ON pack_jobs (finished_at, number);

CREATE TABLE pack_job_kits (
    job     BIGINT NOT NULL REFERENCES pack_jobs (number),
    kit     TEXT COLLATE "C" NOT NULL REFERENCES kits (serial),
    state   TEXT COLLATE "C" NOT NULL CHECK (state IN ('waiting', 'issued', 'current', 'refused', 'left')),
    -- In order of their results, from 1.
    place   BIGINT CHECK (place > 0),
    -- The pack issued, or the one that is current.
    pack    BIGINT,
    -- JSON: code and detail of a refusal; else empty.
    problem TEXT COLLATE "C" NOT NULL DEFAULT '',
    at      TEXT COLLATE "C",
    PRIMARY KEY (job, kit),
    UNIQUE (job, place)
);
