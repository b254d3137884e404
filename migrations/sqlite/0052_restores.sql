-- Restores of older backups, and the numbers and letters that each left out because they may have been given out since the backup.

CREATE TABLE restores (
    number   INTEGER PRIMARY KEY NOT NULL CHECK (number > 0),
    at       TEXT NOT NULL,
    -- When the backup was taken.
    taken_at TEXT NOT NULL
) STRICT;

-- Numbers of packs, first and last included.
CREATE TABLE kit_skips (
    kit     TEXT NOT NULL REFERENCES kits (serial),
    first   INTEGER NOT NULL CHECK (first > 0),
    last    INTEGER NOT NULL,
    -- Number of the restore.
    restore INTEGER NOT NULL REFERENCES restores (number),
    PRIMARY KEY (kit, first),
    CHECK (last >= first)
) STRICT;

-- Numbers of revisions and notices. A design that came with a gap in its letters has it here too, with restore 0.
CREATE TABLE design_skips (
    design  TEXT NOT NULL REFERENCES designs (id),
    what    TEXT NOT NULL CHECK (what IN ('revision', 'notice')),
    first   INTEGER NOT NULL CHECK (first > 0),
    last    INTEGER NOT NULL,
    restore INTEGER NOT NULL,
    PRIMARY KEY (design, what, first),
    CHECK (last >= first)
) STRICT;

CREATE TRIGGER restores_never_change BEFORE UPDATE ON restores
BEGIN SELECT RAISE(ABORT, 'a recorded restore never changes'); END;

CREATE TRIGGER restores_never_go BEFORE DELETE ON restores
BEGIN SELECT RAISE(ABORT, 'a recorded restore is never deleted'); END;

CREATE TRIGGER restores_never_replaced BEFORE INSERT ON restores
WHEN EXISTS (SELECT 1 FROM restores WHERE number = NEW.number)
BEGIN SELECT RAISE(ABORT, 'a recorded restore is never replaced'); END;

CREATE TRIGGER kit_skips_never_change BEFORE UPDATE ON kit_skips
BEGIN SELECT RAISE(ABORT, 'a recorded gap never changes'); END;

CREATE TRIGGER kit_skips_never_go BEFORE DELETE ON kit_skips
BEGIN SELECT RAISE(ABORT, 'a recorded gap is never deleted'); END;

CREATE TRIGGER kit_skips_never_replaced BEFORE INSERT ON kit_skips
WHEN EXISTS (SELECT 1 FROM kit_skips WHERE kit = NEW.kit AND first = NEW.first)
BEGIN SELECT RAISE(ABORT, 'a recorded gap is never replaced'); END;

CREATE TRIGGER design_skips_never_change BEFORE UPDATE ON design_skips
BEGIN SELECT RAISE(ABORT, 'a recorded gap never changes'); END;

CREATE TRIGGER design_skips_never_go BEFORE DELETE ON design_skips
BEGIN SELECT RAISE(ABORT, 'a recorded gap is never deleted'); END;

CREATE TRIGGER design_skips_never_replaced BEFORE INSERT ON design_skips
WHEN EXISTS (SELECT 1 FROM design_skips WHERE design = NEW.design AND what = NEW.what AND first = NEW.first)
BEGIN SELECT RAISE(ABORT, 'a recorded gap is never replaced'); END;
