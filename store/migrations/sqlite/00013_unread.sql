-- Posts that wait for a coach's look, in rows of their own and in order: the oldest
-- of all of a coach's students is one step down an index. Triggers keep them, so
-- that they follow whatever writes, an older version beside this one as well; Copy
-- leaves them to the triggers.

-- +goose Up
-- What they are: posts since a consent that stands, which that coach has not looked
-- at.
CREATE VIEW waiting AS
    SELECT s.id AS session, s.server, s.student, b.coach, s.posted
    FROM sessions s JOIN bindings b ON b.server = s.server AND b.student = s.student AND b.given IS NOT NULL AND b.ended IS NULL
    WHERE s.posted >= b.given AND NOT EXISTS (SELECT 1 FROM looked l WHERE l.session = s.id AND l.coach = b.coach);

CREATE TABLE unread (
    session TEXT PRIMARY KEY REFERENCES sessions (id) ON DELETE CASCADE,
    server  TEXT    NOT NULL,
    student TEXT    NOT NULL,
    coach   TEXT    NOT NULL,
    posted  INTEGER NOT NULL
) STRICT, WITHOUT ROWID;
CREATE INDEX unread_coach ON unread (server, coach, posted, session);
CREATE INDEX unread_student ON unread (server, student, coach, posted, session);

-- +goose StatementBegin
CREATE TRIGGER unread_posted AFTER INSERT ON sessions BEGIN
    INSERT INTO unread (session, server, student, coach, posted)
    SELECT session, server, student, coach, posted FROM waiting WHERE session = NEW.id;
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER unread_looked AFTER INSERT ON looked BEGIN
    DELETE FROM unread WHERE session = NEW.session AND coach = NEW.coach;
END;
-- +goose StatementEnd

-- A binding is made before it is given, and goes with its student.
-- +goose StatementBegin
CREATE TRIGGER unread_bound AFTER UPDATE OF given, ended ON bindings BEGIN
    DELETE FROM unread WHERE server = NEW.server AND student = NEW.student;
    INSERT INTO unread (session, server, student, coach, posted)
    SELECT session, server, student, coach, posted FROM waiting WHERE server = NEW.server AND student = NEW.student;
END;
-- +goose StatementEnd

INSERT INTO unread (session, server, student, coach, posted) SELECT session, server, student, coach, posted FROM waiting;

-- +goose Down
DROP TRIGGER unread_bound;
DROP TRIGGER unread_looked;
DROP TRIGGER unread_posted;
DROP TABLE unread;
DROP VIEW waiting;
