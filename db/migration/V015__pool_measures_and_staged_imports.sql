-- Measures fine enough that 16 ft is 16 ft again when it is shown; a second width for kidneys; imports waiting to be confirmed.

ALTER TABLE pool
    ALTER COLUMN area_m2   TYPE numeric(10, 4),
    ALTER COLUMN length_m  TYPE numeric(8, 4),
    ALTER COLUMN width_m   TYPE numeric(8, 4),
    ALTER COLUMN shallow_m TYPE numeric(7, 4),
    ALTER COLUMN deep_m    TYPE numeric(7, 4),
    -- width of the narrow end of a kidney
    ADD COLUMN narrow_m    numeric(8, 4) CHECK (narrow_m > 0);

-- A file of clients and pools between upload and confirmation. It may hold gate codes: the text goes as soon as it has been
-- taken, and with every new upload once it is a day old.
CREATE TABLE client_import (
    company_id   uuid        NOT NULL REFERENCES company (id),
    id           uuid        NOT NULL,
    person_id    uuid        NOT NULL,
    file_name    text        NOT NULL CHECK (length(file_name) <= 200),
    -- NULL once taken
    content      text        CHECK (length(content) <= 1048576),
    created_at   timestamptz NOT NULL,
    taken_at     timestamptz,
    clients_added integer    CHECK (clients_added >= 0),
    pools_added  integer     CHECK (pools_added >= 0),
    lines_left   integer     CHECK (lines_left >= 0),
    PRIMARY KEY (company_id, id),
    FOREIGN KEY (company_id, person_id) REFERENCES person (company_id, id)
);
CREATE INDEX client_import_person ON client_import (company_id, person_id);
ALTER TABLE client_import ENABLE ROW LEVEL SECURITY;
ALTER TABLE client_import FORCE ROW LEVEL SECURITY;
CREATE POLICY tenant ON client_import
    USING      (company_id = nullif(current_setting('app.company_id', true), '')::uuid)
    WITH CHECK (company_id = nullif(current_setting('app.company_id', true), '')::uuid);
