-- Work that the office wants done at a pool's next stop: part of the water replaced, another chlorine from then on.

CREATE TABLE pool_work (
    company_id   uuid        NOT NULL,
    id           uuid        NOT NULL,
    pool_id      uuid        NOT NULL,
    kind         text        NOT NULL CHECK (kind IN ('DRAIN', 'CHLORINE')),
    -- of the water, for a drain
    share        numeric(4, 3) CHECK (share > 0 AND share <= 1),
    -- which chlorine from then on
    chlorine     text        CHECK (chlorine IN ('TABLETS', 'DICHLOR', 'CALCIUM_HYPOCHLORITE', 'LIQUID_CHLORINE')),
    planned_on   date        NOT NULL,
    planned_by   uuid        NOT NULL,
    outcome      text        CHECK (outcome IN ('DONE', 'DROPPED')),
    settled_at   timestamptz,
    -- NULL when a visit's own record settled it
    settled_by   uuid,
    PRIMARY KEY (company_id, id),
    FOREIGN KEY (company_id, pool_id) REFERENCES pool (company_id, id) ON DELETE CASCADE,
    FOREIGN KEY (company_id, planned_by) REFERENCES person (company_id, id),
    FOREIGN KEY (company_id, settled_by) REFERENCES person (company_id, id),
    CHECK ((kind = 'DRAIN') = (share IS NOT NULL)),
    CHECK ((kind = 'CHLORINE') = (chlorine IS NOT NULL)),
    CHECK ((outcome IS NULL) = (settled_at IS NULL))
);
CREATE INDEX pool_work_pool ON pool_work (company_id, pool_id);
CREATE INDEX pool_work_planned_by ON pool_work (company_id, planned_by);
CREATE INDEX pool_work_settled_by ON pool_work (company_id, settled_by);
ALTER TABLE pool_work ENABLE ROW LEVEL SECURITY;
ALTER TABLE pool_work FORCE ROW LEVEL SECURITY;
CREATE POLICY tenant ON pool_work
    USING      (company_id = nullif(current_setting('app.company_id', true), '')::uuid)
    WITH CHECK (company_id = nullif(current_setting('app.company_id', true), '')::uuid);
