-- Whom the supplier's customers are to ask, one below the other: the newest counts.

CREATE TABLE supplier_contacts (
    number INTEGER PRIMARY KEY NOT NULL CHECK (number > 0),
    -- A line each.
    text   TEXT NOT NULL,
    at     TEXT NOT NULL,
    -- Id of a token; `system` where it came from the settings.
    token  TEXT NOT NULL
) STRICT;

CREATE TRIGGER supplier_contacts_never_change BEFORE UPDATE ON supplier_contacts
BEGIN SELECT RAISE(ABORT, 'a recorded contact never changes'); END;

CREATE TRIGGER supplier_contacts_never_go BEFORE DELETE ON supplier_contacts
BEGIN SELECT RAISE(ABORT, 'a recorded contact is never deleted'); END;

CREATE TRIGGER supplier_contacts_never_replaced BEFORE INSERT ON supplier_contacts
WHEN EXISTS (SELECT 1 FROM supplier_contacts WHERE number = NEW.number)
BEGIN SELECT RAISE(ABORT, 'a recorded contact is never replaced'); END;
