-- Who visits which pool how often, and the stops generated from it.

CREATE TABLE service_schedule (
    company_id     uuid        NOT NULL,
    id             uuid        NOT NULL,
    version        bigint      NOT NULL DEFAULT 0,
    pool_id        uuid        NOT NULL,
    technician_id  uuid        NOT NULL,
    frequency      text        NOT NULL CHECK (frequency IN ('WEEKLY', 'EVERY_SECOND_WEEK', 'TWICE_WEEKLY', 'MONTHLY')),
    -- ISO day of week, 1 = Monday; second_weekday only for twice a week
    weekday        smallint    NOT NULL CHECK (weekday BETWEEN 1 AND 7),
    second_weekday smallint    CHECK (second_weekday BETWEEN 1 AND 7),
    -- place in the technician's day
    position       integer     NOT NULL DEFAULT 0,
    starts_on      date        NOT NULL,
    ends_on        date,
    created_at     timestamptz NOT NULL,
    updated_at     timestamptz NOT NULL,
    PRIMARY KEY (company_id, id),
    FOREIGN KEY (company_id, pool_id) REFERENCES pool (company_id, id),
    FOREIGN KEY (company_id, technician_id) REFERENCES person (company_id, id),
    CHECK ((frequency = 'TWICE_WEEKLY') = (second_weekday IS NOT NULL)),
    CHECK (ends_on IS NULL OR ends_on >= starts_on)
);
CREATE INDEX service_schedule_pool ON service_schedule (company_id, pool_id);
CREATE INDEX service_schedule_technician ON service_schedule (company_id, technician_id);

CREATE TABLE stop (
    company_id          uuid        NOT NULL,
    id                  uuid        NOT NULL,
    version             bigint      NOT NULL DEFAULT 0,
    pool_id             uuid        NOT NULL,
    technician_id       uuid        NOT NULL,
    -- the schedule and day this stop was generated for: generating a week again adds nothing twice; NULL = added by hand
    service_schedule_id uuid,
    due_on              date,
    planned_on          date        NOT NULL,
    position            integer     NOT NULL DEFAULT 0,
    state               text        NOT NULL CHECK (state IN ('PLANNED', 'DONE', 'MISSED')),
    missed_reason       text        CHECK (missed_reason IN ('NO_ACCESS', 'DOG', 'WEATHER', 'SICK', 'CLIENT_REQUEST', 'NO_TIME', 'OTHER')),
    missed_note         text        CHECK (length(missed_note) <= 500),
    created_at          timestamptz NOT NULL,
    updated_at          timestamptz NOT NULL,
    PRIMARY KEY (company_id, id),
    UNIQUE (company_id, service_schedule_id, due_on),
    FOREIGN KEY (company_id, pool_id) REFERENCES pool (company_id, id),
    FOREIGN KEY (company_id, technician_id) REFERENCES person (company_id, id),
    FOREIGN KEY (company_id, service_schedule_id) REFERENCES service_schedule (company_id, id),
    CHECK ((state = 'MISSED') = (missed_reason IS NOT NULL))
);
CREATE INDEX stop_day ON stop (company_id, planned_on, technician_id, position);
CREATE INDEX stop_pool ON stop (company_id, pool_id, planned_on);
CREATE INDEX stop_technician ON stop (company_id, technician_id, planned_on);
