/** 'SPNT' in the header of the file tells our SQLite files from others'. */
export const APPLICATION_ID = 0x53504e54;
/** Version of the schema. A file with a higher one is refused. */
export const SCHEMA_VERSION = 1;
export const EXTENSION = '.stillpoint';

/** A table that can be added to, not changed. */
const frozen = (table: string): string =>
  ['UPDATE', 'DELETE']
    .map(
      (action) => `
  CREATE TRIGGER IF NOT EXISTS ${table}_no_${action.toLowerCase()} BEFORE ${action} ON ${table}
    BEGIN SELECT RAISE(ABORT, 'the ${table} can be added to, not changed'); END;`,
    )
    .join('');

/**
 * Tables that the first files of this version did not have: made when first written to, so that
 * looking into an old job does not change it.
 */
export const ADDED_SQL = `
  CREATE TABLE IF NOT EXISTS answers (
    unit TEXT PRIMARY KEY,
    body TEXT NOT NULL
  ) STRICT;
  CREATE TABLE IF NOT EXISTS review (
    number INTEGER PRIMARY KEY,
    id TEXT NOT NULL UNIQUE,
    body TEXT NOT NULL
  ) STRICT;
  ${frozen('review')}
`;

/**
 * The tables. What people enter is JSON, checked by the schemas of core/record when read; samples
 * are plain rows, so that any SQLite tool can read them (view `readable_sample`). The log, the
 * samples, the snapshots and their reviews can be added to, not changed.
 */
export const CREATE_SQL = `
  CREATE TABLE job (
    id INTEGER PRIMARY KEY CHECK (id = 1),
    head TEXT NOT NULL
  ) STRICT;
  CREATE TABLE unit (
    key TEXT PRIMARY KEY,
    body TEXT NOT NULL
  ) STRICT;
  CREATE TABLE session (
    number INTEGER PRIMARY KEY,
    id TEXT NOT NULL UNIQUE,
    body TEXT NOT NULL,
    ended_at TEXT
  ) STRICT;
  CREATE TABLE stream (
    id INTEGER PRIMARY KEY,
    session_id TEXT NOT NULL REFERENCES session (id),
    unit TEXT NOT NULL,
    UNIQUE (session_id, unit)
  ) STRICT;
  CREATE TABLE channel (
    id INTEGER PRIMARY KEY,
    key TEXT NOT NULL UNIQUE
  ) STRICT;
  CREATE TABLE sample (
    stream INTEGER NOT NULL REFERENCES stream (id),
    ordinal INTEGER NOT NULL,
    channel INTEGER NOT NULL REFERENCES channel (id),
    t REAL NOT NULL,
    value REAL,
    why TEXT,
    seq INTEGER,
    device_time REAL,
    PRIMARY KEY (stream, ordinal),
    CHECK ((value IS NULL) <> (why IS NULL))
  ) STRICT, WITHOUT ROWID;
  CREATE TABLE snapshot (
    number INTEGER PRIMARY KEY,
    id TEXT NOT NULL UNIQUE,
    body TEXT NOT NULL
  ) STRICT;
  CREATE TABLE finding (
    number INTEGER PRIMARY KEY,
    id TEXT NOT NULL UNIQUE,
    body TEXT NOT NULL
  ) STRICT;
  CREATE TABLE note (
    number INTEGER PRIMARY KEY,
    id TEXT NOT NULL UNIQUE,
    body TEXT NOT NULL
  ) STRICT;
  CREATE TABLE log (
    number INTEGER PRIMARY KEY,
    at TEXT NOT NULL,
    author TEXT NOT NULL,
    what TEXT NOT NULL,
    detail TEXT NOT NULL
  ) STRICT;
  CREATE VIEW readable_sample AS
    SELECT stream.session_id, stream.unit, sample.ordinal, channel.key AS channel, sample.t,
           sample.value, sample.why, sample.seq, sample.device_time
    FROM sample JOIN stream ON stream.id = sample.stream JOIN channel ON channel.id = sample.channel;
  ${['log', 'sample', 'snapshot'].map(frozen).join('')}
  ${ADDED_SQL}
  PRAGMA application_id = ${APPLICATION_ID};
  PRAGMA user_version = ${SCHEMA_VERSION};
`;
