-- People signed in on the pages. A session is as good as the token that it was begun with, for some hours.

CREATE TABLE sessions (
    sha256     TEXT PRIMARY KEY NOT NULL,
    token      TEXT NOT NULL REFERENCES tokens (id),
    created_at TEXT NOT NULL,
    expires_at TEXT NOT NULL,
    ended_at   TEXT
) STRICT;
