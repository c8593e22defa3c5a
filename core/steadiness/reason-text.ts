import type { UnitSystem } from '../units/systems.ts';
import type { Adrift, QuantityKey, Reason } from './types.ts';

/** How numbers and names are written: the caller knows the user's units. */
export interface ReasonFormat {
  /** A difference given in kelvin, with its unit. */
  readonly difference: (kelvin: number) => string;
  /** A time given in seconds, with its unit. */
  readonly seconds: (s: number) => string;
  /** The name of a quantity inside a sentence. */
  readonly quantityName: (key: QuantityKey) => string;
  /** What is said of a unit that stands, and of one that has just stopped. */
  readonly notRunning: string;
  readonly stopped: string;
  /** A change of a quantity, K, in the direction in which it is told. */
  readonly told: (key: QuantityKey, change: number) => number;
}

/** Names of the quantities inside an English sentence. */
export const QUANTITY_NAMES: Readonly<Record<QuantityKey, string>> = {
  suctionSaturation: 'evaporating temperature',
  liquidSaturation: 'condensing temperature',
  superheat: 'superheat',
  subcooling: 'subcooling',
  airDrop: 'air temperature drop',
};

/** Whole seconds below two minutes, then minutes and tens of seconds. */
function plainSeconds(s: number): string {
  const whole = Math.max(0, Math.round(s));
  if (whole < 120) return `${whole} s`;
  const rounded = Math.round(whole / 10) * 10;
  const rest = rounded % 60;
  const minutes = (rounded - rest) / 60;
  return rest === 0 ? `${minutes} min` : `${minutes} min ${rest} s`;
}

const STANDING = {
  notRunning: 'The unit is not running.',
  stopped: 'The unit has stopped.',
};

/** °F with one decimal and English names. */
const FAHRENHEIT_FORMAT: ReasonFormat = {
  difference: (kelvin) => `${(kelvin * 1.8).toFixed(1)} °F`,
  seconds: plainSeconds,
  quantityName: (key) => QUANTITY_NAMES[key],
  told: (_key, change) => change,
  ...STANDING,
};

/** °C (kelvin) with one decimal and English names. */
const KELVIN_FORMAT: ReasonFormat = {
  difference: (kelvin) => `${kelvin.toFixed(1)} K`,
  seconds: plainSeconds,
  quantityName: (key) => QUANTITY_NAMES[key],
  told: (_key, change) => change,
  ...STANDING,
};

/**
 * The same for a unit that heats: there the air gets warmer, and what it drops by is told as a rise; the
 * pressures come together when it turns round to defrost as well, and stand together where the low-side
 * gauge sits on the line that carries hot gas.
 */
function inHeating(format: ReasonFormat): ReasonFormat {
  return {
    ...format,
    quantityName: (key) => (key === 'airDrop' ? 'air temperature rise' : format.quantityName(key)),
    told: (key, change) => (key === 'airDrop' ? -change : change),
    notRunning:
      'The unit is not running (or the low-side gauge is on the wide line, which carries hot gas in heating).',
    stopped: 'The unit has stopped, or turned round to defrost.',
  };
}

/** How reasons are written for a person's units and the mode in which the unit runs. */
export function reasonFormat(units: UnitSystem, mode: 'cooling' | 'heating'): ReasonFormat {
  const format = units === 'us' ? FAHRENHEIT_FORMAT : KELVIN_FORMAT;
  return mode === 'heating' ? inHeating(format) : format;
}

/** A reason of one code. */
type ReasonOf<C extends Reason['code']> = Extract<Reason, { code: C }>;

/** A probability as a whole percentage that never claims certainty. */
function percent(p: number): string {
  return p > 0.99 ? 'over 99 %' : `${Math.floor(p * 100)} %`;
}

/** One plain sentence for a technician that says why the state is what it is. */
export function reasonText(reason: Reason, format: ReasonFormat = FAHRENHEIT_FORMAT): string {
  const { difference, seconds, quantityName, told } = format;
  switch (reason.code) {
    case 'noData':
      return 'No values have arrived yet.';
    case 'notRunning':
      return format.notRunning;
    case 'stopped':
      return format.stopped;
    case 'missing':
      return missingText(reason, format);
    case 'minimumRun':
      return minimumRunText(reason, format);
    case 'drifting': {
      const way = rising(told(reason.quantity, reason.drift));
      const u = difference(reason.driftU);
      return `The ${quantityName(reason.quantity)} is still ${way}: ${difference(Math.abs(reason.drift))} ± ${u} to come within ${seconds(reason.horizon)}.`;
    }
    case 'unsure':
      return unsureText(reason, format);
    case 'tooFew':
      return `Too few values of the ${quantityName(reason.quantity)} yet to tell whether it drifts.`;
    case 'goesOn': {
      const way = rising(told(reason.quantity, reason.change));
      return `The ${quantityName(reason.quantity)} keeps ${way}: ${difference(Math.abs(reason.change))} in the last ${seconds(reason.seconds)}.`;
    }
    case 'nearly':
      return nearlyText(reason, format);
    case 'departed': {
      const way = told(reason.quantity, reason.change) > 0 ? 'risen' : 'fallen';
      return `The ${quantityName(reason.quantity)} has slowly ${way} by ${difference(Math.abs(reason.change))} since it was last called still, and ${difference(reason.tolerance)} is allowed.`;
    }
    case 'swinging':
      return `The ${quantityName(reason.quantity)} swings by ± ${difference(reason.amplitude)} every ${seconds(reason.period)} about a ${meanText(reason.adrift ?? null, format)}.`;
    case 'step': {
      const way = told(reason.quantity, reason.size) > 0 ? 'up' : 'down';
      const what = reason.within > 20 ? ', off the way it was going' : ': something was changed';
      return `The ${quantityName(reason.quantity)} went ${way} by ${difference(Math.abs(reason.size))} within ${seconds(reason.within)}${what}.`;
    }
    case 'still':
      return stillText(reason, format);
  }
}

