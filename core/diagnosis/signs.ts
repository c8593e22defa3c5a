import type { Metering, Mode } from '../circuit/types.ts';
import type { FeatureKey } from './types.ts';
import type { SuspectKey } from './suspects.ts';

/**
 * The sign tables: where each cause moves each feature away from its expectation at the same
 * driving conditions. '+' above, '-' below, '~' unchanged, '>' unchanged or above, '<' unchanged
 * or below, '=' unchanged for certain, 'o' nothing can be said.
 */
export type Sign = '+' | '-' | '~' | '>' | '<' | '=' | 'o';

/** One way in which a cause shows, with its share among the ways of that cause. */
export interface SignRow {
  readonly share: number;
  readonly signs: Readonly<Record<FeatureKey, Sign>>;
}
export type SignTable = Readonly<Record<SuspectKey, readonly SignRow[]>>;

/**
 * A row in the order evaporating, superheat, condensing, subcooling, discharge temperature |
 * compressor heat (discharge against what compression alone would make), air drop or rise, drier
 * drop, compressor current.
 */
function row(share: number, signs: string): SignRow {
  const [evaporating, superheat, condensing, subcooling, discharge, heat, air, drier, current] =
    signs.split(/[\s|]+/) as Sign[];
  return {
    share,
    signs: {
      evaporating: evaporating ?? 'o',
      superheat: superheat ?? 'o',
      condensing: condensing ?? 'o',
      subcooling: subcooling ?? 'o',
      discharge: discharge ?? 'o',
      compressorHeat: heat ?? 'o',
      airChange: air ?? 'o',
      drierDrop: drier ?? 'o',
      current: current ?? 'o',
    },
  };
}

const one = (signs: string): readonly SignRow[] => [row(1, signs)];

/**
 * What one wrong instrument looks like: a low-side gauge, a high-side gauge, a clamp on the suction
 * or on the liquid line, each either way. Follows from the definition of the figures.
 */
const SENSOR_ROWS = [
  row(0.15, '+ - ~ ~ ~ | o ~ = ~'),
  row(0.15, '- + ~ ~ ~ | o ~ = ~'),
  row(0.15, '~ ~ + + ~ | o ~ = ~'),
  row(0.15, '~ ~ - - ~ | o ~ = ~'),
  row(0.12, '~ + ~ ~ ~ | - ~ = ~'),
  row(0.1, '~ - ~ ~ ~ | + ~ = ~'),
  row(0.08, '~ ~ ~ + ~ | ~ ~ = ~'),
  row(0.1, '~ ~ ~ - ~ | ~ ~ = ~'),
] as const;

/** Another refrigerant than believed: both saturations read too high, or both too low. */
const WRONG_REFRIGERANT = [
  row(0.5, '+ - + + o | o o = o'),
  row(0.5, '- + - - o | o o = o'),
] as const;

const COMMON = {
  nothingWrong: one('~ ~ ~ ~ ~ | ~ ~ = ~'),
  valveHunting: one('~ ~ ~ ~ ~ | ~ ~ = ~'),
  shortCycling: one('~ ~ ~ ~ ~ | ~ ~ = ~'),
  wrongRefrigerant: WRONG_REFRIGERANT,
  sensorFault: SENSOR_ROWS,
  cannotTell: one('o o o o o | o o o o'),
} as const;

/**
 * Fixed orifice, cooling. The first five columns and the air drop of low charge, compressor valve
 * leak, restriction, fouled condenser and low indoor air: Rossi & Braun 1997, Table 1-1 as
 * reprinted in Li & Braun 2003 (their condenser air rise has no channel here). Overcharge,
 * non-condensables, reversing valve: after Chen & Braun 2001 and NIST SP 1087, from memory. The
 * columns right of the bar other than the air drop follow from the physics: our own reasoning.
 * Low airflow ices a coil, so the iced coil shows as low airflow until the air is gone.
 */
const COOLING_FIXED: SignTable = {
  ...COMMON,
  lowCharge: one('- + - - + | ~ - = -'),
  overcharge: one('+ - + + - | < < = +'),
  lowIndoorAir: one('- - - - - | < + = -'),
  icedCoil: one('- - - - - | < o = -'),
  fouledOutdoorCoil: one('+ - + - + | ~ - = +'),
  liquidLineRestriction: one('- + - + + | ~ - > -'),
  nonCondensables: one('> ~ + + + | ~ - = +'),
  compressorValveLeak: one('+ - - - - | > - = -'),
  reversingValveLeak: one('+ < - - + | + - = -'),
  valveStarved: one('- + - + + | ~ - = -'),
  valveOpen: one('+ - ~ < - | - < = ~'),
};

/**
 * Thermostatic or electronic valve, cooling: undercharge in and out of the valve's range,
 * overcharge, restriction, low airflow, non-condensables and reversing valve after Chen & Braun
 * 2001, NISTIR 7350 and NIST SP 1087, from memory. The valve holds the superheat while it can. The
 * third row of the restriction is the unit whose charge backs up into the condenser: common
 * practice, no source. The others are the fixed-orifice rows with the superheat held: our own
 * reasoning.
 */
const COOLING_VALVE: SignTable = {
  ...COMMON,
  lowCharge: [row(0.6, '~ ~ < - ~ | ~ ~ = ~'), row(0.4, '- + - - + | ~ - = -')],
  overcharge: one('~ ~ + + + | ~ ~ = +'),
  lowIndoorAir: one('- ~ - ~ - | ~ + = <'),
  icedCoil: one('- < - ~ - | < o = -'),
  fouledOutdoorCoil: one('> ~ + < + | ~ < = +'),
  liquidLineRestriction: [
    row(0.35, '< ~ ~ > ~ | ~ ~ > ~'),
    row(0.4, '- + - + + | ~ - > -'),
    row(0.25, '- > > + > | ~ - > ~'),
  ],
  nonCondensables: one('> ~ + + + | ~ < = +'),
  compressorValveLeak: one('+ ~ - - ~ | > - = -'),
  reversingValveLeak: one('+ < - - + | + - = -'),
  valveStarved: one('- + - + + | ~ - = -'),
  valveOpen: one('+ - > < - | - < = >'),
};

/**
 * Heating: the outdoor coil evaporates and the indoor coil condenses, so the coils change places.
 * After NIST TN 1648 (2009) in what it names (outdoor and indoor fouling, charge, restriction), from
 * memory, with its signs from the physics where it is silent: weaker evidence than the tables of
 * cooling.
 */
const HEATING: SignTable = {
  ...COMMON,
  lowCharge: one('- > - - > | ~ - = -'),
  overcharge: one('~ < + + > | < ~ = +'),
  lowIndoorAir: one('> ~ + ~ + | ~ + = +'),
  icedCoil: one('- < - < < | ~ - = -'),
  fouledOutdoorCoil: one('- < - < ~ | ~ - = -'),
  liquidLineRestriction: one('- + - + + | ~ - > -'),
  nonCondensables: one('~ ~ + + + | ~ ~ = +'),
  compressorValveLeak: one('+ < - - o | > - = -'),
  reversingValveLeak: one('+ < - - + | + - = -'),
  valveStarved: one('- + - + + | ~ - = -'),
  valveOpen: one('+ - ~ < - | - < = ~'),
};

/** The sign table that holds for a unit. */
export function signTable(metering: Metering, mode: Mode): SignTable {
  if (mode === 'heating') return HEATING;
  return metering === 'fixed' ? COOLING_FIXED : COOLING_VALVE;
}
