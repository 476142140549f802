-- What is written down of stool, vomit, blood or an animal in the water beyond the visit itself: from when to when the pool was closed and
-- chlorine was held, and who answers for it. NULL = not written down.

CREATE TABLE incident_record (
    company_id    uuid        NOT NULL,
    visit_id      uuid        NOT NULL,
    version       bigint      NOT NULL,
    closed_at     timestamptz,
    held_from     timestamptz,
    held_until    timestamptz,
    reopened_at   timestamptz,
    -- free chlorine when the time began and when it was over, pH when it was over
    fc_from_ppm   numeric(5, 2) CHECK (fc_from_ppm BETWEEN 0 AND 100),
    fc_until_ppm  numeric(5, 2) CHECK (fc_until_ppm BETWEEN 0 AND 100),
    ph_until      numeric(4, 2) CHECK (ph_until BETWEEN 4 AND 10),
    person        text        CHECK (length(person) <= 100),
    notes         text        CHECK (length(notes) <= 1000),
    recorded_at   timestamptz NOT NULL,
    recorded_by   uuid        NOT NULL,
    PRIMARY KEY (company_id, visit_id),
    FOREIGN KEY (company_id, visit_id) REFERENCES visit (company_id, id) ON DELETE CASCADE,
    FOREIGN KEY (company_id, recorded_by) REFERENCES person (company_id, id),
    CHECK (held_from <= held_until),
    CHECK (closed_at <= reopened_at)
);
CREATE INDEX incident_record_recorded_by ON incident_record (company_id, recorded_by);
