-- A price stays the price of the package it was stated for when the product later comes in another one.

ALTER TABLE product_price
    -- grams of a solid, millilitres of a liquid; NULL = the package the product comes in now
    ADD COLUMN package_amount numeric(12, 2) CHECK (package_amount > 0);
