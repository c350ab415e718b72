package store

// SQLiteSource is what SQLite files are opened with.
var SQLiteSource = sqliteSource
