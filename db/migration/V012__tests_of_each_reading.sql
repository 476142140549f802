-- Copper, iron and ammonia as readings; how each reading was taken; what a label gives for each ppm of what the product binds.

ALTER TABLE visit
    ADD COLUMN copper_ppm   numeric(4, 2) CHECK (copper_ppm BETWEEN 0 AND 5),
    ADD COLUMN iron_ppm     numeric(4, 2) CHECK (iron_ppm BETWEEN 0 AND 10),
    -- as nitrogen
    ADD COLUMN ammonia_ppm  numeric(4, 2) CHECK (ammonia_ppm BETWEEN 0 AND 20),
    -- 'LEVEL KIT DILUTION' of each level that was not read with test_kit as drawn: org.meniscus.water.pool.TestMethods
    ADD COLUMN test_methods text[] NOT NULL DEFAULT '{}';

-- What the company usually reads each level with, as visit.test_methods; levels not named: the usual drops.
ALTER TABLE company
    ADD COLUMN test_methods text[] NOT NULL DEFAULT '{}';

-- Millilitres or grams that the label gives to a cubic metre of pool for each ppm of metal or of phosphate; NULL = not known.
ALTER TABLE product
    ADD COLUMN label_per_ppm numeric(10, 3) CHECK (label_per_ppm > 0);
