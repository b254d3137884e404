-- People signed in on the pages. A session is as good as the token that it was begun with, for some hours.

CREATE TABLE sessions (
    sha256     TEXT COLLATE "C" PRIMARY KEY NOT NULL,
    token      TEXT COLLATE "C" NOT NULL REFERENCES tokens (id),
    created_at TEXT COLLATE "C" NOT NULL,
    expires_at TEXT COLLATE "C" NOT NULL,
    ended_at   TEXT COLLATE "C"
);
