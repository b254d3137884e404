-- Which pack a blob belongs to, asked before an orphan is removed.

CREATE INDEX packs_by_file ON packs (sha256);
CREATE INDEX packs_by_account ON packs (manifest_sha256);
