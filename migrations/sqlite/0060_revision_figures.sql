-- The figures of the parts of each published revision, for each combination of choices that was computed: what a later version of
-- the engine is held against. The first of a combination is as computed when it was published, a later one as a publisher took it.

CREATE TABLE revision_figures (
    design    TEXT NOT NULL,
    letter    TEXT NOT NULL,
    -- JSON object of option and choice; {} for the first choices.
    choices   TEXT NOT NULL,
    number    INTEGER NOT NULL CHECK (number > 0),
    figures   TEXT NOT NULL,
    -- SHA-256 of the figures, lower-case hex; it is in the audit log too.
    sha256    TEXT NOT NULL,
    engine    TEXT NOT NULL,
    at        TEXT NOT NULL,
    -- Id of the token that published or took them, or `system`.
    token     TEXT NOT NULL,
    PRIMARY KEY (design, letter, choices, number),
    FOREIGN KEY (design, letter) REFERENCES revisions (design, letter)
) STRICT;

CREATE TRIGGER revision_figures_never_change BEFORE UPDATE ON revision_figures
BEGIN SELECT RAISE(ABORT, 'recorded figures are never changed'); END;

CREATE TRIGGER revision_figures_never_go BEFORE DELETE ON revision_figures
BEGIN SELECT RAISE(ABORT, 'recorded figures are never deleted'); END;
