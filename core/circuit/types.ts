import type { ChannelKey } from '../stream/channels.ts';

/** How a sensor errs, as its maker states it (k = 2 or limits: taken as 95 % half-widths). SI. */
export interface Accuracy {
  /** Relative to the reading (0.01 = 1 %) as the sensor shows it: above the atmosphere, in °C. */
  readonly ofReading?: number | undefined;
  /** Relative to the full scale, with the full scale in SI. */
  readonly ofFullScale?: { readonly fraction: number; readonly fullScale: number } | undefined;
  /** A fixed half-width in the channel's SI unit (Pa, K). */
  readonly absolute?: number | undefined;
}

/** Figures derived from channels. All in K except where the table `figures.ts` says otherwise. */
export type FigureKey =
  | 'suctionSaturation'
  | 'liquidSaturation'
  | 'superheat'
  | 'subcooling'
  | 'airDrop'
  | 'condensingOverOutdoor'
  | 'returnOverEvaporating'
  | 'pressureRatio'
  | 'dischargeSuperheat'
  | 'drierDrop'
  | 'condensingOverReturn'
  | 'outdoorOverEvaporating';

/** What lowers the worth of a reading. A closed set; text stands in one table. */
export const MARKS = [
  'simulated',
  'assumedAccuracy' /* the sensor's accuracy is our default, not the user's */,
  'assumedAtmosphere' /* 101 325 Pa was assumed */,
  'altitudeAtmosphere' /* from the site's altitude, not measured */,
  'hunting' /* averaged over whole periods of a swing */,
  'unsettled',
  'stale',
  'beforeSpan' /* read just before the span it stands for, which was too short to average */,
  'dischargePressureUsed' /* no liquid pressure: subcooling from the discharge side */,
  'typedByHand',
] as const;
export type Mark = (typeof MARKS)[number];

/** A quantity with its expanded uncertainty (k = 2), its window and its marks. */
export interface Reading {
  readonly value: number;
  /** Expanded uncertainty, k = 2, same unit as the value. */
  readonly u: number;
  /** The part of `u` that comes from sensors and assumptions, k = 2; the rest is statistical. */
  readonly uSystematic: number;
  readonly window: { readonly from: number; readonly to: number };
  readonly marks: readonly Mark[];
}

/** Average of a raw channel over the same window, SI. */
export interface ChannelReading extends Reading {
  readonly channel: ChannelKey;
}

/** Whether a reading is inside its limits; undecided where its uncertainty straddles one. */
export type Verdict = 'within' | 'above' | 'below' | 'undecided';

/** How the unit meters refrigerant: thermostatic valve, fixed orifice, electronic valve. */
export const METERING_KINDS = ['txv', 'fixed', 'eev'] as const;
export type Metering = (typeof METERING_KINDS)[number];

/** What the unit is doing. */
export const MODES = ['cooling', 'heating'] as const;
export type Mode = (typeof MODES)[number];

/** Clamps that can slip off a pipe, by the channel they measure. */
export type SlipperyClamp = 'liquidLineTemp' | 'suctionLineTemp';

/** A step of one clamp while the rest of the circuit stood still. */
export interface LoneStep {
  readonly channel: SlipperyClamp;
  /** How far it moved, K. */
  readonly by: number;
  /** When, s. */
  readonly at: number;
}
