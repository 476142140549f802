-- What the readings of a visit were taken with: their precision depends on it. NULL = not recorded, the usual drops.

ALTER TABLE visit
    ADD COLUMN test_kit text CHECK (test_kit IN ('DROPS_25_ML', 'DROPS_10_ML', 'PHOTOMETER', 'STRIPS'));
