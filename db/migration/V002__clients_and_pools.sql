-- Clients, their pools, fill water, targets that differ from the published defaults, imports waiting to be confirmed.

CREATE TABLE client (
    company_id   uuid        NOT NULL REFERENCES company (id),
    id           uuid        NOT NULL,
    version      bigint      NOT NULL DEFAULT 0,
    name         text        NOT NULL CHECK (length(name) BETWEEN 1 AND 120),
    email        text        CHECK (length(email) <= 254),
    phone        text        CHECK (length(phone) <= 40),
    language     text        NOT NULL DEFAULT 'en' CHECK (language IN ('en', 'es')),
    notes        text        CHECK (length(notes) <= 4000),
    archived_at  timestamptz,
    created_at   timestamptz NOT NULL,
    updated_at   timestamptz NOT NULL,
    PRIMARY KEY (company_id, id)
);
CREATE INDEX client_name ON client (company_id, lower(name));

CREATE TABLE pool (
    company_id        uuid        NOT NULL REFERENCES company (id),
    id                uuid        NOT NULL,
    version           bigint      NOT NULL DEFAULT 0,
    client_id         uuid        NOT NULL,
    name              text        NOT NULL CHECK (length(name) BETWEEN 1 AND 120),
    street            text        NOT NULL DEFAULT '' CHECK (length(street) <= 200),
    town              text        NOT NULL DEFAULT '' CHECK (length(town) <= 120),
    postcode          text        NOT NULL DEFAULT '' CHECK (length(postcode) <= 20),
    latitude          numeric(8, 5) CHECK (latitude BETWEEN -90 AND 90),
    longitude         numeric(8, 5) CHECK (longitude BETWEEN -180 AND 180),
    body              text        NOT NULL CHECK (body IN ('POOL', 'SPA')),
    surface           text        NOT NULL,
    indoor            boolean     NOT NULL DEFAULT false,
    sanitizer         text        NOT NULL,
    volume_litres     numeric(10, 1) CHECK (volume_litres BETWEEN 100 AND 4000000),
    -- MEASURED, CALCULATED, ESTIMATED or UNVERIFIED: how sure one is of the volume
    volume_certainty  text        NOT NULL,
    area_m2           numeric(10, 4) CHECK (area_m2 > 0),
    -- what the volume was worked out from, in metres, so that the calculator reopens as it was left; fine enough that 16 ft is 16 ft
    -- again when it is shown
    shape             text        CHECK (shape IN ('RECTANGLE', 'ROUND', 'OVAL', 'KIDNEY')),
    length_m          numeric(8, 4) CHECK (length_m > 0),
    width_m           numeric(8, 4) CHECK (width_m > 0),
    -- width of the narrow end of a kidney
    narrow_m          numeric(8, 4) CHECK (narrow_m > 0),
    shallow_m         numeric(7, 4) CHECK (shallow_m > 0),
    deep_m            numeric(7, 4) CHECK (deep_m > 0),
    has_waste_valve   boolean     NOT NULL DEFAULT false,
    equipment_notes   text        CHECK (length(equipment_notes) <= 4000),
    -- gate codes, keys, dogs: shown only to office, owner and the technician of the day
    access_notes      text        CHECK (length(access_notes) <= 2000),
    fill_ph           numeric(4, 2) CHECK (fill_ph BETWEEN 4 AND 10),
    fill_ta_ppm       numeric(5, 1) CHECK (fill_ta_ppm BETWEEN 0 AND 600),
    fill_ch_ppm       numeric(6, 1) CHECK (fill_ch_ppm BETWEEN 0 AND 3000),
    fill_salt_ppm     numeric(7, 1) CHECK (fill_salt_ppm BETWEEN 0 AND 40000),
    monthly_fee_cents integer     CHECK (monthly_fee_cents >= 0),
    archived_at       timestamptz,
    created_at        timestamptz NOT NULL,
    updated_at        timestamptz NOT NULL,
    PRIMARY KEY (company_id, id),
    FOREIGN KEY (company_id, client_id) REFERENCES client (company_id, id)
);
CREATE INDEX pool_client ON pool (company_id, client_id);

-- A company's own range for a level, in place of the published default; body says whether for pools or spas.
CREATE TABLE company_target (
    company_id      uuid NOT NULL REFERENCES company (id),
    body            text NOT NULL CHECK (body IN ('POOL', 'SPA')),
    level           text NOT NULL,
    acceptable_low  numeric(8, 2) NOT NULL,
    ideal_low       numeric(8, 2) NOT NULL,
    ideal_high      numeric(8, 2) NOT NULL,
    acceptable_high numeric(8, 2) NOT NULL,
    PRIMARY KEY (company_id, body, level),
    CHECK (acceptable_low <= ideal_low AND ideal_low <= ideal_high AND ideal_high <= acceptable_high)
);

CREATE TABLE pool_target (
    company_id      uuid NOT NULL,
    pool_id         uuid NOT NULL,
    level           text NOT NULL,
    acceptable_low  numeric(8, 2) NOT NULL,
    ideal_low       numeric(8, 2) NOT NULL,
    ideal_high      numeric(8, 2) NOT NULL,
    acceptable_high numeric(8, 2) NOT NULL,
    PRIMARY KEY (company_id, pool_id, level),
    FOREIGN KEY (company_id, pool_id) REFERENCES pool (company_id, id) ON DELETE CASCADE,
    CHECK (acceptable_low <= ideal_low AND ideal_low <= ideal_high AND ideal_high <= acceptable_high)
);

-- A file of clients and pools between upload and confirmation. It may hold gate codes: the text goes as soon as it has been
-- imported, and with every new upload once it is a day old.
CREATE TABLE client_import (
    company_id    uuid        NOT NULL REFERENCES company (id),
    id            uuid        NOT NULL,
    person_id     uuid        NOT NULL,
    file_name     text        NOT NULL CHECK (length(file_name) <= 200),
    -- NULL once imported
    content       text        CHECK (length(content) <= 1048576),
    created_at    timestamptz NOT NULL,
    imported_at   timestamptz,
    clients_added integer     CHECK (clients_added >= 0),
    pools_added   integer     CHECK (pools_added >= 0),
    lines_skipped integer     CHECK (lines_skipped >= 0),
    PRIMARY KEY (company_id, id),
    FOREIGN KEY (company_id, person_id) REFERENCES person (company_id, id)
);
CREATE INDEX client_import_person ON client_import (company_id, person_id);
