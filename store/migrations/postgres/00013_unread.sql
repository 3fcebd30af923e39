-- As in ../sqlite, which says what each is for.

-- +goose Up
CREATE VIEW waiting AS
    SELECT s.id AS session, s.server, s.student, b.coach, s.posted
    FROM sessions s JOIN bindings b ON b.server = s.server AND b.student = s.student AND b.given IS NOT NULL AND b.ended IS NULL
    WHERE s.posted >= b.given AND NOT EXISTS (SELECT 1 FROM looked l WHERE l.session = s.id AND l.coach = b.coach);

CREATE TABLE unread (
    session TEXT COLLATE "C" PRIMARY KEY REFERENCES sessions (id) ON DELETE CASCADE,
    server TEXT COLLATE "C" NOT NULL,
    student TEXT COLLATE "C" NOT NULL,
    coach TEXT COLLATE "C" NOT NULL,
    posted BIGINT NOT NULL
);
CREATE INDEX unread_coach ON unread (server, coach, posted, session);
CREATE INDEX unread_student ON unread (server, student, coach, posted, session);

-- +goose StatementBegin
CREATE FUNCTION unread_posted() RETURNS TRIGGER LANGUAGE plpgsql AS $$
BEGIN
    INSERT INTO unread (session, server, student, coach, posted)
    SELECT session, server, student, coach, posted FROM waiting WHERE session = NEW.id;
    RETURN NULL;
END $$;
-- +goose StatementEnd
CREATE TRIGGER unread_posted AFTER INSERT ON sessions FOR EACH ROW EXECUTE FUNCTION unread_posted();

-- +goose StatementBegin
CREATE FUNCTION unread_looked() RETURNS TRIGGER LANGUAGE plpgsql AS $$
BEGIN
    DELETE FROM unread WHERE session = NEW.session AND coach = NEW.coach;
    RETURN NULL;
END $$;
-- +goose StatementEnd
CREATE TRIGGER unread_looked AFTER INSERT ON looked FOR EACH ROW EXECUTE FUNCTION unread_looked();

-- +goose StatementBegin
CREATE FUNCTION unread_bound() RETURNS TRIGGER LANGUAGE plpgsql AS $$
BEGIN
    DELETE FROM unread WHERE server = NEW.server AND student = NEW.student;
    INSERT INTO unread (session, server, student, coach, posted)
    SELECT session, server, student, coach, posted FROM waiting WHERE server = NEW.server AND student = NEW.student;
    RETURN NULL;
END $$;
-- +goose StatementEnd
CREATE TRIGGER unread_bound AFTER UPDATE OF given, ended ON bindings FOR EACH ROW EXECUTE FUNCTION unread_bound();

-- Now that nobody else can write a post, a look or a consent until this is kept.
INSERT INTO unread (session, server, student, coach, posted) SELECT session, server, student, coach, posted FROM waiting;

-- +goose Down
DROP TRIGGER unread_bound ON bindings;
DROP TRIGGER unread_looked ON looked;
DROP TRIGGER unread_posted ON sessions;
DROP FUNCTION unread_bound, unread_looked, unread_posted;
DROP TABLE unread;
DROP VIEW waiting;
