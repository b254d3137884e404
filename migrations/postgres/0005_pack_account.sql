-- How a pack was printed and what it was issued after; its account (manifest) lies in the blobs beside the file.

ALTER TABLE packs ADD COLUMN print TEXT NOT NULL DEFAULT '{}';
ALTER TABLE packs ADD COLUMN pages BIGINT NOT NULL DEFAULT 0;
ALTER TABLE packs ADD COLUMN manifest_sha256 TEXT NOT NULL DEFAULT '';
ALTER TABLE packs ADD COLUMN since_revision TEXT NOT NULL DEFAULT '';
ALTER TABLE packs ADD COLUMN only_changes BIGINT NOT NULL DEFAULT 0;
