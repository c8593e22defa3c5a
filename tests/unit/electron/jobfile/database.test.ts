import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, readdirSync, rmSync, statSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import sqlite from 'node-sqlite3-wasm';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import {
  closeDatabase,
  openDatabase,
  prepareToWrite,
} from '../../../../electron/jobfile/database.ts';

let folder: string;
beforeEach(() => {
  folder = mkdtempSync(join(tmpdir(), 'stillpoint-db-'));
});
afterEach(() => {
  rmSync(folder, { recursive: true, force: true });
});

describe('openDatabase', () => {
  it('forgets a transaction whose process was killed after its pages had reached the disk', () => {
    const path = join(folder, 'db');
    const made = new sqlite.Database(path);
    made.exec('CREATE TABLE t (x TEXT); BEGIN');
    for (let i = 0; i < 500; i += 1) made.run('INSERT INTO t VALUES (?)', ['old'.repeat(100)]);
    made.exec('COMMIT');
    made.close();

    const child = ['--import', 'tsx', 'tests/support/torn-commit-child.ts', path];
    expect(spawnSync(process.execPath, child).signal).toBe('SIGKILL');
    // The test is worth something only if torn pages really were written.
    expect(statSync(`${path}-wal`).size).toBeGreaterThan(500_000);
    expect(existsSync(`${path}.lock`)).toBe(true);

    rmSync(`${path}.lock`, { recursive: true });
    const db = openDatabase(path);
    const row = db.get("SELECT count(*) AS n, sum(x LIKE 'new%') AS torn FROM t");
    expect(row).toEqual({ n: 500, torn: 0 });
    expect(db.get('PRAGMA integrity_check')).toEqual({ integrity_check: 'ok' });
    closeDatabase(db);
  });

  it('leaves one file at rest, which a plain connection can read', () => {
    const path = join(folder, 'db');
    new sqlite.Database(path).close();
    const db = openDatabase(path);
    prepareToWrite(db);
    db.exec('CREATE TABLE t (x REAL)');
    db.run('INSERT INTO t VALUES (?)', [0.1]);
    closeDatabase(db);
    expect(readdirSync(folder)).toEqual(['db']);
    const plain = new sqlite.Database(path, { readOnly: true });
    expect(plain.get('SELECT x FROM t')).toEqual({ x: 0.1 });
    plain.close();
  });
});
