-- What is on file of a pool's equipment and use, what gauges and panels show at a visit, and whether a company's water is scarce. NULL =
-- not known, never zero.

ALTER TABLE pool
    -- available chlorine a day at 100 %
    ADD COLUMN cell_grams_per_day   numeric(7, 2) CHECK (cell_grams_per_day > 0),
    ADD COLUMN cell_percent         numeric(4, 1) CHECK (cell_percent BETWEEN 0 AND 100),
    -- between two settings of its panel
    ADD COLUMN cell_step_percent    numeric(4, 1) CHECK (cell_step_percent > 0 AND cell_step_percent <= 100),
    -- a day
    ADD COLUMN pump_hours           numeric(3, 1) CHECK (pump_hours > 0 AND pump_hours <= 24),
    ADD COLUMN flow_litres_per_hour numeric(9, 1) CHECK (flow_litres_per_hour > 0),
    ADD COLUMN filter               text          CHECK (filter IN ('SAND', 'CARTRIDGE', 'DE')),
    ADD COLUMN filter_clean_kpa     numeric(5, 1) CHECK (filter_clean_kpa > 0),
    -- of daylight, a day
    ADD COLUMN cover_hours          numeric(3, 1) CHECK (cover_hours BETWEEN 0 AND 12),
    ADD COLUMN bathers_per_day      numeric(6, 1) CHECK (bathers_per_day >= 0),
    ADD COLUMN has_ozone            boolean       NOT NULL DEFAULT false,
    ADD COLUMN has_uv               boolean       NOT NULL DEFAULT false,
    ADD COLUMN has_ionizer          boolean       NOT NULL DEFAULT false;

ALTER TABLE visit
    ADD COLUMN filter_kpa    numeric(5, 1) CHECK (filter_kpa >= 0),
    -- setting and salt as the panel of the cell shows them
    ADD COLUMN cell_percent  numeric(4, 1) CHECK (cell_percent BETWEEN 0 AND 100),
    ADD COLUMN cell_salt_ppm numeric(7, 1) CHECK (cell_salt_ppm BETWEEN 0 AND 40000),
    -- since the visit before
    ADD COLUMN heavy_rain    boolean       NOT NULL DEFAULT false,
    ADD COLUMN party         boolean       NOT NULL DEFAULT false;

ALTER TABLE company
    -- water is replaced only where a level is unacceptable, and then no more than that takes
    ADD COLUMN water_scarce  boolean       NOT NULL DEFAULT false;
