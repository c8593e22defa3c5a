import sqlite from 'node-sqlite3-wasm';

/** A connection to a job's database. */
export type Db = InstanceType<typeof sqlite.Database>;

/**
 * Opens a job's database for writing, in the one way that survives a pulled plug here.
 *
 * The file layer of this build takes its lock by making a folder, and then answers SQLite's
 * question "does somebody hold a lock?" with yes because of that very folder. SQLite concludes that
 * a rollback journal it finds belongs to a living writer and never rolls it back: with a rollback
 * journal, a kill in the middle of a commit would leave half of it in the file. So the journal is a
 * write-ahead log, whose frames carry checksums and need no such question; in exclusive locking
 * mode it needs no shared memory either. The locking mode must be set before the first read.
 *
 * @throws Error when the file cannot be opened
 */
export function openDatabase(path: string): Db {
  const db = new sqlite.Database(path, { fileMustExist: true });
  try {
    db.exec('PRAGMA locking_mode = EXCLUSIVE');
    const mode = db.get('PRAGMA journal_mode = WAL') as { journal_mode?: string } | null;
    if (mode?.journal_mode !== 'wal') throw new Error('the write-ahead log cannot be used here');
    // Every commit is synced to the disk: a pulled plug loses at most what was not committed.
    db.exec('PRAGMA synchronous = FULL; PRAGMA foreign_keys = ON;');
    return db;
  } catch (error) {
    db.close();
    throw error;
  }
}

/** Brings the log into the one file, so that at rest there is nothing beside it, and closes. */
export function closeDatabase(db: Db): void {
  try {
    db.get('PRAGMA wal_checkpoint(TRUNCATE)');
    db.get('PRAGMA journal_mode = DELETE');
  } finally {
    db.close();
  }
}
