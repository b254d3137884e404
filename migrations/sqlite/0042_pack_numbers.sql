-- Numbers of packs, taken before the pack is drawn; and what a pack was drawn with.

-- The row of a number goes when its pack is recorded. A number whose pack could not be issued is void for good.
CREATE TABLE pack_numbers (
    kit        TEXT NOT NULL REFERENCES kits (serial),
    number     INTEGER NOT NULL CHECK (number > 0),
    -- Hash of the call that it was taken for, which takes it up again when it is repeated; empty for a call without a key.
    call       TEXT NOT NULL,
    taken_at   TEXT NOT NULL,
    taken_by   TEXT NOT NULL,
    -- Until when its pack may still be recorded.
    good_until TEXT NOT NULL,
    void_at    TEXT,
    PRIMARY KEY (kit, number)
) STRICT;

CREATE TRIGGER pack_numbers_stay_void BEFORE UPDATE ON pack_numbers WHEN OLD.void_at IS NOT NULL
BEGIN SELECT RAISE(ABORT, 'a void number never changes'); END;

CREATE TRIGGER pack_numbers_never_go BEFORE DELETE ON pack_numbers WHEN OLD.void_at IS NOT NULL
BEGIN SELECT RAISE(ABORT, 'a void number is never deleted'); END;

CREATE TRIGGER pack_numbers_never_replaced BEFORE INSERT ON pack_numbers
WHEN EXISTS (SELECT 1 FROM pack_numbers WHERE kit = NEW.kit AND number = NEW.number)
BEGIN SELECT RAISE(ABORT, 'a number is never taken twice'); END;

CREATE TRIGGER packs_never_void BEFORE INSERT ON packs
WHEN EXISTS (SELECT 1 FROM pack_numbers WHERE kit = NEW.kit AND number = NEW.number AND void_at IS NOT NULL)
BEGIN SELECT RAISE(ABORT, 'a void number is never used'); END;

-- JSON: measured values, notices and recalls that the pack was drawn with; empty for one from before that was kept.
ALTER TABLE packs ADD COLUMN drawn_with TEXT NOT NULL DEFAULT '';
