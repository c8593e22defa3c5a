/**
 * One million random and mutated packets through every decoder: no throw, no value outside physics,
 * no growth of memory. Run by `npm run test:radio`; also `npx tsx --expose-gc tests/radio/fuzz.ts`.
 */
import { fuzzDecoders } from './decoder-fuzz.ts';

const PACKETS = 1_000_000;
const seed = Number(process.argv[2] ?? 1);
const GROWTH_LIMIT = 8 * 2 ** 20;

const collect = globalThis.gc;
if (collect === undefined) throw new Error('run with --expose-gc');

let early = 0;
let late = 0;
const started = performance.now();
const report = fuzzDecoders(PACKETS, seed, (n) => {
  if (n !== PACKETS / 10 && n !== PACKETS) return;
  collect();
  if (n === PACKETS) late = process.memoryUsage().heapUsed;
  else early = process.memoryUsage().heapUsed;
});
const growth = late - early;
const seconds = (performance.now() - started) / 1000;
console.log(
  `fuzz: ${report.packets} packets, ${report.calls} calls, ${report.accepted} accepted, ` +
    `seed ${seed}, ${seconds.toFixed(1)} s, heap ${(growth / 1024).toFixed(0)} KiB from the first tenth to the end`,
);
for (const line of [...report.thrown, ...report.outOfRange]) console.error(line);
const failed = report.thrown.length > 0 || report.outOfRange.length > 0 || growth > GROWTH_LIMIT;
process.exit(failed ? 1 : 0);
