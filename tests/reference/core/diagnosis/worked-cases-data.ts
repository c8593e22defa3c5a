import type { ChargeAdvice } from '../../../../core/checks/running.ts';
import type { CheckKey } from '../../../../core/diagnosis/checks-table.ts';
import type { SuspectKey } from '../../../../core/diagnosis/suspects.ts';
import type { JudgementInput, Refusal } from '../../../../core/diagnosis/types.ts';
import { NO_PLATE, type Setup, type Written } from '../../../unit/core/diagnosis/make.ts';

/**
 * Worked cases of the trade's literature: readings as their authors print them (psig, °F), and what
 * the author concludes. A value that is not printed is not here; where an author prints superheat or
 * subcooling instead of a pipe temperature, it stands as such and the pipe temperature follows from
 * the saturation curve.
 */
export interface WorkedCase {
  readonly name: string;
  /** Author, title, year, address: where the numbers and the conclusion were read. */
  readonly source: string;
  readonly setup: Setup;
  readonly readings: Written;
  /** °F, in place of the pipe temperatures. */
  readonly superheat?: number;
  readonly subcooling?: number;
  /** The maker's subcooling, °F, where the source prints it. */
  readonly plate?: number;
  readonly more?: Partial<JudgementInput>;
  /** The author's cause: one of these must be among the first two. */
  readonly cause: readonly SuspectKey[];
  readonly refused?: readonly Refusal['code'][];
  /** What may be said of the charge. */
  readonly charge?: readonly ChargeAdvice['code'][];
  /** Checks a careful technician makes first: one of them must be the next check. */
  readonly next?: readonly CheckKey[];
}

const ACCA = 'ACCA HVAC Blog';
const NEWS = 'ACHR News';
const AMANA =
  'Amana RHE-A2 installation instructions, p. 6, final charge adjustment, expansion valve indoors (9 to 13 °F of subcooling at the liquid service valve; less: add, more: remove), at the healthy readings of the 10 SEER split above';

