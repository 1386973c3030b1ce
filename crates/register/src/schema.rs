//! The tables of a register, and the way from every released version of them to this one.
//!
//! `user_version` of the SQLite header is the version. A released version is never changed: a later
//! one is a step behind it in [`STEPS`], tested from a stored script of an old register in
//! `crates/register/tests/old`.

use rusqlite::Connection;

use crate::error::RegisterError;

/// Marks the file as ours: "val1" in the application id of the SQLite header.
pub(crate) const APPLICATION_ID: i32 = 0x7661_6c31;

/// Each step makes the next version: the first makes version 1 from nothing. To change the tables,
/// add a step at the end.
const STEPS: [&str; 6] = [
    VERSION_1, VERSION_2, VERSION_3, VERSION_4, VERSION_5, VERSION_6,
];

/// The version of the tables that this program writes.
pub(crate) const VERSION: usize = STEPS.len();

/// The first version: texts, sitting, answers, marks, acts.
const VERSION_1: &str = "
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

/// The second version: the ledger in place of the list of acts (which stays, as it was, where there
/// was one), and the seal.
const VERSION_2: &str = "
CREATE TABLE ledger (number INTEGER PRIMARY KEY, entry TEXT NOT NULL) STRICT;
CREATE TABLE ledger_head (
    only INTEGER PRIMARY KEY CHECK (only = 1),
    size INTEGER NOT NULL,
    parts TEXT NOT NULL
) STRICT;
CREATE TRIGGER ledger_is_never_changed BEFORE UPDATE ON ledger
BEGIN SELECT RAISE(ABORT, 'the ledger is only added to'); END;
CREATE TRIGGER ledger_is_never_cut BEFORE DELETE ON ledger
BEGIN SELECT RAISE(ABORT, 'the ledger is only added to'); END;
CREATE TABLE seal (only INTEGER PRIMARY KEY CHECK (only = 1), size INTEGER NOT NULL, root TEXT NOT NULL) STRICT;
";

/// Version 3: the numbers drawn for a question on a form.
const VERSION_3: &str = "ALTER TABLE form_question ADD COLUMN drawn TEXT NOT NULL DEFAULT '';";

/// The fourth version: texts that were corrected after the draw. The first text stays where it is;
/// the last correction of a name is the one that counts.
const VERSION_4: &str = "
CREATE TABLE amendment (
    place INTEGER PRIMARY KEY,
    name TEXT NOT NULL,
    digest TEXT NOT NULL,
    content TEXT NOT NULL
) STRICT;
";

/// The fifth version: that an item was answered twice is kept with the answer. Before, it stood in the
/// reason of the mark alone (`answered twice, in line 3 and in line 7: …`), from where it is taken.
const VERSION_5: &str = "
ALTER TABLE answer ADD COLUMN second_line INTEGER;
UPDATE answer SET second_line = (
    SELECT CAST(substr(m.reason, instr(m.reason, ' and in line ') + 13) AS INTEGER)
    FROM mark AS m
    WHERE m.waiting AND m.reason LIKE 'answered twice, in line % and in line %'
        AND m.candidate = answer.candidate
        AND answer.item = CASE m.part
            WHEN 'theory' THEN 'theory ' || m.place
            ELSE 'tasting ' || m.code || ' ' || m.asked
        END
);
";

/// The sixth version: who is behind the numbers is kept apart from the texts, the templates of
/// papers are kept, and with an answer the picture of its sheet and who typed it in. A text from which
/// people were taken later no longer fits its digest, and says so.
const VERSION_6: &str = "
CREATE TABLE identity (
    only INTEGER PRIMARY KEY CHECK (only = 1),
    kept TEXT NOT NULL CHECK (kept IN ('separate-file', 'locked', 'removed')),
    locked BLOB NOT NULL
) STRICT;
CREATE TABLE person (
    candidate TEXT PRIMARY KEY REFERENCES candidate (number),
    salt TEXT NOT NULL,
    digest TEXT NOT NULL
) STRICT, WITHOUT ROWID;
CREATE TABLE template (
    name TEXT NOT NULL,
    digest TEXT NOT NULL,
    content TEXT NOT NULL,
    PRIMARY KEY (name, digest)
) STRICT, WITHOUT ROWID;
ALTER TABLE input ADD COLUMN parted INTEGER NOT NULL DEFAULT 0;
ALTER TABLE amendment ADD COLUMN parted INTEGER NOT NULL DEFAULT 0;
ALTER TABLE answer ADD COLUMN sheet TEXT;
ALTER TABLE answer ADD COLUMN keyed_by TEXT;
";

/// The first version that keeps people apart from the texts.
pub(crate) const IDENTITY_SINCE: usize = 6;

/// The first version that can hold corrected texts.
pub(crate) const AMENDMENTS_SINCE: usize = 4;

/// The version of the tables in this file; 0 where there are none.
pub(crate) fn version_of(connection: &Connection) -> Result<usize, RegisterError> {
    let version: i32 = connection.pragma_query_value(None, "user_version", |row| row.get(0))?;
    usize::try_from(version)
        .map_err(|_| RegisterError::Damaged(format!("its tables are of version {version}")))
}

/// Takes the tables from the version they have to this program's. Within a transaction of the caller.
pub(crate) fn migrate(connection: &Connection, from: usize) -> Result<(), RegisterError> {
    for step in STEPS.iter().skip(from) {
        connection.execute_batch(step)?;
    }
    connection.pragma_update(None, "user_version", VERSION as i64)?;
    Ok(())
}
