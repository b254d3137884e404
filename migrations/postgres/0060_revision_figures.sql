-- The figures of the parts of each published revision, for each combination of choices that was computed: what a later version of
-- the engine is held against. The first of a combination is as computed when it was published, a later one as a publisher took it.

CREATE TABLE revision_figures (
    design    TEXT COLLATE "C" NOT NULL,
    letter    TEXT COLLATE "C" NOT NULL,
    -- JSON object of option and choice; {} for the first choices.
    choices   TEXT COLLATE "C" NOT NULL,
    number    BIGINT NOT NULL CHECK (number > 0),
    figures   TEXT NOT NULL,
    -- SHA-256 of the figures, lower-case hex; it is in the audit log too.
    sha256    TEXT NOT NULL,
    engine    TEXT NOT NULL,
    at        TEXT NOT NULL,
    -- Id of the token that published or took them, or `system`.
    token     TEXT NOT NULL,
    PRIMARY KEY (design, letter, choices, number),
    FOREIGN KEY (design, letter) REFERENCES revisions (design, letter)
);

CREATE TRIGGER revision_figures_never_change BEFORE UPDATE ON revision_figures FOR EACH ROW EXECUTE FUNCTION refuse('recorded figures are never changed');
CREATE TRIGGER revision_figures_never_go BEFORE DELETE ON revision_figures FOR EACH ROW EXECUTE FUNCTION refuse('recorded figures are never deleted');
CREATE TRIGGER revision_figures_never_emptied BEFORE TRUNCATE ON revision_figures EXECUTE FUNCTION refuse('recorded figures are never deleted');