export const WORKED_CASES: readonly WorkedCase[] = [
  {
    name: 'an orifice unit overcharged until the condenser backs up',
    source: `${ACCA}, Tech Challenge, March 2012, hvac-blog.acca.org/tech-challenge-march-2012. The sheet prints a total superheat of 27 °F, which its own compressor inlet (70 °F) and evaporating temperature (53 °F) make 17 °F; its discharge of 240 °F is some 55 °F over what a sound compressor makes between these pressures, and is left out.`,
    setup: { refrigerant: 'R-22', metering: 'fixed', good: false },
    readings: {
      suction: 88,
      liquid: 260,
      suctionLine: 70,
      liquidLine: 100,
      outdoor: 80,
      return: 84,
    },
    cause: ['overcharge'],
  },
  {
    name: 'cottonwood over the condenser of a rooftop unit with a valve',
    source: `${ACCA}, Tech Challenge, November 2013, hvac-blog.acca.org/tech-challenge-november-2013`,
    setup: { refrigerant: 'R-22', metering: 'txv', good: false },
    readings: {
      suction: 73,
      liquid: 275,
      suctionLine: 65,
      liquidLine: 112,
      discharge: 235,
      outdoor: 85,
      return: 80,
    },
    cause: ['fouledOutdoorCoil'],
    next: ['outdoorCoil'],
  },
  {
    name: 'a plugged filter on an R-410A split, pressures alone',
    source: `Tomczyk, Dirty air filters can cause serious air conditioning system problems, ${NEWS} (2020), achrnews.com/articles/143585. Expected there: about 121 psig suction`,
    setup: { refrigerant: 'R-410A', metering: 'txv', good: false },
    readings: { suction: 90, liquid: 340, outdoor: 90, return: 80 },
    more: { airflow: { kind: 'unknown' } },
    cause: ['lowIndoorAir'],
    refused: ['AIRFLOW_UNKNOWN', 'COIL_BELOW_FREEZING', 'MISSING_READING'],
  },
  {
    name: 'short of air behind an orifice, liquid coming back',
    source: `Tomczyk, Don't just add refrigerant to a system before you know the issue, ${NEWS} (2019), achrnews.com/articles/140849. Expected there: about 70 psig and 255 to 265 psig; compressor superheat 1 °F`,
    setup: { refrigerant: 'R-22', metering: 'fixed', good: false },
    readings: { suction: 50, liquid: 190, suctionLine: 27, outdoor: 90, return: 80 },
    more: { airflow: { kind: 'unknown' } },
    cause: ['lowIndoorAir', 'icedCoil'],
    refused: ['AIRFLOW_UNKNOWN', 'COIL_BELOW_FREEZING'],
    next: ['filterStatic'],
  },
  {
    name: 'a compressor that no longer pumps',
    source: `Johnson (Jim), Troubleshooting challenge: an AC system that's not keeping the house comfortable, ${NEWS} 2014-05-05, achrnews.com/articles/126563 (airflow good on both coils, current low). Its solution was not read; the cause is the one makers print for low head with high suction (Goodman IO-395 and Whirlpool Gold WGPH45 troubleshooting charts)`,
    setup: { refrigerant: 'R-22', metering: 'fixed', good: false },
    readings: { suction: 90, liquid: 170, outdoor: 90, return: 85 },
    more: { outcomes: [{ check: 'amperes', outcome: 'low' }] },
    cause: ['compressorValveLeak'],
  },
  {
    name: 'a valve that starves its coil',
    source: `Johnson (Bill), Btu Buddy 77: starved evaporator, TXV, ${NEWS} (2009), achrnews.com/articles/111182`,
    setup: { refrigerant: 'R-22', metering: 'txv', good: false },
    readings: { suction: 64, liquid: 226, suctionLine: 60, liquidLine: 95, outdoor: 96 },
    cause: ['valveStarved', 'liquidLineRestriction'],
    next: ['drierDrop', 'bulbCheck'],
  },
  {
    name: 'a capillary unit topped up far too much, pressures alone',
    source: `Johnson (Bill), Btu Buddy 64: charging an overcharged system, ${NEWS} (2008), achrnews.com/articles/btu-buddy-64-charging-an-overcharged-system (filter and indoor coil looked at and clean)`,
    setup: { refrigerant: 'R-22', metering: 'fixed', good: false },
    readings: { suction: 85, liquid: 375, outdoor: 94, return: 76 },
    cause: ['overcharge'],
    refused: ['MISSING_READING'],
  },
  {
    name: 'a starved coil on the first cooling day of a heat pump',
    source: `Solution to Baby Boomers' heat pump, ${NEWS} (2007), achrnews.com/articles/98956 (house hot and humid, compressor current low). The high side is not printed, so the charge cannot be told from the valve`,
    setup: { refrigerant: 'R-410A', metering: 'txv', good: false },
    readings: { suction: 64, suctionLine: 70, outdoor: 85 },
    more: { heatPump: true, airflow: { kind: 'unknown' } },
    cause: ['valveStarved', 'liquidLineRestriction', 'lowCharge'],
    refused: ['MISSING_READING', 'AIRFLOW_UNKNOWN', 'COIL_BELOW_FREEZING'],
  },
  {
    name: 'low suction with its usual superheat is short of heat, not of refrigerant',
    source:
      'Subcooling and superheat: superheroes of system charging, Contracting Business 2016-08-24, contractingbusiness.com article 20868656 (45 psig, 22 °F; suction line 32 °F)',
    setup: { refrigerant: 'R-22', metering: 'txv', good: false },
    readings: { suction: 45, suctionLine: 32 },
    more: { airflow: { kind: 'unknown' } },
    cause: ['lowIndoorAir', 'icedCoil'],
    refused: ['AIRFLOW_UNKNOWN', 'COIL_BELOW_FREEZING'],
    next: ['filterStatic'],
  },
  // Water is on the other side of these condensers, so no outdoor air is given.
  {
    name: 'a water-source unit at its normal readings',
    source: 'Mammoth G-141-MHC manual, guidelines for refrigerant circuit diagnosis, p. 17',
    setup: { refrigerant: 'R-22', metering: 'txv', good: false },
    readings: { suction: 70, liquid: 210, discharge: 145 },
    superheat: 10,
    subcooling: 11,
    plate: 11,
    cause: ['nothingWrong'],
  },
  {
    name: 'a water-source unit overcharged',
    source: 'Mammoth G-141-MHC manual, guidelines for refrigerant circuit diagnosis, p. 17',
    setup: { refrigerant: 'R-22', metering: 'txv', good: false },
    readings: { suction: 80, liquid: 220, discharge: 125 },
    superheat: 10,
    subcooling: 22.5,
    plate: 11,
    cause: ['overcharge'],
  },
  {
    name: 'a water-source unit undercharged',
    source: 'Mammoth G-141-MHC manual, guidelines for refrigerant circuit diagnosis, p. 17',
    setup: { refrigerant: 'R-22', metering: 'txv', good: false },
    readings: { suction: 50, liquid: 180, discharge: 205 },
    superheat: 27.5,
    subcooling: 7,
    plate: 11,
    cause: ['lowCharge'],
  },
  {
    name: 'a water-source unit with a plugged valve',
    source: 'Mammoth G-141-MHC manual, guidelines for refrigerant circuit diagnosis, p. 17',
    setup: { refrigerant: 'R-22', metering: 'txv', good: false },
    readings: { suction: 45, liquid: 250, discharge: 205 },
    superheat: 27.5,
    subcooling: 17.5,
    plate: 11,
    cause: ['valveStarved', 'liquidLineRestriction'],
    next: ['drierDrop', 'bulbCheck'],
  },
  {
    name: 'a healthy 10 SEER split as the textbook draws it',
    source:
      'Diagnosing A/C systems: troubleshooting guidelines, One HVACR Reader 2024-08 (95 °F outdoors, condenser split 30 °F, evaporator 35 °F under the return, subcooling 10 °F, superheat 10 °F)',
    setup: { refrigerant: 'R-22', metering: 'txv', good: false },
    readings: { suction: 68.5, liquid: 278, outdoor: 95, return: 75 },
    superheat: 10,
    subcooling: 10,
    plate: 10,
    cause: ['nothingWrong'],
  },
  {
    name: 'a valve unit under the subcooling its maker asks for',
    source: AMANA,
    setup: { refrigerant: 'R-22', metering: 'txv', good: true },
    readings: { suction: 68.5, liquid: 278, outdoor: 95, return: 75 },
    superheat: 10,
    subcooling: 3,
    plate: 11,
    cause: ['lowCharge'],
    charge: ['LIKELY_LOW', 'LOOK_FIRST'],
  },
  {
    name: 'a valve unit at the subcooling its maker asks for',
    source: AMANA,
    setup: { refrigerant: 'R-22', metering: 'txv', good: true },
    readings: { suction: 68.5, liquid: 278, outdoor: 95, return: 75 },
    superheat: 10,
    subcooling: 11,
    plate: 11,
    cause: ['nothingWrong'],
    charge: ['AGREES'],
  },
  {
    name: 'a valve unit over the subcooling its maker asks for',
    source: AMANA,
    setup: { refrigerant: 'R-22', metering: 'txv', good: true },
    readings: { suction: 68.5, liquid: 278, outdoor: 95, return: 75 },
    superheat: 10,
    subcooling: 19,
    plate: 11,
    cause: ['overcharge'],
    charge: ['LIKELY_HIGH', 'LOOK_FIRST'],
  },
  {
    name: 'an orifice unit 10 °F over the superheat of its maker’s chart',
    source:
      'Amana RHE-A2 installation instructions, p. 7, example: 84 psi (50 °F), suction line 80 °F, 95 °F outdoors, 85 °F indoors, chart 20 °F, actual 30 °F: charge must be added',
    setup: { refrigerant: 'R-22', metering: 'fixed', good: true },
    readings: { suction: 84, suctionLine: 80, outdoor: 95, return: 85 },
    more: { nameplate: { ...NO_PLATE, targetSuperheat_K: 20 / 1.8 } },
    cause: ['lowCharge'],
    charge: ['LIKELY_LOW', 'LOOK_FIRST'],
  },
  {
    name: 'a healthy packaged unit at rating conditions, 3 tons',
    source:
      'Lennox LRP14AC installation instructions, p. 23, table 10: 80/67 °F return, 95 °F outdoors',
    setup: { refrigerant: 'R-410A', metering: 'txv', good: false },
    readings: { suction: 149, liquid: 399, outdoor: 95, return: 80, wetBulb: 67 },
    cause: ['nothingWrong'],
  },
  {
    name: 'a healthy packaged unit at rating conditions, 5 tons',
    source:
      'Lennox LRP14AC installation instructions, p. 23, table 10: 80/67 °F return, 95 °F outdoors',
    setup: { refrigerant: 'R-410A', metering: 'txv', good: false },
    readings: { suction: 141, liquid: 386, outdoor: 95, return: 80, wetBulb: 67 },
    cause: ['nothingWrong'],
  },
  {
    name: 'a healthy packaged unit on a mild day, 2 tons',
    source:
      'Lennox LRP14AC installation instructions, p. 23, table 10: 80/67 °F return, 75 °F outdoors',
    setup: { refrigerant: 'R-410A', metering: 'txv', good: false },
    readings: { suction: 137, liquid: 282, outdoor: 75, return: 80, wetBulb: 67 },
    cause: ['nothingWrong'],
  },
  {
    name: 'a healthy heat pump in heating at 40 °F',
    source:
      'Heat Controller R-410A heat pump manual, p. 16, table 9 (2 tons, 70 °F indoors), middle row',
    setup: { refrigerant: 'R-410A', metering: 'txv', mode: 'heating', good: false },
    readings: { suction: 96, liquid: 321, outdoor: 40, return: 70 },
    cause: ['nothingWrong'],
    refused: ['HEATING_BY_MAKER_ONLY'],
  },
  {
    name: 'a healthy heat pump in heating at 20 °F',
    source:
      'Heat Controller R-410A heat pump manual, p. 16, table 9 (2 tons, 70 °F indoors), middle row',
    setup: { refrigerant: 'R-410A', metering: 'txv', mode: 'heating', good: false },
    readings: { suction: 66, liquid: 265, outdoor: 20, return: 70 },
    cause: ['nothingWrong'],
    refused: ['HEATING_BY_MAKER_ONLY'],
  },
  {
    name: 'another healthy heat pump in heating at 40 °F',
    source:
      'Lennox SPB*H4 unit information, p. 26, table 14 (3 tons, second stage; typical pressures; indoor air not printed, 70 °F taken)',
    setup: { refrigerant: 'R-410A', metering: 'txv', mode: 'heating', good: false },
    readings: { suction: 90, liquid: 367, outdoor: 40, return: 70 },
    cause: ['nothingWrong'],
    refused: ['HEATING_BY_MAKER_ONLY'],
  },
  {
    name: 'another healthy heat pump in heating at 20 °F',
    source:
      'Lennox SPB*H4 unit information, p. 26, table 14 (4 tons, second stage; typical pressures; indoor air not printed, 70 °F taken)',
    setup: { refrigerant: 'R-410A', metering: 'txv', mode: 'heating', good: false },
    readings: { suction: 57, liquid: 289, outdoor: 20, return: 70 },
    cause: ['nothingWrong'],
    refused: ['HEATING_BY_MAKER_ONLY'],
  },
  {
    name: 'ice before anything was measured, filter not looked at yet',
    source: `Johnson (Bill), Btu Buddy 1: servicing a frozen suction line and compressor, ${NEWS} (2006), achrnews.com/articles/92464 (orifice, 75 °F outdoors, 78 °F indoors, suction line and compressor frozen)`,
    setup: { refrigerant: 'R-22', metering: 'fixed', good: false },
    readings: { outdoor: 75, return: 78 },
    more: { airflow: { kind: 'unknown' }, observations: ['icedCoil'] },
    cause: ['lowIndoorAir', 'icedCoil'],
    refused: ['ICED_COIL'],
    next: ['filterStatic'],
  },
  {
    name: 'ice with a clean filter and a sound blower',
    source: `Johnson (Bill), Btu Buddy 30: repairing a restricted liquid line, ${NEWS} (2006), achrnews.com/articles/95630 (suction line frozen back to the compressor, filter recently changed, blower normal)`,
    setup: { refrigerant: 'R-22', metering: 'fixed', good: false },
    readings: { outdoor: 75 },
    more: {
      airflow: { kind: 'unknown' },
      observations: ['icedCoil'],
      outcomes: [{ check: 'filterStatic', outcome: 'clear' }],
    },
    cause: ['liquidLineRestriction', 'lowCharge'],
    refused: ['ICED_COIL'],
    next: ['drierDrop'],
  },
  {
    name: 'air let in with a repair, the standing pressure above saturation',
    source:
      'Johnson (Jim), Troubleshooting refrigeration systems, hvacrtroubleshooting.com/refrigeration-systems (capillary tube, R-22, leak in the suction line repaired in spring, 95 °F outdoors, head rises to 290 psig until the overload opens: air). The standing pressure is the test the trade makes for it',
    setup: { refrigerant: 'R-22', metering: 'fixed', good: false },
    readings: { liquid: 290, outdoor: 95 },
    more: {
      outcomes: [
        { check: 'outdoorCoil', outcome: 'clean' },
        { check: 'standing', outcome: 'above' },
      ],
    },
    cause: ['nonCondensables'],
    refused: ['MISSING_READING'],
  },
  {
    name: 'the same before the standing pressure is known',
    source: 'Johnson (Jim), as above',
    setup: { refrigerant: 'R-22', metering: 'fixed', good: false },
    readings: { liquid: 290, outdoor: 95 },
    more: { outcomes: [{ check: 'outdoorCoil', outcome: 'clean' }] },
    cause: ['overcharge', 'nonCondensables'],
    refused: ['MISSING_READING'],
  },
  // From memory.
  {
    name: 'a split with a valve short of refrigerant beyond the range of the valve',
    source: 'from memory: the undercharge of trade schools, R-410A, 90 °F outdoors, 76 °F indoors',
    setup: { refrigerant: 'R-410A', metering: 'txv', good: false },
    readings: { suction: 90, liquid: 280, outdoor: 90, return: 76 },
    superheat: 28,
    subcooling: 1,
    plate: 10,
    cause: ['lowCharge'],
    charge: ['LIKELY_LOW'],
  },
  {
    name: 'an orifice unit short of refrigerant',
    source: 'from memory: the undercharge of trade schools, R-22, 90 °F outdoors, 76 °F indoors',
    setup: { refrigerant: 'R-22', metering: 'fixed', good: false },
    readings: { suction: 52, liquid: 190, outdoor: 90, return: 76, wetBulb: 63 },
    superheat: 36,
    subcooling: 2,
    cause: ['lowCharge'],
    charge: ['LIKELY_LOW'],
  },
  {
    name: 'a heat pump whose reversing valve bleeds, valve measured',
    source:
      'from memory: reversing valve symptoms of makers’ manuals (suction high, head low, gas warmed across the valve by more than 3 °F)',
    setup: { refrigerant: 'R-410A', metering: 'txv', good: false },
    readings: {
      suction: 165,
      liquid: 270,
      suctionLine: 78,
      liquidLine: 86,
      outdoor: 85,
      return: 78,
    },
    more: { heatPump: true, outcomes: [{ check: 'touchReversing', outcome: 'differ' }] },
    cause: ['reversingValveLeak'],
  },
];
