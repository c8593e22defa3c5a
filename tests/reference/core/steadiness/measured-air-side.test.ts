import { describe, expect, it } from 'vitest';
import { specsFor } from '../../../../core/circuit/judged.ts';
import { createDetector } from '../../../../core/steadiness/detector.ts';
import type { QuantitySpec, SteadinessView } from '../../../../core/steadiness/types.ts';
import {
  differenceFromFahrenheit,
  fahrenheitFromDifference,
} from '../../../../core/units/temperature.ts';
import { testConfig } from '../../../support/session.ts';
import {
  COMPANION,
  drop,
  HEADING,
  mean,
  median,
  minutesOf,
  MINUTES,
  running,
  runs,
  type Minute,
} from './measured.ts';

/**
 * The detector on real equipment: a two-stage heat pump measured once a minute by NIST (source,
 * uncertainties and licence beside the rows). Only the air side was measured, so the air drop is
 * the one quantity asked for, with the program's own tolerance for it. A frame of a minute is
 * slower than the detector is made for (0.1 to 5 s): it may be late, it may not be wrong.
 */
const OURS = specsFor(testConfig()).filter((spec) => spec.key === 'airDrop');
const TOLERANCE = fahrenheitFromDifference(OURS[0]?.tolerance ?? NaN);
/** The horizon of the promise in minutes of data. */
const AHEAD = 5;
const FRAME_S = 60;

interface Judged {
  readonly minute: Minute;
  readonly value: number;
  readonly view: SteadinessView;
}

interface Setting {
  readonly minimumRun: number;
  readonly tolerance: number;
  readonly quantity: (m: Minute) => number;
  /** Whether the detector is told that the compressor runs. */
  readonly told: boolean;
}

const USUAL: Setting = { minimumRun: 0, tolerance: TOLERANCE, quantity: drop, told: true };

function play(minutes: readonly Minute[], setting: Partial<Setting> = {}): Judged[] {
  const { minimumRun, tolerance, quantity, told } = { ...USUAL, ...setting };
  const spec: QuantitySpec = {
    key: 'airDrop',
    tolerance: differenceFromFahrenheit(tolerance),
    required: true,
  };
  const detector = createDetector({ specs: [spec], minimumRun });
  return minutes.map((minute, i) => {
    const value = quantity(minute);
    detector.push({
      t: (i + 1) * FRAME_S,
      dt: FRAME_S,
      values: [differenceFromFahrenheit(value)],
      running: told ? runs(minute) : null,
    });
    return { minute, value, view: detector.view() };
  });
}

/** The average that is shown, °F. */
function shown(j: Judged): number {
  return fahrenheitFromDifference(j.view.motions[0]?.value ?? NaN);
}

/** What the next minutes' mean misses a settled minute's average by, where they all ran. */
interface Claim {
  readonly where: string;
  readonly error: number;
  /** Whether the average was declared in this very minute. */
  readonly declared: boolean;
  /** Whether the stage changed in the five minutes before or in those promised. */
  readonly staged: boolean;
}

function claims(run: string, setting: Partial<Setting> = {}): Claim[] {
  const judged = play(minutesOf(run), setting);
  return judged.flatMap((j, i) => {
    const next = judged.slice(i + 1, i + 1 + AHEAD);
    const still = j.view.state === 'settled' || j.view.state === 'hunting';
    if (!still || next.length < AHEAD || !next.every((n) => runs(n.minute))) return [];
    const near = judged.slice(Math.max(0, i - AHEAD), i + 1 + AHEAD);
    return [
      {
        where: `${run} ${j.minute.clock}`,
        error: mean(next.map((n) => n.value)) - shown(j),
        declared: j.view.declaredAt !== judged[i - 1]?.view.declaredAt,
        staged: new Set(near.filter((n) => runs(n.minute)).map((n) => n.minute.stage)).size > 1,
      },
    ];
  });
}

/** Minutes of running until the first `settled`; null where there is none. */
function settledAfter(run: string, setting: Partial<Setting> = {}): number | null {
  const judged = play(minutesOf(run), setting);
  const start = judged.findIndex((j) => runs(j.minute));
  const at = judged.findIndex((j) => j.view.state === 'settled');
  return at < 0 ? null : at - start + 1;
}

