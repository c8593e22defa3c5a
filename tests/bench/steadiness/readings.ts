/**
 * Holds the readings of snapshots against the truth: does value ± expanded uncertainty, with the
 * errors that the session's instruments really have, hold the true mean?
 */
import { FIGURES } from '../../../core/circuit/figures.ts';
import type { ChannelReading } from '../../../core/circuit/types.ts';
import { createEngine } from '../../../core/engine.ts';
import type { SnapshotContent } from '../../../core/engine-types.ts';
import { refrigerant } from '../../../core/refrigerant/refrigerants.ts';
import type { ChannelKey } from '../../../core/stream/channels.ts';
import type { Sample } from '../../../core/stream/sample.ts';
import { LAWS, withErrors, type ErrorSet, type Law, type Measured } from './instruments.ts';
import { SUBCOOLING, SUPERHEAT, type Session } from './session.ts';
import { episodesOf, TrueMeans } from './truth.ts';

/** A snapshot is taken when stillness is declared, and this often while it lasts, s. */
const AGAIN_S = 120;

const JUDGED = [
  { key: 'superheat', q: SUPERHEAT },
  { key: 'subcooling', q: SUBCOOLING },
] as const;

/** One reading held against the truth, K. */
export interface Held {
  readonly quantity: (typeof JUDGED)[number]['key'];
  /** `snapshot`: over the present window; `span`: averaged over a settled span that ended. */
  readonly from: 'snapshot' | 'span';
  /** Expanded uncertainty; its share of instruments; its statistical share. */
  readonly u: number;
  readonly uInstruments: number;
  readonly uScatter: number;
  /** Reading minus the true mean over its own window. */
  readonly error: number;
  /** The part of it that the instruments' constant errors make. */
  readonly errorInstruments: number;
  /** Reading minus the true mean of the next five minutes; NaN where an event comes first. */
  readonly errorAhead: number;
  /** Both errors with the instruments drawn anew, by law. */
  readonly redrawn: Readonly<Record<Law, readonly Redrawn[]>>;
}

interface Redrawn {
  readonly own: number;
  readonly ahead: number;
}

/** All readings of a session. */
export function readingsOf(session: Session): Held[] {
  const measured = withErrors(session);
  const engine = createEngine(measured.config);
  const means = new TrueMeans(session.truth);
  const episodes = episodesOf(session.truth, means);
  const held: Held[] = [];
  let last = -Infinity;
  let t = -Infinity;
  for (const part of bySecond(measured.samples)) {
    engine.push(part);
    t = Math.max(t, part.at(-1)?.t ?? t);
    const state = engine.spans().at(-1)?.state;
    if (state !== 'settled' && state !== 'hunting') last = -Infinity;
    else if (t - last >= AGAIN_S) {
      last = t;
      const snapshot = engine.snapshot();
      if (!snapshot.ok) continue;
      const { from, to } = snapshot.value.window;
      // A window that reaches over an event has no one truth; the seconds before it is seen do.
      const episode = episodes.find((e) => from >= e.from && to <= e.to);
      if (episode === undefined) continue;
      const ahead = to + means.ahead() <= episode.to ? means.ahead() : NaN;
      held.push(...hold(snapshot.value, 'snapshot', ahead, measured, means));
    }
  }
  engine.finish();
  for (const { snapshot } of engine.spans()) {
    if (snapshot === null) continue;
    const { from, to } = snapshot.window;
    if (!episodes.some((e) => from >= e.from && to <= e.to)) continue;
    held.push(...hold(snapshot, 'span', NaN, measured, means));
  }
  return held;
}

/** Samples in order of arrival, cut where a new second begins. */
function* bySecond(samples: readonly Sample[]): Generator<readonly Sample[]> {
  let part: Sample[] = [];
  let second = -Infinity;
  for (const sample of samples) {
    if (Math.floor(sample.t) > second) {
      if (part.length > 0) yield part;
      part = [];
      second = Math.floor(sample.t);
    }
    part.push(sample);
  }
  if (part.length > 0) yield part;
}

