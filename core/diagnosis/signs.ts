import type { Metering, Mode } from '../circuit/types.ts';
import type { FeatureKey } from './types.ts';
import type { SuspectKey } from './suspects.ts';

/**
 * The sign tables: where each cause moves each feature away from its expectation at the same driving
 * conditions. '++' and '--' above and below in every case: what the fault is made of; '+' above, '-'
 * below, '~' unchanged, '>' unchanged or above, '>>' unchanged or far above, '<' unchanged or below,
 * '^' unchanged or a little above, but never below, '=' unchanged for certain, 'h' as in a sound unit, 'o' nothing can be said.
 */
export type Sign = '++' | '--' | '+' | '-' | '~' | '^' | '>' | '>>' | '<' | '=' | 'h' | 'o';

/** One way in which a cause shows, with its share among the ways of that cause. */
export interface SignRow {
  readonly share: number;
  readonly signs: Readonly<Record<FeatureKey, Sign>>;
}
export type SignTable = Readonly<Record<SuspectKey, readonly SignRow[]>>;

/** The order of the signs in a row; 'compressorHeat' is the discharge over what compression makes. */
const COLUMNS: readonly FeatureKey[] = [
  'evaporating',
  'superheat',
  'condensing',
  'subcooling',
  'liquidApproach',
  'discharge',
  'compressorHeat',
  'airChange',
  'drierDrop',
  'current',
];

/** A row of signs in the order of {@link COLUMNS}; the bar only parts the circuit from the rest. */
function row(share: number, signs: string): SignRow {
  const given = signs.split(/[\s|]+/) as Sign[];
  const entries = COLUMNS.map((feature, i) => [feature, given[i] ?? 'o'] as const);
  return { share, signs: Object.fromEntries(entries) as SignRow['signs'] };
}

const one = (signs: string): readonly SignRow[] => [row(1, signs)];

/**
 * What wrong instruments look like: a low-side gauge, a high-side gauge, both alike (a unit of pressure
 * mistaken), a clamp on the suction or on the liquid line, each either way; last the two clamps exchanged.
 * Follows from the definition of the figures.
 */
const SENSOR_ROWS = [
  row(0.14, '++ -- h h h h | + h = h'),
  row(0.14, '-- ++ h h h h | - h = h'),
  row(0.14, 'h h ++ ++ h h | - h = h'),
  row(0.14, 'h h -- -- h h | + h = h'),
  row(0.02, '++ -- ++ ++ h h | o h = h'),
  row(0.02, '-- ++ -- -- h h | o h = h'),
  row(0.12, 'h ++ h h h h | -- h = h'),
  row(0.1, 'h -- h h h h | ++ h = h'),
  row(0.06, 'h h h ++ -- h | h h = h'),
  row(0.08, 'h h h -- ++ h | h h = h'),
  row(0.04, 'h ++ h ++ -- h | -- h = h'),
] as const;

/**
 * Another refrigerant than believed: both saturations read too high, or both too low; far off, but for near
 * relatives.
 */
const WRONG_REFRIGERANT = [
  row(0.3, '++ -- ++ ++ h o | o o = o'),
  row(0.2, '+ - + + h o | o o = o'),
  row(0.3, '-- ++ -- -- h o | o o = o'),
  row(0.2, '- + - - h o | o o = o'),
] as const;

const COMMON = {
  nothingWrong: one('h h h h h h | h h = h'),
  valveHunting: one('h h h h h h | h h = h'),
  shortCycling: one('h h h h h h | h h = h'),
  wrongRefrigerant: WRONG_REFRIGERANT,
  sensorFault: SENSOR_ROWS,
  cannotTell: one('o o o o o o | o o o o'),
} as const;

