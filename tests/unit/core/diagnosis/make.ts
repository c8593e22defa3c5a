import type { RefrigerantId } from '../../../../core/refrigerant/types.ts';
import type { Metering, Mode } from '../../../../core/circuit/types.ts';
import type { EngineConfig, SnapshotContent } from '../../../../core/engine-types.ts';
import type { ChannelKey } from '../../../../core/stream/channels.ts';
import type { JudgementInput } from '../../../../core/diagnosis/types.ts';
import type { SteadinessState } from '../../../../core/steadiness/types.ts';
import { contentOf } from '../../../support/snapshot.ts';
import { pascalFromPsig } from '../../../../core/units/pressure.ts';
import { kelvinFromFahrenheit } from '../../../../core/units/temperature.ts';

/** Readings as a technician would write them down: psig, °F, percent, A. */
export interface Written {
  readonly suction?: number;
  readonly liquid?: number;
  readonly suctionLine?: number;
  readonly liquidLine?: number;
  readonly discharge?: number;
  readonly outdoor?: number;
  readonly return?: number;
  readonly wetBulb?: number;
  readonly humidity?: number;
  readonly supply?: number;
  readonly drierIn?: number;
  readonly drierOut?: number;
  readonly amps?: number;
}

const CHANNEL: Record<keyof Written, ChannelKey> = {
  suction: 'suctionPressure',
  liquid: 'liquidPressure',
  suctionLine: 'suctionLineTemp',
  liquidLine: 'liquidLineTemp',
  discharge: 'dischargeLineTemp',
  outdoor: 'outdoorAirTemp',
  return: 'returnAirTemp',
  wetBulb: 'returnAirWetBulb',
  humidity: 'returnAirHumidity',
  supply: 'supplyAirTemp',
  drierIn: 'drierInletTemp',
  drierOut: 'drierOutletTemp',
  amps: 'compressorCurrent',
};

function inSI(key: keyof Written, value: number): number {
  if (key === 'suction' || key === 'liquid') return pascalFromPsig(value);
  if (key === 'amps') return value;
  return key === 'humidity' ? value / 100 : kelvinFromFahrenheit(value);
}

export interface Setup {
  readonly refrigerant?: RefrigerantId;
  readonly metering?: Metering;
  readonly mode?: Mode;
  readonly state?: SteadinessState;
  readonly stale?: readonly ChannelKey[];
  /** Half-widths: pressures psi, temperatures °F. */
  readonly good?: boolean;
}

export function configOf(setup: Setup): EngineConfig {
  const psi = (x: number) => pascalFromPsig(x) - pascalFromPsig(0);
  return {
    refrigerant: setup.refrigerant ?? 'R-410A',
    metering: setup.metering ?? 'txv',
    mode: setup.mode ?? 'cooling',
    atmosphere: { pressure: 101_325, kind: 'measured' },
    gauge: { channels: ['suctionPressure', 'liquidPressure'], convertedWith: 101_325 },
    accuracy:
      setup.good === false
        ? {}
        : {
            suctionPressure: { absolute: psi(1) },
            liquidPressure: { absolute: psi(2) },
            suctionLineTemp: { absolute: 0.4 },
            liquidLineTemp: { absolute: 0.4 },
            dischargeLineTemp: { absolute: 0.5 },
            outdoorAirTemp: { absolute: 0.3 },
            returnAirTemp: { absolute: 0.3 },
            returnAirWetBulb: { absolute: 0.3 },
            supplyAirTemp: { absolute: 0.3 },
            drierInletTemp: { absolute: 0.2 },
            drierOutletTemp: { absolute: 0.2 },
          },
    offsets: {},
    minimumRun: 600,
    tolerances: {},
    marks: [],
  };
}

/** A settled snapshot made of written readings, by the same code that makes real ones. */
export function snapshotOf(written: Written, setup: Setup = {}): SnapshotContent {
  const values = new Map<ChannelKey, number>();
  for (const [key, value] of Object.entries(written)) {
    values.set(CHANNEL[key as keyof Written], inSI(key as keyof Written, value as number));
  }
  const content = contentOf(values, configOf(setup), setup.state ?? 'settled');
  const stale = new Set(setup.stale ?? []);
  return {
    ...content,
    channels: content.channels.map((reading) =>
      stale.has(reading.channel)
        ? { ...reading, marks: [...reading.marks, 'stale' as const] }
        : reading,
    ),
  };
}

/** Nothing known of the plate. */
export const NO_PLATE = {
  targetSubcooling_K: null,
  targetSuperheat_K: null,
  capacity_W: null,
  displacement_m3_s: null,
};

/** A whole input, with everything not named at its emptiest. */
export function inputOf(
  written: Written,
  setup: Setup = {},
  more: Partial<JudgementInput> = {},
): JudgementInput {
  return {
    config: configOf(setup),
    content: snapshotOf(written, setup),
    runTime: 1800,
    nameplate: { ...NO_PLATE },
    standard: 'ra32Installer',
    superheatChart: 'chargingChart',
    airflow: { kind: 'attested' },
    observations: [],
    outcomes: [],
    motions: [],
    pattern: null,
    stood: null,
    heatPump: false,
    baseline: null,
    twin: null,
    maker: {},
    ...more,
  };
}

/** Probability of a suspect. */
export function probabilityOf(
  suspects: readonly { key: string; probability: number }[],
  key: string,
): number {
  return suspects.find((s) => s.key === key)?.probability ?? 0;
}

/** A sound R-410A unit behind an expansion valve on a mild day: by makers' usual figures. */
export const SOUND: Written = {
  suction: 122,
  liquid: 365,
  suctionLine: 52,
  liquidLine: 99.5,
  outdoor: 90,
  return: 75,
  wetBulb: 63,
  supply: 56,
};
