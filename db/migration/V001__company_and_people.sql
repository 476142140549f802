-- Tenants, their people, the global sign-in lookup, audit trail, web sessions.
-- Rules: company_id leads every key; exactly one policy per business table; lookup tables have a second, read-only policy by key.

ALTER DEFAULT PRIVILEGES IN SCHEMA public GRANT SELECT, INSERT, UPDATE, DELETE ON TABLES TO app_rw;

CREATE TABLE company (
    id                uuid        PRIMARY KEY,
    version           bigint      NOT NULL DEFAULT 0,
    name              text        NOT NULL CHECK (length(name) BETWEEN 1 AND 120),
    units             text        NOT NULL CHECK (units IN ('US', 'METRIC')),
    time_zone         text        NOT NULL,
    currency          char(3)     NOT NULL,
    -- highest FC at which the company lets people swim; the product label's entry range (1-4 ppm read) is the default
    fc_swim_ceiling_ppm numeric(4, 1) NOT NULL DEFAULT 4.0 CHECK (fc_swim_ceiling_ppm BETWEEN 1 AND 10),
    created_at        timestamptz NOT NULL,
    updated_at        timestamptz NOT NULL
);
ALTER TABLE company ENABLE ROW LEVEL SECURITY;
ALTER TABLE company FORCE ROW LEVEL SECURITY;
CREATE POLICY tenant ON company
    USING      (id = nullif(current_setting('app.company_id', true), '')::uuid)
    WITH CHECK (id = nullif(current_setting('app.company_id', true), '')::uuid);

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
ALTER TABLE person ENABLE ROW LEVEL SECURITY;
ALTER TABLE person FORCE ROW LEVEL SECURITY;
CREATE POLICY tenant ON person
    USING      (company_id = nullif(current_setting('app.company_id', true), '')::uuid)
    WITH CHECK (company_id = nullif(current_setting('app.company_id', true), '')::uuid);

-- One of the two global uniques. The key shown to the lookup policy is the hex SHA-256 of the lower-case address,
-- so that the only literals ever put into SET LOCAL are a UUID and 64 hex digits.
CREATE TABLE login (
    email       text PRIMARY KEY CHECK (email = lower(email)),
    company_id  uuid NOT NULL,
    user_id     uuid NOT NULL
);
CREATE INDEX login_company ON login (company_id, user_id);
ALTER TABLE login ENABLE ROW LEVEL SECURITY;
ALTER TABLE login FORCE ROW LEVEL SECURITY;
CREATE POLICY tenant ON login
    USING      (company_id = nullif(current_setting('app.company_id', true), '')::uuid)
    WITH CHECK (company_id = nullif(current_setting('app.company_id', true), '')::uuid);
CREATE POLICY lookup ON login FOR SELECT
    USING (encode(sha256(convert_to(email, 'UTF8')), 'hex') = nullif(current_setting('app.lookup_key', true), ''));

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
ALTER TABLE audit_event ENABLE ROW LEVEL SECURITY;
ALTER TABLE audit_event FORCE ROW LEVEL SECURITY;
CREATE POLICY tenant ON audit_event
    USING      (company_id = nullif(current_setting('app.company_id', true), '')::uuid)
    WITH CHECK (company_id = nullif(current_setting('app.company_id', true), '')::uuid);
REVOKE UPDATE, DELETE ON audit_event FROM app_rw;

-- Web sessions: plain tables, as Spring Session 4.1 (Apache 2.0) defines them.
CREATE TABLE spring_session (
    primary_id            char(36) NOT NULL,
    session_id            char(36) NOT NULL,
    creation_time         bigint   NOT NULL,
    last_access_time      bigint   NOT NULL,
    max_inactive_interval int      NOT NULL,
    expiry_time           bigint   NOT NULL,
    principal_name        varchar(100),
    CONSTRAINT spring_session_pk PRIMARY KEY (primary_id)
);
CREATE UNIQUE INDEX spring_session_ix1 ON spring_session (session_id);
CREATE INDEX spring_session_ix2 ON spring_session (expiry_time);
CREATE INDEX spring_session_ix3 ON spring_session (principal_name);

CREATE TABLE spring_session_attributes (
    session_primary_id char(36)     NOT NULL,
    attribute_name     varchar(200) NOT NULL,
    attribute_bytes    bytea        NOT NULL,
    CONSTRAINT spring_session_attributes_pk PRIMARY KEY (session_primary_id, attribute_name),
    CONSTRAINT spring_session_attributes_fk FOREIGN KEY (session_primary_id) REFERENCES spring_session (primary_id) ON DELETE CASCADE
);
