-- As in ../sqlite, which says what each is for.

-- +goose Up
CREATE VIEW waiting AS
    SELECT s.server, s.student, s.posted, s.id AS session, b.coach
    FROM sessions s JOIN bindings b ON b.server = s.server AND b.student = s.student AND b.given IS NOT NULL AND b.ended IS NULL
    WHERE s.posted >= b.given AND NOT EXISTS (SELECT 1 FROM looked l WHERE l.session = s.id AND l.coach = b.coach);

CREATE TABLE unread (
    server TEXT COLLATE "C" NOT NULL,
    student TEXT COLLATE "C" NOT NULL,
    posted BIGINT NOT NULL,
    session TEXT COLLATE "C" NOT NULL,
    coach TEXT COLLATE "C" NOT NULL,
    PRIMARY KEY (server, student, posted, session)
);
CREATE INDEX unread_coach ON unread (server, coach, posted, session);

-- +goose StatementBegin
CREATE FUNCTION unread_posted() RETURNS TRIGGER LANGUAGE plpgsql AS $$
BEGIN
    INSERT INTO unread (server, student, posted, session, coach)
    SELECT server, student, posted, session, coach FROM waiting WHERE session = NEW.id;
    RETURN NULL;
END $$;
-- +goose StatementEnd
CREATE TRIGGER unread_posted AFTER INSERT ON sessions FOR EACH ROW EXECUTE FUNCTION unread_posted();

-- +goose StatementBegin
CREATE FUNCTION unread_looked() RETURNS TRIGGER LANGUAGE plpgsql AS $$
BEGIN
    DELETE FROM unread WHERE coach = NEW.coach
        AND (server, student, posted, session) = (SELECT s.server, s.student, s.posted, s.id FROM sessions s WHERE s.id = NEW.session);
    RETURN NULL;
END $$;
-- +goose StatementEnd
CREATE TRIGGER unread_looked AFTER INSERT ON looked FOR EACH ROW EXECUTE FUNCTION unread_looked();

-- +goose StatementBegin
CREATE FUNCTION unread_gone() RETURNS TRIGGER LANGUAGE plpgsql AS $$
BEGIN
    DELETE FROM unread WHERE server = OLD.server AND student = OLD.student AND posted = OLD.posted AND session = OLD.id;
    RETURN NULL;
END $$;
-- +goose StatementEnd
CREATE TRIGGER unread_gone AFTER DELETE ON sessions FOR EACH ROW EXECUTE FUNCTION unread_gone();

-- +goose StatementBegin
CREATE FUNCTION unread_bound() RETURNS TRIGGER LANGUAGE plpgsql AS $$
BEGIN
    DELETE FROM unread WHERE server = NEW.server AND student = NEW.student;
    INSERT INTO unread (server, student, posted, session, coach)
    SELECT server, student, posted, session, coach FROM waiting WHERE server = NEW.server AND student = NEW.student;
    RETURN NULL;
END $$;
-- +goose StatementEnd
CREATE TRIGGER unread_bound AFTER UPDATE OF given, ended ON bindings FOR EACH ROW EXECUTE FUNCTION unread_bound();

-- Now that nobody else can write a post, a look or a consent until this is kept.
INSERT INTO unread (server, student, posted, session, coach) SELECT server, student, posted, session, coach FROM waiting;

ALTER TABLE scheduled ADD COLUMN made BIGINT;

-- +goose Down
ALTER TABLE scheduled DROP COLUMN made;
DROP TRIGGER unread_bound ON bindings;
DROP TRIGGER unread_gone ON sessions;
DROP TRIGGER unread_looked ON looked;
DROP TRIGGER unread_posted ON sessions;
DROP FUNCTION unread_bound, unread_gone, unread_looked, unread_posted;
DROP TABLE unread;
DROP VIEW waiting;
