-- Drafts held still while a second person looks at them, and who a token stands for.

-- One below the other: the newest of a design counts. `published` ends a freeze as `thawed` does.
CREATE TABLE draft_reviews (
    design          TEXT NOT NULL,
    number          INTEGER NOT NULL CHECK (number > 0),
    step            TEXT NOT NULL CHECK (step IN ('frozen', 'thawed', 'published')),
    save            INTEGER NOT NULL,
    document_sha256 TEXT NOT NULL,
    at              TEXT NOT NULL,
    token           TEXT NOT NULL,
    PRIMARY KEY (design, number),
    FOREIGN KEY (design, save) REFERENCES draft_saves (design, number)
) STRICT;

-- Id of the token that this one follows by rotation, from the first on; NULL for one that follows none.
ALTER TABLE tokens ADD COLUMN follows TEXT;

CREATE TRIGGER draft_reviews_never_change BEFORE UPDATE ON draft_reviews
BEGIN SELECT RAISE(ABORT, 'a recorded review never changes'); END;

CREATE TRIGGER draft_reviews_never_go BEFORE DELETE ON draft_reviews
BEGIN SELECT RAISE(ABORT, 'a recorded review is never deleted'); END;

CREATE TRIGGER draft_reviews_never_replaced BEFORE INSERT ON draft_reviews
WHEN EXISTS (SELECT 1 FROM draft_reviews WHERE design = NEW.design AND number = NEW.number)
BEGIN SELECT RAISE(ABORT, 'a recorded review is never replaced'); END;
