-- +goose Up
CREATE TABLE projects (
    id       TEXT    NOT NULL PRIMARY KEY,
    name     TEXT    NOT NULL,
    number   TEXT    NOT NULL,
    levels   INTEGER NOT NULL,
    walls    INTEGER NOT NULL,
    changed  INTEGER NOT NULL,
    revision INTEGER NOT NULL,
    undo     INTEGER NOT NULL,
    redo     INTEGER NOT NULL
) STRICT;

CREATE TABLE revisions (
    project  TEXT    NOT NULL REFERENCES projects (id) ON DELETE CASCADE,
    revision INTEGER NOT NULL,
    made     INTEGER NOT NULL,
    kind     TEXT    NOT NULL,
    label    TEXT    NOT NULL,
    client   TEXT    NOT NULL,
    changes  TEXT    NOT NULL,
    inverse  TEXT    NOT NULL,
    undo     INTEGER NOT NULL,
    redo     INTEGER NOT NULL,
    under    INTEGER NOT NULL,
    mark     TEXT    NOT NULL,
    PRIMARY KEY (project, revision)
) STRICT;

CREATE TABLE snapshots (
    project  TEXT    NOT NULL REFERENCES projects (id) ON DELETE CASCADE,
    revision INTEGER NOT NULL,
    plan     BLOB    NOT NULL,
    PRIMARY KEY (project, revision)
) STRICT;

CREATE TABLE files (
    project TEXT    NOT NULL REFERENCES projects (id) ON DELETE CASCADE,
    kind    TEXT    NOT NULL,
    name    TEXT    NOT NULL,
    type    TEXT    NOT NULL,
    note    TEXT    NOT NULL,
    changed INTEGER NOT NULL,
    content BLOB    NOT NULL,
    PRIMARY KEY (project, kind, name)
) STRICT;

CREATE TABLE settings (
    name  TEXT NOT NULL PRIMARY KEY,
    value TEXT NOT NULL
) STRICT;

CREATE TABLE sessions (
    token   TEXT    NOT NULL PRIMARY KEY,
    expires INTEGER NOT NULL
) STRICT;

-- +goose Down
DROP TABLE sessions;
DROP TABLE settings;
DROP TABLE files;
DROP TABLE snapshots;
DROP TABLE revisions;
DROP TABLE projects;
