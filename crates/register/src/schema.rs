//! The tables of a register. Version 1.

/// Marks the file as ours: "val1" in the application id of the SQLite header.
pub(crate) const APPLICATION_ID: i32 = 0x7661_6c31;
/// The version of the tables.
pub(crate) const VERSION: i32 = 1;

/// The tables. A released version is never changed; a later one migrates it.
pub(crate) const TABLES: &str = "
CREATE TABLE seed (only INTEGER PRIMARY KEY CHECK (only = 1), hex TEXT NOT NULL) STRICT;
CREATE TABLE input (
    place INTEGER PRIMARY KEY,
    name TEXT NOT NULL UNIQUE,
    digest TEXT NOT NULL,
    content TEXT NOT NULL
) STRICT;
CREATE TABLE form_question (
    form TEXT NOT NULL,
    form_place INTEGER NOT NULL,
    number INTEGER NOT NULL,
    question TEXT NOT NULL,
    printed_order TEXT NOT NULL,
    counts INTEGER NOT NULL,
    PRIMARY KEY (form_place, number)
) STRICT;
CREATE TABLE candidate (
    place INTEGER PRIMARY KEY,
    number TEXT NOT NULL UNIQUE,
    service TEXT NOT NULL,
    seat TEXT,
    form TEXT
) STRICT;
CREATE TABLE glass (
    candidate TEXT NOT NULL REFERENCES candidate (number),
    place INTEGER NOT NULL,
    code TEXT NOT NULL,
    sample TEXT NOT NULL,
    PRIMARY KEY (candidate, place)
) STRICT;
CREATE TABLE shortfall (place INTEGER PRIMARY KEY, sentence TEXT NOT NULL) STRICT;
CREATE TABLE answer (
    candidate TEXT NOT NULL REFERENCES candidate (number),
    item TEXT NOT NULL,
    answer TEXT NOT NULL,
    source TEXT NOT NULL,
    line INTEGER NOT NULL,
    PRIMARY KEY (candidate, item)
) STRICT, WITHOUT ROWID;
CREATE TABLE mark (
    candidate TEXT NOT NULL REFERENCES candidate (number),
    part TEXT NOT NULL CHECK (part IN ('theory', 'tasting')),
    place INTEGER NOT NULL,
    question TEXT NOT NULL,
    asked TEXT NOT NULL,
    code TEXT NOT NULL,
    answer TEXT NOT NULL,
    thousandths INTEGER NOT NULL,
    of_thousandths INTEGER NOT NULL,
    counts INTEGER NOT NULL,
    extra INTEGER NOT NULL,
    waiting INTEGER NOT NULL,
    reason TEXT NOT NULL,
    rule TEXT NOT NULL,
    near TEXT NOT NULL,
    PRIMARY KEY (candidate, part, place, asked)
) STRICT, WITHOUT ROWID;
CREATE TABLE act (place INTEGER PRIMARY KEY, what TEXT NOT NULL) STRICT;
";
