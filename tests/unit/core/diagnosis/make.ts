import { refrigerant } from '../../../../core/refrigerant/refrigerants.ts';
import type { RefrigerantId } from '../../../../core/refrigerant/types.ts';
import { FIGURES } from '../../../../core/circuit/figures.ts';
import { figureReading, channelReading } from '../../../../core/circuit/readings.ts';
import type { FigureKey, Metering, Mode, Reading } from '../../../../core/circuit/types.ts';
import type { EngineConfig, SnapshotContent } from '../../../../core/engine-types.ts';
import type { ChannelKey } from '../../../../core/stream/channels.ts';
import type { JudgementInput } from '../../../../core/diagnosis/types.ts';
import type { SteadinessState } from '../../../../core/steadiness/types.ts';
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
  const config = configOf(setup);
  const fluid = refrigerant(config.refrigerant);
  const values = new Map<ChannelKey, number>();
  for (const [key, value] of Object.entries(written)) {
    values.set(CHANNEL[key as keyof Written], inSI(key as keyof Written, value as number));
  }
  const window = { from: 1200, to: 1500 };
  const means = (key: ChannelKey): number => values.get(key) ?? NaN;
  const context = {
    refrigerant: fluid,
    config,
    atmosphere: config.atmosphere,
    window,
    means,
    marks: [],
  };
  const average = (mean: number) => ({ mean, n: 300, uStat: 0, blocks: 10 });
  const figures: Partial<Record<FigureKey, Reading>> = {};
  for (const key of Object.keys(FIGURES) as FigureKey[]) {
    const value = FIGURES[key].compute(means, fluid);
    if (Number.isNaN(value)) continue;
    const reading = figureReading(key, average(value), context);
    if (reading !== null) figures[key] = reading;
  }
  const stale = new Set(setup.stale ?? []);
  return {
    window,
    state: setup.state ?? 'settled',
    reason: { code: 'still', confidence: 0.99, horizon: 300, quantity: 'superheat', drift: 0 },
    figures,
    channels: [...values].map(([key, value]) => {
      const reading = channelReading(key, average(value), context);
      return stale.has(key) ? { ...reading, marks: [...reading.marks, 'stale' as const] } : reading;
    }),
    counts: { samples: 1, gaps: 0, late: 0, repeated: 0, implausible: 0 },
  };
}

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
    nameplate: { targetSubcooling_K: null, targetSuperheat_K: null, capacity_W: null },
    standard: 'ra32Installer',
    superheatChart: 'chargingChart',
    airflow: { kind: 'attested' },
    observations: [],
    outcomes: [],
    motions: [],
    pattern: null,
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
