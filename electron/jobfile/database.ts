import sqlite from 'node-sqlite3-wasm';

/** A connection to a job's database. */
export type Db = InstanceType<typeof sqlite.Database>;

/**
 * Opens a job's database, in the one way that survives a pulled plug here.
 *
 * The file layer of this build takes its lock by making a folder, and then answers SQLite's
 * question "does somebody hold a lock?" with yes because of that very folder. SQLite concludes that
 * a rollback journal it finds belongs to a living writer and never rolls it back: with a rollback
 * journal, a kill in the middle of a commit would leave half of it in the file. So the journal is a
 * write-ahead log, whose frames carry checksums and need no such question; in exclusive locking
 * mode it needs no shared memory either. The locking mode must be set before the first read.
 *
 * Until {@link prepareToWrite} the file is only read: looking into a job does not change it.
 *
 * @throws Error when the file cannot be opened
 */
export function openDatabase(path: string): Db {
  const db = new sqlite.Database(path, { fileMustExist: true });
  try {
    // Every commit is synced to the disk: a pulled plug loses at most what was not committed.
    db.exec('PRAGMA locking_mode = EXCLUSIVE; PRAGMA synchronous = FULL; PRAGMA foreign_keys = ON');
    return db;
  } catch (error) {
    db.close();
    throw error;
  }
}

function journalMode(db: Db, change = ''): string | undefined {
  const row = db.get(`PRAGMA journal_mode${change}`) as { journal_mode?: string } | null;
  return row?.journal_mode;
}

/**
 * Must come before the first write on a connection; later calls are cheap.
 *
 * @throws Error when the write-ahead log cannot be begun
 */
export function prepareToWrite(db: Db): void {
  if (journalMode(db) === 'wal') return;
  if (journalMode(db, ' = WAL') !== 'wal') throw new Error('the write-ahead log cannot be begun');
}

/** Brings the log into the one file, so that at rest there is nothing beside it, and closes. */
export function closeDatabase(db: Db): void {
  try {
    if (journalMode(db) === 'wal') {
      db.get('PRAGMA wal_checkpoint(TRUNCATE)');
      journalMode(db, ' = DELETE');
    }
  } finally {
    db.close();
  }
}
