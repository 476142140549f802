-- Where the slow levels of each pool stand and go, as last judged. Worked out from visits alone: every row can be dropped and made
-- again. Beside it what people decide about it: a notice that was dismissed.

-- weather normals that evaporation and rain are taken from; NULL = not chosen, a temperate climate is taken
ALTER TABLE company ADD COLUMN climate text CHECK (climate IN ('HOT_DRY', 'SUBTROPICAL', 'TEMPERATE', 'MEDITERRANEAN'));

CREATE TABLE pool_season (
    company_id         uuid        NOT NULL,
    pool_id            uuid        NOT NULL,
    judged_on          date        NOT NULL,
    judged_at          timestamptz NOT NULL,
    -- copies from visits, for choosing among pools
    last_visit_on      date,
    last_technician_id uuid,
    products           text[]      NOT NULL DEFAULT '{}',
    PRIMARY KEY (company_id, pool_id),
    FOREIGN KEY (company_id, pool_id) REFERENCES pool (company_id, id) ON DELETE CASCADE
);
ALTER TABLE pool_season ENABLE ROW LEVEL SECURITY;
ALTER TABLE pool_season FORCE ROW LEVEL SECURITY;
CREATE POLICY tenant ON pool_season
    USING      (company_id = nullif(current_setting('app.company_id', true), '')::uuid)
    WITH CHECK (company_id = nullif(current_setting('app.company_id', true), '')::uuid);

CREATE TABLE drift (
    company_id       uuid NOT NULL,
    pool_id          uuid NOT NULL,
    level            text NOT NULL CHECK (level IN ('CYA', 'CH', 'SALT', 'TDS', 'BORATE')),
    -- 80 % band of today, ppm; NULL when nothing can be told
    low_ppm          numeric(8, 2),
    middle_ppm       numeric(8, 2),
    high_ppm         numeric(8, 2),
    -- end of the acceptable range that is expected to be left first, with what is expected if nobody intervenes
    side             text CHECK (side IN ('LOW', 'HIGH')),
    limit_ppm        numeric(8, 2),
    leaves_early     date,
    leaves           date,
    leaves_late      date,
    chance_horizon   numeric(5, 4) CHECK (chance_horizon BETWEEN 0 AND 1),
    chance_season    numeric(5, 4) CHECK (chance_season BETWEEN 0 AND 1),
    flag_side        text CHECK (flag_side IN ('LOW', 'HIGH')),
    flag_since       date,
    flag_chance      numeric(5, 4) CHECK (flag_chance BETWEEN 0 AND 1),
    -- readings, forecast and causes for the small picture and the reason; shown, never queried
    evidence         jsonb NOT NULL,
    PRIMARY KEY (company_id, pool_id, level),
    FOREIGN KEY (company_id, pool_id) REFERENCES pool_season (company_id, pool_id) ON DELETE CASCADE,
    CHECK ((flag_side IS NULL) = (flag_since IS NULL))
);
ALTER TABLE drift ENABLE ROW LEVEL SECURITY;
ALTER TABLE drift FORCE ROW LEVEL SECURITY;
CREATE POLICY tenant ON drift
    USING      (company_id = nullif(current_setting('app.company_id', true), '')::uuid)
    WITH CHECK (company_id = nullif(current_setting('app.company_id', true), '')::uuid);

-- A standing flag that the office has handled. It goes when that flag no longer stands, so the next one is a notice again.
CREATE TABLE drift_dismissal (
    company_id   uuid        NOT NULL,
    pool_id      uuid        NOT NULL,
    level        text        NOT NULL,
    side         text        NOT NULL CHECK (side IN ('LOW', 'HIGH')),
    reason       text        NOT NULL CHECK (length(reason) BETWEEN 1 AND 500),
    dismissed_at timestamptz NOT NULL,
    dismissed_by uuid        NOT NULL,
    PRIMARY KEY (company_id, pool_id, level),
    FOREIGN KEY (company_id, pool_id) REFERENCES pool (company_id, id) ON DELETE CASCADE,
    FOREIGN KEY (company_id, dismissed_by) REFERENCES person (company_id, id)
);
CREATE INDEX drift_dismissal_by ON drift_dismissal (company_id, dismissed_by);
ALTER TABLE drift_dismissal ENABLE ROW LEVEL SECURITY;
ALTER TABLE drift_dismissal FORCE ROW LEVEL SECURITY;
CREATE POLICY tenant ON drift_dismissal
    USING      (company_id = nullif(current_setting('app.company_id', true), '')::uuid)
    WITH CHECK (company_id = nullif(current_setting('app.company_id', true), '')::uuid);
