-- Where the slow levels of each pool stand and go, as last assessed. Worked out from visits alone: every row can be dropped and made
-- again. Beside it what people decide about it: a notice that was dismissed.

CREATE TABLE pool_season (
    company_id         uuid        NOT NULL,
    pool_id            uuid        NOT NULL,
    assessed_on        date        NOT NULL,
    assessed_at        timestamptz NOT NULL,
    -- copies from visits, for choosing among pools
    last_visit_on      date,
    last_technician_id uuid,
    products           text[]      NOT NULL DEFAULT '{}',
    PRIMARY KEY (company_id, pool_id),
    FOREIGN KEY (company_id, pool_id) REFERENCES pool (company_id, id) ON DELETE CASCADE
);

CREATE TABLE drift (
    company_id                 uuid NOT NULL,
    pool_id                    uuid NOT NULL,
    level                      text NOT NULL CHECK (level IN ('CYA', 'CH', 'SALT', 'TDS', 'BORATE')),
    -- 80 % band of today, ppm; NULL when nothing can be told
    low_ppm                    numeric(8, 2),
    middle_ppm                 numeric(8, 2),
    high_ppm                   numeric(8, 2),
    -- by how much it moves if the service puts nothing in, ppm a day in the mean of the rest of the season, for what a dose of today
    -- will have cost by its end; NULL = not known well enough
    baseline_drift_per_day     numeric(8, 4),
    -- end of the acceptable range that is expected to be left first, with what is expected if nobody intervenes
    side                       text CHECK (side IN ('LOW', 'HIGH')),
    limit_ppm                  numeric(8, 2),
    exit_early                 date,
    exit_day                   date,
    exit_late                  date,
    probability_within_horizon numeric(5, 4) CHECK (probability_within_horizon BETWEEN 0 AND 1),
    probability_by_season_end  numeric(5, 4) CHECK (probability_by_season_end BETWEEN 0 AND 1),
    flag_side                  text CHECK (flag_side IN ('LOW', 'HIGH')),
    flag_since                 date,
    flag_probability           numeric(5, 4) CHECK (flag_probability BETWEEN 0 AND 1),
    -- readings, forecast and causes for the small picture and the reason; shown, never queried
    evidence                   jsonb NOT NULL,
    PRIMARY KEY (company_id, pool_id, level),
    FOREIGN KEY (company_id, pool_id) REFERENCES pool_season (company_id, pool_id) ON DELETE CASCADE,
    CHECK ((flag_side IS NULL) = (flag_since IS NULL))
);

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
