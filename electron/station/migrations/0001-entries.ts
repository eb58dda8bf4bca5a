/**
 * The ledger: entries that are only ever added, and the sessions they belong to. The triggers stop mistakes, whoever
 * makes them; that nobody changed the file behind their back is for the chain of hashes to show.
 */
export const entries = `
  CREATE TABLE sessions (
    id TEXT PRIMARY KEY NOT NULL,
    opened_seq INTEGER NOT NULL UNIQUE,
    practice INTEGER NOT NULL CHECK (practice IN (0, 1))
  ) STRICT;

  CREATE TABLE entries (
    seq INTEGER PRIMARY KEY NOT NULL,
    session TEXT REFERENCES sessions (id),
    kind TEXT NOT NULL,
    payload TEXT NOT NULL CHECK (json_valid(payload)),
    wall_ms INTEGER NOT NULL,
    offset_min INTEGER NOT NULL,
    continuous_ms REAL NOT NULL,
    boot TEXT NOT NULL,
    author TEXT NOT NULL,
    role TEXT NOT NULL,
    command_id TEXT UNIQUE,
    prev_hash TEXT NOT NULL,
    hash TEXT NOT NULL UNIQUE
  ) STRICT;

  CREATE INDEX entries_by_session ON entries (session, seq);
  CREATE INDEX entries_that_end ON entries (session) WHERE kind = 'discharge';

  CREATE TRIGGER entries_stay BEFORE UPDATE ON entries
  BEGIN SELECT RAISE(ABORT, 'entries are never changed'); END;

  CREATE TRIGGER entries_are_kept BEFORE DELETE ON entries
  BEGIN SELECT RAISE(ABORT, 'entries are never removed'); END;

  CREATE TRIGGER entries_are_added_last BEFORE INSERT ON entries
  BEGIN
    SELECT RAISE(ABORT, 'an entry with that sequence, hash or command is there already')
    WHERE EXISTS (
      SELECT 1 FROM entries WHERE seq = NEW.seq OR hash = NEW.hash
        OR (NEW.command_id IS NOT NULL AND command_id = NEW.command_id)
    );
    SELECT RAISE(ABORT, 'an entry follows the last one')
    WHERE NEW.seq <> (SELECT coalesce(max(seq), 0) + 1 FROM entries)
      OR NEW.prev_hash <> coalesce(
        (SELECT hash FROM entries ORDER BY seq DESC LIMIT 1),
        '0000000000000000000000000000000000000000000000000000000000000000'
      );
  END;

  CREATE TRIGGER sessions_stay BEFORE UPDATE ON sessions
  BEGIN SELECT RAISE(ABORT, 'sessions are never changed'); END;

  CREATE TRIGGER sessions_are_kept BEFORE DELETE ON sessions
  BEGIN SELECT RAISE(ABORT, 'sessions are never removed'); END;

  CREATE TRIGGER sessions_are_new BEFORE INSERT ON sessions
  BEGIN
    SELECT RAISE(ABORT, 'that session is there already')
    WHERE EXISTS (SELECT 1 FROM sessions WHERE id = NEW.id OR opened_seq = NEW.opened_seq);
  END;
`;
