-- Beside each level as last judged: by how much it moves if the service puts nothing in, ppm a day in the mean of the rest of the
-- season, for what a dose of today will have cost by its end. NULL = not known well enough. Filled when a pool is next judged.
ALTER TABLE drift ADD COLUMN by_itself_per_day numeric(8, 4);