/**
 * Minutes of running after which the same rule holds by what was measured later: from then on the
 * mean of every next five minutes is within tolerance of the mean of the three before.
 */
function stillAfter(run: string, tolerance: number): number | null {
  const x = running(run).map(drop);
  const off = (i: number): number =>
    Math.abs(mean(x.slice(i + 1, i + 1 + AHEAD)) - mean(x.slice(i - 2, i + 1)));
  const known = x.length - AHEAD; // minutes that have five after them
  let first = known;
  while (first > 2 && off(first - 1) <= tolerance) first -= 1;
  return first < known ? first + 1 : null;
}

const RUNS = COMPANION.runs.map((r) => r.run);
const STARTS = COMPANION.runs.filter((r) => r.startSeen).map((r) => r.run);
const STOPS = COMPANION.runs.filter((r) => r.stopSeen).map((r) => r.run);
/** The stage changes under way here, so that this start is no single approach. */
const STAGED = 'atlanta-2';

describe('the measured rows', () => {
  it('are those the companion names, minute by minute', () => {
    expect(HEADING.split(',')).toEqual(COMPANION.columns.map((c) => c.name));
    expect(MINUTES).toHaveLength(COMPANION.rows);
    for (const { run, rows, from, to, startSeen, stopSeen } of COMPANION.runs) {
      const minutes = minutesOf(run);
      expect(minutes).toHaveLength(rows);
      expect([minutes[0]?.clock, minutes.at(-1)?.clock]).toEqual([from.slice(-5), to.slice(-5)]);
      minutes.forEach((m, i) => expect(m.minute).toBe((minutes[0]?.minute ?? NaN) + i));
      expect([!runs(minutes[0] as Minute), !runs(minutes.at(-1) as Minute)]).toEqual([
        startSeen,
        stopSeen,
      ]);
    }
  });

  // Published fact of the whole set (396 starts of 20 min and more): the supply air stays within
  // 1 °F of its mean of minutes 15 to 20 after a median of 4 min. These few starts say the same.
  it('come to rest as fast as the whole set they are from', () => {
    const times = STARTS.filter((run) => run !== STAGED && running(run).length >= 20).map(
      supplyAtRestAfter,
    );
    expect(times.toSorted((a, b) => a - b)).toEqual([3, 5, 5, 9]);
  });
});

/** Minutes after which the supply air stays within 1 °F of its mean of minutes 15 to 20. */
function supplyAtRestAfter(run: string): number {
  const supply = running(run)
    .slice(0, 20)
    .map((m) => m.supply);
  const rest = mean(supply.slice(14));
  return supply.findLastIndex((t) => Math.abs(t - rest) > 1) + 2;
}

describe('the promise on measured equipment', () => {
  it.each([0, 600])('is kept by every declaration (minimum run %i s)', (minimumRun) => {
    const declared = RUNS.flatMap((run) => claims(run, { minimumRun })).filter((c) => c.declared);
    expect(declared.length).toBeGreaterThanOrEqual(7);
    expect(declared.filter((c) => Math.abs(c.error) > TOLERANCE)).toEqual([]);
    // Measured 0.04 to 0.62 °F; the sensors repeat to about 0.2 °F.
    expect(median(declared.map((c) => Math.abs(c.error)))).toBeLessThan(0.4);
  });

  it('is kept in every settled minute in which the stage is left alone', () => {
    const all = RUNS.flatMap((run) => claims(run));
    expect(all.length).toBeGreaterThanOrEqual(130);
    const broken = all.filter((c) => Math.abs(c.error) > TOLERANCE);
    expect(broken.filter((c) => !c.staged)).toEqual([]);
    // Known: in one minute after the change to high stage the average shown is 1.53 °F too high.
    expect(broken.length).toBeLessThanOrEqual(1);
  });

  it('is kept at 1 °F too, where the stage is left alone', () => {
    const all = RUNS.flatMap((run) => claims(run, { tolerance: 1 })).filter((c) => !c.staged);
    expect(all.length).toBeGreaterThanOrEqual(80);
    expect(all.filter((c) => Math.abs(c.error) > 1)).toEqual([]);
  });

  // No air drop: the supply air alone (below 100 °F), put under the key of the air drop because
  // the detector has no key for it. It runs down over the same coil without the return air's help.
  it('is kept by the supply air alone, standing in, where the stage is left alone', () => {
    const setting = { quantity: (m: Minute) => 100 - m.supply };
    const all = RUNS.flatMap((run) => claims(run, setting));
    const broken = all.filter((c) => Math.abs(c.error) > TOLERANCE);
    expect(all.length).toBeGreaterThanOrEqual(130);
    expect(broken.filter((c) => !c.staged)).toEqual([]);
    // Known: one declaration within two minutes after a change of stage is 1.8 °F off.
    expect(broken.filter((c) => c.declared).length).toBeLessThanOrEqual(1);
  });
});