/**
 * Fixed orifice, cooling. Evaporating, superheat, condensing, subcooling, discharge and air drop of
 * the first row of low charge, compressor valve leak, restriction, fouled condenser and low indoor
 * air: Rossi & Braun 1997, Table 1-1 as reprinted in Li & Braun 2003 (their condenser air rise has no
 * channel here); that a short charge takes its subcooling first ('--') is what a cycle of CoolProp adds. Overcharge, non-condensables, reversing valve: after Chen & Braun 2001 and NIST SP
 * 1087, from memory. Second rows are what published lists print differently (Tomczyk: weak compressor
 * with superheat up; Goodman and Whirlpool charts: restriction with high head). The other columns
 * follow from the physics: our own reasoning. The approach of low charge and overcharge is common
 * practice, no source. Low airflow ices a coil, so the iced coil shows as low airflow until the air
 * is gone.
 */
const COOLING_FIXED: SignTable = {
  ...COMMON,
  lowCharge: one('- ++ - -- + + | ~ - = -'),
  overcharge: [row(0.7, '+ - + ++ - o | < < = +'), row(0.3, '+ - ++ ++ - o | < < = +')],
  lowIndoorAir: one('-- - - - o - | < ++ = -'),
  icedCoil: one('-- - - - o - | < o = -'),
  fouledOutdoorCoil: one('+ - ++ - ++ + | ~ - = +'),
  liquidLineRestriction: [row(0.7, '- ++ - + < + | ~ - >> -'), row(0.3, '- ++ > + < > | ~ - >> ~')],
  nonCondensables: [row(0.5, '> ~ ++ + > + | ~ - = +'), row(0.5, '+ - ++ + > o | < ~ = +')],
  compressorValveLeak: [row(0.6, '++ - - - ~ - | o - = -'), row(0.4, '++ + -- < ~ o | > - = -')],
  reversingValveLeak: [row(0.6, '+ - - - ~ + | ++ - = <'), row(0.4, '+ + - - ~ + | > - = <')],
  valveStarved: one('- ++ - + < + | ~ - = -'),
  valveOpen: one('+ -- ~ < > - | - < = ~'),
};

/**
 * Thermostatic or electronic valve, cooling: undercharge in and out of the valve's range,
 * overcharge, restriction, low airflow, non-condensables and reversing valve after Chen & Braun
 * 2001, NISTIR 7350 and NIST SP 1087, from memory. The valve holds the superheat while it can. The
 * last row of the restriction is the unit without a receiver, whose charge backs up into the
 * condenser: common practice, no source. The fouled coil: the same liquid in it is cooled further where condensing
 * stands further over the air (second row); choked, it leaves no liquid to cool (third). A valve that feeds too
 * much floods its coil, and the charge that goes there stood as liquid in the condenser (second row): a shortage
 * takes subcooling too, but never superheat. The others are the fixed-orifice rows with the superheat held: our
 * own reasoning.
 */
const COOLING_VALVE: SignTable = {
  ...COMMON,
  lowCharge: [
    row(0.5, '~ ^ < -- + ~ | ~ ~ = ~'),
    row(0.2, '< + < -- + > | ~ < = <'),
    row(0.3, '- ++ - -- + + | ~ - = -'),
  ],
  overcharge: [row(0.7, '~ ~ + ++ - + | ~ ~ = +'), row(0.3, '> - + ++ < o | < ~ = +')],
  lowIndoorAir: one('-- ~ - ~ o - | ~ ++ = <'),
  icedCoil: one('-- < - ~ o - | < o = -'),
  fouledOutdoorCoil: [
    row(0.6, '> ~ ++ ~ ++ + | ~ < = +'),
    row(0.25, '> ~ ++ + ++ + | ~ < = +'),
    row(0.15, '> ~ ++ - ++ + | ~ - = +'),
  ],
  liquidLineRestriction: [
    row(0.2, '< ~ ~ > < ~ | ~ ~ >> ~'),
    row(0.2, '< ++ ~ > < > | ~ < >> ~'),
    row(0.3, '- ++ - + < + | ~ - >> -'),
    row(0.3, '- > > ++ < > | ~ - >> ~'),
  ],
  nonCondensables: one('> ~ ++ ++ > + | ~ < = +'),
  compressorValveLeak: [
    row(0.4, '++ ~ - - ~ ~ | ~ - = -'),
    row(0.4, '++ ~ - < ~ + | ++ - = -'),
    row(0.2, '++ + -- o ~ > | > - = -'),
  ],
  reversingValveLeak: [
    row(0.4, '+ - - - ~ + | ++ - = <'),
    row(0.4, '+ ~ - - ~ + | ++ - = <'),
    row(0.2, '+ + - - ~ + | > - = <'),
  ],
  valveStarved: [row(0.35, '< ++ ~ > < > | ~ < = ~'), row(0.65, '- ++ - + < + | ~ - = -')],
  valveOpen: [row(0.6, '+ -- > < > - | - < = >'), row(0.4, '+ -- < -- + - | - < = ~')],
};

