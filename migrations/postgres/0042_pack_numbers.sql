-- Numbers of packs, taken before the pack is drawn; and what a pack was drawn with.

-- The row of a number goes when its pack is recorded. A number whose pack could not be issued is void for good.
CREATE TABLE pack_numbers (
    kit        TEXT COLLATE "C" NOT NULL REFERENCES kits (serial),
    number     BIGINT NOT NULL CHECK (number > 0),
    -- Hash of the call that it was taken for, which takes it up again when it is repeated; empty for a call without a key.
    call       TEXT COLLATE "C" NOT NULL,
    taken_at   TEXT COLLATE "C" NOT NULL,
    taken_by   TEXT COLLATE "C" NOT NULL,
    -- Until when its pack may still be recorded.
    good_until TEXT COLLATE "C" NOT NULL,
    void_at    TEXT COLLATE "C",
    PRIMARY KEY (kit, number)
);

CREATE TRIGGER pack_numbers_stay_void BEFORE UPDATE ON pack_numbers FOR EACH ROW WHEN (OLD.void_at IS NOT NULL) EXECUTE FUNCTION refuse('a void number never changes');
CREATE TRIGGER pack_numbers_never_go BEFORE DELETE ON pack_numbers FOR EACH ROW WHEN (OLD.void_at IS NOT NULL) EXECUTE FUNCTION refuse('a void number is never deleted');
CREATE TRIGGER pack_numbers_never_emptied BEFORE TRUNCATE ON pack_numbers EXECUTE FUNCTION refuse('a void number is never deleted');

CREATE FUNCTION refuse_void_number() RETURNS trigger LANGUAGE plpgsql AS
$$ BEGIN
    IF EXISTS (SELECT 1 FROM pack_numbers WHERE kit = NEW.kit AND number = NEW.number AND void_at IS NOT NULL) THEN
        RAISE EXCEPTION 'a void number is never used';
    END IF;
    RETURN NEW;
END $$;

CREATE TRIGGER packs_never_void BEFORE INSERT ON packs FOR EACH ROW EXECUTE FUNCTION refuse_void_number();

-- JSON: measured values, notices and recalls that the pack was drawn with; empty for one from before that was kept.
ALTER TABLE packs ADD COLUMN drawn_with TEXT NOT NULL DEFAULT '';
