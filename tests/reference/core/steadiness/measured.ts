import { readFileSync } from 'node:fs';
import { z } from 'zod';

/** One minute of a real heat pump's air side, in the printed units of the source. */
export interface Minute {
  readonly run: string;
  /** Hours and minutes of the laboratory's clock. */
  readonly clock: string;
  /** Minutes since midnight. */
  readonly minute: number;
  /** Outdoor unit power, W. */
  readonly power: number;
  /** Supply air, return air and return air dew point, °F. */
  readonly supply: number;
  readonly returned: number;
  readonly returnDewPoint: number;
  /** Standard air flow, ft³/min. */
  readonly flow: number;
  /** Commanded stage: 0 off, 1 low, 2 high. */
  readonly stage: number;
}

/** What stands beside the rows: where they come from and what they are. */
const CompanionSchema = z.object({
  rows: z.number(),
  runs: z.array(
    z.object({
      run: z.string(),
      file: z.string(),
      from: z.string(),
      to: z.string(),
      rows: z.number(),
      startSeen: z.boolean(),
      stopSeen: z.boolean(),
    }),
  ),
  columns: z.array(z.object({ name: z.string(), unit: z.string() })),
});

/** Above this the compressor runs, W: off it draws 0, running 1,200 to 2,600. */
const RUNNING_W = 200;

function read(name: string): string {
  return readFileSync(new URL(`../../../../fixtures/reference/${name}`, import.meta.url), 'utf8');
}

/** The heading of the measured rows. */
export const HEADING = read('measured-air-side.csv').split('\n', 1)[0] ?? '';

/** Source, runs and columns of the measured rows. */
export const COMPANION = CompanionSchema.parse(JSON.parse(read('measured-air-side.json')));

/** All measured minutes in the order of the file. */
export const MINUTES: readonly Minute[] = read('measured-air-side.csv')
  .trim()
  .split('\n')
  .slice(1)
  .map((line) => {
    const cells = line.split(',');
    const at = (name: string): string => {
      const cell = cells[HEADING.split(',').indexOf(name)];
      if (cell === undefined) throw new Error(`no ${name} in: ${line}`);
      return cell;
    };
    const number = (name: string): number => {
      const x = Number(at(name));
      if (!Number.isFinite(x)) throw new Error(`${name} is no number in: ${line}`);
      return x;
    };
    const clock = at('date_time').slice(-8, -3);
    return {
      run: at('run'),
      clock,
      minute: Number(clock.slice(0, 2)) * 60 + Number(clock.slice(3)),
      power: number('od_power'),
      supply: number('sa_temp'),
      returned: number('zn_temp'),
      returnDewPoint: number('zn_temp_dp'),
      flow: number('sa_flow'),
      stage: number('stg'),
    };
  });

/** The minutes of one run. */
export function minutesOf(run: string): readonly Minute[] {
  return MINUTES.filter((m) => m.run === run);
}

/** Whether the compressor ran in a minute. */
export function runs(m: Minute): boolean {
  return m.power > RUNNING_W;
}

/** Return minus supply, °F. */
export function drop(m: Minute): number {
  return m.returned - m.supply;
}

/** The running minutes of a run, first to last. */
export function running(run: string): readonly Minute[] {
  return minutesOf(run).filter(runs);
}

/** Arithmetic mean; NaN of nothing. */
export function mean(x: readonly number[]): number {
  return x.reduce((a, b) => a + b, 0) / x.length;
}

/** The middle value (the upper one of two); NaN of nothing. */
export function median(x: readonly number[]): number {
  return x.toSorted((a, b) => a - b)[Math.floor(x.length / 2)] ?? NaN;
}