/**
 * Heating: the outdoor coil evaporates and the indoor coil condenses, so the coils change places.
 * After NIST TN 1648 (2009) in what it names (outdoor and indoor fouling, charge, restriction), from
 * memory, and Rheem's table for heating; where they are silent after a cycle of CoolProp with two
 * coils, one charge and an accumulator, over 17 to 60 °F outdoors, behind valves and orifices. What it
 * shows: the outdoor coil works with some 12 °F of difference, so evaporating hardly moves but for what
 * that coil itself lacks; a charge that is short or too much shows in the subcooling while the valve
 * holds, and behind an orifice in the cold only in the accumulator; superheat cannot grow beyond the
 * outdoor air, so a starved coil evaporates lower. Subcooling with little indoor air: Rheem says lower,
 * the cycle a little higher. Weaker evidence than the tables of cooling.
 */
const HEATING: SignTable = {
  ...COMMON,
  lowCharge: [row(0.4, '~ ~ - -- + ~ | ~ < = -'), row(0.6, '- + - -- + > | ~ - = -')],
  overcharge: one('~ < + ++ - > | < ~ = +'),
  lowIndoorAir: one('> < ++ o + + | ~ ++ = +'),
  icedCoil: one('-- < - < < ~ | ~ - = -'),
  fouledOutdoorCoil: one('-- < - o < ~ | ~ - = -'),
  liquidLineRestriction: [row(0.3, '< ~ ~ > < ~ | ~ ~ > ~'), row(0.7, '-- ++ - > - + | ~ - > -')],
  nonCondensables: one('~ ~ ++ + > + | ~ ~ = +'),
  compressorValveLeak: [
    row(0.3, '> ~ - < - > | ++ - = <'),
    row(0.4, '+ > -- > < ~ | > - = -'),
    row(0.3, '+ < -- - > < | o - = -'),
  ],
  // Before the valve the clamp sees the coil's gas and the machine's heat shows the leak; behind it,
  // the suction is what the leak heats, and the machine itself is sound.
  reversingValveLeak: [
    row(0.3, '> ~ - ~ < + | ++ - = <'),
    row(0.25, '+ < -- - > - | o - = <'),
    row(0.45, '> ++ - ~ < + | < - = <'),
  ],
  valveStarved: one('-- ++ - > - + | ~ - = -'),
  valveOpen: one('> -- ~ < > - | < ~ = ~'),
};

/**
 * Behind an orifice in heating the accumulator holds what the cold does not let through: as long as the
 * suction is wet no charge is short, and once it is, superheat grows.
 */
const HEATING_FIXED: SignTable = { ...HEATING, lowCharge: one('< ++ - -- + > | ~ < = -') };

/** The sign table that holds for a unit. */
export function signTable(metering: Metering, mode: Mode): SignTable {
  if (mode === 'heating') return metering === 'fixed' ? HEATING_FIXED : HEATING;
  return metering === 'fixed' ? COOLING_FIXED : COOLING_VALVE;
}
