-- What technicians measure a product with, and what the company has decided about it.

ALTER TABLE product
    -- grams or millilitres in one level scoop, cup or cap that lies with it; NULL = weighed or poured
    ADD COLUMN scoop_amount numeric(8, 2) CHECK (scoop_amount > 0),
    ADD COLUMN preference   text          NOT NULL DEFAULT 'NONE' CHECK (preference IN ('NONE', 'FIRST', 'NEVER'));