describe('the time to settled on measured equipment', () => {
  it('is never before the supply air has come to rest', () => {
    for (const run of STARTS.filter((r) => r !== STAGED && running(r).length >= 20)) {
      expect(settledAfter(run)).toBeGreaterThanOrEqual(supplyAtRestAfter(run));
    }
  });

  // Measured waits 5 to 14 min at one frame a minute; a wait for ever would show in any run.
  it('ends within a quarter of an hour of what the same rule finds in the data', () => {
    const waits = RUNS.map((run) => {
      const still = stillAfter(run, TOLERANCE);
      const settled = settledAfter(run);
      expect(still, run).not.toBeNull();
      expect(settled, run).not.toBeNull();
      return (settled ?? NaN) - (still ?? NaN);
    });
    expect(Math.max(...waits)).toBeLessThanOrEqual(15);
    expect(median(waits)).toBeLessThanOrEqual(9);
  });

  it('with 1 °F comes in every run that stays still for half an hour', () => {
    const long = RUNS.filter((run) => {
      const still = stillAfter(run, 1);
      return still !== null && running(run).length - still >= 30;
    });
    expect(long).toContain('tucson-1');
    for (const run of long) expect(settledAfter(run, { tolerance: 1 }), run).not.toBeNull();
  });

  it('is no earlier than the minimum run time', () => {
    for (const run of RUNS) {
      expect(settledAfter(run, { minimumRun: 600 })).toBeGreaterThanOrEqual(10);
    }
  });

  it('does not flicker while the compressor runs on', () => {
    for (const run of RUNS) {
      const states = play(minutesOf(run))
        .filter((j) => runs(j.minute))
        .map((j) => j.view.state);
      const left = states.slice(states.indexOf('settled')).filter((s) => s !== 'settled');
      expect(left, run).toEqual([]);
    }
  });
});

describe('a change of the measured equipment', () => {
  it('that is a stop is said in its minute when the power tells it', () => {
    expect(STOPS).toHaveLength(7);
    for (const run of STOPS) {
      const judged = play(minutesOf(run));
      const stop = judged.findLast((j, i) => {
        const before = judged[i - 1];
        return before !== undefined && runs(before.minute) && !runs(j.minute);
      });
      expect(stop?.view.state, run).toBe('idle');
      expect(stop?.view.reason.code, run).toBe('stopped');
    }
  });

  it('that is a stop shows in the air drop alone by the second minute', () => {
    for (const run of STOPS) {
      // From the start on: what stood before it is not this run's.
      const minutes = minutesOf(run);
      const judged = play(minutes.slice(minutes.findIndex(runs)), { told: false });
      const stop = judged.findIndex((j) => !runs(j.minute));
      expect(judged[stop - 1]?.view.state, run).toBe('settled');
      expect(judged[stop + 1]?.view.state, run).toBe('disturbed');
    }
  });

  // The drop falls by 1.2 °F, less than the tolerance: no step is named at this pace, but the
  // average shown follows.
  it('that is one of stage is followed by the average within five minutes', () => {
    const judged = play(minutesOf('atlanta-1'));
    const up = judged.findIndex((j) => j.minute.stage === 2);
    expect(judged[up - 3]?.view.state).toBe('settled');
    const high = judged.slice(up, up + 4);
    expect(high.map((j) => j.minute.stage)).toEqual([2, 2, 2, 2]);
    const now = mean(high.map((j) => j.value));
    expect(Math.abs(shown(judged[up - 3] as Judged) - now)).toBeGreaterThan(1);
    expect(Math.abs(shown(judged[up + 3] as Judged) - now)).toBeLessThan(0.75);
  });
});
