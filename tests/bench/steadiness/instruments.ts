/**
 * What the instruments of a session are said to be good for, and how far off they really are: each
 * session draws its own constant errors from the accuracy that the engine is told.
 */
import {
  atmosphereHalfWidth,
  defaultAccuracy,
  isPressure,
} from '../../../core/circuit/accuracy.ts';
import type { Accuracy } from '../../../core/circuit/types.ts';
import type { Atmosphere, EngineConfig } from '../../../core/engine-types.ts';
import { CHANNEL_KEYS, type ChannelKey } from '../../../core/stream/channels.ts';
import type { Sample } from '../../../core/stream/sample.ts';
import { createDice, type Dice } from './dice.ts';
import type { SensorClass } from './sensors.ts';
import type { Session } from './session.ts';

const PSI = 6894.757;
const DEGF = 5 / 9;

/**
 * How an instrument's errors spread within its accuracy: a normal spread whose 95 % is the limit, or
 * anything up to the limit alike (the reading of a bare limit in JCGM 100:2008, 4.3.7).
 */
export const LAWS = ['normal', 'even'] as const;
export type Law = (typeof LAWS)[number];

/** What makers of each class would state; our own choice. Undefined: nothing is stated. */
function statedOf(kind: SensorClass, pressure: boolean): Accuracy | undefined {
  switch (kind) {
    case 'fine':
      return pressure
        ? { ofFullScale: { fraction: 0.005, fullScale: 500 * PSI } }
        : { absolute: 0.5 * DEGF };
    case 'usual':
      return pressure ? { ofReading: 0.01 } : { absolute: 1 * DEGF };
    case 'noisy':
      return pressure ? { ofReading: 0.01, absolute: 2 * PSI } : { absolute: 1 * DEGF };
    case 'coarse':
    case 'slow':
      return undefined;
  }
}

/** The constant errors of all instruments of a session: one draw. */
export interface ErrorSet {
  /** What a channel shows for a true value, SI. */
  readonly lay: (channel: ChannelKey, value: number) => number;
  /** Takes the errors out of a value again, SI. */
  readonly undo: (channel: ChannelKey, shown: number) => number;
}

/** The settings of a session with its instruments, and the samples as they show them. */
export interface Measured {
  readonly config: EngineConfig;
  readonly samples: readonly Sample[];
  readonly errors: ErrorSet;
  /** Further draws from the same accuracies, by law. */
  readonly further: Readonly<Record<Law, readonly ErrorSet[]>>;
}

/** Standard uncertainty of the property formulation in pressure: what the engine allows for. */
const FORMULATION = 0.001;
/** Further draws a session and law. */
const FURTHER = 20;

/** Draws the errors of every channel of a session and lays them over its samples. */
export function withErrors(session: Session): Measured {
  const dice = createDice(session.seed + 17_000_000 + 1_000_003 * session.family.length);
  const law = dice.pick(LAWS);
  const kinds: readonly Atmosphere['kind'][] = ['measured', 'altitude', 'assumed'];
  const kind = dice.pick(kinds);
  const { pressure: atmosphere } = session.config.atmosphere;
  const accuracy: Partial<Record<ChannelKey, Accuracy>> = {};
  for (const channel of CHANNEL_KEYS) {
    const stated = statedOf(session.sensors, isPressure(channel));
    if (stated !== undefined) accuracy[channel] = stated;
  }
  const config: EngineConfig = {
    ...session.config,
    accuracy,
    atmosphere: { pressure: atmosphere, kind },
    gauge: { channels: CHANNEL_KEYS.filter(isPressure), convertedWith: atmosphere },
  };
  const errors = drawErrors(dice, law, config);
  const draws = (of: Law): ErrorSet[] =>
    Array.from({ length: FURTHER }, () => drawErrors(dice, of, config));
  return {
    config,
    samples: session.samples.map((s) =>
      s.value === null ? s : { ...s, value: errors.lay(s.channel, s.value) },
    ),
    errors,
    further: { normal: draws('normal'), even: draws('even') },
  };
}

function drawErrors(dice: Dice, law: Law, config: EngineConfig): ErrorSet {
  const draw = (half: number): number =>
    law === 'even' ? half * dice.between(-1, 1) : (half / 2) * dice.normal();
  const offAtmosphere = draw(atmosphereHalfWidth(config.atmosphere.kind));
  const offFormulation = FORMULATION * dice.normal();
  const own = new Map(
    CHANNEL_KEYS.map((channel) => {
      const { ofReading, ofFullScale, absolute } =
        config.accuracy[channel] ?? defaultAccuracy(channel);
      // The engine adds the parts of an accuracy in quadrature: each is drawn for itself.
      const scale = ofReading === undefined ? 0 : draw(ofReading);
      const ofScale =
        ofFullScale === undefined ? 0 : draw(ofFullScale.fraction * ofFullScale.fullScale);
      const shift = ofScale + (absolute === undefined ? 0 : draw(absolute));
      return [channel, { scale, shift }];
    }),
  );
  const of = (channel: ChannelKey): { scale: number; shift: number; zero: number } => ({
    ...(own.get(channel) ?? { scale: 0, shift: 0 }),
    zero: isPressure(channel) ? config.atmosphere.pressure : 0,
  });
  return {
    lay(channel, value) {
      const { scale, shift, zero } = of(channel);
      const shown = value + scale * (value - zero) + shift;
      return isPressure(channel) ? (shown + offAtmosphere) * (1 + offFormulation) : shown;
    },
    undo(channel, value) {
      const { scale, shift, zero } = of(channel);
      const shown = isPressure(channel) ? value / (1 + offFormulation) - offAtmosphere : value;
      return (shown - shift + scale * zero) / (1 + scale);
    },
  };
}
