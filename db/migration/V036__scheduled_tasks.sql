-- Work that runs by the clock, as db-scheduler keeps it: which task for which company is due when, and which replica has picked it.
-- Holds ids and times only; no business data, so no company key and no row level security, like the tables of web sessions.

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

-- companies that were there before; those that sign up add their own
ALTER TABLE company NO FORCE ROW LEVEL SECURITY;
INSERT INTO scheduled_tasks (task_name, task_instance, execution_time, picked, version)
SELECT task.name, company.id::text, task.due, false, 1
FROM company CROSS JOIN (VALUES ('season-night', now()), ('season-digest', date_trunc('week', now()) + interval '7 days 6 hours')) AS task (name, due);
ALTER TABLE company FORCE ROW LEVEL SECURITY;
