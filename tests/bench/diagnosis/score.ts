import { SUSPECT_KEYS, type BySuspect, type SuspectKey } from '../../../core/diagnosis/suspects.ts';

/** One judged reading: what it was, what was said, and with which probabilities. */
export interface Scored {
  readonly label: SuspectKey;
  readonly severity: number;
  readonly mode: 'cooling' | 'heating';
  readonly metering: string;
  /** Most probable first. */
  readonly ranked: readonly SuspectKey[];
  readonly probability: BySuspect;
  readonly answer: 'suspect' | 'nothingWrong' | 'cannotTell';
}

/** The iced coils here are short of air, and air so short ices a coil: one names the other. */
export function same(said: SuspectKey | undefined, label: SuspectKey): boolean {
  return said !== undefined && airOf(said) === airOf(label);
}

/** Ice counted to the air, for scores of probabilities. */
function airOf(label: SuspectKey): SuspectKey {
  return label === 'icedCoil' ? 'lowIndoorAir' : label;
}

/** Share in which the label is the first, and among the first two. */
export function accuracy(items: readonly Scored[]): { top1: number; top2: number; n: number } {
  const hit = (k: number): number =>
    items.filter((s) => s.ranked.slice(0, k).some((key) => same(key, s.label))).length;
  return { top1: hit(1) / items.length, top2: hit(2) / items.length, n: items.length };
}

/** Share of healthy readings in which a suspect was raised. */
export function falseAlarm(items: readonly Scored[]): { rate: number; n: number } {
  const healthy = items.filter((s) => s.label === 'nothingWrong');
  const raised = healthy.filter((s) => s.answer === 'suspect').length;
  return { rate: raised / healthy.length, n: healthy.length };
}

/**
 * Multi-class Brier score (Brier 1950): mean over readings of the summed squares of probability
 * minus truth; 0 is perfect, and the base rates of these cases alone would give about 0.9.
 */
export function brier(items: readonly Scored[]): number {
  const of = (s: Scored): number =>
    SUSPECT_KEYS.reduce((sum, key) => {
      const p = merged(s, key);
      return sum + (key === 'icedCoil' ? 0 : (p - (key === airOf(s.label) ? 1 : 0)) ** 2);
    }, 0);
  return items.reduce((sum, s) => sum + of(s), 0) / items.length;
}

/** Probability of a key with ice counted to the air. */
function merged(s: Scored, key: SuspectKey): number {
  return key === 'lowIndoorAir'
    ? s.probability.lowIndoorAir + s.probability.icedCoil
    : s.probability[key];
}

/** Mean of minus the logarithm of the probability given to the label. */
export function logLoss(items: readonly Scored[]): number {
  const of = (s: Scored): number => -Math.log(Math.max(merged(s, airOf(s.label)), 1e-6));
  return items.reduce((sum, s) => sum + of(s), 0) / items.length;
}

/** Stated probability of the first suspect against how often it was right, in bands. */
export function reliability(
  items: readonly Scored[],
): { from: number; to: number; stated: number; right: number; n: number }[] {
  const edges = [0, 0.3, 0.45, 0.6, 0.75, 0.9, 1.0001];
  return edges.slice(0, -1).flatMap((from, i) => {
    const to = edges[i + 1] ?? 1;
    const inside = items.filter((s) => top(s) >= from && top(s) < to);
    if (inside.length === 0) return [];
    const stated = inside.reduce((sum, s) => sum + top(s), 0) / inside.length;
    const right = accuracy(inside).top1;
    return [{ from, to: Math.min(1, to), stated, right, n: inside.length }];
  });
}

function top(s: Scored): number {
  const [first] = s.ranked;
  return first === undefined ? 0 : s.probability[first];
}

/** Labels against what was said first: rows are the truth. */
export function confusion(items: readonly Scored[]): Map<SuspectKey, Map<SuspectKey, number>> {
  const table = new Map<SuspectKey, Map<SuspectKey, number>>();
  for (const s of items) {
    const [first] = s.ranked;
    if (first === undefined) continue;
    const said: SuspectKey = same(first, s.label) ? s.label : first;
    const row = table.get(s.label) ?? new Map<SuspectKey, number>();
    row.set(said, (row.get(said) ?? 0) + 1);
    table.set(s.label, row);
  }
  return table;
}
