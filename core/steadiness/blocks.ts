/**
 * The past in blocks that grow coarser with age: the newest minute in 5 s blocks, then 10, 20, 40
 * and 80 s. Memory is fixed at creation whatever the length of the session, and the far past stays
 * seen at the resolution at which it still matters.
 */

/** Shortest block, s; longer frames make longer blocks. */
export const BLOCK_SECONDS = 5;
/** Blocks kept at each level of coarseness; the last level drops its oldest. */
const LEVEL_SIZES = [12, 12, 12, 12, 16] as const;
const CAPACITY = LEVEL_SIZES.reduce((sum, n) => sum + n, 0) + LEVEL_SIZES.length + 1;

/** Means of all quantities over stretches of time, oldest first. */
export interface Blocks {
  readonly quantities: number;
  size: number;
  readonly level: Int8Array;
  readonly from: Float64Array;
  readonly to: Float64Array;
  /** Seconds with a value, by block and quantity. */
  readonly seconds: Float64Array;
  /** Mean of the quantity in the block, where seconds > 0. */
  readonly mean: Float64Array;
  /** Seconds with a value, and ∫ value dt, from some start on to the end of the block. */
  readonly secondsUpTo: Float64Array;
  readonly sumUpTo: Float64Array;
}

/** An empty history for a number of quantities. */
export function createBlocks(quantities: number): Blocks {
  return {
    quantities,
    size: 0,
    level: new Int8Array(CAPACITY),
    from: new Float64Array(CAPACITY),
    to: new Float64Array(CAPACITY),
    seconds: new Float64Array(CAPACITY * quantities),
    mean: new Float64Array(CAPACITY * quantities),
    secondsUpTo: new Float64Array(CAPACITY * quantities),
    sumUpTo: new Float64Array(CAPACITY * quantities),
  };
}

/** Most blocks a history can hold. */
export const BLOCK_CAPACITY = CAPACITY;

/**
 * Appends a block.
 * @param sums ∫ value dt by quantity, over its seconds with a value
 */
export function appendBlock(
  blocks: Blocks,
  from: number,
  to: number,
  sums: Float64Array,
  seconds: Float64Array,
): void {
  const i = blocks.size;
  blocks.level[i] = 0;
  blocks.from[i] = from;
  blocks.to[i] = to;
  const nq = blocks.quantities;
  for (let q = 0; q < nq; q += 1) {
    const at = i * nq + q;
    const s = seconds[q] ?? 0;
    const sum = s > 0 ? (sums[q] ?? 0) : 0;
    blocks.seconds[at] = s;
    blocks.mean[at] = s > 0 ? sum / s : 0;
    blocks.secondsUpTo[at] = s + (i > 0 ? (blocks.secondsUpTo[at - nq] ?? 0) : 0);
    blocks.sumUpTo[at] = sum + (i > 0 ? (blocks.sumUpTo[at - nq] ?? 0) : 0);
  }
  blocks.size += 1;
  coarsen(blocks);
}

/** Forgets blocks that ended at or before t. */
export function dropBefore(blocks: Blocks, t: number): void {
  let n = 0;
  while (n < blocks.size && (blocks.to[n] ?? 0) <= t) n += 1;
  if (n > 0) removeFirst(blocks, 0, n);
}

/** Merges the two oldest blocks of every level that has grown too long. */
function coarsen(blocks: Blocks): void {
  let end = blocks.size; // one past the newest block of the level looked at
  for (let level = 0; level < LEVEL_SIZES.length; level += 1) {
    let start = end;
    while (start > 0 && blocks.level[start - 1] === level) start -= 1;
    if (end - start <= (LEVEL_SIZES[level] ?? 0) + 1) return;
    if (level === LEVEL_SIZES.length - 1) {
      removeFirst(blocks, start, 1);
      return;
    }
    mergePair(blocks, start, level + 1);
    end = start + 1;
  }
}

function mergePair(blocks: Blocks, i: number, level: number): void {
  const nq = blocks.quantities;
  for (let q = 0; q < nq; q += 1) {
    const a = i * nq + q;
    const b = a + nq;
    const sa = blocks.seconds[a] ?? 0;
    const sb = blocks.seconds[b] ?? 0;
    const s = sa + sb;
    blocks.mean[b] = s > 0 ? (sa * (blocks.mean[a] ?? 0) + sb * (blocks.mean[b] ?? 0)) / s : 0;
    blocks.seconds[b] = s;
  }
  blocks.from[i + 1] = blocks.from[i] ?? 0;
  blocks.level[i + 1] = level;
  removeFirst(blocks, i, 1);
}

/** Removes n blocks from place i on. */
function removeFirst(blocks: Blocks, i: number, n: number): void {
  const nq = blocks.quantities;
  blocks.level.copyWithin(i, i + n, blocks.size);
  blocks.from.copyWithin(i, i + n, blocks.size);
  blocks.to.copyWithin(i, i + n, blocks.size);
  blocks.seconds.copyWithin(i * nq, (i + n) * nq, blocks.size * nq);
  blocks.mean.copyWithin(i * nq, (i + n) * nq, blocks.size * nq);
  blocks.secondsUpTo.copyWithin(i * nq, (i + n) * nq, blocks.size * nq);
  blocks.sumUpTo.copyWithin(i * nq, (i + n) * nq, blocks.size * nq);
  blocks.size -= n;
}

/** Mean of a quantity over [from, to], blocks cut in proportion; null with no value in it. */
export function meanOver(blocks: Blocks, q: number, from: number, to: number): number | null {
  let last = blocks.size - 1;
  while (last >= 0 && (blocks.from[last] ?? 0) >= to) last -= 1;
  let first = last + 1;
  while (first > 0 && (blocks.to[first - 1] ?? 0) > from) first -= 1;
  if (first > last) return null;
  const nq = blocks.quantities;
  const oldest = first * nq + q;
  const newest = last * nq + q;
  const oldSeconds = blocks.seconds[oldest] ?? 0;
  const oldKept = 1 - share(blocks, first, from - (blocks.from[first] ?? 0));
  const newSeconds = blocks.seconds[newest] ?? 0;
  const newCut = newSeconds * share(blocks, last, (blocks.to[last] ?? 0) - to);
  const seconds =
    (blocks.secondsUpTo[newest] ?? 0) -
    (blocks.secondsUpTo[oldest] ?? 0) +
    oldSeconds * oldKept -
    newCut;
  if (!(seconds > 0)) return null;
  const sum =
    (blocks.sumUpTo[newest] ?? 0) -
    (blocks.sumUpTo[oldest] ?? 0) +
    oldSeconds * oldKept * (blocks.mean[oldest] ?? 0) -
    newCut * (blocks.mean[newest] ?? 0);
  return sum / seconds;
}

/** Share of a block that so many seconds at one of its ends are; 0 for none. */
function share(blocks: Blocks, i: number, seconds: number): number {
  return seconds > 0 ? seconds / ((blocks.to[i] ?? 0) - (blocks.from[i] ?? 0)) : 0;
}
