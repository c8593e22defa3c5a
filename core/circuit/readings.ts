import { channelRow, type ChannelKey } from '../stream/channels.ts';
import type { ColumnAverage } from '../stream/history.ts';
import type { Refrigerant } from '../refrigerant/types.ts';
import type { Atmosphere, EngineConfig } from '../engine-types.ts';
import { atmosphereHalfWidth, defaultAccuracy, halfWidth, isPressure } from './accuracy.ts';
import { figureRow, presentInputs, type ChannelReader } from './figures.ts';
import type { ChannelReading, FigureKey, Mark, Reading } from './types.ts';
import { propagate, studentT95, type UncertainInput } from './uncertainty.ts';

/**
 * Relative standard uncertainty of saturation pressure by the property formulation itself: 0.2 %
 * (k = 2) is stated for R-410A by Lemmon 2003, Int. J. Thermophys. 24:991 (from memory).
 */
const FORMULATION_U = 0.001;

/** What readings of one window share. */
export interface ReadingContext {
  readonly refrigerant: Refrigerant;
  readonly config: EngineConfig;
  readonly atmosphere: Atmosphere;
  readonly window: { readonly from: number; readonly to: number };
  /** Mean of a channel over the window, SI; NaN where it has none. */
  readonly means: ChannelReader;
  /** Marks from the state: hunting, unsettled, stale. */
  readonly marks: readonly Mark[];
}

/** Combines the systematic standard uncertainty with that of a mean: expanded, k = 2. */
function expand(uSystematic: number, average: ColumnAverage): { u: number; uSystematic: number } {
  const statistical = Number.isNaN(average.uStat)
    ? 0
    : studentT95(average.blocks - 1) * average.uStat;
  return { u: Math.hypot(2 * uSystematic, statistical), uSystematic: 2 * uSystematic };
}

function isGauge(config: EngineConfig, channel: ChannelKey): boolean {
  return config.gauge.channels.includes(channel);
}

/** Where the degrees of Celsius begin, K. */
const ICE_POINT = 273.15;
/** A temperature counts for at least so many degrees of Celsius where a sensor errs by a percentage. */
const LEAST_DEGC = 25;

/**
 * What a sensor counts its reading from, SI. A percentage of a temperature is of the degrees that the
 * thermometer shows; near their arbitrary zero it would be none at all, so that it is of 25 °C at
 * least (our own choice).
 */
function zeroOf(
  context: Pick<ReadingContext, 'config' | 'atmosphere'>,
  channel: ChannelKey,
  value: number,
): number {
  if (isGauge(context.config, channel)) return context.atmosphere.pressure;
  if (channelRow(channel).quantity !== 'temperature') return 0;
  return value - Math.max(Math.abs(value - ICE_POINT), LEAST_DEGC);
}

/** Standard uncertainty of a channel's sensor at a value (SI), and whether it is our assumption. */
export function sensorUncertainty(
  context: Pick<ReadingContext, 'config' | 'atmosphere'>,
  channel: ChannelKey,
  value: number,
): { readonly u: number; readonly assumed: boolean } {
  const stated = context.config.accuracy[channel];
  const zero = zeroOf(context, channel, value);
  return {
    u: halfWidth(stated ?? defaultAccuracy(channel), value, zero) / 2,
    assumed: stated === undefined,
  };
}

function atmosphereMark(context: ReadingContext, channels: readonly ChannelKey[]): Mark[] {
  if (!channels.some((channel) => isGauge(context.config, channel))) return [];
  if (context.atmosphere.kind === 'assumed') return ['assumedAtmosphere'];
  return context.atmosphere.kind === 'altitude' ? ['altitudeAtmosphere'] : [];
}

/**
 * A figure over a window, with its expanded uncertainty: sensors, atmosphere and the property
 * formulation through the slopes of the figure, and the scatter of the mean.
 *
 * @param average of the figure itself over the window (not the figure of the averages)
 * @returns null where an input is missing or out of the refrigerant's range, and for a figure that
 *   means nothing in the mode of the session
 */
export function figureReading(
  key: FigureKey,
  average: ColumnAverage,
  context: ReadingContext,
): Reading | null {
  const row = figureRow(key);
  if (row.mode !== undefined && row.mode !== context.config.mode) return null;
  const channels = presentInputs(row, context.means);
  if (channels === null) return null;
  const sensors = channels.map((c) => sensorUncertainty(context, c, context.means(c)));
  const inputs: UncertainInput[] = channels.map((c, i) => ({
    value: context.means(c),
    u: sensors[i]?.u ?? 0,
  }));
  inputs.push({ value: 0, u: atmosphereHalfWidth(context.atmosphere.kind) / 2 });
  inputs.push({ value: 0, u: FORMULATION_U });
  const figureOf = (x: readonly number[]): number => {
    const shift = x[channels.length] ?? 0;
    const scale = 1 + (x[channels.length + 1] ?? 0);
    return row.compute((c) => {
      const value = x[channels.indexOf(c)];
      if (value === undefined || !channels.includes(c)) return NaN;
      if (!isPressure(c)) return value;
      return (value + (isGauge(context.config, c) ? shift : 0)) * scale;
    }, context.refrigerant);
  };
  const uSystematic = propagate(figureOf, inputs);
  if (Number.isNaN(uSystematic)) return null;
  const marks = new Set<Mark>([...context.config.marks, ...atmosphereMark(context, channels)]);
  if (sensors.some((s) => s.assumed)) marks.add('assumedAccuracy');
  if (key === 'subcooling' && channels.includes('dischargePressure')) {
    marks.add('dischargePressureUsed');
  }
  context.marks.forEach((mark) => marks.add(mark));
  return {
    value: average.mean,
    ...expand(uSystematic, average),
    window: context.window,
    marks: [...marks],
  };
}

/** A raw channel over a window, with its expanded uncertainty. */
export function channelReading(
  channel: ChannelKey,
  average: ColumnAverage,
  context: ReadingContext,
): ChannelReading {
  const sensor = sensorUncertainty(context, channel, average.mean);
  const atmosphere = isGauge(context.config, channel)
    ? atmosphereHalfWidth(context.atmosphere.kind) / 2
    : 0;
  const marks = new Set<Mark>([...context.config.marks, ...atmosphereMark(context, [channel])]);
  if (sensor.assumed) marks.add('assumedAccuracy');
  context.marks.forEach((mark) => marks.add(mark));
  return {
    channel,
    value: average.mean,
    ...expand(Math.hypot(sensor.u, atmosphere), average),
    window: context.window,
    marks: [...marks],
  };
}
