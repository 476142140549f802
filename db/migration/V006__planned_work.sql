-- Work that the office wants done at a pool's next stop: part of the water replaced, another chlorine from then on.

CREATE TABLE planned_work (
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
    closed_at    timestamptz,
    -- NULL when a visit's own record closed it
    closed_by    uuid,
    PRIMARY KEY (company_id, id),
    FOREIGN KEY (company_id, pool_id) REFERENCES pool (company_id, id) ON DELETE CASCADE,
    FOREIGN KEY (company_id, planned_by) REFERENCES person (company_id, id),
    FOREIGN KEY (company_id, closed_by) REFERENCES person (company_id, id),
    CHECK ((kind = 'DRAIN') = (share IS NOT NULL)),
    CHECK ((kind = 'CHLORINE') = (chlorine IS NOT NULL)),
    CHECK ((outcome IS NULL) = (closed_at IS NULL))
);
CREATE INDEX planned_work_pool ON planned_work (company_id, pool_id);
CREATE INDEX planned_work_planned_by ON planned_work (company_id, planned_by);
CREATE INDEX planned_work_closed_by ON planned_work (company_id, closed_by);