function hold(
  content: SnapshotContent,
  source: Held['from'],
  ahead: number,
  measured: Measured,
  means: TrueMeans,
): Held[] {
  return JUDGED.flatMap(({ key, q }) => {
    const reading = content.figures[key];
    if (reading === undefined) return [];
    const { from, to } = reading.window;
    const error = reading.value - means.mean(q, from, to);
    const shown = shownBy(content.channels);
    const clean = (channel: ChannelKey): number => measured.errors.undo(channel, shown(channel));
    const fluid = refrigerant(measured.config.refrigerant);
    const { compute } = FIGURES[key];
    const undisturbed = compute(clean, fluid);
    const errorInstruments = compute(shown, fluid) - undisturbed;
    const errorAhead = reading.value - means.mean(q, to, to + ahead);
    const anew = (set: ErrorSet): Redrawn => {
      const other = compute((c) => set.lay(c, clean(c)), fluid) - undisturbed - errorInstruments;
      return { own: error + other, ahead: errorAhead + other };
    };
    return [
      {
        quantity: key,
        from: source,
        u: reading.u,
        uInstruments: reading.uSystematic,
        uScatter: Math.sqrt(Math.max(0, reading.u ** 2 - reading.uSystematic ** 2)),
        error,
        errorInstruments,
        errorAhead,
        redrawn: {
          normal: measured.further.normal.map(anew),
          even: measured.further.even.map(anew),
        },
      },
    ];
  });
}

function shownBy(channels: readonly ChannelReading[]): (channel: ChannelKey) => number {
  const values = new Map(channels.map((c) => [c.channel, c.value]));
  return (channel) => values.get(channel) ?? NaN;
}

const share = <T>(held: readonly T[], of: (h: T) => boolean | null): string => {
  const counted = held.map(of).filter((x) => x !== null);
  if (counted.length === 0) return '-';
  const n = counted.filter(Boolean).length;
  return `${((100 * n) / counted.length).toFixed(1)} %`;
};

/** Share of redrawn errors within U; those that are not known do not count. */
const within = (held: readonly Held[], law: Law, of: keyof Redrawn): string =>
  share(
    held.flatMap((h) => h.redrawn[law].map((r) => ({ error: r[of], u: h.u }))),
    ({ error, u }) => (Number.isNaN(error) ? null : Math.abs(error) <= u),
  );

const middle = (numbers: readonly number[]): number =>
  [...numbers].sort((a, b) => a - b)[Math.floor(numbers.length / 2)] ?? NaN;

/** A named part of the readings. */
export interface ReadingRow {
  readonly name: string;
  readonly held: readonly Held[];
}

/** Prints how often readings with their uncertainty hold the truth. */
export function printReadings(
  say: (line: string) => void,
  title: string,
  rows: readonly ReadingRow[],
): void {
  const f = (k: number): string => `${(1.8 * k).toFixed(2)} °F`;
  say(`\n### ${title}`);
  say(
    '| readings | number | own window in ± U | redrawn normally | redrawn evenly | next 5 min in ± U | redrawn normally | redrawn evenly | U median | error median | instruments alone | scatter alone |',
  );
  say(`|${'---|'.repeat(12)}`);
  for (const { name, held } of rows) {
    const cells = [
      name,
      String(held.length),
      share(held, (h) => Math.abs(h.error) <= h.u),
      ...LAWS.map((law) => within(held, law, 'own')),
      share(held, (h) => (Number.isNaN(h.errorAhead) ? null : Math.abs(h.errorAhead) <= h.u)),
      ...LAWS.map((law) => within(held, law, 'ahead')),
      f(middle(held.map((h) => h.u))),
      f(middle(held.map((h) => Math.abs(h.error)))),
      share(held, (h) => Math.abs(h.errorInstruments) <= h.uInstruments),
      share(held, (h) => Math.abs(h.error - h.errorInstruments) <= h.uScatter),
    ];
    say(`| ${cells.join(' | ')} |`);
  }
}
