-- Manganese of the water, as copper and iron of V012. NULL = not tested, never zero.

ALTER TABLE visit
    ADD COLUMN manganese_ppm numeric(4, 2) CHECK (manganese_ppm BETWEEN 0 AND 10);
