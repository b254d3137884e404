-- Restores of older backups, and the numbers and letters that each left out because they may have been given out since the backup.

CREATE TABLE restores (
    number   BIGINT PRIMARY KEY NOT NULL CHECK (number > 0),
    at       TEXT NOT NULL,
    -- When the backup was taken.
    taken_at TEXT NOT NULL
);

-- Numbers of packs, first and last included.
CREATE TABLE kit_skips (
    kit     TEXT COLLATE "C" NOT NULL REFERENCES kits (serial),
    first   BIGINT NOT NULL CHECK (first > 0),
    last    BIGINT NOT NULL,
    -- Number of the restore.
    restore BIGINT NOT NULL REFERENCES restores (number),
    PRIMARY KEY (kit, first),
    CHECK (last >= first)
);

-- Numbers of revisions and notices. A design that came with a gap in its letters has it here too, with restore 0.
CREATE TABLE design_skips (
    design  TEXT COLLATE "C" NOT NULL REFERENCES designs (id),
    what    TEXT COLLATE "C" NOT NULL CHECK (what IN ('revision', 'notice')),
    first   BIGINT NOT NULL CHECK (first > 0),
    last    BIGINT NOT NULL,
    restore BIGINT NOT NULL,
    PRIMARY KEY (design, what, first),
    CHECK (last >= first)
);

CREATE TRIGGER restores_never_change BEFORE UPDATE ON restores FOR EACH ROW EXECUTE FUNCTION refuse('a recorded restore never changes');
CREATE TRIGGER restores_never_go BEFORE DELETE ON restores FOR EACH ROW EXECUTE FUNCTION refuse('a recorded restore is never deleted');
CREATE TRIGGER restores_never_emptied BEFORE TRUNCATE ON restores EXECUTE FUNCTION refuse('a recorded restore is never deleted');

CREATE TRIGGER kit_skips_never_change BEFORE UPDATE ON kit_skips FOR EACH ROW EXECUTE FUNCTION refuse('a recorded gap never changes');
CREATE TRIGGER kit_skips_never_go BEFORE DELETE ON kit_skips FOR EACH ROW EXECUTE FUNCTION refuse('a recorded gap is never deleted');
CREATE TRIGGER kit_skips_never_emptied BEFORE TRUNCATE ON kit_skips EXECUTE FUNCTION refuse('a recorded gap is never deleted');

CREATE TRIGGER design_skips_never_change BEFORE UPDATE ON design_skips FOR EACH ROW EXECUTE FUNCTION refuse('a recorded gap never changes');
CREATE TRIGGER design_skips_never_go BEFORE DELETE ON design_skips FOR EACH ROW EXECUTE FUNCTION refuse('a recorded gap is never deleted');
CREATE TRIGGER design_skips_never_emptied BEFORE TRUNCATE ON design_skips EXECUTE FUNCTION refuse('a recorded gap is never deleted');
