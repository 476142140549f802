-- Whether the main drain was seen may be unknown: nobody looked, which is neither yes nor no.
ALTER TABLE visit ALTER COLUMN drain_visible DROP NOT NULL;
ALTER TABLE visit ALTER COLUMN drain_visible DROP DEFAULT;
