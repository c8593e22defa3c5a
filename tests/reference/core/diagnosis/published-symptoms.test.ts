import { describe, expect, it } from 'vitest';
import type { Metering, Mode } from '../../../../core/circuit/types.ts';
import { residualLikelihood } from '../../../../core/diagnosis/evidence.ts';
import { SIGNIFICANT, type Residual } from '../../../../core/diagnosis/likelihood.ts';
import { signTable } from '../../../../core/diagnosis/signs.ts';
import {
  priors,
  SUSPECT_KEYS,
  updated,
  type SuspectKey,
} from '../../../../core/diagnosis/suspects.ts';
import type { FeatureKey } from '../../../../core/diagnosis/types.ts';

/** Symptom tables of makers and of the trade press, as they print them. */
type Symptom = Partial<Readonly<Record<FeatureKey, '+' | '0' | '-'>>>;
interface Row {
  readonly says: string;
  readonly source: string;
  readonly metering: Metering;
  readonly mode?: Mode;
  readonly heatPump?: boolean;
  readonly symptoms: Symptom;
  /** What the table names. One of them must be among the first two. */
  readonly causes: readonly SuspectKey[];
  /** The table leaves no rival: the cause comes first. */
  readonly alone?: true;
}

const RHEEM = 'Rheem A18AZ manual, p. 44, table 20: heating mode trouble shooting tips';
const GOODMAN =
  'Goodman GSX14 and GSZH5 service manuals, superheat and subcooling adjustment on TXV applications (subcooling 5 to 7 °F, superheat 7 to 9 °F)';
const CHART = 'troubleshooting charts of Goodman IO-395 and Whirlpool Gold WGPH45';
const VINOTEMP = 'Vinotemp Wine-Mate manual, p. 16, pressure, superheat and subcooling readings';

