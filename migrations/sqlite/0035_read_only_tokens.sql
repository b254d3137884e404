-- 1 for a token that only reads.
ALTER TABLE tokens ADD COLUMN read_only INTEGER NOT NULL DEFAULT 0 CHECK (read_only IN (0, 1));
