-- What a company decides about its treatment plans. The defaults are those of the treatment engine (water.treatment.Policy), where
-- their sources stand.

ALTER TABLE company
    -- chance with which FC shall still be above its minimum at the next visit
    ADD COLUMN hold_chance          numeric(3, 2)  NOT NULL DEFAULT 0.90 CHECK (hold_chance BETWEEN 0.50 AND 0.99),
    ADD COLUMN minimum_rule         text           NOT NULL DEFAULT 'CYA_RATIO' CHECK (minimum_rule IN ('CYA_RATIO', 'HYPOCHLOROUS_ACID')),
    -- minor units of the company's currency: a cubic metre of fill water, the work of a partial drain and refill, an hour of work
    ADD COLUMN water_cents_per_m3   numeric(14, 4) NOT NULL DEFAULT 160 CHECK (water_cents_per_m3 BETWEEN 0 AND 1000000000),
    ADD COLUMN drain_visit_cents    integer        NOT NULL DEFAULT 9000 CHECK (drain_visit_cents BETWEEN 0 AND 1000000000),
    ADD COLUMN work_hour_cents      integer        NOT NULL DEFAULT 2500 CHECK (work_hour_cents BETWEEN 0 AND 1000000000),
    -- last day of the season in any year; NULL = pools run all year
    ADD COLUMN season_end_month     smallint       CHECK (season_end_month BETWEEN 1 AND 12),
    ADD COLUMN season_end_day       smallint       CHECK (season_end_day BETWEEN 1 AND 31),
    ADD CONSTRAINT company_season_end CHECK ((season_end_month IS NULL) = (season_end_day IS NULL)
        AND season_end_day <= CASE WHEN season_end_month = 2 THEN 29 WHEN season_end_month IN (4, 6, 9, 11) THEN 30 ELSE 31 END);