/** Of the mean of a swing: whether it is at rest, and else what it does. */
function meanText(adrift: Adrift | null, format: ReasonFormat): string {
  if (adrift === null) return 'still mean';
  const { drift, driftU, horizon } = adrift;
  const name = format.quantityName(adrift.quantity);
  if (drift === null || driftU === null || Math.abs(drift) <= driftU)
    return `mean that cannot yet be told from drifting (${name})`;
  const by = `${format.difference(Math.abs(drift))} ± ${format.difference(driftU)}`;
  return `mean that is not at rest: the ${name} is ${rising(format.told(adrift.quantity, drift))}, ${by} to come within ${format.seconds(horizon)}`;
}

function missingText({ quantities, channels }: ReasonOf<'missing'>, format: ReasonFormat): string {
  const text = `No ${list(quantities.map(format.quantityName), 'or')}: a sensor is missing, silent or out of range.`;
  return channels.length > 0 ? `${text} Look at: ${channels.join(', ')}.` : text;
}

function minimumRunText(reason: ReasonOf<'minimumRun'>, { seconds }: ReasonFormat): string {
  const since = reason.seenStart ? 'since the start' : 'since watching began';
  const left = reason.minimum - reason.runTime;
  if (left <= 0) return `Too few values yet to tell, ${seconds(reason.runTime)} ${since}.`;
  return `Only ${seconds(reason.runTime)} ${since}: ${seconds(left)} to go of the minimum run time.`;
}

function rising(change: number): string {
  return change > 0 ? 'rising' : 'falling';
}

/** A doubt of more tolerances than this is no figure worth printing. */
const FAR = 10;

function unsureText(reason: ReasonOf<'unsure'>, format: ReasonFormat): string {
  const most = format.difference(Math.abs(reason.drift) + reason.driftU);
  const allowed = format.difference(reason.tolerance);
  const within = format.seconds(reason.horizon);
  if (reason.driftU > FAR * reason.tolerance)
    return `How far the ${format.quantityName(reason.quantity)} still moves cannot be told yet; ${allowed} within ${within} is allowed.`;
  const change =
    most === allowed // to the digits shown
      ? `change by a little more than the ${allowed} that is allowed within ${within}`
      : `change by up to ${most} within ${within}, and ${allowed} is allowed`;
  return `The ${format.quantityName(reason.quantity)} cannot yet be told from drifting: it may ${change}.`;
}

/** What the confidence speaks of, and nothing more: what only stands by may move meanwhile. */
function expected(reason: ReasonOf<'nearly' | 'still'>, format: ReasonFormat): string {
  const who = list(reason.counted.map(format.quantityName), 'and');
  const within = format.seconds(reason.horizon);
  return `${who.charAt(0).toUpperCase()}${who.slice(1)} should stay within tolerance for ${within} (${percent(reason.confidence)} sure)`;
}

/** The same inside a sentence. */
function staying(reason: ReasonOf<'nearly' | 'still'>, format: ReasonFormat): string {
  const within = format.seconds(reason.horizon);
  const who = list(reason.counted.map(format.quantityName), 'and');
  const stay = reason.counted.length === 1 ? 'stays' : 'stay';
  return `${percent(reason.confidence)} sure that ${who} ${stay} within tolerance for ${within}`;
}

function nearlyText(reason: ReasonOf<'nearly'>, format: ReasonFormat): string {
  return reason.confidence < reason.asked
    ? `Nearly still: ${staying(reason, format)}, and ${percent(reason.asked)} is asked for.`
    : `${expected(reason, format)}; this must hold a little longer.`;
}

function stillText(reason: ReasonOf<'still'>, format: ReasonFormat): string {
  if (reason.confidence < 0.5) return `Perhaps no longer still: only ${staying(reason, format)}.`;
  const stays = `${expected(reason, format)}.`;
  if (reason.trend === null) return stays;
  const { change, seconds } = reason.trend;
  const way = format.told(reason.quantity, change) > 0 ? 'rose' : 'fell';
  // What is at rest is the average that is read; the quantity that moved is told beside it, and what to do.
  const moved = `${way} ${format.difference(Math.abs(change))} in ${format.seconds(seconds)}`;
  return `${stays} The ${format.quantityName(reason.quantity)} ${moved}: read again if it goes on.`;
}

function list(names: readonly string[], word: 'and' | 'or'): string {
  if (names.length < 2) return names.join('');
  return `${names.slice(0, -1).join(', ')} ${word} ${names.at(-1) ?? ''}`;
}
