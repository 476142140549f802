-- One standing link for a pool at a time: a new one ends the one before.
CREATE UNIQUE INDEX report_link_standing ON report_link (company_id, pool_id) WHERE pool_id IS NOT NULL AND revoked_at IS NULL;
