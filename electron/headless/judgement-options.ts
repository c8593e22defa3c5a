import { CHECK_KEYS, checkRow, type CheckKey } from '../../core/diagnosis/checks-table.ts';
import type { MakersData } from '../../core/diagnosis/maker.ts';
import {
  OBSERVATION_KEYS,
  STANDARD_KEYS,
  SUPERHEAT_CHARTS,
  type Airflow,
  type CheckOutcome,
  type ObservationKey,
  type StandardKey,
  type SuperheatChart,
} from '../../core/diagnosis/types.ts';
import { M3_S_PER_CFM } from '../../core/units/flow.ts';
import { oneOf, UserError } from './args.ts';
import { readMakerFile } from './maker-file.ts';

/** Options that tell the judge what no sensor tells. */
export const JUDGEMENT_OPTIONS = {
  standard: { type: 'string' },
  chart: { type: 'string' },
  airflow: { type: 'string' },
  observed: { type: 'string', multiple: true },
  checked: { type: 'string', multiple: true },
  'heat-pump': { type: 'boolean' },
  baseline: { type: 'string' },
  twin: { type: 'string' },
  displacement: { type: 'string' },
  maker: { type: 'string' },
} as const;

interface OptionValues {
  readonly standard?: string | undefined;
  readonly chart?: string | undefined;
  readonly airflow?: string | undefined;
  readonly observed?: readonly string[] | undefined;
  readonly checked?: readonly string[] | undefined;
  readonly 'heat-pump'?: boolean | undefined;
  readonly baseline?: string | undefined;
  readonly twin?: string | undefined;
  readonly displacement?: string | undefined;
  readonly maker?: string | undefined;
}

/** What a person says beside the readings. */
export interface JudgementOptions {
  readonly standard: StandardKey;
  readonly chart: SuperheatChart;
  readonly airflow: Airflow;
  readonly observations: readonly ObservationKey[];
  readonly outcomes: readonly CheckOutcome[];
  readonly heatPump: boolean;
  /** File of the unit's own healthy visit; null without one. */
  readonly baseline: string | null;
  /** File of a like unit under the same conditions, sound or not; null without one. */
  readonly twin: string | null;
  /** Swept volume of the compressor in time, m3/s; null where unknown. */
  readonly displacement: number | null;
  /** What the maker's papers say; {} without them. */
  readonly maker: MakersData;
}

/**
 * Reads the options of the judge.
 *
 * @throws UserError for a word that is not in its list
 */
export function readJudgementOptions(values: OptionValues): JudgementOptions {
  return {
    standard: oneOf(values.standard ?? 'ra32Installer', STANDARD_KEYS, '--standard'),
    chart: oneOf(values.chart ?? 'chargingChart', SUPERHEAT_CHARTS, '--chart'),
    airflow: readAirflow(values.airflow),
    observations: readObservations(values.observed ?? []),
    outcomes: (values.checked ?? []).map(readOutcome),
    heatPump: values['heat-pump'] ?? false,
    baseline: values.baseline ?? null,
    twin: values.twin ?? null,
    displacement: readDisplacement(values.displacement),
    maker: values.maker === undefined ? {} : readMakerFile(values.maker),
  };
}

/** Observations from `icedCoil,dirtyFilter`, given once or more often. */
export function readObservations(texts: readonly string[]): ObservationKey[] {
  return texts
    .flatMap((text) => text.split(','))
    .map((word) => oneOf(word.trim(), OBSERVATION_KEYS, '--observed'));
}

function readOutcome(text: string): CheckOutcome {
  const [name = '', outcome = ''] = text.split('=');
  const check: CheckKey = oneOf(name, CHECK_KEYS, '--checked');
  return {
    check,
    outcome: oneOf(outcome, Object.keys(checkRow(check).outcomes), `--checked ${name}=`),
  };
}

const SWEPT = /^(\d+\.?\d*)\s*(m3\/h|cfm)$/;

function readDisplacement(text: string | undefined): number | null {
  if (text === undefined) return null;
  const [, number = '', unit = ''] = SWEPT.exec(text.trim()) ?? [];
  const value = Number(number) * (unit === 'cfm' ? M3_S_PER_CFM : unit === 'm3/h' ? 1 / 3600 : NaN);
  if (!(value > 0)) {
    throw new UserError(
      `--displacement '${text}' must be the swept volume, such as 5.8m3/h or 3.4cfm`,
    );
  }
  return value;
}

const FLOW = /^(\d+\.?\d*)\s*(cfm|m3\/s)$/;
const CUBIC_METRES_PER_SECOND: Readonly<Record<string, number>> = {
  cfm: M3_S_PER_CFM,
  'm3/s': 1,
};
/** Accuracy taken for an airflow typed in, k = 2: that of a careful traverse or flow plate. */
const FLOW_U = 0.07;

function readAirflow(text: string | undefined): Airflow {
  if (text === undefined || text === 'unknown') return { kind: 'unknown' };
  if (text === 'attested') return { kind: 'attested' };
  const [, number = '', unit = ''] = FLOW.exec(text.trim()) ?? [];
  const value = Number(number) * (CUBIC_METRES_PER_SECOND[unit] ?? NaN);
  if (!(value > 0)) {
    throw new UserError(
      `--airflow '${text}' must be unknown, attested, or a flow such as 1000cfm or 0.47m3/s`,
    );
  }
  return { kind: 'measured', flow: { value, u: FLOW_U * value } };
}
