-- 1 where a value that was measured by mistake was taken back; the value is the one that was. NULL elsewhere, so that the hashes of
-- rows on record stay what they are.
ALTER TABLE measurements ADD COLUMN taken_back INTEGER CHECK (taken_back = 1);
