import { basename } from 'node:path';
import { changedAfter, openAfterChange } from '../../core/checks/changed-after.ts';
import { compare, type ComparedInput, type ComparedPair } from '../../core/checks/compare.ts';
import { pairText, unitText } from '../../core/diagnosis/compare-text.ts';
import type { Difference } from '../../core/diagnosis/differences.ts';
import type { SideRow } from '../../core/diagnosis/side-by-side.ts';
import { refusalText } from '../../core/diagnosis/words.ts';
import { readArgs, UserError } from './args.ts';
import { ANALYZE_OPTIONS, readLoggedSession, runLogged } from './analyze.ts';
import { afterJudged } from './after-judged.ts';
import { diagnosisJson, judgementInput } from './judgement.ts';
import { readObservations } from './judgement-options.ts';

/**
 * `compare A.csv B.csv ...`: the last judged reading of each file side by side. Options are those
 * of `analyze` and hold for all files; what a person saw is given by unit: `--observed A:icedCoil`.
 */
export function compareFiles(args: readonly string[]): unknown {
  const { values, positionals } = readArgs(args, ANALYZE_OPTIONS);
  if (positionals.length < 2) throw new UserError('which files? compare A.csv B.csv ...');
  if (positionals.length > 26) throw new UserError('at most 26 files');
  if (values.baseline !== undefined || values.twin !== undefined) {
    throw new UserError('--baseline and --twin are for one unit: analyze that unit by itself');
  }
  const observed = observedByUnit(values.observed ?? [], positionals.length);
  const common = Object.entries(values).flatMap(([name, value]) =>
    name === 'observed' ? [] : optionArgs(name, value),
  );
  const units = positionals.map((file, i): NamedInput => {
    const session = readLoggedSession([file, ...common]);
    const seen = { ...runLogged(session), config: session.config, targets: session.targets };
    const label = letter(i);
    const input = judgementInput(seen, {
      ...session.judgement,
      observations: observed.get(label) ?? [],
    });
    if (input === null) throw new UserError(`${file}: there is nothing in it to read`);
    const origin = session.table.origin;
    const takenAt = origin === null ? null : Date.parse(origin) / 1000 + input.content.window.to;
    const judgedTo = input.content.window.to;
    const after = afterJudged(seen.spans, judgedTo, session.config.mode);
    const changed = changedAfter(seen.spans, judgedTo);
    const { notes } = session.table;
    return { label, file: basename(file), notes, input, takenAt, after, changed };
  });
  return comparisonJson(units);
}

const letter = (i: number): string => String.fromCharCode('A'.charCodeAt(0) + i);

function optionArgs(name: string, value: unknown): string[] {
  const list = Array.isArray(value) ? value : [value];
  return list.flatMap((item) => (item === true ? [`--${name}`] : [`--${name}`, String(item)]));
}

function observedByUnit(texts: readonly string[], units: number) {
  const found = new Map<string, ReturnType<typeof readObservations>>();
  for (const text of texts) {
    const [unit = '', words = ''] = text.split(':');
    const at = unit.charCodeAt(0) - 'A'.charCodeAt(0);
    if (unit.length !== 1 || !(at >= 0 && at < units) || words === '') {
      throw new UserError(`--observed '${text}' must name a unit, such as A:icedCoil,dirtyFilter`);
    }
    found.set(unit, [...(found.get(unit) ?? []), ...readObservations([words])]);
  }
  return found;
}

/** A unit to be compared, and what is to be told of its file. */
interface NamedInput extends ComparedInput {
  readonly file: string;
  readonly notes: readonly string[];
  /** What came after the readings that are compared; null where nothing did. */
  readonly after: string | null;
  /** Whether what came after is a change that was seen. */
  readonly changed: boolean;
}

function comparisonJson(units: readonly NamedInput[]): unknown {
  const result = compare(units);
  const mode = units[0]?.input.config.mode ?? 'cooling';
  const compared = result.units.map((unit, i) =>
    units[i]?.changed === true ? { ...unit, diagnosis: openAfterChange(unit.diagnosis) } : unit,
  );
  return {
    units: compared.map((unit, i) => ({
      unit: unit.label,
      file: units[i]?.file,
      notes: units[i]?.notes ?? [],
      state: units[i]?.input.content.state,
      refusals: unit.judgement.refusals.map((r) => ({ code: r.code, text: refusalText(r, 'us') })),
      ...diagnosisJson(unit.diagnosis, unit.judgement, mode, units[i]?.after ?? null),
      summary: unitText(unit, 'us'),
    })),
    rows: result.rows.map(rowJson),
    pairs: result.pairs.map((pair) => pairJson(pair, mode)),
  };
}

/** Values as read, SI: K, Pa absolute, A, V, 0..1. */
function rowJson(row: SideRow): unknown {
  return { key: row.key, label: row.label, kind: row.kind, values_SI: row.values };
}

function pairJson(pair: ComparedPair, mode: 'cooling' | 'heating'): unknown {
  return {
    units: [pair.first, pair.second],
    unlike: pair.unlike,
    conditionsMeasured: pair.conditionsKnown,
    apart_s: pair.apart,
    differences: pair.differences.map(differenceJson),
    words: pairText(pair, mode, 'us'),
  };
}

function differenceJson(difference: Difference): unknown {
  const factor = difference.feature === 'current' ? 1 : 1.8;
  const unit = difference.feature === 'current' ? 'A' : 'degF';
  return {
    feature: difference.feature,
    [`difference_${unit}`]: factor * difference.plain,
    [`correction_${unit}`]: factor * difference.correction.value,
    [`corrected_${unit}`]: factor * difference.corrected,
    [`uncertainty_${unit}`]: factor * difference.u,
    probability: difference.probability,
  };
}
