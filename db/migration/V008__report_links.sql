-- Links by which a homeowner opens one visit, or the newest visit of one pool. The second of the two global uniques.

CREATE TABLE report_link (
    -- SHA-256 of the 32 random bytes in the link; the link itself is shown once and never stored
    token_hash  bytea       PRIMARY KEY CHECK (length(token_hash) = 32),
    company_id  uuid        NOT NULL,
    id          uuid        NOT NULL,
    -- exactly one of the two: a single visit, or the pool's standing link
    visit_id    uuid,
    pool_id     uuid,
    created_at  timestamptz NOT NULL,
    created_by  uuid        NOT NULL,
    expires_at  timestamptz NOT NULL,
    revoked_at  timestamptz,
    CHECK ((visit_id IS NULL) <> (pool_id IS NULL)),
    UNIQUE (company_id, id)
);
CREATE INDEX report_link_visit ON report_link (company_id, visit_id);
CREATE INDEX report_link_pool ON report_link (company_id, pool_id);
-- One standing link for a pool at a time: a new one ends the one before.
CREATE UNIQUE INDEX report_link_standing ON report_link (company_id, pool_id) WHERE pool_id IS NOT NULL AND revoked_at IS NULL;