const ROWS: readonly Row[] = [
  // Rheem, heating: discharge pressure, suction pressure, superheat, subcooling.
  {
    says: 'heating, overcharge',
    source: RHEEM,
    metering: 'eev',
    mode: 'heating',
    symptoms: { condensing: '+', evaporating: '+', superheat: '0', subcooling: '+' },
    causes: ['overcharge'],
  },
  {
    says: 'heating, undercharge with the superheat held',
    source: RHEEM,
    metering: 'eev',
    mode: 'heating',
    symptoms: { condensing: '-', evaporating: '-', superheat: '0', subcooling: '-' },
    causes: ['lowCharge'],
  },
  {
    says: 'heating, undercharge with high superheat',
    source: RHEEM,
    metering: 'eev',
    mode: 'heating',
    symptoms: { condensing: '-', evaporating: '-', superheat: '+', subcooling: '-' },
    causes: ['lowCharge'],
  },
  {
    says: 'heating, liquid restriction (filter drier)',
    source: RHEEM,
    metering: 'eev',
    mode: 'heating',
    symptoms: { condensing: '-', evaporating: '-', superheat: '+', subcooling: '+' },
    causes: ['liquidLineRestriction'],
  },
  {
    says: 'heating, low outdoor airflow',
    source: RHEEM,
    metering: 'eev',
    mode: 'heating',
    symptoms: { condensing: '-', evaporating: '-', superheat: '-', subcooling: '-' },
    causes: ['fouledOutdoorCoil', 'icedCoil'],
  },
  {
    says: 'heating, dirty indoor coil',
    source: RHEEM,
    metering: 'eev',
    mode: 'heating',
    symptoms: { condensing: '+', evaporating: '+', superheat: '-', subcooling: '-' },
    causes: ['lowIndoorAir'],
  },
  // Goodman, valve in cooling.
  {
    says: 'subcooling low and superheat high: add charge',
    source: GOODMAN,
    metering: 'txv',
    symptoms: { superheat: '+', subcooling: '-' },
    causes: ['lowCharge'],
  },
  {
    says: 'subcooling and superheat high: the valve',
    source: GOODMAN,
    metering: 'txv',
    symptoms: { superheat: '+', subcooling: '+' },
    causes: ['valveStarved', 'liquidLineRestriction'],
  },
  {
    says: 'subcooling and superheat low: the valve',
    source: GOODMAN,
    metering: 'txv',
    symptoms: { superheat: '-', subcooling: '-' },
    causes: ['valveOpen'],
  },
  {
    says: 'subcooling high and superheat low: the valve, and remove charge',
    source: GOODMAN,
    metering: 'txv',
    symptoms: { superheat: '-', subcooling: '+' },
    causes: ['valveOpen', 'overcharge'],
  },
  // Pressures alone.
  {
    says: 'high head, high suction: dirty condenser, overcharged, fan not running',
    source: CHART,
    metering: 'fixed',
    symptoms: { condensing: '+', evaporating: '+' },
    causes: ['fouledOutdoorCoil', 'overcharge'],
  },
  {
    says: 'high head, normal suction: dirty condenser, overcharged, fan not running',
    source: CHART,
    metering: 'txv',
    symptoms: { condensing: '+', evaporating: '0' },
    causes: ['fouledOutdoorCoil', 'overcharge'],
  },
  {
    says: 'low head, high suction: orifice wrong or not seated, compressor or reversing valve',
    source: CHART,
    metering: 'fixed',
    heatPump: true,
    symptoms: { condensing: '-', evaporating: '+' },
    causes: ['compressorValveLeak', 'reversingValveLeak'],
  },
  // Vinotemp, valve in cooling.
  {
    says: 'high suction, low head, no superheat, no subcooling: compressor',
    source: VINOTEMP,
    metering: 'txv',
    symptoms: { condensing: '-', evaporating: '+', superheat: '-', subcooling: '-' },
    causes: ['compressorValveLeak', 'valveOpen'],
  },
  {
    says: 'high suction, high head, low superheat, low subcooling: air short over the condenser',
    source: VINOTEMP,
    metering: 'fixed',
    symptoms: { condensing: '+', evaporating: '+', superheat: '-', subcooling: '-' },
    causes: ['fouledOutdoorCoil'],
  },
  {
    says: 'heating, inefficient compressor',
    source: RHEEM,
    metering: 'eev',
    mode: 'heating',
    symptoms: { condensing: '-', evaporating: '+', superheat: '+', subcooling: '+' },
    causes: ['compressorValveLeak'],
  },
  {
    says: 'high head, low suction: restriction in liquid line or orifice',
    source: CHART,
    metering: 'fixed',
    symptoms: { condensing: '+', evaporating: '-' },
    causes: ['liquidLineRestriction'],
  },
  {
    says: 'high suction, high head, low superheat, high subcooling: overcharge',
    source: VINOTEMP,
    metering: 'txv',
    symptoms: { condensing: '+', evaporating: '+', superheat: '-', subcooling: '+' },
    causes: ['overcharge'],
    alone: true,
  },
  // US Army technical manual, a unit with an expansion valve.
  {
    says: 'discharge pressure low, suction normal: low charge',
    source: 'US Army TM 9-4110-255-14, p. 5-32, refrigerant system pressure check',
    metering: 'txv',
    symptoms: { condensing: '-', evaporating: '0' },
    causes: ['lowCharge'],
  },
  {
    says: 'discharge pressure high, suction normal: overcharge',
    source: 'US Army TM 9-4110-255-14, p. 5-32, refrigerant system pressure check',
    metering: 'txv',
    symptoms: { condensing: '+', evaporating: '0' },
    causes: ['overcharge'],
  },
  // The trade press.
  {
    says: 'nitrogen left in the circuit: high head, high subcooling, cool liquid line',
    source:
      'Behler-Young, Non-condensables in a refrigeration system, behler-young.com (to confirm by the pressure at rest)',
    metering: 'txv',
    symptoms: { condensing: '+', subcooling: '+', superheat: '0', evaporating: '0' },
    causes: ['nonCondensables', 'overcharge'],
  },
  {
    says: 'condenser choked with lint: very high head, no subcooling, little air drop',
    source: 'Beacon Appliances, No cooling without moving heat, 2019-07-27, beaconappliances.com',
    metering: 'txv',
    symptoms: { condensing: '+', subcooling: '-', airChange: '-' },
    causes: ['fouledOutdoorCoil'],
    alone: true,
  },
  {
    says: 'inefficient compressor: high suction, low head, low current, subcooling a bit low, high superheat',
    source: 'Tomczyk, Air conditioning system troubleshooting, ACHR News 107725',
    metering: 'fixed',
    symptoms: {
      evaporating: '+',
      condensing: '-',
      superheat: '+',
      subcooling: '-',
      current: '-',
    },
    causes: ['compressorValveLeak'],
    alone: true,
  },
  {
    says: 'low airflow with a valve: low suction, superheat held, good subcooling',
    source:
      'Staub, Thermostatic expansion valve troubleshooting, HPAC Magazine 2019-12-23, and Marchese, Checking airflow across an evaporator, ACHR News 152163',
    metering: 'txv',
    symptoms: { evaporating: '-', superheat: '0', subcooling: '0' },
    causes: ['lowIndoorAir'],
    alone: true,
  },
  {
    says: 'low charge with a valve: low evaporating, high superheat, low subcooling',
    source: 'Staub, Thermostatic expansion valve troubleshooting, HPAC Magazine 2019-12-23',
    metering: 'txv',
    symptoms: { evaporating: '-', superheat: '+', subcooling: '-' },
    causes: ['lowCharge'],
    alone: true,
  },
  {
    says: 'liquid-line restriction: low suction, high superheat, subcooling up, low current',
    source: 'Tomczyk, Tips for troubleshooting air conditioning systems 2, ACHR News 141744',
    metering: 'fixed',
    symptoms: { evaporating: '-', superheat: '+', subcooling: '+', current: '-' },
    causes: ['liquidLineRestriction'],
    alone: true,
  },
];

function ranked(row: Row): SuspectKey[] {
  const mode = row.mode ?? 'cooling';
  const residuals: Residual[] = Object.entries(row.symptoms).map(([key, sign]) => {
    const feature = key as FeatureKey;
    const size = sign === '+' ? 2.5 : sign === '-' ? -2.5 : 0;
    return { feature, value: size * SIGNIFICANT[feature], sd: 0.4 * SIGNIFICANT[feature] };
  });
  const posterior = updated(
    priors(row.metering, mode, row.heatPump ?? mode === 'heating'),
    residualLikelihood(residuals, signTable(row.metering, mode)),
  );
  return SUSPECT_KEYS.filter((k) => k !== 'cannotTell').sort((a, b) => posterior[b] - posterior[a]);
}

describe('published symptom tables', () => {
  for (const row of ROWS) {
    it(row.says, () => {
      const first = ranked(row).slice(0, row.alone === true ? 1 : 2);
      expect(
        first.some((key) => row.causes.includes(key)),
        first.join(),
      ).toBe(true);
    });
  }
});
