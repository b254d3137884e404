-- Whom the supplier's customers are to ask, one below the other: the newest counts.

CREATE TABLE supplier_contacts (
    number BIGINT PRIMARY KEY CHECK (number > 0),
    -- A line each.
    text   TEXT NOT NULL,
    at     TEXT NOT NULL,
    -- Id of a token; `system` where it came from the settings.
    token  TEXT NOT NULL
);

CREATE TRIGGER supplier_contacts_never_change BEFORE UPDATE ON supplier_contacts FOR EACH ROW EXECUTE FUNCTION refuse('a recorded contact never changes');
CREATE TRIGGER supplier_contacts_never_go BEFORE DELETE ON supplier_contacts FOR EACH ROW EXECUTE FUNCTION refuse('a recorded contact is never deleted');
CREATE TRIGGER supplier_contacts_never_emptied BEFORE TRUNCATE ON supplier_contacts EXECUTE FUNCTION refuse('a recorded contact is never deleted');
