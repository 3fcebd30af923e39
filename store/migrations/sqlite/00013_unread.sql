-- Posts that wait for a coach's look, in rows of their own and in order: the oldest
-- of all of a coach's students is one step down an index. Triggers keep them, so
-- that they follow whatever writes, an older version beside this one as well; Copy
-- leaves them to the triggers.

-- +goose Up
-- What they are: posts since a consent that stands, which that coach has not looked
-- at.
CREATE VIEW waiting AS
    SELECT s.server, s.student, s.posted, s.id AS session, b.coach
    FROM sessions s JOIN bindings b ON b.server = s.server AND b.student = s.student AND b.given IS NOT NULL AND b.ended IS NULL
    WHERE s.posted >= b.given AND NOT EXISTS (SELECT 1 FROM looked l WHERE l.session = s.id AND l.coach = b.coach);

CREATE TABLE unread (
    server  TEXT    NOT NULL,
    student TEXT    NOT NULL,
    posted  INTEGER NOT NULL,
    session TEXT    NOT NULL,
    coach   TEXT    NOT NULL,
    PRIMARY KEY (server, student, posted, session)
) STRICT, WITHOUT ROWID;
CREATE INDEX unread_coach ON unread (server, coach, posted, session);

-- +goose StatementBegin
CREATE TRIGGER unread_posted AFTER INSERT ON sessions BEGIN
    INSERT INTO unread (server, student, posted, session, coach)
    SELECT server, student, posted, session, coach FROM waiting WHERE session = NEW.id;
END;
-- +goose StatementEnd

-- +goose StatementBegin
CREATE TRIGGER unread_looked AFTER INSERT ON looked BEGIN
    DELETE FROM unread WHERE coach = NEW.coach
        AND (server, student, posted, session) = (SELECT s.server, s.student, s.posted, s.id FROM sessions s WHERE s.id = NEW.session);
END;
-- +goose StatementEnd

-- In place of a foreign key, which would want an index by session.
-- +goose StatementBegin
CREATE TRIGGER unread_gone AFTER DELETE ON sessions BEGIN
    DELETE FROM unread WHERE server = OLD.server AND student = OLD.student AND posted = OLD.posted AND session = OLD.id;
END;
-- +goose StatementEnd

-- A binding is made before it is given, and goes with its student.
-- +goose StatementBegin
CREATE TRIGGER unread_bound AFTER UPDATE OF given, ended ON bindings BEGIN
    DELETE FROM unread WHERE server = NEW.server AND student = NEW.student;
    INSERT INTO unread (server, student, posted, session, coach)
    SELECT server, student, posted, session, coach FROM waiting WHERE server = NEW.server AND student = NEW.student;
END;
-- +goose StatementEnd

INSERT INTO unread (server, student, posted, session, coach) SELECT server, student, posted, session, coach FROM waiting;

-- When a challenge of a season was planned: one of the same day opens then, and not at
-- a midnight before anybody knew of it. NULL in what was planned before this.
ALTER TABLE scheduled ADD COLUMN made INTEGER;

-- +goose Down
ALTER TABLE scheduled DROP COLUMN made;
DROP TRIGGER unread_bound;
DROP TRIGGER unread_gone;
DROP TRIGGER unread_looked;
DROP TRIGGER unread_posted;
DROP TABLE unread;
DROP VIEW waiting;
