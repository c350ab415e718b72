-- +goose Up
CREATE TABLE projects (
    id       TEXT    NOT NULL PRIMARY KEY,
    name     TEXT    NOT NULL,
    number   TEXT    NOT NULL,
    levels   BIGINT  NOT NULL,
    walls    BIGINT  NOT NULL,
    changed  BIGINT  NOT NULL,
    revision BIGINT  NOT NULL,
    undo     BIGINT  NOT NULL,
    redo     BIGINT  NOT NULL
);

CREATE TABLE revisions (
    project  TEXT    NOT NULL REFERENCES projects (id) ON DELETE CASCADE,
    revision BIGINT  NOT NULL,
    made     BIGINT  NOT NULL,
    kind     TEXT    NOT NULL,
    label    TEXT    NOT NULL,
    client   TEXT    NOT NULL,
    changes  TEXT    NOT NULL,
    inverse  TEXT    NOT NULL,
    undo     BIGINT  NOT NULL,
    redo     BIGINT  NOT NULL,
    under    BIGINT  NOT NULL,
    mark     TEXT    NOT NULL,
    PRIMARY KEY (project, revision)
);

CREATE TABLE snapshots (
    project  TEXT    NOT NULL REFERENCES projects (id) ON DELETE CASCADE,
    revision BIGINT  NOT NULL,
    plan     BYTEA   NOT NULL,
    PRIMARY KEY (project, revision)
);

CREATE TABLE files (
    project TEXT    NOT NULL REFERENCES projects (id) ON DELETE CASCADE,
    kind    TEXT    NOT NULL,
    name    TEXT    NOT NULL,
    type    TEXT    NOT NULL,
    note    TEXT    NOT NULL,
    changed BIGINT  NOT NULL,
    content BYTEA   NOT NULL,
    PRIMARY KEY (project, kind, name)
);

CREATE TABLE settings (
    name  TEXT NOT NULL PRIMARY KEY,
    value TEXT NOT NULL
);

CREATE TABLE sessions (
    token   TEXT    NOT NULL PRIMARY KEY,
    expires BIGINT  NOT NULL
);

-- +goose Down
DROP TABLE sessions;
DROP TABLE settings;
DROP TABLE files;
DROP TABLE snapshots;
DROP TABLE revisions;
DROP TABLE projects;
