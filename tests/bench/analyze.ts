import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import Papa from 'papaparse';
import { seeded } from '../support/random.ts';

/**
 * How long `headless analyze` takes for eight hours of eight channels at 4 Hz (921 600 samples),
 * the start of the program included. The yardstick is the same file read by papaparse alone, in
 * the same run: `npm run bench:analyze`.
 */
const HOURS = 8;
const RATE_HZ = 4;
const ROUNDS = 3;

/** Name, resting value, what it comes from at the start, noise: in the unit of the name. */
const COLUMNS = [
  ['suctionPressure[psig]', 118, 25, 0.3],
  ['liquidPressure[psig]', 350, -70, 0.8],
  ['suctionLineTemp[degF]', 52, 9, 0.1],
  ['liquidLineTemp[degF]', 95, -7, 0.1],
  ['dischargeLineTemp[degF]', 165, -50, 0.2],
  ['outdoorAirTemp[degF]', 90, 0, 0.1],
  ['returnAirTemp[degF]', 76, 0, 0.1],
  ['supplyAirTemp[degF]', 56, 7, 0.1],
] as const;

function table(): string {
  const { normal } = seeded(8);
  const lines = [['time[s]', ...COLUMNS.map(([name]) => name)].join(',')];
  for (let i = 0; i < HOURS * 3600 * RATE_HZ; i += 1) {
    const t = i / RATE_HZ;
    const left = Math.exp(-t / 400);
    const cells = COLUMNS.map(([, rest, away, noise]) =>
      (rest + away * left + noise * normal()).toFixed(2),
    );
    lines.push([String(t), ...cells].join(','));
  }
  return `${lines.join('\n')}\n`;
}

function seconds(act: () => void): number {
  const start = performance.now();
  act();
  return (performance.now() - start) / 1000;
}

function analyze(file: string): void {
  const options = ['--refrigerant', 'R-410A', '--metering', 'txv', '--mode', 'cooling'];
  const run = spawnSync('npm', ['run', '-s', 'headless', '--', 'analyze', file, ...options], {
    encoding: 'utf8',
    maxBuffer: 1 << 28,
  });
  if (run.status !== 0) throw new Error(run.stderr);
  const answer = JSON.parse(run.stdout) as { counts: { samples: number } };
  const expected = HOURS * 3600 * RATE_HZ * COLUMNS.length;
  if (answer.counts.samples !== expected) throw new Error('not every sample was taken');
}

const folder = mkdtempSync(join(tmpdir(), 'stillpoint-bench-'));
try {
  const file = join(folder, 'eight-hours.csv');
  writeFileSync(file, table());
  for (let round = 1; round <= ROUNDS; round += 1) {
    const yardstick = seconds(() => {
      Papa.parse(readFileSync(file, 'utf8'));
    });
    const taken = seconds(() => analyze(file));
    process.stdout.write(
      `round ${round}: analyze ${taken.toFixed(2)} s, papaparse alone ${yardstick.toFixed(2)} s, ` +
        `ratio ${(taken / yardstick).toFixed(1)}\n`,
    );
  }
} finally {
  rmSync(folder, { recursive: true, force: true });
}
