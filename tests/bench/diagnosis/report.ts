import { SUSPECT_KEYS } from '../../../core/diagnosis/suspects.ts';
import { inRuleTable } from './rule-table.ts';
import {
  accuracy,
  brier,
  confusion,
  falseAlarm,
  logLoss,
  reliability,
  type Scored,
} from './score.ts';

const percent = (x: number): string => (Number.isNaN(x) ? '-' : `${(100 * x).toFixed(1)} %`);
const line = (text: string): boolean => process.stdout.write(`${text}\n`);

/** Ours beside the rule table, on the same readings. */
export function printComparison(
  known: string,
  set: string,
  ours: readonly Scored[],
  rules: readonly Scored[],
  factor: number,
): void {
  line(`\n## expectations from ${known}, ${set} sensors: ${ours.length} readings`);
  line('| | ours | rule table |');
  line('|---|---|---|');
  const row = (name: string, of: (items: readonly Scored[]) => string): boolean =>
    line(`| ${name} | ${of(ours)} | ${of(rules)} |`);
  row('top-1, faults', (s) => percent(accuracy(faults(s)).top1));
  row('top-2, faults', (s) => percent(accuracy(faults(s)).top2));
  row('top-1, faults the rule table has, cooling', (s) =>
    percent(accuracy(s.filter(inTable)).top1),
  );
  for (const mode of ['cooling', 'heating'] as const) {
    for (const severity of [0.4, 0.7, 1]) {
      row(`top-1, ${mode}, severity ${severity}`, (s) =>
        percent(accuracy(faults(s).filter((x) => x.mode === mode && x.severity === severity)).top1),
      );
    }
  }
  row('healthy called healthy (top-1)', (s) =>
    percent(accuracy(s.filter((x) => x.label === 'nothingWrong')).top1),
  );
  row('false alarm on healthy', (s) => `${percent(falseAlarm(s).rate)} of ${falseAlarm(s).n}`);
  row('cannot tell', (s) => percent(s.filter((x) => x.answer === 'cannotTell').length / s.length));
  row('Brier score', (s) => brier(s).toFixed(3));
  line(`| log loss | ${logLoss(ours).toFixed(3)} | - |`);
  if (factor > 0)
    line(`\nrule table: thresholds ${factor} times significant, tuned on the tuning half`);
}

/** The same sessions judged from the means of the truth and from the recorded stream. */
export function printWholeWay(
  means: readonly Scored[],
  streams: readonly Scored[],
  nothing: number,
): void {
  line(`\n## the whole way, expectations from rules, all sensors: ${streams.length} sessions`);
  line('| | means of the truth | stream through the engine |');
  line('|---|---|---|');
  const row = (name: string, of: (items: readonly Scored[]) => string): boolean =>
    line(`| ${name} | ${of(means)} | ${of(streams)} |`);
  row('top-1, faults', (s) => percent(accuracy(faults(s)).top1));
  row('top-2, faults', (s) => percent(accuracy(faults(s)).top2));
  row('healthy: a suspect raised', (s) => `${percent(falseAlarm(s).rate)} of ${falseAlarm(s).n}`);
  row('nothing ranked (refused)', (s) =>
    percent(s.filter((x) => x.ranked.length === 0).length / s.length),
  );
  row('Brier score', (s) => brier(s).toFixed(3));
  const alike = streams.filter((s, i) => s.ranked[0] === means[i]?.ranked[0]).length;
  line(
    `\nsame first suspect both ways: ${percent(alike / streams.length)}; nothing to read: ${nothing}`,
  );
}

function inTable(s: Scored): boolean {
  return s.mode === 'cooling' && s.severity > 0 && inRuleTable(s.label, s.metering);
}

function faults(items: readonly Scored[]): readonly Scored[] {
  return items.filter((s) => s.label !== 'nothingWrong');
}

/** Reliability of the stated probability and the confusion table. */
export function printReport(items: readonly Scored[]): void {
  line('\nreliability of the first suspect:');
  line('| stated between | mean stated | was right | readings |');
  line('|---|---|---|---|');
  for (const r of reliability(items)) {
    line(
      `| ${percent(r.from)} and ${percent(r.to)} | ${percent(r.stated)} | ${percent(r.right)} | ${r.n} |`,
    );
  }
  line('\nconfusion (rows: truth; first answer, share in %):');
  const table = confusion(items);
  const columns = SUSPECT_KEYS.filter((key) => [...table.values()].some((row) => row.has(key)));
  line(`| truth | n | ${columns.join(' | ')} |`);
  line(`|---|---|${columns.map(() => '---').join('|')}|`);
  for (const key of SUSPECT_KEYS) {
    const row = table.get(key);
    if (row === undefined) continue;
    const n = [...row.values()].reduce((a, b) => a + b, 0);
    const cells = columns.map((c) => {
      const count = row.get(c) ?? 0;
      return count === 0 ? '' : ((100 * count) / n).toFixed(0);
    });
    line(`| ${key} | ${n} | ${cells.join(' | ')} |`);
  }
}
