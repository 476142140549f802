-- Visits with their readings and doses: facts. A correction is a new version; the version it replaces stays in visit_version.

CREATE TABLE visit (
    company_id       uuid        NOT NULL,
    -- made on the phone, so that sending twice stores once
    id               uuid        NOT NULL,
    version          bigint      NOT NULL DEFAULT 0,
    pool_id          uuid        NOT NULL,
    technician_id    uuid        NOT NULL,
    stop_id          uuid,
    performed_at     timestamptz NOT NULL,
    -- the day at the pool's place
    performed_on     date        NOT NULL,
    received_at      timestamptz NOT NULL,
    clock_offset_ms  bigint,
    body_sha256      bytea       NOT NULL,
    payload_schema   smallint    NOT NULL,
    situation        text        NOT NULL,
    fc_ppm           numeric(5, 2) CHECK (fc_ppm BETWEEN 0 AND 100),
    tc_ppm           numeric(5, 2) CHECK (tc_ppm BETWEEN 0 AND 100),
    cc_ppm           numeric(5, 2) CHECK (cc_ppm BETWEEN 0 AND 20),
    bromine_ppm      numeric(5, 2) CHECK (bromine_ppm BETWEEN 0 AND 50),
    ph               numeric(4, 2) CHECK (ph BETWEEN 4 AND 10),
    -- '<' or '>' when the reading stood at the end of the test's scale
    ph_qualifier     char(1)     CHECK (ph_qualifier IN ('<', '>')),
    ta_ppm           numeric(5, 1) CHECK (ta_ppm BETWEEN 0 AND 600),
    ch_ppm           numeric(6, 1) CHECK (ch_ppm BETWEEN 0 AND 3000),
    cya_ppm          numeric(5, 1) CHECK (cya_ppm BETWEEN 0 AND 500),
    cya_qualifier    char(1)     CHECK (cya_qualifier IN ('<', '>')),
    salt_ppm         numeric(7, 1) CHECK (salt_ppm BETWEEN 0 AND 40000),
    tds_ppm          numeric(7, 1) CHECK (tds_ppm BETWEEN 50 AND 40000),
    borate_ppm       numeric(5, 1) CHECK (borate_ppm BETWEEN 0 AND 300),
    phosphate_ppb    numeric(7, 1) CHECK (phosphate_ppb BETWEEN 0 AND 20000),
    water_celsius    numeric(4, 1) CHECK (water_celsius BETWEEN 0 AND 49),
    -- NULL = nobody looked, which is neither yes nor no
    drain_visible    boolean,
    -- recorded drain and refill at this visit, share of the water replaced
    water_replaced   numeric(4, 3) CHECK (water_replaced > 0 AND water_replaced <= 1),
    tasks            text[]      NOT NULL DEFAULT '{}',
    note_to_client   text        CHECK (length(note_to_client) <= 2000),
    note_to_office   text        CHECK (length(note_to_office) <= 2000),
    -- the advice as it was shown, for the record; never queried
    advice           jsonb,
    -- when people may swim: every condition with what shows that it holds, as org.meniscus.water.assess.SwimReadiness
    swim             jsonb       NOT NULL,
    corrected_at     timestamptz,
    corrected_by     uuid,
    PRIMARY KEY (company_id, id),
    FOREIGN KEY (company_id, pool_id) REFERENCES pool (company_id, id),
    FOREIGN KEY (company_id, technician_id) REFERENCES person (company_id, id),
    FOREIGN KEY (company_id, stop_id) REFERENCES stop (company_id, id),
    FOREIGN KEY (company_id, corrected_by) REFERENCES person (company_id, id)
);
CREATE INDEX visit_pool ON visit (company_id, pool_id, performed_at DESC);
CREATE INDEX visit_technician ON visit (company_id, technician_id, performed_at);
CREATE INDEX visit_stop ON visit (company_id, stop_id);
CREATE INDEX visit_day ON visit (company_id, performed_on);
CREATE INDEX visit_corrected_by ON visit (company_id, corrected_by);

CREATE TABLE dose (
    company_id     uuid    NOT NULL,
    visit_id       uuid    NOT NULL,
    seq            integer NOT NULL,
    product_id     uuid    NOT NULL,
    -- copies at the time of dosing: a later edit of the product changes no history
    product_name   text    NOT NULL,
    product_kind   text    NOT NULL,
    strength_percent numeric(6, 3),
    strength_basis text,
    amount         numeric(12, 2) NOT NULL CHECK (amount > 0),
    amount_unit    text    NOT NULL CHECK (amount_unit IN ('G', 'ML')),
    -- what the plan had said, when it had said something
    planned_amount numeric(12, 2) CHECK (planned_amount >= 0),
    dosed_on       date    NOT NULL,
    -- minor units; NULL = no price known on that day, shown as such and never counted as zero silently
    cost_cents     integer CHECK (cost_cents >= 0),
    pool_id        uuid    NOT NULL,
    technician_id  uuid    NOT NULL,
    PRIMARY KEY (company_id, visit_id, seq),
    FOREIGN KEY (company_id, visit_id) REFERENCES visit (company_id, id) ON DELETE CASCADE,
    FOREIGN KEY (company_id, product_id) REFERENCES product (company_id, id),
    FOREIGN KEY (company_id, pool_id) REFERENCES pool (company_id, id),
    FOREIGN KEY (company_id, technician_id) REFERENCES person (company_id, id)
);
CREATE INDEX dose_day ON dose (company_id, dosed_on) INCLUDE (cost_cents);
CREATE INDEX dose_product ON dose (company_id, product_id, dosed_on);
CREATE INDEX dose_pool ON dose (company_id, pool_id, dosed_on);
CREATE INDEX dose_technician ON dose (company_id, technician_id, dosed_on);

CREATE TABLE photo (
    company_id  uuid        NOT NULL,
    visit_id    uuid        NOT NULL,
    seq         integer     NOT NULL CHECK (seq BETWEEN 0 AND 5),
    jpeg        bytea       NOT NULL,
    width       integer     NOT NULL,
    height      integer     NOT NULL,
    stored_at   timestamptz NOT NULL,
    PRIMARY KEY (company_id, visit_id, seq),
    FOREIGN KEY (company_id, visit_id) REFERENCES visit (company_id, id) ON DELETE CASCADE
);

-- Append-only.
CREATE TABLE visit_version (
    company_id   uuid        NOT NULL,
    visit_id     uuid        NOT NULL,
    version      bigint      NOT NULL,
    body         jsonb       NOT NULL,
    replaced_at  timestamptz NOT NULL,
    replaced_by  uuid        NOT NULL,
    reason       text        NOT NULL CHECK (length(reason) BETWEEN 1 AND 500),
    PRIMARY KEY (company_id, visit_id, version),
    FOREIGN KEY (company_id, visit_id) REFERENCES visit (company_id, id),
    FOREIGN KEY (company_id, replaced_by) REFERENCES person (company_id, id)
);
CREATE INDEX visit_version_replaced_by ON visit_version (company_id, replaced_by);
