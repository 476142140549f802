-- What the service keeps for itself: web sessions, and what runs by the clock. Ids, times and who is signed in, no business data: the only
-- tables without company key and row level security, beside Flyway's history.

-- As Spring Session 4.1 (Apache 2.0) defines it.
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

-- As db-scheduler 16.7 (Apache 2.0) wants it: which task for which company is due when, and which replica has picked it.
CREATE TABLE scheduled_tasks (
    task_name            text        NOT NULL,
    task_instance        text        NOT NULL,
    task_data            bytea,
    execution_time       timestamptz NOT NULL,
    picked               boolean     NOT NULL,
    picked_by            text,
    last_success         timestamptz,
    last_failure         timestamptz,
    consecutive_failures integer,
    last_heartbeat       timestamptz,
    version              bigint      NOT NULL,
    priority             smallint,
    PRIMARY KEY (task_name, task_instance)
);
CREATE INDEX scheduled_tasks_due ON scheduled_tasks (execution_time);
CREATE INDEX scheduled_tasks_heartbeat ON scheduled_tasks (last_heartbeat);

GRANT SELECT, INSERT, UPDATE, DELETE ON spring_session, spring_session_attributes, scheduled_tasks TO app_rw;
