-- A price that came with the starter list is a typical one, not the company's own, until somebody states theirs.

ALTER TABLE product_price ADD COLUMN typical boolean NOT NULL DEFAULT false;
