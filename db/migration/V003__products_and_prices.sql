-- What is on the truck and in the store, and what it cost from which day on.

CREATE TABLE product (
    company_id        uuid        NOT NULL REFERENCES company (id),
    id                uuid        NOT NULL,
    version           bigint      NOT NULL DEFAULT 0,
    -- a kind known to the treatment engine; its chemistry follows from it
    kind              text        NOT NULL,
    name              text        NOT NULL CHECK (length(name) BETWEEN 1 AND 120),
    form              text        NOT NULL CHECK (form IN ('LIQUID', 'GRANULAR', 'TABLET')),
    -- available chlorine or purity of the product, percent; NULL = unknown, then no dose is worked out
    strength_percent  numeric(6, 3) CHECK (strength_percent > 0 AND strength_percent <= 100),
    -- for liquid chlorine: TRADE (g available chlorine per 100 mL) or WEIGHT (weight % sodium hypochlorite)
    strength_basis    text        CHECK (strength_basis IN ('TRADE', 'WEIGHT', 'PURITY')),
    density_kg_per_l  numeric(5, 3) CHECK (density_kg_per_l > 0),
    -- the package the price is for: grams of a solid, millilitres of a liquid
    package_amount    numeric(12, 2) NOT NULL CHECK (package_amount > 0),
    package_unit      text        NOT NULL CHECK (package_unit IN ('G', 'ML')),
    -- label maximum per addition, grams or millilitres per cubic metre of pool
    label_max_per_m3  numeric(10, 3) CHECK (label_max_per_m3 > 0),
    tablet_grams      numeric(8, 2) CHECK (tablet_grams > 0),
    -- grams or millilitres in one level scoop, cup or cap that lies with it; NULL = weighed or poured
    scoop_amount      numeric(8, 2) CHECK (scoop_amount > 0),
    -- what the company has decided about it
    preference        text        NOT NULL DEFAULT 'NONE' CHECK (preference IN ('NONE', 'FIRST', 'NEVER')),
    cautions          text        CHECK (length(cautions) <= 2000),
    on_truck          boolean     NOT NULL DEFAULT true,
    archived_at       timestamptz,
    created_at        timestamptz NOT NULL,
    updated_at        timestamptz NOT NULL,
    PRIMARY KEY (company_id, id)
);
CREATE INDEX product_name ON product (company_id, lower(name));

CREATE TABLE product_price (
    company_id     uuid NOT NULL,
    product_id     uuid NOT NULL,
    valid_from     date NOT NULL,
    -- minor units of the company's currency per package
    price_cents    integer NOT NULL CHECK (price_cents >= 0),
    -- came with the starter list: a typical price, not the company's own, until somebody states theirs
    typical        boolean NOT NULL DEFAULT false,
    -- the package the price was stated for, grams of a solid, millilitres of a liquid; NULL = the one the product comes in now
    package_amount numeric(12, 2) CHECK (package_amount > 0),
    PRIMARY KEY (company_id, product_id, valid_from),
    FOREIGN KEY (company_id, product_id) REFERENCES product (company_id, id) ON DELETE CASCADE
);
