-- Row level security, policies and grants of every business table, made in this one place (docs/decisions/0003). Flyway runs it after each
-- migration, in that migration's transaction: a table is never there without its policy, and none can be forgotten. Without a column
-- company_id the policy cannot be made and the migration fails. What has its policy is left alone.
DO $$
DECLARE
    without_company CONSTANT text[] := '{flyway_schema_history, spring_session, spring_session_attributes, scheduled_tasks}';
    append_only CONSTANT text[] := '{audit_event, visit_version}';
    -- after a transaction the setting is '', not NULL
    same_company CONSTANT text := '%s = nullif(current_setting(''app.company_id'', true), '''')::uuid';
    business_table text;
    key_column text;
    lookup record;
BEGIN
    FOR business_table IN
        SELECT relname FROM pg_class c
        WHERE relnamespace = 'public'::regnamespace AND relkind IN ('r', 'p') AND relname <> ALL (without_company)
          AND NOT EXISTS (SELECT 1 FROM pg_policy p WHERE p.polrelid = c.oid AND p.polname = 'tenant')
    LOOP
        key_column := CASE business_table WHEN 'company' THEN 'id' ELSE 'company_id' END;
        EXECUTE format('ALTER TABLE %I ENABLE ROW LEVEL SECURITY, FORCE ROW LEVEL SECURITY', business_table);
        EXECUTE format('CREATE POLICY tenant ON %I USING (%s) WITH CHECK (%2$s)', business_table, format(same_company, key_column));
        EXECUTE format('GRANT %s ON %I TO app_rw',
            CASE WHEN business_table = ANY (append_only) THEN 'SELECT, INSERT' ELSE 'SELECT, INSERT, UPDATE, DELETE' END, business_table);
    END LOOP;

    -- found by a key of their own before a company is known: one more policy, for reading only
    FOR lookup IN
        SELECT * FROM (VALUES
            ('login', 'encode(sha256(convert_to(email, ''UTF8'')), ''hex'') = nullif(current_setting(''app.lookup_key'', true), '''')'),
            ('report_link', 'token_hash = decode(nullif(current_setting(''app.lookup_key'', true), ''''), ''hex'')')) AS l (name, has_key)
        WHERE to_regclass('public.' || name) IS NOT NULL
          AND NOT EXISTS (SELECT 1 FROM pg_policies WHERE schemaname = 'public' AND tablename = name AND policyname = 'lookup')
    LOOP
        EXECUTE format('CREATE POLICY lookup ON %I FOR SELECT USING (%s)', lookup.name, lookup.has_key);
    END LOOP;
END $$;
