-- Liquid chlorine loses strength from the day it is delivered, the faster the warmer it stands.

ALTER TABLE product
    ADD COLUMN delivered_on date,
    ADD COLUMN storage      text CHECK (storage IN ('COOL', 'SHADE', 'HOT')),
    ADD CONSTRAINT product_delivery CHECK ((delivered_on IS NULL) = (storage IS NULL));
