/**
 * The index for finding: one row a session, and one mark for each thing that a session can be found by. All of it is
 * read from the ledger and can be thrown away at any time.
 *
 * A mark carries its session's place in the list, so that whatever is looked for comes out in order, and whether a
 * session also answers to another mark is one look at the primary key.
 */
export const INDEX_TABLES = `
  CREATE TABLE about (
    one INTEGER PRIMARY KEY CHECK (one = 1),
    file_id TEXT NOT NULL,
    first_hash TEXT NOT NULL,
    measures_version INTEGER NOT NULL,
    upto_seq INTEGER NOT NULL,
    upto_hash TEXT NOT NULL,
    back_to_seq INTEGER NOT NULL,
    limits TEXT NOT NULL,
    limits_number INTEGER NOT NULL
  ) STRICT;

  CREATE TABLE sessions (
    first_seq INTEGER PRIMARY KEY,
    session_id TEXT NOT NULL UNIQUE,
    opened_wall_ms INTEGER NOT NULL,
    patient_code TEXT COLLATE NOCASE,
    shown TEXT NOT NULL,
    clinic TEXT,
    withheld INTEGER NOT NULL,
    limits_number INTEGER NOT NULL
  ) STRICT;

  CREATE INDEX sessions_by_time ON sessions (opened_wall_ms, first_seq);
  CREATE INDEX sessions_by_patient ON sessions (patient_code, opened_wall_ms, first_seq);
  CREATE INDEX sessions_by_limits ON sessions (limits_number);

  CREATE TABLE measures (
    first_seq INTEGER PRIMARY KEY,
    measures TEXT NOT NULL
  ) STRICT;

  CREATE TABLE marks (
    kind TEXT NOT NULL,
    value TEXT NOT NULL COLLATE NOCASE,
    opened_wall_ms INTEGER NOT NULL,
    first_seq INTEGER NOT NULL,
    PRIMARY KEY (kind, value, opened_wall_ms, first_seq)
  ) STRICT, WITHOUT ROWID;
`;
