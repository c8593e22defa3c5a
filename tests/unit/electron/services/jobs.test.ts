import {
  copyFileSync,
  mkdtempSync,
  readdirSync,
  readFileSync,
  utimesSync,
  writeFileSync,
} from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { afterEach, describe, expect, it } from 'vitest';
import { say } from '../../../../electron/bridge/errors.ts';
import { fileNameFor } from '../../../../electron/services/job-names.ts';
import { Jobs } from '../../../../electron/services/jobs.ts';
import { testJob, testUnit } from '../../../support/job.ts';

const folders: Jobs[] = [];
afterEach(() => {
  for (const jobs of folders.splice(0)) jobs.close();
});

function open(folder = mkdtempSync(join(tmpdir(), 'jobs-'))) {
  const jobs = new Jobs(folder, () => ({ author: 'A', at: '2026-06-01T12:00:00.000Z' }));
  folders.push(jobs);
  return {
    folder,
    jobs,
    files: () => readdirSync(folder).filter((n) => n.endsWith('.stillpoint')),
  };
}

/** The bytes of a finished job file. */
function someJob(): Buffer {
  const { jobs, folder } = open();
  jobs.create(testJob({ title: 'From elsewhere' }));
  jobs.close();
  return readFileSync(join(folder, 'From elsewhere.stillpoint'));
}

/** Sends bytes in pieces as the screens do. */
function upload(jobs: Jobs, bytes: Buffer, name = 'brought.stillpoint', size = 10_000) {
  for (let at = 0; ; at += size) {
    const last = at + size >= bytes.length;
    const base64 = bytes.subarray(at, at + size).toString('base64');
    const result = jobs.import({ upload: 'u', name, base64, last });
    if (last) return result;
    expect(result).toEqual({ ok: true, value: null });
  }
}

describe('fileNameFor', () => {
  it.each([
    ['No cooling', 'No cooling'],
    ['a/b\\c:d*e?f"g<h>i|j', 'a b c d e f g h i j'],
    ['../../etc/passwd', 'etc passwd'],
    ['...', 'Job'],
    ['\u0000\n\t', 'Job'],
    ['Schäfer, 2. Stock', 'Schäfer, 2. Stock'],
    ['x'.repeat(300), 'x'.repeat(80)],
  ])('makes of %j the name %j', (title, name) => {
    expect(fileNameFor(title)).toBe(name);
  });
});

describe('Jobs', () => {
  it('names files after the title and never writes over one', () => {
    const { jobs, files } = open();
    for (let i = 0; i < 3; i += 1) expect(jobs.create(testJob()).ok).toBe(true);
    expect(files()).toEqual([
      'No cooling upstairs (2).stillpoint',
      'No cooling upstairs (3).stillpoint',
      'No cooling upstairs.stillpoint',
    ]);
  });

  it('refuses two units of one name', () => {
    const { jobs, files } = open();
    const result = jobs.create(testJob({ units: [testUnit(), testUnit()] }));
    expect(result).toMatchObject({ ok: false, error: { code: 'BAD_ARGUMENTS' } });
    expect(files()).toEqual([]);
  });

  it('lists jobs with what is in them, and refused files with the reason, untouched', () => {
    const { jobs, folder } = open();
    jobs.create(testJob());
    const foreign = Buffer.from('not a job at all');
    writeFileSync(join(folder, 'foreign.stillpoint'), foreign);
    const cut = someJob().subarray(0, 5000);
    writeFileSync(join(folder, 'cut.stillpoint'), cut);
    writeFileSync(join(folder, 'other.txt'), 'ignored');
    const rows = Object.fromEntries(jobs.list().map((row) => [row.file, row]));
    expect(Object.keys(rows).sort()).toEqual([
      'No cooling upstairs.stillpoint',
      'cut.stillpoint',
      'foreign.stillpoint',
    ]);
    expect(rows['No cooling upstairs.stillpoint']).toMatchObject({
      title: 'No cooling upstairs',
      site: 'Test site',
      sessions: 0,
      snapshots: 0,
      refused: null,
    });
    expect(rows['foreign.stillpoint']?.refused).not.toBeNull();
    expect(rows['cut.stillpoint']?.refused).not.toBeNull();
    expect(jobs.open('foreign.stillpoint')).toMatchObject({
      ok: false,
      error: { code: 'JOB_REFUSED' },
    });
    expect(jobs.current?.head().title).toBe('No cooling upstairs');
    expect(readFileSync(join(folder, 'foreign.stillpoint')).equals(foreign)).toBe(true);
    expect(readFileSync(join(folder, 'cut.stillpoint')).equals(cut)).toBe(true);
  });

  it('opens by name or whole path, and no relative path', () => {
    const { jobs, folder } = open();
    jobs.create(testJob());
    jobs.close();
    expect(jobs.open('No cooling upstairs.stillpoint').ok).toBe(true);
    expect(jobs.open(join(folder, 'No cooling upstairs.stillpoint')).ok).toBe(true);
    for (const file of ['../No cooling upstairs.stillpoint', 'a/b', '..', 'absent.stillpoint']) {
      const result = jobs.open(file);
      expect(result).toMatchObject({ ok: false, error: { code: 'JOB_REFUSED' } });
      expect(!result.ok && say(result.error)).toContain(file.split('/').at(-1));
    }
  });

  it('sees that another process changed a listed file', () => {
    const { jobs, folder } = open();
    jobs.create(testJob());
    jobs.close();
    expect(jobs.list()[0]?.title).toBe('No cooling upstairs');
    copyFileSync(
      (() => {
        const other = open();
        other.jobs.create(
          testJob({ title: 'Changed, with a longer complaint', complaint: 'x'.repeat(4999) }),
        );
        other.jobs.close();
        return join(other.folder, other.files()[0]!);
      })(),
      join(folder, 'No cooling upstairs.stillpoint'),
    );
    expect(jobs.list()[0]?.title).toBe('Changed, with a longer complaint');
  });

  it('takes a file in pieces and opens it when whole', () => {
    const { jobs, files } = open();
    const result = upload(jobs, someJob());
    expect(result.ok && result.value?.head().title).toBe('From elsewhere');
    expect(files()).toEqual(['brought.stillpoint']);
    expect(upload(jobs, someJob()).ok).toBe(true);
    expect(files()).toEqual(['brought (2).stillpoint', 'brought.stillpoint']);
  });

  it('leaves no trace of a file it refuses, and the open job open', () => {
    const { jobs, folder } = open();
    jobs.create(testJob());
    const before = readdirSync(folder).sort();
    for (const bytes of [Buffer.from('nonsense'), someJob().subarray(0, 9000)]) {
      const result = upload(jobs, bytes, '../../evil.stillpoint');
      expect(result).toMatchObject({ ok: false, error: { code: 'JOB_REFUSED' } });
      expect(readdirSync(folder).sort()).toEqual(before);
    }
    expect(jobs.current?.head().title).toBe('No cooling upstairs');
  });

  it('removes the pieces of an upload that broke off in an earlier run', () => {
    const { jobs, folder } = open();
    jobs.import({ upload: 'u', name: 'a', base64: 'AAAA', last: false });
    const [part] = readdirSync(folder);
    open(folder);
    expect(readdirSync(folder)).toEqual([part]);
    const long = new Date(Date.now() - 2 * 24 * 3600 * 1000);
    utimesSync(join(folder, part!), long, long);
    open(folder);
    expect(readdirSync(folder)).toEqual([]);
  });
});
