-- Drafts held still while a second person looks at them, and who a token stands for.

-- One below the other: the newest of a design counts. `published` ends a freeze as `thawed` does.
CREATE TABLE draft_reviews (
    design          TEXT COLLATE "C" NOT NULL,
    number          BIGINT NOT NULL CHECK (number > 0),
    step            TEXT COLLATE "C" NOT NULL CHECK (step IN ('frozen', 'thawed', 'published')),
    save            BIGINT NOT NULL,
    document_sha256 TEXT COLLATE "C" NOT NULL,
    at              TEXT NOT NULL,
    token           TEXT NOT NULL,
    PRIMARY KEY (design, number),
    FOREIGN KEY (design, save) REFERENCES draft_saves (design, number)
);

-- Id of the token that this one follows by rotation, from the first on; NULL for one that follows none.
ALTER TABLE tokens ADD COLUMN follows TEXT COLLATE "C";

CREATE TRIGGER draft_reviews_never_change BEFORE UPDATE ON draft_reviews FOR EACH ROW EXECUTE FUNCTION refuse('a recorded review never changes');

CREATE TRIGGER draft_reviews_never_go BEFORE DELETE ON draft_reviews FOR EACH ROW EXECUTE FUNCTION refuse('a recorded review is never deleted');
CREATE TRIGGER draft_reviews_never_emptied BEFORE TRUNCATE ON draft_reviews EXECUTE FUNCTION refuse('a recorded review is never deleted');
