-- Tenants, their people, the global sign-in lookup, the audit trail.
-- Rule of every business table: company_id leads every key. Row level security, policies and grants: afterEachMigrate.sql.

CREATE TABLE company (
    id                  uuid           PRIMARY KEY,
    version             bigint         NOT NULL DEFAULT 0,
    name                text           NOT NULL CHECK (length(name) BETWEEN 1 AND 120),
    units               text           NOT NULL CHECK (units IN ('US', 'METRIC')),
    time_zone           text           NOT NULL,
    currency            char(3)        NOT NULL,
    -- highest FC at which the company lets people swim; the product label's entry range (1-4 ppm read) is the default
    fc_swim_ceiling_ppm numeric(4, 1)  NOT NULL DEFAULT 4.0 CHECK (fc_swim_ceiling_ppm BETWEEN 1 AND 10),
    -- what a company decides about its treatment plans; the defaults are the treatment engine's, where their sources stand
    -- chance with which FC shall still be above its minimum at the next visit
    hold_chance         numeric(3, 2)  NOT NULL DEFAULT 0.90 CHECK (hold_chance BETWEEN 0.50 AND 0.99),
    minimum_rule        text           NOT NULL DEFAULT 'CYA_RATIO' CHECK (minimum_rule IN ('CYA_RATIO', 'HYPOCHLOROUS_ACID')),
    -- minor units of the company's currency: a cubic metre of fill water, the work of a partial drain and refill, an hour of work
    water_cents_per_m3  numeric(14, 4) NOT NULL DEFAULT 160 CHECK (water_cents_per_m3 BETWEEN 0 AND 1000000000),
    drain_visit_cents   integer        NOT NULL DEFAULT 9000 CHECK (drain_visit_cents BETWEEN 0 AND 1000000000),
    work_hour_cents     integer        NOT NULL DEFAULT 2500 CHECK (work_hour_cents BETWEEN 0 AND 1000000000),
    -- last day of the season in any year; NULL = pools run all year
    season_end_month    smallint       CHECK (season_end_month BETWEEN 1 AND 12),
    season_end_day      smallint       CHECK (season_end_day BETWEEN 1 AND 31),
    -- weather normals that evaporation and rain are taken from; NULL = not chosen, a temperate climate is taken
    climate             text           CHECK (climate IN ('HOT_DRY', 'SUBTROPICAL', 'TEMPERATE', 'MEDITERRANEAN')),
    created_at          timestamptz    NOT NULL,
    updated_at          timestamptz    NOT NULL,
    CONSTRAINT company_season_end CHECK ((season_end_month IS NULL) = (season_end_day IS NULL)
        AND season_end_day <= CASE WHEN season_end_month = 2 THEN 29 WHEN season_end_month IN (4, 6, 9, 11) THEN 30 ELSE 31 END)
);

CREATE TABLE person (
    company_id         uuid        NOT NULL REFERENCES company (id),
    id                 uuid        NOT NULL,
    version            bigint      NOT NULL DEFAULT 0,
    name               text        NOT NULL CHECK (length(name) BETWEEN 1 AND 120),
    email              text        NOT NULL CHECK (email = lower(email) AND length(email) BETWEEN 3 AND 254),
    role               text        NOT NULL CHECK (role IN ('OWNER', 'OFFICE', 'TECHNICIAN')),
    -- NULL until the invitation has been accepted
    password_hash      text,
    active             boolean     NOT NULL DEFAULT true,
    -- SHA-256 of the invitation or password-reset token; cleared when used
    invite_token_hash  bytea,
    invite_expires_at  timestamptz,
    created_at         timestamptz NOT NULL,
    updated_at         timestamptz NOT NULL,
    PRIMARY KEY (company_id, id),
    UNIQUE (company_id, email)
);

-- One of the two global uniques. The key shown to the lookup policy is the hex SHA-256 of the lower-case address,
-- so that the only literals ever put into SET LOCAL are a UUID and 64 hex digits.
CREATE TABLE login (
    email       text PRIMARY KEY CHECK (email = lower(email)),
    company_id  uuid NOT NULL,
    user_id     uuid NOT NULL
);
CREATE INDEX login_company ON login (company_id, user_id);

-- Append-only.
CREATE TABLE audit_event (
    company_id  uuid        NOT NULL REFERENCES company (id),
    id          uuid        NOT NULL,
    at          timestamptz NOT NULL,
    person_id   uuid,
    action      text        NOT NULL,
    -- ids only, never names or codes: nothing here needs erasing
    subject     text,
    detail      jsonb,
    PRIMARY KEY (company_id, id)
);
CREATE INDEX audit_event_at ON audit_event (company_id, at DESC);
